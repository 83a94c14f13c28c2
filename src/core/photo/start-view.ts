/**
 * Marks judged, and a first camera from them: corners or card to a homography, the homography taken apart. What is refused
 * here is refused in words; what comes out only has to be near enough for least squares (fit-view.ts) to end at the best.
 */
import { InputError } from "../errors.ts";
import type { Point } from "../measure/polygon.ts";
import { type Camera, halfDiagonal, type Rotation } from "./camera.ts";
import { applyHomography, homography, intersection, type Matrix3, type Pair, turnsOver } from "./homography.ts";
import { type EdgeMark, edgeLine, type PhotoMarks } from "./marks.ts";

export interface Lined {
  readonly of: string;
  readonly at: readonly Point[];
  readonly line: readonly [Point, Point];
}

export const refused = (found: string, expected: string): InputError =>
  new InputError({ path: "marks", found, expected });

export function checked(marks: PhotoMarks): readonly Lined[] {
  const { size, edges = [], points = [], card, body } = marks;
  if (!size.every((side) => Number.isInteger(side) && side >= 100)) {
    throw refused(`a picture of ${size.join(" x ")} pixels`, "at least 100 x 100");
  }
  const all = [
    ...edges.flatMap((edge) => edge.at),
    ...points.map((one) => one.at),
    ...(card?.points ?? []).map((one) => one.at),
  ];
  for (const at of all) {
    if (!at.every(Number.isFinite)) throw refused(`a mark at ${at.join(", ")}`, "two finite numbers of pixels");
    if (at.some((value, axis) => value < -0.5 * size[axis]! || value > 1.5 * size[axis]!)) {
      throw refused(
        `a mark at ${at.map(Math.round).join(", ")}`,
        `a place in the picture of ${size.join(" x ")} pixels`,
      );
    }
  }
  if (edges.length > 0 && (body === undefined || !(body[1] > body[0]) || !(body[3] > body[2]))) {
    throw refused("edges of a body without a size", "its width and height: measure them, or draw its outline first");
  }
  return edges.map((edge) => lined(edge, marks));
}

function lined({ edge, at }: EdgeMark, { size, body }: PhotoMarks): Lined {
  if (at.length < 2) throw refused(`one mark on the ${edge} edge`, "two, near the ends of its straight stretch");
  const apart = Math.max(...at.flatMap((p) => at.map((q) => Math.hypot(p[0] - q[0], p[1] - q[1]))));
  if (apart < 0.05 * Math.min(...size)) {
    throw refused(
      `marks ${Math.round(apart)} pixels apart on the ${edge} edge`,
      "two that lie far apart, near the ends of its straight stretch",
    );
  }
  return { of: `${edge} edge`, at, line: edgeLine(edge, body!) };
}

/** Start values for several focal lengths: one of them leads to the least sum of squares. */
export function startCameras(marks: PhotoMarks, edges: readonly Lined[]): Start[] {
  const { size, points = [], card, seen } = marks;
  const corners = cornerPairs(edges);
  // Four corners are one plane; known points may lie on others, and stand in where corners are missing.
  const own: Pair[] =
    corners.length >= 4 ? corners : [...points.map(({ at, is }) => ({ from: is, to: at })), ...corners];
  const focals = marks.focal === undefined ? [1.9, 1.2, 3.2, 0.8] : [marks.focal / FILM];
  const wrongWay = (pairs: readonly Pair[]) => {
    // From the back a drawing with y upwards is turned over once by y; from the display x turns it back.
    if (turnsOver(pairs) === (seen === "back")) return;
    throw refused(
      "marks in mirrored order",
      seen === "back"
        ? "the order seen from the back (or say that the photograph looks at the display side)"
        : "the order seen from the display (or say that the photograph looks at the back)",
    );
  };
  if (card === undefined) {
    const h = homography(own);
    wrongWay(own);
    return focals.flatMap((focal) => {
      const camera = takenApart(h, size, focal, marks.level);
      return camera === undefined ? [] : [{ camera, pose: [0, 0, 0] as const }];
    });
  }
  const pairs = card.points.map(({ at, is }): Pair => ({ from: is, to: at }));
  const h = homography(pairs);
  if (turnsOver(pairs)) throw refused("marks of the card in mirrored order", "the card's printed face");
  const pose = cardPose(h, marks, edges);
  const sign = seen === "back" ? 1 : -1;
  return focals.flatMap((focal) => {
    // Four points of the card, placed in device coordinates by the pose, give the homography of the device.
    const spread: readonly Point[] = [
      [0, 0],
      [100, 0],
      [100, 100],
      [0, 100],
    ];
    const device = homography(spread.map((is) => ({ from: onDevice(is, pose, sign, 1), to: applyHomography(h, is) })));
    const camera = takenApart(device, size, focal, card.level);
    return camera === undefined ? [] : [{ camera, pose }];
  });
}

