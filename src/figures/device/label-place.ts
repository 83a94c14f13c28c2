/**
 * Where a name fits: the largest upright rectangle of bare cells in which it stands, level, upright or on two lines.
 *
 * Largest rectangle in a histogram, row by row with a stack: linear in the cells of the part's box. Every maximal
 * rectangle is looked at, so that a long name finds a flat one even where a larger one is tall.
 */
import { textWidth, wrapText } from "../text-width.ts";
import type { BareGrid } from "./bare.ts";

export interface CellBox {
  readonly column: number;
  readonly row: number;
  readonly width: number;
  readonly height: number;
}

/** Calls `visit` with every maximal rectangle of cells for which `free` holds, within the box. */
export function maximalBoxes(
  box: CellBox,
  free: (column: number, row: number) => boolean,
  visit: (b: CellBox) => void,
) {
  const heights = new Array<number>(box.width + 1).fill(0);
  for (let r = 0; r < box.height; r++) {
    for (let c = 0; c < box.width; c++) heights[c] = free(box.column + c, box.row + r) ? heights[c]! + 1 : 0;
    const stack: [number, number][] = [];
    for (let c = 0; c <= box.width; c++) {
      const height = heights[c]!;
      let start = c;
      while (stack.length > 0 && stack.at(-1)![1] > height) {
        const [from, tall] = stack.pop()!;
        visit({ column: box.column + from, row: box.row + r - tall + 1, width: c - from, height: tall });
        start = from;
      }
      if (height > 0 && (stack.length === 0 || stack.at(-1)![1] < height)) stack.push([start, height]);
    }
  }
}

export interface LabelSpot {
  /** Middle in cells from the grid's corner. */
  readonly column: number;
  readonly row: number;
  /** null: the name does not fit and goes on a leader from here. */
  readonly lines: readonly string[] | null;
  readonly upright: boolean;
}

/**
 * @param blocked cells that letters should not cover (screws)
 * @param pixels px in one cell
 */
export function labelSpot(
  grid: BareGrid,
  index: number,
  name: string,
  bold: boolean,
  size: number,
  pixels: number,
  blocked: ReadonlySet<number>,
): LabelSpot | null {
  let [c0, r0, c1, r1] = [grid.columns, grid.rows, -1, -1];
  for (let row = 0; row < grid.rows; row++)
    for (let column = 0; column < grid.columns; column++)
      if (grid.owner[row * grid.columns + column] === index) {
        c0 = Math.min(c0, column);
        c1 = Math.max(c1, column);
        r0 = Math.min(r0, row);
        r1 = Math.max(r1, row);
      }
  if (c1 < 0) return null;
  const box = { column: c0, row: r0, width: c1 - c0 + 1, height: r1 - r0 + 1 };
  const owned = (column: number, row: number) => grid.owner[row * grid.columns + column] === index;
  const pad = 6;
  const wide = textWidth(name, size, bold) + pad;
  const two = wrapText(name, wide * 0.62, size, 2, bold);
  const wideTwo = Math.max(...two.map((row) => textWidth(row, size, bold))) + pad;
  const tall = size + 4;
  const shapes = [
    { lines: [name], width: wide, height: tall, upright: false },
    ...(two.length === 2 && !two.some((row) => row.endsWith("…"))
      ? [{ lines: two, width: wideTwo, height: tall * 2 - 2, upright: false }]
      : []),
    { lines: [name], width: tall, height: wide, upright: true },
  ];
  const best: ({ area: number; box: CellBox } | null)[] = shapes.map(() => null);
  let largest: CellBox | null = null;
  maximalBoxes(
    box,
    (column, row) => owned(column, row) && !blocked.has(row * grid.columns + column),
    (found) => {
      const area = found.width * found.height;
      if (largest === null || area > largest.width * largest.height) largest = found;
      shapes.forEach((shape, i) => {
        if (found.width * pixels < shape.width || found.height * pixels < shape.height) return;
        if (best[i] === null || area > best[i]!.area) best[i] = { area, box: found };
      });
    },
  );
  const middle = (found: CellBox) => ({ column: found.column + found.width / 2, row: found.row + found.height / 2 });
  for (const [i, shape] of shapes.entries()) {
    const hit = best[i];
    if (hit) return { ...middle(hit.box), lines: shape.lines, upright: shape.upright };
  }
  const anchor: CellBox = largest ?? { column: c0, row: r0, width: box.width, height: box.height };
  return { ...middle(anchor), lines: null, upright: false };
}
