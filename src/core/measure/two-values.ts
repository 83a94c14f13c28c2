/**
 * Two measured values against each other: difference, ratio, equivalence.
 *
 * Ratio intervals by Fieller (1954); P(r > q) needs no linearisation: it is the probability that a - q·b lies above zero.
 * With finite degrees of freedom Student's t with Welch's number of them takes the normal's place.
 */
import { InputError } from "../errors.ts";
import { coverageFactor } from "./distributions.ts";
import { probabilityBelow } from "./probability.ts";
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
