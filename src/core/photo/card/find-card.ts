/**
 * Finds the scale card in a grey picture and measures its spots.
 *
 * 1. Shrink to some 1400 pixels; dark pieces; those whose hull is a four-sided frame are candidates.
 * 2. For each way round: a homography from the frame's corners, then every spot must be dark where spots are dark and
 *    its middle light or dark as the pattern says; at most one may be hidden. A chance hit has odds of 1 to 10 million.
 * 3. In the full picture each spot's centre of darkness, corrected for a circle's centre not being its image's centre;
 *    a homography through them; spots that stray from it are left out, and with more than four strays so is the card.
 *
 * Cost: linear in the pixels, some 0.2 s for 12 megapixels. Never a guess: undefined where any of it fails.
 */
import type { Point } from "../../measure/polygon.ts";
import { applyHomography, homography, intersection, type Matrix3 } from "../homography.ts";
import type { PointMark } from "../marks.ts";
import { areaOf, cross, darker, type GreyPicture, type Piece, pieces, shrunk } from "./components.ts";
import { CARD, FRAME, SPOTS } from "./design.ts";

export interface FoundCard {
  /** Spots with their pixel in the picture and their place on the card, mm. */
  readonly points: readonly PointMark[];
  /** Root mean square of the spots about the homography, pixels. */
  readonly rms: number;
  /** Corners of the frame in the picture. */
  readonly frame: readonly Point[];
}

const SEARCHED = 1400;
const LEAST_SPOTS = 20;

export function findCard(picture: GreyPicture): FoundCard | undefined {
  const by = Math.max(1, Math.ceil(Math.max(picture.width, picture.height) / SEARCHED));
  const small = shrunk(picture, by);
  const longest = Math.max(small.width, small.height);
  // Once against wide surroundings, once against narrow ones: shadows and small cards want the latter.
  for (const reach of [Math.round(longest / 14), Math.round(longest / 40)]) {
    const dark = darker(small, reach, 0.82);
    const candidates = pieces(dark, small.width, small.height, longest / 14)
      .map((piece) => ({ piece, corners: fourCorners(piece) }))
      .filter(({ corners }) => corners !== undefined)
      .sort((a, b) => b.piece.pixels - a.piece.pixels)
      .slice(0, 40);
    for (const { corners } of candidates) {
      const found = readFrame(
        picture,
        corners!.map(([x, y]): Point => [x * by, y * by]),
      );
      if (found !== undefined) return found;
    }
  }
  return undefined;
}

/** Corners of a piece that is a frame: its hull is four-sided and mostly empty. Clockwise on the screen. */
function fourCorners({ pixels, hull }: Piece): readonly Point[] | undefined {
  const whole = areaOf(hull);
  // The band is 0.22 of the frame; threshold, blur and perspective move it.
  if (pixels < 0.08 * whole || pixels > 0.5 * whole || hull.length < 4) return undefined;
  let ring = [...hull];
  while (ring.length > 4) {
    let best: { at: number; corner: Point; more: number } | undefined;
    for (let i = 0; i < ring.length; i++) {
      const [a, b, c, d] = [0, 1, 2, 3].map((k) => ring[(i + k) % ring.length]!) as [Point, Point, Point, Point];
      const corner = intersection([a, b], [d, c]);
      // The neighbours of a side must meet beyond it.
      if (corner === undefined || cross(b, c, corner) * cross(b, c, a) >= 0) continue;
      const more = Math.abs(cross(b, c, corner)) / 2;
      if (best === undefined || more < best.more) best = { at: i, corner, more };
    }
    if (best === undefined) return undefined;
    const { at, corner } = best;
    const gone = new Set([(at + 1) % ring.length, (at + 2) % ring.length]);
    const first = (at + 1) % ring.length;
    ring = ring.flatMap((point, i) => (i === first ? [corner] : gone.has(i) ? [] : [point]));
  }
  if (ring.length !== 4 || areaOf(ring) > 1.12 * whole) return undefined;
  const sides = ring.map((p, i) => Math.hypot(p[0] - ring[(i + 1) % 4]![0], p[1] - ring[(i + 1) % 4]![1]));
  if (Math.min(...sides) < 0.2 * Math.max(...sides)) return undefined;
  // Clockwise on the screen, as the frame's own corners are.
  return cross(ring[0]!, ring[1]!, ring[2]!) > 0 ? ring : ring.reverse();
}

function readFrame(picture: GreyPicture, corners: readonly Point[]): FoundCard | undefined {
  for (let turn = 0; turn < 4; turn++) {
    const h = tried(FRAME.map((from, i) => ({ from, to: corners[(i + turn) % 4]! })));
    if (h === undefined || !readsRight(picture, h)) continue;
    return measured(picture, h);
  }
  return undefined;
}

function tried(pairs: readonly { from: Point; to: Point }[]): Matrix3 | undefined {
  try {
    return homography(pairs);
  } catch {
    return undefined;
  }
}

/** Grey value between pixels; NaN outside. */
function grey({ width, height, pixels }: GreyPicture, x: number, y: number): number {
  const i = Math.floor(x - 0.5);
  const j = Math.floor(y - 0.5);
  if (!(i >= 0 && j >= 0 && i < width - 1 && j < height - 1)) return Number.NaN;
  const [fx, fy] = [x - 0.5 - i, y - 0.5 - j];
  const at = j * width + i;
  const top = pixels[at]! * (1 - fx) + pixels[at + 1]! * fx;
  return top * (1 - fy) + (pixels[at + width]! * (1 - fx) + pixels[at + width + 1]! * fx) * fy;
}

