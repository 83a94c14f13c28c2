import type { Choice } from "../../figures/index.ts";

export type Arrow = "ArrowUp" | "ArrowDown" | "ArrowLeft" | "ArrowRight";

const STEP: Readonly<Record<Arrow, readonly [number, number]>> = {
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
};

/** The part that an arrow key leads to: the nearest ahead, sideways distance counted double; null where none is. */
export function neighbour(choices: readonly Choice[], from: string | null, arrow: Arrow): string | null {
  const current = choices.find((choice) => choice.part === from);
  if (current === undefined) return choices[0]?.part ?? null;
  const [dx, dy] = STEP[arrow];
  let best: { part: string; cost: number } | null = null;
  for (const { part, x, y } of choices) {
    const ahead = (x - current.x) * dx + (y - current.y) * dy;
    if (part === from || ahead <= 0.5) continue;
    const cost = ahead + 2 * Math.abs((x - current.x) * dy + (y - current.y) * dx);
    if (best === null || cost < best.cost) best = { part, cost };
  }
  return best?.part ?? null;
}

/** The next depth at which the drawing changes, opening (1) or closing (-1) as seen. */
export function nextDepth(levels: readonly number[], depth: number, direction: 1 | -1): number {
  const sorted = [...new Set(levels)].sort((a, b) => a - b);
  const ahead =
    direction === 1 ? sorted.filter((one) => one > depth + 1e-9) : sorted.filter((one) => one < depth - 1e-9);
  return (direction === 1 ? ahead[0] : ahead.at(-1)) ?? depth;
}
