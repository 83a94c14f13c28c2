/** Which masses stand in the picture: readings of single parts, heaviest first, each beside the sibling's same part. */
import { matchParts } from "../../core/measure/index.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import type { BarFigure, BarRow } from "./mass-bars.ts";

/** A reading as the measuring room gives it; U: half of the coverage interval, null where none is known. */
export interface MassReading {
  readonly of: readonly string[];
  readonly quantity: string;
  readonly unit: string;
  readonly value: number;
  readonly U: number | null;
  readonly text: string;
}

/** More rows than this nobody compares; the table has them all. */
const MOST = 24;

const figureOf = ({ value, U }: MassReading): BarFigure =>
  U === null || !(U > 0) || !Number.isFinite(U) ? { value } : { value, low: value - U, high: value + U };

const singles = (readings: readonly MassReading[], known: ReadonlySet<string>): ReadonlyMap<string, MassReading> => {
  const out = new Map<string, MassReading>();
  for (const one of readings) {
    const [id] = one.of;
    if (one.quantity !== "mass" || one.unit !== "g" || one.of.length !== 1 || !known.has(id!) || out.has(id!)) continue;
    out.set(id!, one);
  }
  return out;
};

export function massRows(
  record: TeardownRecord,
  readings: readonly MassReading[],
  beside: { readonly record: TeardownRecord; readonly readings: readonly MassReading[] } | null,
): BarRow[] {
  const ids = (of: TeardownRecord) => new Set(of.parts.map((part) => part.id));
  const theirs = beside === null ? null : singles(beside.readings, ids(beside.record));
  const pairs = beside === null ? [] : matchParts(record, beside.record).pairs;
  const partner = (id: string): MassReading | undefined => {
    const other = pairs.find((pair) => pair.a === id)?.b;
    return other === undefined ? undefined : theirs?.get(other);
  };
  return [...singles(readings, ids(record))]
    .sort(([, a], [, b]) => b.value - a.value)
    .slice(0, MOST)
    .map(([id, reading]) => {
      const other = partner(id);
      return {
        part: id,
        name: record.parts.find((one) => one.id === id)!.name,
        figure: figureOf(reading),
        words: reading.text,
        ...(other === undefined ? {} : { sibling: figureOf(other) }),
      };
    });
}
