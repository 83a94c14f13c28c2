/**
 * The index of 2023/1669 against sheets whose arithmetic is shown, and against the values that can be reached at all.
 *
 * `data/law/sheets.json` was made by a program apart from this one, in exact fractions, from the tables of Annex IV point 5
 * (OJ L 214, 31.8.2023, p. 9, consolidated 10.5.2026); W1 to W3 are worked on paper. Each sheet carries its arithmetic.
 */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  assessSheet,
  CURRENT,
  classOf,
  decimal,
  depthPoints,
  halfUp,
  indexFromScores,
  parseSheet,
  rolesOf,
  updatePoints,
  weightOf,
} from "../src/core/law/index.ts";

interface Case {
  readonly id: string;
  readonly shows: string;
  readonly sheet: unknown;
  readonly expect: {
    readonly scores: Record<string, string | number | null>;
    readonly index: string | null;
    readonly unrounded: string | null;
    readonly class: string | null;
    readonly roundingDecides: boolean;
  };
  readonly arithmetic?: string;
}

const cases = JSON.parse(readFileSync(new URL("./data/law/sheets.json", import.meta.url), "utf8")) as Case[];

describe("worked sheets", () => {
  for (const one of cases) {
    test(`${one.id}: ${one.shows}`, () => {
      const check = parseSheet(one.sheet);
      if (!check.ok) throw new Error(JSON.stringify(check.faults));
      const answer = assessSheet(check.sheet);
      const { scores, index, unrounded, class: letter, roundingDecides } = answer;
      expect({ scores, index, unrounded, class: letter, roundingDecides }).toEqual(one.expect);
      if (index === null) expect(answer.why).toMatch(/no points|no years/);
      else expect(one.arithmetic).toContain(`= ${unrounded}`);
      expect(answer.warnings.some((text) => text.includes("rounding decides"))).toBe(roundingDecides);
    });
  }

  test("there are at least twenty besides W1 to W3, with arithmetic that adds up as written", () => {
    const shown = cases.filter((one) => one.arithmetic !== undefined);
    expect(shown.length).toBeGreaterThanOrEqual(24);
    for (const { arithmetic, id } of shown) {
      // The sums of weights in each score are 100 %, and the last line is what its terms say.
      const last = / = (\d\.\d{4}) \+ 0\.15 x (\d+\.\d\d) = (\d\.\d{4})$/.exec(arithmetic ?? "");
      if (last === null) throw new Error(`${id}: ${arithmetic}`);
      const ten = (text: string): number => Number(text.replace(".", ""));
      expect(ten(last[1]) + 15 * ten(last[2]), id).toBe(ten(last[3]));
    }
  });

  test("W1: steps with the remote ones, per part", () => {
    const check = parseSheet(cases.find((one) => one.id === "W1")?.sheet);
    if (!check.ok) throw new Error("W1 is refused");
    const { parts } = assessSheet(check.sheet);
    expect(parts.display).toMatchObject({ steps: 20, remoteSteps: 10, depth: 1, fastener: 1, tool: 1 });
    expect(parts.battery).toMatchObject({ steps: 6, remoteSteps: 0, depth: 3, fastener: 3, tool: 4 });
    expect(Object.keys(parts)).toHaveLength(9);
  });
});

/**
 * W0: values shown as a public register entry in the test data of a public code repository (maker and model left out); the
 * points for spare parts, updates and information are the only ones that give the registered 4.01.
 */
test("W0: registered scores give the registered index", () => {
  const index = indexFromScores({ SDD: "4.05", SF: "5.00", ST: "4.00", SSP: 5, SSU: 1, SRI: 5 });
  expect(index.exact).toBe(40125);
  expect(decimal(index.rounded ?? 0, 2)).toBe("4.01");
  expect(index.letter).toBe("A");
});

describe("what can be reached", () => {
  /** Every sum of one choice a part. */
  const sums = (foldable: boolean, levels: readonly number[]): Set<number> => {
    let reached = new Set([0]);
    for (const role of rolesOf(foldable)) {
      const next = new Set<number>();
      for (const sum of reached) for (const level of levels) next.add(sum + weightOf(CURRENT, foldable, role) * level);
      reached = next;
    }
    return reached;
  };
  const attainable = (foldable: boolean): number[] => {
    const depth = sums(foldable, [1, 2, 3, 4, 5]);
    const fastener = sums(foldable, [1, 3, 5]);
    const tool = sums(foldable, [1, 2, 3, 4, 5]);
    const both = new Set<number>();
    for (const a of fastener) for (const b of tool) both.add(a + b);
    const product = new Set<number>();
    for (const a of [1, 2, 3, 4, 5]) for (const b of [1, 3, 5]) for (const c of [1, 3, 5]) product.add(a + b + c);
    const parts = new Set<number>();
    for (const a of both) for (const b of product) parts.add(15 * a + 1500 * b);
    const all = new Set<number>();
    for (const a of depth) for (const b of parts) all.add(25 * a + b);
    return [...all].sort((a, b) => a - b);
  };

  for (const [name, foldable, count, grid, near] of [
    ["not foldable", false, 1593, 25, 2],
    ["foldable", true, 7909, 5, 10],
  ] as const) {
    test(`${name}: ${count} values of the index, ${near} at each limit where rounding decides`, () => {
      const values = attainable(foldable);
      expect(values).toHaveLength(count);
      expect([values[0], values.at(-1)]).toEqual([10000, 50000]);
      expect(values.every((value) => value % grid === 0)).toBe(true);
      for (const { letter, from } of CURRENT.classLimits) {
        const limit = from * 100;
        const decided = values.filter(
          (value) => value < limit && value >= limit - 500 && classOf(CURRENT, halfUp(value) * 100) === letter,
        );
        if (letter === "E") expect(decided).toEqual([]);
        else {
          expect(decided).toHaveLength(near);
          expect(decided.every((value) => value >= limit - 50)).toBe(true);
        }
        // One grid step lower, and rounding changes nothing.
        expect(values.filter((value) => value < limit - 50).every((value) => halfUp(value) * 100 < limit)).toBe(true);
      }
    });
  }
});

describe("edges of the tables (Annex IV point 5)", () => {
  test("bands of steps", () => {
    const edges = [1, 2, 3, 5, 6, 10, 11, 15, 16, 1000].map((steps) => depthPoints(CURRENT, steps));
    expect(edges).toEqual([5, 5, 4, 4, 3, 3, 2, 2, 1, 1]);
  });
  test("years of updates", () => {
    const edges = [0, 4, 4.9, 5, 5.9, 6, 6.9, 7, 8, 20].map((years) => updatePoints(CURRENT, years));
    expect(edges).toEqual([null, null, null, 1, 1, 3, 3, 5, 5, 5]);
  });
  test("limits of the classes", () => {
    const edges = [9999, 10000, 17499, 17500, 25499, 25500, 33499, 33500, 39999, 40000, 50000];
    expect(edges.map((exact) => classOf(CURRENT, exact))).toEqual([
      null,
      "E",
      "E",
      "D",
      "D",
      "C",
      "C",
      "B",
      "B",
      "A",
      "A",
    ]);
  });
  test("weights add up to 100 %", () => {
    for (const foldable of [false, true]) {
      const total = rolesOf(foldable).reduce((sum, role) => sum + weightOf(CURRENT, foldable, role), 0);
      expect(total).toBe(100);
    }
    expect(Object.values(CURRENT.indexWeights).reduce((sum, weight) => sum + weight, 0)).toBe(100);
  });
});
