/** Places where two parts claim the same space: a check on what was drawn, on a grid of 0.5 mm. */
import type { Part } from "../../src/core/record/schema.ts";

type Ring = NonNullable<Part["outline"]>[number];

function within(ring: Ring, x: number, y: number): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i]!;
    const [xj, yj] = ring[j]!;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

/** Is there material of the part at this place? The first ring is the outside, the others are holes. */
export function covers(part: Part, x: number, y: number): boolean {
  const [outer, ...holes] = part.outline ?? [];
  return outer !== undefined && within(outer, x, y) && !holes.some((hole) => within(hole, x, y));
}

/** Enclosed area of the outline in mm2, holes taken off. */
export function areaOf(part: Part): number {
  const area = (ring: Ring): number =>
    Math.abs(
      ring.reduce((sum, [x, y], i) => {
        const [nx, ny] = ring[(i + 1) % ring.length]!;
        return sum + x * ny - nx * y;
      }, 0) / 2,
    );
  const [outer, ...holes] = part.outline ?? [];
  return outer === undefined ? 0 : area(outer) - holes.reduce((sum, hole) => sum + area(hole), 0);
}

/** Pairs of parts that share a place, with one such place. `apart`: pairs known to pass through one another's pocket. */
export function overlaps(parts: readonly Part[], through: readonly string[]): string[] {
  const found: string[] = [];
  const box = (part: Part) => {
    const xs = part.outline![0]!.map(([x]) => x);
    const ys = part.outline![0]!.map(([, y]) => y);
    return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)] as const;
  };
  const solid = parts.filter((part) => part.outline && part.level && !through.includes(part.id));
  solid.forEach((a, i) => {
    for (const b of solid.slice(i + 1)) {
      const depth = Math.min(a.level![1], b.level![1]) - Math.max(a.level![0], b.level![0]);
      if (depth < 0.005) continue;
      const [ax0, ay0, ax1, ay1] = box(a);
      const [bx0, by0, bx1, by1] = box(b);
      const place = firstShared(a, b, Math.max(ax0, bx0), Math.max(ay0, by0), Math.min(ax1, bx1), Math.min(ay1, by1));
      if (place !== undefined)
        found.push(`${a.id} and ${b.id} at ${place[0]}, ${place[1]} over ${depth.toFixed(2)} mm`);
    }
  });
  return found;
}

function firstShared(a: Part, b: Part, x0: number, y0: number, x1: number, y1: number): [number, number] | undefined {
  for (let x = x0 + 0.13; x < x1; x += 0.5)
    for (let y = y0 + 0.13; y < y1; y += 0.5) if (covers(a, x, y) && covers(b, x, y)) return [x, y];
  return undefined;
}
