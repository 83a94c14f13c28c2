import type { z } from "zod";
import type { Fault } from "../errors.ts";
import { nearest } from "./nearest.ts";

/** A path as people write it: joints[0].holds[1]. */
export function pathText(path: readonly PropertyKey[]): string {
  let text = "";
  for (const step of path) {
    if (typeof step === "number") text += `[${step}]`;
    else text += text === "" ? String(step) : `.${String(step)}`;
  }
  return text;
}

/** A found value in a few words: never longer than a line, strings quoted. */
export function foundText(value: unknown): string {
  if (value === undefined) return "nothing";
  if (value === null) return "null";
  if (typeof value === "string") return JSON.stringify(value.length > 60 ? `${value.slice(0, 57)}...` : value);
  if (typeof value === "number" || typeof value === "boolean") return String(value);
  if (Array.isArray(value)) return `a list of ${value.length}`;
  return typeof value === "object" ? "an object" : typeof value;
}

const KINDS: Record<string, string> = {
  string: "text",
  number: "a finite number",
  int: "a whole number",
  boolean: "true or false",
  array: "a list",
  tuple: "a list",
  object: "an object",
  record: "an object",
};

/** Every fault that the schema finds, with the nearest right key or word. */
export function schemaFaults(schema: z.ZodType, value: unknown): Fault[] {
  const result = schema.safeParse(value);
  if (result.success) return [];
  return result.error.issues.flatMap((issue) => faultsOf(schema, value, issue));
}

function faultsOf(schema: z.ZodType, root: unknown, issue: z.core.$ZodIssue): Fault[] {
  const found = foundText(at(root, issue.path));
  const path = pathText(issue.path);
  switch (issue.code) {
    case "unrecognized_keys": {
      const known = keysAt(schema, issue.path);
      return issue.keys.map((key) => {
        const near = nearest(key, known);
        return {
          path: pathText([...issue.path, key]),
          found: `the key ${JSON.stringify(key)}`,
          expected: `one of the keys ${known.join(", ")}`,
          ...(near === undefined ? {} : { nearest: near }),
        };
      });
    }
    case "invalid_value": {
      const words = issue.values.map(String);
      const value = at(root, issue.path);
      const near = typeof value === "string" ? nearest(value, words) : undefined;
      return [
        {
          path,
          found,
          expected: words.length === 1 ? JSON.stringify(issue.values[0]) : `one of ${words.join(", ")}`,
          ...(near === undefined ? {} : { nearest: near }),
        },
      ];
    }
    case "invalid_type":
      return [{ path, found, expected: KINDS[issue.expected] ?? issue.expected }];
    case "too_small":
      return [
        {
          path,
          found,
          expected: limitText(issue.origin, issue.inclusive === false ? "more than" : "at least", issue.minimum),
        },
      ];
    case "too_big":
      return [{ path, found, expected: limitText(issue.origin, "at most", issue.maximum) }];
    case "invalid_format":
      return [{ path, found, expected: issue.format === "regex" ? issue.message : `${issue.format}` }];
    default:
      return [{ path, found, expected: issue.message }];
  }
}

function limitText(origin: string, word: string, limit: number | bigint): string {
  if (origin === "array" || origin === "set") return `${word} ${limit} items`;
  if (origin === "string") return `${word} ${limit} signs`;
  return `a number of ${word} ${limit}`;
}

function at(root: unknown, path: readonly PropertyKey[]): unknown {
  let value = root;
  for (const step of path) {
    if (value === null || typeof value !== "object") return undefined;
    value = (value as Record<PropertyKey, unknown>)[step];
  }
  return value;
}

/** The keys that the schema knows at a path (list items and optional wrappers are stepped through). */
function keysAt(schema: z.ZodType, path: readonly PropertyKey[]): string[] {
  let here = unwrap(schema);
  for (const step of path) {
    const def = here._zod.def as {
      type: string;
      element?: z.ZodType;
      shape?: Record<string, z.ZodType>;
      items?: z.ZodType[];
    };
    if (def.type === "array" && def.element) here = unwrap(def.element);
    else if (def.type === "tuple" && def.items && typeof step === "number")
      here = unwrap(def.items[step] ?? def.items[0]);
    else if (def.type === "object" && def.shape && typeof step === "string" && def.shape[step])
      here = unwrap(def.shape[step]);
    else return [];
  }
  const shape = (here._zod.def as { shape?: Record<string, unknown> }).shape;
  return shape ? Object.keys(shape) : [];
}

function unwrap(schema: z.ZodType): z.ZodType {
  let here = schema;
  for (;;) {
    const inner = (here._zod.def as { innerType?: z.ZodType }).innerType;
    if (!inner) return here;
    here = inner;
  }
}
