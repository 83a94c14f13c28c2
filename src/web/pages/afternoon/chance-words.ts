import type { Part, TeardownRecord } from "../../../core/record/index.ts";
import type { WayOperation } from "../../../core/route/ways/index.ts";
import type { Chance, Doing } from "../../../core/service/afternoon/index.ts";
import { operationWords } from "../../../figures/index.ts";

/** An operation of the way in or back in words. */
export function doingWords(record: TeardownRecord, doing: Doing | WayOperation): string {
  const part = (id: string | undefined): string => record.parts.find((one: Part) => one.id === id)?.name ?? id ?? "";
  const joint = record.joints.find((one) => one.id === doing.joint);
  const held =
    joint === undefined ? (doing.joint ?? "") : `the ${joint.kind} of ${joint.holds.map(part).join(" and ")}`;
  switch (doing.kind) {
    case "close":
      return `close ${held}`;
    case "refit":
      return `put ${part(doing.part)} back`;
    case "unshift":
      return `lay ${part(doing.part)} back in place`;
    case "release":
      return "action" in doing ? operationWords(record, doing).full : `undo ${held}`;
    default:
      return operationWords(record, doing as WayOperation).full;
  }
}

/** From when, and before what it must have been done. */
export function windowWords(
  record: TeardownRecord,
  operations: readonly (Doing | WayOperation)[],
  chance: Chance,
  done = 0,
): { readonly from: string; readonly until: string } {
  // The next time that it is open; what is past is past.
  const from = chance.windows.find(([, to]) => to >= done)?.[0];
  const words = (at: number) => doingWords(record, operations[at]!);
  return {
    from: from === undefined ? "not along this way" : from <= 0 ? "at once" : `after you ${words(from - 1)}`,
    until: chance.closedBy === null ? "to the end" : `before you ${words(chance.closedBy)}`,
  };
}
