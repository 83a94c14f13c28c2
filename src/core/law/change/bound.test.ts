import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { leastWeight } from "./bound.ts";
import type { Row } from "./role-rows.ts";

/** The least weight of a set whose rows fill the gap, by trying every set. */
function byTrying(rows: readonly Row[], weights: readonly number[], gap: number): number {
  let best = Number.POSITIVE_INFINITY;
  for (let set = 0; set < 1 << weights.length; set += 1) {
    const inside = weights.flatMap((_, index) => ((set >> index) & 1 ? [index] : []));
    const value = rows.reduce(
      (sum, { cap, shares }) =>
        sum +
        Math.min(
          cap,
          inside.reduce((all, index) => all + (shares.get(index) ?? 0), 0),
        ),
      0,
    );
    if (value >= gap)
      best = Math.min(
        best,
        inside.reduce((sum, index) => sum + (weights[index] ?? 0), 0),
      );
  }
  return best;
}

const weights = fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1, maxLength: 7 });
const rowsOf = (count: number) =>
  fc.array(
    fc.record({
      cap: fc.integer({ min: 1, max: 40 }),
      shares: fc
        .array(fc.tuple(fc.integer({ min: 0, max: count - 1 }), fc.integer({ min: 1, max: 40 })), { maxLength: 6 })
        .map((list) => new Map(list)),
    }),
    { minLength: 1, maxLength: 4 },
  );

describe("the least weight that fills a gap", () => {
  test("is never above what trying every set finds, and leaving the first items out never lowers it", () => {
    fc.assert(
      fc.property(
        weights.chain((list) => fc.tuple(fc.constant(list), rowsOf(list.length), fc.integer({ min: 1, max: 80 }))),
        ([list, rows, gap]) => {
          const bound = leastWeight(rows, (index) => ({ weight: list[index] ?? 1, copies: 1 }), gap);
          expect(bound.weight).toBeLessThanOrEqual(byTrying(rows, list, gap) + 1e-6);
          let before = bound.from(0);
          for (let at = 1; at <= bound.items.length; at += 1) {
            expect(bound.from(at)).toBeGreaterThanOrEqual(before - 1e-6);
            before = bound.from(at);
          }
        },
      ),
      { numRuns: 400 },
    );
  });

  test("a cap counts once: two changes that can fill the same row of 10 do not fill a gap of 15", () => {
    const row: Row = {
      cap: 10,
      shares: new Map([
        [0, 10],
        [1, 10],
      ]),
    };
    expect(leastWeight([row], () => ({ weight: 1, copies: 1 }), 15).weight).toBe(Number.POSITIVE_INFINITY);
    expect(leastWeight([row], () => ({ weight: 1, copies: 1 }), 10).weight).toBeCloseTo(1, 9);
  });

  test("what is not open does not count", () => {
    const row: Row = {
      cap: 20,
      shares: new Map([
        [0, 10],
        [1, 10],
      ]),
    };
    const open = (index: number) => (index === 0 ? undefined : { weight: 3, copies: 1 });
    expect(leastWeight([row], open, 10).weight).toBeCloseTo(3, 9);
    expect(leastWeight([row], open, 11).weight).toBe(Number.POSITIVE_INFINITY);
  });
});
