/**
 * Finite volumes of a board: square columns, one cell a layer (thick layers several), and one layer of cells on top for
 * the parts. Conductances between cell middles in W/K, capacities in J/K.
 *
 * Index: i + nx (j + ny l), l = 0 the parts. A part fills the share of each column that it covers; a column belongs to the
 * part that covers most of it, and shares are scaled so that the part keeps its area. Columns without a part have an empty
 * cell there: no capacity to speak of, joined to nothing. Where a nozzle covers a part of a column it counts with that
 * share, so rims of nozzles do not jump with the grid.
 */
import { materialEntry } from "../materials.ts";
import type { Board, BoardStage, Nozzle } from "./board.ts";
import { CELL_HEIGHT } from "./read-board.ts";

export interface Grid {
  readonly nx: number;
  readonly ny: number;
  readonly nl: number;
  readonly n: number;
  readonly c: Float64Array;
  /** Towards i + 1, j + 1, l + 1. */
  readonly gx: Float64Array;
  readonly gy: Float64Array;
  readonly gz: Float64Array;
  /** Half conductance from a cell's middle to its own upper and lower face, W/K. */
  readonly up: Float64Array;
  readonly down: Float64Array;
  /** m2 of each column's parts cell that is part, and of the board that is bare. */
  readonly covered: Float64Array;
  readonly bare: Float64Array;
  /** By part: its cells. */
  readonly cellsOf: readonly Int32Array[];
  /** Names of parts that no column was left for. */
  readonly lost: readonly string[];
}

export function makeGrid(board: Board): Grid {
  const nx = Math.max(1, Math.round(board.size[0] / board.cell));
  const ny = Math.max(1, Math.round(board.size[1] / board.cell));
  const [dx, dy] = [board.size[0] / nx, board.size[1] / ny];
  const slices = board.layers.flatMap((layer) => {
    const count = Math.max(1, Math.ceil(layer.thickness / CELL_HEIGHT));
    return Array.from({ length: count }, () => ({ layer, height: layer.thickness / count }));
  });
  const nl = slices.length + 1;
  const plane = nx * ny;
  const n = plane * nl;
  const c = new Float64Array(n);
  const along = new Float64Array(n);
  const through = new Float64Array(n);
  const height = new Float64Array(n);
  const share = new Float64Array(plane);
  const { cellsOf, lost } = placeParts(board, nx, ny, dx, dy, share);
  const area = dx * dy * 1e-6;
  for (const [p, part] of board.parts.entries()) {
    for (const cell of cellsOf[p]) {
      height[cell] = part.size[2] * 1e-3;
      c[cell] = share[cell] * area * height[cell] * part.material.rho * part.material.cp;
      along[cell] = part.material.kInPlane;
      through[cell] = part.material.k;
    }
  }
  const air = materialEntry("air")!;
  for (const [s, { layer, height: mm }] of slices.entries()) {
    for (let j = 0; j < ny; j += 1) {
      for (let i = 0; i < nx; i += 1) {
        const cell = i + nx * j + plane * (s + 1);
        const edge = Math.min((i + 0.5) * dx, (nx - i - 0.5) * dx, (j + 0.5) * dy, (ny - j - 0.5) * dy);
        const empty = layer.ring !== undefined && edge > layer.ring;
        const { k, kInPlane, rho, cp } = empty
          ? { k: air.k.value, kInPlane: air.k.value, rho: air.rho.value, cp: air.cp.value }
          : layer.material;
        height[cell] = mm * 1e-3;
        c[cell] = area * height[cell] * rho * cp;
        along[cell] = kInPlane;
        through[cell] = k;
      }
    }
  }
  const gx = new Float64Array(n);
  const gy = new Float64Array(n);
  const gz = new Float64Array(n);
  const up = new Float64Array(n);
  const down = new Float64Array(n);
  const fill = (cell: number) => (cell < plane ? share[cell] : 1);
  const side = (a: number, b: number, width: number, length: number) => {
    if (height[a] === 0 || height[b] === 0) return 0;
    // Parts side by side do not touch; within a part the fuller column cannot carry more than the emptier.
    if (a < plane && owner(cellsOf, a) !== owner(cellsOf, b)) return 0;
    const section = width * 1e-3 * Math.min(height[a], height[b]) * Math.min(1, fill(a), fill(b));
    return section / ((length * 1e-3) / (2 * along[a]) + (length * 1e-3) / (2 * along[b]));
  };
  for (let l = 0; l < nl; l += 1) {
    for (let j = 0; j < ny; j += 1) {
      for (let i = 0; i < nx; i += 1) {
        const cell = i + nx * j + plane * l;
        if (height[cell] > 0) {
          up[cell] = (2 * through[cell] * area * fill(cell)) / height[cell];
          down[cell] = up[cell];
        }
        if (i + 1 < nx) gx[cell] = side(cell, cell + 1, dy, dx);
        if (j + 1 < ny) gy[cell] = side(cell, cell + nx, dx, dy);
      }
    }
  }
  for (let cell = 0; cell + plane < n; cell += 1) {
    const below = cell + plane;
    if (height[cell] === 0) continue;
    const half = (2 * through[below] * area * fill(cell)) / height[below];
    gz[cell] = 1 / (1 / down[cell] + 1 / half);
  }
  for (let cell = 0; cell < plane; cell += 1) if (height[cell] === 0) c[cell] = 1e-9;
  const covered = Float64Array.from(share, (f) => f * area);
  const bare = Float64Array.from(share, (f) => Math.max(0, 1 - f) * area);
  return { nx, ny, nl, n, c, gx, gy, gz, up, down, covered, bare, cellsOf, lost };
}

