/**
 * The exact planner: least milliseconds, steps or expected damage, caps kept, with a proof.
 *
 * Reduce (reduce.ts), compile (model.ts), search the sets of operations (commit.ts) and, within each, the orders
 * (order.ts). Where a bond can cool, a relaxation is solved first in which what its first work needs may have been made
 * ready before the heating; when its order obeys the real rules at the same cost it is the optimum, else the search is done
 * again by the letter, with operations that only make ready allowed. The argument is in docs/core/route.md.
 *
 * The problem is NP-hard, and hard to approximate (Goldwasser & Motwani, WADS 1997); on devices of 120 operations a
 * proof takes milliseconds. Within a time limit the answer carries the bound that was reached.
 */
import { advance, roundsFromHere, startState } from "./advance.ts";
import { CommitSearch } from "./commit.ts";
import { greedyOrder, greedySet } from "./greedy.ts";
import { compile, type Model } from "./model.ts";
import type { Answer, Control, Move, Objective, Problem, Solved } from "./problem.ts";
import { reduce } from "./reduce.ts";
import { type Replayed, replay } from "./replay.ts";

/** Milliseconds between two looks at the clock's consequences: progress is told this often. */
const PROGRESS_MS = 100;

export function solve(problem: Problem, objective: Objective, control: Control): Answer {
  const watch = new Watch(control);
  const { readings } = objective;
  const counted = objective.least === "steps" || objective.capSteps !== undefined;
  const reduced = reduce(problem, readings, { ready: false, counted });
  if (reduced === null) return { kind: "no-way" };
  const model = compile(problem, objective, reduced);
  const tell = (bestCost: number, bound: number) => watch.tell(model, bestCost, bound);
  const granted = model.cooling.length > 0 || (model.bareWork.length > 0 && !readings.I1 && !readings.I5);
  const first = new CommitSearch(model, granted, Infinity, 0, watch.stop, tell).run();
  if (first.cost === Infinity && first.proved) return { kind: "no-way" };
  if (!granted && first.cost < Infinity) {
    return conclude(problem, objective, model, first.moves, first.cost, first.bound, first.proved, watch);
  }
  const settled =
    (first.cost < Infinity ? settle(problem, objective, first.moves) : null) ??
    withoutSearch(problem, objective, model);
  const known = settled === null ? Infinity : packed(model, settled.replayed);
  if (first.proved && known === first.cost) {
    return conclude(problem, objective, model, settled!.moves, known, known, true, watch);
  }
  if (!first.proved) {
    return conclude(problem, objective, model, settled?.moves ?? [], known, first.bound, false, watch);
  }
  const wider = reduce(problem, readings, { ready: true, counted })!;
  const full = compile(problem, objective, wider);
  const floor = rescale(first.cost, model, full);
  const start = settled === null ? Infinity : packed(full, settled.replayed);
  const last = new CommitSearch(full, false, start, floor, watch.stop, (b, l) =>
    watch.tell(full, Math.min(b, start), Math.max(l, floor)),
  ).run();
  if (last.cost < start) {
    return conclude(problem, objective, full, last.moves, last.cost, Math.max(floor, last.bound), last.proved, watch);
  }
  if (start === Infinity && last.proved) return { kind: "no-way" };
  const bound = last.proved ? start : Math.max(floor, last.bound);
  return conclude(problem, objective, full, settled?.moves ?? [], start, bound, last.proved, watch);
}

class Watch {
  private readonly control: Control;
  private told: number;
  stopped: "time" | "cancelled" | null = null;
  readonly stop: () => boolean;

  constructor(control: Control) {
    this.control = control;
    this.told = control.now();
    this.stop = () => {
      if (control.cancelled?.() === true) this.stopped = "cancelled";
      else if (control.deadline !== undefined && control.now() > control.deadline) this.stopped = "time";
      return this.stopped !== null;
    };
  }

  tell(model: Model, best: number, bound: number): void {
    const { progress, now } = this.control;
    if (progress === undefined) return;
    const at = now();
    if (at - this.told < PROGRESS_MS) return;
    this.told = at;
    progress(best === Infinity ? null : primary(model, best), primary(model, bound));
  }
}

/** The unit of `least` in a packed cost, rounded down: a bound stays a bound. */
function primary(model: Model, cost: number): number {
  const { least } = model.objective;
  if (least === "seconds") return Math.floor(cost / model.wMs) * model.tick;
  if (least === "steps") return Math.floor(cost / model.wStep);
  return Math.floor(cost / model.wRisk) * model.riskUnit;
}

function packed(model: Model, order: Replayed): number {
  const { wMs, wStep, wRisk, wOp, riskUnit, tick } = model;
  return (order.ms / tick) * wMs + order.steps * wStep + (order.risk / riskUnit) * wRisk + order.operations * wOp;
}

/** A packed cost of one model as one of another model of the same problem, or a little less. */
function rescale(cost: number, from: Model, to: Model): number {
  const { least } = from.objective;
  const first = least === "seconds" ? 0 : primary(from, cost);
  const inFirst = (model: Model) =>
    least === "steps" ? first * model.wStep : Math.floor(first / model.riskUnit) * model.wRisk;
  const rest = cost - inFirst(from);
  const ticks = Math.floor(rest / from.wMs);
  const operations = to.wOp === 1 && from.wOp === 1 ? rest - ticks * from.wMs : 0;
  return inFirst(to) + Math.floor((ticks * from.tick) / to.tick) * to.wMs + operations;
}

/** A way that is there even when the time is over before any search. */
function withoutSearch(problem: Problem, objective: Objective, model: Model) {
  const moves = greedyOrder(model, greedySet(model));
  return moves === null ? null : settle(problem, objective, moves);
}

/** The order by the real rules: bonds that do not fit are interrupted where that is allowed; null: it cannot be done. */
function settle(problem: Problem, objective: Objective, moves: readonly Move[]) {
  const state = startState(problem);
  const settled: Move[] = [];
  for (const move of moves) {
    let made: Move = move.kind === "do" ? { kind: "do", operation: move.operation } : move;
    let cost = advance(problem, objective.readings, state, made);
    if (typeof cost === "string" && made.kind === "do") {
      const n = roundsFromHere(problem, state, problem.operations[made.operation]!);
      if (typeof n !== "number") return null;
      made = { ...made, passes: n };
      cost = advance(problem, objective.readings, state, made);
    }
    if (typeof cost === "string") return null;
    settled.push(made);
  }
  const replayed = replay(problem, objective, settled);
  return replayed.kind === "replayed" ? { moves: settled, replayed } : null;
}

function conclude(
  problem: Problem,
  objective: Objective,
  model: Model,
  moves: readonly Move[],
  cost: number,
  bound: number,
  proved: boolean,
  watch: Watch,
): Answer {
  if (cost === Infinity) return { kind: "out-of-time", lowerBound: primary(model, bound) };
  const order = replay(problem, objective, moves);
  if (order.kind === "violation") throw new Error(`planner: move ${order.index}: ${order.because}`);
  if (packed(model, order) !== cost) throw new Error(`planner: ${cost} found, ${packed(model, order)} replayed`);
  const value = { seconds: order.ms, steps: order.steps, risk: order.risk }[objective.least];
  const lowerBound = proved ? value : Math.min(value, primary(model, bound));
  const answer: Solved = {
    kind: "solved",
    moves,
    ms: order.ms,
    steps: order.steps,
    risk: order.risk,
    lowerBound,
    proved: lowerBound === value,
    stopped: proved ? "proof" : (watch.stopped ?? "time"),
  };
  return answer;
}
