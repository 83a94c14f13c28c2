/**
 * Photographs that measure, held to published numbers and to simulated marks.
 *
 * Published: two homographies with the numbers that OpenCV's getPerspectiveTransform printed or is tested with (the test
 * suite of mexopencv by K. Yamaguchi; a test of a JavaScript port that quotes opencv-python's output), and the polygon
 * of the shoelace formula's usual example. Simulated: 12 megapixels, 160 mm, tilt to 25 degrees, relief of 3 mm.
 */
import { describe, expect, it } from "vitest";
import { measurePolygon, type Point, seededRandom } from "../src/core/measure/index.ts";
import { project } from "../src/core/photo/camera.ts";
import {
  applyHomography,
  fitView,
  homography,
  inverseHomography,
  place,
  traceOutline,
} from "../src/core/photo/index.ts";
import { HAND } from "../src/core/photo/marks.ts";
import { BODY, randomScene, type SceneOptions } from "./photo-simulation.ts";

const pairs = (from: readonly Point[], to: readonly Point[]) => from.map((point, i) => ({ from: point, to: to[i]! }));

describe("published homographies", () => {
  it("a turn by a quarter (mexopencv, TestGetPerspectiveTransform)", () => {
    const h = homography(
      pairs(
        [
          [0, 1],
          [1, 1],
          [1, 0],
          [0.25, 0.25],
        ],
        [
          [1, 1],
          [1, 0],
          [0, 0],
          [0.25, 0.75],
        ],
      ),
    );
    const expected = [0, 1, 0, -1, 0, 1, 0, 0, 1];
    h.forEach((value, i) => expect(value / h[8]).toBeCloseTo(expected[i]!, 10));
  });

  it("a real perspective, to the nine digits that opencv-python printed", () => {
    const h = homography(
      pairs(
        [
          [33, 582],
          [151, 579],
          [145, 702],
          [25, 703],
        ],
        [
          [0, 0],
          [300, 0],
          [300, 300],
          [0, 300],
        ],
      ),
    );
    const expected = [
      2.86405074, 1.89358727e-1, -2.04720453e2, 7.10878995e-2, 2.79612405, -1.6296901e3, 1.60734029e-4, 1.73337133e-4,
      1,
    ];
    h.forEach((value, i) => expect(Math.abs(value / h[8] / expected[i]! - 1)).toBeLessThan(5e-9));
  });

  it("there and back again, with more points than are needed", () => {
    const h = [1.1, 0.2, 30, -0.1, 0.9, -20, 2e-4, -3e-4, 1] as const;
    const from: Point[] = [
      [0, 0],
      [400, 10],
      [410, 300],
      [-20, 310],
      [200, 150],
      [100, 220],
    ];
    const found = homography(
      pairs(
        from,
        from.map((point) => applyHomography(h, point)),
      ),
    );
    for (const point of [
      [50, 60],
      [300, 250],
    ] as const) {
      const [x, y] = applyHomography(found, point);
      expect([x, y].map((v, i) => v - applyHomography(h, point)[i]!).every((d) => Math.abs(d) < 1e-8)).toBe(true);
      const back = applyHomography(inverseHomography(found), [x, y]);
      expect(Math.hypot(back[0] - point[0], back[1] - point[1])).toBeLessThan(1e-8);
    }
  });
});

describe("a published polygon", () => {
  // The pentagon of the shoelace formula's article in Wikipedia: (1,6), (3,1), (7,2), (4,4), (8,5) has area 16.5.
  it("has the area that is stated, read off a photograph as well", () => {
    const pentagon: Point[] = [
      [1, 6],
      [3, 1],
      [7, 2],
      [4, 4],
      [8, 5],
    ];
    expect(measurePolygon([pentagon]).area).toBeCloseTo(16.5, 12);
    const { camera, marks } = randomScene(seededRandom(3), { exact: true });
    const view = fitView(marks);
    const traced = traceOutline(view, [pentagon.map((point) => project(camera, point, 0))], { level: 0 });
    expect(traced.area).toBeCloseTo(16.5, 4);
    expect(traced.centroid[0]).toBeCloseTo(measurePolygon([pentagon]).centroid[0], 3);
  });
});

