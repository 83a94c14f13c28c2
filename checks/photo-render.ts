/** Pictures of a bench with a card on it, rendered from known geometry: tilt, bending, blur, noise, uneven light. */
import type { Point } from "../src/core/measure/polygon.ts";
import type { Random } from "../src/core/measure/random.ts";
import { backProject, type Camera, type Rotation, turned } from "../src/core/photo/camera.ts";
import { CARD, type GreyPicture, SPOTS } from "../src/core/photo/card/index.ts";

export interface Rendered {
  readonly picture: GreyPicture;
  readonly camera: Camera;
  /** From the card's mm to the plane's. */
  readonly onPlane: (card: Point) => Point;
}

export interface RenderOptions {
  readonly size: Point;
  readonly card: "there" | "none" | "half hidden" | "another pattern" | "mirrored";
}

interface Shape {
  readonly at: Point;
  readonly half: Point;
  readonly round: boolean;
  readonly hollow: number;
  readonly grey: number;
  readonly c: number;
  readonly s: number;
}

/** A camera 220 to 420 mm over the bench, tilted to 25 degrees, and things lying about. */
export function render(random: Random, { size, card }: RenderOptions): Rendered {
  const uniform = (from: number, to: number) => from + (to - from) * random.uniform();
  const level: Rotation = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  const way = uniform(0, 2 * Math.PI);
  const lean = uniform(0, (25 * Math.PI) / 180);
  const away = uniform(220, 420);
  // Some 230 mm over the width.
  const focal = (away * 2 * size[0]) / Math.hypot(...size) / uniform(190, 290);
  const camera: Camera = {
    size,
    rotation: turned(turned(level, [0, 0, uniform(-Math.PI, Math.PI)]), [
      lean * Math.cos(way),
      lean * Math.sin(way),
      0,
    ]),
    shift: [0, 0, away],
    focal,
    radial: uniform(-0.03, 0.03),
    centre: [0, 0],
  };
  const angle = uniform(-Math.PI, Math.PI);
  const [px, py] = [uniform(-25, 25), uniform(-20, 20)];
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const flip = card === "mirrored" ? -1 : 1;
  const onPlane = ([a, b]: Point): Point => {
    const [x, y] = [flip * (a - CARD.width / 2), b - CARD.height / 2];
    return [px + c * x - s * y, -(py + s * x + c * y)];
  };
  const shapes = Array.from({ length: 26 }, (): Shape => {
    const size = uniform(3, 45);
    const turn = uniform(0, Math.PI);
    return {
      c: Math.cos(turn),
      s: Math.sin(turn),
      at: [uniform(-160, 160), uniform(-120, 120)],
      half: [size, size * uniform(0.15, 1)],
      round: random.uniform() < 0.4,
      hollow: random.uniform() < 0.4 ? uniform(0.5, 0.9) : 0,
      grey: uniform(10, 235),
    };
  });
  const hollow = SPOTS.map((spot) => (card === "another pattern" ? random.uniform() < 0.5 : spot.hollow));
  const hidden = card === "half hidden";
  const paper = uniform(150, 225);
  const ink = uniform(20, 55);
  const bench = uniform(40, 170);
  const [gx, gy] = [uniform(-0.25, 0.25), uniform(-0.25, 0.25)];
  const noise = uniform(1, 5);
  const blur = uniform(0.5, 1.6);
  const [width, height] = size;
  const pixels = new Uint8ClampedArray(width * height);
  // Places are computed on a grid and filled in between: the lens bends slowly.
  const step = 16;
  const row = (y: number) =>
    Array.from({ length: Math.ceil(width / step) + 1 }, (_, i) => backProject(camera, [i * step + 0.5, y + 0.5], 0));
  // A short run of random numbers, entered anywhere, makes the noise cheap.
  const rough = Float32Array.from({ length: 65_521 }, () => noise * random.normal());
  let next = 0;
  let from = row(0);
  let to = row(0);
  let near: (readonly Shape[])[] = [];
  for (let y = 0; y < height; y++) {
    if (y % step === 0) {
      from = y === 0 ? from : to;
      to = row(y + step);
      // Which things can show in each block of pixels.
      near = from.slice(1).map((right, i) => {
        const left = from[i]!;
        const reach = 3 * Math.hypot(right[0] - left[0], right[1] - left[1]);
        return shapes.filter((one) => Math.hypot(one.at[0] - left[0], one.at[1] + left[1]) < 1.5 * one.half[0] + reach);
      });
    }
    const fy = (y % step) / step;
    next = Math.floor(random.uniform() * rough.length);
    for (let x = 0; x < width; x++) {
      const i = Math.floor(x / step);
      const fx = (x % step) / step;
      const a = from[i]!;
      const b = from[i + 1]!;
      const d = to[i]!;
      const e = to[i + 1]!;
      const X = (a[0] * (1 - fx) + b[0] * fx) * (1 - fy) + (d[0] * (1 - fx) + e[0] * fx) * fy;
      const Y = -((a[1] * (1 - fx) + b[1] * fx) * (1 - fy) + (d[1] * (1 - fx) + e[1] * fx) * fy);
      const soft = (blur * (Math.abs(b[0] - a[0]) + Math.abs(b[1] - a[1]))) / step;
      // The card's own coordinates.
      const cx = flip * (c * (X - px) + s * (Y - py)) + CARD.width / 2;
      const cy = c * (Y - py) - s * (X - px) + CARD.height / 2;
      const margin = Math.min(cx + 6, CARD.width + 6 - cx, cy + 6, CARD.height + 6 - cy);
      let value: number;
      if (card !== "none" && margin > -soft && !(hidden && cx > 45)) {
        value = mixed(bench, paper + (ink - paper) * inkAt(cx, cy, soft, hollow), margin, soft);
      } else {
        value = bench;
        for (const shape of near[i]!) {
          const inward = shapeDistance(shape, X, Y);
          if (inward > -soft) value = mixed(value, shape.grey, inward, soft);
        }
      }
      const light = 1 + (gx * (x - width / 2)) / width + (gy * (y - height / 2)) / height;
      next = next + 1 === rough.length ? 0 : next + 1;
      pixels[y * width + x] = value * light + rough[next]!;
    }
  }
  return { picture: { width, height, pixels }, camera, onPlane };
}

