/** The page on measurement shows one example for each kind; every one of them is run here. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { answerCase, KINDS } from "../src/core/measure/index.ts";

const page = readFileSync(new URL("../docs/core/measure.md", import.meta.url), "utf8");
const examples = [...page.matchAll(/```json case\n(.*?)\n```\s+```json answer\n(.*?)\n```/gs)].map(
  ([, question, answer]) => ({
    question: JSON.parse(question!) as { kind: string },
    answer: JSON.parse(answer!) as Record<string, unknown>,
  }),
);

/** As printed: six digits. */
function close(found: unknown, printed: unknown, path: string): void {
  if (typeof printed === "number") {
    expect(found, path).toEqual(expect.any(Number));
    expect(Math.abs((found as number) - printed), path).toBeLessThanOrEqual(1e-5 * Math.abs(printed) + 1e-12);
  } else if (Array.isArray(printed)) {
    expect(found, path).toHaveLength(printed.length);
    printed.forEach((one, i) => close((found as unknown[])[i], one, `${path}[${i}]`));
  } else expect(found, path).toEqual(printed);
}

describe("docs/core/measure.md", () => {
  it("has an example for every kind", () => {
    expect(examples.map(({ question }) => question.kind).sort()).toEqual(Object.keys(KINDS).sort());
  });
  it.each(examples)("$question.kind answers as printed", ({ question, answer }) => {
    const found = JSON.parse(JSON.stringify(answerCase(question))) as Record<string, unknown>;
    for (const [key, printed] of Object.entries(answer)) close(found[key], printed, key);
  });
});
