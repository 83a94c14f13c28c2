/**
 * Counts steps the way Commission Delegated Regulation (EU) 2023/1669, Annex IV point 5, counts them: a step is an
 * operation that finishes with the removal of a part or with a change of tool. Where the text is silent ten readings
 * stand open; `StepReadings` says which position is taken.
 *
 * One flag, *work is open*, and what the hand holds for the count. Under reading I5 a release without tools is done
 * with the set *bare hands*; for the seconds the tool stays in hand all the same, so `bare` is kept beside `hand`.
 */
import type { StepReadings } from "./problem.ts";

export interface StepState {
  /** Work is open: something was undone since the last step. */
  open: boolean;
  /** Reading I5: the last set used was bare hands. Always false under the default. */
  bare: boolean;
}

/** What the count has to know of one operation or heating. */
export interface StepMove {
  readonly kind: "release" | "lift" | "shift" | "heat";
  /** The tools of the operation and what was in hand before it (sorted indices). */
  readonly tools: readonly number[];
  readonly hand: readonly number[];
  readonly turned: boolean;
  readonly clean: boolean;
  readonly tray: boolean;
  /** Parts that come off with it (reading I4); 1 elsewhere. */
  readonly parts: number;
}

/**
 * Steps of one operation; moves `state` on. A turn (reading I6) is counted before the change of tool: of the two orders
 * it is the one with fewer steps.
 */
export function countSteps(readings: StepReadings, state: StepState, move: StepMove): number {
  let steps = 0;
  if (readings.I6 && move.turned) {
    steps += 1;
    state.open = false;
  }
  steps += changeOfTool(readings, state, move);
  if (move.kind === "release") {
    if (readings.I1) steps += 1;
    state.open = !readings.I1;
    if (readings.I9 && move.clean) {
      steps += 1;
      state.open = false;
    }
    return steps;
  }
  state.open = false;
  if (move.kind === "lift") return steps + (readings.I7 && move.tray ? 0 : move.parts);
  return steps + 1;
}

function changeOfTool(readings: StepReadings, state: StepState, move: StepMove): number {
  const bareHands = readings.I5 && move.kind === "release" && move.tools.length === 0;
  if (!bareHands && move.tools.length === 0) return 0;
  const same = bareHands ? state.bare : !state.bare && sameTools(move.tools, move.hand);
  if (same) return 0;
  const first = move.hand.length === 0 && !state.bare;
  state.bare = bareHands;
  const more = Math.max(0, move.tools.length - 1);
  if (readings.I2 && first) return more;
  const change = state.open || readings.I3 ? 1 : 0;
  state.open = false;
  return change + more;
}

/** Both sets sorted. */
export function sameTools(a: readonly number[], b: readonly number[]): boolean {
  return a.length === b.length && a.every((tool, i) => tool === b[i]);
}
