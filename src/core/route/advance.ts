/**
 * One move on the bench: whether it may be done, what it costs, and the state after it. Everything that says how long
 * an order of work takes, how many steps it counts and whether its heat holds goes through here; the solvers keep fast
 * copies of these rules and every answer of theirs is replayed against them.
 *
 * All times are whole milliseconds.
 */
import type { Move, Need, Operation, Problem, StepReadings, Zone } from "./problem.ts";
import { countSteps, type StepState, sameTools } from "./steps.ts";

export interface BenchState extends StepState {
  /** 1 where the operation has been done. */
  readonly done: Uint8Array;
  hand: readonly number[];
  side: number;
  /** Milliseconds since the start. */
  at: number;
  /** When the last heating of each zone ended; null: cold. */
  readonly heated: (number | null)[];
}

/** What one move took. */
export interface MoveCost {
  readonly ms: number;
  readonly steps: number;
  /** Millionths of the currency. */
  readonly risk: number;
  /** Tools fetched, in order; of an interrupted release those of its first round. */
  readonly fetched: readonly number[];
  readonly turned: boolean;
}

export function startState(problem: Problem): BenchState {
  return {
    done: new Uint8Array(problem.operations.length),
    hand: problem.start.tools,
    side: problem.start.side,
    at: 0,
    heated: problem.zones.map(() => null),
    open: false,
    bare: false,
  };
}

export function cloneState(state: BenchState): BenchState {
  return { ...state, done: state.done.slice(), heated: state.heated.slice() };
}

/** Does the move and changes `state`; a text that says why it cannot be done leaves `state` as it was. */
export function advance(problem: Problem, readings: StepReadings, state: BenchState, move: Move): MoveCost | string {
  if (move.kind === "heat") {
    const zone = problem.zones[move.zone];
    if (zone === undefined) return `there is no zone ${move.zone}`;
    return heat(problem, readings, state, move.zone, zone);
  }
  const operation = problem.operations[move.operation];
  if (operation === undefined) return `there is no operation ${move.operation}`;
  if (state.done[move.operation] === 1) return `"${operation.id}" is done a second time`;
  if (otherWayDone(problem, state.done, move.operation)) return `"${operation.id}" has been undone in another way`;
  const missing = operation.needs.findIndex((need) => !needHolds(need, state.done));
  if (missing >= 0) return `need ${missing + 1} of "${operation.id}" does not hold yet`;
  if (move.passes !== undefined) return interrupted(problem, readings, state, move.operation, operation, move.passes);
  const fit = ordinaryFits(problem, state, operation);
  if (fit !== null) return fit;
  return ordinary(problem, readings, state, move.operation, operation);
}

function otherWayDone(problem: Problem, done: Uint8Array, index: number): boolean {
  const { group } = problem.operations[index]!;
  return group !== undefined && problem.operations.some((other, i) => other.group === group && done[i] === 1);
}

export function needHolds(need: Need, done: Uint8Array): boolean {
  return need.some((group) => group.every((atom) => atom.some((operation) => done[operation] === 1)));
}

/** Tools that have to be fetched for a set; none where the set is empty or is in hand as it is. */
export function missingTools(tools: readonly number[], hand: readonly number[]): readonly number[] {
  if (tools.length === 0 || sameTools(tools, hand)) return [];
  return tools.filter((tool) => !hand.includes(tool));
}

/**
 * Rounds of an interrupted release: the least whole n >= 2 with o + ms / n <= soft, compared as o * n + ms <= soft * n;
 * null where o >= soft. `o`: milliseconds of fetches and turn between heating and work, the greater of the first and
 * the second round's.
 */
export function rounds(o: number, ms: number, soft: number): number | null {
  if (o >= soft) return null;
  return Math.max(2, Math.ceil(ms / (soft - o)));
}

/** The rounds in which the release would be done from here, or why it may not be interrupted. */
export function roundsFromHere(problem: Problem, state: BenchState, operation: Operation): number | string {
  const zone = problem.zones[operation.zone];
  if (!operation.passes || zone === undefined || zone.soft === null) return `"${operation.id}" may not be interrupted`;
  if (ordinaryFits(problem, state, operation) === null) return `"${operation.id}" fits without an interruption`;
  const first = setUpAfterHeating(problem, zone, operation, state.hand, state.side);
  if (first.ms + operation.ms <= zone.soft) return `"${operation.id}" fits after one heating, without an interruption`;
  const second = setUpAfterHeating(problem, zone, operation, first.hand, first.side);
  const n = rounds(Math.max(first.ms, second.ms), operation.ms, zone.soft);
  return n ?? `"${operation.id}": setting up takes as long as the bond stays soft`;
}

