/** Complex linear systems for the references of conduction. Numbers are [real, imaginary]. */
export type Complex = [number, number];

/** Symmetric tridiagonal, diagonally dominant: no pivoting. */
export function complexTridiagonal(
  diag: readonly Complex[],
  off: readonly Complex[],
  rhs: readonly Complex[],
): Complex[] {
  const n = diag.length;
  const d = diag.map((z): Complex => [z[0], z[1]]);
  const b = rhs.map((z): Complex => [z[0], z[1]]);
  for (let i = 1; i < n; i += 1) {
    const m = divide(off[i - 1], d[i - 1]);
    subtract(d[i], m, off[i - 1]);
    subtract(b[i], m, b[i - 1]);
  }
  b[n - 1] = divide(b[n - 1], d[n - 1]);
  for (let i = n - 2; i >= 0; i -= 1) {
    subtract(b[i], off[i], b[i + 1]);
    b[i] = divide(b[i], d[i]);
  }
  return b;
}

/** Gaussian elimination with partial pivoting, rows scaled. Destroys its arguments. */
export function complexSolve(a: Complex[][], b: Complex[]): Complex[] {
  const n = b.length;
  for (let i = 0; i < n; i += 1) {
    const scale = a[i].reduce((most, z) => Math.max(most, Math.abs(z[0]) + Math.abs(z[1])), 0);
    for (const z of a[i]) {
      z[0] /= scale;
      z[1] /= scale;
    }
    b[i] = [b[i][0] / scale, b[i][1] / scale];
  }
  for (let p = 0; p < n; p += 1) {
    let best = p;
    for (let i = p + 1; i < n; i += 1) if (size(a[i][p]) > size(a[best][p])) best = i;
    [a[p], a[best]] = [a[best], a[p]];
    [b[p], b[best]] = [b[best], b[p]];
    for (let i = p + 1; i < n; i += 1) {
      if (a[i][p][0] === 0 && a[i][p][1] === 0) continue;
      const m = divide(a[i][p], a[p][p]);
      for (let j = p + 1; j < n; j += 1) subtract(a[i][j], m, a[p][j]);
      subtract(b[i], m, b[p]);
    }
  }
  for (let i = n - 1; i >= 0; i -= 1) {
    for (let j = i + 1; j < n; j += 1) subtract(b[i], a[i][j], b[j]);
    b[i] = divide(b[i], a[i][i]);
  }
  return b;
}

function size(z: Complex): number {
  return z[0] * z[0] + z[1] * z[1];
}
function divide(a: Complex, b: Complex): Complex {
  const d = b[0] * b[0] + b[1] * b[1];
  return [(a[0] * b[0] + a[1] * b[1]) / d, (a[1] * b[0] - a[0] * b[1]) / d];
}
/** to -= a b */
function subtract(to: Complex, a: Complex, b: Complex): void {
  const re = a[0] * b[0] - a[1] * b[1];
  const im = a[0] * b[1] + a[1] * b[0];
  to[0] -= re;
  to[1] -= im;
}
