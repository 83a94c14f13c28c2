/** Everything that a report says, computed from the record: figures, the law, a way in to each priority part. */
import { InputError, InputFaults } from "../core/errors.ts";
import { type LawReport, lawReport, PLAN_LIMIT } from "../core/law/index.ts";
import { compareRecords, type Figures, figuresOf, type RecordComparison } from "../core/measure/index.ts";
import { type Part, PRIORITY_ROLES, type TeardownRecord } from "../core/record/index.ts";
import { countingClock } from "../core/route/counting-clock.ts";
import { findWayIn, type Unreachable, type WayIn } from "../core/route/ways/index.ts";

/** An answer, or why there is none, in words. */
export type Told<T> =
  | { readonly kind: "told"; readonly value: T }
  | { readonly kind: "not-told"; readonly why: string };

export interface ReportAnswers {
  readonly record: TeardownRecord;
  readonly sibling?: TeardownRecord;
  readonly figures: Told<Figures>;
  readonly siblingFigures?: Told<Figures>;
  /** Beside the sibling, without ways and index. */
  readonly comparison?: Told<RecordComparison>;
  readonly law: Told<LawReport>;
  readonly ways: readonly { readonly role: string; readonly part: Part; readonly answer: Told<WayIn | Unreachable> }[];
}

/** Milliseconds of a counting clock for each way in of the report: it is to be there in seconds, and the same on every machine. */
const WAY_LIMIT = 400;

export function reportAnswers(record: TeardownRecord, sibling: TeardownRecord | undefined): ReportAnswers {
  const now = countingClock();
  const targets = PRIORITY_ROLES.flatMap((role) =>
    record.parts
      .filter((part) => !part.base && (part.role === role || part.serves?.includes(role)))
      .map((part) => ({ role: role.replaceAll("-", " "), part })),
  );
  const found = new Map<string, Told<WayIn | Unreachable>>();
  for (const { part } of targets)
    if (!found.has(part.id))
      found.set(
        part.id,
        told(() => findWayIn(record, { to: [part.id], least: "seconds" }, { now, deadline: now() + WAY_LIMIT })),
      );
  return {
    record,
    figures: told(() => figuresOf(record, sibling)),
    ...(sibling === undefined ? {} : { sibling, siblingFigures: told(() => figuresOf(sibling)) }),
    ...(sibling === undefined ? {} : { comparison: told(() => compareRecords(record, sibling)) }),
    law: told(() => lawReport(record, { findWayIn, control: { now }, limit: PLAN_LIMIT })),
    ways: targets.map((target) => ({ ...target, answer: found.get(target.part.id)! })),
  };
}

/** What the caller's data do not allow is said in the report; our own faults are thrown. */
function told<T>(compute: () => T): Told<T> {
  try {
    return { kind: "told", value: compute() };
  } catch (error) {
    if (error instanceof InputError || error instanceof InputFaults) return { kind: "not-told", why: error.message };
    throw error;
  }
}
