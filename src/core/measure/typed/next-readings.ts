/**
 * What is to be measured next: first what makes claims decidable (the measuring plan, cheapest first), then what the
 * budgets lack (the device, then each part by itself). The list advances by itself: what has been measured often enough
 * is not in it.
 */
import type { QuantityName, Reading, TeardownRecord } from "../../record/schema.ts";
import { QUANTITY_DIMENSIONS, UNITS } from "../../units/index.ts";
import type { PlanStep } from "../plan.ts";

export interface NextReading {
  /** Stable as long as the same is asked for. */
  readonly id: string;
  readonly of: readonly string[];
  readonly quantity: QuantityName;
  /** Instrument that the plan counts on; null: any that fits. */
  readonly instrument: string | null;
  /** Values still to be taken. */
  readonly left: number;
  readonly because: string;
}

export function nextReadings(record: TeardownRecord, plan: readonly PlanStep[]): NextReading[] {
  const list: NextReading[] = [];
  const add = (one: NextReading) => {
    if (one.left > 0 && !list.some((other) => other.id === one.id)) list.push(one);
  };
  for (const step of plan.filter((one) => one.cheapest)) {
    for (const id of step.readings) {
      const reading = record.readings.find((one) => one.id === id);
      if (reading === undefined) continue;
      const taken = countOf(record, reading.of, reading.quantity, step.instrument);
      add({
        id: `${reading.quantity} ${reading.of.join("+")}`,
        of: reading.of,
        quantity: reading.quantity,
        instrument: step.instrument,
        left: step.repeats - taken,
        because: `decides a claim: ${record.claims.find((one) => one.id === step.claim)?.text ?? step.claim}`,
      });
    }
  }
  const parts = new Map(record.parts.map((part) => [part.id, part]));
  /** Weighed or gauged already: by itself, with others, or in the assembly that it belongs to. */
  const covered = (part: string, quantity: QuantityName): boolean => {
    const seen = new Set<string>();
    for (let id: string | undefined = part; id !== undefined && !seen.has(id); id = parts.get(id)?.within) {
      seen.add(id);
      const at = id;
      if (record.readings.some((one) => one.quantity === quantity && one.record === undefined && one.of.includes(at)))
        return true;
    }
    return false;
  };
  const lacking = (of: readonly string[], quantity: QuantityName, because: string) => {
    if (of.some((id) => covered(id, quantity))) return;
    add({ id: `${quantity} ${of.join("+")}`, of, quantity, instrument: null, left: 1, because });
  };
  if (fits(record, "mass")) {
    lacking(["device"], "mass", "the mass budget lacks it");
    for (const part of record.parts) {
      if (part.base === undefined) lacking([part.id], "mass", "the mass budget lacks it");
    }
    const base = record.parts.find((part) => part.base);
    if (base !== undefined) lacking([base.id], "mass", "the mass budget lacks what is left at the end");
  }
  if (fits(record, "thickness")) {
    lacking(["device"], "thickness", "the thickness stack lacks it");
    for (const part of record.parts) {
      if (part.role === "battery" || part.role === "display" || part.role === "back-cover") {
        lacking([part.id], "thickness", "the thickness stack lacks it");
      }
    }
  }
  return list;
}

/** Values of a thing taken with an instrument. */
function countOf(record: TeardownRecord, of: readonly string[], quantity: QuantityName, instrument: string): number {
  return record.readings
    .filter((one) => sameThing(one, of, quantity) && one.instrument === instrument)
    .reduce((sum, one) => sum + one.values.length, 0);
}

const sameThing = (reading: Reading, of: readonly string[], quantity: QuantityName): boolean =>
  reading.quantity === quantity && reading.of.length === of.length && of.every((id) => reading.of.includes(id));

/** Whether the record has an instrument for it, or none at all yet. */
function fits(record: TeardownRecord, quantity: QuantityName): boolean {
  return (
    record.instruments.length === 0 ||
    record.instruments.some((one) => UNITS[one.resolution.unit].dimension === QUANTITY_DIMENSIONS[quantity])
  );
}
