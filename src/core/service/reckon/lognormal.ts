/**
 * Lognormal times: ln T is normal with mean m and standard deviation s. Median e^m, mean e^(m + s²/2), p-quantile
 * e^(m + z_p s). The usual fit for repairs made of unequal subtasks (MIL-HDBK-338B 5.6.2.1). Quote quantiles: a mean is
 * drawn up by the few long ones.
 */
import { normalCdf, normalQuantile } from "../../measure/distributions.ts";

export interface Lognormal {
  readonly m: number;
  readonly s: number;
  readonly median: number;
  readonly mean: number;
  readonly sd: number;
  /** Standard deviation over mean. */
  readonly cv: number;
}

export function lognormal(m: number, s: number): Lognormal {
  const mean = Math.exp(m + (s * s) / 2);
  const cv = Math.sqrt(Math.expm1(s * s));
  return { m, s, median: Math.exp(m), mean, sd: mean * cv, cv };
}

export const lognormalQuantile = (m: number, s: number, p: number): number => Math.exp(m + normalQuantile(p) * s);

/** P(T <= t). */
export const lognormalCdf = (m: number, s: number, t: number): number =>
  t <= 0 ? 0 : s === 0 ? (Math.log(t) >= m ? 1 : 0) : normalCdf((Math.log(t) - m) / s);

export interface LognormalFit extends Lognormal {
  readonly n: number;
  /** Maximum likelihood, dividing by n; `s` divides by n - 1. */
  readonly sMle: number;
  readonly sample: { readonly mean: number; readonly sd: number; readonly median: number };
}

/** Fit to at least two positive times. */
export function fitLognormal(times: readonly number[]): LognormalFit {
  const n = times.length;
  const logs = times.map(Math.log);
  const m = meanOf(logs);
  const squares = logs.reduce((sum, log) => sum + (log - m) ** 2, 0);
  const mean = meanOf(times);
  const sorted = [...times].sort((a, b) => a - b);
  const half = Math.floor(n / 2);
  return {
    n,
    ...lognormal(m, Math.sqrt(squares / (n - 1))),
    sMle: Math.sqrt(squares / n),
    sample: {
      mean,
      sd: Math.sqrt(times.reduce((sum, time) => sum + (time - mean) ** 2, 0) / (n - 1)),
      median: n % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2,
    },
  };
}

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
