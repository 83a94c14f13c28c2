/**
 * Two or more measured values against each other: difference, ratio, equivalence, extremum, ranking, weighted mean.
 *
 * Ratio intervals by Fieller (1954); P(r > q) needs no linearisation: it is the probability that a - q·b lies above zero.
 * With finite degrees of freedom Student's t with Welch's number of them takes the normal's place.
 */
import { InputError } from "../errors.ts";
import {
  chiSquared,
  coverageFactor,
  normalCdf,
  normalDensity,
  normalQuantile,
  studentCdf,
  studentDensity,
} from "./distributions.ts";
import type { Result, Uncertain } from "./propagate.ts";
import { finish, welchSatterthwaite } from "./propagate.ts";

/** Bands that words stand for, relative to the fraction named; policy, not physics ("just over half" = 0.50 to 0.55). */
export const BANDS = {
  over: [1, Number.POSITIVE_INFINITY],
  under: [Number.NEGATIVE_INFINITY, 1],
  "just-over": [1, 1.1],
  almost: [0.9, 1],
  about: [0.9, 1.1],
} as const satisfies Record<string, readonly [number, number]>;
export type Band = keyof typeof BANDS;

export interface Comparison extends Result {
  readonly interval: readonly [number, number];
  readonly probability: number;
  /** What the probability is of, in words. */
  readonly of: string;
  /** (value - threshold) / u. */
  readonly z: number;
}

export interface ComparisonOptions {
  readonly covariance?: number;
  readonly threshold?: number;
  readonly band?: Band | readonly [number, number];
  readonly level?: number;
  readonly unit?: string;
}

/** P(X <= x) of a value with u and dof; u = 0 is a certainty. */
export function probabilityBelow(x: number, value: number, u: number, dof = Number.POSITIVE_INFINITY): number {
  if (x === Number.POSITIVE_INFINITY) return 1;
  if (x === Number.NEGATIVE_INFINITY) return 0;
  if (u === 0) return value < x ? 1 : value > x ? 0 : 0.5;
  return studentCdf((x - value) / u, dof);
}

/** a - b: is it above the threshold (0 where left out), or within the band? */
export function difference(a: Uncertain, b: Uncertain, options: ComparisonOptions = {}): Comparison {
  const { covariance = 0, level = 0.95 } = options;
  const variance = a.u ** 2 + b.u ** 2 - 2 * covariance;
  checkCovariance(a, b, covariance, variance);
  const u = Math.sqrt(Math.max(0, variance));
  const dof = covariance === 0 ? welch(a, b) : Math.min(a.dof ?? Infinity, b.dof ?? Infinity);
  const result = finish(a.value - b.value, u, dof, level, options.unit);
  const threshold = options.threshold ?? 0;
  const [low, high] = bandOf(options, threshold);
  const probability = probabilityBelow(high, result.value, u, dof) - probabilityBelow(low, result.value, u, dof);
  return {
    ...result,
    interval: [result.value - result.U, result.value + result.U],
    probability,
    of: bandText("a - b", low, high),
    z: (result.value - threshold) / u,
  };
}

/**
 * a / b: is it above the threshold (1 where left out), or within the band?
 *
 * @throws InputError where b is not clear of zero: Fieller's interval is then no interval.
 */
