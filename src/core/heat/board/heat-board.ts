/**
 * Runs a board through its heating: TR-BDF2 in time (see `tr-bdf2.ts`), conjugate gradients in space.
 *
 * The step is chosen by the local error of TR-BDF2 (Bank et al. 1985, eq. 26), smoothed by one application of the
 * preconditioner so that stiff cells do not dominate it. Each part is followed through the parabola of a step's three
 * points. Cost: two solves a step, about 100 steps for 100 s. Constant properties, no latent heat: a planning aid, not a
 * process qualification.
 */
import { InputFaults } from "../../errors.ts";
import type { Board } from "./board.ts";
import { type Grid, makeGrid, surroundings } from "./grid.ts";
import { ALLOYS, type Alloy, classification, type Finish } from "./jstd.ts";
import { BoardSystem } from "./pcg.ts";

export interface PartHeat {
  readonly name: string;
  /** Hottest place of the part, degC, and when, s. */
  readonly peak: number;
  readonly at: number;
  /** Seconds at which the part's own `limit` was first reached; null: never. Only where it has one. */
  readonly reached?: number | null;
  /** Fastest rise of the part's mean over one second, K/s. */
  readonly rampUp: number;
  /** Seconds for which its hottest joint is above the liquidus. */
  readonly aboveLiquidus: number;
  /** Highest degC of its hottest joint, and of its coldest. */
  readonly joint: number;
  readonly coldestJoint: number;
  /** degC that a package of its size is classified for, J-STD-020D and later. */
  readonly classified: number;
  /** Hottest place at the times asked for, degC. */
  readonly degC: readonly number[];
}

export interface BoardHeat {
  readonly parts: readonly PartHeat[];
  /** |stored - summed flux| over the heat exchanged. */
  readonly energyError: number;
  readonly steps: number;
  readonly cells: number;
  readonly iterations: number;
}

export interface BoardControl {
  /** Share of the heating done, 0 to 1; returning true ends the run. */
  readonly progress?: (share: number) => boolean | undefined;
  /** K, largest local error of a step; 0.02 where left out. */
  readonly tolerance?: number;
}

const GAMMA = 2 - Math.SQRT2;
const W1 = Math.SQRT2 / 4;
const RATIO = W1 / (GAMMA / 2);
const K_GAMMA = Math.abs(-3 * GAMMA * GAMMA + 4 * GAMMA - 2) / (12 * (2 - GAMMA));
const LONGEST_STEP = 20;

/** @throws InputFaults where a part is too small for the cells; undefined when it was ended by `progress` */
export function heatBoard(board: Board, control: BoardControl = {}): BoardHeat | undefined {
  const grid = makeGrid(board);
  if (grid.lost.length > 0)
    throw new InputFaults([
      {
        path: "cell",
        found: `cells of ${board.cell} mm, in which ${grid.lost.join(", ")} would vanish beside a larger part`,
        expected: "a smaller cell",
      },
    ]);
  const run = new Run(board, grid, control);
  const total = board.heat.reduce((sum, stage) => sum + stage.seconds, 0);
  for (const stage of board.heat) if (!run.stage(stage, total)) return undefined;
  return run.answer();
}

class Run {
  readonly #board: Board;
  readonly #grid: Grid;
  readonly #system: BoardSystem;
  readonly #control: BoardControl;
  readonly #followers: Follower[];
  /** Temperatures above the start. */
  readonly #u: Float64Array;
  readonly #star: Float64Array;
  readonly #next: Float64Array;
  readonly #f: Float64Array;
  readonly #b: Float64Array;
  readonly #v: Float64Array;
  readonly #w: Float64Array;
  readonly #e: Float64Array;
  #time = 0;
  #steps = 0;
  #heat = 0;
  #exchanged = 0;

