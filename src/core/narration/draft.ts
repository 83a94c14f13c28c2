/** What the reader makes of a transcript: the form `unseam-draft/1`. */
import type { DraftFact } from "./facts.ts";

export const DRAFT_FORMAT = "unseam-draft/1";

export const DRAFT_ACTIONS = [
  "unscrew",
  "unplug",
  "heat",
  "wet",
  "pry",
  "slice",
  "lift",
  "shift",
  "peel",
  "debond",
  "desolder",
  "cut",
  "turn",
  "guard",
  "clean",
  "measure",
  "note",
] as const;
export type DraftAction = (typeof DRAFT_ACTIONS)[number];

export const BACK_ACTIONS = ["refit", "plug", "fasten", "lay", "press", "cure", "isolate", "wake"] as const;
export type BackAction = (typeof BACK_ACTIONS)[number];

export const DRAFT_QUANTITIES = [
  "mass",
  "thickness",
  "length",
  "width",
  "height",
  "diameter",
  "diagonal",
  "area",
  "capacity",
  "voltage",
  "energy",
  "temperature",
  "duration",
  "torque",
  "count",
] as const;
export type QuantityName = (typeof DRAFT_QUANTITIES)[number];

export type Relation =
  | "lighter"
  | "heavier"
  | "thinner"
  | "thicker"
  | "smaller"
  | "larger"
  | "shorter"
  | "longer"
  | "more"
  | "fewer"
  | "same"
  | "fraction"
  | "superlative";

export type Band = "over" | "under" | "just-over" | "almost" | "about";

/** Work done, or a figure reported, at a moment of the recording. */
export interface DraftEntry {
  /** Seconds from the start of the recording, of the cue in which the phrase begins; null when the text has no clock. */
  readonly at: number | null;
  readonly action: DraftAction;
  readonly object: string;
  readonly count?: number;
  readonly tool?: string;
  readonly quantity?: QuantityName;
  readonly value?: number;
  readonly unit?: string;
  /** Where the things were put down: "cup 4". */
  readonly lies?: string;
  /** The words this was read from. */
  readonly text: string;
}

export interface DraftClaim {
  readonly at: number | null;
  readonly subject: string;
  readonly relation: Relation;
  readonly value?: number;
  readonly unit?: string;
  readonly band?: Band;
  readonly than?: string;
  readonly text: string;
}

export interface BackEntry {
  readonly at: number | null;
  readonly action: BackAction;
  readonly object: string;
  readonly count?: number;
  readonly value?: number;
  readonly unit?: string;
  readonly text: string;
}

export interface Proof {
  readonly at: number | null;
  readonly what: string;
  readonly result: "works" | "fails";
  readonly text: string;
}

export interface DraftQuestion {
  readonly at: number | null;
  readonly about: string;
  /** What the reader could not settle. */
  readonly text: string;
}

export interface Draft {
  readonly format: typeof DRAFT_FORMAT;
  readonly entries: readonly DraftEntry[];
  readonly claims: readonly DraftClaim[];
  readonly back: readonly BackEntry[];
  readonly proofs: readonly Proof[];
  readonly questions: readonly DraftQuestion[];
  /** How the device is built, as far as it was said beside the work. */
  readonly facts?: readonly DraftFact[];
}
