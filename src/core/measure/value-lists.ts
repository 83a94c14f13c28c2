/** Several measured values: the extreme one, their order, their weighted mean. */
import { InputError } from "../errors.ts";
import { chiSquared, studentDensity } from "./distributions.ts";
import { gaussLegendre, probabilityBelow } from "./probability.ts";
import type { Result, Uncertain } from "./propagate.ts";
import { finish, welchSatterthwaite } from "./propagate.ts";
import { difference } from "./two-values.ts";

export interface Extremum {
  /** Position of the candidate in the list. */
  readonly index: number;
  readonly which: "smallest" | "largest";
  /** Smallest pairwise z. */
  readonly z: number;
  /** Smallest pairwise probability; decides (intersection-union test, no correction for the number of pairs). */
  readonly probability: number;
  /** Probability that it beats all the others at once. */
  readonly joint: number;
  readonly supported: boolean;
  /** The one that comes nearest. */
  readonly against: number;
}

/** Is one value the smallest (largest) of a list? Independent values; the candidate is the extreme one where not named. */
export function extremum(
  values: readonly Uncertain[],
  which: "smallest" | "largest",
  candidate?: number,
  level = 0.95,
): Extremum {
  atLeastTwo(values);
  const sign = which === "smallest" ? 1 : -1;
  const index = candidate ?? values.reduce((best, v, i) => (sign * v.value < sign * values[best]!.value ? i : best), 0);
  const own = values[index];
  if (own === undefined) {
    throw new InputError({
      path: "candidate",
      found: String(index),
      expected: `a position from 0 to ${values.length - 1}`,
    });
  }
  let z = Number.POSITIVE_INFINITY;
  let probability = 1;
  let against = index === 0 ? 1 : 0;
  values.forEach((other, i) => {
    if (i === index) return;
    const d = difference(other, own);
    const margin = (sign * d.value) / d.u;
    const p = sign > 0 ? d.probability : 1 - d.probability;
    if (p < probability || (p === probability && margin < z)) {
      probability = p;
      against = i;
    }
    z = Math.min(z, margin);
  });
  const others = values.filter((_, i) => i !== index);
  const beats = (x: number) =>
    others.reduce((product, o) => {
      const p = probabilityBelow(x, o.value, o.u, o.dof);
      return product * (sign > 0 ? 1 - p : p);
    }, 1);
  const dof = own.dof ?? Number.POSITIVE_INFINITY;
  const joint =
    own.u === 0
      ? beats(own.value)
      : gaussLegendre((s) => studentDensity(s, dof) * beats(own.value + s * own.u), -9, 9, 60);
  return { index, which, z, probability, joint, supported: probability >= level, against };
}

export interface Ranking {
  /** Positions from the smallest to the largest. */
  readonly order: readonly number[];
  /** z between neighbours in that order. */
  readonly z: readonly number[];
  /** Probability of each neighbouring pair being in that order. */
  readonly pairs: readonly number[];
  /** Smallest of them: the ranking as a whole holds where it is at the level. */
  readonly probability: number;
  readonly supported: boolean;
  /** Groups of positions that cannot be told apart from a neighbour. */
  readonly ties: readonly (readonly number[])[];
}

/** Puts values in order, smallest first, and says where the order cannot be told. */
export function ranking(values: readonly Uncertain[], level = 0.95): Ranking {
  atLeastTwo(values);
  const order = values.map((_, i) => i).sort((i, j) => values[i]!.value - values[j]!.value || i - j);
  const steps = order.slice(1).map((i, n) => difference(values[i]!, values[order[n]!]!));
  const groups: number[][] = [[order[0]!]];
  steps.forEach((step, n) => {
    if (step.probability >= level) groups.push([order[n + 1]!]);
    else groups.at(-1)!.push(order[n + 1]!);
  });
  const pairs = steps.map((step) => step.probability);
  const probability = Math.min(...pairs);
  return {
    order,
    z: steps.map((step) => step.z),
    pairs,
    probability,
    supported: probability >= level,
    ties: groups.filter((group) => group.length > 1),
  };
}

export interface Weighted extends Result {
  readonly chi2: number;
  readonly p: number;
  /** √(χ²/(n-1)): above 1 the values scatter more than their uncertainties say. */
  readonly birge: number;
  readonly consistent: boolean;
}

/** Mean weighted by 1/u², with the test of whether the values agree. */
export function weightedMean(values: readonly Uncertain[], level = 0.95, unit = ""): Weighted {
  if (values.length === 0) throw new InputError({ path: "values", found: "no values", expected: "at least one" });
  values.forEach((v, i) => {
    if (!(v.u > 0)) {
      throw new InputError({ path: `values[${i}].u`, found: String(v.u), expected: "u above 0: it is the weight" });
    }
  });
  const weights = values.map((v) => 1 / v.u ** 2);
  const total = weights.reduce((a, b) => a + b, 0);
  const value = values.reduce((sum, v, i) => sum + (weights[i]! / total) * v.value, 0);
  const chi2 = values.reduce((sum, v, i) => sum + weights[i]! * (v.value - value) ** 2, 0);
  const dof = welchSatterthwaite(
    values.map((v, i) => [(weights[i]! / total) * v.u, v.dof ?? Number.POSITIVE_INFINITY]),
  );
  const n = values.length;
  const p = n > 1 ? chiSquared(chi2, n - 1).q : 1;
  return {
    ...finish(value, Math.sqrt(1 / total), dof, level, unit),
    chi2,
    p,
    birge: n > 1 ? Math.sqrt(chi2 / (n - 1)) : 0,
    consistent: p >= 1 - level,
  };
}

function atLeastTwo(values: readonly Uncertain[]): void {
  if (values.length < 2) {
    throw new InputError({ path: "values", found: `${values.length} value(s)`, expected: "at least two to compare" });
  }
}