export function ratio(a: Uncertain, b: Uncertain, options: ComparisonOptions = {}): Comparison {
  const { covariance = 0, level = 0.95 } = options;
  checkCovariance(a, b, covariance, a.u ** 2 + b.u ** 2 - 2 * covariance);
  // Welch-Satterthwaite on the linear form a - r·b.
  const r = a.value / b.value;
  const dof = welchSatterthwaite([
    [a.u, a.dof ?? Number.POSITIVE_INFINITY],
    [r * b.u, b.dof ?? Number.POSITIVE_INFINITY],
  ]);
  const t = coverageFactor(level, dof > 0 ? dof : Number.POSITIVE_INFINITY);
  const A = b.value ** 2 - t * t * b.u ** 2;
  if (!(A > 0)) {
    throw new InputError({
      path: "b",
      found: `${b.value} with u ${b.u}`,
      expected: `a denominator clear of zero: |b| above ${t.toFixed(2)} u`,
    });
  }
  const B = a.value * b.value - t * t * covariance;
  const C = a.value ** 2 - t * t * a.u ** 2;
  const root = Math.sqrt(Math.max(0, B * B - A * C));
  const u = Math.sqrt(Math.max(0, a.u ** 2 + r * r * b.u ** 2 - 2 * r * covariance)) / Math.abs(b.value);
  const threshold = options.threshold ?? 1;
  const [low, high] = bandOf(options, threshold);
  const sign = Math.sign(b.value);
  const below = (q: number) => {
    if (!Number.isFinite(q)) return q > 0 ? 1 : 0;
    const spread = Math.sqrt(Math.max(0, a.u ** 2 + q * q * b.u ** 2 - 2 * q * covariance));
    return 1 - probabilityBelow(0, -sign * (a.value - q * b.value), spread, dof) || 0;
  };
  const at = a.u ** 2 + threshold ** 2 * b.u ** 2 - 2 * threshold * covariance;
  return {
    ...finish(r, u, dof, level, options.unit),
    interval: [(B - root) / A, (B + root) / A],
    probability: below(high) - below(low),
    of: bandText("a / b", low, high),
    z: (sign * (a.value - threshold * b.value)) / Math.sqrt(Math.max(0, at)),
  };
}

function bandOf(options: ComparisonOptions, threshold: number): readonly [number, number] {
  const { band } = options;
  if (band === undefined) return [threshold, Number.POSITIVE_INFINITY];
  if (typeof band !== "string") {
    if (!(band[0] < band[1])) {
      throw new InputError({ path: "band", found: `[${band.join(", ")}]`, expected: "a lower and a higher limit" });
    }
    return band;
  }
  const [low, high] = BANDS[band].map((edge) => (Number.isFinite(edge) ? edge * threshold : edge));
  return threshold < 0 && Number.isFinite(low!) && Number.isFinite(high!) ? [high!, low!] : [low!, high!];
}

function bandText(what: string, low: number, high: number): string {
  if (high === Number.POSITIVE_INFINITY) return `P(${what} > ${low})`;
  if (low === Number.NEGATIVE_INFINITY) return `P(${what} < ${high})`;
  return `P(${low} < ${what} <= ${high})`;
}

function welch(a: Uncertain, b: Uncertain): number {
  return welchSatterthwaite([
    [a.u, a.dof ?? Number.POSITIVE_INFINITY],
    [b.u, b.dof ?? Number.POSITIVE_INFINITY],
  ]);
}

function checkCovariance(a: Uncertain, b: Uncertain, covariance: number, variance: number): void {
  // The slack takes in covariances quoted to a few digits.
  if (Math.abs(covariance) > a.u * b.u * (1 + 1e-6) || variance < -1e-6 * (a.u ** 2 + b.u ** 2)) {
    throw new InputError({
      path: "covariance",
      found: String(covariance),
      expected: `a covariance of at most u(a)·u(b) = ${a.u * b.u} in size`,
    });
  }
}

/** A value known only to within ± half (a rounded figure): rectangular; half 0 for an ordinary value. */
export interface Rounding {
  readonly half: number;
}

/**
 * P(d > threshold) for d = normal(value, u) plus rectangles of the half-widths given (rounded published figures).
 *
 * Exact: repeated antiderivatives of Φ; Gauss-Legendre quadrature where a rectangle is small against u and the exact
 * form would cancel.
 */
export function probabilityAbove(value: number, u: number, halves: readonly number[], threshold = 0): number {
  const widths = halves.filter((h) => h > 0);
  const [first, ...rest] = widths;
  if (first === undefined) return 1 - probabilityBelow(threshold, value, u);
  if (u > 0 && Math.min(...widths) < u) {
    const small = Math.min(...widths);
    const others = [...widths];
    others.splice(others.indexOf(small), 1);
    return gaussLegendre((s) => probabilityAbove(value + s, u, others, threshold), -small, small) / (2 * small);
  }
  if (rest.length === 0) {
    return (ramp(value - threshold + first, u, 1) - ramp(value - threshold - first, u, 1)) / (2 * first);
  }
  const second = rest[0]!;
  if (rest.length > 1) throw new Error("at most two rounded figures are compared");
  const d = value - threshold;
  const corner = (x: number) => ramp(x, u, 2);
  return (
    (corner(d + first + second) -
      corner(d + first - second) -
      corner(d - first + second) +
      corner(d - first - second)) /
    (4 * first * second)
  );
}

