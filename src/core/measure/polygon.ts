/**
 * Area, perimeter and centroid of an outline, with the uncertainty of the area.
 *
 * Shoelace formula about the first corner (so that large coordinates do not cancel). Independent corner error σ per axis:
 * u_A = (σ/2)·√Σ[(xᵢ₊₁ - xᵢ₋₁)² + (yᵢ₊₁ - yᵢ₋₁)²]; a scale error s adds 2·A·u_s; an offset ε of the whole outline adds
 * perimeter·ε. Crossing edges are found by comparing edges in order of x: n² at worst, n log n for ordinary outlines.
 */
import { InputError } from "../errors.ts";

export type Point = readonly [number, number];

export interface PolygonMeasure {
  readonly area: number;
  /** Above zero where the outer ring runs anticlockwise. */
  readonly signed: number;
  /** Of all rings. */
  readonly perimeter: number;
  readonly centroid: Point;
  readonly u: number;
}

export interface PolygonErrors {
  /** Standard uncertainty of a corner along each axis. */
  readonly u?: number;
  /** Relative standard uncertainty of the scale (a photograph's). */
  readonly scaleU?: number;
  /** Standard uncertainty of the outline as a whole, inwards or outwards. */
  readonly offsetU?: number;
}

/** First ring outer, the others holes. @throws InputError naming the ring and the edges that cross. */
export function measurePolygon(
  rings: readonly (readonly Point[])[],
  errors: PolygonErrors = {},
  path = "points",
): PolygonMeasure {
  const { u = 0, scaleU = 0, offsetU = 0 } = errors;
  for (const [key, value] of [
    ["u", u],
    ["scaleU", scaleU],
    ["offsetU", offsetU],
  ] as const) {
    if (!(value >= 0))
      throw new InputError({ path: key, found: String(value), expected: "a standard uncertainty of 0 or more" });
  }
  const clean = rings.map((ring, i) => openRing(ring, rings.length === 1 ? path : `${path}[${i}]`));
  const each = clean.map((ring, i) => ringMeasure(ring, rings.length === 1 ? path : `${path}[${i}]`));
  let area = 0;
  let x = 0;
  let y = 0;
  let perimeter = 0;
  let corners = 0;
  each.forEach((m, i) => {
    const sign = i === 0 ? 1 : -1;
    area += sign * Math.abs(m.signed);
    x += sign * Math.abs(m.signed) * m.centroid[0];
    y += sign * Math.abs(m.signed) * m.centroid[1];
    perimeter += m.perimeter;
    corners += m.corners;
  });
  for (let i = 1; i < clean.length; i++) {
    const at = `${path}[${i}]`;
    if (!clean[i]!.every((p) => inRing(p, clean[0]!))) {
      throw new InputError({
        path: at,
        found: "a hole that leaves the outer ring",
        expected: "holes inside the outline",
      });
    }
  }
  if (!(area > 0)) {
    throw new InputError({ path, found: `an area of ${area}`, expected: "an outline larger than its holes" });
  }
  return {
    area,
    signed: Math.sign(each[0]!.signed) * area,
    perimeter,
    centroid: [x / area, y / area],
    u: Math.hypot((u / 2) * Math.sqrt(corners), 2 * area * scaleU, perimeter * offsetU),
  };
}

/** The ring without a repeated closing point. */
function openRing(ring: readonly Point[], path: string): readonly Point[] {
  const bad = ring.findIndex((p) => !(Number.isFinite(p[0]) && Number.isFinite(p[1])));
  if (bad >= 0)
    throw new InputError({ path: `${path}[${bad}]`, found: String(ring[bad]), expected: "two finite numbers" });
  const first = ring[0];
  const last = ring.at(-1);
  const open = ring.length > 3 && first![0] === last![0] && first![1] === last![1] ? ring.slice(0, -1) : ring;
  if (open.length < 3)
    throw new InputError({ path, found: `${open.length} points`, expected: "at least three corners" });
  return open;
}

