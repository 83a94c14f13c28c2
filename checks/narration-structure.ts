/** A draft made from talk alone, held against the full record of the same device: its open questions answered by a look at that. */
import { assessRecord } from "../src/core/law/index.ts";
import { partFor } from "../src/core/narration/index.ts";
import { emptyRecord, type Joint, type Part, type TeardownRecord } from "../src/core/record/index.ts";
import { findWayIn } from "../src/core/route/ways/index.ts";
import { openQuestions } from "../src/core/structure/index.ts";

/** The device alone, as somebody begins a record; the facts of the market are no part of the talk. */
export function onlyDevice({ id, device, market }: TeardownRecord): TeardownRecord {
  return { ...emptyRecord(id, device), ...(market === undefined ? {} : { market }) };
}

export function legalSteps(record: TeardownRecord): Map<string, number | null> {
  let tick = 0;
  const control = { now: () => (tick += 0.001) };
  const { parts } = assessRecord(record, { basis: "least", findWayIn, control }).answer;
  return new Map(Object.entries(parts).map(([role, one]) => [role, one?.steps ?? null]));
}

/** Every open question answered by a look at the full record: does what is asked for lie over it, at once or in turn? */
export function answeredFrom(
  draft: TeardownRecord,
  full: TeardownRecord,
  asked: readonly string[] = openQuestions(draft).map((one) => one.relation),
): TeardownRecord {
  const base = full.parts.find((part) => part.base === true);
  const match = (id: string) => {
    const part = draft.parts.find((one) => one.id === id);
    return part?.base === true ? base : part === undefined ? undefined : (partFor(full.parts, part.name) ?? undefined);
  };
  const answer = <T extends Part | Joint>(one: T, over: readonly (readonly string[])[], id: string | undefined): T => {
    const lie = id === undefined ? new Set<string>() : above(full, id);
    const yes = over.flat().every((part) => {
      const there = match(part);
      return there !== undefined && lie.has(there.id);
    });
    if (yes) return { ...one, basis: "tried" };
    const { under: _under, reach: _reach, basis: _basis, ...rest } = one as Part & Joint;
    return rest as unknown as T;
  };
  return {
    ...draft,
    parts: draft.parts.map((part) =>
      asked.includes(part.id) && part.under ? answer(part, part.under, match(part.id)?.id) : part,
    ),
    joints: draft.joints.map((joint) =>
      asked.includes(joint.id) && joint.reach ? answer(joint, joint.reach, match(joint.holds[0])?.id) : joint,
    ),
  };
}

/** Parts that lie over a part, at once or in turn, on any side from which it can be taken. */
function above(record: TeardownRecord, id: string, seen: ReadonlySet<string> = new Set()): Set<string> {
  const out = new Set<string>();
  if (seen.has(id)) return out;
  const deeper = new Set([...seen, id]);
  const groups = [
    record.parts.find((part) => part.id === id)?.under,
    ...record.joints.filter((joint) => joint.holds.includes(id)).map((joint) => joint.reach),
  ];
  for (const list of groups) {
    const sets = (list ?? []).map((group) => new Set(group.flatMap((part) => [part, ...above(record, part, deeper)])));
    for (const set of sets) for (const part of set) out.add(part);
  }
  return out;
}
