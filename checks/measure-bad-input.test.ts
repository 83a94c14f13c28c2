/** Cases that must be refused, each with words that name the key, what was found and what was expected. */
import { describe, expect, it } from "vitest";
import { answerCase } from "../src/core/measure/index.ts";

const format = "unseam-measure/1";
const refused = (value: unknown) => () => answerCase(value);
const base = (kind: string, inputs: object) => ({ format, kind, ...inputs });

describe("a measurement case is refused", () => {
  it.each<[string, unknown, RegExp]>([
    ["no object", 3, /an object with "format"/],
    [
      "another format",
      { format: "unseam-measure/2", kind: "summary", values: [1] },
      /format: found "unseam-measure\/2"/,
    ],
    ["an unknown kind", base("sumary", { values: [1] }), /nearest: summary/],
    ["kind from the prototype", base("constructor", {}), /kind: found/],
    ["an unknown key", base("summary", { value: [1] }), /value/],
    ["zero repeats", base("summary", { values: [] }), /values: found no values, expected at least one repeat/],
    ["zero repeats of a reading", base("reading", { values: [], resolution: 0.1 }), /at least one repeat/],
    ["negative resolution", base("reading", { values: [1, 2], resolution: -0.1 }), /resolution: found -0\.1/],
    ["no number", base("summary", { values: [1, "2"] }), /values\[1\]: found "2", expected a finite number/],
    ["NaN", base("summary", { values: [1, Number.NaN] }), /values\[1\]/],
    [
      "a self-crossing outline",
      base("polygon", {
        points: [
          [0, 0],
          [4, 4],
          [4, 0],
          [0, 4],
        ],
      }),
      /crossing/,
    ],
    [
      "a singular constraint set",
      base("reconcile", {
        values: [1, 2],
        u: [1, 1],
        A: [
          [1, -1],
          [2, -2],
        ],
      }),
      /A: found a singular set of balances/,
    ],
    ["a balance without uncertain values", base("reconcile", { values: [1, 2], u: [0, 0], A: [[1, -1]] }), /singular/],
    [
      "a row too short",
      base("reconcile", { values: [1, 2], u: [1, 1], A: [[1]] }),
      /A\[0\]: found 1 numbers, expected 2/,
    ],
    ["negative u in a balance", base("reconcile", { values: [1, 2], u: [1, -1], A: [[1, 1]] }), /u\[1\]: found -1/],
    [
      "a denominator not clear of zero",
      base("ratio", { a: { value: 1, u: 0.1 }, b: { value: 0.1, u: 0.1 } }),
      /b: found 0\.1 with u 0\.1, expected a denominator clear of zero/,
    ],
    [
      "a model that is no formula",
      base("propagate", { model: "a + * b", inputs: { a: { value: 1, u: 1 }, b: { value: 1, u: 1 } } }),
      /model: found "\*" at character 5/,
    ],
    [
      "a model with code in it",
      base("propagate", { model: "process.exit(1)", inputs: { a: { value: 1, u: 1 } } }),
      /model/,
    ],
    [
      "a model of an unknown input",
      base("propagate", { model: "a + c", inputs: { a: { value: 1, u: 1 } } }),
      /expected one of the inputs a/,
    ],
    ["a negative u", base("difference", { a: { value: 1, u: -1 }, b: { value: 1, u: 1 } }), /a\.u: found -1/],
    ["no u", base("difference", { a: { value: 1 }, b: { value: 1, u: 1 } }), /a: found neither u nor half/],
    [
      "a covariance too large",
      base("difference", { a: { value: 1, u: 1 }, b: { value: 1, u: 1 }, covariance: 2 }),
      /covariance: found 2/,
    ],
    ["limits the wrong way round", base("conformance", { value: 1, u: 1, lower: 3, upper: 2 }), /lower: found 3/],
    ["no limit", base("conformance", { value: 1, u: 1 }), /no limit/],
    ["a negative tolerance", base("stack", { terms: [{ a: 1, value: 1, t: -1 }] }), /terms\[0\]\.t: found -1/],
    ["Cpk above Cp", base("stack", { terms: [{ a: 1, value: 1, t: 1, cp: 1, cpk: 2 }] }), /cpk: found 2/],
    ["no terms", base("stack", { terms: [] }), /terms: found no terms/],
    ["no parts", base("closure", { whole: { value: 1, u: 1 }, parts: [] }), /parts: found no parts/],
    ["a probability of 1.2", base("quantile", { of: "normal", p: 1.2 }), /p: found 1\.2/],
    ["no dof", base("quantile", { of: "t", p: 0.9 }), /dof: found nothing/],
    ["dof of zero", base("quantile", { of: "chi2", p: 0.9, dof: 0 }), /dof/],
    [
      "a level of 95",
      base("propagate", { model: "a", inputs: { a: { value: 1, u: 1 } }, level: 95 }),
      /level: found 95/,
    ],
    [
      "a trapezoid without beta",
      base("propagate", { model: "a", inputs: { a: { value: 1, distribution: "trapezoid", half: 1 } } }),
      /beta/,
    ],
    ["an order of 3", base("propagate", { model: "a", inputs: { a: { value: 1, u: 1 } }, order: 3 }), /order/],
    ["one value to rank", base("ranking", { values: [{ value: 1, u: 1 }] }), /at least two/],
    ["no margin", base("equivalence", { a: { value: 1, u: 1 }, b: { value: 1, u: 1 }, delta: 0 }), /delta: found 0/],
    ["a weight without u", base("weighted", { values: [{ value: 1, u: 0 }] }), /values\[0\]\.u/],
    [
      "three trials",
      base("monte-carlo", { model: "a", inputs: { a: { value: 1, u: 1 } }, trials: 3 }),
      /trials: found 3/,
    ],
    ["a calibration line of two points", base("line", { x: [1, 2], y: [1, 2] }), /at least three/],
  ])("%s", (_, value, message) => {
    expect(refused(value)).toThrow(message);
  });

  it("with all faults of its shape at once", () => {
    const both = base("ratio", { a: { value: "1", u: 1 }, b: { value: 1, v: 1 } });
    expect(refused(both)).toThrow(/a\.value[\s\S]*b\.v/);
  });
});