function ringMeasure(
  ring: readonly Point[],
  path: string,
): { signed: number; perimeter: number; centroid: Point; corners: number } {
  checkSimple(ring, path);
  const n = ring.length;
  const [ox, oy] = ring[0]!;
  let twice = 0;
  let cx = 0;
  let cy = 0;
  let perimeter = 0;
  let corners = 0;
  for (let i = 0; i < n; i++) {
    const [px, py] = ring[i]!;
    const [qx, qy] = ring[(i + 1) % n]!;
    const [rx, ry] = ring[(i + n - 1) % n]!;
    const cross = (px - ox) * (qy - oy) - (qx - ox) * (py - oy);
    twice += cross;
    cx += (px - ox + qx - ox) * cross;
    cy += (py - oy + qy - oy) * cross;
    perimeter += Math.hypot(qx - px, qy - py);
    corners += (qx - rx) ** 2 + (qy - ry) ** 2;
  }
  if (Math.abs(twice) <= 1e-12 * perimeter * perimeter) {
    throw new InputError({ path, found: "corners on one line", expected: "an outline that encloses an area" });
  }
  return { signed: twice / 2, perimeter, centroid: [ox + cx / (3 * twice), oy + cy / (3 * twice)], corners };
}

/** Is the point inside the outline and in none of its holes? Points on the edge of the outer ring count as inside. */
export function containsPoint(rings: readonly (readonly Point[])[], point: Point): boolean {
  const [outer, ...holes] = rings;
  return (
    outer !== undefined && inRing(point, outer) && !holes.some((hole) => inRing(point, hole) && !onRing(point, hole))
  );
}

function inRing(point: Point, ring: readonly Point[]): boolean {
  if (onRing(point, ring)) return true;
  const [x, y] = point;
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i]!;
    const [xj, yj] = ring[j]!;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

function onRing(point: Point, ring: readonly Point[]): boolean {
  return ring.some((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    return turn(a, b, point) === 0 && between(a, b, point);
  });
}

function turn(a: Point, b: Point, c: Point): number {
  const value = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
  // A point nearer to the line than 1e-12 of the edges' length lies on it.
  const scale = Math.hypot(b[0] - a[0], b[1] - a[1]) * Math.max(Math.hypot(c[0] - a[0], c[1] - a[1]), 1e-300);
  return Math.abs(value) <= 1e-12 * scale ? 0 : Math.sign(value);
}

function between(a: Point, b: Point, p: Point): boolean {
  return (
    Math.min(a[0], b[0]) <= p[0] &&
    p[0] <= Math.max(a[0], b[0]) &&
    Math.min(a[1], b[1]) <= p[1] &&
    p[1] <= Math.max(a[1], b[1])
  );
}

function meet(a: Point, b: Point, c: Point, d: Point): boolean {
  const t1 = turn(a, b, c);
  const t2 = turn(a, b, d);
  const t3 = turn(c, d, a);
  const t4 = turn(c, d, b);
  if (t1 !== t2 && t3 !== t4 && t1 * t2 <= 0 && t3 * t4 <= 0 && (t1 !== 0 || t2 !== 0)) return true;
  return (
    (t1 === 0 && between(a, b, c)) ||
    (t2 === 0 && between(a, b, d)) ||
    (t3 === 0 && between(c, d, a)) ||
    (t4 === 0 && between(c, d, b))
  );
}

/** A simple outline: no edge of zero length, no fold back, no two edges that meet except neighbours at their corner. */
function checkSimple(ring: readonly Point[], path: string): void {
  const n = ring.length;
  const edge = (i: number) => [ring[i]!, ring[(i + 1) % n]!] as const;
  const name = (i: number) =>
    `edge ${i + 1} (${edge(i)
      .map((p) => `[${p.join(", ")}]`)
      .join(" to ")})`;
  const fail = (found: string) => {
    throw new InputError({ path, found, expected: "an outline that does not cross or touch itself" });
  };
  for (let i = 0; i < n; i++) {
    const [a, b] = edge(i);
    if (a[0] === b[0] && a[1] === b[1]) fail(`the corner [${a.join(", ")}] twice in a row`);
    const c = ring[(i + 2) % n]!;
    const folded = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]) < 0;
    if (turn(a, b, c) === 0 && folded) fail(`an outline that runs back on itself at [${b.join(", ")}]`);
  }
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => low(edge(i)) - low(edge(j)));
  for (let p = 0; p < n; p++) {
    const i = order[p]!;
    const [a, b] = edge(i);
    const end = Math.max(a[0], b[0]);
    for (let q = p + 1; q < n; q++) {
      const j = order[q]!;
      const [c, d] = edge(j);
      if (low([c, d]) > end) break;
      if ((i + 1) % n === j || (j + 1) % n === i) continue;
      if (meet(a, b, c, d)) fail(`${name(Math.min(i, j))} crossing ${name(Math.max(i, j))}`);
    }
  }
}

function low(edge: readonly [Point, Point]): number {
  return Math.min(edge[0][0], edge[1][0]);
}
