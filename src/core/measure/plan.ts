/**
 * Which readings to take again so that claims which cannot be told become decidable, cheapest first.
 *
 * The measured difference is taken to stay as it is. For each undecided claim each way is tried: more repeats with the
 * same instrument (only scatter shrinks, with √n; display step and error limit do not), and each other instrument of the
 * record that reads the quantity. A way is answered with the least number of repeats that decides, or not at all; the
 * cheapest of a claim is marked. Cost: seconds at the bench, of our own setting.
 */
import type { Claim, Instrument, Reading, TeardownRecord } from "../record/schema.ts";
import { baseUnit, convert, QUANTITY_DIMENSIONS, UNITS } from "../units/index.ts";
import { LEVEL } from "./claim-verdict.ts";
import type { ClaimVerdict } from "./claims.ts";
import { judgeClaim } from "./claims.ts";
import { standardUncertainty } from "./estimate.ts";
import { oneSided } from "./probability.ts";
import type { Bench } from "./readings.ts";
import { benchOf } from "./readings.ts";
import { summarise } from "./summary.ts";

export interface PlanStep {
  readonly claim: string;
  /** Readings to take again, by id: of this device only, since the other may not be at hand. */
  readonly readings: readonly string[];
  readonly of: readonly (readonly string[])[];
  readonly instrument: string;
  readonly repeats: number;
  readonly seconds: number;
  /** Standard uncertainty of what is judged, as it would be then. */
  readonly u: number;
  readonly verdict: "supported" | "not-supported";
  /** The cheapest way found for its claim. */
  readonly cheapest: boolean;
  readonly text: string;
}

/** Seconds to set up one weighing or gauging and for each repeat; settings of our own, no source. */
const SET_UP = 15;
const PER_REPEAT = 6;
const MOST_REPEATS = 30;
const TRIED = [1, 2, 3, 4, 5, 7, 10, 15, 20, MOST_REPEATS];
const FEW = [1, 3, 10];
/** How many of many readings are tried. */
const SIZES = [1, 2, 4, 8, 16, 32];

export function measuringPlan(bench: Bench, sibling: Bench | undefined, verdicts: readonly ClaimVerdict[]): PlanStep[] {
  const steps = verdicts.flatMap((verdict) => {
    const claim = bench.record.claims.find((one) => one.id === verdict.id)!;
    // Where a condition forbids the verdict, no number of repeats helps.
    return verdict.verdict === "cannot-tell" && (verdict.probability !== null || verdict.figureOpen === true)
      ? waysFor(claim, verdict, bench, sibling)
      : [];
  });
  return steps.sort((a, b) => a.seconds - b.seconds);
}

export interface OpenClaim {
  readonly claim: string;
  /** Standard uncertainty at which it could be told, the measured value staying as it is; null where none would do. */
  readonly u: number | null;
  readonly text: string;
}

/** Undecided claims that the plan has no way for. */
export function openClaims(verdicts: readonly ClaimVerdict[], plan: readonly PlanStep[]): OpenClaim[] {
  return verdicts.flatMap((verdict) => {
    if (verdict.verdict !== "cannot-tell" || verdict.probability === null || verdict.value === null) return [];
    if (plan.some((step) => step.claim === verdict.id)) return [];
    const edges = typeof verdict.threshold === "number" ? [verdict.threshold] : (verdict.threshold ?? []);
    const margin = Math.min(...edges.map((edge) => Math.abs(verdict.value! - edge)));
    const u = margin > 0 && Number.isFinite(margin) ? margin / oneSided(LEVEL) : null;
    const unit = verdict.unit === "" || verdict.unit === "1" ? "" : ` ${verdict.unit}`;
    const needed =
      u === null
        ? "it lies on the limit itself"
        : `it would take a standard uncertainty of ${Number(u.toPrecision(2))}${unit}; now it is ${Number(verdict.u!.toPrecision(2))}${unit}`;
    return [{ claim: verdict.id, u, text: `No instrument of this record decides it: ${needed}.` }];
  });
}