/** Null where an ordinary release fits, else why not. */
function ordinaryFits(problem: Problem, state: BenchState, operation: Operation): string | null {
  if (operation.zone < 0) return null;
  const zone = problem.zones[operation.zone]!;
  const heated = state.heated[operation.zone] ?? null;
  if (heated === null) return `zone "${zone.id}" is cold`;
  if (zone.soft === null) return null;
  const end = state.at + setUp(problem, operation.tools, operation.side, state.hand, state.side) + operation.ms;
  if (end - heated <= zone.soft) return null;
  return `"${operation.id}" would end ${end - heated} ms after the heating of "${zone.id}", soft for ${zone.soft} ms`;
}

function setUp(problem: Problem, tools: readonly number[], side: number, hand: readonly number[], up: number): number {
  const turn = side >= 0 && side !== up ? problem.turn : 0;
  return missingTools(tools, hand).length * problem.fetch + turn;
}

function setUpAfterHeating(problem: Problem, zone: Zone, operation: Operation, hand: readonly number[], side: number) {
  const held = zone.tools.length > 0 ? zone.tools : hand;
  const up = zone.side >= 0 ? zone.side : side;
  return {
    ms: setUp(problem, operation.tools, operation.side, held, up),
    hand: operation.tools.length > 0 ? operation.tools : held,
    side: operation.side >= 0 ? operation.side : up,
  };
}

/** Fetches and turns for a heating or a piece of work, then its own time. */
function pass(
  problem: Problem,
  readings: StepReadings,
  state: BenchState,
  what: { kind: "release" | "lift" | "shift" | "heat"; ms: number; tools: readonly number[]; side: number },
  counted: { clean: boolean; tray: boolean; parts: number },
): MoveCost {
  const fetched = missingTools(what.tools, state.hand);
  const turned = what.side >= 0 && what.side !== state.side;
  const steps = countSteps(readings, state, { ...what, ...counted, hand: state.hand, turned });
  if (what.tools.length > 0) state.hand = what.tools;
  if (turned) state.side = what.side;
  const ms = fetched.length * problem.fetch + (turned ? problem.turn : 0) + what.ms;
  state.at += ms;
  return { ms, steps, risk: 0, fetched, turned };
}

const NOTHING_MORE = { clean: false, tray: false, parts: 1 };

function heat(problem: Problem, readings: StepReadings, state: BenchState, index: number, zone: Zone): MoveCost {
  const cost = pass(problem, readings, state, { kind: "heat", ...zone }, NOTHING_MORE);
  state.heated[index] = state.at;
  return cost;
}

function ordinary(
  problem: Problem,
  readings: StepReadings,
  state: BenchState,
  index: number,
  operation: Operation,
): MoveCost {
  const parts = readings.I4 && operation.kind === "lift" ? partsStillOn(operation, state.done) : 1;
  const cost = pass(problem, readings, state, operation, { clean: operation.clean, tray: operation.tray, parts });
  state.done[index] = 1;
  return { ...cost, risk: operation.risk };
}

/** Parts that come off with a lift and have not come off before. An operation without a list takes one part off. */
export function partsStillOn(operation: Operation, done: Uint8Array): number {
  if (operation.bundle.length === 0) return 1;
  return operation.bundle.filter((lifts) => !lifts.some((lift) => done[lift] === 1)).length;
}

function interrupted(
  problem: Problem,
  readings: StepReadings,
  state: BenchState,
  index: number,
  operation: Operation,
  passes: number,
): MoveCost | string {
  const n = roundsFromHere(problem, state, operation);
  if (typeof n === "string") return n;
  if (n !== passes) return `"${operation.id}" is done in ${n} rounds, not in ${passes}`;
  const zone = problem.zones[operation.zone]!;
  const from = state.at;
  const piece = { ...operation, ms: 0 };
  let steps = 0;
  const fetched: number[] = [];
  let turned = false;
  const counted = { open: state.open, bare: state.bare };
  for (let round = 1; round <= n; round += 1) {
    const first = heat(problem, readings, state, operation.zone, zone);
    const work = pass(problem, readings, state, piece, { ...NOTHING_MORE, clean: operation.clean && round === n });
    if (round === 1) {
      fetched.push(...first.fetched, ...work.fetched);
      turned = first.turned || work.turned;
    }
    if (round === 1 || readings.I10) {
      steps += first.steps + work.steps;
      counted.open = state.open;
      counted.bare = state.bare;
    }
  }
  state.open = counted.open;
  state.bare = counted.bare;
  if (!readings.I10 && readings.I9 && operation.clean) {
    steps += 1;
    state.open = false;
  }
  state.at += operation.ms;
  state.heated[operation.zone] = null;
  state.done[index] = 1;
  return { ms: state.at - from, steps, risk: operation.risk, fetched, turned };
}
