/**
 * Which steps of a way back cannot be undone cheaply, which connectors can be closed before them, and where the test stop
 * stands: nothing is closed for good before what can be tried has been tried (common practice, no source).
 */
import type { Joint, Release, TeardownRecord } from "../../record/index.ts";
import type { BackOperation, ClosedBefore } from "../../route/ways/back.ts";
import { type Question, termsOf, type WayIn } from "../../route/ways/index.ts";
import { Bench, type BenchOperation } from "../../structure/bench.ts";
import { isElectrical, onTheWayToPower, powerJoint, reachable, releaseTime, viewOf } from "../../structure/index.ts";
import { type Disturbed, provableAt } from "./prove.ts";

/** Seconds of hands-on work to undo a step and do it again; up to this it is cheap. Our own setting, no source. */
export const CHEAP_TO_UNDO = 60;

/** Why closing a joint again cannot be undone cheaply; undefined where it can. */
export function costlyToUndo(joint: Joint, release: Release): string | undefined {
  if (joint.kind === "solder" || joint.kind === "weld")
    return `${joint.kind === "solder" ? "soldered" : "welded"} again`;
  const renewed = release.leaves === "spent" || release.leaves === "broken" || joint.remake?.newFastener;
  if (!renewed && joint.remake === undefined) return undefined;
  if (joint.remake === undefined) return "made new, in a way that the record does not tell";
  const { clean = 0, lay = 0, press = 0, cure = 0, newFastener } = joint.remake;
  if (newFastener) return "new fasteners";
  if (release.heat) return "only heat undoes it";
  if (cure > 0) return "it cures";
  const again = releaseTime(joint, release).ms / 1000 + clean + lay + press;
  return renewed && again > CHEAP_TO_UNDO ? `${Math.round(again)} s to undo and make again` : undefined;
}

/** The releases of a way in, by joint. */
export function releasesOf(
  record: TeardownRecord,
  way: WayIn,
): Map<string, { readonly joint: Joint; readonly release: Release }> {
  const joints = new Map(record.joints.map((joint) => [joint.id, joint]));
  return new Map(
    way.operations.flatMap((operation) => {
      const joint = operation.joint === undefined ? undefined : joints.get(operation.joint);
      const release = joint?.releases[operation.release ?? 0];
      return joint && release ? [[joint.id, { joint, release }] as const] : [];
    }),
  );
}

/**
 * Every pair of a connection and a costly step of which the connection can be closed first. The cell's own connector can only
 * be closed first where all others can, because it is the last of them.
 */
export function connectionsFirst(record: TeardownRecord, question: Question, way: WayIn): ClosedBefore[] {
  const releases = releasesOf(record, way);
  const all = [...releases.values()];
  const costly = all.filter(({ joint, release }) => !isElectrical(joint) && costlyToUndo(joint, release) !== undefined);
  if (costly.length === 0) return [];
  const view = viewOf(record, termsOf(question));
  const power = powerJoint(view);
  const exempt = power ? onTheWayToPower(view, power, (options) => reachable(view, options)) : new Set<string>();
  const electrical = all.filter(({ joint }) => isElectrical(joint)).map(({ joint }) => joint.id);
  return all
    .filter(({ joint }) => isElectrical(joint))
    .flatMap(({ joint }) => {
      const kept = joint.id === power?.id ? electrical.filter((id) => !exempt.has(id)) : [joint.id];
      const without = undoneWithout(record, question, way, new Set(kept));
      return costly.flatMap((one) => (without.has(one.joint.id) ? [{ first: joint.id, then: one.joint.id }] : []));
    });
}

/** What can be undone of a way in while some joints stay closed: read backwards, those can be closed before it. */
function undoneWithout(
  record: TeardownRecord,
  question: Question,
  way: WayIn,
  kept: ReadonlySet<string>,
): ReadonlySet<string> {
  const cold: TeardownRecord = {
    ...record,
    joints: record.joints.map((joint) => ({
      ...joint,
      releases: joint.releases.map(({ heat: _, ...release }) => release),
    })),
  };
  const bench = new Bench(viewOf(cold, termsOf(question)), false);
  let state = bench.start();
  let waiting = way.operations.flatMap(({ kind, joint = "", release = 0, part = "" }): BenchOperation[] => {
    if (kind === "heat" || kept.has(joint)) return [];
    return kind === "release" ? [{ kind, joint, release }] : [{ kind, part }];
  });
  for (let changed = true; changed; ) {
    changed = false;
    waiting = waiting.filter((operation) => {
      const outcome = bench.apply(state, operation);
      if (!outcome.ok) return true;
      state = outcome.done.state;
      changed = true;
      return false;
    });
  }
  return state.released;
}

export interface TestStop {
  /** Place in the way back before which it stands. */
  readonly before: number;
  /** The step that cannot be undone cheaply, and why. */
  readonly joint: string;
  readonly because: string;
  /** `connected`: the cell is connected for good by then; `for-the-test`: connected for it and taken off again. */
  readonly cell: "connected" | "for-the-test" | "not-opened" | "unknown";
  /** Functions that can be tried by then. */
  readonly tests: readonly string[];
}

/**
 * Where to try what can be tried: before the first step that cannot be undone cheaply, and where not everything is back by then
 * also before the first such step at which all functions can be tried.
 */
export function testStopsOf(
  record: TeardownRecord,
  way: WayIn,
  disturbed: Disturbed,
  operations: readonly BackOperation[],
): TestStop[] {
  const releases = releasesOf(record, way);
  const power = record.joints.find((joint) => joint.power);
  const closed = new Set<string>();
  const refitted = new Set<string>();
  const all: TestStop[] = [];
  operations.forEach(({ kind, joint, part }, before) => {
    const found = joint === undefined ? undefined : releases.get(joint);
    const because = found && costlyToUndo(found.joint, found.release);
    if (found && because !== undefined) {
      const cell = !power
        ? "unknown"
        : !releases.has(power.id)
          ? "not-opened"
          : closed.has(power.id)
            ? "connected"
            : "for-the-test";
      const connected = cell === "for-the-test" && power ? new Set([...closed, power.id]) : closed;
      all.push({
        before,
        joint: found.joint.id,
        because,
        cell,
        tests: provableAt(record, disturbed, { refitted, closed: connected }),
      });
    }
    if (joint !== undefined) closed.add(joint);
    if (kind === "refit" && part !== undefined) refitted.add(part);
  });
  const [first] = all;
  if (!first) return [];
  const whole = all.find(({ tests }) => tests.length === disturbed.functions.length);
  return whole && whole !== first && first.tests.length < disturbed.functions.length ? [first, whole] : [first];
}
