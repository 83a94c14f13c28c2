/**
 * A script tried before the take: each sentence with figures comes back with a verdict on what the record bears and a
 * sentence that may be said. Claims are judged by the measuring code; a plain figure is held against the reading of the
 * same thing.
 */
import { benchOf, figuresOf, fixed, judgeClaims, type Verdict } from "../measure/index.ts";
import type { TeardownRecord } from "../record/index.ts";
import { convert } from "../units/index.ts";
import type { DraftEntry } from "./draft.ts";
import { mergeDraft } from "./merge/merge.ts";
import { partFor } from "./merge/names.ts";
import { readNarration } from "./read.ts";
import type { Transcript } from "./transcript/index.ts";

export interface SaidVerdict {
  /** The words of the script. */
  readonly text: string;
  readonly verdict: Verdict;
  /** Probability that what is said is true; null where it cannot be told. */
  readonly probability: number | null;
  /** A sentence that may be said. */
  readonly wording: string;
  readonly restsOn: readonly string[];
}

export function trySay(script: Transcript, record: TeardownRecord, sibling?: TeardownRecord): readonly SaidVerdict[] {
  const { draft } = readNarration(script);
  // The record's own claims are no part of the script.
  const bare: TeardownRecord = { ...record, claims: [], log: [] };
  const { record: said } = mergeDraft(bare, { ...draft, entries: [], back: [], proofs: [], questions: [] });
  const bench = benchOf(said);
  const other = sibling === undefined ? undefined : benchOf(sibling, "sibling:");
  const verdicts = new Map(judgeClaims(bench, other).map((one) => [one.id, one]));
  const claims = said.claims.flatMap((claim) => {
    const one = verdicts.get(claim.id);
    return one === undefined
      ? []
      : [
          {
            text: claim.text,
            verdict: one.verdict,
            probability: one.probability ?? null,
            wording: one.wording,
            restsOn: one.restsOn,
          },
        ];
  });
  const figures = draft.entries
    .filter((entry) => entry.action === "measure")
    .map((entry) => figureVerdict(entry, record));
  return [...claims, ...figures];
}

/** A plain figure against the reading of the same thing: within its expanded uncertainty it may be said. */
function figureVerdict(entry: DraftEntry, record: TeardownRecord): SaidVerdict {
  const part = partFor(record.parts, entry.object);
  const of = part?.id ?? "device";
  const readings = figuresOf({ ...record, claims: [] }).readings.filter(
    (one) => one.of.length === 1 && one.of[0] === of && one.quantity === entry.quantity && one.record === undefined,
  );
  const reading = readings.at(-1);
  const name = part?.name ?? record.device.name;
  if (reading === undefined || entry.value === undefined || entry.unit === undefined)
    return {
      text: entry.text,
      verdict: "cannot-tell",
      probability: null,
      wording: `We have no reading of the ${entry.quantity} of ${name}.`,
      restsOn: [],
    };
  const value = convert(entry.value, entry.unit as Parameters<typeof convert>[1], reading.unit);
  const noted = record.readings.find((one) => one.id === reading.id);
  // Without an instrument only the digits that were noted tell how sure it is: scatter alone would promise too much.
  const asNoted = noted !== undefined && noted.instrument === undefined && noted.quantity !== "count";
  const half = asNoted ? Math.max(reading.U ?? 0, 0.5 * lastPlace(noted.values)) : (reading.U ?? 0);
  // A figure said with fewer places stands for the interval that rounds to it.
  const rounding = 0.5 * convert(10 ** -places(entry.value), entry.unit as Parameters<typeof convert>[1], reading.unit);
  const fits = Math.abs(value - reading.value) <= half + rounding;
  const unit = reading.unit === "1" ? "" : ` ${reading.unit}`;
  return {
    text: entry.text,
    verdict: fits ? "supported" : "not-supported",
    probability: null,
    wording: asNoted
      ? `${name}: ${entry.quantity} ${fixed(reading.value, Math.round(Math.log10(lastPlace(noted.values))))}${unit}, as noted; no instrument is named, so nobody can say how sure it is.`
      : `${name}: ${entry.quantity} ${reading.text}.`,
    restsOn: [reading.id],
  };
}

/** Value of the last place to which any of the repeats was written: 0.01 for 44.1 and 44.11. */
function lastPlace(values: readonly number[]): number {
  return 10 ** -Math.max(0, ...values.map(places));
}

function places(value: number): number {
  const text = String(value);
  const dot = text.indexOf(".");
  return dot < 0 ? 0 : text.length - dot - 1;
}
