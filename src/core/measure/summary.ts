/**
 * Mean, standard deviation and lag-1 autocorrelation of repeats.
 *
 * Two passes with compensated sums (Neumaier 1974): the one-pass formula Σx² - n·x̄² loses every digit on the reference
 * data NumAcc3 and NumAcc4 of NIST. Cost: linear.
 */
import { InputError } from "../errors.ts";

export interface Summary {
  readonly n: number;
  readonly mean: number;
  /** Of one observation, divisor n - 1; null for a single one. */
  readonly sd: number | null;
  /** Null where the values do not vary. */
  readonly lag1: number | null;
}

/** @throws InputError for no values, or one that is not finite. */
export function summarise(values: readonly number[], path = "values"): Summary {
  const n = values.length;
  if (n === 0) throw new InputError({ path, found: "no values", expected: "at least one repeat" });
  const odd = values.findIndex((v) => !Number.isFinite(v));
  if (odd >= 0) {
    throw new InputError({ path: `${path}[${odd}]`, found: String(values[odd]), expected: "a finite number" });
  }
  const rough = neumaier(values, (v) => v) / n;
  const mean = rough + neumaier(values, (v) => v - rough) / n;
  if (n === 1) return { n, mean, sd: null, lag1: null };
  const drift = neumaier(values, (v) => v - mean);
  const squares = neumaier(values, (v) => (v - mean) * (v - mean)) - (drift * drift) / n;
  const sd = Math.sqrt(Math.max(0, squares) / (n - 1));
  const products = neumaier(values, (v, i) => (i === 0 ? 0 : (v - mean) * (values[i - 1]! - mean)));
  return { n, mean, sd, lag1: squares > 0 ? products / squares : null };
}

function neumaier(values: readonly number[], of: (value: number, index: number) => number): number {
  let sum = 0;
  let lost = 0;
  for (let i = 0; i < values.length; i++) {
    const v = of(values[i]!, i);
    const t = sum + v;
    lost += Math.abs(sum) >= Math.abs(v) ? sum - t + v : v - t + sum;
    sum = t;
  }
  return sum + lost;
}