/** From one grey to another across an edge; `d` above zero: inside. */
const mixed = (out: number, within: number, d: number, soft: number): number =>
  out + (within - out) * Math.max(0, Math.min(1, 0.5 + d / (2 * soft)));

function shapeDistance({ at, c, s, half, round, hollow }: Shape, x: number, y: number): number {
  const dx = x - at[0];
  const dy = y - at[1];
  const u = Math.abs(c * dx + s * dy);
  const v = Math.abs(c * dy - s * dx);
  const far = round ? Math.hypot(u, v) : 0;
  const outer = round ? half[0] - far : Math.min(half[0] - u, half[1] - v);
  if (hollow === 0) return outer;
  const inner = round ? hollow * half[0] - far : Math.min(hollow * half[0] - u, hollow * half[1] - v);
  return Math.min(outer, -inner);
}

/** Share of ink at a place of the card, edges as soft as the blur. */
function inkAt(x: number, y: number, soft: number, hollow: readonly boolean[]): number {
  const outer = Math.min(x, CARD.width - x, y, CARD.height - y);
  if (outer < CARD.band + soft) return edge(outer, soft) * (1 - edge(outer - CARD.band, soft));
  const i = Math.round(x / CARD.pitch) - 1;
  const j = Math.round(y / CARD.pitch) - 1;
  if (i < 0 || j < 0 || i >= CARD.columns || j >= CARD.rows) return 0;
  const r = Math.hypot(x - CARD.pitch * (i + 1), y - CARD.pitch * (j + 1));
  const ink = edge(CARD.radius - r, soft);
  return hollow[j * CARD.columns + i] ? ink * (1 - edge(CARD.hollow - r, soft)) : ink;
}

const edge = (d: number, soft: number): number => Math.max(0, Math.min(1, 0.5 + d / (2 * soft)));
