/** Entries and moments in a few words, for large type. */
import type { Entry, TeardownRecord } from "../../record/schema.ts";
import { sessionClock } from "../../units/index.ts";

/** "unscrew · Top shield · cup 4 · 0:12:40". */
export function work(record: TeardownRecord, entry: Entry): string {
  const names = (entry.parts ?? []).map((id) => record.parts.find((part) => part.id === id)?.name ?? id);
  return [
    isMark(entry) ? "mark" : entry.action,
    ...names,
    ...(entry.lies === undefined ? [] : [entry.lies]),
    ...(entry.at === undefined ? [] : [sessionClock(entry.at)]),
  ].join(" · ");
}

/** A press of the bound key: a moment without words, to be named later. */
export const isMark = (entry: Entry): boolean =>
  entry.action === "note" && entry.draft === true && (entry.text ?? "") === "" && (entry.parts ?? []).length === 0;

/** Kept as it was said, because it was not understood. */
export const isUnplaced = (entry: Entry): boolean =>
  entry.action === "note" && entry.draft === true && (entry.parts ?? []).length === 0 && !isMark(entry);
