/**
 * Runs the programme of a stack: limits reached, faces at the times asked for, closure of the energy balance.
 *
 * The mesh is refined until what is read off moves by less than `SPACE` between two meshes (and each crossing by less
 * than `CROSSING` seconds); the extrapolated values are then far better than that.
 */

import { Marcher, type MarchState, type Settings, type Span } from "./march.ts";
import { faceIndex } from "./mesh.ts";
import { at, parabola, risesTo } from "./parabola.ts";
import { LIMITS, type LimitName, type Line, type Stack } from "./stack.ts";

export interface Reached {
  readonly watch: string;
  readonly limit: LimitName;
  /** Seconds from the beginning: first upward crossing, 0 where it starts there, null where never. */
  readonly at: number | null;
}

export interface FaceSeries {
  readonly watch: string;
  /** s */
  readonly at: readonly number[];
  readonly degC: readonly number[];
}

export interface Simulation {
  readonly reached: readonly Reached[];
  readonly faces: readonly FaceSeries[];
  /** Largest over the lines of |stored - summed flux| over the heat exchanged. */
  readonly energyError: number;
  readonly steps: number;
  /** Cells of the finer mesh, all lines. */
  readonly cells: number;
  /** The refinement that was needed, by line. */
  readonly refine: readonly number[];
}

/** K, largest error of one time step. */
export const TOLERANCE = 1e-4;
/** K between two meshes at what is read off, and seconds between their crossings, above which the mesh is refined. */
const SPACE = 0.03;
const CROSSING = 0.05;
const MOST_REFINE = 16;

/** Shortest time that matters for this stack, s. */
export function resolveTime(stack: Stack): number {
  const first = stack.report.filter((t) => t > 0).reduce((least, t) => Math.min(least, t), Number.POSITIVE_INFINITY);
  const shortest = stack.programme.reduce((least, stage) => Math.min(least, stage.seconds), Number.POSITIVE_INFINITY);
  return Math.min(0.2, Math.max(1e-4, Math.min(first, shortest) / 4));
}

export function marcherFor(line: Line, stack: Stack, refine: number, tolerance = TOLERANCE): Marcher {
  const settings: Settings = { tolerance, resolve: resolveTime(stack), refine };
  const probes = line.watch.map((watch) => faceIndex(line.layers, watch));
  return new Marcher(line.layers, stack.start, probes, settings);
}

export function simulate(stack: Stack): Simulation {
  const runs = stack.lines.map((line) => {
    for (let refine = 1; ; refine *= 2) {
      const run = runLine(stack, line, refine);
      if (run.trusted || refine >= MOST_REFINE) return { ...run, refine };
    }
  });
  return {
    reached: runs.flatMap((run) => run.reached),
    faces: runs.flatMap((run) => run.faces),
    energyError: runs.reduce((most, run) => Math.max(most, run.energyError), 0),
    steps: runs.reduce((sum, run) => sum + run.steps, 0),
    cells: runs.reduce((sum, run) => sum + run.cells, 0),
    refine: runs.map((run) => run.refine),
  };
}

function runLine(stack: Stack, line: Line, refine: number) {
  const marcher = marcherFor(line, stack, refine);
  const watcher = new Watcher(line, stack.start, stack.report);
  const state = marcher.initial();
  for (const stage of stack.programme) marcher.run(state, stage, stage.seconds, (span) => watcher.see(span));
  return {
    reached: watcher.reached(),
    faces: watcher.faces(),
    trusted: watcher.trusted(),
    energyError: energyError(marcher, state),
    steps: marcher.steps,
    cells: marcher.meshes[1].c.length,
  };
}

export function energyError(marcher: Marcher, state: MarchState): number {
  // Heat that moves a line by a millionth of a kelvin is none: the quotient of two roundings says nothing.
  const capacity = marcher.meshes[1].c.reduce((sum, c) => sum + c, 0);
  return Math.abs(marcher.stored(state) - state.heat) / Math.max(state.exchanged, 1e-6 * capacity);
}

/** Follows the watched faces of a line through the steps of a march. */
class Watcher {
  readonly #line: Line;
  readonly #limits: { readonly watch: number; readonly limit: LimitName; readonly value: number; at: number | null }[] =
    [];
  readonly #report: readonly number[];
  readonly #order: readonly number[];
  readonly #values: Float64Array[];
  #next = 0;
  #trusted = true;

  constructor(line: Line, start: number, report: readonly number[]) {
    this.#line = line;
    for (const [w, watch] of line.watch.entries()) {
      for (const limit of LIMITS) {
        const value = watch[limit];
        if (value !== undefined) this.#limits.push({ watch: w, limit, value, at: start >= value ? 0 : null });
      }
    }
    this.#report = report;
    this.#order = report.map((_, i) => i).sort((i, j) => report[i] - report[j]);
    this.#values = line.watch.map(() => new Float64Array(report.length).fill(start));
    // At 0 nothing has been done yet.
    while (this.#next < report.length && report[this.#order[this.#next]] <= 0) this.#next += 1;
  }

  see(span: Span): undefined {
    const length = span.to - span.from;
    for (const limit of this.#limits) {
      if (limit.at !== null) continue;
      const w = limit.watch;
      const p = parabola(span.p0[w], span.pm[w], span.p1[w]);
      const s = risesTo(p, limit.value);
      if (s === undefined) continue;
      limit.at = span.from + s * length;
      const slope = Math.abs(p.b + 2 * p.c * s) / length;
      if (span.gap[w] / 3 > CROSSING * slope && span.gap[w] > 1e-5) this.#trusted = false;
    }
    // The last time of the programme may lie a rounding beyond its sum.
    while (this.#next < this.#report.length) {
      const i = this.#order[this.#next];
      const t = this.#report[i];
      if (t > span.to * (1 + 1e-12)) break;
      const s = Math.min(1, (t - span.from) / length);
      for (let w = 0; w < this.#values.length; w += 1) {
        this.#values[w][i] = at(parabola(span.p0[w], span.pm[w], span.p1[w]), s);
        if (span.gap[w] > SPACE) this.#trusted = false;
      }
      this.#next += 1;
    }
    // A report a rounding past the end of the programme is caught by the last span seen.
    for (let n = this.#next; n < this.#report.length; n += 1) {
      const i = this.#order[n];
      for (let w = 0; w < this.#values.length; w += 1) this.#values[w][i] = span.p1[w];
    }
    return undefined;
  }

  trusted(): boolean {
    return this.#trusted;
  }

  reached(): Reached[] {
    return this.#limits.map(({ watch, limit, at }) => ({ watch: this.#line.watch[watch].name, limit, at }));
  }

  faces(): FaceSeries[] {
    return this.#line.watch.map((watch, w) => ({
      watch: watch.name,
      at: this.#report,
      degC: Array.from(this.#values[w]),
    }));
  }
}
