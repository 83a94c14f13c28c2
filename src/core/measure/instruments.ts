/**
 * What instruments may err by: presets to start from, each with its source, and what is known of one in a record.
 *
 * A preset fills in `maxError` where the owner states none; it never replaces a stated figure. Current ISO 13385-1 and
 * ISO 3611 define what is tested on calipers and micrometers but leave the number to the maker (recalled).
 */
import { InputError } from "../errors.ts";
import type { Instrument, Quantity } from "../record/schema.ts";

/** Limits of OIML R 76-1:2006, Table 6, in verification intervals e: up to which load 0.5, 1.0 and 1.5 e are allowed. */
const SCALE_CLASSES = {
  I: [50_000, 200_000, Number.POSITIVE_INFINITY],
  II: [5_000, 20_000, 100_000],
  III: [500, 2_000, 10_000],
  IIII: [50, 200, 1_000],
} as const;
export type ScaleClass = keyof typeof SCALE_CLASSES;
const SCALE_LIMITS = [0.5, 1, 1.5] as const;

/**
 * Maximum permissible error of a scale at a load, in the unit of e; doubled in service.
 * e is the verification interval, which the display step d may be smaller than.
 */
export function scaleLimit(scaleClass: ScaleClass, e: number, load: number, inService = false): number {
  if (!(e > 0)) throw new InputError({ path: "e", found: String(e), expected: "a verification interval above 0" });
  if (!(load >= 0)) throw new InputError({ path: "load", found: String(load), expected: "a load of 0 or more" });
  // 50.0 g on e = 0.1 g is 500 e, whatever the binary quotient says.
  const intervals = Number((load / e).toPrecision(12));
  const row = SCALE_CLASSES[scaleClass].findIndex((limit) => intervals <= limit);
  if (row < 0) {
    throw new InputError({
      path: "load",
      found: `${intervals} e`,
      expected: `at most ${SCALE_CLASSES[scaleClass][2]} e for class ${scaleClass}`,
    });
  }
  return SCALE_LIMITS[row]! * e * (inService ? 2 : 1);
}

/** What OIML R 76-1:2006, Table 3, lets a class be: e, number of intervals, least load. */
export const SCALE_TABLE_3 = [
  { class: "II", from: 0.001, to: 0.05, least: 100, most: 100_000, minimum: 20 },
  { class: "II", from: 0.1, to: Number.POSITIVE_INFINITY, least: 5_000, most: 100_000, minimum: 50 },
  { class: "III", from: 0.1, to: 2, least: 100, most: 10_000, minimum: 20 },
  { class: "III", from: 5, to: Number.POSITIVE_INFINITY, least: 500, most: 10_000, minimum: 20 },
  { class: "IIII", from: 5, to: Number.POSITIVE_INFINITY, least: 100, most: 1_000, minimum: 10 },
] as const;

/** Digital caliper of 0.01 mm by DIN 862: 20 um to 100 mm, 30 um to 600 mm; 20 um more inside or in depth. */
export function caliperLimit(length: number, jaws: "outside" | "inside-or-depth" = "outside"): number {
  if (!(length >= 0 && length <= 600)) {
    throw new InputError({ path: "length", found: `${length} mm`, expected: "0 to 600 mm" });
  }
  return (length <= 100 ? 0.02 : 0.03) + (jaws === "outside" ? 0 : 0.02);
}

/** Micrometer by DIN 863: 4 um to 50 mm, 5 um to 100 mm, 6 um to 150 mm. */
export function micrometerLimit(length: number): number {
  if (!(length >= 0 && length <= 150)) {
    throw new InputError({ path: "length", found: `${length} mm`, expected: "0 to 150 mm" });
  }
  return length <= 50 ? 0.004 : length <= 100 ? 0.005 : 0.006;
}

export interface InstrumentPreset {
  readonly id: string;
  readonly name: string;
  readonly kind: Instrument["kind"];
  readonly resolution: Quantity;
  readonly repeatability?: Quantity;
  readonly maxError?: Quantity;
  readonly source: string;
}

