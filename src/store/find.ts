/** Looks for words in a record: every word must stand somewhere in the same item. Linear in the record's text. */
import type { TeardownRecord } from "../core/record/index.ts";
import { EDIT_LISTS } from "../core/record/index.ts";
import type { Found } from "./index.ts";

/** Fields whose text people look for; ids of other things are left out. */
const FIELDS = [
  "name",
  "role",
  "kind",
  "text",
  "note",
  "what",
  "by",
  "number",
  "numbers",
  "marks",
  "material",
  "gives",
  "action",
];

/** At most `limit` places, in the record's own order. Words that are empty find nothing. */
export function findIn(record: TeardownRecord, words: string, limit: number): Found[] {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  if (wanted.length === 0 || limit <= 0) return [];
  const found: Found[] = [];
  const look = (list: string, id: string, item: object) => {
    const texts = textsOf(item);
    const all = `${id} ${texts.join(" ")}`.toLowerCase();
    if (found.length < limit && wanted.every((word) => all.includes(word))) {
      found.push({ record: record.id, list, id, text: texts[0] ?? id });
    }
  };
  look("device", "device", { ...record.device, note: [record.device.maker, record.device.model] });
  for (const list of EDIT_LISTS) for (const item of record[list] ?? []) look(list, item.id, item);
  return found;
}

function textsOf(item: object): string[] {
  const fields = item as Readonly<Record<string, unknown>>;
  return FIELDS.flatMap((field) => (Object.hasOwn(fields, field) ? texts(fields[field]) : []));
}

function texts(value: unknown): string[] {
  if (typeof value === "string") return [value];
  if (value === null || typeof value !== "object") return [];
  return Object.values(value).flatMap(texts);
}
