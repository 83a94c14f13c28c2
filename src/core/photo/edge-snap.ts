/**
 * Marks on a straight edge, set roughly, brought onto the edge that the picture shows.
 *
 * Between the outermost marks profiles are taken across the edge, a few pixels wide along it; in each the steepest
 * rise and the steepest fall, to a fraction of a pixel by a parabola through three gradients (common practice, no
 * source). The straight line that most profiles agree with, over all pairs of them, decides which edge is meant; rise
 * and fall are tried apart, so that a seam beside the edge is not mixed with it. Each mark then moves, across the edge
 * alone, to a line fitted to the profiles near it, as lenses bend long edges.
 *
 * Never a guess: undefined where fewer than six of ten profiles agree. Cost: some 70 profiles, pairs of them.
 */
import type { GreyPicture } from "./card/components.ts";
import type { Point } from "./homography.ts";

export interface SnappedEdge {
  /** The marks in the order given, on the edge. */
  readonly at: readonly Point[];
  /** Share of the profiles that agree. */
  readonly agree: number;
  /** Root mean square of their places about the lines, pixels. */
  readonly rms: number;
}

const PROFILES = 72;
/** Pixels on either side of a profile that are taken together with it. */
const WIDE = 2;
/** Least step of grey from one pixel to the next that is an edge and not noise. */
const LEAST_STEP = 2.5;
const LEAST_AGREE = 0.6;
/** Share of the edge on either side of a mark that its line is fitted to. */
const NEAR = 0.16;

interface Step {
  /** From 0 to 1 along the edge. */
  readonly t: number;
  /** Pixels across it. */
  readonly s: number;
}

/**
 * @param marks two or more on one edge, pixels
 * @param reach how far beside the marks the edge is looked for, pixels
 */
export function snapEdge(picture: GreyPicture, marks: readonly Point[], reach: number): SnappedEdge | undefined {
  const ends = farthest(marks);
  if (ends === undefined) return undefined;
  const [p, q] = ends;
  const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
  if (length < 40 || reach < 2) return undefined;
  const along: Point = [(q[0] - p[0]) / length, (q[1] - p[1]) / length];
  const across: Point = [-along[1], along[0]];
  // Lenses bend an edge by up to a thousandth of its length from the straight line.
  const tolerance = 1 + length / 1000;
  const steps = { rise: [] as Step[], fall: [] as Step[] };
  for (let i = 0; i < PROFILES; i++) {
    const t = (i + 0.5) / PROFILES;
    const at: Point = [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
    const values = profile(picture, at, along, across, Math.ceil(reach) + 2);
    if (values === undefined) continue;
    for (const [kind, sign] of [["rise", 1] as const, ["fall", -1] as const]) {
      const s = steepest(values, sign);
      if (s !== undefined) steps[kind].push({ t, s });
    }
  }
  const [rise, fall] = [agreeing(steps.rise, tolerance), agreeing(steps.fall, tolerance)];
  const best = rise.length >= fall.length ? rise : fall;
  const agree = best.length / PROFILES;
  if (agree < LEAST_AGREE) return undefined;
  let squares = 0;
  let count = 0;
  const at: Point[] = [];
  for (const mark of marks) {
    const t = ((mark[0] - p[0]) * along[0] + (mark[1] - p[1]) * along[1]) / length;
    const line = lineNear(best, t);
    if (line === undefined) return undefined;
    squares += line.squares;
    count += line.count;
    at.push([p[0] + t * length * along[0] + line.s * across[0], p[1] + t * length * along[1] + line.s * across[1]]);
  }
  return { at, agree, rms: Math.sqrt(squares / count) };
}

function farthest(marks: readonly Point[]): readonly [Point, Point] | undefined {
  let best: readonly [Point, Point] | undefined;
  let far = 0;
  for (const a of marks)
    for (const b of marks) {
      const apart = Math.hypot(a[0] - b[0], a[1] - b[1]);
      if (apart > far) [best, far] = [[a, b], apart];
    }
  return best;
}

/** Grey at whole pixels across the edge, from -reach to reach; undefined where that leaves the picture. */
function profile(picture: GreyPicture, at: Point, along: Point, across: Point, reach: number): number[] | undefined {
  const { width, height, pixels } = picture;
  const out: number[] = [];
  for (let s = -reach; s <= reach; s++) {
    let sum = 0;
    for (let w = -WIDE; w <= WIDE; w++) {
      // Pixel i covers from i to i + 1, so its middle is at i + 0.5.
      const x = at[0] + s * across[0] + w * along[0] - 0.5;
      const y = at[1] + s * across[1] + w * along[1] - 0.5;
      const [i, j] = [Math.floor(x), Math.floor(y)];
      if (i < 0 || j < 0 || i + 1 >= width || j + 1 >= height) return undefined;
      const [fx, fy] = [x - i, y - j];
      const from = j * width + i;
      sum +=
        (pixels[from]! * (1 - fx) + pixels[from + 1]! * fx) * (1 - fy) +
        (pixels[from + width]! * (1 - fx) + pixels[from + width + 1]! * fx) * fy;
    }
    out.push(sum / (2 * WIDE + 1));
  }
  return out;
}

/** Where the profile rises (or falls) most, pixels from its middle. */
function steepest(values: readonly number[], sign: 1 | -1): number | undefined {
  const half = (values.length - 1) / 2;
  // Over two pixels on either side: blur is as wide as that, noise is not.
  const slope = (i: number) => (sign * (values[i + 2]! + values[i + 1]! - values[i - 1]! - values[i - 2]!)) / 6;
  let best = -1;
  let most = LEAST_STEP;
  for (let i = 3; i < values.length - 3; i++) {
    const here = slope(i);
    if (here > most) [best, most] = [i, here];
  }
  if (best < 0) return undefined;
  const [before, after] = [slope(best - 1), slope(best + 1)];
  const bend = before - 2 * most + after;
  const shift = bend < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / bend)) : 0;
  return best - half + shift;
}

