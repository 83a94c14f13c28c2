/**
 * A text as a code that a scanner or a camera reads: QR (ISO/IEC 18004), a quarter of it may be covered (level Q). The only file
 * that knows the writer of codes.
 */
import bwipjs from "bwip-js/node";
import type { PageItem } from "./page.ts";

/** Modules of white about a QR code, ISO/IEC 18004: the quiet zone. */
const QUIET = 4;

/**
 * Dark modules as filled squares within `size` mm, the quiet zone inside of it.
 *
 * @param x left edge, mm
 * @param y upper edge, mm
 */
export function codeOf(text: string, x: number, y: number, size: number): PageItem {
  const [code] = bwipjs.raw({ bcid: "qrcode", text, eclevel: "Q" } as Parameters<typeof bwipjs.raw>[0]);
  if (code === undefined || !("pixs" in code)) throw new Error(`no code was made of "${text}"`);
  const { pixs, pixx } = code as { readonly pixs: readonly number[]; readonly pixx: number };
  const module = size / (pixx + 2 * QUIET);
  const rings = runs(pixs, pixx).map(([row, from, to]) => {
    const [left, right] = [x + module * (from + QUIET), x + module * (to + QUIET)];
    const [top, bottom] = [y + module * (row + QUIET), y + module * (row + 1 + QUIET)];
    return [
      [left, top],
      [right, top],
      [right, bottom],
      [left, bottom],
    ] as const;
  });
  return { kind: "rings", rings, fill: "ink" };
}

/** Dark modules of each row that lie side by side: row, from, until. Drawn as one, so that no printer leaves hairs between. */
function runs(pixels: readonly number[], width: number): (readonly [number, number, number])[] {
  const found: [number, number, number][] = [];
  pixels.forEach((dark, index) => {
    if (dark !== 1) return;
    const [row, column] = [Math.floor(index / width), index % width];
    const last = found.at(-1);
    if (last !== undefined && last[0] === row && last[2] === column) last[2] = column + 1;
    else found.push([row, column, column + 1]);
  });
  return found;
}
