/** Marks in photographs as a camera would give them, made from known places: the truth to hold `core/photo` against. */

import type { Point } from "../src/core/measure/polygon.ts";
import type { Random } from "../src/core/measure/random.ts";
import { type Camera, project, type Rotation, turned } from "../src/core/photo/camera.ts";
import { HAND, type PhotoMarks, type SeenFrom } from "../src/core/photo/marks.ts";

export const SIZE: Point = [4000, 3000];
/** Half the diagonal of a 36 x 24 mm frame. */
const FILM = Math.hypot(36, 24) / 2;
/** A slab 75 x 160 mm, its middle at the origin. */
export const BODY = [-37.5, 37.5, -80, 80] as const;

export interface Scene {
  readonly camera: Camera;
  readonly marks: PhotoMarks;
}

export interface SceneOptions {
  readonly seen?: SeenFrom;
  /** Greatest tilt, degrees. */
  readonly tilt?: number;
  readonly card?: boolean;
  /** Focal length told by the camera. */
  readonly told?: boolean;
  /** So many points of the device whose places are known to 0.05 mm, down to 3 mm below the back face. */
  readonly known?: number;
  /** Standard deviation of the radial term. */
  readonly radial?: number;
  /** Pixels of noise of a hand mark. */
  readonly noise?: number;
  /** Nothing is off: for checks to the last digit. */
  readonly exact?: boolean;
}

/** A camera on a stand, most of them 150 to 480 mm over the bench, that looks at the middle of the device, turned so that its long side lies along the picture's. */
export function randomCamera(random: Random, options: SceneOptions): Camera {
  const { seen = "back", tilt = 25, radial = 0.004, exact = false } = options;
  const focal = (45 / FILM) * (exact ? 1 : Math.exp(0.3 * random.normal()));
  const lean = (random.uniform() * tilt * Math.PI) / 180;
  const way = random.uniform() * 2 * Math.PI;
  const roll = (seen === "back" ? 1 : -1) * (Math.PI / 2) + 0.06 * (random.uniform() - 0.5);
  const level: Rotation =
    seen === "back"
      ? [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ]
      : [
          [-1, 0, 0],
          [0, 1, 0],
          [0, 0, -1],
        ];
  const rolled = turned(level, [0, 0, roll]);
  const rotation = turned(rolled, [lean * Math.cos(way), lean * Math.sin(way), 0]);
  // 160 mm over some 78 % of the width.
  const away = (focal * 160 * Math.hypot(...SIZE)) / 2 / (0.78 * SIZE[0]);
  const off = (size: number) => (exact ? 0 : size * random.normal());
  return {
    size: SIZE,
    rotation,
    shift: [off(1), off(1), away],
    focal,
    radial: exact ? 0 : off(radial),
    centre: [off(0.01), off(0.01)],
  };
}

/** Places of the card's marks: a frame of dots around a window, as printed, in mm. */
export const CARD_POINTS: readonly Point[] = [0, 1, 2, 3, 4, 5].flatMap((i) =>
  [0, 1, 2, 3].map((j): Point => [i * 12, j * 12]),
);

/** Marks on the body's four edges (two on each) and, if wished, the marks of a card beside it on the same level. */
export function randomScene(random: Random, options: SceneOptions = {}): Scene {
  const camera = randomCamera(random, options);
  const { seen = "back", noise = HAND, exact = false } = options;
  const off = (size: number) => (exact ? 0 : size * random.normal());
  // The sizes that are taken for true are a little off themselves.
  const [sx, sy] = [1 + off(0.05 / 75), 1 + off(0.05 / 160)];
  const pixel = (point: Point, level: number, u: number): Point => {
    const [x, y] = project(camera, point, level);
    return [x + off(u), y + off(u)];
  };
  const [x0, x1, y0, y1] = [BODY[0] * sx, BODY[1] * sx, BODY[2] * sy, BODY[3] * sy];
  const edges = (
    [
      ["left", [x0, -65], [x0, 65]],
      ["right", [x1, -65], [x1, 65]],
      ["bottom", [-26, y0], [26, y0]],
      ["top", [-26, y1], [26, y1]],
    ] as const
  ).map(([edge, p, q]) => ({ edge, at: [pixel(p, 0, noise), pixel(q, 0, noise)] }));
  const points = Array.from({ length: options.known ?? 0 }, () => {
    const is: Point = [-32 + 64 * random.uniform(), -74 + 148 * random.uniform()];
    const level = 3 * random.uniform();
    return { is, level, at: pixel([sx * is[0] + off(0.05), sy * is[1] + off(0.05)], level, noise) };
  });
  const marks: PhotoMarks = {
    size: SIZE,
    seen,
    level: 0,
    body: BODY,
    edges,
    u: noise,
    ...(points.length === 0 ? {} : { points }),
    ...(options.told ? { focal: camera.focal * FILM * (exact ? 1 : Math.exp(0.04 * random.normal())) } : {}),
  };
  if (!options.card) return { camera, marks };
  const stretch = 1 + off(0.001);
  const angle = 0.1 + 0.05 * (random.uniform() - 0.5);
  const sign = seen === "back" ? 1 : -1;
  const spots = CARD_POINTS.map((is) => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const [a, b] = [stretch * (is[0] - 30), stretch * (is[1] - 18)];
    const place: Point = [sign * (c * a - s * b), -(s * a + c * b)];
    return { at: pixel(place, 0, 0.3), is };
  });
  return { camera, marks: { ...marks, card: { points: spots, level: 0, u: 0.3 } } };
}