/** Those that lie by the straight line that most lie by. */
function agreeing(steps: readonly Step[], tolerance: number): readonly Step[] {
  let best: readonly Step[] = [];
  for (let i = 0; i < steps.length; i++) {
    for (let j = i + 1; j < steps.length; j++) {
      const [a, b] = [steps[i]!, steps[j]!];
      if (b.t - a.t < 0.3) continue;
      const slope = (b.s - a.s) / (b.t - a.t);
      const near = steps.filter(({ t, s }) => Math.abs(a.s + slope * (t - a.t) - s) <= tolerance);
      if (near.length > best.length) best = near;
    }
  }
  return best;
}

/** The least-squares line of the steps near `t`, without those that stray, read off at `t`. */
function lineNear(steps: readonly Step[], t: number) {
  const byDistance = [...steps].sort((a, b) => Math.abs(a.t - t) - Math.abs(b.t - t));
  const within = byDistance.filter((one) => Math.abs(one.t - t) <= NEAR);
  let used = within.length >= 8 ? within : byDistance.slice(0, 8);
  if (used.length < 4) return undefined;
  let line = fitted(used);
  for (let round = 0; round < 2; round++) {
    const offs = used.map((one) => Math.abs(one.s - line(one.t)));
    const middle = [...offs].sort((a, b) => a - b)[Math.floor(offs.length / 2)]!;
    const kept = used.filter((_, i) => offs[i]! <= Math.max(0.3, 3 * 1.4826 * middle));
    if (kept.length < 4) break;
    used = kept;
    line = fitted(used);
  }
  const squares = used.reduce((sum, one) => sum + (one.s - line(one.t)) ** 2, 0);
  return { s: line(t), squares, count: used.length };
}

function fitted(steps: readonly Step[]): (t: number) => number {
  const n = steps.length;
  const [mt, ms] = [steps.reduce((sum, { t }) => sum + t, 0) / n, steps.reduce((sum, { s }) => sum + s, 0) / n];
  const tt = steps.reduce((sum, { t }) => sum + (t - mt) ** 2, 0);
  const ts = steps.reduce((sum, { t, s }) => sum + (t - mt) * (s - ms), 0);
  const slope = tt > 0 ? ts / tt : 0;
  return (t) => ms + slope * (t - mt);
}
