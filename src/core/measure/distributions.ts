/**
 * Normal, Student t, chi-squared and F: density, distribution function with both tails, quantile.
 *
 * Quantiles: a start value, then Newton steps on ln(tail) against ln(x), kept inside a bracket; the smaller tail is
 * solved for, so that both ends keep their digits. Degrees of freedom need not be whole; Infinity means known exactly.
 * Formulae: Abramowitz & Stegun 26.2 to 26.7.
 */
import { InputError } from "../errors.ts";
import { incompleteBeta, incompleteGamma, logBeta, logGamma } from "./special.ts";

const SQRT_2PI = Math.sqrt(2 * Math.PI);
/** From here on t follows from z by its expansion (Abramowitz & Stegun 26.7.5): the continued fraction would cancel. */
const T_BY_EXPANSION = 1e6;
/** From here on the expansion's first term is below the rounding of a double. */
const T_IS_NORMAL = 1e17;

/** Standard normal density. */
export function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / SQRT_2PI;
}

/** Φ(z), with full relative accuracy in the lower tail. */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) return Number.NaN;
  const { p, q } = incompleteGamma(0.5, 0.5 * z * z);
  return z < 0 ? 0.5 * q : 0.5 + 0.5 * p;
}

/** z with Φ(z) = p. */
export function normalQuantile(p: number): number {
  checkProbability(p);
  if (p === 0.5) return 0;
  const tail = Math.min(p, 1 - p);
  if (tail === 0) return p === 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  // Abramowitz & Stegun 26.2.23 (error below 4.5e-4), then Halley steps on the exact tail.
  const t = Math.sqrt(-2 * Math.log(tail));
  let z = t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  for (let i = 0; i < 4; i++) {
    const error = (normalCdf(-z) - tail) / normalDensity(z);
    const step = error / (1 - 0.5 * z * error);
    z += step;
    // The next error is of the third power of this one.
    if (Math.abs(step) < 1e-6 * Math.abs(z)) break;
  }
  return p < 0.5 ? -z : z;
}

/** P(T <= t) for Student's t. */
export function studentCdf(t: number, dof: number): number {
  if (dof >= T_IS_NORMAL) return normalCdf(t);
  if (dof > T_BY_EXPANSION) {
    return normalCdf(t - (t ** 3 + t) / (4 * dof) + (13 * t ** 5 + 8 * t ** 3 + 3 * t) / (96 * dof * dof));
  }
  const upper = studentUpper(Math.abs(t), dof);
  return t < 0 ? upper : 1 - upper;
}

/** P(T > t), t >= 0. */
function studentUpper(t: number, dof: number, logB = logBeta(dof / 2, 0.5)): number {
  if (t === Number.POSITIVE_INFINITY) return 0;
  const ratio = (t * t) / dof;
  return 0.5 * incompleteBeta(dof / 2, 0.5, 1 / (1 + ratio), ratio / (1 + ratio), logB).p;
}

function studentLogDensity(t: number, dof: number, logB = logBeta(dof / 2, 0.5)): number {
  return -logB - 0.5 * Math.log(dof) - 0.5 * (dof + 1) * Math.log1p((t * t) / dof);
}

/** Density of Student's t. */
export function studentDensity(t: number, dof: number): number {
  return dof >= T_IS_NORMAL ? normalDensity(t) : Math.exp(studentLogDensity(t, dof));
}

