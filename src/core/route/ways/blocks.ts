/**
 * What blocks what: for a part the joints that every way in releases, the inclusion-smallest sets of joints that are
 * enough for one, and what a way in would save if one obstacle were gone.
 */
import type { TeardownRecord } from "../../record/index.ts";
import { reachable, type View, viewOf } from "../../structure/index.ts";
import type { Control } from "../problem.ts";
import { findWayIn, termsOf } from "./index.ts";
import type { Question, WayIn } from "./types.ts";

export interface Blocks {
  readonly part: string;
  /** Joints that every way in releases. */
  readonly always: readonly string[];
  /** Inclusion-smallest sets of joints that are enough for a way in. */
  readonly enough: readonly (readonly string[])[];
  /** false where there are more sets than were asked for. */
  readonly complete: boolean;
}

/** @param most sets to find at most */
export function blocksOf(record: TeardownRecord, question: Question, part: string, most = 40): Blocks {
  const view = viewOf(record, termsOf(question));
  const joints = record.joints.filter((joint) => joint.releases.length > 0).map((joint) => joint.id);
  const can = (usable: ReadonlySet<string>): boolean => reachable(only(view, usable)).lifted.has(part);
  const all = new Set(joints);
  if (!can(all)) return { part, always: [], enough: [], complete: true };
  const always = joints.filter((joint) => !can(new Set(joints.filter((other) => other !== joint))));
  const { sets, complete } = smallestSets(joints, can, most);
  return { part, always, enough: sets, complete };
}

/** The tree of hitting sets again: a smallest set, then for each of its members the smallest sets without it. */
function smallestSets(
  joints: readonly string[],
  can: (usable: ReadonlySet<string>) => boolean,
  most: number,
): { sets: string[][]; complete: boolean } {
  const sets = new Map<string, string[]>();
  const seen = new Set<string>();
  const queue: (readonly string[])[] = [[]];
  let tries = 0;
  while (queue.length > 0) {
    const without = queue.shift() as readonly string[];
    const usable = new Set(joints.filter((joint) => !without.includes(joint)));
    if (!can(usable)) continue;
    const small = shrink(usable, can);
    sets.set(small.join("\n"), small);
    tries += 1;
    if (sets.size >= most || tries > most * 5) return { sets: inOrder(sets), complete: queue.length === 0 };
    for (const joint of small) {
      const next = [...without, joint].sort();
      const key = next.join("\n");
      if (seen.has(key)) continue;
      seen.add(key);
      queue.push(next);
    }
  }
  return { sets: inOrder(sets), complete: true };
}

/** The smaller ones first, then by the alphabet. */
function inOrder(sets: ReadonlyMap<string, string[]>): string[][] {
  return [...sets].sort(([a, x], [b, y]) => x.length - y.length || (a < b ? -1 : 1)).map(([, set]) => set);
}

/** Leaves out one after the other what is not needed. */
function shrink(usable: ReadonlySet<string>, can: (usable: ReadonlySet<string>) => boolean): string[] {
  const kept = new Set(usable);
  for (const joint of usable) {
    kept.delete(joint);
    if (!can(kept)) kept.add(joint);
  }
  return [...kept].sort();
}

/** The view in which only these joints can be undone. */
function only(view: View, usable: ReadonlySet<string>): View {
  const record = {
    ...view.record,
    joints: view.record.joints.map((joint) =>
      // A joint without a usable release still holds: its releases are kept and ruled out.
      joint.releases.length === 0 || usable.has(joint.id)
        ? joint
        : { ...joint, releases: joint.releases.map((release) => ({ ...release, onlyWhen: [] })) },
    ),
  };
  return viewOf(record, view.terms);
}

export interface Saving {
  /** Id of the joint or part. */
  readonly gone: string;
  /** In the unit of `least`; */
  readonly saves: number;
}

/** What the way in would save if one of its joints or obstacles were gone, most first. */
export function savingsOf(record: TeardownRecord, question: Question, way: WayIn, control: Control): Saving[] {
  const before = figure(way);
  const things = new Set(
    way.operations
      .flatMap(({ joint, part }) => [joint ?? part ?? ""])
      .filter((id) => id !== "" && !question.to.includes(id)),
  );
  const savings = [...things].flatMap((gone): Saving[] => {
    const answer = findWayIn(record, { ...question, gone: [...(question.gone ?? []), gone] }, control);
    if (!("operations" in answer)) return [];
    return [{ gone, saves: Math.round((before - figure(answer)) * 1e6) / 1e6 }];
  });
  return savings.sort((a, b) => b.saves - a.saves);
}

function figure(way: WayIn): number {
  if (way.least === "seconds") return way.seconds;
  return way.least === "steps" ? way.steps : Number(way.risk?.amount ?? 0);
}
