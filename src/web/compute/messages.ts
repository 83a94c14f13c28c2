/** What a page asks of its worker, and what comes back. */
import type { Fault } from "../../core/errors.ts";
import type { LawReport, RecordBasis } from "../../core/law/index.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import type { StepReadings } from "../../core/route/problem.ts";
import type { Alternatives } from "../../core/route/ways/alternatives.ts";
import type { Question, Unreachable, WayIn } from "../../core/route/ways/types.ts";

export interface Tasks {
  /** Each question by itself; `seconds` for each. */
  readonly ways: {
    readonly asks: { readonly questions: readonly Question[]; readonly seconds: number };
    readonly gets: readonly (WayIn | Unreachable)[];
  };
  /** The best ways in that really differ. */
  readonly others: {
    readonly asks: { readonly question: Question; readonly most: number; readonly seconds: number };
    readonly gets: Alternatives | Unreachable;
  };
  readonly law: {
    readonly asks: { readonly basis?: RecordBasis; readonly readings: StepReadings };
    readonly gets: LawReport;
  };
}

export type TaskName = keyof Tasks;

export interface ToWorker<Name extends TaskName = TaskName> {
  readonly name: Name;
  readonly record: TeardownRecord;
  readonly asks: Tasks[Name]["asks"];
}

export interface Progress {
  readonly least: Question["least"];
  /** In the unit of the solver: milliseconds, steps or millionths. */
  readonly best: number | null;
  readonly lowerBound: number;
}

export type FromWorker =
  | { readonly kind: "progress"; readonly progress: Progress }
  | { readonly kind: "done"; readonly value: unknown }
  | { readonly kind: "refused"; readonly faults: readonly Fault[] }
  | { readonly kind: "broken"; readonly message: string };
