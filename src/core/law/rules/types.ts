import type { PriorityRole } from "../../record/schema.ts";

export type ClassLetter = "A" | "B" | "C" | "D" | "E";
/** Fastener kinds of the law; `destroyed` stands for what has no points. */
export type FastenerWord = "reusable" | "resupplied" | "removable" | "destroyed";
/** `none` and the tool kinds of the record. */
export type ToolWord = "none" | "basic" | "with-spare-part" | "with-product" | "commercially-available" | "proprietary";
export type ReadingId = "I1" | "I2" | "I3" | "I4" | "I5" | "I6" | "I7" | "I8" | "I9" | "I10";

/** Where a rule comes from and how well it is known. */
export interface Clause {
  readonly id: string;
  /** Act, annex, point. */
  readonly where: string;
  /** The rule in our own words. */
  readonly says: string;
  /** `read` in the act, `recalled` and not verified, or an `own-reading` where the act is silent. */
  readonly known: "read" | "recalled" | "own-reading";
}

/** A choice where the text of the act is silent. */
export interface Reading {
  readonly id: ReadingId;
  /** The position that counts when nothing else is said. */
  readonly text: string;
  /** The other position; null where there is none. */
  readonly other: string | null;
}

/** One version of the law as data. All weights in percent, all points whole. */
export interface RuleSet {
  readonly id: string;
  readonly title: string;
  readonly act: string;
  /** Date of the consolidated text that was read. */
  readonly consolidated: string;
  readonly published: string;
  /** First day on which the act applies. */
  readonly appliesFrom: string;
  /** Text versions by the first day of each, the newest last. */
  readonly versions: readonly { readonly from: string; readonly what: string }[];
  readonly indexWeights: {
    readonly SDD: number;
    readonly SF: number;
    readonly ST: number;
    readonly SSP: number;
    readonly SSU: number;
    readonly SRI: number;
  };
  readonly partWeights: {
    readonly flat: { readonly [role in Exclude<PriorityRole, "hinge">]: number };
    readonly foldable: { readonly [role in PriorityRole]: number };
  };
  /** Hundredths; a class is reached at or above its limit. */
  readonly classLimits: readonly { readonly letter: ClassLetter; readonly from: number }[];
  /** A band holds up to `upTo` steps; null: no limit. */
  readonly depthBands: readonly { readonly upTo: number | null; readonly points: number }[];
  readonly remoteSteps: number;
  readonly fastenerPoints: { readonly [word in FastenerWord]: number | null };
  readonly toolPoints: { readonly [word in ToolWord]: number | null };
  readonly absentPoints: number;
  /** Highest level first: who must be served with what. */
  readonly spareLevels: readonly {
    readonly points: number;
    readonly endUsers: readonly PriorityRole[] | "all";
  }[];
  readonly updatePoints: readonly { readonly years: number; readonly points: number }[];
  readonly informationPoints: {
    readonly "free-for-all": number;
    readonly "free-for-professionals": number;
    readonly fee: number;
    readonly none: null;
  };
  /** Found may lie at most this many percent below declared. */
  readonly tolerancePercent: number;
  readonly basicTools: readonly string[];
  readonly readings: readonly Reading[];
  readonly clauses: readonly Clause[];
  /** What could not be verified in the source, to be shown wherever the rule set is named. */
  readonly notVerified: readonly string[];
}
