/**
 * Edits: the small, invertible changes that a record is the result of.
 *
 * An edit names what it touches by list and id, never by position alone, so that edits of two people to different
 * things can be laid over one another. Applying one never changes the record given: unchanged branches are shared.
 *
 * Promised: `applyEdit(applyEdit(r, e), invert(r, e))` equals `r` in canonical form (write.ts), and
 * `applyEdits(a, difference(a, b))` equals `b` in canonical form. Whether the result is a valid record is for
 * `checkRecord` to say: a batch of edits may pass through states that are not.
 */
import { z } from "zod";
import { InputError } from "../errors.ts";
import { nearest } from "./nearest.ts";
import type { TeardownRecord } from "./schema.ts";

/** Lists of things that have an id. The second group may be left out of a record. */
export const EDIT_LISTS = [
  "parts",
  "joints",
  "tools",
  "instruments",
  "log",
  "readings",
  "claims",
  "media",
  "sessions",
  "consumables",
  "checks",
  "described",
  "zones",
] as const;
export type EditList = (typeof EDIT_LISTS)[number];
const OPTIONAL_LISTS: readonly string[] = ["sessions", "consumables", "checks", "described", "zones"];

/** Parts of a record that are no list. */
export const HEAD_KEYS = ["device", "unit", "market", "sibling"] as const;

const id = z.string().min(1).max(200);
const list = z.enum(EDIT_LISTS);
const at = z.number().int().min(0).optional();
const path = z
  .array(z.union([z.string().min(1).max(200), z.number().int().min(0).max(100_000)]))
  .min(1)
  .max(12);
const value = z.json().optional();

/** An edit as it travels and is kept. Positions count from 0; `at` left out: at the end, or where the item stood. */
export const Edit = z.discriminatedUnion("kind", [
  z
    .strictObject({ kind: z.literal("put"), list, item: z.looseObject({ id }), at })
    .describe("Add an item or replace it."),
  z.strictObject({ kind: z.literal("remove"), list, id }),
  z.strictObject({ kind: z.literal("move"), list, id, at: z.number().int().min(0) }),
  z
    .strictObject({ kind: z.literal("set"), list, id, path, value })
    .describe("A field of an item; no value: taken away."),
  z.strictObject({ kind: z.literal("head"), path, value }).describe("A field of device, unit, market or sibling."),
]);
export type Edit = z.infer<typeof Edit>;
type Path = readonly (string | number)[];
type Json = z.infer<ReturnType<typeof z.json>>;
type Item = { readonly id: string; readonly [key: string]: unknown };

/**
 * The record after the edit.
 *
 * @throws InputError when the edit does not fit the record: no such item, or no such place in it.
 */
export function applyEdit(record: TeardownRecord, edit: Edit): TeardownRecord {
  switch (edit.kind) {
    case "put": {
      const items = itemsOf(record, edit.list);
      const from = items.findIndex((item) => item.id === edit.item.id);
      const rest = from < 0 ? items : items.toSpliced(from, 1);
      const to = edit.at ?? (from < 0 ? rest.length : from);
      return withItems(record, edit.list, rest.toSpliced(position(edit, to, rest.length), 0, edit.item));
    }
    case "remove":
      return withItems(record, edit.list, itemsOf(record, edit.list).toSpliced(placeOf(record, edit.list, edit.id), 1));
    case "move": {
      const items = itemsOf(record, edit.list);
      const from = placeOf(record, edit.list, edit.id);
      const rest = items.toSpliced(from, 1);
      return withItems(record, edit.list, rest.toSpliced(position(edit, edit.at, rest.length), 0, items[from]));
    }
    case "set": {
      if (edit.path[0] === "id") throw noPlace(edit, "a field other than id (put the item under its new id instead)");
      const items = itemsOf(record, edit.list);
      const place = placeOf(record, edit.list, edit.id);
      return withItems(record, edit.list, items.with(place, setAt(items[place], edit, edit.path) as Item));
    }
    case "head": {
      if (!(HEAD_KEYS as readonly (string | number)[]).includes(edit.path[0])) {
        throw noPlace(edit, `a path that begins with ${HEAD_KEYS.join(", ")}`);
      }
      return setAt(record, edit, edit.path) as TeardownRecord;
    }
  }
}

/** The record after all edits, in order. @throws InputError naming the first that does not fit */
export function applyEdits(record: TeardownRecord, edits: readonly Edit[]): TeardownRecord {
  return edits.reduce(applyEdit, record);
}

