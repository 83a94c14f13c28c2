import type { Money, TeardownRecord } from "../../record/index.ts";
import type { Control } from "../problem.ts";
import { findWayIn } from "./index.ts";
import type { Question } from "./types.ts";

export type TableRow =
  | {
      readonly part: string;
      readonly seconds: number;
      readonly steps: number;
      readonly risk: Money | null;
      readonly lowerBound: number;
      readonly proved: boolean;
    }
  | { readonly part: string; readonly because: string; readonly blockedBy: readonly string[] };

export interface WaysTable {
  readonly least: Question["least"];
  readonly parts: readonly TableRow[];
  readonly milliseconds: number;
}

/**
 * Every part's best way in, in the order of the record.
 *
 * @param progress called after each part with how many are done, of how many
 */
export function waysToAll(
  record: TeardownRecord,
  question: Omit<Question, "to">,
  control: Control & { readonly perPart?: number },
  progress?: (done: number, of: number) => void,
): WaysTable {
  const started = control.now();
  const parts = record.parts.filter((part) => !part.base);
  const rows = parts.map((part, index): TableRow => {
    const deadline = control.perPart === undefined ? control.deadline : control.now() + control.perPart;
    const answer = findWayIn(
      record,
      { ...question, to: [part.id] },
      { ...control, ...(deadline === undefined ? {} : { deadline }) },
    );
    progress?.(index + 1, parts.length);
    if (!("operations" in answer)) {
      const { because, blockedBy } = answer.unreachable[0];
      return { part: part.id, because, blockedBy };
    }
    const { seconds, steps, risk, lowerBound, proved } = answer;
    return { part: part.id, seconds, steps, risk, lowerBound, proved };
  });
  return { least: question.least, parts: rows, milliseconds: control.now() - started };
}
