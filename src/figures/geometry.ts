/** Plane geometry of outlines: rings in mm, the first outer, the others holes, inside by the even-odd rule. */

export type Point = readonly [number, number];
export type Rings = readonly (readonly Point[])[];

export interface Bounds {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export function boundsOf(rings: Rings): Bounds {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of rings)
    for (const [x, y] of ring) {
      x0 = Math.min(x0, x);
      y0 = Math.min(y0, y);
      x1 = Math.max(x1, x);
      y1 = Math.max(y1, y);
    }
  return { x0, y0, x1, y1 };
}

export function unionBounds(all: readonly Bounds[]): Bounds {
  return all.reduce((a, b) => ({
    x0: Math.min(a.x0, b.x0),
    y0: Math.min(a.y0, b.y0),
    x1: Math.max(a.x1, b.x1),
    y1: Math.max(a.y1, b.y1),
  }));
}

/** Area of the outer ring less the holes, mm2 (shoelace formula). */
export function areaOf(rings: Rings): number {
  const areas = rings.map((ring) => {
    let twice = 0;
    for (let i = 0; i < ring.length; i++) {
      const [x, y] = ring[i]!;
      const [u, v] = ring[(i + 1) % ring.length]!;
      twice += x * v - u * y;
    }
    return Math.abs(twice) / 2;
  });
  return areas.slice(1).reduce((left, hole) => left - hole, areas[0] ?? 0);
}

/** Where the line x = `x` (axis "x") or y = `at` (axis "y") runs inside: sorted pairs of the other coordinate. */
export function insideAlong(rings: Rings, axis: "x" | "y", at: number): readonly (readonly [number, number])[] {
  const [fixed, free] = axis === "x" ? ([0, 1] as const) : ([1, 0] as const);
  const cuts: number[] = [];
  for (const ring of rings)
    for (let i = 0; i < ring.length; i++) {
      const a = ring[i]!;
      const b = ring[(i + 1) % ring.length]!;
      // Half-open, so that a corner on the line is counted once.
      if (a[fixed] <= at === b[fixed] <= at) continue;
      cuts.push(a[free] + ((at - a[fixed]) / (b[fixed] - a[fixed])) * (b[free] - a[free]));
    }
  cuts.sort((a, b) => a - b);
  const pairs: [number, number][] = [];
  for (let i = 0; i + 1 < cuts.length; i += 2) pairs.push([cuts[i]!, cuts[i + 1]!]);
  return pairs;
}

export function contains(rings: Rings, [x, y]: Point): boolean {
  return insideAlong(rings, "x", x).some(([from, to]) => y >= from && y <= to);
}
