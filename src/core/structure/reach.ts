/**
 * What can be done at all, by a fixpoint: access only grows, so what can ever be done can be found in any order.
 */
import type { Joint, Part, Release } from "../record/index.ts";
import { allowed, holding, reachOf, standing, underOf, type View } from "./view.ts";

export interface Reached {
  readonly released: ReadonlySet<string>;
  readonly lifted: ReadonlySet<string>;
  readonly shifted: ReadonlySet<string>;
}

export interface ReachOptions {
  /** A joint taken as one that cannot be undone. */
  readonly without?: string;
  /** Releases that wait for a joint (the rule of power). */
  readonly gate?: (joint: Joint, release: Release) => string | undefined;
}

export type Reach = (options?: ReachOptions) => Reached;

/** Everything that can ever be released, lifted and shifted; heat and windows of time left aside. */
export function reachable(view: View, options: ReachOptions = {}): Reached {
  const released = new Set<string>();
  const lifted = new Set<string>();
  const shifted = new Set<string>();
  const { record } = view;
  const clear = (groups: readonly (readonly string[])[], around: readonly string[]): boolean =>
    groups.length === 0 || groups.some((group) => group.every((part) => away(part, around)));
  const away = (part: string, around: readonly string[]): boolean => isAway(view, { lifted, shifted }, part, around);
  const canRelease = (joint: Joint): boolean =>
    joint.releases.some((release) => {
      if (!allowed(release, view.terms)) return false;
      const gate = options.gate?.(joint, release);
      return gate === undefined || released.has(gate);
    }) && clear(reachOf(view, joint), view.assemblies.containingJoint(joint));
  const canMove = (part: Part): boolean => clear(underOf(view, part), view.assemblies.containing(part.id));
  for (let changed = true; changed; ) {
    changed = false;
    for (const joint of record.joints) {
      if (released.has(joint.id) || joint.id === options.without || !standing(view, joint)) continue;
      if (canRelease(joint)) {
        released.add(joint.id);
        changed = true;
      }
    }
    for (const part of record.parts) {
      if (part.base) continue;
      if (!lifted.has(part.id) && holding(view, part.id).every((joint) => released.has(joint.id)) && canMove(part)) {
        lifted.add(part.id);
        changed = true;
      }
      const freeing = part.shift?.freeing;
      if (
        freeing &&
        !shifted.has(part.id) &&
        freeing.every((id) => released.has(id) || view.gone.has(id)) &&
        canMove(part)
      ) {
        shifted.add(part.id);
        changed = true;
      }
    }
  }
  return { released, lifted, shifted };
}

/** Is a part away as seen from what `around` contains: lifted or shifted itself, or parted from it with an assembly? */
export function isAway(
  view: View,
  moved: { readonly lifted: ReadonlySet<string>; readonly shifted: ReadonlySet<string> },
  part: string,
  around: readonly string[],
): boolean {
  if (moved.lifted.has(part) || moved.shifted.has(part)) return true;
  return view.assemblies.parting(view.assemblies.containing(part), around).some((one) => moved.lifted.has(one));
}
