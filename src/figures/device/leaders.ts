/** Names that do not fit: two columns beside the plan, with hairline leaders that end in a dot on the part. */
import { circle, group, polyline, type Shape, text } from "../scene.ts";
import { wrapText } from "../text-width.ts";
import type { Layout } from "./layout.ts";

export interface LeaderName {
  readonly part: string;
  readonly name: string;
  readonly x: number;
  readonly y: number;
  /** Larger stays when there is no room for all. */
  readonly weight: number;
  readonly tone: "ink" | "accent";
  readonly bold: boolean;
}

export const LABEL_SIZE = 11;
const ROW = 13;
const SPACE = 3;

/** Moves blocks down and up as little as the order allows, so that none overlaps another. */
export function spread(
  blocks: readonly { readonly middle: number; readonly height: number }[],
  from: number,
  to: number,
): readonly number[] {
  const tops: number[] = [];
  let least = from;
  for (const block of blocks) {
    const top = Math.max(least, block.middle - block.height / 2);
    tops.push(top);
    least = top + block.height + SPACE;
  }
  let most = to;
  for (let i = blocks.length - 1; i >= 0; i--) {
    tops[i] = Math.min(tops[i]!, most - blocks[i]!.height);
    most = tops[i]! - SPACE;
  }
  return tops;
}

export function placeLeaders(
  layout: Layout,
  names: readonly LeaderName[],
): { readonly shapes: readonly Shape[]; readonly left: readonly string[] } {
  const { plan, column } = layout;
  const shapes: Shape[] = [];
  const leftOut: string[] = [];
  if (column < 30) return { shapes, left: names.map((name) => name.part) };
  const from = plan.y - 6;
  const to = plan.y + plan.height + 6;
  const rows = (name: LeaderName) => wrapText(name.name, column - 6, LABEL_SIZE, 3, name.bold);
  const sides: [LeaderName[], LeaderName[]] = [[], []];
  const used = [0, 0];
  for (const name of [...names].sort((a, b) => b.weight - a.weight || (a.part < b.part ? -1 : 1))) {
    const height = rows(name).length * ROW + SPACE;
    const wanted = name.x < plan.x + plan.width / 2 ? 0 : 1;
    const side = ([wanted, 1 - wanted] as const).find((s) => used[s]! + height <= to - from);
    if (side === undefined) {
      leftOut.push(name.part);
      continue;
    }
    used[side]! += height;
    sides[side as 0 | 1].push(name);
  }
  sides.forEach((list, side) => {
    list.sort((a, b) => a.y - b.y || a.x - b.x);
    const blocks = list.map((name) => ({ middle: name.y, height: rows(name).length * ROW }));
    const tops = spread(blocks, from, to);
    list.forEach((name, i) => {
      const lines = rows(name);
      const middle = tops[i]! + blocks[i]!.height / 2;
      const edge = side === 0 ? plan.x - 3 : plan.x + plan.width + 3;
      const end = side === 0 ? plan.x - 7 : plan.x + plan.width + 7;
      const look = { stroke: name.tone === "accent" ? "accent" : "soft", weight: "hair" } as const;
      shapes.push(
        group(
          [
            polyline(
              [
                [name.x, name.y],
                [edge, middle],
                [end, middle],
              ],
              look,
            ),
            circle(name.x, name.y, 1.6, { fill: name.tone }),
            ...lines.map((words, row) =>
              text(side === 0 ? end - 3 : end + 3, tops[i]! + row * ROW + LABEL_SIZE - 1, words, {
                size: LABEL_SIZE,
                tone: name.tone,
                ...(side === 0 ? { anchor: "end" as const } : {}),
                ...(name.bold ? { bold: true as const } : {}),
              }),
            ),
          ],
          { part: name.part },
        ),
      );
    });
  });
  return { shapes, left: leftOut };
}
