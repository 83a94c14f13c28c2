/**
 * Readings that a claim still lacks: nothing was measured yet, so that the measuring plan has nothing to repeat.
 *
 * Each is kept only if the claim could be told once it and the others of its claim were taken: where the other device was
 * never measured, or the claim itself forbids a verdict, no reading of this device helps. Cost: one trial verdict a claim.
 */
import { sameSet, sideOf } from "../../measure/claim-sides.ts";
import {
  type Bench,
  benchOf,
  type ClaimVerdict,
  judgeClaim,
  massBudget,
  thicknessBudgets,
} from "../../measure/index.ts";
import type { Claim, Instrument, QuantityName, TeardownRecord } from "../../record/index.ts";
import { Assemblies } from "../../structure/index.ts";
import { baseUnit, convert, QUANTITY_DIMENSIONS, UNITS } from "../../units/index.ts";

export interface FirstReading {
  readonly of: readonly string[];
  readonly quantity: QuantityName;
  /** The finest instrument of the record that reads it; null: it is counted, or printed on the part. */
  readonly instrument: string | null;
  /** What has to be on and off, so that it is like the other device's reading; empty where nothing is said there. */
  readonly on: readonly string[];
  readonly off: readonly string[];
  /** Claims that need it, in the order of the record. */
  readonly claims: readonly string[];
  /** It is all that these claims lack. */
  readonly alone: boolean;
}

/** Told by a look, without an instrument. */
const BY_EYE: ReadonlySet<QuantityName> = new Set(["count", "capacity", "energy"]);
/** A value of the trial, clear of zero in any unit; what the verdict would be does not matter. */
const TRIAL = 50;

export function firstReadings(record: TeardownRecord, sibling?: TeardownRecord): FirstReading[] {
  if (record.claims.length === 0) return [];
  const bench = benchOf(record);
  const other = sibling === undefined ? undefined : benchOf(sibling, "sibling:");
  const found = new Map<string, { -readonly [key in keyof FirstReading]: FirstReading[key] }>();
  for (const claim of record.claims) {
    const verdict = judgeClaim(claim, bench, other);
    if (verdict.verdict !== "cannot-tell" || verdict.probability !== null || verdict.quantity === null) continue;
    const { quantity } = verdict;
    const instrument = finest(record, quantity);
    if (instrument === undefined && !BY_EYE.has(quantity)) continue;
    // Made up of other figures, and unlike the other device's reading: one reading of its own can be like it.
    const whole = verdict.value !== null;
    const lacking = whole ? unread(claim, quantity, record) : lacks(claim, quantity, bench);
    const like = whole ? likeThere(verdict, other) : { on: [], off: [] };
    if (lacking.length === 0 || !helps(claim, quantity, record, lacking, other, instrument, like)) continue;
    for (const of of lacking) {
      const key = [quantity, ...of, ...like.on, ...like.off].join(" ");
      const known = found.get(key);
      const alone = lacking.length === 1;
      if (known === undefined)
        found.set(key, { of, quantity, instrument: instrument?.id ?? null, ...like, claims: [claim.id], alone });
      else {
        known.claims = [...known.claims, claim.id];
        known.alone &&= alone;
      }
    }
  }
  return [...found.values()];
}

interface Like {
  readonly on: readonly string[];
  readonly off: readonly string[];
}

/** How the other device was measured. */
function likeThere(verdict: ClaimVerdict, other: Bench | undefined): Like {
  const reading = other?.record.readings.find((one) => verdict.restsOn.includes(`sibling:${one.id}`));
  return { on: reading?.on ?? [], off: reading?.off ?? [] };
}

/** The subject, where it has no reading of its own yet. */
function unread(claim: Claim, quantity: QuantityName, record: TeardownRecord): (readonly string[])[] {
  const read = record.readings.some(
    (one) => one.quantity === quantity && one.record === undefined && sameSet(one.of, claim.subject),
  );
  return read ? [] : [claim.subject];
}

/** What has to be measured together or one by one. */
function lacks(claim: Claim, quantity: QuantityName, bench: Bench): (readonly string[])[] {
  const missing = (of: readonly string[]): boolean => "missing" in sideOf(bench, of, quantity);
  const { parts } = bench.record;
  const own = (id: string | undefined): id is string => id === "device" || parts.some((part) => part.id === id);
  const sides: (readonly string[])[] = [];
  if (claim.relation === "adds-up" && claim.subject.every((id) => id === "device")) {
    const budget = quantity === "mass" ? massBudget(bench) : thicknessBudgets(bench)[0];
    sides.push(["device"], ...outermost(bench.record, budget?.missing ?? []).map((id) => [id]));
  } else if (["ranked", "superlative", "adds-up"].includes(claim.relation)) {
    sides.push(...claim.subject.map((id) => [id]));
  } else sides.push(claim.subject);
  if (own(claim.than)) sides.push([claim.than]);
  const seen = new Set<string>();
  return sides.filter((of) => {
    const key = [...of].sort().join(" ");
    if (seen.has(key) || !of.every(own) || !missing(of)) return false;
    seen.add(key);
    return true;
  });
}

/** An assembly is weighed with what is in it. */
function outermost(record: TeardownRecord, missing: readonly string[]): string[] {
  const assemblies = new Assemblies(record);
  const all = new Set(missing);
  return missing.filter((id) => !assemblies.containing(id).some((outer) => outer !== id && all.has(outer)));
}

function helps(
  claim: Claim,
  quantity: QuantityName,
  record: TeardownRecord,
  lacking: readonly (readonly string[])[],
  other: Bench | undefined,
  instrument: Instrument | undefined,
  { on, off }: Like,
): boolean {
  const trial: TeardownRecord = {
    ...record,
    readings: [
      ...record.readings,
      ...lacking.map((of, index) => ({
        id: `trial reading ${index}`,
        of: [...of],
        quantity,
        values: [TRIAL],
        unit: baseUnit(QUANTITY_DIMENSIONS[quantity]),
        on: [...on],
        off: [...off],
        ...(instrument === undefined ? {} : { instrument: instrument.id }),
      })),
    ],
  };
  const then: ClaimVerdict = judgeClaim(claim, benchOf(trial), other);
  return then.value !== null && (then.probability !== null || then.figureOpen === true);
}

/** A micrometer does not open as wide as a caliper: the thickness of a part is its only length here. */
const MICROMETER_QUANTITY: QuantityName = "thickness";

function finest(record: TeardownRecord, quantity: QuantityName): Instrument | undefined {
  const base = baseUnit(QUANTITY_DIMENSIONS[quantity]);
  const step = ({ resolution }: Instrument): number => convert(resolution.value, resolution.unit, base, true);
  return record.instruments
    .filter((one) => UNITS[one.resolution.unit].dimension === QUANTITY_DIMENSIONS[quantity])
    .filter((one) => one.kind !== "micrometer" || quantity === MICROMETER_QUANTITY)
    .reduce<Instrument | undefined>((a, b) => (a === undefined || step(b) < step(a) ? b : a), undefined);
}
