/**
 * A record as one question sees it: which releases may be used, which relations hold, what is taken as gone.
 */
import type { Condition, Hazard, Joint, Part, Release, TeardownRecord } from "../record/index.ts";
import { Assemblies } from "./assemblies.ts";

/** The part of a question that decides what is possible; what is to be least does not matter here. */
export interface Terms {
  readonly damage?: boolean;
  readonly accept?: readonly Hazard[];
  readonly conditions?: readonly Condition[];
  readonly isolation?: boolean;
  /** `written`: doubted relations hold as written; `none`: none of them; a list: those of these joints and parts. */
  readonly doubt?: "written" | "none" | readonly string[];
  /** Joints taken as undone and parts taken as away. */
  readonly gone?: readonly string[];
}

export interface View {
  readonly record: TeardownRecord;
  readonly terms: Terms;
  readonly assemblies: Assemblies;
  readonly parts: ReadonlyMap<string, Part>;
  readonly joints: ReadonlyMap<string, Joint>;
  readonly base: string;
  readonly gone: ReadonlySet<string>;
  /** For each part the joints that must be released before it can be lifted. */
  readonly holding: ReadonlyMap<string, readonly Joint[]>;
}

export function viewOf(record: TeardownRecord, terms: Terms): View {
  const assemblies = new Assemblies(record);
  const gone = new Set(terms.gone ?? []);
  const held = record.joints.filter((joint) => joint.releases.length > 0 && stands(joint, gone));
  return {
    record,
    terms,
    assemblies,
    parts: new Map(record.parts.map((part) => [part.id, part])),
    joints: new Map(record.joints.map((joint) => [joint.id, joint])),
    base: record.parts.find((part) => part.base)?.id ?? "",
    gone,
    holding: holdingOf(held, assemblies),
  };
}

/** Only what contains something that a joint holds can be held by it. */
function holdingOf(joints: readonly Joint[], assemblies: Assemblies): Map<string, Joint[]> {
  const holding = new Map<string, Joint[]>();
  for (const joint of joints) {
    const around = new Set(joint.holds.flatMap((part) => assemblies.containing(part)));
    for (const part of around) {
      if (!assemblies.crosses(joint, part)) continue;
      const mine = holding.get(part);
      if (mine === undefined) holding.set(part, [joint]);
      else mine.push(joint);
    }
  }
  return holding;
}

/** May this release be used at all under the terms? */
export function allowed(release: Release, terms: Terms): boolean {
  if (!terms.damage && (release.leaves === "broken" || (release.destroys ?? []).length > 0)) return false;
  for (const hazard of release.hazard ?? []) {
    if ((hazard === "puncture" || hazard === "short") && !(terms.accept ?? []).includes(hazard)) return false;
  }
  const conditions = terms.conditions ?? [];
  if ((release.notWhen ?? []).some((condition) => conditions.includes(condition))) return false;
  return release.onlyWhen === undefined || release.onlyWhen.some((condition) => conditions.includes(condition));
}

/** Does a relation known in this way hold? Doubted ones are either as written or not there at all. */
export function holds(owner: Part | Joint, terms: Terms): boolean {
  if (owner.basis !== "inferred" && owner.basis !== "sibling") return true;
  const doubt = terms.doubt ?? "written";
  if (doubt === "written") return true;
  return doubt !== "none" && doubt.includes(owner.id);
}

/** The groups of parts that must be out of the way of a joint, what is gone left out. [] = always free. */
export function reachOf(view: View, joint: Joint): readonly (readonly string[])[] {
  if (joint.reach === undefined || !holds(joint, view.terms)) return [];
  return joint.reach.map((group) => group.filter((part) => !view.gone.has(part)));
}

/** The same for a part; what comes out with it never stands in its way. */
export function underOf(view: View, part: Part): readonly (readonly string[])[] {
  if (part.under === undefined || !holds(part, view.terms)) return [];
  const own = view.assemblies.of(part.id);
  return part.under.map((group) => group.filter((other) => !view.gone.has(other) && !own.has(other)));
}

/** Joints that still hold something: gone ones, and those left with fewer than two parts, do not. */
export function standing(view: View, joint: Joint): boolean {
  return stands(joint, view.gone);
}

function stands(joint: Joint, gone: ReadonlySet<string>): boolean {
  return !gone.has(joint.id) && joint.holds.filter((part) => !gone.has(part)).length >= 2;
}

/** The joints that must be released before a part can be lifted. */
export function holding(view: View, part: string): readonly Joint[] {
  return view.holding.get(part) ?? [];
}
