import type { Edit } from "../../../core/record/edits.ts";
import type { TeardownRecord } from "../../../core/record/index.ts";
import type { Reading } from "./use-talk.ts";

/** What was taken from a talk moves with its recording; what the hand kept live has a clock of its own. */
export function takenMoves(record: TeardownRecord, reading: Reading, seconds: number): Edit[] {
  if (reading.kind !== "here" || seconds === 0) return [];
  return reading.items.flatMap((one): Edit[] => {
    const thing = one.thing;
    if (thing === null || !thing.item.id.startsWith("talk-")) return [];
    const held = (record[thing.list] ?? []).find((each) => each.id === thing.item.id);
    if (held?.at === undefined) return [];
    return [
      {
        kind: "set",
        list: thing.list,
        id: held.id,
        path: ["at"],
        value: Math.round((held.at + seconds) * 1000) / 1000,
      },
    ];
  });
}
