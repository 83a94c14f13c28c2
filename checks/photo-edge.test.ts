/**
 * Rough marks brought onto the edges of rendered photographs: to a fraction of a pixel where there is an edge, nowhere
 * where there is none. `bench/photo-body.ts` does the same at 12 megapixels, with how far screws and areas are off.
 */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../src/core/measure/index.ts";
import { type GreyPicture, type Point, snapEdge } from "../src/core/photo/index.ts";
import { measureBody } from "./photo-body-measure.ts";
import { renderBody } from "./photo-body-render.ts";

describe("a rendered body", () => {
  it("is measured from rough marks: rim to a quarter pixel, screws within 0.5 mm, cell within 0.5 %", () => {
    const done = [1, 2, 4, 5].map((seed) => {
      const random = seededRandom(seed);
      return measureBody(random, renderBody(random, [1200, 900]), true);
    });
    for (const one of done) {
      expect(one).toBeDefined();
      expect(Math.max(...one!.rim)).toBeLessThan(0.25);
      expect(Math.max(...one!.screws)).toBeLessThan(0.5);
      expect(one!.area).toBeLessThan(0.005);
    }
    const held = done.flatMap((one) => one!.screwsHeld);
    expect(held.filter(Boolean).length / held.length).toBeGreaterThan(0.92);
  });
});

describe("an edge", () => {
  const SIZE = 400;
  /** Light above a line that runs through (0, y0) with a slope, dark below; soft over two pixels. */
  const halves = (y0: number, slope: number, more: (x: number, y: number) => number = () => 0): GreyPicture => ({
    width: SIZE,
    height: SIZE,
    pixels: Uint8ClampedArray.from({ length: SIZE * SIZE }, (_, i) => {
      const [x, y] = [(i % SIZE) + 0.5, Math.floor(i / SIZE) + 0.5];
      const below = (y - y0 - slope * x) / Math.hypot(1, slope);
      return 120 - 80 * Math.max(-1, Math.min(1, below / 2)) + more(x, y);
    }),
  });
  const off = (at: Point, y0: number, slope: number) => Math.abs(at[1] - y0 - slope * at[0]);

  it.each([
    [200.3, 0],
    [150, 0.2],
    [260.7, -0.35],
  ])("at %f with slope %f is found from either side, marks in any order", (y0, slope) => {
    for (const beside of [-9, 6]) {
      const marks: Point[] = [350, 40, 200].map((x) => [x, y0 + slope * x + beside]);
      const found = snapEdge(halves(y0, slope), marks, 14)!;
      expect(found.at).toHaveLength(3);
      for (const [i, at] of found.at.entries()) {
        expect(off(at, y0, slope)).toBeLessThan(0.05);
        // Across alone: a mark stays where it was along the edge.
        expect(Math.hypot(at[0] - marks[i]![0], at[1] - marks[i]![1])).toBeLessThan(Math.abs(beside) + 0.1);
      }
      expect(found.agree).toBeGreaterThan(0.95);
    }
  });

  it("is found where a third of it is hidden", () => {
    const hidden = halves(200, 0.1, (x) => (x > 120 && x < 220 ? 500 : 0));
    const found = snapEdge(
      hidden,
      [
        [30, 208],
        [370, 232],
      ],
      14,
    )!;
    expect(found.at.every((at) => off(at, 200, 0.1) < 0.1)).toBe(true);
    expect(found.agree).toBeLessThan(0.8);
  });

  it("is not made up", () => {
    const random = seededRandom(9);
    const noise = halves(-1000, 0, () => 20 * random.normal() + 60);
    const plain = halves(-1000, 0);
    const curve: GreyPicture = {
      ...plain,
      pixels: Uint8ClampedArray.from({ length: SIZE * SIZE }, (_, i) =>
        Math.hypot((i % SIZE) - 200, Math.floor(i / SIZE) - 200) < 90 ? 200 : 40,
      ),
    };
    const marks: Point[] = [
      [110, 150],
      [290, 150],
    ];
    for (const picture of [noise, plain, curve]) expect(snapEdge(picture, marks, 14)).toBeUndefined();
    // Too short, too near to the rim of the picture, nothing to look through.
    const real = halves(200, 0);
    expect(
      snapEdge(
        real,
        [
          [100, 200],
          [120, 200],
        ],
        14,
      ),
    ).toBeUndefined();
    expect(
      snapEdge(
        halves(5, 0),
        [
          [20, 5],
          [380, 5],
        ],
        14,
      ),
    ).toBeUndefined();
    expect(snapEdge(real, [[100, 200]], 14)).toBeUndefined();
    expect(
      snapEdge(
        real,
        [
          [100, 200],
          [300, 200],
        ],
        1,
      ),
    ).toBeUndefined();
  });
});