/** First and second antiderivative of x -> Φ(x/u); for u = 0 of the unit step. */
function ramp(x: number, u: number, times: 1 | 2): number {
  if (u === 0) return x <= 0 ? 0 : times === 1 ? x : (x * x) / 2;
  const z = x / u;
  if (times === 1) return u * (z * normalCdf(z) + normalDensity(z));
  return (u * u * ((z * z + 1) * normalCdf(z) + z * normalDensity(z))) / 2;
}

const NODES = [0.1488743389816312, 0.4333953941292472, 0.6794095682990244, 0.8650633666889845, 0.9739065285171717];
const WEIGHTS = [0.2955242247147529, 0.2692667193099963, 0.219086362515982, 0.1494513491505806, 0.0666713443086881];

/** Ten-point Gauss-Legendre quadrature (Abramowitz & Stegun table 25.4). */
export function gaussLegendre(f: (x: number) => number, low: number, high: number, pieces = 1): number {
  const width = (high - low) / pieces / 2;
  let sum = 0;
  for (let p = 0; p < pieces; p++) {
    const middle = low + width * (2 * p + 1);
    for (let i = 0; i < NODES.length; i++) {
      sum += WEIGHTS[i]! * (f(middle - width * NODES[i]!) + f(middle + width * NODES[i]!));
    }
  }
  return sum * width;
}

export interface Equivalence extends Result {
  /** P(|a - b| <= delta). */
  readonly probability: number;
  /** Both one-sided tests hold: |d| + t·u <= delta (Schuirmann 1987). "Not different" would not be enough. */
  readonly equivalent: boolean;
  readonly interval: readonly [number, number];
}

/** Are two values the same to within delta? */
export function equivalence(a: Uncertain, b: Uncertain, delta: number, options: ComparisonOptions = {}): Equivalence {
  if (!(delta > 0)) {
    throw new InputError({
      path: "delta",
      found: String(delta),
      expected: "the difference that would still count as the same, above 0",
    });
  }
  const d = difference(a, b, { ...options, band: [-delta, delta] });
  const level = options.level ?? 0.95;
  // One-sided: the interval at 2p - 1 has p on either side.
  const k = d.u === 0 ? 0 : coverageFactor(2 * level - 1, d.dof);
  const { value, u, dof, U, text, probability, interval } = d;
  return { value, u, dof, k: d.k, U, text, interval, probability, equivalent: Math.abs(value) + k * u <= delta };
}

export interface Extremum {
  /** Position of the candidate in the list. */
  readonly index: number;
  readonly which: "smallest" | "largest";
  /** Smallest pairwise z. */
  readonly z: number;
  /** Smallest pairwise probability; decides (intersection-union test, no correction for the number of pairs). */
  readonly probability: number;
  /** Probability that it beats all the others at once. */
  readonly joint: number;
  readonly supported: boolean;
  /** The one that comes nearest. */
  readonly against: number;
}

/** Is one value the smallest (largest) of a list? Independent values; the candidate is the extreme one where not named. */
export function extremum(
  values: readonly Uncertain[],
  which: "smallest" | "largest",
  candidate?: number,
  level = 0.95,
): Extremum {
  atLeastTwo(values);
  const sign = which === "smallest" ? 1 : -1;
  const index = candidate ?? values.reduce((best, v, i) => (sign * v.value < sign * values[best]!.value ? i : best), 0);
  const own = values[index];
  if (own === undefined) {
    throw new InputError({
      path: "candidate",
      found: String(index),
      expected: `a position from 0 to ${values.length - 1}`,
    });
  }
  let z = Number.POSITIVE_INFINITY;
  let probability = 1;
  let against = index === 0 ? 1 : 0;
  values.forEach((other, i) => {
    if (i === index) return;
    const d = difference(other, own);
    const margin = (sign * d.value) / d.u;
    const p = sign > 0 ? d.probability : 1 - d.probability;
    if (p < probability || (p === probability && margin < z)) {
      probability = p;
      against = i;
    }
    z = Math.min(z, margin);
  });
  const others = values.filter((_, i) => i !== index);
  const beats = (x: number) =>
    others.reduce((product, o) => {
      const p = probabilityBelow(x, o.value, o.u, o.dof);
      return product * (sign > 0 ? 1 - p : p);
    }, 1);
  const dof = own.dof ?? Number.POSITIVE_INFINITY;
  const joint =
    own.u === 0
      ? beats(own.value)
      : gaussLegendre((s) => studentDensity(s, dof) * beats(own.value + s * own.u), -9, 9, 60);
  return { index, which, z, probability, joint, supported: probability >= level, against };
}

