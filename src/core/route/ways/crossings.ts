/**
 * Cables that run across what lies nearer to the open side: laid after it, they would lie on top of it. Only a warning,
 * because a drawing may be coarse; `beneath` says it for certain.
 */
import type { Part } from "../../record/index.ts";

type Point = readonly [number, number];

/** One line for each cable and part of those that go back, where the record does not say which is laid first. */
export function crossingWarnings(parts: readonly Part[]): string[] {
  return parts.flatMap((cable) => {
    const { path, level } = cable;
    if (path === undefined || path.length < 2) return [];
    return parts.flatMap((over) => {
      if (over === cable || over.outline === undefined || cable.beneath?.includes(over.id)) return [];
      if (over.within === cable.id || cable.within === over.id || over.beneath?.includes(cable.id)) return [];
      if (!liesNearer(over, cable, level) || !crosses(path, over.outline)) return [];
      return [
        `${cable.id} runs across ${over.id}, which lies nearer to the open side: lay it first if it runs beneath`,
      ];
    });
  });
}

/** Levels are depths below the back face; opened from the front, the deeper one is nearer. */
function liesNearer(over: Part, cable: Part, level: readonly [number, number] | undefined): boolean {
  if (over.level === undefined || level === undefined) return false;
  const middle = ([from, to]: readonly [number, number]): number => (from + to) / 2;
  const side = cable.side ?? "back";
  if (side === "front") return middle(over.level) > middle(level);
  return middle(over.level) < middle(level);
}

/** Whether the line enters the area of the first ring less the holes. */
function crosses(path: readonly Point[], rings: readonly (readonly Point[])[]): boolean {
  const [outer, ...holes] = rings;
  if (outer === undefined || outer.length < 3) return false;
  const within = (point: Point) => inRing(outer, point) && !holes.some((hole) => inRing(hole, point));
  if (path.some(within)) return true;
  for (let i = 0; i + 1 < path.length; i += 1) {
    // Between two crossings of borders the line is inside or outside: the middles tell.
    const [a, b] = [path[i], path[i + 1]];
    const cuts = [0, 1, ...rings.flatMap((ring) => cutsOf(a, b, ring))].sort((p, q) => p - q);
    for (let k = 0; k + 1 < cuts.length; k += 1) {
      const t = (cuts[k] + cuts[k + 1]) / 2;
      if (cuts[k + 1] - cuts[k] > 1e-9 && within([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])])) return true;
    }
  }
  return false;
}

function cutsOf(a: Point, b: Point, ring: readonly Point[]): number[] {
  const out: number[] = [];
  for (let i = 0; i < ring.length; i += 1) {
    const c = ring[i];
    const d = ring[(i + 1) % ring.length];
    const across = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]);
    if (across === 0) continue;
    const t = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / across;
    const u = ((c[0] - a[0]) * (b[1] - a[1]) - (c[1] - a[1]) * (b[0] - a[0])) / across;
    if (t > 0 && t < 1 && u >= 0 && u <= 1) out.push(t);
  }
  return out;
}

function inRing(ring: readonly Point[], [x, y]: Point): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i, i += 1) {
    const [xi, yi] = ring[i];
    const [xj, yj] = ring[j];
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}
