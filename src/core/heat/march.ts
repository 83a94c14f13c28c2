/**
 * Marches one line of layers through stages with error control in time and space.
 *
 * Time: every step is done once whole and once as two halves; their difference is the error estimate (tolerance in K,
 * largest over all cells) and (4 halves - whole)/3 is kept, which is of third order. Space: two meshes, one twice as
 * fine, march in lock-step, and what is read off is extrapolated, (4 fine - coarse)/3; their difference says how far the
 * meshes can be trusted (`gap`). Both combinations are linear, so stored heat still equals summed flux to rounding.
 * Inside a step a face follows the parabola through its values at the beginning, the middle and the end.
 * Cost: 6 tridiagonal solves a step and mesh; some 100 to 250 steps for a heating.
 */
import { type Mesh, makeMesh } from "./mesh.ts";
import type { End, Layer } from "./stack.ts";
import { foldEnds, Stepper } from "./tr-bdf2.ts";

export interface Settings {
  /** K, largest error of a step. */
  readonly tolerance: number;
  /** s, shortest time that the mesh resolves. */
  readonly resolve: number;
  /** Multiplies the cells of every layer. */
  readonly refine: number;
}

export interface MarchState {
  readonly coarse: Float64Array;
  readonly fine: Float64Array;
  /** Seconds since the beginning. */
  time: number;
  /** J/m2 that came in through both ends since the beginning, and the sum of its absolute values (both on the fine mesh). */
  heat: number;
  exchanged: number;
  /** Step in seconds that the error control would take next; 0: begin small. */
  step: number;
}

/** One accepted step as the probes saw it. The arrays are reused: copy what is to be kept. */
export interface Span {
  from: number;
  to: number;
  /** degC at the beginning, the middle and the end of the step, extrapolated in space. */
  readonly p0: Float64Array;
  readonly p1: Float64Array;
  readonly pm: Float64Array;
  /** K between the two meshes at the end of the step; a third of it is the error that extrapolation removes. */
  readonly gap: Float64Array;
}

export interface Ambient {
  readonly hot: End;
  readonly cool: End;
}

/** Marches one line. Not shared between marches that run at the same time. */
export class Marcher {
  readonly layers: readonly Layer[];
  readonly start: number;
  readonly settings: Settings;
  readonly meshes: readonly [Mesh, Mesh];
  steps = 0;
  readonly #steppers: readonly [Stepper, Stepper];
  readonly #whole: readonly [Float64Array, Float64Array];
  readonly #middle: readonly [Float64Array, Float64Array];
  readonly #end: readonly [Float64Array, Float64Array];
  readonly #probes: readonly number[];
  readonly #span: Span;

  /** `probes` are faces as numbered by `faceIndex`. */
  constructor(layers: readonly Layer[], start: number, probes: readonly number[], settings: Settings) {
    this.layers = layers;
    this.start = start;
    this.settings = settings;
    const { resolve, refine } = settings;
    this.meshes = [makeMesh(layers, { resolve, refine }), makeMesh(layers, { resolve, refine: 2 * refine })];
    this.#steppers = [new Stepper(this.meshes[0]), new Stepper(this.meshes[1])];
    const buffers = (): [Float64Array, Float64Array] => [
      new Float64Array(this.meshes[0].c.length),
      new Float64Array(this.meshes[1].c.length),
    ];
    this.#whole = buffers();
    this.#middle = buffers();
    this.#end = buffers();
    this.#probes = probes;
    const values = () => new Float64Array(probes.length);
    this.#span = { from: 0, to: 0, p0: values(), pm: values(), p1: values(), gap: values() };
  }

  initial(): MarchState {
    return {
      coarse: new Float64Array(this.meshes[0].c.length).fill(this.start),
      fine: new Float64Array(this.meshes[1].c.length).fill(this.start),
      time: 0,
      heat: 0,
      exchanged: 0,
      step: 0,
    };
  }

  /** J/m2 held above the start. */
  stored(state: MarchState): number {
    const { c } = this.meshes[1];
    let sum = 0;
    for (let i = 0; i < c.length; i += 1) sum += c[i] * (state.fine[i] - this.start);
    return sum;
  }

  /** The hottest cell of either mesh, degC. */
  hottest(state: MarchState): number {
    let most = Number.NEGATIVE_INFINITY;
    for (const u of [state.coarse, state.fine]) for (let i = 0; i < u.length; i += 1) if (u[i] > most) most = u[i];
    return most;
  }

