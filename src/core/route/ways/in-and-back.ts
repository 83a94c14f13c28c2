import type { TeardownRecord } from "../../record/index.ts";
import { SIDES } from "../../record/index.ts";
import { compile } from "../../structure/index.ts";
import type { Control } from "../problem.ts";
import { type ClosedBefore, findWayBack, type WayBack } from "./back.ts";
import { CELL_CANNOT_BE_ISOLATED, findWayIn, termsOf } from "./index.ts";
import type { Question, Unreachable, WayIn } from "./types.ts";

export interface WayInAndBack extends WayIn {
  /** null where none was found in time. */
  readonly back: WayBack | null;
}

/** The best way in and the quickest way back from it. */
export function findWayInAndBack(
  record: TeardownRecord,
  question: Question,
  control: Control,
): WayInAndBack | Unreachable {
  const way = findWayIn(record, question, control);
  if (!("operations" in way)) return way;
  return { ...way, back: wayBackFrom(record, question, way, control) };
}

/** The quickest way back from a way in that answers the question. */
export function wayBackFrom(
  record: TeardownRecord,
  question: Question,
  way: WayIn,
  control: Control,
  wishes: readonly ClosedBefore[] = [],
): WayBack | null {
  const compiled = compile(record, termsOf(question), question.to, !way.warnings.includes(CELL_CANNOT_BE_ISOLATED));
  const ids = new Map(compiled.problem.operations.map(({ id }, index) => [id, index]));
  let side = SIDES.indexOf("back");
  const done: number[] = [];
  for (const operation of way.operations) {
    if (operation.side !== undefined) side = SIDES.indexOf(operation.side);
    const id =
      operation.kind === "release"
        ? `release ${operation.joint}/${operation.release}`
        : `${operation.kind} ${operation.part}`;
    const index = ids.get(id);
    if (index !== undefined) done.push(index);
  }
  return findWayBack(compiled, done, side, control, wishes);
}