export interface Start {
  readonly camera: Camera;
  readonly pose: readonly [number, number, number];
}

/** Half the diagonal of a 36 x 24 mm frame. */
export const FILM = Math.hypot(36, 24) / 2;

function cornerPairs(edges: readonly Lined[]): Pair[] {
  const pairs: Pair[] = [];
  edges.forEach((a, i) => {
    for (const b of edges.slice(i + 1)) {
      const from = intersection(a.line, b.line);
      const to = intersection(farthest(a.at), farthest(b.at));
      if (from !== undefined && to !== undefined) pairs.push({ from, to });
    }
  });
  return pairs;
}

function farthest(at: readonly Point[]): readonly [Point, Point] {
  let best: readonly [Point, Point] = [at[0]!, at[1]!];
  for (const p of at)
    for (const q of at)
      if (Math.hypot(p[0] - q[0], p[1] - q[1]) > Math.hypot(best[0][0] - best[1][0], best[0][1] - best[1][1]))
        best = [p, q];
  return best;
}

/** A card's point (x to the right, y down, printed face up) in device coordinates. */
export function onDevice([a, b]: Point, [angle, x, y]: readonly number[], sign: number, stretch: number): Point {
  const [c, s] = [Math.cos(angle!), Math.sin(angle!)];
  return [sign * (x! + stretch * (c * a - s * b)), -(y! + stretch * (s * a + c * b))];
}

/** Where the card lies on the device: from two points, or two edges that meet, seen through the card's homography. */
function cardPose(
  h: Matrix3,
  { points = [], seen }: PhotoMarks,
  edges: readonly Lined[],
): readonly [number, number, number] {
  const back = homography(
    [
      [0, 0],
      [100, 0],
      [100, 100],
      [0, 100],
    ].map((is) => ({ from: applyHomography(h, is as unknown as Point), to: is as unknown as Point })),
  );
  const sign = seen === "back" ? 1 : -1;
  const seenAt = (at: Point) => applyHomography(back, at);
  const pairs: { card: Point; view: Point; weight: number }[] = [];
  const toView = ([x, y]: Point): Point => [sign * x, -y];
  for (const { at, is } of points) pairs.push({ card: seenAt(at), view: toView(is), weight: 1 });
  for (const { from, to } of cornerPairs(edges)) pairs.push({ card: seenAt(to), view: toView(from), weight: 1 });
  let angle: number | undefined;
  if (pairs.length >= 2) {
    const mean = (pick: (pair: (typeof pairs)[number]) => Point): Point => [
      pairs.reduce((sum, pair) => sum + pick(pair)[0], 0) / pairs.length,
      pairs.reduce((sum, pair) => sum + pick(pair)[1], 0) / pairs.length,
    ];
    const [mc, mv] = [mean((pair) => pair.card), mean((pair) => pair.view)];
    let [cross, dot] = [0, 0];
    for (const { card, view } of pairs) {
      const [a, b] = [card[0] - mc[0], card[1] - mc[1]];
      const [x, y] = [view[0] - mv[0], view[1] - mv[1]];
      cross += a * y - b * x;
      dot += a * x + b * y;
    }
    angle = Math.atan2(cross, dot);
  } else if (pairs.length === 1 && edges.length >= 1) {
    const { at, line } = edges[0]!;
    const [p, q] = farthest(at).map(seenAt) as [Point, Point];
    const [r, t] = line.map(toView) as [Point, Point];
    angle = Math.atan2(t[1] - r[1], t[0] - r[0]) - Math.atan2(q[1] - p[1], q[0] - p[0]);
    // Which end of the edge was marked first does not matter: the other corner decides between the two.
    const along = edges[1]!;
    const other = along.line.map(toView) as [Point, Point];
    if (!facesAlong(farthest(along.at).map(seenAt)[0]!, pairs[0]!, angle, other)) angle += Math.PI;
  }
  if (angle === undefined) {
    throw refused(
      "a card alone",
      "two points of the device whose places are known, or marks on two of its edges that meet, to tell where it lies",
    );
  }
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const n = pairs.length;
  const x = pairs.reduce((sum, { card, view }) => sum + view[0] - (c * card[0] - s * card[1]), 0) / n;
  const y = pairs.reduce((sum, { card, view }) => sum + view[1] - (s * card[0] + c * card[1]), 0) / n;
  return [angle, x, y];
}

