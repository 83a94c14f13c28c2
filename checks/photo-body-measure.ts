/** A rendered body measured as a person does it: rough marks, brought onto the edges, then screws and the cell. */
import type { Point } from "../src/core/measure/polygon.ts";
import type { Random } from "../src/core/measure/random.ts";
import {
  fitView,
  type GreyPicture,
  intersection,
  type PhotoMarks,
  place,
  project,
  snapEdge,
  traceOutline,
} from "../src/core/photo/index.ts";
import { BODY, type BodyPicture, CELL, CELL_AREA, CELL_LEVEL } from "./photo-body-render.ts";

export interface BodyMeasured {
  /** Pixels across the edge that the marks of the rim are off. */
  readonly rim: readonly number[];
  /** Millimetres that the screws are off, and whether the interval holds each coordinate. */
  readonly screws: readonly number[];
  readonly screwsHeld: readonly boolean[];
  /** Share that the cell's area is off. */
  readonly area: number;
  readonly areaHeld: boolean;
}

/** How far a click on a whole photograph is off, in thousandths of its width: a finger's or a pointer's pixel. */
const CLICK = 0.0012;

/** @param told whether the camera's file told the focal length @returns undefined where an edge was not found */
export function measureBody(random: Random, body: BodyPicture, told: boolean): BodyMeasured | undefined {
  const { picture, camera } = body;
  const click = CLICK * picture.width;
  const rough = ([x, y]: Point): Point => [x + click * random.normal(), y + click * random.normal()];
  const snapped = (ends: readonly Point[], level: number) =>
    snapEdge(
      picture,
      ends.map((end) => rough(project(camera, end, level))),
      6 * click,
    );
  const rim: number[] = [];
  const edges: { edge: "left" | "right" | "top" | "bottom"; at: readonly Point[] }[] = [];
  for (const [edge, a, b] of [
    ["left", [BODY[0], -65], [BODY[0], 65]],
    ["right", [BODY[1], -65], [BODY[1], 65]],
    ["bottom", [-25, BODY[2]], [25, BODY[2]]],
    ["top", [-25, BODY[3]], [25, BODY[3]]],
  ] as const) {
    const found = snapped([a, b], 0);
    if (found === undefined) return undefined;
    edges.push({ edge, at: found.at });
    const [p, q] = [project(camera, a, 0), project(camera, b, 0)];
    const long = Math.hypot(q[0] - p[0], q[1] - p[1]);
    for (const [i, at] of found.at.entries()) {
      // Across the edge where the mark stands: the true edge bends a little between its ends.
      const truth = i === 0 ? p : q;
      rim.push(Math.abs((at[0] - truth[0]) * (q[1] - p[1]) - (at[1] - truth[1]) * (q[0] - p[0])) / long);
    }
  }
  const focal = told ? { focal: body.focal * Math.exp(0.04 * random.normal()) } : {};
  const marks: PhotoMarks = { size: camera.size, seen: "back", level: 0, body: BODY, edges, ...focal };
  const view = fitView(marks);
  const screws: number[] = [];
  const screwsHeld: boolean[] = [];
  for (const { at, level } of body.screws) {
    const pixel = middle(picture, rough(project(camera, at, level)), 0.75 * view.pixels);
    const { at: found, U } = place(view, pixel, { level: level + 0.1 * random.normal() });
    screws.push(Math.hypot(found[0] - at[0], found[1] - at[1]));
    screwsHeld.push(Math.abs(found[0] - at[0]) <= U[0], Math.abs(found[1] - at[1]) <= U[1]);
  }
  const sides = CELL.map((corner, i) => {
    const end = CELL[(i + 1) % CELL.length]!;
    const inward = (t: number): Point => [corner[0] + t * (end[0] - corner[0]), corner[1] + t * (end[1] - corner[1])];
    return snapped([inward(0.08), inward(0.92)], CELL_LEVEL);
  });
  if (sides.some((side) => side === undefined)) return undefined;
  const corners = sides.map((side, i) => {
    const before = sides[(i + sides.length - 1) % sides.length]!;
    return intersection([before.at[0]!, before.at[1]!], [side!.at[0]!, side!.at[1]!])!;
  });
  const traced = traceOutline(view, [corners], { level: CELL_LEVEL + 0.1 * random.normal() });
  return {
    rim,
    screws,
    screwsHeld,
    area: Math.abs(traced.area / CELL_AREA - 1),
    areaHeld: Math.abs(traced.area - CELL_AREA) <= 1.96 * traced.areaU,
  };
}

/** The middle of what is darker than its surroundings, as an eye under a loupe finds it. */
function middle({ width, height, pixels }: GreyPicture, [x, y]: Point, radius: number): Point {
  let at: Point = [x, y];
  for (let round = 0; round < 4; round++) {
    const [i0, j0] = [Math.round(at[0] - 2 * radius), Math.round(at[1] - 2 * radius)];
    let dark = 255;
    let light = 0;
    const greys: (readonly [number, number, number])[] = [];
    for (let j = j0; j < j0 + 4 * radius; j++)
      for (let i = i0; i < i0 + 4 * radius; i++) {
        if (i < 0 || j < 0 || i >= width || j >= height) continue;
        const grey = pixels[j * width + i]!;
        greys.push([i + 0.5, j + 0.5, grey]);
        [dark, light] = [Math.min(dark, grey), Math.max(light, grey)];
      }
    const half = dark + 0.3 * (light - dark);
    const weights = greys.filter(([, , grey]) => grey < half);
    if (weights.length === 0) return at;
    at = [
      weights.reduce((sum, [i]) => sum + i, 0) / weights.length,
      weights.reduce((sum, [, j]) => sum + j, 0) / weights.length,
    ];
  }
  return at;
}
