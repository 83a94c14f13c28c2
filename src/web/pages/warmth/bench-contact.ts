/**
 * The contact of a heat source as it was fitted on this bench. The record has no place for what belongs to a tool of the
 * bench and not to a device, so it is kept in this browser, by the tool's name: the same plate serves every record.
 */
import type { FitAnswer } from "../../../core/heat/index.ts";
import type { BenchContact } from "../../compute/warm-tasks.ts";

export interface KeptContact extends BenchContact {
  /** ISO date of the fit. */
  readonly on: string;
  /** Where the thermocouple was. */
  readonly where: string;
  readonly rows: number;
}

const key = (tool: string): string => `unseam:contact:${tool.trim().toLowerCase()}`;

export function keptContact(storage: Pick<Storage, "getItem">, tool: string): KeptContact | null {
  try {
    const value: unknown = JSON.parse(storage.getItem(key(tool)) ?? "null");
    return isContact(value) ? value : null;
  } catch {
    // Storage that is barred, or holds what is no JSON: as if nothing had been kept.
    return null;
  }
}

/** False where the browser keeps nothing. */
export function keepContact(
  storage: Pick<Storage, "setItem" | "removeItem">,
  tool: string,
  contact: KeptContact | null,
): boolean {
  try {
    if (contact === null) storage.removeItem(key(tool));
    else storage.setItem(key(tool), JSON.stringify(contact));
    return true;
  } catch {
    return false;
  }
}

export function contactFrom(fit: FitAnswer, where: string, on: string): KeptContact {
  const { value, low, high } = fit.contact;
  return {
    value,
    low,
    high,
    source: `fitted to a log of ${fit.rows} readings on ${on}, ${where}; 95 % interval`,
    ...(fit.bond === undefined ? {} : { bond: { value: fit.bond.value, low: fit.bond.low, high: fit.bond.high } }),
    on,
    where,
    rows: fit.rows,
  };
}

function isContact(value: unknown): value is KeptContact {
  const one = value as Partial<KeptContact> | null;
  return (
    typeof one === "object" &&
    one !== null &&
    [one.value, one.low, one.high].every((x) => typeof x === "number" && x > 0 && Number.isFinite(x)) &&
    [one.source, one.on, one.where].every((x) => typeof x === "string") &&
    (one.bond === undefined || (typeof one.bond.value === "number" && one.bond.value > 0))
  );
}