export interface Ranking {
  /** Positions from the smallest to the largest. */
  readonly order: readonly number[];
  /** z between neighbours in that order. */
  readonly z: readonly number[];
  /** Probability of each neighbouring pair being in that order. */
  readonly pairs: readonly number[];
  /** Smallest of them: the ranking as a whole holds where it is at the level. */
  readonly probability: number;
  readonly supported: boolean;
  /** Groups of positions that cannot be told apart from a neighbour. */
  readonly ties: readonly (readonly number[])[];
}

/** Puts values in order, smallest first, and says where the order cannot be told. */
export function ranking(values: readonly Uncertain[], level = 0.95): Ranking {
  atLeastTwo(values);
  const order = values.map((_, i) => i).sort((i, j) => values[i]!.value - values[j]!.value || i - j);
  const steps = order.slice(1).map((i, n) => difference(values[i]!, values[order[n]!]!));
  const groups: number[][] = [[order[0]!]];
  steps.forEach((step, n) => {
    if (step.probability >= level) groups.push([order[n + 1]!]);
    else groups.at(-1)!.push(order[n + 1]!);
  });
  const pairs = steps.map((step) => step.probability);
  const probability = Math.min(...pairs);
  return {
    order,
    z: steps.map((step) => step.z),
    pairs,
    probability,
    supported: probability >= level,
    ties: groups.filter((group) => group.length > 1),
  };
}

export interface Weighted extends Result {
  readonly chi2: number;
  readonly p: number;
  /** √(χ²/(n-1)): above 1 the values scatter more than their uncertainties say. */
  readonly birge: number;
  readonly consistent: boolean;
}

/** Mean weighted by 1/u², with the test of whether the values agree. */
export function weightedMean(values: readonly Uncertain[], level = 0.95, unit = ""): Weighted {
  if (values.length === 0) throw new InputError({ path: "values", found: "no values", expected: "at least one" });
  values.forEach((v, i) => {
    if (!(v.u > 0)) {
      throw new InputError({ path: `values[${i}].u`, found: String(v.u), expected: "u above 0: it is the weight" });
    }
  });
  const weights = values.map((v) => 1 / v.u ** 2);
  const total = weights.reduce((a, b) => a + b, 0);
  const value = values.reduce((sum, v, i) => sum + (weights[i]! / total) * v.value, 0);
  const chi2 = values.reduce((sum, v, i) => sum + weights[i]! * (v.value - value) ** 2, 0);
  const dof = welchSatterthwaite(
    values.map((v, i) => [(weights[i]! / total) * v.u, v.dof ?? Number.POSITIVE_INFINITY]),
  );
  const n = values.length;
  const p = n > 1 ? chiSquared(chi2, n - 1).q : 1;
  return {
    ...finish(value, Math.sqrt(1 / total), dof, level, unit),
    chi2,
    p,
    birge: n > 1 ? Math.sqrt(chi2 / (n - 1)) : 0,
    consistent: p >= 1 - level,
  };
}

function atLeastTwo(values: readonly Uncertain[]): void {
  if (values.length < 2) {
    throw new InputError({ path: "values", found: `${values.length} value(s)`, expected: "at least two to compare" });
  }
}

/** One-sided z of a level: 1.645 for 0.95. */
export function oneSided(level: number): number {
  return normalQuantile(level);
}
