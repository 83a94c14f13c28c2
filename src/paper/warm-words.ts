/** What the warm window says for the heated zones of a swap, where the layers under them are recorded. */
import { InputError, InputFaults } from "../core/errors.ts";
import { heatOfRelease } from "../core/heat/index.ts";
import type { TeardownRecord } from "../core/record/index.ts";
import type { Swap } from "../core/service/swap/index.ts";
import { releaseTime } from "../core/structure/index.ts";
import { heatOfCut } from "../core/structure/warm-zones.ts";
import type { WarmWords } from "./work-rows.ts";

/** The search is the planner's, so that a sheet's heatings are those of its way in. @param known zones that need not be computed again */
export function warmOf(
  record: TeardownRecord,
  swap: Swap,
  known: ReadonlyMap<string, WarmWords> = new Map(),
): Map<string, WarmWords> {
  const found = new Map<string, WarmWords>();
  for (const { joint: id, release: index, zone } of swap.wayIn.operations) {
    if (id === undefined || zone === undefined || known.has(zone) || found.has(zone)) continue;
    const joint = record.joints.find((one) => one.id === id);
    const release = joint?.releases[index ?? 0];
    if (!joint || !release || !(record.zones ?? []).some((one) => one.id === zone)) continue;
    try {
      const { ms } = releaseTime(joint, release);
      const planned = heatOfCut(record, zone, ms);
      found.set(zone, planned ?? heatOfRelease(record, zone, ms / 1000, { quick: true }));
    } catch (error) {
      // Layers that cannot be computed leave the sheet with the record's own times.
      if (!(error instanceof InputFaults || error instanceof InputError)) throw error;
    }
  }
  return found;
}
