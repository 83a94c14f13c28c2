/**
 * Closure: do the parts add up to the whole? R = M - Σmᵢ, z = R/u_R, closes where z² is below χ²(1) at 95 %.
 *
 * `u` of each value is its own part; what all readings of one instrument share comes beside it, as standard
 * uncertainties: an offset enters every reading once, so that n - 1 of them stay in R; a gain leaves u_g·|R|.
 */
import { chiSquared, chiSquaredQuantile } from "./distributions.ts";
import type { Uncertain } from "./propagate.ts";
import { checkU } from "./propagate.ts";

export interface Closure {
  readonly residual: number;
  readonly u: number;
  readonly z: number;
  /** P of a residual at least as large where nothing is missing. */
  readonly p: number;
  readonly closes: boolean;
}

export function closure(
  whole: Uncertain,
  parts: readonly Uncertain[],
  shared: { readonly offset?: number; readonly gain?: number } = {},
): Closure {
  const offset = checkU(shared.offset ?? 0, "sharedOffset");
  const gain = checkU(shared.gain ?? 0, "sharedGain");
  const residual = whole.value - parts.reduce((sum, part) => sum + part.value, 0);
  const u = Math.hypot(whole.u, ...parts.map((part) => part.u), (parts.length - 1) * offset, gain * residual);
  return closureOf(residual, u);
}

/** The test on a residual whose uncertainty is known already. */
export function closureOf(residual: number, u: number, level = 0.95): Closure {
  // Dust of binary sums is no residual: 0.3 - 0.2 - 0.1.
  const z = u > 0 ? residual / u : Math.abs(residual) < 1e-12 ? 0 : Math.sign(residual) * Number.POSITIVE_INFINITY;
  const p = chiSquared(z * z, 1).q;
  return { residual, u, z, p, closes: z * z <= chiSquaredQuantile(level, 1) };
}
