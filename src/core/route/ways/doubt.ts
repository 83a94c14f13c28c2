/**
 * A way in under doubt: a relation that nobody has tried is either as written or not there at all, each by itself.
 */
import type { TeardownRecord } from "../../record/index.ts";
import { compile, moneyOf, openQuestions, weighQuestions } from "../../structure/index.ts";
import { type Control, DEFAULT_READINGS } from "../problem.ts";
import { solve } from "../solve.ts";
import { findWayIn, objectiveOf, remoteSteps, termsOf } from "./index.ts";
import type { Question } from "./types.ts";

/** In the unit of `least`; null where the part cannot be reached. */
export interface Doubt {
  /** None of the doubted relations is there. */
  readonly best: number | null;
  /** All are as written. */
  readonly worst: number | null;
  /** The best order of work that can be done whichever way they fall. */
  readonly robust: number | null;
  /** Relations whose answer changes the figure, most decisive first. */
  readonly decides: readonly {
    readonly relation: string;
    readonly then: number | null;
    readonly else: number | null;
  }[];
  /** How many relations are open at all. */
  readonly open: number;
}

/** Best, worst and robust case, and the answers that decide between them. */
export function weighDoubt(record: TeardownRecord, question: Question, control: Control): Doubt {
  const measure = (holding: readonly string[]): number | null =>
    leastOf(record, { ...question, doubt: holding }, control);
  const far = (a: number | null, b: number | null): number => {
    if (a === null || b === null) return a === b ? 0 : Number.POSITIVE_INFINITY;
    return Math.abs(a - b);
  };
  const weighed = weighQuestions(record, measure, far);
  const decides = weighed.flatMap(({ question: asked, written, alone }) => {
    const pair = far(written.no, written.yes) > 0 ? written : alone;
    return far(pair.no, pair.yes) > 0 ? [{ relation: asked.relation, then: pair.yes, else: pair.no }] : [];
  });
  return {
    best: leastOf(record, { ...question, doubt: "none" }, control),
    worst: leastOf(record, { ...question, doubt: "written" }, control),
    robust: robustOf(record, question, control),
    decides,
    open: openQuestions(record).length,
  };
}

/** The cost of the best way in, in the unit of `least`; null where there is none. */
export function leastOf(record: TeardownRecord, question: Question, control: Control): number | null {
  const answer = findWayIn(record, question, control);
  if (!("operations" in answer)) return null;
  if (question.least === "seconds") return answer.seconds;
  if (question.least === "steps") return answer.steps;
  return answer.risk === null ? 0 : Number(answer.risk.amount);
}

/**
 * Relations only take orders away, but for one thing: a joint that a doubted relation puts on every way to the power joint
 * may be live work done before it only if the relation is there. So the order keeps to all relations as written, and
 * waits for the cell wherever it would have to if none were there.
 */
function robustOf(record: TeardownRecord, question: Question, control: Control): number | null {
  const terms = termsOf({ ...question, doubt: "written" });
  const careful = compile(record, terms, question.to, true, "none");
  const objective = { ...objectiveOf(question, record), readings: question.readings ?? DEFAULT_READINGS };
  if (careful.problem.targets.some((target) => target < 0)) return null;
  const answer = solve(careful.problem, objective, control);
  if (answer.kind !== "solved") return leastOf(record, { ...question, doubt: "written" }, control);
  if (question.least === "seconds") return answer.ms / 1000;
  if (question.least === "steps") return answer.steps + remoteSteps(record, question.to);
  return Number(moneyOf(answer.risk, "XXX").amount);
}