  /**
   * Advances `state` by `seconds` under `ambient`. `visit` sees every accepted step and may end the march by returning
   * true; the state then stands at the end of that step. Returns whether it was ended that way. `goesOn`: the same
   * surroundings as before, so the step of before is kept.
   */
  run(
    state: MarchState,
    ambient: Ambient,
    seconds: number,
    visit?: (span: Span) => boolean | undefined,
    goesOn = false,
  ): boolean {
    if (seconds <= 0) return false;
    const [a, b] = this.#steppers;
    a.setEnds(foldEnds(a.mesh, ambient.hot, ambient.cool));
    b.setEnds(foldEnds(b.mesh, ambient.hot, ambient.cool));
    const span = this.#span;
    const begin = state.time;
    const end = begin + seconds;
    this.#read(span.p0, state.coarse, state.fine, ambient);
    let dt = Math.min(seconds, goesOn && state.step > 0 ? state.step : this.#firstStep());
    let done = 0;
    while (done < seconds) {
      // A rest too short to matter is swallowed by the last step instead of becoming one of its own.
      const rest = seconds - done;
      const closing = dt >= rest * (1 - 1e-9);
      const now = closing ? rest : Math.min(dt, rest / 2);
      const heatA = this.#try(a, 0, state.coarse, now);
      const heatB = this.#try(b, 1, state.fine, now);
      const error = Math.max(this.#error(0), this.#error(1));
      const tolerance = this.settings.tolerance;
      if (!(error <= tolerance) && now > 1e-9 * Math.max(1e-6, seconds)) {
        dt = now * Math.max(0.15, 0.85 * Math.cbrt(tolerance / error));
        continue;
      }
      if (!Number.isFinite(heatA + heatB)) throw new Error("heat march left the numbers");
      this.steps += 1;
      this.#read(span.pm, this.#middle[0], this.#middle[1], ambient);
      state.coarse.set(this.#whole[0]);
      state.fine.set(this.#whole[1]);
      state.heat += heatB;
      state.exchanged += Math.abs(heatB);
      done = closing ? seconds : done + now;
      state.time = closing ? end : begin + done;
      span.from = closing ? end - now : state.time - now;
      const grow = Math.min(4, 0.85 * Math.cbrt(tolerance / Math.max(error, 1e-30)));
      // Keeping the step keeps the factorisation.
      dt = grow > 1.3 ? now * grow : grow < 1 ? now * Math.max(grow, 0.3) : now;
      if (!closing || dt > state.step) state.step = dt;
      span.to = state.time;
      this.#read(span.p1, state.coarse, state.fine, ambient, span.gap);
      if (visit?.(span) === true) return true;
      span.p0.set(span.p1);
    }
    return false;
  }

  /** A fraction of the time constant of the quicker end cell: the step input is felt there first. */
  #firstStep(): number {
    const { c, g, gHot, gCool } = this.meshes[1];
    const n = c.length;
    const time = (i: number) => c[i] / Math.max(1e-30, (i === 0 ? gHot : g[i - 1]) + (i === n - 1 ? gCool : g[i]));
    return 0.3 * Math.min(time(0), time(n - 1));
  }

  #try(stepper: Stepper, m: 0 | 1, u: Float64Array, dt: number): number {
    const whole = stepper.step(u, this.#whole[m], dt, 0);
    const half = stepper.step(u, this.#middle[m], dt / 2, 1);
    const halves = half + stepper.step(this.#middle[m], this.#end[m], dt / 2, 1);
    return halves + (halves - whole) / 3;
  }

  /** Puts (4 halves - whole)/3 where the whole step was; returns the largest third of the difference. */
  #error(m: 0 | 1): number {
    const whole = this.#whole[m];
    const end = this.#end[m];
    const n = end.length;
    let most = 0;
    for (let i = 0; i < n; i += 1) {
      const e = (end[i] - whole[i]) / 3;
      whole[i] = end[i] + e;
      const x = e < 0 ? -e : e;
      if (!(x <= most)) most = x;
    }
    return most;
  }

  #read(into: Float64Array, coarse: Float64Array, fine: Float64Array, ambient: Ambient, gap?: Float64Array): void {
    for (let p = 0; p < into.length; p += 1) {
      const c = faceOf(this.meshes[0], coarse, this.#probes[p], ambient);
      const f = faceOf(this.meshes[1], fine, this.#probes[p], ambient);
      into[p] = f + (f - c) / 3;
      if (gap !== undefined) gap[p] = Math.abs(f - c);
    }
  }

  /** Every face now, near and far of each layer in turn, extrapolated in space. */
  profile(state: MarchState, ambient: Ambient): Float64Array {
    const all = new Float64Array(2 * this.layers.length);
    for (let p = 0; p < all.length; p += 1) {
      const c = faceOf(this.meshes[0], state.coarse, p, ambient);
      const f = faceOf(this.meshes[1], state.fine, p, ambient);
      all[p] = f + (f - c) / 3;
    }
    return all;
  }
}

export function copyState(state: MarchState): MarchState {
  return { ...state, coarse: state.coarse.slice(), fine: state.fine.slice() };
}

/** Temperature of a layer's own face, from the flux that crosses it. */
function faceOf(mesh: Mesh, u: Float64Array, face: number, ambient: Ambient): number {
  const layer = face >> 1;
  if ((face & 1) === 0) {
    const i = mesh.first[layer];
    if (i === 0) return endFace(mesh.gHot, u[0], ambient.hot);
    return u[i] + (mesh.g[i - 1] * (u[i - 1] - u[i])) / mesh.near[layer];
  }
  const i = mesh.first[layer + 1] - 1;
  if (i === u.length - 1) return endFace(mesh.gCool, u[i], ambient.cool);
  return u[i] - (mesh.g[i] * (u[i] - u[i + 1])) / mesh.far[layer];
}

function endFace(half: number, cell: number, end: End): number {
  if (end.h === null) return end.temperature;
  return (half * cell + end.h * end.temperature) / (half + end.h);
}
