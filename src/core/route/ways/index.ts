/**
 * Ways in: a record and a question -> the cheapest order of work, with proof, in the words of the record.
 *
 * Promised: the order obeys every planning rule (it is replayed before it is returned), `seconds` and `steps` are those
 * of the order, and `lowerBound` is a bound that no order of work goes below.
 */

import { InputError } from "../../errors.ts";
import { meantPart, type TeardownRecord } from "../../record/index.ts";
import {
  type Compiled,
  compile,
  millionths,
  powerJoint,
  reachable,
  requireOneCurrency,
  type Terms,
  viewOf,
  whyBlocked,
} from "../../structure/index.ts";
import type { Answer, Control, Objective, Solved } from "../problem.ts";
import { DEFAULT_READINGS } from "../problem.ts";
import { solve } from "../solve.ts";
import { describeWay } from "./describe.ts";
import { remoteSteps } from "./remote.ts";
import type { Question, Unreachable, WayIn } from "./types.ts";

export { remoteSteps } from "./remote.ts";
export type * from "./types.ts";

/** Said where the rule of power had to be left out. */
export const CELL_CANNOT_BE_ISOLATED =
  "The cell cannot be isolated before live work on this way in: qualified people only.";

/**
 * The best way in.
 *
 * @throws InputError for targets that are no parts, and for a question about risk with prices in several currencies.
 */
export function findWayIn(record: TeardownRecord, question: Question, control: Control): WayIn | Unreachable {
  const started = control.now();
  checkTargets(record, question.to);
  const terms = termsOf(question);
  const objective = objectiveOf(question, record);
  const warnings: string[] = [];
  let compiled = compile(record, terms, question.to, true);
  if (question.least === "risk" || question.capRisk !== undefined) requireOneCurrency(compiled.harm);
  let answer: Answer = mustReach(compiled) ? solve(compiled.problem, objective, control) : { kind: "no-way" };
  const ruleOff = question.isolation !== false && powerJoint(compiled.view) !== undefined && !compiled.gated;
  if (answer.kind === "no-way" && compiled.gated && withinCaps(question)) {
    compiled = compile(record, terms, question.to, false);
    answer = mustReach(compiled) ? solve(compiled.problem, objective, control) : { kind: "no-way" };
    if (answer.kind === "solved") warnings.push(CELL_CANNOT_BE_ISOLATED);
  } else if (ruleOff) warnings.push(CELL_CANNOT_BE_ISOLATED);
  if (answer.kind === "no-way") return unreachable(record, question, terms);
  if (answer.kind === "out-of-time") {
    return {
      unreachable: question.to.map((part) => ({
        part,
        because: "no order of work was found in the time given",
        blockedBy: [],
      })),
    };
  }
  return describeWay(compiled, objective, answer as Solved, question, warnings, control.now() - started);
}

/** The terms that decide what is possible, out of a question. */
export function termsOf(question: Question): Terms {
  return {
    damage: question.damage,
    accept: question.accept,
    conditions: question.conditions,
    isolation: question.isolation,
    doubt: question.doubt,
    gone: question.gone,
  };
}

/** What is to be least, out of a question; caps on steps leave the remote steps of the targets out. */
export function objectiveOf(question: Question, record: TeardownRecord): Objective {
  return {
    least: question.least,
    readings: question.readings ?? DEFAULT_READINGS,
    ...(question.capSteps === undefined ? {} : { capSteps: question.capSteps - remoteSteps(record, question.to) }),
    ...(question.capRisk === undefined ? {} : { capRisk: millionths({ amount: question.capRisk, currency: "XXX" }) }),
  };
}

function checkTargets(record: TeardownRecord, targets: readonly string[]): void {
  if (targets.length === 0) throw new InputError({ path: "to", found: "no part", expected: "at least one part" });
  for (const target of targets) {
    if (record.parts.some((part) => part.id === target)) continue;
    const near = meantPart(record, target);
    throw new InputError({
      path: "to",
      found: JSON.stringify(target),
      expected: "the id of a part",
      ...(near === undefined ? {} : { nearest: near }),
    });
  }
}

function withinCaps(question: Question): boolean {
  return question.capSteps === undefined && question.capRisk === undefined;
}

/** Every target has an operation that lifts it. */
function mustReach(compiled: Compiled): boolean {
  return compiled.problem.targets.every((target) => target >= 0);
}

function unreachable(record: TeardownRecord, question: Question, terms: Terms): Unreachable {
  const view = viewOf(record, terms);
  const reached = reachable(view);
  const missing = question.to.filter((part) => !reached.lifted.has(part));
  if (missing.length > 0) return { unreachable: missing.map((part) => whyBlocked(view, reached, part)) };
  const cap = [
    question.capSteps === undefined ? [] : [`${question.capSteps} steps`],
    question.capRisk === undefined ? [] : [`an expected damage of ${question.capRisk}`],
  ].flat();
  const because =
    cap.length > 0
      ? `no order of work stays within ${cap.join(" and ")}`
      : "no order of work gets its bonds undone while they are soft";
  return { unreachable: question.to.map((part) => ({ part, because, blockedBy: bondsOf(record) })) };
}

function bondsOf(record: TeardownRecord): string[] {
  return record.joints
    .filter((joint) => joint.releases.length > 0 && joint.releases.every((release) => release.heat))
    .map((joint) => joint.id);
}
