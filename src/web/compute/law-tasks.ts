/** What the page Law asks of the worker. A further unit is fetched here, by what the workspace says of it. */
import { InputError, InputFaults } from "../../core/errors.ts";
import {
  assessRecord,
  type ClassLetter,
  compareDeclared,
  type DeclaredAnswer,
  type LawOptions,
  type LawReport,
  type LeastChange,
  lawReport,
  leastChange,
  leastChangeForArticle11,
  PLAN_LIMIT,
  parsePrices,
  parseSheet,
  type ReadingEffect,
  type RecordBasis,
  readingEffects,
} from "../../core/law/index.ts";
import { type RankedQuestion, rankQuestions } from "../../core/law/questions.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import { countingClock } from "../../core/route/counting-clock.ts";
import type { StepReadings } from "../../core/route/problem.ts";
import { findWayIn } from "../../core/route/ways/index.ts";
import type { KeptRecord } from "../../server/api.ts";
import { ask } from "../data/client.ts";
import type { Other } from "./figure-tasks.ts";

/** How the steps are counted. */
export interface Counting {
  readonly basis?: RecordBasis;
  readonly readings: StepReadings;
}

export interface LawTasks {
  readonly law: { readonly asks: Counting; readonly gets: LawReport };
  /** Which of the readings would change a score or the class; each is counted anew. */
  readonly lawReadings: { readonly asks: Counting; readonly gets: readonly ReadingEffect[] };
  /** Open questions of the structure, the most decisive first. */
  readonly lawQuestions: {
    readonly asks: Record<string, never>;
    readonly gets: readonly RankedQuestion[];
  };
  readonly lawReach: {
    readonly asks: Counting & {
      readonly to: ClassLetter | "article-11";
      readonly seconds: number;
      /** A list of prices as its file has it. */
      readonly prices: string | null;
    };
    readonly gets: LeastChange;
  };
  /** A sheet as its file has it against what is found. */
  readonly lawDeclared: {
    readonly asks: Counting & { readonly sheet: string; readonly further: Other | null };
    readonly gets: DeclaredAnswer;
  };
}

type Tell = (share: number) => void;

/** The same count on every machine, and the same as in the report. */
function optionsOf({ basis, readings }: Counting): LawOptions {
  return {
    ...(basis === undefined ? {} : { basis }),
    readings,
    findWayIn,
    control: { now: countingClock() },
    limit: PLAN_LIMIT,
  };
}

export const lawTask = (record: TeardownRecord, asks: Counting): LawReport => lawReport(record, optionsOf(asks));

export const readingsTask = (record: TeardownRecord, asks: Counting): readonly ReadingEffect[] =>
  readingEffects(record, optionsOf(asks));

/** Milliseconds of a counting clock for all that the ranking plans. */
const QUESTIONS_LIMIT = 20_000;

export function questionsTask(record: TeardownRecord): readonly RankedQuestion[] {
  const now = countingClock();
  return rankQuestions(record, findWayIn, { now, deadline: QUESTIONS_LIMIT });
}

export function reachTask(
  record: TeardownRecord,
  { to, seconds, prices, ...counting }: LawTasks["lawReach"]["asks"],
  tell: Tell,
): LeastChange {
  const started = performance.now();
  const now = (): number => {
    const at = performance.now();
    tell(Math.min(1, (at - started) / (seconds * 1000)));
    return at;
  };
  const check = prices === null ? null : parsePrices(read(prices, "costs"));
  if (check?.ok === false) throw new InputFaults(check.faults);
  const options = {
    ...optionsOf(counting),
    control: { now },
    // No single way in may take the time of the whole search.
    limit: Math.min(seconds * 100, PLAN_LIMIT),
    searchLimit: seconds * 1000,
    ...(check === null ? {} : { prices: check.prices }),
  };
  return to === "article-11" ? leastChangeForArticle11(record, options) : leastChange(record, to, options);
}

export async function declaredTask(
  record: TeardownRecord,
  { sheet, further, ...counting }: LawTasks["lawDeclared"]["asks"],
): Promise<DeclaredAnswer> {
  const declared = parseSheet(read(sheet, "sheet"));
  if (!declared.ok) throw new InputFaults(declared.faults);
  const found = assessRecord(record, optionsOf(counting));
  const address =
    further === null ? null : `/api/records/${encodeURIComponent(further.id)}?revision=${further.revision}`;
  const other = address === null ? null : (await ask<KeptRecord>(address)).record;
  return compareDeclared(declared.sheet, found, {
    ...(other === null ? {} : { further: assessRecord(other, optionsOf({ readings: counting.readings })) }),
    ...((record.described ?? []).length === 0
      ? {}
      : { described: assessRecord(record, optionsOf({ ...counting, basis: "described" })) }),
  });
}

/** @throws InputError where the text is no JSON */
function read(text: string, path: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new InputError({
      path,
      found: `text that is no JSON (${error instanceof Error ? error.message : String(error)})`,
      expected: path === "sheet" ? '{ "format": "unseam-sheet/1", … }' : '{ "format": "unseam-costs/1", … }',
    });
  }
}
