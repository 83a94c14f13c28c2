/**
 * The planning problem with the bench words taken out: what the solvers work on.
 *
 * `core/structure` compiles a record and a question into it; `unseam solve` reads one from a file. All times
 * are whole milliseconds, so that equal is equal. Operations, tools, sides and zones are named by their index.
 *
 * State of the bench: which operations have been done, the set of tools in hand, the side that is up, how long ago
 * each zone was last heated and, when steps are counted, whether work is open.
 */
export interface Problem {
  readonly operations: readonly Operation[];
  readonly zones: readonly Zone[];
  readonly tools: readonly string[];
  readonly sides: readonly string[];
  /** Milliseconds for each tool of an operation's set that is not in hand when the set differs from what is in hand. */
  readonly fetch: number;
  /** Milliseconds for each change of the side that is up. */
  readonly turn: number;
  readonly start: { readonly tools: readonly number[]; readonly side: number };
  /** Operations that must have been done at the end. */
  readonly targets: readonly number[];
}

/** One thing that can be done once. Heatings are not operations: they are made of `zones` and may be repeated. */
export interface Operation {
  readonly id: string;
  /** `release` opens the work; `lift` and `shift` are one step and close it. A bare problem holds releases only. */
  readonly kind: "release" | "lift" | "shift";
  readonly ms: number;
  /** Sorted tool indices, all used at the same time. Empty: what is in hand stays. */
  readonly tools: readonly number[];
  /** Index of the side that must be up, -1 for any. */
  readonly side: number;
  /** Every need must hold before the operation. */
  readonly needs: readonly Need[];
  /** Zone that must be soft: the work ends at most `soft` after the zone's last heating ended. -1: none. */
  readonly zone: number;
  /** May be interrupted: n rounds of one heating and a piece of work (see `rounds` in replay.ts). */
  readonly passes: boolean;
  /** Reading I9: a cleaning follows this release. */
  readonly clean: boolean;
  /** Reading I7: the lift of a SIM tray. */
  readonly tray: boolean;
  /** Expected damage in millionths of the currency, at least 0. */
  readonly risk: number;
  /**
   * At most one operation of a group is done: the several ways to undo one joint. Left out: a group of its own. Ways with
   * the same needs and users are searched as one, so it pays to say it.
   */
  readonly group?: number;
  /** Reading I4: for each part that comes off with this lift, the other lifts that may have taken it off before. */
  readonly bundle: readonly (readonly number[])[];
}

/** At least one group holds. No group at all: never holds. */
export type Need = readonly Group[];
/** Every atom holds. An empty group always holds. */
export type Group = readonly Atom[];
/** At least one of these operations has been done. Empty: never holds. */
export type Atom = readonly number[];

export interface Zone {
  readonly id: string;
  readonly ms: number;
  /** Milliseconds after the end of a heating in which the bond can be worked; null: no limit. */
  readonly soft: number | null;
  /** Held source: taken up like any tool. Empty: what is in hand stays. */
  readonly tools: readonly number[];
  /** Side that must be up while it is heated (the device lies on the source), -1 for any. */
  readonly side: number;
}

/** The readings I1 to I10 of the law where its text is silent; true = the other position than the default. */
export interface StepReadings {
  readonly I1: boolean;
  readonly I2: boolean;
  readonly I3: boolean;
  readonly I4: boolean;
  readonly I5: boolean;
  readonly I6: boolean;
  readonly I7: boolean;
  readonly I9: boolean;
  readonly I10: boolean;
}

export const DEFAULT_READINGS: StepReadings = {
  I1: false,
  I2: false,
  I3: false,
  I4: false,
  I5: false,
  I6: false,
  I7: false,
  I9: false,
  I10: false,
};

/**
 * What is to be least. Ties are broken by milliseconds, then by the number of operations (heatings included), then by
 * the order in which operations stand in the problem, so that the same input gives the same answer.
 */
export interface Objective {
  readonly least: "seconds" | "steps" | "risk";
  /** At most this many steps (remote steps not included). */
  readonly capSteps?: number;
  /** At most this much expected damage, in millionths. */
  readonly capRisk?: number;
  readonly readings: StepReadings;
}

/** One move of an answer. `passes`: the release was interrupted into this many rounds, each with its own heating. */
export type Move =
  | { readonly kind: "heat"; readonly zone: number }
  | { readonly kind: "do"; readonly operation: number; readonly passes?: number };

/** When a solver has to stop; the clock is passed in, the core has none. */
export interface Control {
  /** Milliseconds on a clock that never goes back. */
  readonly now: () => number;
  /** Stop and answer with the best found so far when `now()` passes this. */
  readonly deadline?: number;
  readonly cancelled?: () => boolean;
  /** Called now and then with the best cost found and the bound, in the unit of `least`. */
  readonly progress?: (best: number | null, lowerBound: number) => void;
}

export type Answer = Solved | NoWay | OutOfTime;

/** An order of work, replayed and valid. Costs are of the whole order; `lowerBound` is in the unit of `least`. */
export interface Solved {
  readonly kind: "solved";
  readonly moves: readonly Move[];
  readonly ms: number;
  readonly steps: number;
  readonly risk: number;
  /** Milliseconds, steps or millionths; equal to the cost when `proved`. */
  readonly lowerBound: number;
  readonly proved: boolean;
  /**
   * "time" also where the memory for the search was used up. Together with `proved`: nothing has less of what is least, but
   * among equals a better one may have been missed.
   */
  readonly stopped: "proof" | "time" | "cancelled";
}

/** Proved: no order of work reaches the targets (under the caps). */
export interface NoWay {
  readonly kind: "no-way";
}

/** Neither an order nor a proof that there is none was found in time. */
export interface OutOfTime {
  readonly kind: "out-of-time";
  readonly lowerBound: number;
}
