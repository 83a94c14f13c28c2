/**
 * The outbox as plain data: steps that were made here, on a base that the server keeps. What is shown is the base with
 * every step that is still waiting laid over it. Pure: where steps are kept is `outbox.ts`, how they travel `keeper.ts`.
 */
import type { Fault } from "../../core/errors.ts";
import { applyEdit, applyEdits, collide, type Edit, invertAll } from "../../core/record/edits.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import { examineRecord } from "../../core/structure/examine.ts";
import type { KeptRecord, TakenMedia } from "../../server/api.ts";

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
  /** Photographs that have to be with the server before it, by the names that they have here. */
  readonly pictures?: readonly string[];
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

export interface History {
  readonly undo: readonly Step[];
  readonly redo: readonly Step[];
}

/** Steps that can be taken back and done once more, the next one last. Refused ones are neither. */
export function history(steps: readonly Step[]): History {
  const bySeq = new Map(steps.map((step) => [step.seq, step]));
  const state: Stacks = { undo: [], redo: [] };
  for (const step of steps) advance(state, step, (seq) => bySeq.get(seq));
  return state;
}

/** The same with one step more, without going through the others again. */
export function moreHistory({ undo, redo }: History, step: Step): History {
  const state: Stacks = { undo: [...undo], redo: [...redo] };
  advance(state, step, (seq) => undo.findLast((one) => one.seq === seq));
  return state;
}

interface Stacks {
  undo: Step[];
  redo: Step[];
}

function advance(state: Stacks, step: Step, find: (seq: number) => Step | undefined): void {
  if (step.refused !== undefined) return;
  // What is taken back or done once more is nearly always the last one.
  const drop = (list: Step[], seq: number) => {
    const at = list.findLastIndex((one) => one.seq === seq);
    if (at >= 0) list.splice(at, 1);
  };
  if (step.undoes !== undefined) {
    const undone = find(step.undoes);
    drop(state.undo, step.undoes);
    if (undone !== undefined) state.redo.push(undone);
  } else if (step.redoes !== undefined) {
    drop(state.redo, step.redoes);
    state.undo.push(step);
  } else {
    state.redo = [];
    state.undo.push(step);
  }
}

/** A step as it is to be laid on `record`: its way back is told from what stands there now. */
export function madeOn(record: TeardownRecord, step: Omit<NewStep, "back">): NewStep {
  return { ...step, back: invertAll(record, step.edits) };
}

/** The step without the edits that gave way to somebody else's. */
export function without(step: Step, edits: ReadonlySet<number>): Step {
  return { ...step, edits: step.edits.filter((_, index) => !edits.has(index)) };
}

/** Whether the photograph that has that name here is what the step needs or puts into the record. */
export const concerns = (step: Step, picture: string): boolean =>
  step.pictures?.includes(picture) === true ||
  [...step.edits, ...step.back].some(
    (edit) => edit.kind === "put" && edit.list === "media" && edit.item.file === picture,
  );

/**
 * The step when a photograph has come to another name than it had here: the server turned it upright, or wrote it anew.
 * What the camera told, and could not be read here, comes with it.
 */
export function renamed(step: Step, picture: string, taken: TakenMedia): Step {
  const pictures = step.pictures?.filter((name) => name !== picture);
  const { pictures: _, ...rest } = step;
  const here = `sha256:${picture.slice(0, picture.indexOf("."))}`;
  const told = (edits: readonly Edit[]): readonly Edit[] =>
    edits.map((edit) => {
      if (edit.kind !== "put" || edit.list !== "media" || edit.item.file !== picture) return edit;
      const { width, height, focal } = taken;
      const lens =
        edit.item.view !== undefined || focal === undefined || width === undefined || height === undefined
          ? {}
          : { view: { size: [width, height], seen: "back", level: 0, focal } };
      const hash = edit.item.hash === here ? { hash: taken.hash } : {};
      return { ...edit, item: { ...edit.item, ...hash, ...lens, file: taken.name } };
    });
  return {
    ...rest,
    ...(pictures === undefined || pictures.length === 0 ? {} : { pictures }),
    edits: told(step.edits),
    back: told(step.back),
  };
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
