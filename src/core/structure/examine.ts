import { checkRecord, type RecordCheck, type RecordWarning, type TeardownRecord } from "../record/index.ts";
import { whyBlocked } from "./blockers.ts";
import { reachable } from "./reach.ts";
import { viewOf } from "./view.ts";

/** A record with all that can be said against it: faults of the format, and what looks wrong in the structure. */
export function examineRecord(value: unknown): RecordCheck {
  const check = checkRecord(value);
  if (!check.ok) return check;
  return { ...check, warnings: [...check.warnings, ...structureWarnings(check.record)] };
}

/** Parts that no order of work gets out without damage, hazard or condition, each with what blocks it. */
export function structureWarnings(record: TeardownRecord): RecordWarning[] {
  const view = viewOf(record, {});
  const reached = reachable(view);
  return record.parts.flatMap((part, index) => {
    if (part.base || reached.lifted.has(part.id)) return [];
    return [
      {
        path: `parts[${index}]`,
        text: `${part.name} cannot be got out: ${whyBlocked(view, reached, part.id).because}`,
      },
    ];
  });
}
