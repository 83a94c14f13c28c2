import type { RecordWarning, TeardownRecord } from "../record/index.ts";
import { whyBlocked } from "./blockers.ts";
import { reachable } from "./reach.ts";
import { viewOf } from "./view.ts";

/**
 * A warning for each part that no order of work can get out without damage, hazard or condition: what blocks it, in the
 * words with which a way in to it is refused. No fault: a part can be meant to stay.
 */
export function lockedIn(record: TeardownRecord): RecordWarning[] {
  const view = viewOf(record, {});
  const reached = reachable(view);
  return record.parts.flatMap((part, index) => {
    if (part.base || reached.lifted.has(part.id)) return [];
    const { because } = whyBlocked(view, reached, part.id);
    return [{ path: `parts[${index}]`, text: `No order of work gets ${part.name} out: ${because}.` }];
  });
}
