/**
 * The decision rule: P, the probability that the claim is true given the measurements. Supported at P >= 0.95, not
 * supported at P <= 0.05, else it cannot be told. Pure statistics of two figures; words and conditions stand elsewhere.
 *
 * A figure in a claim ("7.6 g lighter") is held to its own digits: the direction must hold, the figure must lie within half
 * its last place of what was measured, and the expanded uncertainty must not exceed five of its last places.
 */

import { coverageFactor } from "./distributions.ts";
import { probabilityAbove, probabilityBelow } from "./probability.ts";
import type { Band } from "./two-values.ts";
import { BANDS, ratio } from "./two-values.ts";

export type Verdict = "supported" | "not-supported" | "cannot-tell";
export const LEVEL = 0.95;
/** U may be this many last places of a claimed figure before the figure is finer than the measurement. */
const PLACES_IN_U = 5;
/** Half places are judged with the dust of binary arithmetic forgiven. */
const DUST = 1e-9;

export interface Ruling {
  readonly verdict: Verdict;
  readonly probability: number;
  /** The quantity judged, its standard uncertainty and 95 % interval, and the limit or band it was held against. */
  readonly value: number;
  readonly u: number;
  readonly interval: readonly [number, number];
  readonly threshold: number | readonly [number, number];
  /** Where the value must lie for the claim to hold; left out: above a limit, within a band. */
  readonly holds?: "below" | "at";
  /** Why it is not the probability that decides: of a claimed figure, with the direction's own probability told. */
  readonly because?: string;
  /** The verdict rests on a condition: `probability` is of what was measured, not of the claim. */
  readonly conditional?: true;
}

export function verdictOf(probability: number, level = LEVEL): Verdict {
  return probability >= level ? "supported" : probability <= 1 - level ? "not-supported" : "cannot-tell";
}

interface Measured {
  readonly value: number;
  readonly u: number;
  readonly dof: number;
}

function spanOf({ value, u, dof }: Measured): readonly [number, number] {
  const U = u === 0 ? 0 : coverageFactor(LEVEL, dof) * u;
  return [value - U, value + U];
}

/** P(value > threshold), a certainty where u is 0: equal is not more. */
function above({ value, u, dof }: Measured, threshold: number): number {
  return u === 0 ? (value > threshold ? 1 : 0) : 1 - probabilityBelow(threshold, value, u, dof);
}

function within(measured: Measured, low: number, high: number): number {
  if (measured.u === 0) return measured.value >= low - DUST && measured.value <= high + DUST ? 1 : 0;
  const { value, u, dof } = measured;
  return probabilityBelow(high, value, u, dof) - probabilityBelow(low, value, u, dof);
}

/** "less than" as d = other - own, "more than" as d = own - other: is d above zero? */
export function judgeDirection(d: Measured, roundedBy: readonly number[] = []): Ruling {
  const probability = roundedBy.some((half) => half > 0) ? probabilityAbove(d.value, d.u, roundedBy) : above(d, 0);
  return { verdict: verdictOf(probability), probability, value: d.value, u: d.u, interval: spanOf(d), threshold: 0 };
}

