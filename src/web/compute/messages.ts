/** What a page asks of its worker, and what comes back. */
import type { Fault } from "../../core/errors.ts";
import type { RoundsAnswer } from "../../core/heat/index.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import type { Alternatives } from "../../core/route/ways/alternatives.ts";
import type { Question, Unreachable, WayIn } from "../../core/route/ways/types.ts";
import type { Why } from "../../core/route/ways/why.ts";
import type { AfternoonTasks } from "./afternoon-tasks.ts";
import type { FigureTasks } from "./figure-tasks.ts";
import type { LawTasks } from "./law-tasks.ts";
import type { ShopTasks } from "./shop-tasks.ts";
import type { BoardAsks, BoardShown, FitAsks, FitShown, RoundsAsks, WarmAsks, WarmShown } from "./warm-tasks.ts";

export interface Tasks extends AfternoonTasks, FigureTasks, LawTasks, ShopTasks {
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
  /** Why the operation at this place is in a way in. */
  readonly why: {
    readonly asks: {
      readonly question: Question;
      readonly way: WayIn;
      readonly place: number;
      readonly seconds: number;
    };
    readonly gets: Why;
  };
  /** Window, band and course of a zone's heating. */
  readonly warm: { readonly asks: WarmAsks; readonly gets: WarmShown };
  /** Every heating of a cut of so many seconds. */
  readonly rounds: { readonly asks: RoundsAsks; readonly gets: RoundsAnswer };
  readonly fit: { readonly asks: FitAsks; readonly gets: FitShown };
  readonly board: { readonly asks: BoardAsks; readonly gets: BoardShown };
}

export type TaskName = keyof Tasks;

export interface ToWorker<Name extends TaskName = TaskName> {
  readonly name: Name;
  readonly record: TeardownRecord;
  readonly asks: Tasks[Name]["asks"];
}

export type Progress = Planned | Counted;

/** So much of the work is done. */
export interface Counted {
  readonly done: number;
  readonly of: number;
}

/** What the planner has found so far. */
export interface Planned {
  readonly least: Question["least"];
  /** In the unit of the solver: milliseconds, steps or millionths. */
  readonly best: number | null;
  readonly lowerBound: number;
}

export type FromWorker =
  | { readonly kind: "progress"; readonly progress: Progress }
  /** The answer as far as it has come: good, but not proved. */
  | { readonly kind: "so-far"; readonly value: unknown }
  | { readonly kind: "done"; readonly value: unknown }
  | { readonly kind: "refused"; readonly faults: readonly Fault[] }
  | { readonly kind: "broken"; readonly message: string };
