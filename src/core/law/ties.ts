/**
 * Where another way in with as few steps has other fastener or tool points, somebody should know: the act does not say which of
 * two equally short ways counts.
 *
 * Looked for: the counted operations with any one of them moved to another place, and ways that leave out some release of the
 * counted one (each is ruled out in turn and the way planned anew). Ways that differ by more at once are not looked for.
 */
import type { Part, PriorityRole, TeardownRecord } from "../record/schema.ts";
import type { Control, StepReadings } from "../route/problem.ts";
import { replay } from "../route/replay.ts";
import { reachable, viewOf } from "../structure/index.ts";
import { countSteps } from "./count.ts";
import type { LawOperation } from "./operations.ts";
import { operationsOf, type Planned, planLeast } from "./planning.ts";
import type { Instance } from "./role.ts";
import type { RuleSet } from "./rules/types.ts";
import { priorityRolesOf, segmentOf } from "./segment.ts";

export interface TieOptions {
  readonly rules: RuleSet;
  readonly readings: StepReadings;
  readonly control: Control;
  /** On the clock of `control`: no look is begun after it. */
  readonly until: number;
}

export function tieWarnings(
  record: TeardownRecord,
  role: PriorityRole,
  instance: Instance,
  options: TieOptions,
): string[] {
  const { evidence, sequence, part } = instance;
  if (evidence === undefined || sequence.kind !== "told" || sequence.stepsAtLeast !== undefined) return [];
  const own = `${evidence.segment.fastener.low} ${evidence.segment.tool.low}`;
  for (const operations of otherWays(record, role, part, evidence.operations, evidence.count.steps, options)) {
    if (operations === "out of time")
      return [`${role} (${part.id}): whether another way in as short has other points was not looked for to the end`];
    const { fastener, tool } = segmentOf(options.rules, record, part, role, operations);
    if (`${fastener.low} ${tool.low}` === own) continue;
    return [
      `${role} (${part.id}): another way in with as few steps has other points (fasteners ${fastener.low ?? "none"}, tools ${tool.low ?? "none"}); the quicker one is counted`,
    ];
  }
  return [];
}

/** Ways with as few steps as the counted one, one by one. */
function* otherWays(
  record: TeardownRecord,
  role: PriorityRole,
  part: Part,
  counted: readonly LawOperation[],
  steps: number,
  options: TieOptions,
): Generator<readonly LawOperation[] | "out of time"> {
  const { readings, control, until } = options;
  const plan = (where: TeardownRecord): Planned =>
    planLeast(where, part, readings, control, Math.max(1, until - control.now()));
  if (passesOthers(counted, role, part)) yield* otherOrders(record, plan(record), readings);
  for (const operation of counted) {
    if (operation.kind !== "release" || operation.release === null) continue;
    const without = ruledOut(record, operation.joint.id, operation.joint.releases.indexOf(operation.release));
    if (!reachable(viewOf(without, {})).lifted.has(part.id)) continue;
    if (control.now() > until) {
      yield "out of time";
      return;
    }
    const { sequence } = plan(without);
    if (sequence.kind !== "told" || sequence.stepsAtLeast !== undefined) continue;
    if (countSteps(record, sequence.operations, readings).steps === steps) yield sequence.operations;
  }
}

/** Does the segment depend on the order: is some other priority part lifted or shifted on the way? */
function passesOthers(operations: readonly LawOperation[], role: PriorityRole, part: Part): boolean {
  return operations.some(
    (one) =>
      (one.kind === "lift" || one.kind === "shift") &&
      one.part.id !== part.id &&
      priorityRolesOf(one.part).some((other) => other !== role),
  );
}

function* otherOrders(
  record: TeardownRecord,
  { solved }: Planned,
  readings: StepReadings,
): Generator<readonly LawOperation[]> {
  if (solved === null) return;
  const { compiled, problem, moves } = solved;
  const objective = { least: "steps", readings } as const;
  const own = replay(problem, objective, moves);
  if (own.kind !== "replayed") return;
  for (let from = 0; from < moves.length - 1; from += 1) {
    for (let to = 0; to < moves.length - 1; to += 1) {
      if (to === from) continue;
      const order = [...moves];
      order.splice(to, 0, ...order.splice(from, 1));
      const other = replay(problem, objective, order);
      if (other.kind === "replayed" && other.steps === own.steps) yield operationsOf(record, compiled, order);
    }
  }
}

/** The record where one way to undo a joint does damage, so that it is not taken. */
function ruledOut(record: TeardownRecord, joint: string, way: number): TeardownRecord {
  const joints = record.joints.map((one) => {
    if (one.id !== joint) return one;
    const releases = one.releases.map((release, index) =>
      index === way ? { ...release, leaves: "broken" as const } : release,
    );
    return { ...one, releases };
  });
  return { ...record, joints };
}
