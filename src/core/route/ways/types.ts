/**
 * A question about ways in and its answer, in the words of the record. Times in seconds (whole milliseconds inside),
 * money exact. `findWayIn` in `index.ts` answers it.
 */
import type { Condition, Hazard, Money, Side } from "../../record/index.ts";
import type { StepReadings } from "../problem.ts";

export interface Question {
  /** Part ids that must all be lifted. */
  readonly to: readonly string[];
  readonly least: "seconds" | "steps" | "risk";
  /** Releases that leave something broken, or destroy something, may be used. */
  readonly damage?: boolean;
  /** Hazards accepted: without them a release with `puncture` or `short` is not used. */
  readonly accept?: readonly Hazard[];
  readonly conditions?: readonly Condition[];
  /** false turns off the rule that the cell is isolated before live work. */
  readonly isolation?: boolean;
  /** Which doubted relations (basis `inferred` or `sibling`) hold; left out: all, as written. */
  readonly doubt?: DoubtView;
  readonly readings?: StepReadings;
  readonly capSteps?: number;
  /** In the one currency of the record's prices. */
  readonly capRisk?: string;
  /** What-if, never saved: joints taken as already undone, parts taken as already away. */
  readonly gone?: readonly string[];
}

/** `written`: all as written; `none`: none of them; a list: just these relations (joint or part ids) hold. */
export type DoubtView = "written" | "none" | readonly string[];

export interface WayOperation {
  readonly kind: "release" | "lift" | "shift" | "heat";
  readonly joint?: string;
  /** Which of the joint's releases, from 0. */
  readonly release?: number;
  readonly part?: string;
  readonly zone?: string;
  readonly action?: string;
  readonly tools: readonly string[];
  /** Tools fetched just before. */
  readonly fetch: readonly string[];
  /** The device is turned just before. */
  readonly turn: boolean;
  readonly side?: Side;
  /** Rounds of heating and work that an interrupted release takes. */
  readonly passes?: number;
  /** Of a heating: seconds after its end in which the bond can be worked; left out: no limit. */
  readonly soft?: number;
  /** Second at which its own work begins, after fetch and turn. */
  readonly at: number;
  /** Its own work; with passes all of it, heatings included. */
  readonly seconds: number;
  /** Legal steps it adds, a change of tool before it included. */
  readonly steps: number;
}

/** What happens where a release may fail and the work goes on another way. */
export interface Branch {
  readonly joint: string;
  readonly chance: number;
  /** The release that the work goes on with. */
  readonly then: number;
  /** Seconds more when it happens, fetches included. */
  readonly seconds: number;
  /** Chance times those seconds. */
  readonly expected: number;
}

export interface WayIn {
  readonly targets: readonly string[];
  readonly least: "seconds" | "steps" | "risk";
  readonly seconds: number;
  /** Legal steps, remote steps included. */
  readonly steps: number;
  readonly remoteSteps: number;
  /** Expected cost of damage; null where no price at all is in the record. */
  readonly risk: Money | null;
  /** In the unit of `least`. */
  readonly lowerBound: number;
  readonly proved: boolean;
  /** What people are shown: the same order by the bench's usual times (set B), in seconds. */
  readonly range: { readonly low: number; readonly usual: number; readonly high: number } | null;
  readonly operations: readonly WayOperation[];
  /** Releases that may fail, with what follows; they do not change `seconds`, `steps` or the proof. */
  readonly branches: readonly Branch[];
  readonly assumptions: readonly string[];
  readonly warnings: readonly string[];
  readonly milliseconds: number;
}

export interface Unreachable {
  readonly unreachable: readonly {
    readonly part: string;
    readonly because: string;
    readonly blockedBy: readonly string[];
  }[];
}
