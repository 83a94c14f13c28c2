/** Closed forms of heat conduction, written out for the checks; each with its source. Temperatures as given, SI otherwise. */

export type Body = "wall" | "cylinder" | "sphere";

/**
 * n-th eigenvalue and coefficient of a body with convection. Wall: z tan z = Bi, C = 4 sin z/(2z + sin 2z). Cylinder:
 * z J1 = Bi J0, C = 2 J1/(z (J0^2 + J1^2)). Sphere: 1 - z cot z = Bi, C = 4 (sin z - z cos z)/(2z - sin 2z).
 * Incropera/DeWitt, Fundamentals of Heat and Mass Transfer, 5.5 and 5.6.
 */
export function term(body: Body, Bi: number, n = 1): { zeta: number; C: number } {
  const f = {
    wall: (z: number) => z * Math.sin(z) - Bi * Math.cos(z),
    cylinder: (z: number) => z * besselJ(1, z) - Bi * besselJ(0, z),
    sphere: (z: number) => (1 - Bi) * Math.sin(z) - z * Math.cos(z),
  }[body];
  // Walk in small steps and bisect the n-th change of sign.
  let found = 0;
  for (let a = 1e-6; ; a += 0.02) {
    if (Math.sign(f(a)) === Math.sign(f(a + 0.02))) continue;
    found += 1;
    if (found < n) continue;
    const zeta = bisect(f, a, a + 0.02);
    const s = Math.sin(zeta);
    const C =
      body === "wall"
        ? (4 * s) / (2 * zeta + Math.sin(2 * zeta))
        : body === "cylinder"
          ? (2 * besselJ(1, zeta)) / (zeta * (besselJ(0, zeta) ** 2 + besselJ(1, zeta) ** 2))
          : (4 * (s - zeta * Math.cos(zeta))) / (2 * zeta - Math.sin(2 * zeta));
    return { zeta, C };
  }
}

/** theta at the relative place x (0 middle, 1 surface): sum over terms. */
export function theta(body: Body, Bi: number, Fo: number, x: number, terms = 30): number {
  let sum = 0;
  for (let n = 1; n <= terms; n += 1) {
    const { zeta, C } = term(body, Bi, n);
    const decay = Math.exp(-zeta * zeta * Fo);
    const shape =
      body === "wall"
        ? Math.cos(zeta * x)
        : body === "cylinder"
          ? besselJ(0, zeta * x)
          : x === 0
            ? 1
            : Math.sin(zeta * x) / (zeta * x);
    sum += C * decay * shape;
    if (decay < 1e-16) break;
  }
  return sum;
}

export function bisect(f: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  const sign = Math.sign(f(a));
  for (let i = 0; i < 200; i += 1) {
    const middle = (a + b) / 2;
    if (Math.sign(f(middle)) === sign) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
}

/** exp(x2) erfc(x), by its continued fraction for large x and by the series of erf for small (Abramowitz and Stegun 7.1). */
export function erfcx(x: number): number {
  if (x < 0) return 2 * Math.exp(x * x) - erfcx(-x);
  if (x < 2.5) {
    let sum = x;
    let part = x;
    for (let n = 1; n < 200 && Math.abs(part) > 1e-18 * Math.abs(sum); n += 1) {
      part *= (2 * x * x) / (2 * n + 1);
      sum += part;
    }
    return Math.exp(x * x) - (2 / Math.sqrt(Math.PI)) * sum;
  }
  let f = x;
  for (let n = 120; n >= 1; n -= 1) f = x + n / 2 / f;
  return 1 / (Math.sqrt(Math.PI) * f);
}
export function erfc(x: number): number {
  return erfcx(x) * Math.exp(-x * x);
}
export function ierfc(x: number): number {
  return Math.exp(-x * x) / Math.sqrt(Math.PI) - x * erfc(x);
}

/** Semi-infinite solid; Incropera/DeWitt 5.7. Each gives a temperature rise or its share. */
export const semiInfinite = {
  step: (x: number, alpha: number, t: number) => erfc(x / (2 * Math.sqrt(alpha * t))),
  flux: (x: number, alpha: number, t: number, q: number, k: number) =>
    ((2 * q * Math.sqrt(alpha * t)) / k) * ierfc(x / (2 * Math.sqrt(alpha * t))),
  convection: (x: number, alpha: number, t: number, h: number, k: number) => {
    const eta = x / (2 * Math.sqrt(alpha * t));
    return Math.exp(-eta * eta) * (erfcx(eta) - erfcx(eta + (h * Math.sqrt(alpha * t)) / k));
  },
  pulse: (x: number, alpha: number, t: number, Q: number, rc: number) =>
    (Q / (rc * Math.sqrt(Math.PI * alpha * t))) * Math.exp(-(x * x) / (4 * alpha * t)),
};

/** Rise at the centre of a disc with uniform flux on a half-space. Carslaw and Jaeger, Conduction of Heat in Solids, 10.5. */
export function discCentre(q: number, a: number, k: number, alpha: number, t: number): number {
  const root = Math.sqrt(alpha * t);
  return ((2 * q * root) / k) * (1 / Math.sqrt(Math.PI) - ierfc(a / (2 * root)));
}

/**
 * Steady rise in a thin wide plate heated over a disc of radius a, losing h (both faces together):
 * q/h (1 - m a K1(ma) I0(mr)) inside, q/h m a I1(ma) K0(mr) outside, m = sqrt(h/(k th)). Fin equation in cylinder
 * coordinates (Incropera/DeWitt 3.6) with continuity at the rim.
 */
export function boardFin(k: number, th: number, h: number, a: number, q: number, r: number): number {
  const m = Math.sqrt(h / (k * th));
  return r <= a
    ? (q / h) * (1 - m * a * besselK(1, m * a) * besselI(0, m * r))
    : (q / h) * m * a * besselI(1, m * a) * besselK(0, m * r);
}

/** Integral forms (Abramowitz and Stegun 9.1.21, 9.6.19, 9.6.24) by the trapezoidal rule, which converges geometrically. */
export function besselJ(n: number, x: number): number {
  return mean((t) => Math.cos(n * t - x * Math.sin(t)));
}
export function besselI(n: number, x: number): number {
  return mean((t) => Math.exp(x * Math.cos(t)) * Math.cos(n * t));
}
export function besselK(n: number, x: number): number {
  let sum = 0.5 * Math.exp(-x);
  const step = 0.01;
  for (let t = step; t < 20; t += step) {
    const part = Math.exp(-x * Math.cosh(t)) * Math.cosh(n * t);
    sum += part;
    if (part < 1e-20) break;
  }
  return sum * step;
}

function mean(f: (t: number) => number): number {
  const n = 400;
  let sum = (f(0) + f(Math.PI)) / 2;
  for (let i = 1; i < n; i += 1) sum += f((Math.PI * i) / n);
  return sum / n;
}
