/** What the line is told and what it answers. */
import type { Edit } from "../../record/edits.ts";
import type { TeardownRecord } from "../../record/schema.ts";

export interface LineContext {
  readonly record: TeardownRecord;
  /** The part that is chosen: what is meant where no part is named. */
  readonly part: string | null;
  /** Session that is worked in, and the second on its clock; null where there is none. */
  readonly session: string | null;
  readonly at: number | null;
  /** Instrument in hand: its unit is meant where a number has none. */
  readonly instrument?: string | null;
  /** Makes an id that no other device makes; the core has no chance of its own. */
  readonly newId: () => string;
}

export type LineKind = "entry" | "reading" | "claim" | "check" | "unplaced";

/** What was understood and is to be kept: `edits` as one thing done, named `words`. */
export interface LineKept {
  readonly kind: "kept";
  readonly what: LineKind;
  /** In large type: "unscrew · Top shield · 6 · cup 4". */
  readonly words: string;
  /** Said beside it: a count that differs, a guess that was made, words that were not understood. */
  readonly notes: readonly string[];
  readonly edits: readonly Edit[];
}

/** The answer to a question. */
export interface LineTold {
  readonly kind: "told";
  readonly words: string;
  readonly lines: readonly string[];
}

export type LineAnswer = LineKept | LineTold | { readonly kind: "undo" | "redo" | "nothing" };