/**
 * The edit that takes `edit` back, told before it is applied to `record`.
 *
 * @throws InputError when the edit does not fit the record.
 */
export function invert(record: TeardownRecord, edit: Edit): Edit {
  switch (edit.kind) {
    case "put": {
      const items = itemsOf(record, edit.list);
      const place = items.findIndex((item) => item.id === edit.item.id);
      if (place < 0) return { kind: "remove", list: edit.list, id: edit.item.id };
      return { kind: "put", list: edit.list, item: items[place] as Item & Json, at: place };
    }
    case "remove": {
      const place = placeOf(record, edit.list, edit.id);
      const item = itemsOf(record, edit.list)[place];
      return { kind: "put", list: edit.list, item: { ...item }, at: place };
    }
    case "move":
      return { ...edit, at: placeOf(record, edit.list, edit.id) };
    case "set": {
      const item = itemsOf(record, edit.list)[placeOf(record, edit.list, edit.id)];
      return { kind: "set", list: edit.list, id: edit.id, path: edit.path, ...valueAt(item, edit, edit.path) };
    }
    case "head":
      return { kind: "head", path: edit.path, ...valueAt(record, edit, edit.path) };
  }
}

/** The edits that take a whole batch back, told before it is applied. */
export function invertAll(record: TeardownRecord, edits: readonly Edit[]): Edit[] {
  const back: Edit[] = [];
  let state = record;
  for (const edit of edits) {
    back.unshift(invert(state, edit));
    state = applyEdit(state, edit);
  }
  return back;
}

/** Sets one field of an item; undefined takes it away. */
export function fieldEdit(list: EditList, id: string, field: string, value: unknown): Edit {
  return { kind: "set", list, id, path: [field], ...given(value) };
}

/** What an edit touches, as `list/id` ("parts/battery") or the name of a head key ("device"). */
export function touches(edit: Edit): readonly string[] {
  if (edit.kind === "head") return [String(edit.path[0])];
  return [`${edit.list}/${edit.kind === "put" ? edit.item.id : edit.id}`];
}

/** Whether two edits, made without knowing of each other, are about the same thing, so that a person has to choose. */
export function collide(a: Edit, b: Edit): boolean {
  if (touches(a)[0] !== touches(b)[0]) return false;
  if (a.kind === "move" || b.kind === "move") return a.kind === b.kind || a.kind === "remove" || b.kind === "remove";
  const pathOf = (edit: Edit): Path => (edit.kind === "set" || edit.kind === "head" ? edit.path : []);
  const [short, long] = [pathOf(a), pathOf(b)].sort((one, other) => one.length - other.length);
  return short.every((step, index) => step === long[index]);
}

/**
 * Edits that lead from one record to another with the same id: whole items where they are new, single fields where
 * they changed. Cost: linear in the size of the records, but quadratic in the length of a list that was reordered.
 */
export function difference(before: TeardownRecord, after: TeardownRecord): Edit[] {
  const edits: Edit[] = [];
  for (const key of HEAD_KEYS) {
    if (!equal(before[key], after[key])) edits.push({ kind: "head", path: [key], ...given(after[key]) });
  }
  for (const name of EDIT_LISTS) listDifference(name, itemsOf(before, name), itemsOf(after, name), edits);
  return edits;
}

function listDifference(name: EditList, before: readonly Item[], after: readonly Item[], edits: Edit[]): void {
  const old = new Map(before.map((item) => [item.id, item]));
  const kept = new Set(after.map((item) => item.id));
  for (const item of before) if (!kept.has(item.id)) edits.push({ kind: "remove", list: name, id: item.id });
  const order = before.map((item) => item.id).filter((each) => kept.has(each));
  after.forEach((item, place) => {
    const was = old.get(item.id);
    if (was === undefined) {
      edits.push({ kind: "put", list: name, item: { ...item }, at: place });
      order.splice(place, 0, item.id);
      return;
    }
    if (order[place] !== item.id) {
      edits.push({ kind: "move", list: name, id: item.id, at: place });
      order.splice(order.indexOf(item.id, place), 1);
      order.splice(place, 0, item.id);
    }
    for (const key of new Set([...Object.keys(was), ...Object.keys(item)])) {
      const [then, now] = [was[key], item[key]];
      if (!equal(then, now)) edits.push({ kind: "set", list: name, id: item.id, path: [key], ...given(now) });
    }
  });
}

