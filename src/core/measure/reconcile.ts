/**
 * Least-squares adjustment of measured values to linear balances A x = rhs (VDI 2048 Part 1; Narasimhan & Jordache,
 * Data Reconciliation and Gross Error Detection, 2000):
 * x̂ = y - VAᵀ(AVAᵀ)⁻¹(Ay - rhs), V̂ = V - VAᵀ(AVAᵀ)⁻¹AV, J = rᵀ(AVAᵀ)⁻¹r ~ χ²(m).
 *
 * Adjusted values may be used only where the global test passes. Cost m³ + n²m.
 */
import { InputError } from "../errors.ts";
import { chiSquaredQuantile } from "./distributions.ts";
import type { Matrix } from "./linear.ts";
import { choleskySemidefinite, multiplyMatrices, solveSymmetric, transpose } from "./linear.ts";
import { checkU } from "./propagate.ts";

export interface Reconciliation {
  readonly adjusted: readonly number[];
  readonly u: readonly number[];
  readonly J: number;
  readonly dof: number;
  /** Limit that J must not exceed. */
  readonly limit: number;
  readonly passes: boolean;
  /** Adjustment over its own uncertainty, per value; null where nothing was adjusted. Judged against 1.96. */
  readonly local: readonly (number | null)[];
}

export function reconcile(
  values: readonly number[],
  covariance: Matrix,
  constraints: Matrix,
  rhs: readonly number[] = constraints.map(() => 0),
  level = 0.95,
): Reconciliation {
  const m = constraints.length;
  if (m === 0) throw new InputError({ path: "A", found: "no rows", expected: "at least one balance" });
  constraints.forEach((row, i) => {
    if (row.length !== values.length) {
      throw new InputError({
        path: `A[${i}]`,
        found: `${row.length} numbers`,
        expected: `${values.length}, one for each value`,
      });
    }
    if (row.every((v) => v === 0)) {
      throw new InputError({ path: `A[${i}]`, found: "only zeros", expected: "a balance that holds something" });
    }
  });
  if (rhs.length !== m) {
    throw new InputError({ path: "rhs", found: `${rhs.length} numbers`, expected: `${m}, one for each row of A` });
  }
  if (choleskySemidefinite(covariance) === undefined) {
    throw new InputError({
      path: "u",
      found: "a covariance that no errors can have",
      expected: "a positive semidefinite matrix",
    });
  }
  const r = multiplyMatrices(
    constraints,
    values.map((v) => [v]),
  ).map((row, i) => [row[0]! - rhs[i]!]);
  const av = multiplyMatrices(constraints, covariance);
  const s = multiplyMatrices(av, transpose(constraints));
  const weights = solveSymmetric(s, av);
  const scaled = solveSymmetric(s, r);
  if (weights === undefined || scaled === undefined) {
    throw new InputError({
      path: "A",
      found: "a singular set of balances",
      expected: "rows that do not follow from one another, each with at least one uncertain value",
    });
  }
  const change = multiplyMatrices(transpose(av), scaled).map((row) => row[0]!);
  const removed = multiplyMatrices(transpose(av), weights);
  const J = r.reduce((sum, row, i) => sum + row[0]! * scaled[i]![0]!, 0);
  const limit = chiSquaredQuantile(level, m);
  return {
    adjusted: values.map((v, i) => v - change[i]!),
    u: values.map((_, i) => Math.sqrt(Math.max(0, covariance[i]![i]! - removed[i]![i]!))),
    J,
    dof: m,
    limit,
    passes: J <= limit,
    local: change.map((c, i) => (removed[i]![i]! > 1e-14 * covariance[i]![i]! ? c / Math.sqrt(removed[i]![i]!) : null)),
  };
}

/** Covariance matrix of independent values. */
export function diagonal(u: readonly number[]): number[][] {
  return u.map((ui, i) => u.map((_, j) => (i === j ? checkU(ui, `u[${i}]`) ** 2 : 0)));
}
