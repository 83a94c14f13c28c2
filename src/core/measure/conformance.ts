/**
 * Is a value within its limits? (JCGM 106:2012, clause 7: p_c = Φ((T_U - y)/u) - Φ((T_L - y)/u).)
 *
 * With a known process (prior) also the global risks of clause 9: an item outside accepted, one inside rejected.
 */
import { InputError } from "../errors.ts";
import { normalCdf, normalDensity, normalQuantile } from "./distributions.ts";
import { gaussLegendre, probabilityBelow } from "./probability.ts";

export interface Conformance {
  /** That the value lies within the limits. */
  readonly probability: number;
  /** That it does not. */
  readonly risk: number;
  readonly below: number;
  readonly above: number;
}

export function conformance(
  y: number,
  u: number,
  limits: { readonly lower?: number; readonly upper?: number },
  dof = Number.POSITIVE_INFINITY,
): Conformance {
  const { lower, upper } = limits;
  if (lower === undefined && upper === undefined) {
    throw new InputError({ path: "", found: "no limit", expected: "lower, upper or both" });
  }
  if (lower !== undefined && upper !== undefined && !(lower < upper)) {
    throw new InputError({ path: "lower", found: String(lower), expected: `a limit below upper (${upper})` });
  }
  if (u === 0) {
    // Known exactly: a value on its limit lies within it.
    const [below, above] = [lower !== undefined && y < lower ? 1 : 0, upper !== undefined && y > upper ? 1 : 0];
    return { probability: 1 - below - above, risk: below + above, below, above };
  }
  const below = lower === undefined ? 0 : probabilityBelow(lower, y, u, dof);
  // The upper tail is taken by symmetry, so that small risks keep their digits.
  const above = upper === undefined ? 0 : probabilityBelow(-upper, -y, u, dof);
  const risk = below + above;
  return { probability: 1 - risk, risk, below, above };
}

export interface GlobalRisk {
  /** Share of all items that are outside the limits and yet accepted. */
  readonly falseAccept: number;
  /** Share of all items that are inside and yet rejected. */
  readonly falseReject: number;
}

/** Risks of accepting on a measured value, for items that come from a normal process. */
export function globalRisk(
  process: { readonly mean: number; readonly sd: number },
  u: number,
  limits: { readonly lower: number; readonly upper: number },
): GlobalRisk {
  const { mean, sd } = process;
  const accepted = (x: number) => normalCdf((limits.upper - x) / u) - normalCdf((limits.lower - x) / u);
  const density = (x: number) => normalDensity((x - mean) / sd) / sd;
  const over = (from: number, to: number, f: (x: number) => number) => (to > from ? gaussLegendre(f, from, to, 80) : 0);
  const ends = [
    Math.min(mean - 10 * sd, limits.lower - 10 * u),
    Math.max(mean + 10 * sd, limits.upper + 10 * u),
  ] as const;
  const wrong = (x: number) => density(x) * accepted(x);
  return {
    falseAccept:
      over(Math.max(ends[0], limits.lower - 10 * u), limits.lower, wrong) +
      over(limits.upper, Math.min(ends[1], limits.upper + 10 * u), wrong),
    falseReject: over(limits.lower, limits.upper, (x) => density(x) * (1 - accepted(x))),
  };
}

/** Width of a one-sided guard band in units of u, for a risk of false acceptance (ILAC-G8:09/2019, 4.2). */
export function guardBand(risk: number): number {
  return normalQuantile(1 - risk);
}
