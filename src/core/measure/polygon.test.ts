import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Point } from "./polygon.ts";
import { containsPoint, measurePolygon } from "./polygon.ts";
import { seededRandom } from "./random.ts";

const square: Point[] = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
];
const move = (ring: readonly Point[], x: number, y: number): Point[] => ring.map((p) => [p[0] + x, p[1] + y]);

/** Star-shaped about the origin, so never crossing: corners at sorted angles. */
const star = fc.array(fc.double({ min: 1, max: 20, noNaN: true }), { minLength: 3, maxLength: 30 }).map((radii) =>
  radii.map((r, i): Point => {
    const angle = (2 * Math.PI * i) / radii.length;
    return [r * Math.cos(angle), r * Math.sin(angle)];
  }),
);

describe("outlines", () => {
  it("have the area of a fan of triangles", () => {
    const quad: Point[] = [
      [2, 0],
      [8, 2],
      [5, 5],
      [0, 4],
    ];
    const found = measurePolygon([quad]);
    const fan = [0, 1].map((i) => {
      const [a, b, c] = [quad[0]!, quad[i + 1]!, quad[i + 2]!];
      return ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])) / 2;
    });
    expect(found.area).toBeCloseTo(fan[0]! + fan[1]!, 12);
  });

  it("do not change with place, direction, start or a repeated last corner", () => {
    fc.assert(
      fc.property(star, fc.double({ min: -1e5, max: 1e5, noNaN: true }), (ring, shift) => {
        const base = measurePolygon([ring], { u: 0.1 });
        const moved = measurePolygon([move(ring, shift, -shift)], { u: 0.1 });
        const turned = measurePolygon([[...ring].reverse()], { u: 0.1 });
        const closed = measurePolygon([[...ring, ring[0]!]], { u: 0.1 });
        for (const other of [moved, turned, closed]) {
          expect(other.area / base.area).toBeCloseTo(1, 6);
          expect(other.u / base.u).toBeCloseTo(1, 6);
        }
        expect(turned.signed).toBeCloseTo(-base.signed, 9);
        expect(moved.centroid[0] - shift).toBeCloseTo(base.centroid[0], 4);
      }),
    );
  });

  it("scale: areas with the square, uncertainties with them", () => {
    fc.assert(
      fc.property(star, fc.double({ min: 0.1, max: 50, noNaN: true }), (ring, k) => {
        const a = measurePolygon([ring], { u: 0.1, scaleU: 0.01, offsetU: 0.02 });
        const b = measurePolygon([ring.map((p): Point => [p[0] * k, p[1] * k])], {
          u: 0.1 * k,
          scaleU: 0.01,
          offsetU: 0.02 * k,
        });
        expect(b.area / a.area / k ** 2).toBeCloseTo(1, 9);
        expect(b.u / a.u / k ** 2).toBeCloseTo(1, 9);
      }),
    );
  });

  it("lose the area of their holes and keep the moment", () => {
    const hole = move(
      square.map((p): Point => [p[0] / 5, p[1] / 5]),
      1,
      1,
    );
    const found = measurePolygon([square, hole]);
    expect(found.area).toBeCloseTo(96, 12);
    expect(found.perimeter).toBeCloseTo(48, 12);
    expect(found.centroid[0]).toBeCloseTo((100 * 5 - 4 * 2) / 96, 12);
  });

  it("are as uncertain as moving their corners at random shows", () => {
    const { normal } = seededRandom(17);
    const ring: Point[] = [
      [0, 0],
      [62, 0],
      [62, 38],
      [30, 38],
      [30, 75],
      [0, 75],
    ];
    const areas = Array.from(
      { length: 20_000 },
      () => measurePolygon([ring.map((p): Point => [p[0] + 0.05 * normal(), p[1] + 0.05 * normal()])]).area,
    );
    const mean = areas.reduce((a, b) => a + b, 0) / areas.length;
    const sd = Math.sqrt(areas.reduce((s, a) => s + (a - mean) ** 2, 0) / areas.length);
    expect(Math.abs(sd / measurePolygon([ring], { u: 0.05 }).u - 1)).toBeLessThan(0.03);
  });

  it.each<[string, Point[], RegExp]>([
    [
      "crosses itself",
      [
        [0, 0],
        [4, 4],
        [4, 0],
        [0, 4],
      ],
      /edge 1 .* crossing edge 3/,
    ],
    [
      "touches itself",
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [2, 0],
        [0, 4],
      ],
      /crossing/,
    ],
    [
      "runs back",
      [
        [0, 0],
        [4, 0],
        [2, 0],
        [2, 3],
      ],
      /runs back on itself/,
    ],
    [
      "has a corner twice",
      [
        [0, 0],
        [4, 0],
        [4, 0],
        [2, 3],
      ],
      /twice in a row/,
    ],
    [
      "has two corners",
      [
        [0, 0],
        [4, 0],
      ],
      /2 points/,
    ],
    [
      "is a line",
      [
        [0, 0],
        [1, 1],
        [2, 2],
      ],
      /runs back|one line/,
    ],
    [
      "has no number",
      [
        [0, 0],
        [Number.NaN, 0],
        [2, 2],
      ],
      /two finite numbers/,
    ],
  ])("are refused where one %s", (_, ring, message) => {
    expect(() => measurePolygon([ring])).toThrow(message);
  });

  it("refuse a hole outside, and a negative uncertainty", () => {
    expect(() => measurePolygon([square, move(square, 5, 5)])).toThrow(/points\[1\]: found a hole that leaves/);
    expect(() => measurePolygon([square], { u: -1 })).toThrow(/u: found -1/);
  });

  it("contain what lies inside and not what lies in a hole", () => {
    const ring = [
      square,
      move(
        square.map((p): Point => [p[0] / 5, p[1] / 5]),
        4,
        4,
      ),
    ];
    expect(containsPoint(ring, [1, 1])).toBe(true);
    expect(containsPoint(ring, [5, 5])).toBe(false);
    expect(containsPoint(ring, [0, 5])).toBe(true);
    expect(containsPoint(ring, [4, 5])).toBe(true);
    expect(containsPoint(ring, [-0.001, 5])).toBe(false);
  });

  it("of five thousand corners are measured without trying every pair", () => {
    const ring = Array.from({ length: 5000 }, (_, i): Point => {
      const angle = (2 * Math.PI * i) / 5000;
      return [50 * Math.cos(angle), 50 * Math.sin(angle)];
    });
    expect(measurePolygon([ring]).area).toBeCloseTo(Math.PI * 2500, 1);
  });
});
