/**
 * Open questions with what their answers decide: the time to the priority parts and the class.
 */
import { PRIORITY_ROLES, type TeardownRecord } from "../record/index.ts";
import type { Control } from "../route/problem.ts";
import { openQuestions, recordHolding, weighQuestions } from "../structure/index.ts";
import { assessRecord } from "./assess.ts";
import type { FindWayIn } from "./least.ts";

export interface RankedQuestion {
  readonly relation: string;
  readonly asks: string;
  /** Seconds to the priority parts and to those in question, each from the closed device: at best, and at worst. */
  readonly seconds: readonly [number | null, number | null];
  /** Class by the least basis, at best and at worst. */
  readonly class: readonly [string | null, string | null];
  readonly parts: readonly string[];
  /** Whether the answer changes anything. */
  readonly matters: boolean;
}

interface Measure {
  readonly seconds: number | null;
  readonly class: string | null;
  /** Index in ten-thousandths, for ranking. */
  readonly index: number;
}

/**
 * Every open question, most decisive first: a change of the class before a change of the index, that before seconds.
 *
 * @param findWayIn the planner, see core/route/ways
 */
export function rankQuestions(record: TeardownRecord, findWayIn: FindWayIn, control: Control): RankedQuestion[] {
  const wanted = wantedParts(record);
  const measure = (holding: readonly string[]): Measure =>
    measureOf(recordHolding(record, holding), wanted, findWayIn, control);
  return weighQuestions(record, measure, distance).map(({ question, written, alone }): RankedQuestion => {
    const pair = distance(written.no, written.yes) >= distance(alone.no, alone.yes) ? written : alone;
    const { no, yes } = pair;
    const better = (no.seconds ?? Number.POSITIVE_INFINITY) <= (yes.seconds ?? Number.POSITIVE_INFINITY);
    const classes = [no, yes].sort((a, b) => b.index - a.index).map((one) => one.class);
    return {
      relation: question.relation,
      asks: question.asks,
      seconds: better ? [no.seconds, yes.seconds] : [yes.seconds, no.seconds],
      class: [classes[0], classes[1]],
      parts: question.parts,
      matters: distance(no, yes) > 0,
    };
  });
}

/** How many open questions there are, without weighing them. */
export function countQuestions(record: TeardownRecord): number {
  return openQuestions(record).length;
}

/** The priority parts, and the parts that the questions are about. */
function wantedParts(record: TeardownRecord): string[] {
  const asked = new Set(
    openQuestions(record).flatMap((question) => (question.of === "part" ? [question.relation] : question.parts)),
  );
  return record.parts
    .filter(
      (part) => !part.base && (asked.has(part.id) || (PRIORITY_ROLES as readonly string[]).includes(part.role ?? "")),
    )
    .map((part) => part.id);
}

function measureOf(record: TeardownRecord, wanted: readonly string[], findWayIn: FindWayIn, control: Control): Measure {
  let seconds: number | null = 0;
  for (const part of wanted) {
    const way = findWayIn(record, { to: [part], least: "seconds" }, control);
    if (!("operations" in way)) seconds = null;
    else if (seconds !== null) seconds += way.seconds;
  }
  if (record.device.kind === "other") return { seconds: round(seconds), class: null, index: 0 };
  const { answer } = assessRecord(record, { basis: "least", findWayIn, control, ties: false });
  return {
    seconds: round(seconds),
    class: answer.class,
    index: answer.unrounded === null ? 0 : Math.round(Number(answer.unrounded) * 10_000),
  };
}

function round(seconds: number | null): number | null {
  return seconds === null ? null : Math.round(seconds * 1000) / 1000;
}

function distance(a: Measure, b: Measure): number {
  const apart = (a.class === b.class ? 0 : 1e12) + Math.abs(a.index - b.index) * 1e6;
  if (a.seconds === null || b.seconds === null) return apart + (a.seconds === b.seconds ? 0 : 1e14);
  return apart + Math.abs(a.seconds - b.seconds);
}
