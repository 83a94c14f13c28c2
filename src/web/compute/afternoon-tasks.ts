/** What the page Afternoon asks of the worker. */
import { rankQuestions } from "../../core/law/questions.ts";
import { figuresOf } from "../../core/measure/index.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import { countingClock } from "../../core/route/counting-clock.ts";
import { findWayIn, type WayOperation } from "../../core/route/ways/index.ts";
import {
  type Brief,
  briefOf,
  type Chance,
  chancesAlong,
  type Doing,
  wantsOf,
  workSoFar,
} from "../../core/service/afternoon/index.ts";

export interface Lead {
  readonly brief: Brief;
  /** The log, then what is planned and not done yet. */
  readonly operations: readonly (Doing | WayOperation)[];
  readonly done: number;
  readonly chances: readonly Chance[];
}

export interface AfternoonTasks {
  /** The brief, and where the work stands along it. */
  readonly lead: {
    readonly asks: {
      readonly to: readonly string[] | null;
      readonly session: string | null;
      readonly sibling: TeardownRecord | null;
      readonly seconds: number;
    };
    readonly gets: Lead;
  };
}

export function leadTask(record: TeardownRecord, asks: AfternoonTasks["lead"]["asks"]): Lead {
  const now = () => performance.now();
  const questions = rankQuestions(record, findWayIn, { now: countingClock() });
  const sibling = asks.sibling ?? undefined;
  const plan = figuresOf(record, sibling).plan;
  const limit = asks.seconds * 1000;
  const brief = briefOf(record, {
    control: { now },
    limit,
    questions,
    plan,
    sibling,
    ...(asks.to === null ? {} : { to: asks.to }),
  });
  const { operations, done } = workSoFar(record, brief.order, asks.session ?? undefined);
  return {
    brief,
    operations,
    done,
    chances: chancesAlong(wantsOf(record, { questions, plan, sibling }), operations, done),
  };
}
