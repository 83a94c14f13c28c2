/**
 * Positions and outlines read off a photograph, with their uncertainty.
 *
 * A pixel shows a ray; where it meets the level is the position. What is not known of the view (its covariance), of the
 * mark (pixels) and of the level is carried on linearly (GUM 5.1.2). An error of the view is common to all marks of a
 * picture: it counts as such in areas and perimeters, where the marks' own errors are independent.
 */
import { InputError } from "../errors.ts";
import { coverageFactor } from "../measure/distributions.ts";
import { measurePolygon, type Point } from "../measure/polygon.ts";
import { backProject } from "./camera.ts";
import { quadratic, type View } from "./fit-view.ts";

export interface Placed {
  /** Device coordinates, mm. */
  readonly at: Point;
  /** Standard uncertainty along x and y, mm. */
  readonly u: Point;
  /** Half width of the 95 % interval along x and y, mm. */
  readonly U: Point;
  /** How far the level moves it, compared with the plane of the marks, mm. */
  readonly displaced: number;
}

export interface OffPlane {
  /** mm below the back face. */
  readonly level: number;
  /** Standard uncertainty of the level; 0.1 mm where left out. */
  readonly levelU?: number;
  /** Standard uncertainty of a mark in pixels; the view's where left out. */
  readonly markU?: number;
}

/** Of a level that was measured or read off a section; setting of our own. */
export const LEVEL_U = 0.1;
const K95 = coverageFactor(0.95, Number.POSITIVE_INFINITY);

/** Where a pixel is on the device, on a level. @throws InputError for a pixel that does not show the level */
export function place(view: View, pixel: Point, off: OffPlane = { level: view.level }): Placed {
  const at = seen(view, pixel, off.level);
  const { toView, toLevel, toMark } = gradients(view, [pixel], off.level, ([point]) => point!);
  const markU = off.markU ?? view.handU;
  const u = [0, 1].map((axis) => {
    const own = Math.hypot(...toMark.map((column) => column[axis]!)) * markU;
    const level = toLevel[axis]! * (off.levelU ?? LEVEL_U);
    return Math.sqrt(
      quadratic(
        toView.map((column) => column[axis]!),
        view.covariance,
      ) +
        own ** 2 +
        level ** 2,
    );
  }) as unknown as Point;
  const plain = backProject(view.camera, pixel, view.level);
  return { at, u, U: [u[0] * K95, u[1] * K95], displaced: Math.hypot(at[0] - plain[0], at[1] - plain[1]) };
}

/** Where a point of the device would be seen. */
export { project as pixelOf } from "./camera.ts";

export interface OutlineMeasure {
  /** Device coordinates, mm: first ring outer, the others holes. */
  readonly outline: readonly (readonly Point[])[];
  /** mm2, mm. */
  readonly area: number;
  readonly areaU: number;
  readonly perimeter: number;
  readonly perimeterU: number;
  readonly centroid: Point;
  readonly centroidU: Point;
}

/** An outline traced on a level. @throws InputError where rings cross or a pixel does not show the level */
export function traceOutline(view: View, rings: readonly (readonly Point[])[], off: OffPlane): OutlineMeasure {
  const flat = rings.flat();
  const shaped = (points: readonly Point[]): Point[][] => {
    let next = 0;
    return rings.map((ring) => ring.map(() => points[next++]!));
  };
  const outline = shaped(flat.map((pixel) => seen(view, pixel, off.level)));
  const measured = measurePolygon(outline, {}, "outline");
  // Crossings were looked for once; here only the numbers change.
  const of = (points: readonly Point[]) => polygonNumbers(shaped(points));
  const { toView, toLevel, toMark } = gradients(view, flat, off.level, of);
  const markU = off.markU ?? view.handU;
  const u = [0, 1, 2, 3].map((k) => {
    const own = Math.hypot(...toMark.map((column) => column[k]!)) * markU;
    const level = toLevel[k]! * (off.levelU ?? LEVEL_U);
    return Math.sqrt(
      quadratic(
        toView.map((column) => column[k]!),
        view.covariance,
      ) +
        own ** 2 +
        level ** 2,
    );
  });
  return {
    outline,
    area: measured.area,
    areaU: u[0]!,
    perimeter: measured.perimeter,
    perimeterU: u[1]!,
    centroid: measured.centroid,
    centroidU: [u[2]!, u[3]!],
  };
}

function seen(view: View, pixel: Point, level: number): Point {
  const at = backProject(view.camera, pixel, level);
  if (at.every((value) => Number.isFinite(value) && Math.abs(value) < 1e5)) return at;
  throw new InputError({
    path: "at",
    found: `a pixel (${pixel.map(Math.round).join(", ")}) that shows no place of the device`,
    expected: "one on the device",
  });
}

/** How numbers made of positions move with the view's unknowns, with the level, and with each coordinate of each mark. */
function gradients(
  view: View,
  pixels: readonly Point[],
  level: number,
  of: (points: readonly Point[]) => readonly number[],
) {
  const points = (camera = view.camera, at = level) => pixels.map((pixel) => backProject(camera, pixel, at));
  const difference = (up: readonly number[], down: readonly number[], step: number) =>
    up.map((value, k) => (value - down[k]!) / (2 * step));
  const toView = view.steps.map((step, i) => {
    const by = new Array<number>(view.steps.length).fill(0);
    return difference(of(points(view.moved(by.with(i, step)))), of(points(view.moved(by.with(i, -step)))), step);
  });
  const toLevel = difference(of(points(view.camera, level + 0.01)), of(points(view.camera, level - 0.01)), 0.01);
  const plain = points();
  const toMark = pixels.flatMap((pixel, i) =>
    [0, 1].map((axis) => {
      const moved = (by: number) =>
        plain.with(
          i,
          backProject(view.camera, axis === 0 ? [pixel[0] + by, pixel[1]] : [pixel[0], pixel[1] + by], level),
        );
      return difference(of(moved(0.1)), of(moved(-0.1)), 0.1);
    }),
  );
  return { toView, toLevel, toMark };
}

/** Area, perimeter and centroid without looking for crossings. */
function polygonNumbers(rings: readonly (readonly Point[])[]): readonly [number, number, number, number] {
  let [area, perimeter, x, y] = [0, 0, 0, 0];
  rings.forEach((ring, place) => {
    let [twice, mx, my] = [0, 0, 0];
    const [ox, oy] = ring[0]!;
    ring.forEach((p, i) => {
      const q = ring[(i + 1) % ring.length]!;
      const cross = (p[0] - ox) * (q[1] - oy) - (p[1] - oy) * (q[0] - ox);
      twice += cross;
      mx += (p[0] + q[0] - 2 * ox) * cross;
      my += (p[1] + q[1] - 2 * oy) * cross;
      perimeter += Math.hypot(q[0] - p[0], q[1] - p[1]);
    });
    const sign = (place === 0 ? 1 : -1) * Math.sign(twice);
    area += (sign * twice) / 2;
    x += sign * (mx / 6 + (ox * twice) / 2);
    y += sign * (my / 6 + (oy * twice) / 2);
  });
  return [area, perimeter, x / area, y / area];
}
