/** The rule of power as the counts need it: which work waits until the cell is isolated. */
import type { Joint, Release } from "../record/schema.ts";
import { isLiveWork, isOnTheWayToPower, powerJoint, reachable, type View } from "../structure/index.ts";

export class PowerRule {
  /** The cell's own connector; undefined: nothing waits. */
  readonly power: Joint | undefined;
  private readonly view: View;
  private readonly exempt = new Map<string, boolean>();

  constructor(view: View) {
    this.view = view;
    this.power = powerJoint(view);
  }

  /** Live work that does not lie on every way to the cell's connector itself. One fixpoint for each joint that is asked for. */
  waits(joint: Joint, release: Release): boolean {
    const { view, power } = this;
    if (power === undefined || !isLiveWork(view, joint, release)) return false;
    let exempt = this.exempt.get(joint.id);
    if (exempt === undefined) {
      exempt = isOnTheWayToPower(power, joint, (options) => reachable(view, options));
      this.exempt.set(joint.id, exempt);
    }
    return !exempt;
  }
}
