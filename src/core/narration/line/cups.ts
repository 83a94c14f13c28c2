/** Where things lie: cups and fields by the words of the log. */
import type { Entry, Joint, TeardownRecord } from "../../record/schema.ts";
import { PLACES } from "./scan.ts";

/** The last cup of the log: of places with a number the last one, else any; null where nothing was put down yet. */
export const lastCup = (log: readonly Entry[]): string | null =>
  (log.findLast((one) => /\d$/.test(one.lies ?? "")) ?? log.findLast((one) => one.lies !== undefined))?.lies ?? null;

/** "cup 4" -> "cup 5", "mat A" -> "mat B"; a place without a number or a letter has no next one: then "cup 1". */
export function nextCup(lies: string | null): string {
  const number = /^(.*?)(\d+)$/.exec(lies ?? "");
  if (number !== null) return `${number[1]}${Number(number[2]) + 1}`;
  const letter = /^(.* )([A-Ya-y])$/.exec(lies ?? "");
  return letter === null ? "cup 1" : `${letter[1]}${String.fromCharCode(letter[2]!.charCodeAt(0) + 1)}`;
}

/** "cup 4", "CUP:4", "mat b": a label that was scanned or said by itself, as the log writes it; null: something else. */
export function placeAlone(line: string): string | null {
  const [, word, mark] = /^(\p{L}+)[ :_-]{0,2}(\d{1,3}|[a-z])$/iu.exec(line) ?? [];
  if (word === undefined || mark === undefined || !PLACES.test(word.toLowerCase())) return null;
  return `${word.toLowerCase()} ${/\d/.test(mark) ? Number(mark) : mark.toUpperCase()}`;
}

export interface Lying {
  readonly entry: Entry;
  readonly lies: string;
}

const RETURNS: ReadonlySet<string> = new Set(["fasten", "refit", "plug"]);

/** What lies where now: put down, and neither put back nor moved since. In the order in which it was put down. */
export function lying(record: TeardownRecord): readonly Lying[] {
  const places = new Map<string, Lying>();
  for (const entry of record.log) {
    const keys = keysOf(entry);
    if (RETURNS.has(entry.action)) for (const key of keys) places.delete(key);
    else if (entry.lies !== undefined) for (const key of keys) places.set(key, { entry, lies: entry.lies });
  }
  return [...new Set(places.values())];
}

/** Screws and a part go back each by itself: "fasten" empties the screws' cup and not the part's place. */
function keysOf(entry: Entry): string[] {
  const parts = entry.parts ?? [];
  if (entry.action === "unscrew" || entry.action === "fasten") {
    const joints = entry.joints ?? [];
    return joints.length > 0 ? joints.map((id) => `joint ${id}`) : parts.map((id) => `screws ${id}`);
  }
  if (entry.action === "plug" || entry.action === "unplug") return (entry.joints ?? []).map((id) => `joint ${id}`);
  return parts.length > 0 ? parts.map((id) => `part ${id}`) : [`entry ${entry.id}`];
}

/** "6 × cross recess 000, 3.2 mm": a screw joint in a few words. */
export function screwWords(joint: Joint): string {
  const { screws } = joint;
  const lengths = [...new Set((screws?.each ?? []).flatMap((one) => one.length ?? []))];
  const length =
    lengths.length > 1 ? `${Math.min(...lengths)} to ${Math.max(...lengths)}` : (screws?.length ?? lengths[0]);
  return [
    `${joint.count ?? 1} ${(joint.count ?? 1) === 1 ? "screw" : "screws"}`,
    screws?.drive,
    screws?.thread,
    length === undefined ? undefined : `${length} mm`,
  ]
    .filter((one) => one !== undefined)
    .join(", ");
}
