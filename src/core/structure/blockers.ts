import type { Joint } from "../record/index.ts";
import { isAway, type Reached } from "./reach.ts";
import { allowed, holding, reachOf, underOf, type View } from "./view.ts";

export interface Blocked {
  readonly part: string;
  readonly because: string;
  /** Parts and joints that stand in the way and cannot be got out of it. */
  readonly blockedBy: readonly string[];
}

/** Why a part cannot be lifted, and what blocks it: the obstacles nearest to it that never give way. */
export function whyBlocked(view: View, reached: Reached, target: string): Blocked {
  const part = view.parts.get(target);
  if (part === undefined || part.base) {
    return {
      part: target,
      because: `${part?.name ?? target} is the base: everything else is taken off it`,
      blockedBy: [],
    };
  }
  const reasons: string[] = [];
  const blockedBy = new Set<string>();
  for (const joint of holding(view, target)) {
    if (reached.released.has(joint.id)) continue;
    blockedBy.add(joint.id);
    const usable = joint.releases.filter((release) => allowed(release, view.terms));
    if (usable.length === 0)
      reasons.push(`${joint.id} can be undone only in ways that this question rules out (${ruledOut(joint)})`);
    else {
      const stuck = stuckIn(view, reached, reachOf(view, joint), view.assemblies.containingJoint(joint));
      for (const one of stuck) blockedBy.add(one);
      reasons.push(
        stuck.length > 0
          ? `${joint.id} is reached only past ${names(view, stuck)}`
          : `${joint.id} waits for the cell to be isolated`,
      );
    }
  }
  const over = stuckIn(view, reached, underOf(view, part), view.assemblies.containing(target));
  if (over.length > 0) {
    for (const one of over) blockedBy.add(one);
    reasons.push(`it lies under ${names(view, over)}`);
  }
  const because =
    reasons.length === 0 ? "no order of work fits the time in which its bonds stay soft" : reasons.join("; ");
  return { part: target, because, blockedBy: [...blockedBy] };
}

function ruledOut(joint: Joint): string {
  const why = new Set<string>();
  for (const release of joint.releases) {
    if (release.leaves === "broken" || (release.destroys ?? []).length > 0) why.add("damage");
    for (const hazard of release.hazard ?? []) if (hazard === "puncture" || hazard === "short") why.add(hazard);
    if (release.notWhen || release.onlyWhen) why.add("condition");
  }
  return [...why].join(", ");
}

/** Of groups none of which can be cleared, the parts that never move. */
function stuckIn(
  view: View,
  reached: Reached,
  groups: readonly (readonly string[])[],
  around: readonly string[],
): string[] {
  const stuck = groups.map((group) => group.filter((one) => !isAway(view, reached, one, around)));
  if (stuck.some((group) => group.length === 0)) return [];
  return [...new Set(stuck.flat())];
}

function names(view: View, ids: readonly string[]): string {
  return ids.map((id) => view.parts.get(id)?.name ?? id).join(" and ");
}
