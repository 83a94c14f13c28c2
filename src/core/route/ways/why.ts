/**
 * Why an operation is in a way in: what cannot be done without it, and so on to the target; and what the way in would cost if
 * the thing it undoes or moves were not there.
 */
import type { TeardownRecord } from "../../record/index.ts";
import { type Compiled, compile } from "../../structure/index.ts";
import { needHolds } from "../advance.ts";
import type { Control } from "../problem.ts";
import { CELL_CANNOT_BE_ISOLATED, findWayIn, termsOf } from "./index.ts";
import type { Question, WayIn, WayOperation } from "./types.ts";

export interface Why {
  /** Places in `way.operations`, from the operation itself to the one that reaches a target. */
  readonly chain: readonly number[];
  /** false: nothing on the way needs it; it makes something ready, or saves a set-up or a step. */
  readonly needed: boolean;
  /** The best way in if its joint or part were not there; null for heatings, targets, and where there is none. */
  readonly without: { readonly gone: string; readonly seconds: number; readonly steps: number } | null;
}

/** @param place of the operation in `way.operations` */
export function whyOf(record: TeardownRecord, question: Question, way: WayIn, place: number, control: Control): Why {
  const isolated = !way.warnings.includes(CELL_CANNOT_BE_ISOLATED);
  const compiled = compile(record, termsOf(question), question.to, isolated);
  const chain = chainOf(compiled, question, way, place);
  const last = way.operations[chain.at(-1) ?? place];
  const operation = way.operations[place];
  return {
    chain,
    needed: isTarget(question, last),
    without: withoutIt(record, question, operation, control),
  };
}

function isTarget(question: Question, operation: WayOperation | undefined): boolean {
  return operation?.kind === "lift" && question.to.includes(operation.part ?? "");
}

function chainOf(compiled: Compiled, question: Question, way: WayIn, place: number): number[] {
  const index = way.operations.map((operation) => indexOf(compiled, operation));
  const chain = [place];
  for (let at = place; !isTarget(question, way.operations[at]); ) {
    const next = firstThatNeeds(compiled, way, index, at);
    if (next < 0) break;
    chain.push(next);
    at = next;
  }
  return chain;
}

/** The first later operation that could not be done if this one had been left out; of a heating its first bond. */
function firstThatNeeds(compiled: Compiled, way: WayIn, index: readonly number[], at: number): number {
  const { problem } = compiled;
  const operation = way.operations[at];
  if (operation.kind === "heat") {
    return way.operations.findIndex((other, i) => i > at && other.kind === "release" && other.zone === operation.zone);
  }
  const done = new Uint8Array(problem.operations.length);
  for (let i = 0; i < way.operations.length; i += 1) {
    const one = index[i];
    if (one < 0) continue;
    if (i > at && !problem.operations[one].needs.every((need) => needHolds(need, done))) return i;
    if (i !== at) done[one] = 1;
  }
  return -1;
}

function indexOf(compiled: Compiled, operation: WayOperation): number {
  return compiled.meanings.findIndex((meaning) => {
    if (meaning.kind !== operation.kind) return false;
    if (meaning.kind !== "release") return meaning.part.id === operation.part;
    return meaning.joint.id === operation.joint && meaning.release === (operation.release ?? 0);
  });
}

function withoutIt(record: TeardownRecord, question: Question, operation: WayOperation, control: Control) {
  const gone = operation.joint ?? operation.part;
  if (gone === undefined || operation.kind === "heat" || question.to.includes(gone)) return null;
  const answer = findWayIn(record, { ...question, gone: [...(question.gone ?? []), gone] }, control);
  return "operations" in answer ? { gone, seconds: answer.seconds, steps: answer.steps } : null;
}
