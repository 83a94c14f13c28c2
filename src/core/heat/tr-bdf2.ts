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
  readonly #factors = [new Factor(0), new Factor(0)];
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
    const f = this.#f;
    const v = this.#v;
    const last = n - 1;
    const hot0 = gHot * (tHot - from[0]);
    const cool0 = gCool * (tCool - from[last]);
    let flux = hot0;
    for (let i = 0; i < last; i += 1) {
      const next = g[i] * (from[i] - from[i + 1]);
      f[i] = flux - next;
      flux = next;
    }
    f[last] = flux + cool0;
    for (let i = 0; i < n; i += 1) v[i] = 2 * d * f[i];
    factor.solve(v);
    const v0 = v[0];
    const vn = v[last];
    for (let i = 0; i < n; i += 1) v[i] = RATIO * c[i] * v[i] + d * f[i];
    factor.solve(v);
    const heat =
      dt *
      ((2 * W1 + GAMMA / 2) * (hot0 + cool0) -
        gHot * (W1 * v0 + (GAMMA / 2) * v[0]) -
        gCool * (W1 * vn + (GAMMA / 2) * v[last]));
    for (let i = 0; i < n; i += 1) to[i] = from[i] + v[i];
    return heat;
  }
}

/** C + d K factored by the Thomas algorithm; the matrix is diagonally dominant, so no pivoting. */
class Factor {
  dt = -1;
  readonly #upper: Float64Array;
  readonly #inverse: Float64Array;
  readonly #off: Float64Array;
  readonly #n: number;

  constructor(n: number) {
    this.#n = n;
    this.#upper = new Float64Array(n);
    this.#inverse = new Float64Array(n);
    this.#off = new Float64Array(n);
  }

  make(c: Float64Array, g: Float64Array, gHot: number, gCool: number, d: number, dt: number): void {
    const n = this.#n;
    const upper = this.#upper;
    const inverse = this.#inverse;
    const off = this.#off;
    let below = 0;
    let carry = 0;
    for (let i = 0; i < n; i += 1) {
      const left = i === 0 ? gHot : g[i - 1];
      const right = i === n - 1 ? gCool : g[i];
      const pivot = c[i] + d * (left + right) - below * carry;
      inverse[i] = 1 / pivot;
      below = i === n - 1 ? 0 : d * g[i];
      carry = below * inverse[i];
      upper[i] = carry;
      off[i] = below;
    }
    this.dt = dt;
  }

  solve(x: Float64Array): void {
    const n = this.#n;
    const upper = this.#upper;
    const inverse = this.#inverse;
    const off = this.#off;
    let y = x[0] * inverse[0];
    x[0] = y;
    for (let i = 1; i < n; i += 1) {
      y = (x[i] + off[i - 1] * y) * inverse[i];
      x[i] = y;
    }
    for (let i = n - 2; i >= 0; i -= 1) {
      y = x[i] + upper[i] * y;
      x[i] = y;
    }
  }
}
