/**
 * Does an order of work move by move and says what it costs, or where it breaks which rule. This is the validator of
 * every answer: no solver's cost is believed that does not come out again here.
 */
import { advance, type MoveCost, startState } from "./advance.ts";
import type { Move, Objective, Problem } from "./problem.ts";

export interface Replayed {
  readonly kind: "replayed";
  readonly ms: number;
  readonly steps: number;
  readonly risk: number;
  /** Moves, heatings included: what ties are broken by after the time. */
  readonly operations: number;
  readonly perMove: readonly ReplayedMove[];
}

/** One move of the order; `at` is when its fetches begin, in ms after the start. */
export interface ReplayedMove extends MoveCost {
  readonly at: number;
}

/** `index`: the first move that breaks a rule; the number of moves where the whole order misses what was asked. */
export interface Violation {
  readonly kind: "violation";
  readonly index: number;
  readonly because: string;
}

export function replay(problem: Problem, objective: Objective, moves: readonly Move[]): Replayed | Violation {
  const state = startState(problem);
  const perMove: ReplayedMove[] = [];
  let steps = 0;
  let risk = 0;
  for (const [index, move] of moves.entries()) {
    const at = state.at;
    const cost = advance(problem, objective.readings, state, move);
    if (typeof cost === "string") return { kind: "violation", index, because: cost };
    steps += cost.steps;
    risk += cost.risk;
    perMove.push({ at, ...cost });
  }
  const because = missed(problem, objective, state.done, steps, risk);
  if (because !== null) return { kind: "violation", index: moves.length, because };
  return { kind: "replayed", ms: state.at, steps, risk, operations: moves.length, perMove };
}

function missed(problem: Problem, objective: Objective, done: Uint8Array, steps: number, risk: number): string | null {
  const left = problem.targets.find((target) => done[target] !== 1);
  if (left !== undefined) return `target "${problem.operations[left]?.id ?? left}" has not been reached`;
  if (objective.capSteps !== undefined && steps > objective.capSteps) {
    return `${steps} steps, at most ${objective.capSteps} allowed`;
  }
  if (objective.capRisk !== undefined && risk > objective.capRisk) {
    return `expected damage ${risk} millionths, at most ${objective.capRisk} allowed`;
  }
  return null;
}
