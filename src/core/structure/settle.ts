import type { Joint, Part, TeardownRecord } from "../record/index.ts";
import { holds } from "./view.ts";
import { keepWarmth } from "./warm-zones.ts";

/** Whether somebody has found a doubted relation to be there. */
export interface Settled {
  readonly relation: string;
  readonly there: boolean;
}

/** The record in which just these doubted relations hold and the others are not there at all; nothing is left open. */
export function recordHolding(record: TeardownRecord, holding: readonly string[]): TeardownRecord {
  const terms = { doubt: holding };
  const made = {
    ...record,
    parts: record.parts.map((part) => (doubted(part) ? settledPart(part, holds(part, terms)) : part)),
    joints: record.joints.map((joint) => (doubted(joint) ? settledJoint(joint, holds(joint, terms)) : joint)),
  };
  keepWarmth(record, made);
  return made;
}

/** The record with some questions answered: a relation that is there has been seen, one that is not is taken out. */
export function settle(record: TeardownRecord, answers: readonly Settled[]): TeardownRecord {
  const there = new Map(answers.map((answer) => [answer.relation, answer.there]));
  return {
    ...record,
    parts: record.parts.map((part) => {
      const answer = there.get(part.id);
      return answer === undefined || !doubted(part) ? part : settledPart(part, answer);
    }),
    joints: record.joints.map((joint) => {
      const answer = there.get(joint.id);
      return answer === undefined || !doubted(joint) ? joint : settledJoint(joint, answer);
    }),
  };
}

function doubted(owner: Part | Joint): boolean {
  return owner.basis === "inferred" || owner.basis === "sibling";
}

function settledPart(part: Part, there: boolean): Part {
  if (there) return { ...part, basis: "seen" };
  const { under: _, ...rest } = part;
  return { ...rest, basis: "seen" };
}

function settledJoint(joint: Joint, there: boolean): Joint {
  if (there) return { ...joint, basis: "seen" };
  const { reach: _, ...rest } = joint;
  return { ...rest, basis: "seen" };
}