function waysFor(claim: Claim, verdict: ClaimVerdict, bench: Bench, sibling: Bench | undefined): PlanStep[] {
  if (verdict.quantity === null) return [];
  // Those that make it uncertain first: often a few of many are enough.
  const weight = (id: string) => {
    const figure = bench.figures.find((one) => one.reading.id === id)?.figure;
    return figure === undefined ? 0 : standardUncertainty(figure);
  };
  const own = bench.record.readings
    .filter((reading) => verdict.restsOn.includes(reading.id))
    .sort((a, b) => weight(b.id) - weight(a.id));
  if (own.length === 0) return [];
  const dimension = QUANTITY_DIMENSIONS[verdict.quantity];
  const fitting = bench.record.instruments.filter((one) => UNITS[one.resolution.unit].dimension === dimension);
  const found: PlanStep[] = [];
  for (const instrument of fitting) {
    const trial = rehearsal(bench.record, instrument);
    let best: PlanStep | undefined;
    for (const size of SIZES.filter((n) => n < own.length).concat(own.length)) {
      const some = own.slice(0, size);
      for (const repeats of own.length > 3 ? FEW : TRIED) {
        const seconds = size * (SET_UP + PER_REPEAT * repeats);
        if (best !== undefined && seconds >= best.seconds) break;
        const again = judgeClaim(
          claim,
          benchOf(
            trial(
              some.map((reading) => reading.id),
              repeats,
            ),
          ),
          sibling,
        );
        if (again.verdict === "cannot-tell" || again.u === null) continue;
        best = {
          claim: claim.id,
          readings: some.map((reading) => reading.id),
          of: some.map((reading) => reading.of),
          instrument: instrument.id,
          repeats,
          seconds,
          u: again.u,
          verdict: again.verdict,
          cheapest: false,
          text: stepText(some, instrument, repeats, seconds),
        };
        break;
      }
    }
    if (best !== undefined) found.push(best);
  }
  const least = found.reduce<PlanStep | undefined>(
    (a, b) => (a === undefined || b.seconds < a.seconds ? b : a),
    undefined,
  );
  return found.map((step) => (step === least ? { ...step, cheapest: true } : step));
}

function stepText(readings: readonly Reading[], instrument: Instrument, repeats: number, seconds: number): string {
  const what = readings.length === 1 ? readings[0]!.of.join(" + ") : `${readings.length} things`;
  const times = repeats === 1 ? "once" : `${repeats} times${readings.length === 1 ? "" : " each"}`;
  return `Measure ${what} again with ${instrument.name ?? instrument.id}, ${times}: about ${Math.ceil(seconds / 60)} min.`;
}

/** The record as it would be if some readings were taken again: the same means, n repeats, the instrument's own scatter. */
function rehearsal(
  record: TeardownRecord,
  instrument: Instrument,
): (ids: readonly string[], repeats: number) => TeardownRecord {
  const bench = benchOf(record);
  const { unit } = instrument.resolution;
  const repeatability = instrument.repeatability ?? { value: scatterOf(record, instrument), unit };
  const instruments = record.instruments.map((one) => (one === instrument ? { ...one, repeatability } : one));
  return (ids, repeats) => ({
    ...record,
    instruments,
    readings: record.readings.map((reading) => {
      // Values below are net already: the zero goes with them, as a zero.
      if (reading.of.includes("zero") && reading.instrument === instrument.id)
        return { ...reading, values: reading.values.map(() => 0) };
      const used = reading.instrument === instrument.id || ids.includes(reading.id);
      if (!used) return reading;
      const net = bench.figures.find((one) => one.reading.id === reading.id)?.figure.value;
      if (net === undefined) return reading;
      const base = baseUnit(QUANTITY_DIMENSIONS[reading.quantity]);
      const n = ids.includes(reading.id) ? repeats : reading.values.length;
      return { ...reading, values: new Array<number>(n).fill(net), unit: base, instrument: instrument.id };
    }),
  });
}

/** Scatter of a single reading in the instrument's unit: pooled over its repeats, at least half a display step. */
function scatterOf(record: TeardownRecord, instrument: Instrument): number {
  const { unit, value: step } = instrument.resolution;
  let squares = 0;
  let dof = 0;
  for (const reading of record.readings) {
    if (reading.instrument !== instrument.id || reading.values.length < 2) continue;
    const { sd } = summarise(reading.values.map((value) => convert(value, reading.unit, unit)));
    squares += sd! ** 2 * (reading.values.length - 1);
    dof += reading.values.length - 1;
  }
  return Math.max(step / 2, dof > 0 ? Math.sqrt(squares / dof) : 0);
}
