/**
 * The map of one plane onto another by a perspective picture.
 *
 * Normalised direct linear transform: points are moved to their centroid and scaled to a mean distance of √2, then
 * A h = 0 is solved for the unit h with least |A h| (Hartley & Zisserman, Multiple View Geometry, 2nd ed., algorithm
 * 4.2; Hartley 1997 for why). h is the eigenvector of AᵀA's least eigenvalue, by Jacobi rotations of a 9 x 9 matrix.
 */
import { InputError } from "../errors.ts";
import type { Point } from "../measure/polygon.ts";

export type { Point };
/** Rows of a 3 x 3 matrix, up to a factor. */
export type Matrix3 = readonly [number, number, number, number, number, number, number, number, number];

export interface Pair {
  readonly from: Point;
  readonly to: Point;
}

/** Least share of the greatest triangle that three points of four must span, so as not to be called a line. */
const LINE = 0.01;

/**
 * The homography that takes each `from` to its `to`, least squares where there are more than four.
 *
 * @throws InputError with the reason: too few, three on a line, crossed
 */
export function homography(pairs: readonly Pair[]): Matrix3 {
  refuseBadSet(pairs);
  const a = normaliser(pairs.map((pair) => pair.from));
  const b = normaliser(pairs.map((pair) => pair.to));
  const square = Array.from({ length: 9 }, () => new Array<number>(9).fill(0));
  for (const { from, to } of pairs) {
    const [x, y] = [a.scale * (from[0] - a.x), a.scale * (from[1] - a.y)];
    const [u, v] = [b.scale * (to[0] - b.x), b.scale * (to[1] - b.y)];
    for (const row of [
      [0, 0, 0, -x, -y, -1, v * x, v * y, v],
      [x, y, 1, 0, 0, 0, -u * x, -u * y, -u],
    ]) {
      for (let i = 0; i < 9; i++) for (let j = 0; j < 9; j++) square[i]![j]! += row[i]! * row[j]!;
    }
  }
  const { values, vectors } = symmetricEigen(square);
  const order = values.map((_, i) => i).sort((i, j) => values[i]! - values[j]!);
  if (values[order[1]!]! < 1e-10 * values[order[8]!]!) {
    throw badSet("points that do not fix a perspective", "at least four, no three of them on one line");
  }
  const h = vectors.map((row) => row[order[0]!]!) as unknown as Matrix3;
  const inner: Matrix3 = [a.scale, 0, -a.scale * a.x, 0, a.scale, -a.scale * a.y, 0, 0, 1];
  const outer: Matrix3 = [1 / b.scale, 0, b.x, 0, 1 / b.scale, b.y, 0, 0, 1];
  const whole = multiply(outer, multiply(h, inner));
  const size = Math.hypot(...whole) * (sideOf(whole, pairs[0]!.from) < 0 ? -1 : 1);
  return whole.map((value) => value / size) as unknown as Matrix3;
}

/** Where a point goes. NaN for one on the line that goes to infinity. */
export function applyHomography(h: Matrix3, [x, y]: Point): Point {
  const w = sideOf(h, [x, y]);
  return w === 0 ? [Number.NaN, Number.NaN] : [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w];
}

/** @throws RangeError for one that is singular */
export function inverseHomography(h: Matrix3): Matrix3 {
  const [a, b, c, d, e, f, g, i, j] = h;
  const [A, D, G] = [e * j - f * i, f * g - d * j, d * i - e * g];
  const det = a * A + b * D + c * G;
  if (det === 0 || !Number.isFinite(det)) throw new RangeError("a homography without inverse");
  const all = [A, c * i - b * j, b * f - c * e, D, a * j - c * g, c * d - a * f, G, b * g - a * i, a * e - b * d];
  return all.map((value) => value / det) as unknown as Matrix3;
}

export function multiply(p: Matrix3, q: Matrix3): Matrix3 {
  const out: number[] = [];
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) out.push(p[3 * i]! * q[j]! + p[3 * i + 1]! * q[3 + j]! + p[3 * i + 2]! * q[6 + j]!);
  }
  return out as unknown as Matrix3;
}

/** Below zero for a map that turns the plane over, as a picture with y downwards does to a drawing with y upwards. */
export function turnsOver(pairs: readonly Pair[]): boolean {
  let sum = 0;
  for (let i = 2; i < pairs.length; i++) {
    const [p, q, r] = [pairs[0]!, pairs[i - 1]!, pairs[i]!];
    sum += Math.sign(area2(p.from, q.from, r.from)) * area2(p.to, q.to, r.to);
  }
  return sum < 0;
}