/** "by v": d is the difference in the claimed direction, v the figure, place the value of its last place. */
export function judgeFigure(d: Measured, v: number, place: number, band?: Band): Ruling {
  const interval = spanOf(d);
  const base = { value: d.value, u: d.u, interval };
  if (band !== undefined) {
    const low = Math.max(0, BANDS[band][0] * v);
    // Infinity times a claimed figure of 0 would be no number.
    const high = Number.isFinite(BANDS[band][1]) ? BANDS[band][1] * v : BANDS[band][1];
    const probability = within(d, low, high);
    const threshold = Number.isFinite(high) ? ([low, high] as const) : low;
    return { ...base, verdict: verdictOf(probability), probability, threshold };
  }
  const direction = above(d, 0);
  const threshold = [v - place / 2, v + place / 2] as const;
  if (direction <= 1 - LEVEL) return { ...base, verdict: "not-supported", probability: direction, threshold: 0 };
  const figure = within(d, threshold[0], threshold[1]);
  const miss = Math.abs(v - d.value) - place / 2;
  const reach = d.u === 0 ? 0 : coverageFactor(2 * LEVEL - 1, d.dof) * d.u;
  if (miss > reach + DUST * Math.abs(v)) {
    return {
      ...base,
      verdict: "not-supported",
      probability: figure,
      threshold,
      because: "the figure is off by more than the measurement allows",
    };
  }
  if (direction < LEVEL) return { ...base, verdict: "cannot-tell", probability: direction, threshold: 0 };
  if (miss > DUST * Math.max(1, Math.abs(v))) {
    return {
      ...base,
      verdict: "cannot-tell",
      probability: direction,
      conditional: true,
      threshold,
      because: "the figure is not the one measured, but not refuted either",
    };
  }
  if (interval[1] - d.value > PLACES_IN_U * place * (1 + DUST)) {
    return {
      ...base,
      verdict: "cannot-tell",
      probability: direction,
      conditional: true,
      threshold,
      because: 'the figure has more digits than the measurement bears: say "about" and drop one',
    };
  }
  return { ...base, verdict: "supported", probability: direction, threshold };
}

/** A stated value ("weighs 46.2 g"): true to its digits; a published one is a figure rounded to its last place. */
export function judgeValue(x: Measured, v: number, place: number, band?: Band): Ruling {
  if (band === "over" || band === "under") {
    const over = above(x, v);
    const probability = band === "over" ? over : x.u === 0 ? (x.value < v ? 1 : 0) : 1 - over;
    const base = { value: x.value, u: x.u, interval: spanOf(x), threshold: v };
    return { verdict: verdictOf(probability), probability, ...base, ...(band === "under" ? { holds: "below" } : {}) };
  }
  return judgeFigure(x, v, place, band);
}

/** a / b against a fraction q. No band: "about". */
export function judgeFraction(a: Measured, b: Measured, covariance: number, q: number, band: Band = "about"): Ruling {
  const answer = ratio(a, b, { covariance, threshold: q, band });
  const low = BANDS[band][0] * q;
  const high = BANDS[band][1] * q;
  const threshold = Number.isFinite(low) && Number.isFinite(high) ? ([low, high] as const) : q;
  const { value, u, interval, probability } = answer;
  const below = band === "under" ? ({ holds: "below" } as const) : {};
  return { verdict: verdictOf(probability), probability, value, u, interval, threshold, ...below };
}

/** The same to within delta: both one-sided tests. "Not different" is not "the same". */
export function judgeSame(d: Measured, delta: number): Ruling {
  const probability = within(d, -delta, delta);
  const reach = d.u === 0 ? 0 : coverageFactor(2 * LEVEL - 1, d.dof) * d.u;
  const distance = Math.abs(d.value);
  const verdict: Verdict =
    distance + reach <= delta * (1 + DUST) && probability >= LEVEL
      ? "supported"
      : distance - reach > delta || probability <= 1 - LEVEL
        ? "not-supported"
        : "cannot-tell";
  return { verdict, probability, value: d.value, u: d.u, interval: spanOf(d), threshold: [-delta, delta] };
}

/** The difference in the claimed direction that could just be supported: t·u_d. */
export function smallestDifference(u: number, dof: number): number {
  return u === 0 ? 0 : coverageFactor(2 * LEVEL - 1, dof) * u;
}

/** Value of the last place of a number as written in decimal: 0.1 for 7.6, 1 for 20. */
export function lastPlace(value: number): number {
  const text = String(value);
  const [mantissa = "", exponent = "0"] = text.toLowerCase().split("e");
  const decimals = mantissa.includes(".") ? mantissa.length - mantissa.indexOf(".") - 1 : 0;
  return 10 ** (Number(exponent) - decimals);
}
