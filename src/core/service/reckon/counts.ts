/**
 * Distributions of counts: Poisson, binomial and negative binomial (a Poisson whose rate is gamma).
 *
 * Both tails by the incomplete gamma and beta functions, so that large means keep their digits. The smallest s with
 * P(X <= s) >= p is found by doubling and halving.
 */
import { incompleteBeta, incompleteGamma } from "../../measure/special.ts";

export interface Counts {
  readonly mean: number;
  readonly variance: number;
  /** P(X <= s); 0 below zero. */
  readonly cdf: (s: number) => number;
  /** P(X > s). */
  readonly above: (s: number) => number;
}

export function poisson(mean: number): Counts {
  const tails = (s: number) => (mean === 0 ? { p: 0, q: 1 } : incompleteGamma(Math.floor(s) + 1, mean));
  return {
    mean,
    variance: mean,
    cdf: (s) => (s < 0 ? 0 : tails(s).q),
    above: (s) => (s < 0 ? 1 : tails(s).p),
  };
}

export function binomial(n: number, p: number): Counts {
  const tails = (s: number) => incompleteBeta(n - Math.floor(s), Math.floor(s) + 1, 1 - p, p);
  return {
    mean: n * p,
    variance: n * p * (1 - p),
    cdf: (s) => (s < 0 ? 0 : s >= n ? 1 : tails(s).p),
    above: (s) => (s < 0 ? 1 : s >= n ? 0 : tails(s).q),
  };
}

/** A Poisson over `time` whose rate is gamma with this shape and rate (in units of one over time). */
export function gammaPoisson(shape: number, rate: number, time: number): Counts {
  const mean = (shape * time) / rate;
  const p = rate / (rate + time);
  const tails = (s: number) => incompleteBeta(shape, Math.floor(s) + 1, p, time / (rate + time));
  return {
    mean,
    variance: mean * (1 + time / rate),
    cdf: (s) => (s < 0 ? 0 : time === 0 ? 1 : tails(s).p),
    above: (s) => (s < 0 ? 1 : time === 0 ? 0 : tails(s).q),
  };
}

/** The smallest whole s with P(X <= s) >= p, p below 1. */
export function smallestStock(counts: Counts, p: number): number {
  const enough = (s: number): boolean => counts.above(s) <= (1 - p) * (1 + 1e-12);
  if (enough(0)) return 0;
  let low = 0;
  let high = 1;
  while (!enough(high)) {
    low = high;
    high *= 2;
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** Expected backorders E[(X - s)+] = mean - sum over k < s of P(X > k). */
export function backorders(counts: Counts, s: number): number {
  let met = 0;
  for (let k = 0; k < s; k += 1) {
    const tail = counts.above(k);
    met += tail;
    // Beyond this nothing changes the last digit.
    if (tail < 1e-18 * Math.max(1, met)) break;
  }
  return Math.max(0, counts.mean - met);
}
