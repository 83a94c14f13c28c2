/** What a basis of counting says of one part: a sequence up to its lift, or why there is none. */
import type { Part } from "../record/schema.ts";
import type { LawOperation } from "./operations.ts";

export type Sequence = Told | CannotTell | NoWay;

export interface Told {
  readonly kind: "told";
  readonly part: Part;
  readonly operations: readonly LawOperation[];
  /** Steps of the law that a proved bound leaves open below: planned ways in that ran out of time. */
  readonly stepsAtLeast?: number;
  readonly warnings: readonly string[];
}

/** Nothing can be said: every score may be anything that has points. */
export interface CannotTell {
  readonly kind: "cannot-tell";
  readonly part: Part;
  readonly because: string;
  readonly warnings: readonly string[];
}

/** The law has no points: the part cannot be had without damage. */
export interface NoWay {
  readonly kind: "no-way";
  readonly part: Part;
  readonly because: string;
  readonly warnings: readonly string[];
}
