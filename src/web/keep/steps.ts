/**
 * The outbox as plain data: steps that were made here, on a base that the server keeps. What is shown is the base with
 * every step that is still waiting laid over it. Pure: where steps are kept is `outbox.ts`, how they travel `keeper.ts`.
 */
import type { Fault } from "../../core/errors.ts";
import { applyEdit, applyEdits, collide, type Edit, invertAll } from "../../core/record/edits.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import { examineRecord } from "../../core/structure/examine.ts";
import type { KeptRecord } from "../../server/api.ts";

/** One thing done by a person, with what takes it back. */
export interface Step {
  /** In the order of doing, across tabs; given by the outbox. */
  readonly seq: number;
  readonly record: string;
  /** In words, as it is offered to be undone: "length of port-screws 3". */
  readonly label: string;
  readonly edits: readonly Edit[];
  readonly back: readonly Edit[];
  /** ISO 8601, UTC. */
  readonly at: string;
  /** The step that this one takes back or does once more. */
  readonly undoes?: number;
  readonly redoes?: number;
  /** Token of the save that it travels with; written down before the save is sent, so that a lost answer is harmless. */
  readonly batch?: string;
  /** The revision that it became part of. */
  readonly revision?: number;
  /** Why the server would not have it. Such a step is shown, is not part of the record, and is never dropped unasked. */
  readonly refused?: readonly Fault[];
}

export type NewStep = Omit<Step, "seq">;

export const isWaiting = (step: Step): boolean => step.revision === undefined && step.refused === undefined;

/** The base with the waiting steps laid over it. A step that no longer fits is named and left out. */
export function standing(
  base: TeardownRecord,
  steps: readonly Step[],
): { readonly record: TeardownRecord; readonly unfit: readonly Step[] } {
  const unfit: Step[] = [];
  let record = base;
  for (const step of steps) {
    if (!isWaiting(step)) continue;
    try {
      record = applyEdits(record, step.edits);
    } catch {
      unfit.push(step);
    }
  }
  return { record, unfit };
}

/** Two edits to the same thing, made without knowing of each other: a person has to choose. */
export interface Collision {
  readonly step: number;
  /** Which edit of the step. */
  readonly edit: number;
  readonly mine: Edit;
  readonly theirs: readonly Edit[];
}

/** What of the waiting steps touches what somebody else saved in between. */
export function collisions(waiting: readonly Step[], since: readonly Edit[]): Collision[] {
  return waiting.flatMap((step) =>
    step.edits.flatMap((mine, edit) => {
      const theirs = since.filter((one) => collide(mine, one));
      return theirs.length === 0 ? [] : [{ step: step.seq, edit, mine, theirs }];
    }),
  );
}

/** The newer base that a stale save told of. */
export function movedBase(base: KeptRecord, since: readonly Edit[], revision: number, savedAt: string): KeptRecord {
  const record = applyEdits(base.record, since);
  return { record, revision, savedAt, warnings: since.length === 0 ? base.warnings : examineRecord(record).warnings };
}

/** Steps that can be taken back and done once more, the next one last. Refused ones are neither. */
export function history(steps: readonly Step[]): { readonly undo: readonly Step[]; readonly redo: readonly Step[] } {
  const undo: Step[] = [];
  const redo: Step[] = [];
  const bySeq = new Map(steps.map((step) => [step.seq, step]));
  const drop = (list: Step[], seq: number) => {
    const at = list.findIndex((one) => one.seq === seq);
    if (at >= 0) list.splice(at, 1);
  };
  for (const step of steps) {
    if (step.refused !== undefined) continue;
    if (step.undoes !== undefined) {
      drop(undo, step.undoes);
      const undone = bySeq.get(step.undoes);
      if (undone !== undefined) redo.push(undone);
    } else if (step.redoes !== undefined) {
      drop(redo, step.redoes);
      undo.push(step);
    } else {
      redo.length = 0;
      undo.push(step);
    }
  }
  return { undo, redo };
}

/** A step as it is to be laid on `record`: its way back is told from what stands there now. */
export function madeOn(record: TeardownRecord, step: Omit<NewStep, "back">): NewStep {
  return { ...step, back: invertAll(record, step.edits) };
}

/** The step without the edits that gave way to somebody else's. */
export function without(step: Step, edits: ReadonlySet<number>): Step {
  return { ...step, edits: step.edits.filter((_, index) => !edits.has(index)) };
}

/** Whether the edits can be laid over the record at all. */
export function fits(record: TeardownRecord, edits: readonly Edit[]): boolean {
  try {
    edits.reduce(applyEdit, record);
    return true;
  } catch {
    return false;
  }
}
