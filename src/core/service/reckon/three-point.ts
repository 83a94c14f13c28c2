/**
 * Three-point estimates: low a, most likely m, high b.
 *
 * PERT: (a + 4m + b)/6, sd (b - a)/6 (Malcolm, Roseboom, Clark and Fazar 1959). Its beta has the sd √((μ-a)(b-μ)/7).
 * Triangular: (a + m + b)/3 and its exact sd.
 */
export interface ThreePoint {
  readonly a: number;
  readonly m: number;
  readonly b: number;
}

export interface Spread {
  readonly mean: number;
  readonly sd: number;
  readonly variance: number;
}

const spread = (mean: number, variance: number): Spread => ({ mean, sd: Math.sqrt(variance), variance });

export function pert({ a, m, b }: ThreePoint): Spread {
  return spread((a + 4 * m + b) / 6, ((b - a) / 6) ** 2);
}

/** The same mean with the variance of the beta itself. */
export function betaPert(points: ThreePoint): Spread {
  const { mean } = pert(points);
  return spread(mean, ((mean - points.a) * (points.b - mean)) / 7);
}

export function triangular({ a, m, b }: ThreePoint): Spread {
  return spread((a + m + b) / 3, (a * a + m * m + b * b - a * m - a * b - m * b) / 18);
}

export function triangularQuantile({ a, m, b }: ThreePoint, p: number): number {
  if (b === a) return a;
  const atMode = (m - a) / (b - a);
  return p <= atMode ? a + Math.sqrt(p * (b - a) * (m - a)) : b - Math.sqrt((1 - p) * (b - a) * (b - m));
}

export function triangularCdf({ a, m, b }: ThreePoint, t: number): number {
  if (t >= b) return 1;
  if (t <= a) return 0;
  return t <= m ? (t - a) ** 2 / ((b - a) * (m - a)) : 1 - (b - t) ** 2 / ((b - a) * (b - m));
}
