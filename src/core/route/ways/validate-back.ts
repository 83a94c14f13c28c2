/**
 * Holds a way back against its contract instead of trusting it: shares nothing with the search in `back.ts`.
 */
import type { Joint, TeardownRecord } from "../../record/index.ts";
import { Bench, type BenchOperation } from "../../structure/bench.ts";
import { isElectrical, onTheWayToPower, powerJoint, reachable, viewOf } from "../../structure/index.ts";
import type { BackOperation } from "./back.ts";
import { termsOf } from "./index.ts";
import type { Question, WayIn } from "./types.ts";

export interface BackFault {
  /** Place in the way back; its length where the whole is at fault. */
  readonly index: number;
  readonly because: string;
}

/** Every rule of the way back that the operations break; none = it is legal. */
export function validateWayBack(
  record: TeardownRecord,
  question: Question,
  way: WayIn,
  operations: readonly BackOperation[],
): BackFault[] {
  return [
    ...opposites(way, operations),
    ...readBackwards(record, question, way, operations),
    ...powerLast(record, question, way, operations),
    ...cablesFirst(record, operations),
    ...renewed(record, way, operations),
  ];
}

const nameOf = ({ kind, joint, part }: BackOperation): string => `${kind} ${joint ?? part}`;

/** Everything that was done has its opposite, once, and nothing else is in it. */
function opposites(way: WayIn, operations: readonly BackOperation[]): BackFault[] {
  const faults: BackFault[] = [];
  const wanted = new Set<string>();
  for (const { kind, joint, part } of way.operations) {
    if (kind === "release") wanted.add(`close ${joint}`);
    else if (kind === "lift") wanted.add(`refit ${part}`);
    else if (kind === "shift") wanted.add(`unshift ${part}`);
  }
  operations.forEach((operation, index) => {
    if (!wanted.delete(nameOf(operation)))
      faults.push({ index, because: `${nameOf(operation)} is not the opposite of anything left to do` });
  });
  for (const left of wanted) faults.push({ index: operations.length, because: `${left} is left out` });
  return faults;
}

/** Read from its end to its beginning it is a way in, heat, soft time and power aside. */
function readBackwards(
  record: TeardownRecord,
  question: Question,
  way: WayIn,
  operations: readonly BackOperation[],
): BackFault[] {
  const cold: TeardownRecord = {
    ...record,
    joints: record.joints.map((joint) => ({
      ...joint,
      releases: joint.releases.map(({ heat: _, ...release }) => release),
    })),
  };
  const bench = new Bench(viewOf(cold, termsOf(question)), false);
  const releaseOf = new Map(way.operations.map(({ joint, release }) => [joint, release ?? 0]));
  let state = bench.start();
  for (let index = operations.length - 1; index >= 0; index -= 1) {
    const { kind, joint = "", part = "" } = operations[index];
    const asIn: BenchOperation =
      kind === "close"
        ? { kind: "release", joint, release: releaseOf.get(joint) ?? 0 }
        : { kind: kind === "refit" ? "lift" : "shift", part };
    const outcome = bench.apply(state, asIn);
    if (!outcome.ok)
      return [{ index, because: `${nameOf(operations[index])} is closed over what is still open: ${outcome.because}` }];
    state = outcome.done.state;
  }
  return [];
}

/** The cell's connector is the last electrical joint closed, save for those that lie over it. */
function powerLast(
  record: TeardownRecord,
  question: Question,
  way: WayIn,
  operations: readonly BackOperation[],
): BackFault[] {
  const view = viewOf(record, termsOf(question));
  const power = powerJoint(view);
  if (!power || !way.operations.some(({ joint }) => joint === power.id)) return [];
  const exempt = onTheWayToPower(view, power, (options) => reachable(view, options));
  const closed = operations.findIndex(({ joint }) => joint === power.id);
  return operations.flatMap(({ joint }, index): BackFault[] => {
    const found = joint === undefined ? undefined : view.joints.get(joint);
    if (!found || index <= closed || !isElectrical(found) || exempt.has(found.id)) return [];
    return [{ index, because: `${found.id} is closed after the cell is connected` }];
  });
}

/** A part that runs beneath others is laid before they go back. */
function cablesFirst(record: TeardownRecord, operations: readonly BackOperation[]): BackFault[] {
  const place = new Map(
    operations.flatMap(({ kind, part }, index) => (kind === "refit" && part ? [[part, index] as const] : [])),
  );
  return record.parts.flatMap((part) => {
    const own = place.get(part.id);
    return (part.beneath ?? []).flatMap((over): BackFault[] => {
      const other = place.get(over);
      if (own === undefined || other === undefined || own < other) return [];
      return [{ index: own, because: `${part.id} is laid after ${over}, which lies over it` }];
    });
  });
}

/** What came off spent or broken goes back new. */
function renewed(record: TeardownRecord, way: WayIn, operations: readonly BackOperation[]): BackFault[] {
  const joints = new Map(record.joints.map((joint): [string, Joint] => [joint.id, joint]));
  return way.operations.flatMap(({ joint = "", release = 0 }): BackFault[] => {
    const leaves = joints.get(joint)?.releases[release]?.leaves;
    if (leaves !== "spent" && leaves !== "broken") return [];
    const index = operations.findIndex((operation) => operation.joint === joint);
    return index >= 0 && !operations[index].renew
      ? [{ index, because: `${joint} came off ${leaves} and is not renewed` }]
      : [];
  });
}
