/** The parabola through the values at the beginning, the middle and the end of a step, on s from 0 to 1. */
export interface Parabola {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** a + b s + c s2 */
export function parabola(p0: number, pm: number, p1: number): Parabola {
  return { a: p0, b: -3 * p0 + 4 * pm - p1, c: 2 * (p0 - 2 * pm + p1) };
}

export function at({ a, b, c }: Parabola, s: number): number {
  return a + s * (b + s * c);
}

/** Where in (0, 1) the parabola turns, or undefined. */
export function turn({ b, c }: Parabola): number | undefined {
  if (c === 0) return undefined;
  const s = -b / (2 * c);
  return s > 0 && s < 1 ? s : undefined;
}

/** Largest value on [0, 1]. */
export function highest(p: Parabola): number {
  const s = turn(p);
  const ends = Math.max(p.a, p.a + p.b + p.c);
  return s === undefined ? ends : Math.max(ends, at(p, s));
}

/** Roots of p = level in [0, 1], ascending. */
export function roots(p: Parabola, level: number): readonly number[] {
  const { b, c } = p;
  const a = p.a - level;
  const scale = Math.abs(b) + Math.abs(c);
  if (scale === 0) return [];
  if (Math.abs(c) < 1e-12 * scale) return inside([-a / b]);
  const disc = b * b - 4 * a * c;
  if (disc < 0) return [];
  const q = -0.5 * (b + (b >= 0 ? 1 : -1) * Math.sqrt(disc));
  return inside(q === 0 ? [0] : [q / c, a / q]);
}

function inside(values: readonly number[]): readonly number[] {
  return values.filter((s) => s >= 0 && s <= 1).sort((x, y) => x - y);
}

/** First s at which the parabola reaches the level from below, given that it begins below; undefined: it does not. */
export function risesTo(p: Parabola, level: number): number | undefined {
  if (p.a >= level) return 0;
  if (highest(p) < level) return undefined;
  const found = roots(p, level)[0];
  // The end value decides where rounding hides the root.
  return found ?? 1;
}

/** First s at which it falls below the level, given that it begins at or above; undefined: it does not. */
export function fallsBelow(p: Parabola, level: number): number | undefined {
  return risesTo({ a: -p.a, b: -p.b, c: -p.c }, -level);
}

/** The share of [0, 1] spent above the level. */
export function shareAbove(p: Parabola, level: number): number {
  const cuts = [0, ...roots(p, level), 1];
  let share = 0;
  for (let i = 0; i + 1 < cuts.length; i += 1) {
    if (at(p, (cuts[i] + cuts[i + 1]) / 2) > level) share += cuts[i + 1] - cuts[i];
  }
  return share;
}
