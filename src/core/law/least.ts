/**
 * The way in with the fewest legal steps, without damage (ties: fewer seconds, then fewer operations), by the planner.
 */
import type { Part, TeardownRecord } from "../record/schema.ts";
import type { Control, StepReadings } from "../route/problem.ts";
import type { Question, Unreachable, WayIn } from "../route/ways/types.ts";
import { reachable, viewOf } from "../structure/index.ts";
import { lawOperations } from "./operations.ts";
import type { Sequence } from "./sequence.ts";

export type FindWayIn = (record: TeardownRecord, question: Question, control: Control) => WayIn | Unreachable;

export interface LeastOptions {
  readonly readings: StepReadings;
  readonly doubt: Question["doubt"];
  readonly findWayIn: FindWayIn;
  readonly control: Control;
  /** Milliseconds for each part. */
  readonly limit: number;
}

export function leastSequence(record: TeardownRecord, part: Part, options: LeastOptions): Sequence {
  if (part.base) {
    const because = `${part.name} (${part.id}) is the base, which the record never takes off`;
    return { kind: "cannot-tell", part, because, warnings: [because] };
  }
  const { control, readings, doubt } = options;
  const question: Question = { to: [part.id], least: "steps", readings, doubt };
  const deadline = Math.min(control.deadline ?? Number.POSITIVE_INFINITY, control.now() + options.limit);
  const way = options.findWayIn(record, question, { ...control, deadline });
  if ("operations" in way) {
    const open = way.proved ? {} : { stepsAtLeast: way.lowerBound - way.remoteSteps };
    const warnings = way.proved
      ? []
      : [`${part.id}: that ${way.steps} steps are the fewest is not proved; at least ${way.lowerBound} are needed`];
    return { kind: "told", part, operations: lawOperations(record, way.operations), ...open, warnings };
  }
  const blocked = way.unreachable.find((one) => one.part === part.id) ?? way.unreachable[0];
  const undamaged = reachable(viewOf(record, { doubt })).lifted.has(part.id);
  if (undamaged && control.now() >= deadline) {
    const because = `${part.id}: ${blocked?.because ?? "no way in was found in time"}`;
    return { kind: "cannot-tell", part, because, warnings: [because] };
  }
  const because = `${part.name} (${part.id}) has no way in without damage or danger: ${blocked?.because ?? "none was found"}`;
  return { kind: "no-way", part, because, warnings: [] };
}
