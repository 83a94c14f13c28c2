/**
 * Probabilities of a measured value lying below or above a limit, also where figures are rounded; and the quadrature
 * that the less simple of them need.
 */
import { normalCdf, normalDensity, normalQuantile, studentCdf } from "./distributions.ts";

/** P(X <= x) of a value with u and dof; u = 0 is a certainty. */
export function probabilityBelow(x: number, value: number, u: number, dof = Number.POSITIVE_INFINITY): number {
  if (x === Number.POSITIVE_INFINITY) return 1;
  if (x === Number.NEGATIVE_INFINITY) return 0;
  if (u === 0) return value < x ? 1 : value > x ? 0 : 0.5;
  return studentCdf((x - value) / u, dof);
}

/**
 * P(d > threshold) for d = normal(value, u) plus rectangles of the half-widths given (rounded published figures).
 *
 * Exact: repeated antiderivatives of Φ; Gauss-Legendre quadrature where a rectangle is small against u and the exact
 * form would cancel.
 */
export function probabilityAbove(value: number, u: number, halves: readonly number[], threshold = 0): number {
  const widths = halves.filter((h) => h > 0);
  const [first, ...rest] = widths;
  if (first === undefined) return 1 - probabilityBelow(threshold, value, u);
  if (u > 0 && Math.min(...widths) < u) {
    const small = Math.min(...widths);
    const others = [...widths];
    others.splice(others.indexOf(small), 1);
    return gaussLegendre((s) => probabilityAbove(value + s, u, others, threshold), -small, small) / (2 * small);
  }
  if (rest.length === 0) {
    return (ramp(value - threshold + first, u, 1) - ramp(value - threshold - first, u, 1)) / (2 * first);
  }
  const second = rest[0]!;
  if (rest.length > 1) throw new Error("at most two rounded figures are compared");
  const d = value - threshold;
  const corner = (x: number) => ramp(x, u, 2);
  return (
    (corner(d + first + second) -
      corner(d + first - second) -
      corner(d - first + second) +
      corner(d - first - second)) /
    (4 * first * second)
  );
}

/** First and second antiderivative of x -> Φ(x/u); for u = 0 of the unit step. */
function ramp(x: number, u: number, times: 1 | 2): number {
  if (u === 0) return x <= 0 ? 0 : times === 1 ? x : (x * x) / 2;
  const z = x / u;
  if (times === 1) return u * (z * normalCdf(z) + normalDensity(z));
  return (u * u * ((z * z + 1) * normalCdf(z) + z * normalDensity(z))) / 2;
}

const NODES = [0.1488743389816312, 0.4333953941292472, 0.6794095682990244, 0.8650633666889845, 0.9739065285171717];
const WEIGHTS = [0.2955242247147529, 0.2692667193099963, 0.219086362515982, 0.1494513491505806, 0.0666713443086881];

/** Ten-point Gauss-Legendre quadrature (Abramowitz & Stegun table 25.4). */
export function gaussLegendre(f: (x: number) => number, low: number, high: number, pieces = 1): number {
  const width = (high - low) / pieces / 2;
  let sum = 0;
  for (let p = 0; p < pieces; p++) {
    const middle = low + width * (2 * p + 1);
    for (let i = 0; i < NODES.length; i++) {
      sum += WEIGHTS[i]! * (f(middle - width * NODES[i]!) + f(middle + width * NODES[i]!));
    }
  }
  return sum * width;
}

/** One-sided z of a level: 1.645 for 0.95. */
export function oneSided(level: number): number {
  return normalQuantile(level);
}