/** The point in which two lines meet, each through two points; undefined where they run side by side. */
export function intersection(a: readonly [Point, Point], b: readonly [Point, Point]): Point | undefined {
  const [p, r] = [a[0], [a[1][0] - a[0][0], a[1][1] - a[0][1]] as const];
  const s = [b[1][0] - b[0][0], b[1][1] - b[0][1]] as const;
  const cross = r[0] * s[1] - r[1] * s[0];
  if (Math.abs(cross) < 1e-6 * Math.hypot(...r) * Math.hypot(...s)) return undefined;
  const t = ((b[0][0] - p[0]) * s[1] - (b[0][1] - p[1]) * s[0]) / cross;
  return [p[0] + t * r[0], p[1] + t * r[1]];
}

const sideOf = (h: Matrix3, [x, y]: Point): number => h[6] * x + h[7] * y + h[8];

/** Twice the area of a triangle, above zero anticlockwise where y goes up. */
const area2 = (p: Point, q: Point, r: Point): number => (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);

/**
 * A perspective picture of points in front of the camera keeps the sense of every triangle, or turns every one over;
 * one that does neither comes from marks given to the wrong points.
 */
function refuseBadSet(pairs: readonly Pair[]): void {
  if (pairs.length < 4) throw badSet(`${pairs.length} points`, "at least four, no three of them on one line");
  const some = pairs.length > 14 ? pairs.filter((_, i) => i % Math.ceil(pairs.length / 14) === 0) : pairs;
  const triangles: (readonly [number, number])[] = [];
  for (let i = 0; i < some.length; i++) {
    for (let j = i + 1; j < some.length; j++) {
      for (let k = j + 1; k < some.length; k++) {
        const [p, q, r] = [some[i]!, some[j]!, some[k]!];
        triangles.push([area2(p.from, q.from, r.from), area2(p.to, q.to, r.to)]);
      }
    }
  }
  const most = Math.max(...triangles.map(([before]) => Math.abs(before)));
  const widest = Math.max(...triangles.map(([, after]) => Math.abs(after)));
  const flat = ([before, after]: readonly [number, number]) =>
    Math.abs(before) < LINE * most || Math.abs(after) < LINE * widest;
  const solid = triangles.filter((triangle) => !flat(triangle));
  if (solid.length === 0 || (pairs.length === 4 && solid.length < 4)) {
    throw badSet("three points on one line", "four points of which no three lie on one line");
  }
  const kept = solid.filter(([before, after]) => before > 0 === after > 0).length;
  if (kept !== 0 && kept !== solid.length) {
    throw badSet("marks that cross over", "each mark at its own point, in the same order round");
  }
}

const badSet = (found: string, expected: string): InputError => new InputError({ path: "marks", found, expected });

function normaliser(points: readonly Point[]): { x: number; y: number; scale: number } {
  const x = points.reduce((sum, point) => sum + point[0], 0) / points.length;
  const y = points.reduce((sum, point) => sum + point[1], 0) / points.length;
  const mean = points.reduce((sum, point) => sum + Math.hypot(point[0] - x, point[1] - y), 0) / points.length;
  return { x, y, scale: Math.SQRT2 / mean };
}

/** Eigenvalues and vectors (columns) of a symmetric matrix, by cyclic Jacobi rotations (Golub & Van Loan, 8.5). */
export function symmetricEigen(matrix: readonly (readonly number[])[]): { values: number[]; vectors: number[][] } {
  const n = matrix.length;
  const a = matrix.map((row) => [...row]);
  const v = a.map((_, i): number[] => a.map((__, j) => (i === j ? 1 : 0)));
  for (let sweep = 0; sweep < 60; sweep++) {
    let off = 0;
    let all = 0;
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) {
        all += a[i]![j]! ** 2;
        if (i !== j) off += a[i]![j]! ** 2;
      }
    if (off <= 1e-32 * all) break;
    for (let p = 0; p < n; p++) {
      for (let q = p + 1; q < n; q++) {
        if (a[p]![q] === 0) continue;
        const theta = (a[q]![q]! - a[p]![p]!) / (2 * a[p]![q]!);
        const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.hypot(theta, 1));
        const c = 1 / Math.hypot(t, 1);
        const s = t * c;
        for (let k = 0; k < n; k++) {
          const [x, y] = [a[k]![p]!, a[k]![q]!];
          a[k]![p] = c * x - s * y;
          a[k]![q] = s * x + c * y;
        }
        for (let k = 0; k < n; k++) {
          const [x, y] = [a[p]![k]!, a[q]![k]!];
          a[p]![k] = c * x - s * y;
          a[q]![k] = s * x + c * y;
          const [w, z] = [v[k]![p]!, v[k]![q]!];
          v[k]![p] = c * w - s * z;
          v[k]![q] = s * w + c * z;
        }
      }
    }
  }
  return { values: a.map((row, i) => row[i]!), vectors: v };
}