describe("without noise", () => {
  it.each([
    ["from the back", {}],
    ["from the display", { seen: "front" }],
    ["with a card", { card: true }],
    ["from the display with a card", { card: true, seen: "front" }],
  ] as const)("places come back %s, above and below the plane", (_, options) => {
    for (let seed = 1; seed <= 12; seed++) {
      const { camera, marks } = randomScene(seededRandom(seed), { ...options, exact: true, told: true });
      const view = fitView(marks);
      for (const level of [-1, 0, 3]) {
        for (const point of [
          [0, 0],
          [30, -70],
          [-35, 75],
        ] as const) {
          const { at } = place(view, project(camera, point, level), { level });
          expect(Math.hypot(at[0] - point[0], at[1] - point[1]), `seed ${seed}`).toBeLessThan(0.002);
        }
      }
      expect(view.rms).toBeLessThan(0.05);
    }
  });
});

/** Sets of marks as people and finders set them: how far off, and how often the stated interval holds the truth. */
function trial(options: SceneOptions, seed: number, sets: number) {
  const random = seededRandom(seed);
  const off: number[] = [];
  const areas: number[] = [];
  const held = { x: 0, y: 0, area: 0, perimeter: 0 };
  for (let set = 0; set < sets; set++) {
    const { camera, marks } = randomScene(random, options);
    const view = fitView(marks);
    const hand = (point: Point, level: number): Point => {
      const [x, y] = project(camera, point, level);
      return [x + HAND * random.normal(), y + HAND * random.normal()];
    };
    // A screw anywhere on the device, at a level to 3 mm that is known to 0.1 mm.
    const screw: Point = [BODY[0] + 75 * random.uniform(), BODY[2] + 160 * random.uniform()];
    const level = 3 * random.uniform();
    const { at, U } = place(view, hand(screw, level), { level: level + 0.1 * random.normal() });
    off.push(Math.hypot(at[0] - screw[0], at[1] - screw[1]));
    if (Math.abs(at[0] - screw[0]) <= U[0]) held.x++;
    if (Math.abs(at[1] - screw[1]) <= U[1]) held.y++;
    // A cell of 62 x 90 mm with a step in one corner, 1.2 mm down.
    const cell: Point[] = [
      [-30, -50],
      [32, -50],
      [32, 10],
      [12, 10],
      [12, 40],
      [-30, 40],
    ];
    const truth = measurePolygon([cell]);
    const traced = traceOutline(view, [cell.map((point) => hand(point, 1.2))], { level: 1.2 + 0.1 * random.normal() });
    areas.push(Math.abs(traced.area / truth.area - 1));
    if (Math.abs(traced.area - truth.area) <= 1.96 * traced.areaU) held.area++;
    if (Math.abs(traced.perimeter - truth.perimeter) <= 1.96 * traced.perimeterU) held.perimeter++;
  }
  const worstOf95 = (values: number[]) => values.sort((a, b) => a - b)[Math.ceil(0.95 * sets) - 1]!;
  return { screw: worstOf95(off), area: worstOf95(areas), held };
}

describe("simulated sets of marks, 12 megapixels, 160 mm, tilt to 25 degrees", () => {
  // Cameras tell their focal length in the file. Where it was lost, how far the cell's level displaces its edges is known
  // less well, and the area to 0.6 %; points of known place at several levels tell it.
  it.each<[string, SceneOptions, number, number, number]>([
    ["two marks on each edge, focal length told", { told: true }, 0.005, 11, 1000],
    ["the same from the display", { seen: "front", told: true }, 0.005, 12, 300],
    ["focal length not told", {}, 0.006, 13, 300],
    ["the same with eight screws of known places", { known: 8 }, 0.005, 15, 300],
    ["a card and a lens that bends by up to 6 %", { card: true, radial: 0.03 }, 0.005, 14, 300],
  ])("%s: screws within 0.5 mm, cells to their limit, intervals that hold", (_, options, limit, seed, sets) => {
    const { screw, area, held } = trial(options, seed, sets);
    expect(screw).toBeLessThan(0.5);
    expect(area).toBeLessThan(limit);
    for (const count of Object.values(held)) {
      expect(count).toBeGreaterThanOrEqual(0.92 * sets);
      expect(count).toBeLessThanOrEqual(0.98 * sets);
    }
  });
});

