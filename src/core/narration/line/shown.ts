/** Entries and moments in a few words, for large type. */
import type { Entry, TeardownRecord } from "../../record/schema.ts";

/** Seconds of a session as h:mm:ss; a clock that stood before its start has a minus. */
export function clock(seconds: number): string {
  const whole = Math.round(Math.abs(seconds));
  const pad = (value: number) => String(value).padStart(2, "0");
  return `${seconds < 0 ? "-" : ""}${Math.floor(whole / 3600)}:${pad(Math.floor(whole / 60) % 60)}:${pad(whole % 60)}`;
}

/** "unscrew · Top shield · cup 4 · 0:12:40". */
export function work(record: TeardownRecord, entry: Entry): string {
  const names = (entry.parts ?? []).map((id) => record.parts.find((part) => part.id === id)?.name ?? id);
  return [
    isMark(entry) ? "mark" : entry.action,
    ...names,
    ...(entry.lies === undefined ? [] : [entry.lies]),
    ...(entry.at === undefined ? [] : [clock(entry.at)]),
  ].join(" · ");
}

/** A press of the bound key: a moment without words, to be named later. */
export const isMark = (entry: Entry): boolean =>
  entry.action === "note" && entry.draft === true && (entry.text ?? "") === "" && (entry.parts ?? []).length === 0;

/** Kept as it was said, because it was not understood. */
export const isUnplaced = (entry: Entry): boolean =>
  entry.action === "note" && entry.draft === true && (entry.parts ?? []).length === 0 && !isMark(entry);
