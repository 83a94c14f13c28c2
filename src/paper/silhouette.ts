/** A screw from the side in black, at true size: head to the left, shank to the right. */
import type { PageItem } from "./page.ts";
import { rectangle } from "./page.ts";
import type { NumberedScrew } from "./screw-numbers.ts";

/** mm, where the record gives none: a flat head of a small screw. Own settings. */
const HEAD = { thickness: 0.4, diameter: 2 } as const;

/**
 * The shape, its width and its height in mm of paper.
 *
 * @param y middle of the screw
 */
export function silhouette(
  screw: NumberedScrew,
  x: number,
  y: number,
  kx: number,
  ky: number,
): readonly [PageItem[], number, number] {
  const { length } = screw;
  const head = screw.head ?? HEAD.diameter;
  if (length === undefined) return [[], 0, 0];
  const shank = screw.lengthIs === "overall" ? Math.max(0.2, length - HEAD.thickness) : length;
  const core = Math.min(diameterOf(screw.thread) ?? head * 0.6, head);
  const items: PageItem[] = [
    {
      kind: "rings",
      rings: [rectangle(x, y - (head / 2) * ky, HEAD.thickness * kx, head * ky)],
      fill: "ink",
    },
    {
      kind: "rings",
      rings: [rectangle(x + HEAD.thickness * kx, y - (core / 2) * ky, shank * kx, core * ky)],
      fill: "ink",
    },
  ];
  return [items, (HEAD.thickness + shank) * kx, head * ky];
}

/** Nominal diameter out of "M1.4x0.3". */
function diameterOf(thread: string | undefined): number | undefined {
  const match = thread === undefined ? null : /^\s*M\s?(\d+(?:[.,]\d+)?)/i.exec(thread);
  return match ? Number(match[1]!.replace(",", ".")) : undefined;
}