describe("sets that give no view are refused with the reason", () => {
  const { marks } = randomScene(seededRandom(5), { exact: true });
  const at = (points: readonly Point[], is: readonly Point[], more = {}) => ({
    size: marks.size,
    seen: "back" as const,
    level: 0,
    points: points.map((point, i) => ({ at: point, is: is[i]! })),
    ...more,
  });
  const square: Point[] = [
    [0, 100],
    [60, 100],
    [60, 0],
    [0, 0],
  ];
  const seen: Point[] = [
    [1000, 500],
    [2000, 500],
    [2000, 2200],
    [1000, 2200],
  ];
  const cases: readonly (readonly [string, Parameters<typeof fitView>[0], RegExp])[] = [
    ["too few", at(seen.slice(0, 3), square), /3 points.*at least four/],
    [
      "three on a line",
      at(
        [
          [1000, 500],
          [1500, 500],
          [2000, 500],
          [1000, 2200],
        ],
        square,
      ),
      /three points on one line/,
    ],
    [
      "three on a line on the device",
      at(seen, [
        [0, 0],
        [30, 0],
        [60, 0],
        [0, 100],
      ]),
      /three points on one line/,
    ],
    ["crossed", at([seen[1]!, seen[0]!, seen[2]!, seen[3]!], square), /marks that cross over/],
    [
      "mirrored",
      at(
        seen,
        square.map(([x, y]): Point => [-x, y]),
      ),
      /mirrored order.*display/,
    ],
    ["three edges", { ...marks, edges: marks.edges!.slice(0, 3) }, /2 points.*at least four/],
    ["one mark on an edge", { ...marks, edges: [{ edge: "left", at: [[100, 100]] }] }, /one mark on the left edge/],
    [
      "marks side by side",
      {
        ...marks,
        edges: [
          {
            edge: "top",
            at: [
              [100, 100],
              [110, 100],
            ],
          },
        ],
      },
      /10 pixels apart/,
    ],
    ["no size of the body", { ...marks, body: undefined }, /edges of a body without a size/],
    ["a mark outside", at([[9000, 500], seen[1]!, seen[2]!, seen[3]!], square), /a place in the picture/],
    ["a mark that is no number", at([[Number.NaN, 500], seen[1]!, seen[2]!, seen[3]!], square), /finite/],
    ["no picture", { ...marks, size: [0, 0] }, /at least 100 x 100/],
    [
      "too oblique",
      at(
        [
          [1700, 1000],
          [2300, 1000],
          [3400, 1900],
          [600, 1900],
        ],
        square,
        { focal: 26 },
      ),
      /degrees from upright.*hold the camera/,
    ],
  ];
  it.each(cases)("%s", (_, given, words) => {
    expect(() => fitView(given)).toThrow(words);
  });

  it("marks that do not fit one another are told of, and widen the intervals", () => {
    const off = marks.edges!.map((edge, i) =>
      i === 0 ? { ...edge, at: [...edge.at, [edge.at[0]![0], edge.at[0]![1] + 60] as Point] } : edge,
    );
    const good = fitView(marks);
    const bad = fitView({ ...marks, edges: off });
    expect(good.warnings).toEqual([]);
    expect(bad.warnings[0]).toMatch(/times worse/);
    expect(place(bad, [2000, 1500]).u[0]).toBeGreaterThan(3 * place(good, [2000, 1500]).u[0]);
    const worst = [...bad.residuals].sort((a, b) => b.mm - a.mm)[0]!;
    expect(worst.of).toBe("left edge");
  });
});