/** Whether a mark on the second edge falls on the body's side of the corner when the card is turned by the angle. */
function facesAlong(
  mark: Point,
  corner: { card: Point; view: Point },
  angle: number,
  line: readonly [Point, Point],
): boolean {
  const [a, b] = [mark[0] - corner.card[0], mark[1] - corner.card[1]];
  const turnedTo: Point = [Math.cos(angle) * a - Math.sin(angle) * b, Math.sin(angle) * a + Math.cos(angle) * b];
  const middle: Point = [
    (line[0][0] + line[1][0]) / 2 - corner.view[0],
    (line[0][1] + line[1][1]) / 2 - corner.view[1],
  ];
  return turnedTo[0] * middle[0] + turnedTo[1] * middle[1] > 0;
}

/** Turn and shift of the camera from a homography of the plane at a level (Hartley & Zisserman 8.1; Zhang 2000, 3.1). */
function takenApart(h: Matrix3, size: Point, focal: number, level: number): Camera | undefined {
  const half = halfDiagonal(size);
  const column = (i: 0 | 1 | 2): [number, number, number] => {
    const w = h[6 + i]!;
    return [(h[i]! - (size[0] / 2) * w) / half / focal, (h[3 + i]! - (size[1] / 2) * w) / half / focal, w];
  };
  const [first, second, third] = [column(0), column(1).map((value) => -value), column(2)] as number[][];
  const scale = 2 / (Math.hypot(...first!) + Math.hypot(...second!));
  // In front of the camera: the plane's depth over the device's origin may be either sign, over the marks it may not.
  const sign = third![2]! > 0 ? scale : -scale;
  const r1 = first!.map((value) => value * sign);
  const r2 = second!.map((value) => value * sign);
  const t = third!.map((value) => value * sign);
  const dot = r1[0]! * r2[0]! + r1[1]! * r2[1]! + r1[2]! * r2[2]!;
  // The nearest pair of perpendicular unit vectors that treats both alike.
  const p = unit(r1.map((value, i) => value - (dot / 2) * r2[i]!));
  const q0 = r2.map((value, i) => value - (dot / 2) * r1[i]!);
  const along = q0[0]! * p[0]! + q0[1]! * p[1]! + q0[2]! * p[2]!;
  const q = unit(q0.map((value, i) => value - along * p[i]!));
  const n = [p[1]! * q[2]! - p[2]! * q[1]!, p[2]! * q[0]! - p[0]! * q[2]!, p[0]! * q[1]! - p[1]! * q[0]!];
  const rotation = [0, 1, 2].map((i) => [p[i]!, q[i]!, n[i]!]) as unknown as Rotation;
  const shift = t.map((value, i) => value - n[i]! * level) as [number, number, number];
  if (![...shift, ...rotation.flat()].every(Number.isFinite)) return undefined;
  return { size, rotation, shift, focal, radial: 0, centre: [0, 0] };
}

const unit = (vector: readonly number[]): number[] => vector.map((value) => value / Math.hypot(...vector));
