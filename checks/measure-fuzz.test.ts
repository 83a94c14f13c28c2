/** Whatever a case or its numbers are, the answer is an answer or a fault in words; never a crash. */
import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError, InputFaults } from "../src/core/errors.ts";
import { answerCase, KINDS } from "../src/core/measure/index.ts";

const folder = new URL("./data/measure/", import.meta.url);
const cases = readdirSync(folder)
  .filter((name) => name.endsWith(".json"))
  .flatMap((name) => JSON.parse(readFileSync(new URL(name, folder), "utf8")) as { case: Record<string, unknown> }[])
  .map((one) => one.case)
  .filter((one) => JSON.stringify(one).length < 2000)
  .map((one) => (one.kind === "monte-carlo" ? { ...one, trials: 200 } : one));

const odd = fc.constantFrom<unknown>(
  null,
  0,
  -1,
  1e308,
  -1e308,
  5e-324,
  1e-300,
  0.5,
  2,
  "",
  "a",
  "1",
  [],
  {},
  true,
  [[]],
  [0, 0],
  { value: 0, u: 0 },
  "__proto__",
  [null],
);

/** Every place in a value: paths to numbers, texts, lists and objects. */
function places(value: unknown, path: (string | number)[] = []): (string | number)[][] {
  const here = path.length === 0 ? [] : [path];
  if (value === null || typeof value !== "object") return here;
  return [
    ...here,
    ...Object.keys(value).flatMap((key) =>
      places((value as never)[key], [...path, Array.isArray(value) ? Number(key) : key]),
    ),
  ];
}

function put(value: unknown, path: readonly (string | number)[], change: unknown, remove: boolean): unknown {
  const copy = structuredClone(value) as Record<string | number, unknown>;
  let at = copy;
  for (const step of path.slice(0, -1)) at = at[step] as typeof at;
  const last = path.at(-1)!;
  if (!remove) at[last] = change;
  else if (Array.isArray(at)) at.splice(last as number, 1);
  else delete at[last];
  return copy;
}

function answered(value: unknown): void {
  try {
    JSON.stringify(answerCase(value));
  } catch (error) {
    if (!(error instanceof InputError || error instanceof InputFaults)) throw error;
    expect(error.message).toMatch(/found[\s\S]*expected/);
  }
}

describe("unseam-measure/1 with anything in it", () => {
  it("answers or says what is wrong, for cases with one or two places changed", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...cases),
        fc.array(fc.tuple(fc.nat(), odd, fc.boolean()), { minLength: 1, maxLength: 2 }),
        (one, changes) => {
          let value: unknown = one;
          for (const [at, change, remove] of changes) {
            const all = places(value);
            if (all.length > 0) value = put(value, all[at % all.length]!, change, remove);
          }
          answered(value);
        },
      ),
      { numRuns: 3000 },
    );
  });

  it("answers or says what is wrong, for any JSON under a known kind", () => {
    fc.assert(
      fc.property(fc.constantFrom(...Object.keys(KINDS)), fc.jsonValue(), fc.jsonValue(), (kind, a, b) => {
        answered({ format: "unseam-measure/1", kind, values: a, inputs: b, model: a, a, b, terms: b, points: a });
        answered(a);
      }),
      { numRuns: 500 },
    );
  });
});
