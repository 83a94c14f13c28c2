import type { TeardownRecord } from "../../record/index.ts";

/** Remote notification and remote authorisation of a target add five steps each (2023/1669 Annex IV point 5). */
export function remoteSteps(record: TeardownRecord, targets: readonly string[]): number {
  let steps = 0;
  for (const part of record.parts) {
    if (!targets.includes(part.id)) continue;
    if (part.pairing?.notification) steps += 5;
    if (part.pairing?.authorisation) steps += 5;
  }
  return steps;
}