const ROUND: readonly Point[] = [0, 1, 2, 3, 4, 5, 6, 7].map(
  (i): Point => [Math.cos((i * Math.PI) / 4), Math.sin((i * Math.PI) / 4)],
);

/** Mean along a circle on the card. */
function meanRound(picture: GreyPicture, h: Matrix3, [cx, cy]: Point, radius: number): number {
  let sum = 0;
  for (const [c, s] of ROUND) {
    const [x, y] = applyHomography(h, [cx + radius * c, cy + radius * s]);
    sum += grey(picture, x, y);
  }
  return sum / ROUND.length;
}

function readsRight(picture: GreyPicture, h: Matrix3): boolean {
  let wrong = 0;
  for (const { at, hollow } of SPOTS) {
    const light = meanRound(picture, h, at, (CARD.radius + CARD.pitch / 2) / 2 + 0.4);
    const ink = meanRound(picture, h, at, (CARD.radius + CARD.hollow) / 2);
    const middle = meanRound(picture, h, at, 0.4);
    const contrast = light - ink;
    const filled = contrast > 0.15 * light && contrast > 12;
    const right = filled && (hollow ? middle > ink + 0.4 * contrast : middle < ink + 0.3 * contrast);
    if (!right && ++wrong > 1) return false;
  }
  return true;
}

/** Spots measured in the full picture. */
function measured(picture: GreyPicture, start: Matrix3): FoundCard | undefined {
  let h = start;
  let kept: PointMark[] = [];
  let rms = 0;
  for (let round = 0; round < 2; round++) {
    const marks: PointMark[] = [];
    for (const { at } of SPOTS) {
      const centre = darkCentre(picture, h, at);
      if (centre !== undefined) marks.push({ at: centre, is: at });
    }
    kept = marks;
    for (let rejected = 0; ; rejected++) {
      if (kept.length < LEAST_SPOTS || rejected > 4) return undefined;
      const next = tried(kept.map(({ at, is }) => ({ from: is, to: at })));
      if (next === undefined) return undefined;
      h = next;
      const off = kept.map(({ at, is }) => {
        const [x, y] = applyHomography(h, is);
        return Math.hypot(x - at[0], y - at[1]);
      });
      rms = Math.sqrt(off.reduce((sum, value) => sum + value * value, 0) / off.length);
      const worst = Math.max(...off);
      // The lens bends a little more than noise moves: 3 % of the pitch is far below a neighbouring spot.
      const limit = 0.03 * pitchAt(h);
      if (worst <= limit) break;
      kept = kept.filter((_, i) => off[i] !== worst);
    }
  }
  return { points: kept, rms, frame: FRAME.map((corner) => applyHomography(h, corner)) };
}

function pitchAt(h: Matrix3): number {
  const [a, b] = [applyHomography(h, [36, 24]), applyHomography(h, [48, 24])];
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** Pixel of a spot's centre: mean place of its darkness, less what perspective moves the image of a circle. */
function darkCentre(picture: GreyPicture, h: Matrix3, at: Point): Point | undefined {
  const out = CARD.radius + 1.2;
  const rim = ROUND.map(([c, s]) => applyHomography(h, [at[0] + out * c, at[1] + out * s]));
  const light = meanRound(picture, h, at, out);
  const ink = meanRound(picture, h, at, (CARD.radius + CARD.hollow) / 2);
  if (!(light - ink > 10)) return undefined;
  const xs = rim.map((point) => point[0]);
  const ys = rim.map((point) => point[1]);
  const [x0, x1] = [Math.floor(Math.min(...xs)), Math.ceil(Math.max(...xs))];
  const [y0, y1] = [Math.floor(Math.min(...ys)), Math.ceil(Math.max(...ys))];
  if (x0 < 1 || y0 < 1 || x1 >= picture.width - 1 || y1 >= picture.height - 1) return undefined;
  const [cx, cy] = applyHomography(h, at);
  let [sum, sx, sy] = [0, 0, 0];
  for (let y = y0; y <= y1; y++) {
    for (let x = x0; x <= x1; x++) {
      if (!inside(rim, x + 0.5, y + 0.5)) continue;
      // Noise of the paper counts for nothing, the ink in full.
      const share = (light - picture.pixels[y * picture.width + x]!) / (light - ink);
      const weight = Math.max(0, Math.min(1, (share - 0.2) / 0.6));
      sum += weight;
      sx += weight * (x + 0.5);
      sy += weight * (y + 0.5);
    }
  }
  if (sum < 12) return undefined;
  const circle = Array.from({ length: 24 }, (_, i): Point => {
    const angle = (i * Math.PI) / 12;
    return applyHomography(h, [at[0] + CARD.radius * Math.cos(angle), at[1] + CARD.radius * Math.sin(angle)]);
  });
  const [mx, my] = centroidOf(circle);
  return [sx / sum - (mx - cx), sy / sum - (my - cy)];
}

function inside(ring: readonly Point[], x: number, y: number): boolean {
  const sign = Math.sign(cross(ring[0]!, ring[1]!, ring[2]!));
  return ring.every((p, i) => sign * cross(p, ring[(i + 1) % ring.length]!, [x, y]) >= 0);
}

function centroidOf(ring: readonly Point[]): Point {
  let [twice, x, y] = [0, 0, 0];
  const o = ring[0]!;
  ring.forEach((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    const c = cross(o, p, q);
    twice += c;
    x += ((p[0] + q[0] - 2 * o[0]) * c) / 3;
    y += ((p[1] + q[1] - 2 * o[1]) * c) / 3;
  });
  return [o[0] + x / twice, o[1] + y / twice];
}
