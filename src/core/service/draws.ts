/**
 * Random draws that the service needs beyond those of core/measure: gamma (Marsaglia and Tsang 2000), beta as a ratio of
 * gammas, and the beta of PERT. The generator is the caller's, so that a seed gives the same answer everywhere.
 */
import type { Random } from "../measure/random.ts";

/** Gamma with this shape and scale 1; shape > 0. */
export function drawGamma(random: Random, shape: number): number {
  if (shape < 1) return drawGamma(random, shape + 1) * random.uniform() ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = random.normal();
    const root = 1 + c * x;
    if (root <= 0) continue;
    const v = root * root * root;
    const u = random.uniform();
    // The squeeze of the same paper decides alike and spares most of the logarithms.
    if (u < 1 - 0.0331 * x ** 4 || Math.log(u) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}

/** Beta(a, b), both > 0. */
export function drawBeta(random: Random, a: number, b: number): number {
  const x = drawGamma(random, a);
  const y = drawGamma(random, b);
  return x / (x + y);
}

/** PERT on [low, high] with this mode: the beta whose mean is (low + 4 mode + high)/6. A point where low = high. */
export function drawPert(random: Random, low: number, mode: number, high: number): number {
  if (!(high > low)) return mode;
  const span = high - low;
  const a = 1 + (4 * (mode - low)) / span;
  const b = 1 + (4 * (high - mode)) / span;
  return low + span * drawBeta(random, a, b);
}

/** p-quantile of a sorted sample: the smallest value with at least that share at or below it. */
export function sampleQuantile(sorted: ArrayLike<number>, p: number): number {
  const index = Math.ceil(p * sorted.length) - 1;
  return sorted[Math.max(0, Math.min(sorted.length - 1, index))]!;
}
