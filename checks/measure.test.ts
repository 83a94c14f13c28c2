/**
 * Published and worked cases of measurement, each through the door that anybody can use: `unseam-measure/1`.
 *
 * The source of every case stands beside it in `checks/data/measure/`, with what was read, recalled or computed.
 */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { answerCase } from "../src/core/measure/case.ts";

interface Expected {
  readonly value: number;
  readonly within: number;
  readonly relative?: true;
}
interface Published {
  readonly id: string;
  readonly source: string;
  readonly figures: string;
  readonly case: unknown;
  readonly expect: Readonly<Record<string, Expected | boolean | string>>;
}

const folder = new URL("./data/measure/", import.meta.url);

function at(answer: unknown, path: string): unknown {
  return path.split(".").reduce<unknown>((value, key) => (value as Record<string, unknown>)?.[key], answer);
}

for (const file of readdirSync(folder).filter((name) => name.endsWith(".json"))) {
  const cases = JSON.parse(readFileSync(new URL(file, folder), "utf8")) as Published[];
  describe(file.replace(".json", ""), () => {
    it.each(cases)("$id: $source", (published) => {
      expect(Object.keys(published.expect).length).toBeGreaterThan(0);
      const answer = answerCase(published.case);
      for (const [path, wanted] of Object.entries(published.expect)) {
        const found = at(answer, path);
        if (typeof wanted !== "object") {
          expect(found, path).toBe(wanted);
          continue;
        }
        const scale = wanted.relative ? Math.abs(wanted.value) : 1;
        expect(typeof found, path).toBe("number");
        expect(
          Math.abs((found as number) - wanted.value),
          `${path} = ${found}, wanted ${wanted.value}`,
        ).toBeLessThanOrEqual(wanted.within * scale);
      }
    });
  });
}