const owners = new WeakMap<readonly Int32Array[], Map<number, number>>();
function owner(cellsOf: readonly Int32Array[], cell: number): number | undefined {
  let map = owners.get(cellsOf);
  if (map === undefined) {
    map = new Map(cellsOf.flatMap((cells, p) => Array.from(cells, (item) => [item, p] as const)));
    owners.set(cellsOf, map);
  }
  return map.get(cell);
}

function overlap(a0: number, a1: number, b0: number, b1: number): number {
  return Math.max(0, Math.min(a1, b1) - Math.max(a0, b0));
}

/** Fills `share`, the part of each column that is covered. */
function placeParts(board: Board, nx: number, ny: number, dx: number, dy: number, share: Float64Array) {
  const taken = new Int32Array(nx * ny).fill(-1);
  const most = new Float64Array(nx * ny);
  const covers = board.parts.map(({ at, size }, p) => {
    const found: [number, number][] = [];
    const [x0, x1, y0, y1] = [at[0] - size[0] / 2, at[0] + size[0] / 2, at[1] - size[1] / 2, at[1] + size[1] / 2];
    for (let j = Math.max(0, Math.floor(y0 / dy)); j < Math.min(ny, Math.ceil(y1 / dy)); j += 1) {
      for (let i = Math.max(0, Math.floor(x0 / dx)); i < Math.min(nx, Math.ceil(x1 / dx)); i += 1) {
        const f = (overlap(x0, x1, i * dx, (i + 1) * dx) * overlap(y0, y1, j * dy, (j + 1) * dy)) / (dx * dy);
        const cell = i + nx * j;
        if (f <= 1e-9) continue;
        found.push([cell, f]);
        if (f > most[cell]) [most[cell], taken[cell]] = [f, p];
      }
    }
    return found;
  });
  const lost: string[] = [];
  const cellsOf = covers.map((found, p) => {
    const own = found.filter(([cell]) => taken[cell] === p);
    if (own.length === 0) lost.push(board.parts[p].name);
    const { size } = board.parts[p];
    const scale = (size[0] * size[1]) / (dx * dy) / own.reduce((sum, [, f]) => sum + f, 0);
    for (const [cell, f] of own) share[cell] = f * scale;
    return Int32Array.from(own, ([cell]) => cell);
  });
  return { cellsOf, lost };
}

/** The surroundings of a stage: conductance to each cell, W/K, and that times its temperature above `start`, W. */
export interface Surround {
  readonly g: Float64Array;
  readonly q: Float64Array;
}

export function surroundings(board: Board, grid: Grid, stage: BoardStage): Surround {
  const { nx, ny, nl, n, up, down, covered, bare } = grid;
  const g = new Float64Array(n);
  const q = new Float64Array(n);
  const [dx, dy] = [board.size[0] / nx, board.size[1] / ny];
  const area = dx * dy * 1e-6;
  const plane = nx * ny;
  const meet = (cell: number, half: number, m2: number, h: number, temperature: number) => {
    if (m2 <= 0 || h <= 0 || half <= 0) return;
    // The half cell belongs to the face it is given for.
    const conductance = 1 / (1 / half + 1 / (h * m2));
    g[cell] += conductance;
    q[cell] += conductance * (temperature - board.start);
  };
  /** A face under two surroundings at once: both meet the same half cell, so their h are added first. */
  const face = (cell: number, half: number, m2: number, f: number) => {
    const nozzle = stage.nozzle;
    const h = nozzle === undefined ? board.h : f * nozzle.h + (1 - f) * board.h;
    if (h <= 0) return;
    const t =
      nozzle === undefined ? board.start : (f * nozzle.h * nozzle.temperature + (1 - f) * board.h * board.start) / h;
    meet(cell, half, m2, h, t);
  };
  for (let j = 0; j < ny; j += 1) {
    for (let i = 0; i < nx; i += 1) {
      const column = i + nx * j;
      const f = stage.nozzle === undefined ? 0 : nozzleShare(stage.nozzle, i * dx, (i + 1) * dx, j * dy, (j + 1) * dy);
      face(column, up[column], covered[column], f);
      const top = column + plane;
      face(top, (up[top] * bare[column]) / area, bare[column], f);
      const bottom = column + plane * (nl - 1);
      meet(bottom, down[bottom], area, stage.below?.h ?? board.h, stage.below?.temperature ?? board.start);
    }
  }
  return { g, q };
}

/** Share of a column that a nozzle covers. A round one is counted on 16 x 16 points where its rim crosses. */
function nozzleShare({ at, size }: Nozzle, x0: number, x1: number, y0: number, y1: number): number {
  if (typeof size !== "number") {
    const covered =
      overlap(at[0] - size[0] / 2, at[0] + size[0] / 2, x0, x1) *
      overlap(at[1] - size[1] / 2, at[1] + size[1] / 2, y0, y1);
    return covered / ((x1 - x0) * (y1 - y0));
  }
  const radius = size / 2;
  const reach = Math.hypot(x1 - x0, y1 - y0) / 2;
  const distance = Math.hypot((x0 + x1) / 2 - at[0], (y0 + y1) / 2 - at[1]);
  if (distance <= radius - reach) return 1;
  if (distance >= radius + reach) return 0;
  let inside = 0;
  for (let a = 0; a < 16; a += 1)
    for (let b = 0; b < 16; b += 1)
      if (Math.hypot(x0 + ((a + 0.5) / 16) * (x1 - x0) - at[0], y0 + ((b + 0.5) / 16) * (y1 - y0) - at[1]) <= radius)
        inside += 1;
  return inside / 256;
}
