/**
 * Joints that every way in to a part undoes in its segment, whatever the planner prefers: no order of work does without
 * them, and none can undo them while another priority part is still to come off. They hold the points for fastener and tool
 * down until they are changed themselves or a relation that keeps them there goes. Judged by fixpoints over the structure; taking
 * relations away never makes a joint held that was not, so what is held with many relations gone is held with fewer gone.
 */
import type { Joint, Part, PriorityRole, Release } from "../../record/schema.ts";
import type { Compiled } from "../../structure/index.ts";
import { possible } from "../planning.ts";
import { priorityRolesOf } from "../segment.ts";

export interface Held {
  readonly joint: Joint;
  /** The ways in which it can be undone without damage. */
  readonly releases: readonly { readonly release: Release; readonly index: number }[];
}

/** What the segment of a part is cut by. */
export interface Bounds {
  /** Parts that a way can take at all. */
  readonly parts: ReadonlySet<string>;
  readonly role: PriorityRole;
}

/** Other priority parts that a way to the part can take. */
export function otherPriorityParts({ meanings }: Compiled, target: Part, { parts, role }: Bounds): Part[] {
  const others = new Map<string, Part>();
  for (const meaning of meanings) {
    if (meaning.kind === "release" || meaning.part.id === target.id || !parts.has(meaning.part.id)) continue;
    if (priorityRolesOf(meaning.part).some((other) => other !== role)) others.set(meaning.part.id, meaning.part);
  }
  return [...others.values()];
}

/** @param only look at this joint alone */
export function heldJoints(compiled: Compiled, target: Part, bounds: Bounds, only?: string): Held[] {
  const { operations } = compiled.problem;
  const { meanings } = compiled;
  const goal = meanings.findIndex((meaning) => meaning.kind === "lift" && meaning.part.id === target.id);
  if (goal < 0) return [];
  // Without the lift of another part (its shift, where it is never lifted): nothing held may be possible then.
  const early = otherPriorityParts(compiled, target, bounds).map((other) => {
    const moves = (kind: "lift" | "shift"): number =>
      meanings.findIndex((meaning) => meaning.kind === kind && meaning.part.id === other.id);
    const last = moves("lift") >= 0 ? moves("lift") : moves("shift");
    return possible(operations, (index) => index === last);
  });
  const own = new Map<string, number[]>();
  meanings.forEach((meaning, index) => {
    if (meaning.kind !== "release" || (only !== undefined && meaning.joint.id !== only)) return;
    own.set(meaning.joint.id, [...(own.get(meaning.joint.id) ?? []), index]);
  });
  const held: Held[] = [];
  for (const indices of own.values()) {
    if (early.some((reached) => indices.some((index) => reached[index] === 1))) continue;
    if (possible(operations, (index) => indices.includes(index))[goal] === 1) continue;
    const releases = indices.flatMap((index) => {
      const meaning = meanings[index];
      return meaning.kind === "release"
        ? [{ release: meaning.joint.releases[meaning.release], index: meaning.release }]
        : [];
    });
    const first = meanings[indices[0]];
    if (first.kind === "release") held.push({ joint: first.joint, releases });
  }
  return held;
}
