import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Shape } from "../scene.ts";
import { drawSpread } from "./spread.ts";

const share = [0.01, 0.25, 0.5, 0.75, 0.9, 0.99];
const seconds = [300, 420, 500, 610, 760, 1100];

describe("the share of jobs done by a time", () => {
  it("marks the median and nine in ten on the curve", () => {
    const scene = drawSpread({ share, seconds, p50: 500, p90: 760, standard: 480 }, 700);
    const curve = scene.shapes.find((one) => one.kind === "path")!;
    const marks = scene.shapes.filter((one): one is Extract<Shape, { kind: "circle" }> => one.kind === "circle");
    const points = curve.kind === "path" ? curve.commands.map(([, x, y]) => [x, y]) : [];
    expect(points).toContainEqual([marks[0]!.cx, marks[0]!.cy]);
    expect(points).toContainEqual([marks[1]!.cx, marks[1]!.cy]);
    expect(scene.title).toContain("half within 8 min 20 s");
  });
  it("stays inside of its frame at any width and any times, and rises", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 260, max: 1200 }),
        fc.array(fc.double({ min: 0, max: 40_000, noNaN: true }), { minLength: 6, maxLength: 6 }),
        (width, times) => {
          const rising = [...times].sort((a, b) => a - b);
          const scene = drawSpread({ share, seconds: rising, p50: rising[2]!, p90: rising[4]! }, width);
          const curve = scene.shapes.find((one) => one.kind === "path")!;
          const points = curve.kind === "path" ? curve.commands.map(([, x, y]) => [Number(x), Number(y)]) : [];
          for (const [i, [x, y]] of points.entries()) {
            expect(x).toBeGreaterThanOrEqual(0);
            expect(x).toBeLessThanOrEqual(width);
            expect(y).toBeGreaterThanOrEqual(0);
            expect(y).toBeLessThanOrEqual(scene.height);
            if (i > 0) expect(x).toBeGreaterThanOrEqual(points[i - 1]![0]!);
          }
        },
      ),
      { numRuns: 60 },
    );
  });
});
