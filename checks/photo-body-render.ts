/**
 * Photographs of an opened body, rendered from known geometry: a slab 75 x 160 mm with rounded corners seen from its
 * back, a cell 1.2 mm down, screws down to 3 mm, through a pinhole that is tilted, bends, blurs and has noise.
 *
 * Each thing lies on a level of its own and is looked up where the ray of a pixel meets that level; the nearest level
 * that has something there is what is seen. Steep walls are not drawn: they are seen by no camera from above.
 */
import { measurePolygon, type Point } from "../src/core/measure/polygon.ts";
import type { Random } from "../src/core/measure/random.ts";
import { backProject, type Camera, halfDiagonal, type Rotation, turned } from "../src/core/photo/camera.ts";
import type { GreyPicture } from "../src/core/photo/card/index.ts";
import { FILM } from "../src/core/photo/start-view.ts";

export const BODY = [-37.5, 37.5, -80, 80] as const;
export const CELL: readonly Point[] = [
  [-30, -50],
  [32, -50],
  [32, 40],
  [-30, 40],
];
export const CELL_LEVEL = 1.2;
export const CELL_AREA = measurePolygon([CELL]).area;
const CORNER = 9;
const HEAD = 0.9;

export interface BodyPicture {
  readonly picture: GreyPicture;
  readonly camera: Camera;
  /** Focal length as of 35 mm film, mm. */
  readonly focal: number;
  readonly screws: readonly { readonly at: Point; readonly level: number }[];
}

/** @param tilt greatest, degrees */
export function renderBody(random: Random, size: Point, tilt = 25): BodyPicture {
  const uniform = (from: number, to: number) => from + (to - from) * random.uniform();
  const focal = (45 / FILM) * Math.exp(0.3 * random.normal());
  const [lean, way] = [(uniform(0, tilt) * Math.PI) / 180, uniform(0, 2 * Math.PI)];
  const level: Rotation = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  const rolled = turned(level, [0, 0, Math.PI / 2 + uniform(-0.05, 0.05)]);
  const camera: Camera = {
    size,
    rotation: turned(rolled, [lean * Math.cos(way), lean * Math.sin(way), 0]),
    // 160 mm over some 74 % of the width.
    shift: [uniform(-2, 2), uniform(-2, 2), (focal * 160 * halfDiagonal(size)) / (0.74 * size[0])],
    focal,
    radial: 0.004 * random.normal(),
    centre: [0.01 * random.normal(), 0.01 * random.normal()],
  };
  const screws = Array.from({ length: 12 }, (_, i) => ({
    // Beside the cell, each with room around it.
    at: [
      i % 2 === 0 ? uniform(-34.5, -33) : uniform(34.5, 35.2),
      -70 + (140 * (Math.floor(i / 2) + uniform(0.2, 0.8))) / 6,
    ] as Point,
    level: (3 * (i % 6)) / 5,
  }));
  const levels = [...new Set([0, CELL_LEVEL, ...screws.map((one) => one.level)])].sort((a, b) => a - b);
  const greys = { bench: uniform(40, 80), body: uniform(150, 200), cell: uniform(95, 125), screw: uniform(35, 60) };
  const noise = uniform(1, 4);
  const blur = uniform(0.5, 1.6);
  const [gx, gy] = [uniform(-0.2, 0.2), uniform(-0.2, 0.2)];
  const [width, height] = size;
  const pixels = new Uint8ClampedArray(width * height);
  const rough = Float32Array.from({ length: 65_521 }, () => noise * random.normal());
  // Places on each level are computed on a grid and filled in between: the lens bends slowly.
  const step = 16;
  const row = (y: number, deep: number) =>
    Array.from({ length: Math.ceil(width / step) + 1 }, (_, i) => backProject(camera, [i * step + 0.5, y + 0.5], deep));
  let from = levels.map((deep) => row(0, deep));
  let to = levels.map((deep) => row(0, deep));
  let next = 0;
  for (let y = 0; y < height; y++) {
    if (y % step === 0) {
      from = y === 0 ? from : to;
      to = levels.map((deep) => row(y + step, deep));
    }
    const fy = (y % step) / step;
    next = Math.floor(random.uniform() * rough.length);
    for (let x = 0; x < width; x++) {
      const i = Math.floor(x / step);
      const fx = (x % step) / step;
      const at = (k: number): Point => {
        const [a, b, c, d] = [from[k]![i]!, from[k]![i + 1]!, to[k]![i]!, to[k]![i + 1]!];
        return [
          (a[0] * (1 - fx) + b[0] * fx) * (1 - fy) + (c[0] * (1 - fx) + d[0] * fx) * fy,
          (a[1] * (1 - fx) + b[1] * fx) * (1 - fy) + (c[1] * (1 - fx) + d[1] * fx) * fy,
        ];
      };
      const [a, b] = [from[0]![i]!, from[0]![i + 1]!];
      const soft = (blur * Math.hypot(b[0] - a[0], b[1] - a[1])) / step;
      const top = at(0);
      let value = mixed(greys.bench, greys.body, slab(top), soft);
      if (slab(top) > -1) {
        const cell = at(levels.indexOf(CELL_LEVEL));
        value = mixed(value, greys.cell, inCell(cell), soft);
        for (const screw of screws) {
          if (Math.abs(screw.at[1] - top[1]) > 4 || Math.abs(screw.at[0] - top[0]) > 4) continue;
          const place = at(levels.indexOf(screw.level));
          value = mixed(value, greys.screw, HEAD - Math.hypot(place[0] - screw.at[0], place[1] - screw.at[1]), soft);
        }
      }
      const light = 1 + (gx * (x - width / 2)) / width + (gy * (y - height / 2)) / height;
      next = next + 1 === rough.length ? 0 : next + 1;
      pixels[y * width + x] = value * light + rough[next]!;
    }
  }
  return { picture: { width, height, pixels }, camera, focal: focal * FILM, screws };
}

const mixed = (out: number, within: number, d: number, soft: number): number =>
  out + (within - out) * Math.max(0, Math.min(1, 0.5 + d / (2 * soft)));

/** Millimetres inside the slab's outline, below zero outside. */
function slab([x, y]: Point): number {
  const [u, v] = [Math.abs(x) - BODY[1] + CORNER, Math.abs(y) - BODY[3] + CORNER];
  return CORNER - Math.hypot(Math.max(u, 0), Math.max(v, 0)) - Math.min(Math.max(u, v), 0);
}

const inCell = ([x, y]: Point): number => Math.min(x - CELL[0]![0], CELL[2]![0] - x, y - CELL[0]![1], CELL[2]![1] - y);
