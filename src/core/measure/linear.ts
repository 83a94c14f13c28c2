/** Small dense linear algebra: matrices are arrays of rows; sizes here are tens, not thousands. */
export type Matrix = readonly (readonly number[])[];

/**
 * Lower factor L with V = L Lᵀ of a symmetric matrix that may be singular (columns of zeros where it is).
 *
 * Works on V scaled to unit diagonal, so that neither the test nor the answer depends on units. Returns undefined where
 * V is not positive semidefinite. Cost n³/3.
 */
export function choleskySemidefinite(v: Matrix): number[][] | undefined {
  const n = v.length;
  const d = v.map((row, i) => Math.sqrt(row[i]!));
  if (d.some((s) => Number.isNaN(s))) return undefined;
  const l = v.map(() => new Array<number>(n).fill(0));
  for (let j = 0; j < n; j++) {
    if (d[j] === 0) continue;
    let pivot = 1;
    for (let k = 0; k < j; k++) pivot -= l[j]![k]! ** 2;
    if (pivot < -SINGULAR) return undefined;
    const root = pivot > SINGULAR ? Math.sqrt(pivot) : 0;
    l[j]![j] = root;
    for (let i = j + 1; i < n; i++) {
      if (d[i] === 0) continue;
      let sum = v[i]![j]! / (d[i]! * d[j]!);
      for (let k = 0; k < j; k++) sum -= l[i]![k]! * l[j]![k]!;
      if (root > 0) l[i]![j] = sum / root;
      else if (Math.abs(sum) > Math.sqrt(SINGULAR)) return undefined;
    }
  }
  return l.map((row, i) => row.map((value) => value * d[i]!));
}

/** A pivot below it is a zero with rounding on it. */
const SINGULAR = 1e-10;

/**
 * Solves S X = B for a symmetric positive definite S; returns undefined where S is singular to working precision.
 */
export function solveSymmetric(s: Matrix, b: Matrix): number[][] | undefined {
  const n = s.length;
  // Scaled to unit diagonal first, so that the test for singularity does not depend on units.
  const d = s.map((row, i) => Math.sqrt(row[i]!));
  if (d.some((v) => !(v > 0))) return undefined;
  const l = s.map(() => new Array<number>(n).fill(0));
  for (let j = 0; j < n; j++) {
    let pivot = 1;
    for (let k = 0; k < j; k++) pivot -= l[j]![k]! ** 2;
    if (!(pivot > 1e-12)) return undefined;
    l[j]![j] = Math.sqrt(pivot);
    for (let i = j + 1; i < n; i++) {
      let sum = s[i]![j]! / (d[i]! * d[j]!);
      for (let k = 0; k < j; k++) sum -= l[i]![k]! * l[j]![k]!;
      l[i]![j] = sum / l[j]![j]!;
    }
  }
  const columns = b[0]?.length ?? 0;
  const x = b.map((row, i) => row.map((v) => v / d[i]!));
  for (let c = 0; c < columns; c++) {
    for (let i = 0; i < n; i++) {
      let sum = x[i]![c]!;
      for (let k = 0; k < i; k++) sum -= l[i]![k]! * x[k]![c]!;
      x[i]![c] = sum / l[i]![i]!;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = x[i]![c]!;
      for (let k = i + 1; k < n; k++) sum -= l[k]![i]! * x[k]![c]!;
      x[i]![c] = sum / l[i]![i]!;
    }
  }
  return x.map((row, i) => row.map((v) => v / d[i]!));
}

export function multiplyMatrices(a: Matrix, b: Matrix): number[][] {
  return a.map((row) => (b[0] ?? []).map((_, j) => row.reduce((sum, v, k) => sum + v * b[k]![j]!, 0)));
}

export function transpose(a: Matrix): number[][] {
  return (a[0] ?? []).map((_, j) => a.map((row) => row[j]!));
}
