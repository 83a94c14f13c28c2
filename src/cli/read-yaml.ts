/**
 * Reads YAML 1.2 into plain values. Aliases are copied out, so that what follows sees a tree; a file whose aliases
 * multiply into more than a record can hold, or lead back into themselves, is refused before it fills the memory.
 */
import { parseDocument } from "yaml";
import type { Fault } from "../core/errors.ts";
import type { JsonReading } from "../core/record/json-text.ts";

const DEPTH = 200;
const VALUES = 2_000_000;
const TOO_DEEP = { found: "a nesting that is too deep", expected: `at most ${DEPTH} levels` };

/** Reads YAML text. Never throws. */
export function readYaml(text: string): JsonReading {
  try {
    const document = parseDocument(text, { version: "1.2", uniqueKeys: true, prettyErrors: true, logLevel: "error" });
    if (document.errors.length > 0) {
      return unread(
        document.errors.slice(0, 20).map((error) => {
          const [at] = error.linePos ?? [];
          const where = at === undefined ? "" : ` at line ${at.line}, column ${at.col}`;
          // The reader is recursive: too deep a nesting ends as a full stack.
          if (/call stack/.test(error.message)) return { path: "", ...TOO_DEEP };
          const message = error.message.split("\n")[0].replace(/ at line \d+, column \d+:?$/, "");
          return { path: "", found: `${message}${where}`, expected: "YAML 1.2" };
        }),
      );
    }
    const budget = { left: VALUES };
    const value = copy(document.toJS({ maxAliasCount: -1 }), 0, budget);
    return { read: true, value, faults: [] };
  } catch (error) {
    if (error instanceof Refused) return unread([error.fault]);
    if (error instanceof RangeError) return unread([{ path: "", ...TOO_DEEP }]);
    // An alias without an anchor ends as a ReferenceError.
    return unread([{ path: "", found: (error as Error).message.split("\n")[0], expected: "YAML 1.2" }]);
  }
}

class Refused extends Error {
  readonly fault: Fault;

  constructor(found: string, expected: string) {
    super(found);
    this.fault = { path: "", found, expected };
  }
}

function unread(faults: readonly Fault[]): JsonReading {
  return { read: false, value: undefined, faults };
}

function copy(value: unknown, depth: number, budget: { left: number }): unknown {
  if ((budget.left -= 1) < 0) {
    throw new Refused(`aliases that unfold into more than ${VALUES} values`, "a record without multiplying aliases");
  }
  if (depth > DEPTH) throw new Refused("an alias inside itself, or too deep a nesting", `at most ${DEPTH} levels`);
  if (Array.isArray(value)) return value.map((item) => copy(item, depth + 1, budget));
  if (value === null || typeof value !== "object") return value;
  if (Object.getPrototypeOf(value) !== Object.prototype) return String(value);
  const fields: Record<string, unknown> = {};
  for (const [key, item] of Object.entries(value)) {
    Object.defineProperty(fields, key, {
      value: copy(item, depth + 1, budget),
      writable: true,
      enumerable: true,
      configurable: true,
    });
  }
  return fields;
}
