/**
 * The one way in which a record is written, so that two files of one record differ only where the record does.
 *
 * Keys stand in the order of the schema; lists keep their order, because order has a meaning in most of them (the log,
 * releases, the planner's ties), except sets of words (hazards, conditions, roles served), which stand in the schema's
 * order; optional lists that are empty are left out. A value that fits on a line stays on it.
 */
import type { z } from "zod";
import { TeardownRecord } from "./schema.ts";

const LINE = 120;
const OPTIONAL_LISTS = ["sessions", "consumables", "checks", "described", "zones"] as const;

/** The record with keys and sets in canonical order. The argument is not changed. */
export function canonical(record: TeardownRecord): TeardownRecord {
  const ordered = order(TeardownRecord, record) as TeardownRecord;
  const empty = OPTIONAL_LISTS.filter((key) => ordered[key]?.length === 0);
  return empty.length === 0 ? ordered : without(ordered, empty);
}

/** The record as JSON text: canonical, two spaces a level, short values on one line, a newline at the end. */
export function writeRecord(record: TeardownRecord): string {
  return `${layOut(canonical(record), 0, 0)}\n`;
}

function without(record: TeardownRecord, keys: readonly string[]): TeardownRecord {
  return Object.fromEntries(Object.entries(record).filter(([key]) => !keys.includes(key))) as TeardownRecord;
}

interface Definition {
  readonly type: string;
  readonly shape?: Readonly<Record<string, z.ZodType>>;
  readonly element?: z.ZodType;
  readonly innerType?: z.ZodType;
  readonly entries?: Readonly<Record<string, string>>;
}

const definition = (schema: z.ZodType): Definition => schema.def as unknown as Definition;

function order(schema: z.ZodType, value: unknown): unknown {
  if (value === null || typeof value !== "object") return value;
  const { type, shape, element, innerType } = definition(schema);
  if (type === "optional" && innerType !== undefined) return order(innerType, value);
  if (Array.isArray(value)) {
    if (type !== "array" || element === undefined) return value.map(sortKeys);
    const words = definition(element).entries;
    if (words !== undefined) {
      const rank = Object.values(words);
      return [...value].sort((a, b) => rank.indexOf(a) - rank.indexOf(b));
    }
    return value.map((item) => order(element, item));
  }
  if (type !== "object" || shape === undefined) return sortKeys(value);
  const fields = value as Readonly<Record<string, unknown>>;
  const known = Object.keys(shape).filter((key) => fields[key] !== undefined);
  const others = Object.keys(fields).filter((key) => !Object.hasOwn(shape, key) && fields[key] !== undefined);
  return Object.fromEntries([
    ...known.map((key) => [key, order(shape[key], fields[key])]),
    ...others.sort().map((key) => [key, sortKeys(fields[key])]),
  ]);
}

/** For what the schema leaves open (the programme of a zone): names first, then the letters' order. */
function sortKeys(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sortKeys);
  if (value === null || typeof value !== "object") return value;
  const first = ["kind", "id", "name"];
  const rank = (key: string) => (first.includes(key) ? String(first.indexOf(key)) : `9${key}`);
  const entries = Object.entries(value).sort(([a], [b]) => (rank(a) < rank(b) ? -1 : 1));
  return Object.fromEntries(entries.map(([key, inner]) => [key, sortKeys(inner)]));
}

/** `used`: columns taken on the line before the value; the record itself and its lists of things are always broken. */
function layOut(value: unknown, depth: number, used: number): string {
  if (value === null || typeof value !== "object") return JSON.stringify(value);
  const flat = onOneLine(value);
  const breaks = depth === 0 || (depth === 1 && Array.isArray(value) && value.some(isObject));
  if (!breaks && used + flat.length <= LINE) return flat;
  const indent = "  ".repeat(depth + 1);
  const [open, close] = Array.isArray(value) ? "[]" : "{}";
  const lines = Array.isArray(value)
    ? value.map((item) => indent + layOut(item, depth + 1, indent.length + 1))
    : Object.entries(value).map(([key, item]) => {
        const head = `${indent}${JSON.stringify(key)}: `;
        return head + layOut(item, depth + 1, head.length + 1);
      });
  return lines.length === 0 ? open + close : `${open}\n${lines.join(",\n")}\n${"  ".repeat(depth)}${close}`;
}

const isObject = (value: unknown): boolean => value !== null && typeof value === "object" && !Array.isArray(value);

function onOneLine(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(onOneLine).join(", ")}]`;
  if (value === null || typeof value !== "object") return JSON.stringify(value);
  const fields = Object.entries(value).map(([key, item]) => `${JSON.stringify(key)}: ${onOneLine(item)}`);
  return fields.length === 0 ? "{}" : `{ ${fields.join(", ")} }`;
}
