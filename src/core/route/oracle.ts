/**
 * The least cost by exhaustion: Dijkstra's algorithm over every state of the bench, every operation and every heating
 * allowed at every point, superfluous ones included. No bound, no dominance, no forced move: it is what the fast solver
 * is checked against. States grow as 2^operations times the ages of the zones; practical up to a dozen operations.
 */
import { advance, type BenchState, cloneState, roundsFromHere, startState } from "./advance.ts";
import type { Move, Objective, Problem } from "./problem.ts";

/** The least (cost, ms, operations) with an order that has it. */
export interface OracleAnswer {
  readonly cost: number;
  readonly ms: number;
  readonly steps: number;
  readonly risk: number;
  readonly operations: number;
  readonly moves: readonly Move[];
}

interface Label {
  readonly state: BenchState;
  readonly steps: number;
  readonly risk: number;
  readonly operations: number;
  readonly parent: Label | null;
  readonly move: Move | null;
}

/** Null: no order reaches the targets. Throws when more than `limit` states were opened. */
export function oracle(problem: Problem, objective: Objective, limit = 3_000_000): OracleAnswer | null {
  const first: Label = { state: startState(problem), steps: 0, risk: 0, operations: 0, parent: null, move: null };
  const heap: Label[] = [first];
  const closed = new Set<string>();
  const moves = allMoves(problem);
  while (heap.length > 0) {
    const label = pop(heap, objective);
    const key = stateKey(problem, objective, label);
    if (closed.has(key)) continue;
    closed.add(key);
    if (closed.size > limit) throw new Error(`more than ${limit} states`);
    if (problem.targets.every((target) => label.state.done[target] === 1)) return answer(label, objective);
    for (const move of moves) {
      const next = step(problem, objective, label, move);
      if (next !== null) push(heap, next, objective);
    }
  }
  return null;
}

function allMoves(problem: Problem): readonly Move[] {
  const heatings: Move[] = problem.zones.map((_, zone) => ({ kind: "heat", zone }));
  return [...heatings, ...problem.operations.map((_, operation): Move => ({ kind: "do", operation }))];
}

function step(problem: Problem, objective: Objective, label: Label, move: Move): Label | null {
  const state = cloneState(label.state);
  let made = move;
  let cost = advance(problem, objective.readings, state, move);
  if (typeof cost === "string" && move.kind === "do" && problem.operations[move.operation]!.passes) {
    const n = roundsFromHere(problem, state, problem.operations[move.operation]!);
    if (typeof n === "number") {
      made = { ...move, passes: n };
      cost = advance(problem, objective.readings, state, made);
    }
  }
  if (typeof cost === "string") return null;
  const steps = label.steps + cost.steps;
  const risk = label.risk + cost.risk;
  if (steps > (objective.capSteps ?? Infinity) || risk > (objective.capRisk ?? Infinity)) return null;
  return { state, steps, risk, operations: label.operations + 1, parent: label, move: made };
}

function stateKey(problem: Problem, objective: Objective, label: Label): string {
  const { state } = label;
  const ages = problem.zones.map((zone, z) => {
    const heated = state.heated[z] ?? null;
    if (heated === null) return "cold";
    if (zone.soft === null) return "warm";
    return state.at - heated > zone.soft ? "cold" : state.at - heated;
  });
  const spent = objective.capSteps === undefined ? "" : label.steps;
  const work = `${state.open ? "o" : ""}${state.bare ? "b" : ""}`;
  return `${state.done.join("")}|${state.hand.join(",")}|${state.side}|${ages.join(",")}|${work}|${spent}`;
}

function answer(label: Label, objective: Objective): OracleAnswer {
  const moves: Move[] = [];
  for (let at: Label | null = label; at?.move; at = at.parent) moves.push(at.move);
  const { steps, risk, operations } = label;
  return { cost: primary(label, objective), ms: label.state.at, steps, risk, operations, moves: moves.reverse() };
}

function primary(label: Label, objective: Objective): number {
  if (objective.least === "seconds") return label.state.at;
  return objective.least === "steps" ? label.steps : label.risk;
}

function before(a: Label, b: Label, objective: Objective): boolean {
  const d = primary(a, objective) - primary(b, objective) || a.state.at - b.state.at || a.operations - b.operations;
  return d < 0;
}

function push(heap: Label[], label: Label, objective: Objective): void {
  let i = heap.push(label) - 1;
  while (i > 0) {
    const up = (i - 1) >> 1;
    if (!before(label, heap[up]!, objective)) break;
    heap[i] = heap[up]!;
    i = up;
  }
  heap[i] = label;
}

function pop(heap: Label[], objective: Objective): Label {
  const top = heap[0]!;
  const last = heap.pop()!;
  if (heap.length === 0) return top;
  let i = 0;
  for (;;) {
    let child = 2 * i + 1;
    if (child >= heap.length) break;
    if (child + 1 < heap.length && before(heap[child + 1]!, heap[child]!, objective)) child += 1;
    if (!before(heap[child]!, last, objective)) break;
    heap[i] = heap[child]!;
    i = child;
  }
  heap[i] = last;
  return top;
}
