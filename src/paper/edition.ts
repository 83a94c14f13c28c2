/**
 * Editions of a set of sheets: which record they were made from, when, what they replace, and which earlier ones must be taken
 * back because a screw on them has another length now.
 */
import type { NumberedScrew } from "./screw-numbers.ts";

export interface Edition {
  readonly edition: number;
  readonly date: string;
  /** Of the record's text: the first signs of its SHA-256. */
  readonly revision: string;
  /** Screws by sheet, then by joint and place: lengths in mm; null: not recorded. */
  readonly screws: Readonly<
    Record<string, Readonly<Record<string, { readonly number: string; readonly length: number | null }>>>
  >;
}

export interface Recall {
  readonly editions: readonly number[];
  readonly number: string;
  readonly before: number | null;
  readonly now: number | null;
}

export function screwsOf(numbered: readonly NumberedScrew[]): Edition["screws"][string] {
  return Object.fromEntries(
    numbered.map(({ joint, index, label, length }) => [
      `${joint}[${index}]`,
      { number: label, length: length ?? null },
    ]),
  );
}

/** Earlier editions on which a screw of this sheet has another length than now. */
export function recallsOf(sheet: string, now: Edition["screws"][string], earlier: readonly Edition[]): Recall[] {
  const found = new Map<string, { editions: number[]; recall: Omit<Recall, "editions"> }>();
  for (const edition of earlier) {
    const then = edition.screws[sheet];
    if (!then) continue;
    for (const key of new Set([...Object.keys(then), ...Object.keys(now)])) {
      const before = then[key]?.length ?? null;
      const after = now[key]?.length ?? null;
      if (before === after) continue;
      const number = now[key]?.number ?? then[key]?.number ?? key;
      const said = `${number} ${before} ${after}`;
      const one = found.get(said) ?? { editions: [], recall: { number, before, now: after } };
      one.editions.push(edition.edition);
      found.set(said, one);
    }
  }
  return [...found.values()].map(({ editions, recall }) => ({ editions, ...recall }));
}

/** A day as sheets carry it: ISO 8601, from 1980 on because archives know none before. */
export function isDate(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text) || Number(text.slice(0, 4)) < 1980) return false;
  const time = Date.parse(`${text}T00:00:00Z`);
  return !Number.isNaN(time) && new Date(time).toISOString().slice(0, 10) === text;
}

/** Whether a value that was read has the shape of an edition. */
export function isEdition(value: unknown): value is Edition {
  if (value === null || typeof value !== "object") return false;
  const { edition, date, revision, screws } = value as Partial<Record<keyof Edition, unknown>>;
  return (
    Number.isInteger(edition) &&
    typeof date === "string" &&
    isDate(date) &&
    typeof revision === "string" &&
    screws !== null &&
    typeof screws === "object"
  );
}
