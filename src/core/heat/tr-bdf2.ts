/**
 * One TR-BDF2 step of C u' = f - K u, K tridiagonal, C diagonal.
 *
 * Trapezoidal rule to t + gamma dt, then the second backward difference formula to t + dt, gamma = 2 - sqrt 2, so that
 * both stages have the matrix C + (gamma dt/2) K. Second order, L-stable: the step inputs of this job leave no ringing,
 * which the Crank-Nicolson rule does. Source: Bank, Coughran, Fichtner, Grosse, Rose, Smith, IEEE Trans. Electron
 * Devices 32 (1985) 1992; Hosea and Shampine, Appl. Numer. Math. 20 (1996) 21.
 *
 * Both stages are solved for the increment, so that rounding is relative to the change and not to the temperature; with
 * v = u* - u the second stage needs no second evaluation of the fluxes, because C v = (gamma dt/2)(F(u) + F(u*)):
 *   (C + d K) v = 2 d F(u),   (C + d K) w = (w1/(gamma/2)) C v + d F(u),   u+ = u + w,   d = gamma dt/2, w1 = sqrt 2/4.
 * Heat through the ends is summed with the scheme's own weights dt (w1, w1, gamma/2) at t, t + gamma dt, t + dt, so that
 * stored heat and summed flux agree to rounding. Cost: two tridiagonal solves a step.
 */
import type { Mesh } from "./mesh.ts";
import type { End } from "./stack.ts";

const GAMMA = 2 - Math.SQRT2;
const W1 = Math.SQRT2 / 4;
const RATIO = W1 / (GAMMA / 2);

/** The two ends folded into conductances: W/(m2.K) from the end cell to `t`, degC. */
export interface Ends {
  readonly gHot: number;
  readonly tHot: number;
  readonly gCool: number;
  readonly tCool: number;
}

export function foldEnds(mesh: Mesh, hot: End, cool: End): Ends {
  return {
    gHot: fold(mesh.gHot, hot.h),
    tHot: hot.temperature,
    gCool: fold(mesh.gCool, cool.h),
    tCool: cool.temperature,
  };
}

/** Half a cell and the surface in series. */
function fold(half: number, h: number | null): number {
  if (h === null) return half;
  return h === 0 ? 0 : (half * h) / (half + h);
}

/** Buffers of one mesh, so that a march allocates nothing. */
export class Stepper {
  readonly mesh: Mesh;
  readonly n: number;
  #ends: Ends = { gHot: 0, tHot: 0, gCool: 0, tCool: 0 };
  // Two factorisations: the whole step and its half.
  readonly #factors: readonly [Factor, Factor];
  readonly #f: Float64Array;
  readonly #v: Float64Array;

  constructor(mesh: Mesh) {
    this.mesh = mesh;
    this.n = mesh.c.length;
    this.#factors = [new Factor(this.n), new Factor(this.n)];
    this.#f = new Float64Array(this.n);
    this.#v = new Float64Array(this.n);
  }

  get ends(): Ends {
    return this.#ends;
  }

  setEnds(ends: Ends): void {
    this.#ends = ends;
    this.#factors[0].dt = -1;
    this.#factors[1].dt = -1;
  }

  /** Advances `from` by dt into `to`; returns the heat in J/m2 that came in through the ends. `to` may be `from`. */
  step(from: Float64Array, to: Float64Array, dt: number, slot: 0 | 1): number {
    const { n } = this;
    const { c, g } = this.mesh;
    const { gHot, tHot, gCool, tCool } = this.#ends;
    const factor = this.#factors[slot];
    const d = (GAMMA * dt) / 2;
    if (factor.dt !== dt) factor.make(c, g, gHot, gCool, d, dt);
    // Each sweep does several things at once: a command runs this a few thousand times, before it is compiled well.
    const { inverse, off, upper } = factor;
    const f = this.#f;
    const v = this.#v;
    const last = n - 1;
    const hot0 = gHot * (tHot - from[0]);
    const cool0 = gCool * (tCool - from[last]);
    const d2 = 2 * d;
    let flux = hot0;
    let y = 0;
    let below = 0;
    let here = from[0];
    for (let i = 0; i < last; i += 1) {
      const there = from[i + 1];
      const next = g[i] * (here - there);
      const net = flux - next;
      f[i] = net;
      y = (d2 * net + below * y) * inverse[i];
      v[i] = y;
      below = off[i];
      flux = next;
      here = there;
    }
    f[last] = flux + cool0;
    y = (d2 * f[last] + below * y) * inverse[last];
    v[last] = y;
    const vn = y;
    for (let i = last - 1; i >= 0; i -= 1) {
      y = v[i] + upper[i] * y;
      v[i] = y;
    }
    const v0 = y;
    y = 0;
    below = 0;
    for (let i = 0; i < n; i += 1) {
      y = (RATIO * c[i] * v[i] + d * f[i] + below * y) * inverse[i];
      v[i] = y;
      below = off[i];
    }
    const wn = y;
    to[last] = from[last] + y;
    for (let i = last - 1; i >= 0; i -= 1) {
      y = v[i] + upper[i] * y;
      to[i] = from[i] + y;
    }
    return (
      dt *
      ((2 * W1 + GAMMA / 2) * (hot0 + cool0) -
        gHot * (W1 * v0 + (GAMMA / 2) * y) -
        gCool * (W1 * vn + (GAMMA / 2) * wn))
    );
  }
}

/** C + d K factored by the Thomas algorithm; the matrix is diagonally dominant, so no pivoting. */
class Factor {
  dt = -1;
  readonly upper: Float64Array;
  readonly inverse: Float64Array;
  readonly off: Float64Array;

  constructor(n: number) {
    this.upper = new Float64Array(n);
    this.inverse = new Float64Array(n);
    this.off = new Float64Array(n);
  }

  make(c: Float64Array, g: Float64Array, gHot: number, gCool: number, d: number, dt: number): void {
    const { upper, inverse, off } = this;
    const last = c.length - 1;
    let below = 0;
    let carry = 0;
    let left = d * gHot;
    for (let i = 0; i < last; i += 1) {
      const right = d * g[i];
      const x = 1 / (c[i] + left + right - below * carry);
      inverse[i] = x;
      off[i] = right;
      carry = right * x;
      upper[i] = carry;
      below = right;
      left = right;
    }
    inverse[last] = 1 / (c[last] + left + d * gCool - below * carry);
    this.dt = dt;
  }
}
