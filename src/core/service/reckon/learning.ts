/**
 * Learning over repeats, two models that must not be mixed up. r is the rate (0.8 = "80 % curve"), b = ln r / ln 2.
 *
 * unit (Crawford): the n-th takes T1 n^b; the total is a sum.
 * cumulative (Wright 1936): the mean of the first n is T1 n^b, so the total is T1 n^(b+1) and the n-th takes the difference.
 */
import { InputError } from "../../errors.ts";

export const LEARNING_MODELS = ["unit", "cumulative"] as const;
export type LearningModel = (typeof LEARNING_MODELS)[number];

/** A sum of so many powers takes well under a second. */
export const MOST_REPEATS = 1_000_000;

export interface Learnt {
  readonly n: number;
  /** Time of the n-th. */
  readonly T: number;
  readonly factor: number;
  /** Time of the first n together. */
  readonly total: number;
  readonly totalFactor: number;
  readonly average: number;
}

export const exponentOf = (r: number): number => Math.log(r) / Math.LN2;

/** The n-th of a first time T1. */
export function learnt(model: LearningModel, T1: number, r: number, n: number): Learnt {
  const b = exponentOf(r);
  const totalFactor = model === "cumulative" ? n ** (b + 1) : sumOfPowers(b, n);
  const factor = unitFactor(model, b, n);
  return { n, T: T1 * factor, factor, total: T1 * totalFactor, totalFactor, average: (T1 * totalFactor) / n };
}

/** T_n / T1; n may lie between whole numbers where it is solved for. */
export function unitFactor(model: LearningModel, b: number, n: number): number {
  return model === "unit" ? n ** b : n ** (b + 1) - Math.max(0, n - 1) ** (b + 1);
}

function sumOfPowers(b: number, n: number): number {
  let sum = 0;
  // From the small terms up, so that none is lost.
  for (let i = n; i >= 1; i -= 1) sum += i ** b;
  return sum;
}

/** The rate at which the n-th takes T. @throws InputError where no rate between 0 and 1 does */
export function rateFrom(model: LearningModel, T1: number, n: number, T: number): number {
  if (model === "unit" && T > 0 && T <= T1) return 2 ** (Math.log(T / T1) / Math.log(n));
  // The n-th of a cumulative curve falls with r as long as r > 1/2; below that later ones would take less than nothing.
  let low = 0.5;
  let high = 1;
  const at = (r: number): number => T1 * unitFactor(model, exponentOf(r), n);
  if (!(T > at(low) && T <= T1)) {
    throw new InputError({
      path: "known.T",
      found: String(T),
      expected: model === "unit" ? `a time above 0 and at most ${T1}` : `a time above ${at(low)} and at most ${T1}`,
    });
  }
  for (let i = 0; i < 200; i += 1) {
    const middle = (low + high) / 2;
    if (at(middle) < T) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Where the n-th takes no more than the standard: as a real number, and the first whole one. */
export function repeatsUntil(
  model: LearningModel,
  T1: number,
  r: number,
  standard: number,
): { readonly exact: number; readonly n: number } {
  if (standard >= T1) return { exact: 1, n: 1 };
  const b = exponentOf(r);
  const fits = (n: number): boolean => T1 * unitFactor(model, b, n) <= standard * (1 + 1e-12);
  let low = 1;
  let high = 2;
  while (!fits(high)) {
    low = high;
    high *= 2;
    if (high > 1e15)
      throw new InputError({
        path: "standard",
        found: String(standard),
        expected: "a time that is reached by learning",
      });
  }
  for (let i = 0; i < 200; i += 1) {
    const middle = (low + high) / 2;
    if (fits(middle)) high = middle;
    else low = middle;
  }
  return { exact: high, n: Math.ceil(high - 1e-9) };
}