const g = (value: number): Quantity => ({ value, unit: "g" });
const mm = (value: number): Quantity => ({ value, unit: "mm" });
const R76 = "OIML R 76-1:2006, Table 6, doubled in service; largest of a phone's loads (to 1 kg)";

/** Starting points for the instruments of a bench. */
export const INSTRUMENT_PRESETS: readonly InstrumentPreset[] = [
  {
    id: "scale-class-II-0.01",
    name: "verified scale, class II, e = 0.1 g, reading to 0.01 g",
    kind: "scale",
    resolution: g(0.01),
    maxError: g(2 * scaleLimit("II", 0.1, 1000)),
    source: R76,
  },
  {
    id: "scale-class-III-0.1",
    name: "verified scale, class III, e = 0.1 g, to 200 g",
    kind: "scale",
    resolution: g(0.1),
    maxError: g(2 * scaleLimit("III", 0.1, 200)),
    source: "OIML R 76-1:2006, Table 6, doubled in service; loads to 200 g",
  },
  {
    id: "pocket-scale-0.01",
    name: "pocket scale without certificate, 0.01 g",
    kind: "scale",
    resolution: g(0.01),
    repeatability: g(0.01),
    source:
      "no legal limit applies: check it with known weights, or state the maker's linearity as its error (repeatability: common practice, no source)",
  },
  {
    id: "pocket-scale-0.1",
    name: "pocket scale without certificate, 0.1 g",
    kind: "scale",
    resolution: g(0.1),
    repeatability: g(0.05),
    source:
      "no legal limit applies: check it with known weights, or state the maker's linearity as its error (repeatability: common practice, no source)",
  },
  {
    id: "caliper-0.01",
    name: "digital caliper, 0.01 mm, to 100 mm",
    kind: "caliper",
    resolution: mm(0.01),
    repeatability: mm(0.005),
    maxError: mm(caliperLimit(100)),
    source: "DIN 862 (secondary copy); repeatability: common practice, no source",
  },
  {
    id: "micrometer-0.001",
    name: "digital micrometer, 0.001 mm, 0 to 25 mm",
    kind: "micrometer",
    resolution: mm(0.001),
    repeatability: mm(0.001),
    maxError: mm(micrometerLimit(25)),
    source: "DIN 863 (secondary copy); repeatability: common practice, no source",
  },
];

/** An instrument for a record, made from a preset. @throws InputError for a preset that is not there */
export function instrumentFromPreset(preset: string, id: string): Instrument {
  const found = INSTRUMENT_PRESETS.find((one) => one.id === preset);
  if (found === undefined) {
    throw new InputError({
      path: "preset",
      found: preset,
      expected: `one of ${INSTRUMENT_PRESETS.map((one) => one.id).join(", ")}`,
    });
  }
  const { name, kind, resolution, repeatability, maxError } = found;
  return {
    id,
    name,
    kind,
    resolution,
    ...(maxError === undefined ? {} : { maxError }),
    ...(repeatability === undefined ? {} : { repeatability }),
  };
}

/** Remarks of this kind go on everything that is made of the reading. */
export const OVERDUE = "was overdue for calibration";

/** What is to be said on every figure of an instrument: overdue, never calibrated, no limit stated. */
export function instrumentRemarks(instrument: Instrument, on: string | undefined): string[] {
  const name = instrument.name ?? instrument.id;
  const remarks: string[] = [];
  const day = on?.slice(0, 10);
  if (
    instrument.due !== undefined &&
    day !== undefined &&
    instrument.due.slice(0, day.length) < day.slice(0, instrument.due.length)
  ) {
    remarks.push(`${name} ${OVERDUE} (due ${instrument.due}, used ${day})`);
  }
  if (
    instrument.maxError === undefined &&
    instrument.sharedOffset === undefined &&
    instrument.sharedGain === undefined
  ) {
    remarks.push(`${name} has no error limit stated: only its display step and scatter are counted`);
  }
  return remarks;
}
