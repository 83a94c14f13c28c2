import type { TeardownRecord } from "../../record/index.ts";
import { harmOf, millionths, moneyOf, requireOneCurrency, viewOf } from "../../structure/index.ts";
import type { Control } from "../problem.ts";
import { findWayIn, termsOf } from "./index.ts";
import type { Question, Unreachable, WayIn } from "./types.ts";

/** Safety against a front of thousands of points that nobody could look at. */
const MOST = 50;

export interface Front {
  /** Quickest first; each next one takes longer and risks less. */
  readonly front: readonly WayIn[];
  /** false where time ran out, or where there are more points than are kept. */
  readonly complete: boolean;
}

/**
 * Time against expected damage: every way in that nothing else beats in both.
 *
 * Each point is the quickest way in that risks less than the one before it, so the front is exact where each is proved.
 *
 * @throws InputError where prices stand in several currencies
 */
export function frontOf(record: TeardownRecord, question: Question, control: Control): Front | Unreachable {
  const harm = harmOf(viewOf(record, termsOf(question)));
  requireOneCurrency(harm);
  const front: WayIn[] = [];
  let cap = question.capRisk;
  while (front.length < MOST) {
    const answer = findWayIn(
      record,
      { ...question, least: "seconds", ...(cap === undefined ? {} : { capRisk: cap }) },
      control,
    );
    if (!("operations" in answer)) return front.length === 0 ? answer : { front, complete: true };
    front.push(answer);
    if (!answer.proved) return { front, complete: false };
    const risk = answer.risk === null ? 0 : millionths(answer.risk);
    if (risk === 0) return { front, complete: true };
    cap = moneyOf(risk - 1, harm.currency ?? "XXX").amount;
  }
  return { front, complete: false };
}
