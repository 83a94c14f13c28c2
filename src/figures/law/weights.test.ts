import { describe, expect, it } from "vitest";
import { CURRENT, indexOf, type PartPoints, rolesOf } from "../../core/law/index.ts";
import type { PriorityRole } from "../../core/record/index.ts";
import type { Shape } from "../scene.ts";
import { weighedScores } from "./weighed.ts";
import { drawWeights } from "./weights.ts";

const W1: Readonly<Record<string, readonly [number, number, number]>> = {
  battery: [3, 3, 4],
  display: [1, 1, 1],
  "back-cover": [4, 3, 1],
  "front-camera": [3, 5, 4],
  "rear-camera": [3, 5, 4],
  "charging-port": [3, 5, 4],
  button: [2, 5, 4],
  "main-microphone": [3, 5, 4],
  speaker: [3, 5, 4],
};
const parts = new Map<PriorityRole, PartPoints>(
  rolesOf(false).map((role) => {
    const [depth, fastener, tool] = W1[role]!;
    return [role, { depth, fastener, tool }];
  }),
);
const product = { spareParts: 3, updates: 3, information: 3 };
const scores = weighedScores({ foldable: false, parts, product, partOf: () => undefined, nameOf: (role) => role });

const flat = (shapes: readonly Shape[]): Shape[] =>
  shapes.flatMap((shape) => (shape.kind === "group" ? flat(shape.children) : [shape]));

describe("the picture of weights", () => {
  it("fills as much of its frames as the index is of the most points (case W1 of the reference: 2.8325)", () => {
    const { exact } = indexOf(CURRENT, false, parts, product);
    expect(exact).toBe(28_325);
    const scene = drawWeights(scores, {
      width: 700,
      index: { value: 2.83, words: "index 2.83" },
      limits: [1, 1.75, 2.55, 3.35, 4],
    });
    const all = flat(scene.shapes).flatMap((shape) => (shape.kind === "rect" ? [shape] : []));
    const area = (fill: boolean) =>
      all
        .filter(({ look }) => (look.fill !== undefined) === fill)
        .reduce((sum, one) => sum + one.width * one.height, 0);
    // Frames are five points wide; bars leave gaps of 0.6 px between strips that are high enough.
    expect(Math.abs((5 * area(true)) / area(false) - 2.8325)).toBeLessThan(0.08);
  });

  it("says each contribution in words, and that there are no points where the law has none", () => {
    expect(scores.map(({ words }) => words)).toEqual([
      "25 % of 2.45",
      "15 % of 3.00",
      "15 % of 2.80",
      "15 % of 3.00",
      "15 % of 3.00",
      "15 % of 3.00",
    ]);
    const none = weighedScores({
      foldable: false,
      parts,
      product: { ...product, updates: null },
      partOf: () => undefined,
      nameOf: (role) => role,
    });
    expect(none[4]?.words).toBe("no points");
    const scene = drawWeights(none, { width: 320, index: null, limits: [] });
    expect(scene.title).toContain("updates no points");
    expect(JSON.stringify(scene)).not.toMatch(/null,null|NaN/);
  });
});
