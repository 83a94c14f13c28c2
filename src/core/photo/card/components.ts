/** Dark pieces of a grey picture: shrunk, thresholded against their surroundings, taken together, and their hulls. */
import type { Point } from "../../measure/polygon.ts";

/** One byte a pixel, 0 black, rows from the top. */
export interface GreyPicture {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array | Uint8ClampedArray;
}

export interface Piece {
  readonly pixels: number;
  /** Convex hull, clockwise on the screen, in pixels of the shrunken picture. */
  readonly hull: readonly Point[];
}

/** Mean of blocks of `by` x `by` pixels. */
export function shrunk({ width, height, pixels }: GreyPicture, by: number): GreyPicture {
  if (by <= 1) return { width, height, pixels };
  const w = Math.floor(width / by);
  const h = Math.floor(height / by);
  const out = new Uint8Array(w * h);
  const sums = new Uint32Array(w);
  for (let y = 0; y < h; y++) {
    sums.fill(0);
    for (let dy = 0; dy < by; dy++) {
      let at = (y * by + dy) * width;
      for (let x = 0; x < w; x++) for (let dx = 0; dx < by; dx++) sums[x]! += pixels[at++]!;
    }
    for (let x = 0; x < w; x++) out[y * w + x] = sums[x]! / (by * by);
  }
  return { width: w, height: h, pixels: out };
}

/**
 * 1 where a pixel is clearly darker than the mean of a square of `2 reach + 1` pixels about it (Bradley & Roth 2007:
 * a running sum makes the mean independent of the square's size).
 */
export function darker({ width, height, pixels }: GreyPicture, reach: number, share: number): Uint8Array {
  const sums = new Float64Array((width + 1) * (height + 1));
  for (let y = 0; y < height; y++) {
    let row = 0;
    for (let x = 0; x < width; x++) {
      row += pixels[y * width + x]!;
      sums[(y + 1) * (width + 1) + x + 1] = sums[y * (width + 1) + x + 1]! + row;
    }
  }
  const out = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    const [top, bottom] = [Math.max(0, y - reach), Math.min(height, y + reach + 1)];
    for (let x = 0; x < width; x++) {
      const [left, right] = [Math.max(0, x - reach), Math.min(width, x + reach + 1)];
      const sum =
        sums[bottom * (width + 1) + right]! -
        sums[top * (width + 1) + right]! -
        sums[bottom * (width + 1) + left]! +
        sums[top * (width + 1) + left]!;
      if (pixels[y * width + x]! * (bottom - top) * (right - left) < share * sum) out[y * width + x] = 1;
    }
  }
  return out;
}

/** Pieces of dark pixels that hang together by their sides and are at least so wide or high. */
export function pieces(dark: Uint8Array, width: number, height: number, least: number): Piece[] {
  const seen = new Uint8Array(dark.length);
  const stack: number[] = [];
  const found: Piece[] = [];
  for (let start = 0; start < dark.length; start++) {
    if (!dark[start] || seen[start]) continue;
    const rows = new Map<number, [number, number]>();
    let count = 0;
    stack.push(start);
    seen[start] = 1;
    while (stack.length > 0) {
      const at = stack.pop()!;
      const x = at % width;
      const y = (at - x) / width;
      count++;
      const row = rows.get(y);
      if (row === undefined) rows.set(y, [x, x]);
      else if (x < row[0]) row[0] = x;
      else if (x > row[1]) row[1] = x;
      for (const next of [x > 0 ? at - 1 : -1, x < width - 1 ? at + 1 : -1, at - width, at + width]) {
        if (next >= 0 && next < dark.length && dark[next] && !seen[next]) {
          seen[next] = 1;
          stack.push(next);
        }
      }
    }
    const ys = [...rows.keys()];
    const top = Math.min(...ys);
    const bottom = Math.max(...ys);
    const left = Math.min(...[...rows.values()].map(([from]) => from));
    const right = Math.max(...[...rows.values()].map(([, to]) => to));
    // What touches the rim is cut off by it.
    if (top === 0 || left === 0 || bottom === height - 1 || right === width - 1) continue;
    if (Math.max(bottom - top, right - left) < least) continue;
    const rim = [...rows].flatMap(([y, [from, to]]): Point[] => [
      [from, y],
      [to + 1, y],
      [from, y + 1],
      [to + 1, y + 1],
    ]);
    found.push({ pixels: count, hull: convexHull(rim) });
  }
  return found;
}

/** Andrew's monotone chain. */
export function convexHull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly Point[]) => {
    const out: Point[] = [];
    for (const point of list) {
      while (out.length >= 2 && cross(out[out.length - 2]!, out[out.length - 1]!, point) <= 0) out.pop();
      out.push(point);
    }
    out.pop();
    return out;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

export const cross = (o: Point, a: Point, b: Point): number =>
  (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);

export function areaOf(ring: readonly Point[]): number {
  let twice = 0;
  ring.forEach((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    twice += p[0] * q[1] - p[1] * q[0];
  });
  return Math.abs(twice) / 2;
}
