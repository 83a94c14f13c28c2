/**
 * Can a part be had by work of a certain kind? Under the bases `described` and `done` the sequence itself must be of that
 * kind; under `least`, and where those tell nothing of the part, it is enough that some order of work is, which a fixpoint
 * over the structure decides.
 */
import type { Joint, Part, Release, TeardownRecord } from "../record/schema.ts";
import { reachable, viewOf } from "../structure/index.ts";
import type { Sequence } from "./sequence.ts";
import type { Verdict } from "./verdict.ts";

/** Whether a release is of the kind asked for; `maybe` where a fact is not known. */
export type Kind = (joint: Joint, release: Release | null) => "yes" | "maybe" | "no";

export interface WorkAnswer {
  readonly verdict: Verdict;
  /** The first release on the way that is not, or may not be, of the kind. */
  readonly joint?: Joint;
  readonly release?: Release | null;
  /** The way that is counted is not of the kind, but another order of work is. */
  readonly otherWay?: true;
}

export function workOf(record: TeardownRecord, part: Part, sequence: Sequence, least: boolean, kind: Kind): WorkAnswer {
  if (part.base) return { verdict: "cannot-tell" };
  const own: WorkAnswer = sequence.kind === "told" ? ofSequence(sequence.operations, kind) : { verdict: "fail" };
  // Where a procedure or the log tells nothing of the part, the structure is all that there is.
  if ((!least && sequence.kind === "told") || own.verdict === "pass") return own;
  if (canBeHad(record, part, (joint, release) => kind(joint, release) === "yes"))
    return { verdict: "pass", otherWay: true };
  if (canBeHad(record, part, (joint, release) => kind(joint, release) !== "no"))
    return { ...own, verdict: "cannot-tell" };
  return { ...own, verdict: "fail" };
}

function ofSequence(operations: (Sequence & { kind: "told" })["operations"], kind: Kind): WorkAnswer {
  let doubt: WorkAnswer | undefined;
  for (const operation of operations) {
    if (operation.kind !== "release") continue;
    const { joint, release } = operation;
    const is = kind(joint, release);
    if (is === "no") return { verdict: "fail", joint, release };
    if (is === "maybe") doubt ??= { verdict: "cannot-tell", joint, release };
  }
  return doubt ?? { verdict: "pass" };
}

/** Some order of work gets the part out by such releases alone, without damage or danger. */
function canBeHad(record: TeardownRecord, part: Part, allowed: (joint: Joint, release: Release) => boolean): boolean {
  const gate = (joint: Joint, release: Release): string | undefined => (allowed(joint, release) ? undefined : "");
  return reachable(viewOf(record, {}), { gate }).lifted.has(part.id);
}
