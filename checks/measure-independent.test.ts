/**
 * Cases of our own making, each answered twice: by the program and by closed forms evaluated with an independent library
 * (SciPy, NumPy). Sources and tolerance stand in the data file.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { answerCase, MEASURE_FORMAT } from "../src/core/measure/index.ts";

interface Case {
  readonly input: { readonly kind: string };
  readonly answer: Readonly<Record<string, number | boolean | readonly number[]>>;
  /** Absolute tolerances of what is drawn at random. */
  readonly within?: Readonly<Record<string, number>>;
}

const { cases, tolerance } = JSON.parse(
  readFileSync(new URL("./data/measure/independent.json", import.meta.url), "utf8"),
) as { readonly cases: readonly Case[]; readonly tolerance: number };

function near(found: unknown, wanted: number | boolean | readonly number[], absolute: number | undefined): boolean {
  if (Array.isArray(wanted))
    return (
      Array.isArray(found) && found.length === wanted.length && wanted.every((one, i) => near(found[i], one, absolute))
    );
  if (typeof wanted !== "number" || typeof found !== "number") return found === wanted;
  return Math.abs(found - wanted) <= (absolute ?? tolerance * Math.max(1e-6, Math.abs(wanted)));
}

describe("cases answered by an independent library", () => {
  it.each(cases.map((one, i) => [`${i + 1} ${one.input.kind}`, one] as const))("%s", (_, { input, answer, within }) => {
    const found = answerCase({ format: MEASURE_FORMAT, ...input }) as Readonly<Record<string, unknown>>;
    for (const [key, wanted] of Object.entries(answer))
      expect(
        near(found[key], wanted, within?.[key]),
        `${key}: ${JSON.stringify(found[key])} against ${JSON.stringify(wanted)}`,
      ).toBe(true);
  });
});