/** t with P(T <= t) = p. */
export function studentQuantile(p: number, dof: number): number {
  checkProbability(p);
  checkDof(dof);
  if (p === 0.5) return 0;
  if (dof >= T_IS_NORMAL) return normalQuantile(p);
  const tail = Math.min(p, 1 - p);
  if (tail === 0) return p === 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const z = -normalQuantile(tail);
  if (dof > T_BY_EXPANSION) {
    const t = z + (z ** 3 + z) / (4 * dof) + (5 * z ** 5 + 16 * z ** 3 + 3 * z) / (96 * dof * dof);
    return p < 0.5 ? -t : t;
  }
  // Abramowitz & Stegun 26.7.5 to the third power of 1/dof; for few degrees of freedom only a first guess.
  const r = 1 / Math.max(dof, 1.5);
  const start =
    z +
    r *
      ((z ** 3 + z) / 4 +
        r * ((5 * z ** 5 + 16 * z ** 3 + 3 * z) / 96 + r * ((3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / 384)));
  const logB = logBeta(dof / 2, 0.5);
  const t = solveTail(
    tail,
    start,
    (x) => studentUpper(x, dof, logB),
    (x) => -Math.exp(studentLogDensity(x, dof, logB)),
  );
  return p < 0.5 ? -t : t;
}

/** Both tails of chi-squared. */
export function chiSquared(x: number, dof: number): { readonly p: number; readonly q: number } {
  return incompleteGamma(dof / 2, x / 2);
}

/** x with P(X <= x) = p for chi-squared. */
export function chiSquaredQuantile(p: number, dof: number): number {
  checkProbability(p);
  checkDof(dof);
  if (p === 0) return 0;
  if (p === 1) return Number.POSITIVE_INFINITY;
  const lower = p <= 0.5;
  // Wilson & Hilferty (1931); where that is not positive, the first term of the series at zero.
  const cube = 1 - 2 / (9 * dof) + normalQuantile(p) * Math.sqrt(2 / (9 * dof));
  const start = cube > 0.1 ? dof * cube ** 3 : 2 * Math.exp((2 / dof) * (Math.log(p) + logGamma(dof / 2 + 1)));
  const density = (x: number) => Math.exp((dof / 2 - 1) * Math.log(x / 2) - x / 2 - logGamma(dof / 2)) / 2;
  return lower
    ? solveTail(p, start, (x) => chiSquared(x, dof).p, density)
    : solveTail(
        1 - p,
        start,
        (x) => chiSquared(x, dof).q,
        (x) => -density(x),
      );
}

/** Both tails of F. */
export function fisher(x: number, dof1: number, dof2: number): { readonly p: number; readonly q: number } {
  if (x <= 0) return { p: 0, q: 1 };
  const r = (dof1 * x) / dof2;
  return incompleteBeta(dof1 / 2, dof2 / 2, r / (1 + r), 1 / (1 + r));
}

/** x with P(X <= x) = p for F. */
export function fisherQuantile(p: number, dof1: number, dof2: number): number {
  checkProbability(p);
  checkDof(dof1);
  checkDof(dof2);
  if (p === 0) return 0;
  if (p === 1) return Number.POSITIVE_INFINITY;
  const density = (x: number) => {
    const r = (dof1 * x) / dof2;
    return Math.exp(
      (dof1 / 2) * Math.log(r) - ((dof1 + dof2) / 2) * Math.log1p(r) - Math.log(x) - logBeta(dof1 / 2, dof2 / 2),
    );
  };
  return p <= 0.5
    ? solveTail(p, 1, (x) => fisher(x, dof1, dof2).p, density)
    : solveTail(
        1 - p,
        1,
        (x) => fisher(x, dof1, dof2).q,
        (x) => -density(x),
      );
}

/**
 * x > 0 with tail(x) = target, for a tail that rises or falls through (0, ∞); `slope` is its derivative.
 * In ln x against ln tail heavy and light tails are both nearly straight, so that Newton converges from afar.
 */
function solveTail(target: number, start: number, tail: (x: number) => number, slope: (x: number) => number): number {
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let x = Number.isFinite(start) && start > 0 ? start : 1;
  for (let i = 0; i < 400; i++) {
    const value = tail(x);
    const gradient = slope(x);
    const rising = gradient > 0 || (gradient === 0 && value < target === x < 1);
    if (value < target === rising) low = x;
    else high = x;
    const step = value > 0 ? (Math.log(target / value) * value) / (gradient * x) : Number.NaN;
    let next = x * Math.exp(Math.max(-3, Math.min(3, step)));
    if (!(next > low && next < high)) {
      if (Math.abs(step) < 1e-15) return x;
      next = high === Number.POSITIVE_INFINITY ? x * 8 : low === 0 ? x / 8 : Math.sqrt(low) * Math.sqrt(high);
    }
    // The next error is of the square of this one.
    if (Math.abs(step) < 1e-9 || Math.abs(next - x) <= 4e-16 * x) return next;
    if (next === 0 || next === Number.POSITIVE_INFINITY) return next;
    x = next;
  }
  return x;
}

/** Coverage factor k = t_p(dof) of a two-sided interval at a level such as 0.95 (GUM G.3.4). */
export function coverageFactor(level: number, dof: number): number {
  if (!(level > 0 && level < 1)) {
    throw new InputError({ path: "level", found: String(level), expected: "a level between 0 and 1, such as 0.95" });
  }
  return studentQuantile(0.5 + level / 2, dof);
}

function checkProbability(p: number): void {
  if (!(p >= 0 && p <= 1)) {
    throw new InputError({ path: "p", found: String(p), expected: "a probability from 0 to 1" });
  }
}

function checkDof(dof: number): void {
  if (!(dof > 0)) {
    throw new InputError({ path: "dof", found: String(dof), expected: "degrees of freedom above 0" });
  }
}