  constructor(board: Board, grid: Grid, control: BoardControl) {
    this.#board = board;
    this.#grid = grid;
    this.#control = control;
    this.#system = new BoardSystem(grid);
    const array = () => new Float64Array(grid.n);
    this.#u = array();
    this.#star = array();
    this.#next = array();
    this.#f = array();
    this.#b = array();
    this.#v = array();
    this.#w = array();
    this.#e = array();
    this.#followers = board.parts.map((_, p) => new Follower(board, grid, p));
    for (const follower of this.#followers) follower.begin(this.#u);
  }

  /** False when it was ended from outside. */
  stage(stage: Board["heat"][number], total: number): boolean {
    const { g, q } = surroundings(this.#board, this.#grid, stage);
    this.#system.surround(g);
    const tolerance = this.#control.tolerance ?? 0.02;
    const end = this.#time + stage.seconds;
    const begin = this.#time;
    let dt = Math.min(stage.seconds, 0.05);
    let warm = false;
    while (this.#time < end - 1e-9 * Math.max(1, end)) {
      const rest = end - this.#time;
      const now = dt >= rest * (1 - 1e-9) ? rest : Math.min(dt, rest / 2);
      const error = this.#step(now, q, warm, tolerance);
      if (error > tolerance && now > 1e-6) {
        dt = now * Math.max(0.2, 0.85 * Math.cbrt(tolerance / error));
        warm = false;
        continue;
      }
      this.#accept(now, g, q);
      warm = true;
      const grow = Math.min(3, 0.85 * Math.cbrt(tolerance / Math.max(error, 1e-12)));
      // The factorisation is worth keeping: small changes are not made.
      if (grow > 1.4 || grow < 1) {
        const wanted = Math.min(LONGEST_STEP, now * Math.max(0.4, grow));
        dt = wanted;
      } else dt = now;
      const share = (this.#time - begin + begin) / total;
      if (this.#control.progress?.(Math.min(1, share)) === true) return false;
    }
    return true;
  }

  /** Tries a step from `u`: increments of both stages in `v` and `w`; returns the estimate of the local error, K. */
  #step(dt: number, q: Float64Array, warm: boolean, tolerance: number): number {
    const { n, c } = this.#grid;
    const d = (GAMMA * dt) / 2;
    const f = this.#f;
    const b = this.#b;
    const v = this.#v;
    const w = this.#w;
    const e = this.#e;
    const system = this.#system;
    system.prepare(d);
    system.outflow(this.#u, f);
    for (let i = 0; i < n; i += 1) {
      f[i] = q[i] - f[i];
      b[i] = 2 * d * f[i];
    }
    // Far below the step's own error, so that the solver is not what is seen.
    const solved = 1e-5 * tolerance;
    if (!warm) v.fill(0);
    else this.#guess(v, dt);
    system.solve(b, v, solved);
    for (let i = 0; i < n; i += 1) {
      b[i] = RATIO * c[i] * v[i] + d * f[i];
      w[i] = v[i] / GAMMA;
    }
    system.solve(b, w, solved);
    // F at the three points, from the stages' own equations.
    for (let i = 0; i < n; i += 1) {
      const star = (c[i] * v[i]) / d - f[i];
      const next = (c[i] * w[i] - RATIO * c[i] * v[i]) / d;
      b[i] = 2 * K_GAMMA * dt * (f[i] / GAMMA - star / (GAMMA * (1 - GAMMA)) + next / (1 - GAMMA));
    }
    system.precondition(b, e);
    let most = 0;
    for (let i = 0; i < n; i += 1) {
      const x = e[i] < 0 ? -e[i] : e[i];
      if (!(x <= most)) most = x;
    }
    return most;
  }

  /** The first stage goes on as the last step did. */
  #guess(v: Float64Array, dt: number): void {
    const scale = (GAMMA * dt) / this.#last;
    const w = this.#w;
    for (let i = 0; i < v.length; i += 1) v[i] = w[i] * scale;
  }
  #last = 1;

  #accept(dt: number, g: Float64Array, q: Float64Array): void {
    const { n } = this.#grid;
    const u = this.#u;
    const star = this.#star;
    const next = this.#next;
    let heat = 0;
    let exchanged = 0;
    for (let i = 0; i < n; i += 1) {
      star[i] = u[i] + this.#v[i];
      next[i] = u[i] + this.#w[i];
      if (g[i] === 0) continue;
      const into = dt * (W1 * (2 * q[i] - g[i] * (u[i] + star[i])) + (GAMMA / 2) * (q[i] - g[i] * next[i]));
      heat += into;
      exchanged += into < 0 ? -into : into;
    }
    this.#heat += heat;
    this.#exchanged += exchanged;
    const from = this.#time;
    this.#time += dt;
    this.#steps += 1;
    this.#last = dt;
    for (const follower of this.#followers) follower.see(from, dt, u, star, next);
    u.set(next);
  }

  answer(): BoardHeat {
    const { n, c } = this.#grid;
    let stored = 0;
    for (let i = 0; i < n; i += 1) stored += c[i] * this.#u[i];
    return {
      parts: this.#followers.map((follower) => follower.answer()),
      energyError: Math.abs(stored - this.#heat) / Math.max(this.#exchanged, 1e-12),
      steps: this.#steps,
      cells: n,
      iterations: this.#system.iterations,
    };
  }
}

/** Follows one part: hottest place, mean, hottest and coldest joint. */
class Follower {
  readonly #board: Board;
  readonly #grid: Grid;
  readonly #part: number;
  readonly #degC: number[];
  readonly #trace: [number, number][] = [];
  #peak: number;
  #at = 0;
  #reached: number | null = null;
  #above = 0;
  #joint: number;
  #cold: number;

  constructor(board: Board, grid: Grid, part: number) {
    this.#board = board;
    this.#grid = grid;
    this.#part = part;
    this.#degC = board.report.map(() => board.start);
    this.#peak = board.start;
    this.#joint = board.start;
    this.#cold = board.start;
    const { limit } = board.parts[part];
    if (limit !== undefined && board.start >= limit) this.#reached = 0;
  }

  begin(u: Float64Array): void {
    this.#trace.push([0, this.#mean(u)]);
  }

  see(from: number, dt: number, u: Float64Array, star: Float64Array, next: Float64Array): void {
    const start = this.#board.start;
    const hot = curve(start, this.#hottest(u), this.#hottest(star), this.#hottest(next));
    const points = [0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1];
    const turning = hot.c === 0 ? -1 : -hot.b / (2 * hot.c);
    for (const s of turning > 0 && turning < 1 ? [...points, turning] : points) {
      const value = hot.a + s * (hot.b + s * hot.c);
      if (value > this.#peak) [this.#peak, this.#at] = [value, from + s * dt];
    }
    const { limit } = this.#board.parts[this.#part];
    if (limit !== undefined && this.#reached === null) {
      const s = firstAt(hot, limit);
      if (s !== undefined) this.#reached = from + s * dt;
    }
    for (const [i, t] of this.#board.report.entries())
      if (t > from && t <= (from + dt) * (1 + 1e-12)) {
        const s = Math.min(1, (t - from) / dt);
        this.#degC[i] = hot.a + s * (hot.b + s * hot.c);
      }
    const joints = [u, star, next].map((field) => this.#joints(field));
    const warm = curve(start, joints[0][0], joints[1][0], joints[2][0]);
    this.#above += dt * shareOver(warm, this.#board.liquidus);
    for (const [high, low] of joints) {
      if (high + start > this.#joint) this.#joint = high + start;
      if (low + start > this.#cold) this.#cold = low + start;
    }
    this.#trace.push([from + GAMMA * dt, this.#mean(star)], [from + dt, this.#mean(next)]);
  }

  answer(): PartHeat {
    const part = this.#board.parts[this.#part];
    const [x, y, z] = part.size;
    const finish: Finish = ALLOYS[this.#board.alloy as Alloy].finish;
    return {
      name: part.name,
      peak: this.#peak,
      at: this.#at,
      ...(part.limit === undefined ? {} : { reached: this.#reached }),
      rampUp: steepest(this.#trace),
      aboveLiquidus: this.#above,
      joint: this.#joint,
      coldestJoint: this.#cold,
      classified: classification("020D", finish, z, x * y * z),
      degC: this.#degC,
    };
  }

  #hottest(u: Float64Array): number {
    let most = Number.NEGATIVE_INFINITY;
    for (const cell of this.#grid.cellsOf[this.#part]) if (u[cell] > most) most = u[cell];
    return most;
  }

  #mean(u: Float64Array): number {
    const { c, cellsOf } = this.#grid;
    let [sum, weight] = [0, 0];
    for (const cell of cellsOf[this.#part]) {
      sum += c[cell] * u[cell];
      weight += c[cell];
    }
    return sum / weight;
  }

  /** Highest and lowest temperature of the face between part and board. */
  #joints(u: Float64Array): [number, number] {
    const { nx, ny, gz, down, cellsOf } = this.#grid;
    let high = Number.NEGATIVE_INFINITY;
    let low = Number.POSITIVE_INFINITY;
    for (const cell of cellsOf[this.#part]) {
      const face = u[cell] - (gz[cell] * (u[cell] - u[cell + nx * ny])) / down[cell];
      if (face > high) high = face;
      if (face < low) low = face;
    }
    return [high, low];
  }
}

interface Curve {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** The parabola through values at 0, gamma and 1 of a step. */
function curve(start: number, p0: number, ps: number, p1: number): Curve {
  const c = ((ps - p0) / GAMMA - (p1 - p0)) / (GAMMA - 1);
  return { a: start + p0, b: p1 - p0 - c, c };
}

function firstAt({ a, b, c }: Curve, level: number): number | undefined {
  const steps = 64;
  for (let i = 1; i <= steps; i += 1) {
    const s = i / steps;
    if (a + s * (b + s * c) < level) continue;
    let [low, high] = [(i - 1) / steps, s];
    for (let k = 0; k < 40; k += 1) {
      const middle = (low + high) / 2;
      if (a + middle * (b + middle * c) < level) low = middle;
      else high = middle;
    }
    return high;
  }
  return undefined;
}

function shareOver({ a, b, c }: Curve, level: number): number {
  const at = (s: number) => a + s * (b + s * c) - level;
  const cuts = [0, 1];
  const disc = b * b - 4 * c * (a - level);
  if (Math.abs(c) > 1e-14 && disc > 0) cuts.push((-b - Math.sqrt(disc)) / (2 * c), (-b + Math.sqrt(disc)) / (2 * c));
  else if (b !== 0) cuts.push((level - a) / b);
  const inside = cuts.filter((s) => s >= 0 && s <= 1).sort((x, y) => x - y);
  let share = 0;
  for (let i = 0; i + 1 < inside.length; i += 1)
    if (at((inside[i] + inside[i + 1]) / 2) > 0) share += inside[i + 1] - inside[i];
  return share;
}

/** Largest rise within one second along a broken line of [s, K]; over the whole where it is shorter. */
function steepest(trace: readonly (readonly [number, number])[]): number {
  const end = trace[trace.length - 1][0];
  const window = Math.min(1, end);
  if (window <= 0) return 0;
  let low = 0;
  const value = (t: number, from: number): number => {
    let i = from;
    while (i + 2 < trace.length && trace[i + 1][0] < t) i += 1;
    const [t0, x0] = trace[i];
    const [t1, x1] = trace[i + 1];
    return t1 > t0 ? x0 + ((x1 - x0) * (t - t0)) / (t1 - t0) : x1;
  };
  let most = 0;
  for (const [i, [t, x]] of trace.entries()) {
    // A window that begins, and one that ends, at this knot: the largest rise is at one of them.
    if (t + window <= end) most = Math.max(most, (value(t + window, i < trace.length - 1 ? i : i - 1) - x) / window);
    if (t - window >= 0) {
      while (low + 2 < trace.length && trace[low + 1][0] < t - window) low += 1;
      most = Math.max(most, (x - value(t - window, low)) / window);
    }
  }
  return most;
}