const given = (value: unknown): { value?: Json } => (value === undefined ? {} : { value: value as Json });

function itemsOf(record: TeardownRecord, name: EditList): readonly Item[] {
  return (record[name] ?? []) as readonly Item[];
}

/** An optional list that has become empty is left out, so that taking back its first item restores the record. */
function withItems(record: TeardownRecord, name: EditList, items: readonly Item[]): TeardownRecord {
  if (items.length > 0 || !OPTIONAL_LISTS.includes(name)) return { ...record, [name]: items };
  const { [name]: _, ...rest } = record;
  return rest as TeardownRecord;
}

function placeOf(record: TeardownRecord, name: EditList, wanted: string): number {
  const items = itemsOf(record, name);
  const place = items.findIndex((item) => item.id === wanted);
  if (place >= 0) return place;
  const near = nearest(
    wanted,
    items.map((item) => item.id),
  );
  throw new InputError({
    path: name,
    found: `no "${wanted}"`,
    expected: "the id of an item that is there",
    ...(near === undefined ? {} : { nearest: near }),
  });
}

function position(edit: Edit, at: number, length: number): number {
  if (at <= length) return at;
  throw new InputError({ path: touches(edit)[0], found: `position ${at}`, expected: `0 to ${length}` });
}

/** A field set, an element of a list replaced, or one added at its end. The last element alone can be taken away. */
function setAt(target: unknown, edit: Edit & { value?: Json }, steps: Path): unknown {
  const [step, ...rest] = steps;
  if (Array.isArray(target)) {
    if (typeof step !== "number") throw noPlace(edit, "a number as the place in a list");
    if (rest.length > 0) {
      if (step >= target.length) throw noPlace(edit, `a place from 0 to ${target.length - 1}`);
      return target.with(step, setAt(target[step], edit, rest));
    }
    if (edit.value === undefined) {
      if (step !== target.length - 1) throw noPlace(edit, "the last place of the list, or the whole list set anew");
      return target.slice(0, -1);
    }
    if (step > target.length) throw noPlace(edit, `a place from 0 to ${target.length}`);
    return step === target.length ? [...target, edit.value] : target.with(step, edit.value);
  }
  if (target === null || typeof target !== "object") throw noPlace(edit, "a path whose last step alone may be new");
  if (typeof step !== "string") throw noPlace(edit, "the name of a field");
  const fields = target as Readonly<Record<string, unknown>>;
  if (rest.length > 0) return { ...fields, [step]: setAt(own(fields, step), edit, rest) };
  if (edit.value !== undefined) return { ...fields, [step]: edit.value };
  const { [step]: _, ...others } = fields;
  return others;
}

/** What stands at a path; an empty answer where the last step is new. */
function valueAt(target: unknown, edit: Edit, steps: Path): { value?: Json } {
  const [step, ...rest] = steps;
  if (target === null || typeof target !== "object") throw noPlace(edit, "a path whose last step alone may be new");
  const found = own(target as Readonly<Record<string, unknown>>, String(step));
  return rest.length > 0 ? valueAt(found, edit, rest) : given(found);
}

function own(fields: Readonly<Record<string, unknown>>, key: string): unknown {
  return Object.hasOwn(fields, key) ? fields[key] : undefined;
}

function noPlace(edit: Edit, expected: string): InputError {
  const steps = edit.kind === "set" || edit.kind === "head" ? edit.path.join(".") : "";
  return new InputError({ path: touches(edit)[0], found: `the path "${steps}"`, expected });
}

/** Deep equality of JSON values; the order of keys does not matter, a key with undefined is as good as none. */
export function equal(a: unknown, b: unknown): boolean {
  if (Object.is(a, b) || a === b) return true;
  if (a === null || b === null || typeof a !== "object" || typeof b !== "object") return false;
  if (Array.isArray(a) || Array.isArray(b)) {
    return (
      Array.isArray(a) &&
      Array.isArray(b) &&
      a.length === b.length &&
      a.every((element, index) => equal(element, b[index]))
    );
  }
  const [one, other] = [a as Readonly<Record<string, unknown>>, b as Readonly<Record<string, unknown>>];
  return [...new Set([...Object.keys(one), ...Object.keys(other)])].every((key) => equal(one[key], other[key]));
}
