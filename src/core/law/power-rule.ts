/** The rule of power as the counts need it: which work waits until the cell is isolated. */
import type { Joint, Release } from "../record/schema.ts";
import { isLiveWork, onTheWayToPower, powerJoint, reachable, type View } from "../structure/index.ts";

export class PowerRule {
  /** The cell's own connector; undefined: nothing waits. */
  readonly power: Joint | undefined;
  private readonly view: View;
  private exempt: ReadonlySet<string> | undefined;

  constructor(view: View) {
    this.view = view;
    this.power = powerJoint(view);
  }

  /** Live work that does not lie on every way to the cell's connector itself. */
  waits(joint: Joint, release: Release): boolean {
    const { view, power } = this;
    if (power === undefined || !isLiveWork(view, joint, release)) return false;
    this.exempt ??= onTheWayToPower(view, power, (options) => reachable(view, options));
    return !this.exempt.has(joint.id);
  }
}
