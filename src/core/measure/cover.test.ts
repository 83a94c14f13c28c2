import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Weighed } from "./cover.ts";
import { coverOf } from "./cover.ts";
import { add, estimate, standardUncertainty } from "./estimate.ts";

const weighed = (id: string, set: readonly string[], u: number): Weighed & { id: string } => ({
  id,
  set: new Set(set),
  figure: estimate(1, "g", [[`reading:${id}`, { u, dof: Number.POSITIVE_INFINITY }]]),
});

/** Every choice of readings, tried out. */
function bruteForce(whole: readonly string[], all: readonly Weighed[]): { left: number; variance: number } {
  let best = { left: whole.length, variance: 0 };
  for (let mask = 0; mask < 2 ** all.length; mask++) {
    const some = all.filter((_, i) => mask & (1 << i));
    const ids = some.flatMap((one) => [...one.set]);
    if (new Set(ids).size !== ids.length || ids.some((id) => !whole.includes(id))) continue;
    const left = whole.length - ids.length;
    const variance = some.length === 0 ? 0 : standardUncertainty(add(...some.map((one) => one.figure))) ** 2;
    if (left < best.left || (left === best.left && variance < best.variance)) best = { left, variance };
  }
  return best;
}

describe("a cover by disjoint readings", () => {
  it("is the best of all, by trying everything", () => {
    const whole = ["a", "b", "c", "d", "e", "f"];
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.subarray([...whole, "outside"], { minLength: 1, maxLength: 4 }),
            fc.double({ min: 0.01, max: 1, noNaN: true }),
          ),
          { maxLength: 9 },
        ),
        (sets) => {
          const all = sets.map(([set, u], i) => weighed(`r${i}`, set, u));
          const found = coverOf(whole, all);
          const best = bruteForce(whole, all);
          expect(found.proved).toBe(true);
          expect(found.left.length).toBe(best.left);
          const variance =
            found.chosen.length === 0 ? 0 : standardUncertainty(add(...found.chosen.map((one) => one.figure))) ** 2;
          expect(variance).toBeCloseTo(best.variance, 10);
        },
      ),
      { numRuns: 200 },
    );
  });

  it("takes a set weighed together before its members, where that is surer", () => {
    const { chosen } = coverOf(
      ["a", "b", "c"],
      [weighed("a", ["a"], 0.1), weighed("b", ["b"], 0.1), weighed("c", ["c"], 0.1), weighed("ab", ["a", "b"], 0.1)],
    );
    expect(chosen.map((one) => one.id).sort()).toEqual(["ab", "c"]);
  });

  it("stays quick with sixty parts and many sets", () => {
    const whole = Array.from({ length: 60 }, (_, i) => `p${i}`);
    const all = whole.map((id, i) => weighed(id, [id], 0.01 + i * 1e-4));
    for (let i = 0; i + 3 < 60; i += 2) all.push(weighed(`s${i}`, whole.slice(i, i + 4), 0.02));
    const { left } = coverOf(whole, all);
    expect(left).toEqual([]);
  });
});
