/**
 * A counted sequence with its standard times, as a way in is drawn: whose procedure it is makes no difference. Fetches and turns
 * as the planner takes them; of an interrupted release every round heats, the set-ups of later rounds left out.
 */
import type { Side, TeardownRecord } from "../record/schema.ts";
import type { WayIn, WayOperation } from "../route/ways/types.ts";
import { liftTime, releaseTime, SET_A, shiftTime, zoneTime } from "../structure/index.ts";
import type { Count } from "./count.ts";
import { heatOf, type LawOperation, toolsOf } from "./operations.ts";

/** What a picture of a sequence needs of a way in. */
export type TimedSequence = Pick<WayIn, "targets" | "operations" | "seconds" | "steps">;

export function timedSequence(
  record: TeardownRecord,
  target: string,
  operations: readonly LawOperation[],
  count: Count,
  remoteSteps: number,
): TimedSequence {
  const heating = (zone: string | null): number => {
    const heat = heatOf(record, zone);
    return heat === undefined ? 0 : zoneTime(heat).ms;
  };
  let hand: readonly string[] = [];
  let side: Side = "back";
  let now = 0;
  const timed = operations.map((operation, index): WayOperation => {
    const tools = toolsOf(operation);
    const fetch = tools.filter((tool) => !hand.includes(tool));
    if (tools.length > 0) hand = tools;
    const wanted = operation.kind === "heat" ? operation.source.side : operation.side;
    const turn = wanted !== undefined && wanted !== side;
    if (turn) side = wanted;
    now += fetch.length * SET_A.fetch + (turn ? SET_A.turn : 0);
    const at = now;
    now += work(operation);
    return {
      kind: operation.kind,
      ...(operation.kind === "heat" ? { zone: operation.zone ?? "" } : {}),
      ...(operation.kind === "release"
        ? { joint: operation.joint.id, action: operation.release?.action ?? "cut" }
        : {}),
      ...(operation.kind === "lift" || operation.kind === "shift" ? { part: operation.part.id } : {}),
      ...(operation.kind === "release" && operation.passes !== undefined ? { passes: operation.passes } : {}),
      tools,
      fetch,
      turn,
      at: at / 1000,
      seconds: (now - at) / 1000,
      steps: count.list.filter((step) => step.operation === index).length,
    };
  });
  return { targets: [target], operations: timed, seconds: now / 1000, steps: count.steps + remoteSteps };

  function work(operation: LawOperation): number {
    if (operation.kind === "heat") return heating(operation.zone);
    if (operation.kind !== "release")
      return operation.kind === "lift" ? liftTime(operation.part) : shiftTime(operation.part);
    const { joint, release, passes } = operation;
    if (release === null) return 0;
    const rounds = passes === undefined ? 0 : passes - (operation.firstHeatingBefore ? 1 : 0);
    return releaseTime(joint, release).ms + rounds * heating(release.heat?.zone ?? null);
  }
}
