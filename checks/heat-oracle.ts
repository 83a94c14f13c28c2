/**
 * Two independent references for conduction in a stack, sharing nothing with the finite volumes.
 *
 * `Quadrupoles`: the exact solution in the Laplace domain (each layer as a two-port with coth and 1/sinh; Maillet et al.,
 * Thermal Quadrupoles, Wiley 2000) and the fixed Talbot inversion (Abate and Valko, Int. J. Numer. Meth. Engng 60 (2004)
 * 979). Stacks that start uniform; surroundings may jump, their h may not.
 *
 * `Collocation`: Chebyshev points in each layer, the resolvent solved densely at Talbot's nodes. For programmes whose h
 * changes: each stage starts from the profile that the one before left.
 */
import { type Complex, complexSolve, complexTridiagonal } from "./heat-complex.ts";

export interface OracleLayer {
  /** m, W/(m.K), J/(m3.K), m2.K/W to the next layer (0: perfect) */
  readonly L: number;
  readonly k: number;
  readonly rc: number;
  readonly R?: number;
}

/** h of an end: null holds the face. */
export type OracleH = number | null;

const M = 24;
const DELTA: Complex[] = [];
const GAMMA: Complex[] = [];
for (let k = 0; k < M; k += 1) {
  if (k === 0) {
    DELTA.push([(2 * M) / 5, 0]);
    GAMMA.push([Math.exp((2 * M) / 5) / 2, 0]);
    continue;
  }
  const angle = (k * Math.PI) / M;
  const cot = 1 / Math.tan(angle);
  const re = ((2 * k * Math.PI) / 5) * cot;
  const im = (2 * k * Math.PI) / 5;
  DELTA.push([re, im]);
  const a: Complex = [1, angle * (1 + cot * cot) - cot];
  const e = Math.exp(re);
  const ex: Complex = [e * Math.cos(im), e * Math.sin(im)];
  GAMMA.push([a[0] * ex[0] - a[1] * ex[1], a[0] * ex[1] + a[1] * ex[0]]);
}

/** f(t) from its Laplace transform, several functions at once. */
export function talbot(transform: (s: Complex) => readonly Complex[], t: number): number[] {
  const sum: number[] = [];
  for (let k = 0; k < M; k += 1) {
    const values = transform([DELTA[k][0] / t, DELTA[k][1] / t]);
    for (const [i, value] of values.entries())
      sum[i] = (sum[i] ?? 0) + (GAMMA[k][0] * value[0] - GAMMA[k][1] * value[1]) * (0.4 / t);
  }
  return sum;
}

export class Quadrupoles {
  readonly #layers: readonly OracleLayer[];
  readonly #hot: OracleH;
  readonly #cool: OracleH;

  constructor(layers: readonly OracleLayer[], hot: OracleH, cool: OracleH) {
    this.#layers = layers;
    this.#hot = hot;
    this.#cool = cool;
  }

