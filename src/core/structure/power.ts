/**
 * The rule of power: live work (a plug, solder joint or spring contact, or a conductive tool on a part that is live) waits
 * until the cell's own connector is open, except on joints that every order of work to that connector releases.
 */
import type { Joint, Release } from "../record/index.ts";
import type { Reach } from "./reach.ts";
import type { View } from "./view.ts";

/** The cell's own connector, if the record names one that still holds. */
export function powerJoint(view: View): Joint | undefined {
  return view.record.joints.find((joint) => joint.power && !view.gone.has(joint.id));
}

/** Joints that carry current. */
export function isElectrical(joint: Joint): boolean {
  return joint.kind === "connector" || joint.kind === "solder" || joint.kind === "spring-contact";
}

export function isLiveWork(view: View, joint: Joint, release: Release): boolean {
  if (joint.power) return false;
  if (isElectrical(joint)) return true;
  if (!joint.holds.some((part) => view.parts.get(part)?.live)) return false;
  return release.tools.some((id) => view.record.tools.find((tool) => tool.id === id)?.conductive);
}

/** The joints that every order of work to the power joint releases: judged by reach, under and joints alone. */
export function onTheWayToPower(view: View, power: Joint, reach: Reach): Set<string> {
  const needed = new Set<string>();
  for (const joint of view.record.joints) {
    // Only for live work does it matter, and each look costs a fixpoint.
    if (joint.id === power.id || !joint.releases.some((release) => isLiveWork(view, joint, release))) continue;
    if (isOnTheWayToPower(power, joint, reach)) needed.add(joint.id);
  }
  return needed;
}

/** Whether every order of work to the power joint releases this one. */
export function isOnTheWayToPower(power: Joint, joint: Joint, reach: Reach): boolean {
  return !reach({ without: joint.id }).released.has(power.id);
}
