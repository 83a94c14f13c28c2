/** The answer of `unseam law`: one shape for a sheet and for every basis of a record. */
import type { PriorityRole } from "../record/schema.ts";
import type { ClassLetter } from "./rules/types.ts";

export type Basis = "sheet" | "described" | "done" | "least";

/** What is said of one priority part. null where it cannot be told or where the law has no points. */
export interface PartAnswer {
  /** Remote steps included; of several instances the largest. */
  readonly steps: number | null;
  readonly remoteSteps: number;
  /** Points for depth, fastener and tool. */
  readonly depth: number | null;
  readonly fastener: number | null;
  readonly tool: number | null;
  readonly decidedBy: Decided;
}

/** What decides each score: the instance, and in it the steps, the worst fastener, the worst tool. */
export interface Decided {
  readonly depth?: { readonly instance: string; readonly steps: number | null };
  readonly fastener?: {
    readonly instance: string;
    readonly joint?: string;
    readonly kind: string;
    readonly because?: string;
  };
  readonly tool?: {
    readonly instance: string;
    readonly tool?: string;
    readonly kind: string;
    readonly because?: string;
  };
}

/** A fact that is not known, and what it could move. */
export interface Unknown {
  /** Path into the record, or the words "log" and "described". */
  readonly path: string;
  readonly text: string;
  readonly scores: readonly ScoreName[];
}

export type ScoreName = "SDD" | "SF" | "ST" | "SSP" | "SSU" | "SRI";

/** Scores of parts with two decimals, scores of the product as points. */
export interface Scores {
  readonly SDD: string | null;
  readonly SF: string | null;
  readonly ST: string | null;
  readonly SSP: number | null;
  readonly SSU: number | null;
  readonly SRI: number | null;
}

export interface RangeEnd {
  readonly index: string | null;
  readonly class: ClassLetter | null;
}

export type PartAnswers = { readonly [role in PriorityRole]?: PartAnswer | null };

export interface LawAnswer {
  readonly basis: Basis;
  readonly index: string | null;
  readonly unrounded: string | null;
  readonly class: ClassLetter | null;
  readonly roundingDecides: boolean;
  readonly scores: Scores;
  /** Every priority part has a key, `hinge` only when foldable; null: the device has none. */
  readonly parts: PartAnswers;
  /** Where facts are unknown: the ends; `index` is then the worse. */
  readonly range?: { readonly low: RangeEnd; readonly high: RangeEnd };
  readonly unknown: readonly Unknown[];
  readonly warnings: readonly string[];
  /** Why there is no index. */
  readonly why?: string;
}
