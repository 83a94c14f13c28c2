/**
 * The scale card: a black frame round six by four spots, 12 mm apart, some of them hollow.
 *
 * The frame is what is found first; which spots are hollow says which way round the card lies. The pattern was searched
 * for: it differs in at least 12 of 24 spots from itself turned by half, from both mirror images and from rows, columns,
 * halves and the chequered pattern, so that no regular thing on a bench is taken for it. Lengths in mm from the frame's
 * upper left outer corner, x to the right, y down.
 */
import type { Point } from "../../measure/polygon.ts";

export const CARD = { width: 84, height: 60, band: 4, pitch: 12, radius: 3, hollow: 1.5, columns: 6, rows: 4 } as const;

const PATTERN = "o...o..oooo.oo.o.oo..o..";

export interface Spot {
  readonly at: Point;
  readonly hollow: boolean;
}

export const SPOTS: readonly Spot[] = [...PATTERN].map((sign, i) => ({
  at: [CARD.pitch * (1 + (i % CARD.columns)), CARD.pitch * (1 + Math.floor(i / CARD.columns))],
  hollow: sign === "o",
}));

export const FRAME: readonly Point[] = [
  [0, 0],
  [CARD.width, 0],
  [CARD.width, CARD.height],
  [0, CARD.height],
];
