/**
 * What the condition of a device changes before anything is opened. The record's own `notWhen` and `onlyWhen` hold as well;
 * these are rules of every bench: common practice, no source.
 */
import type { Condition, TeardownRecord } from "../../record/index.ts";

export interface IntakeRule {
  readonly condition: Condition;
  readonly changes: string;
}

const CHANGES: Readonly<Record<Condition, string>> = {
  swollen:
    "Swollen cell: no heat anywhere and no prying or slicing at the cell. Qualified people only; ventilate and follow the site's rules for lithium cells.",
  wet: "Wet: the cell is isolated first and nothing is powered before it is dry and inspected. The test stop waits for that.",
  "cracked-back": "Cracked back: taped over, eye protection and gloves; it may come off in pieces, so allow a new one.",
  "cracked-display":
    "Cracked display: taped over, eye protection and gloves; touch and picture cannot be proved before the work.",
  "opened-before":
    "Opened before: bonds, screws and parts may not be the maker's; count screws and compare them with the record.",
  corroded: "Corroded: screws and connectors may not let go whole; clean contacts before they are closed.",
  "no-power":
    "No power: nothing could be proved before the work, so a fault found after it may be older than the work.",
};

export const intakeRules = (conditions: readonly Condition[]): IntakeRule[] =>
  [...new Set(conditions)].map((condition) => ({ condition, changes: CHANGES[condition] }));

/** The record with the releases that a swollen cell forbids taken out of reach. */
export function atIntake(record: TeardownRecord, conditions: readonly Condition[]): TeardownRecord {
  if (!conditions.includes("swollen")) return record;
  const cells = new Set(record.parts.filter((part) => part.role === "battery").map((part) => part.id));
  return {
    ...record,
    joints: record.joints.map((joint) => ({
      ...joint,
      releases: joint.releases.map((release) => {
        const atCell = joint.holds.some((part) => cells.has(part));
        const forbidden =
          release.heat !== undefined ||
          (atCell && (release.action === "pry" || release.action === "slice") && joint.kind !== "connector");
        return forbidden
          ? { ...release, notWhen: [...new Set([...(release.notWhen ?? []), "swollen" as const])] }
          : release;
      }),
    })),
  };
}