  /**
   * All faces (near and far of each layer) at `t` for unit steps of the surroundings at 0: [hot response, cool response].
   */
  step(t: number): [number[], number[]] {
    const all = talbot((s) => [...this.#faces(s, 1, 0), ...this.#faces(s, 0, 1)], t);
    const n = 2 * this.#layers.length;
    return [all.slice(0, n), all.slice(n)];
  }

  /** All faces at `t`; `jumps`: [time, hot degC, cool degC] from that time on; `start` everywhere before. */
  at(t: number, start: number, jumps: readonly (readonly [number, number, number])[]): number[] {
    const faces = new Array<number>(2 * this.#layers.length).fill(start);
    let hot = start;
    let cool = start;
    for (const [when, tHot, tCool] of jumps) {
      if (when >= t) break;
      const [fromHot, fromCool] = this.step(t - when);
      for (let i = 0; i < faces.length; i += 1) faces[i] += (tHot - hot) * fromHot[i] + (tCool - cool) * fromCool[i];
      hot = tHot;
      cool = tCool;
    }
    return faces;
  }

  #faces(s: Complex, hot: number, cool: number): Complex[] {
    const { place, count } = this.#nodes();
    const diag: Complex[] = Array.from({ length: count }, () => [0, 0]);
    const off: Complex[] = Array.from({ length: count - 1 }, () => [0, 0]);
    const rhs: Complex[] = Array.from({ length: count }, () => [0, 0]);
    for (const [l, layer] of this.#layers.entries()) {
      // q = sqrt(s/alpha)
      const q = root([(s[0] * layer.rc) / layer.k, (s[1] * layer.rc) / layer.k]);
      const qL: Complex = [q[0] * layer.L, q[1] * layer.L];
      const e1 = exp([-qL[0], -qL[1]]);
      const e2 = times(e1, e1);
      const kq: Complex = [layer.k * q[0], layer.k * q[1]];
      const under = over([1, 0], [1 - e2[0], -e2[1]]);
      const cross = times(times(kq, [2 * e1[0], 2 * e1[1]]), under);
      // coth - 1/sinh = tanh(qL/2): the heat that the layer itself takes, free of cancellation.
      const own = times(kq, tanhHalf(e1));
      const near = place[2 * l];
      const far = place[2 * l + 1];
      for (const i of [near, far]) {
        add(diag[i], own);
        add(diag[i], cross);
      }
      add(off[near], [-cross[0], -cross[1]]);
      if (l + 1 < this.#layers.length && place[2 * l + 2] !== far) {
        const contact = 1 / (layer.R ?? 0);
        add(diag[far], [contact, 0]);
        add(diag[far + 1], [contact, 0]);
        add(off[far], [-contact, 0]);
      }
    }
    const inverse = over([1, 0], s);
    end(diag, off, rhs, 0, this.#hot, [inverse[0] * hot, inverse[1] * hot]);
    end(diag, off, rhs, count - 1, this.#cool, [inverse[0] * cool, inverse[1] * cool]);
    const nodes = complexTridiagonal(diag, off, rhs);
    return place.map((node) => nodes[node]);
  }

  /** One node a face; faces in perfect contact share theirs. */
  #nodes(): { place: number[]; count: number } {
    const place: number[] = [];
    let node = 0;
    for (const layer of this.#layers) {
      place.push(node);
      node += 1;
      place.push(node);
      if (layer.R !== undefined && layer.R > 0) node += 1;
    }
    return { place, count: place[place.length - 1] + 1 };
  }
}

/** tanh(qL/2) from exp(-qL). */
function tanhHalf(e: Complex): Complex {
  return over([1 - e[0], -e[1]], [1 + e[0], e[1]]);
}

function end(diag: Complex[], off: Complex[], rhs: Complex[], i: number, h: OracleH, surrounding: Complex): void {
  if (h !== null) {
    add(diag[i], [h, 0]);
    add(rhs[i], [h * surrounding[0], h * surrounding[1]]);
    return;
  }
  // A held node is known: its neighbour gets the flux, its own row says what it is.
  const link = i === 0 ? 0 : i - 1;
  const other = i === 0 ? 1 : i - 1;
  const flux = times(off[link], surrounding);
  rhs[other] = [rhs[other][0] - flux[0], rhs[other][1] - flux[1]];
  off[link] = [0, 0];
  diag[i] = [1, 0];
  rhs[i] = surrounding;
}

export class Collocation {
  readonly #layers: readonly OracleLayer[];
  readonly #n: number;
  readonly #d1: number[][];
  readonly #d2: number[][];
  /** Nodal temperatures, hot side first, `n` a layer. */
  u: number[];

  constructor(layers: readonly OracleLayer[], start: number, n = 24) {
    this.#layers = layers;
    this.#n = n;
    const x = Array.from({ length: n }, (_, i) => (1 - Math.cos((Math.PI * i) / (n - 1))) / 2);
    this.#d1 = differentiation(x);
    this.#d2 = product(this.#d1, this.#d1);
    this.u = new Array<number>(n * layers.length).fill(start);
  }

  /** Faces after `t` more seconds; with `keep` that becomes the new profile. */
  advance(t: number, hot: { h: OracleH; T: number }, cool: { h: OracleH; T: number }, keep = true): number[] {
    const n = this.#n;
    const size = n * this.#layers.length;
    const u = talbot((s) => this.#resolvent(s, hot, cool), t).slice(0, size);
    if (keep) this.u = u;
    return this.#layers.flatMap((_, l) => [u[l * n], u[l * n + n - 1]]);
  }

  #resolvent(s: Complex, hot: { h: OracleH; T: number }, cool: { h: OracleH; T: number }): Complex[] {
    const n = this.#n;
    const size = n * this.#layers.length;
    const a: Complex[][] = Array.from({ length: size }, () => Array.from({ length: size }, (): Complex => [0, 0]));
    const b: Complex[] = Array.from({ length: size }, (): Complex => [0, 0]);
    for (const [l, layer] of this.#layers.entries()) {
      const at = l * n;
      const scale = layer.k / (layer.L * layer.L * layer.rc);
      for (let i = 1; i < n - 1; i += 1) {
        for (let j = 0; j < n; j += 1) a[at + i][at + j] = [-scale * this.#d2[i][j], 0];
        a[at + i][at + i][0] += s[0];
        a[at + i][at + i][1] += s[1];
        b[at + i] = [this.u[at + i], 0];
      }
    }
    const inverse = over([1, 0], s);
    this.#outer(a, b, 0, 0, -1, hot, inverse);
    this.#outer(a, b, size - 1, this.#layers.length - 1, 1, cool, inverse);
    for (let l = 0; l + 1 < this.#layers.length; l += 1) {
      const far = l * n + n - 1;
      const near = far + 1;
      const left = this.#layers[l];
      const right = this.#layers[l + 1];
      for (let j = 0; j < n; j += 1) {
        const gl = (left.k / left.L) * this.#d1[n - 1][j];
        const gr = (right.k / right.L) * this.#d1[0][j];
        // Flux continuous, and T(far) - T(near) = R q with q = -k dT/dx.
        a[far][l * n + j][0] += gl;
        a[far][near + j][0] -= gr;
        a[near][l * n + j][0] += (left.R ?? 0) * gl;
      }
      a[near][far][0] += 1;
      a[near][near][0] -= 1;
    }
    return complexSolve(a, b);
  }

  #outer(
    a: Complex[][],
    b: Complex[],
    row: number,
    l: number,
    sign: number,
    side: { h: OracleH; T: number },
    inverse: Complex,
  ) {
    const n = this.#n;
    if (side.h === null) {
      a[row][row] = [1, 0];
      b[row] = [side.T * inverse[0], side.T * inverse[1]];
      return;
    }
    const layer = this.#layers[l];
    const i = sign < 0 ? 0 : n - 1;
    // sign k dT/dx + h T = h Tinf
    for (let j = 0; j < n; j += 1) a[row][l * n + j][0] += sign * (layer.k / layer.L) * this.#d1[i][j];
    a[row][row][0] += side.h;
    b[row] = [side.h * side.T * inverse[0], side.h * side.T * inverse[1]];
  }
}

/** Chebyshev differentiation on [0, 1] with the negative-sum diagonal (Trefethen, Spectral Methods in MATLAB, ch. 6). */
function differentiation(x: readonly number[]): number[][] {
  const n = x.length;
  const c = x.map((_, i) => (i === 0 || i === n - 1 ? 2 : 1) * (i % 2 === 0 ? 1 : -1));
  const d = x.map((xi, i) => x.map((xj, j) => (i === j ? 0 : c[i] / c[j] / (xi - xj))));
  for (let i = 0; i < n; i += 1) d[i][i] = -d[i].reduce((sum, value) => sum + value, 0);
  return d;
}

function product(a: readonly number[][], b: readonly number[][]): number[][] {
  return a.map((row) => b[0].map((_, j) => row.reduce((sum, value, k) => sum + value * b[k][j], 0)));
}

function add(to: Complex, x: Complex): void {
  to[0] += x[0];
  to[1] += x[1];
}
function times(a: Complex, b: Complex): Complex {
  return [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]];
}
function over(a: Complex, b: Complex): Complex {
  const d = b[0] * b[0] + b[1] * b[1];
  return [(a[0] * b[0] + a[1] * b[1]) / d, (a[1] * b[0] - a[0] * b[1]) / d];
}
function exp(z: Complex): Complex {
  const e = Math.exp(z[0]);
  return [e * Math.cos(z[1]), e * Math.sin(z[1])];
}
function root(z: Complex): Complex {
  const r = Math.hypot(z[0], z[1]);
  const re = Math.sqrt((r + z[0]) / 2);
  const im = Math.sqrt(Math.max(0, (r - z[0]) / 2));
  return [re, z[1] < 0 ? -im : im];
}
