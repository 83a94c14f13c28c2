/**
 * The way in with the fewest steps, planned over and over while changes are tried: the same answer as `findWayIn` of
 * core/route/ways for `least: "steps"`, with the rule of power judged on the compiled problem, which is some ten times
 * quicker, and told in full (`gate`), because the search has to know when it shifts.
 */
import type { Part, TeardownRecord } from "../record/schema.ts";
import type { Answer, Control, Move, Operation, Problem, StepReadings } from "../route/problem.ts";
import { solve } from "../route/solve.ts";
import { type Compiled, compile, isLiveWork } from "../structure/index.ts";
import { type LawOperation, moveOperation, releaseOperation, sourceOf } from "./operations.ts";
import type { Sequence } from "./sequence.ts";

export interface Planned {
  readonly sequence: Sequence;
  /** Milliseconds and number of operations. */
  readonly cost: string;
  /** Which live joints wait for the power joint; the same text, the same rule. */
  readonly gate: string;
  /** What was solved, and how; null where no way in was found. */
  readonly solved: { readonly compiled: Compiled; readonly problem: Problem; readonly moves: readonly Move[] } | null;
}

export function planLeast(
  record: TeardownRecord,
  part: Part,
  readings: StepReadings,
  control: Control,
  limit: number,
): Planned {
  const compiled = compile(record, {}, [part.id], false);
  const waiting = waitingOperations(compiled);
  const gate = gateText(compiled, waiting);
  const objective = { least: "steps", readings } as const;
  const run = (one: Problem): Answer => solve(one, objective, { ...control, deadline: control.now() + limit });
  let problem = waiting === null ? compiled.problem : gated(compiled, waiting);
  let answer = run(problem);
  let rule = gate;
  // Where no way in results the rule of power is off for this question.
  if (answer.kind === "no-way" && waiting !== null) {
    problem = compiled.problem;
    answer = run(problem);
    rule = `${gate} left out`;
  }
  const solved = answer.kind === "solved" ? { compiled, problem, moves: answer.moves } : null;
  return { ...told(record, part, compiled, answer), gate: rule, solved };
}

/**
 * Proved (null): the part takes more than `steps` steps, and the rule of power is the one of `gate`. Under one rule the answer
 * stays the same when relations are put back, so what is proved for a record holds for every record with more in the way.
 *
 * @returns else the way in that is as short, empty where none was found
 */
export function provedAbove(
  record: TeardownRecord,
  part: Part,
  readings: StepReadings,
  control: Control,
  limit: number,
  steps: number,
  gate: string,
): readonly LawOperation[] | null {
  const compiled = compile(record, {}, [part.id], false);
  const waiting = waitingOperations(compiled);
  if (gateText(compiled, waiting) !== gate) return [];
  const problem = waiting === null ? compiled.problem : gated(compiled, waiting);
  const deadline = Math.min(control.deadline ?? Number.POSITIVE_INFINITY, control.now() + limit);
  const answer = solve(problem, { least: "steps", capSteps: steps, readings }, { ...control, deadline });
  if (answer.kind === "no-way" || (answer.kind === "out-of-time" && answer.lowerBound > steps)) return null;
  return answer.kind === "solved" ? operationsOf(record, compiled, answer.moves) : [];
}

function gateText({ problem }: Compiled, waiting: readonly number[] | null): string {
  return waiting === null ? "off" : waiting.map((index) => problem.operations[index].id).join();
}

function told(
  record: TeardownRecord,
  part: Part,
  compiled: Compiled,
  answer: Answer,
): Pick<Planned, "sequence" | "cost"> {
  if (answer.kind === "no-way")
    return { sequence: { kind: "no-way", part, because: "no way in", warnings: [] }, cost: "" };
  if (answer.kind === "out-of-time")
    return { sequence: { kind: "cannot-tell", part, because: "out of time", warnings: [] }, cost: "" };
  const operations = operationsOf(record, compiled, answer.moves);
  const open = answer.proved ? {} : { stepsAtLeast: answer.lowerBound };
  return {
    sequence: { kind: "told", part, operations, ...open, warnings: [] },
    cost: `${answer.ms} ${answer.moves.length}`,
  };
}

/** Moves of the planner in the words of the law. */
export function operationsOf(record: TeardownRecord, compiled: Compiled, moves: readonly Move[]): LawOperation[] {
  return moves.map((move) => operationOf(record, compiled, move));
}

function operationOf(record: TeardownRecord, { problem, meanings }: Compiled, move: Move): LawOperation {
  if (move.kind === "heat") {
    const zone = problem.zones[move.zone].id;
    return { kind: "heat", zone, source: sourceOf(record, zone) };
  }
  const meaning = meanings[move.operation];
  if (meaning.kind === "release") return releaseOperation(meaning.joint, meaning.release, move.passes);
  return moveOperation(meaning.kind, meaning.part);
}

/** The releases that wait for the power joint; null where there is none, or it cannot be reached by the rule. */
function waitingOperations({ view, problem, meanings }: Compiled): number[] | null {
  const power = powerOperations({ meanings });
  if (power.length === 0) return null;
  const needed = new Map<string, boolean>();
  const exempt = (joint: string): boolean => {
    let is = needed.get(joint);
    if (is === undefined) {
      const own = meanings.flatMap((meaning, index) =>
        meaning.kind === "release" && meaning.joint.id === joint ? [index] : [],
      );
      const reached = possible(problem.operations, (index) => own.includes(index), []);
      is = !power.some((index) => reached[index] === 1);
      needed.set(joint, is);
    }
    return is;
  };
  const waiting = meanings.flatMap((meaning, index) => {
    if (meaning.kind !== "release" || !isLiveWork(view, meaning.joint, meaning.joint.releases[meaning.release]))
      return [];
    return exempt(meaning.joint.id) ? [] : [index];
  });
  const wait = new Set(waiting);
  const reached = possible(problem.operations, () => false, power, wait);
  return power.some((index) => reached[index] === 1) ? waiting : null;
}

function powerOperations({ meanings }: Pick<Compiled, "meanings">): number[] {
  return meanings.flatMap((meaning, index) => (meaning.kind === "release" && meaning.joint.power ? [index] : []));
}

function gated(compiled: Compiled, waiting: readonly number[]): Problem {
  const power = powerOperations(compiled);
  const operations = [...compiled.problem.operations];
  for (const index of waiting)
    operations[index] = { ...operations[index], needs: [...operations[index].needs, [[power]]] };
  return { ...compiled.problem, operations };
}

/** Everything that can ever be done, heat aside; the operations in `waiting` only once one of `power` is. */
export function possible(
  operations: readonly Operation[],
  banned: (index: number) => boolean,
  power: readonly number[] = [],
  waiting: ReadonlySet<number> = new Set(),
): Uint8Array {
  const done = new Uint8Array(operations.length);
  const is = (index: number): boolean => done[index] === 1;
  for (let changed = true; changed; ) {
    changed = false;
    for (let index = 0; index < operations.length; index += 1) {
      if (done[index] === 1 || banned(index)) continue;
      if (waiting.has(index) && !power.some(is)) continue;
      const { needs } = operations[index];
      if (!needs.every((need) => need.some((group) => group.every((atom) => atom.some(is))))) continue;
      done[index] = 1;
      changed = true;
    }
  }
  return done;
}
