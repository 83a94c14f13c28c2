/**
 * From repeats on an instrument to a figure with its sources of error kept apart.
 *
 * Own to the reading: scatter, display step d/√12 (never divided by the number of repeats: ten identical readings are not
 * thereby perfect), and the instrument's error limit as a rectangle (a limit on its error at this point of its range).
 * Shared by all readings of the instrument: `sharedOffset` and `sharedGain`, standard uncertainties. A zero reading is
 * subtracted and takes the shared offset away with it; its own rounding and scatter are shared by all that use it.
 *
 * Scatter: with a stated repeatability r it is r/√n, known well, unless the repeats contradict r (χ² at 95 %); without
 * one it is s/√n with n - 1 degrees of freedom; a single reading without r has none, and a remark says so.
 */
import { InputError } from "../errors.ts";
import type { Instrument, QuantityName, Reading, TeardownRecord, UnitName } from "../record/schema.ts";
import { baseUnit, convert, QUANTITY_DIMENSIONS, UNITS } from "../units/index.ts";
import { chiSquaredQuantile } from "./distributions.ts";
import type { Estimate, Term } from "./estimate.ts";
import { instrumentRemarks, OVERDUE } from "./instruments.ts";
import { stepUncertainty } from "./shapes.ts";
import { summarise } from "./summary.ts";

export interface ReadFigure {
  readonly reading: Reading;
  /** In the base unit of the quantity (g, mm, …). */
  readonly figure: Estimate;
  readonly remarks: readonly string[];
}

/** Everything that turns readings of one record into figures. */
export interface Bench {
  readonly record: TeardownRecord;
  readonly figures: readonly ReadFigure[];
  /** Every reading in the order of the record, zeros and figures for other devices too. */
  readonly all: readonly ReadFigure[];
  /** Figures for another device that were noted in this record: not this device's. */
  readonly elsewhere: readonly ReadFigure[];
  /** Before each source and reading where two records are compared: their scales are different things. */
  readonly prefix: string;
}

/** All readings of a record as figures; `prefix` keeps the sources of two records apart. */
export function benchOf(record: TeardownRecord, prefix = ""): Bench {
  const figures: ReadFigure[] = [];
  const elsewhere: ReadFigure[] = [];
  const context: Context = {
    record,
    prefix,
    instruments: new Map(record.instruments.map((one) => [one.id, one])),
    keys: new Map(record.instruments.map((one) => [one.id, instrumentKey(one)])),
    zeros: record.readings.filter((one) => one.of.includes("zero")),
    scatterLimits: new Map(),
    said: new Map(),
    tares: new Map(),
  };
  const all = record.readings.map((reading, index) => readFigure(context, reading, `readings[${index}]`));
  for (const figure of all) {
    const { reading } = figure;
    if (reading.of.includes("zero")) continue;
    (reading.record === undefined || reading.record === record.id ? figures : elsewhere).push(figure);
  }
  return { record, figures, elsewhere, all, prefix };
}

/** Calibration overdue, for any of the readings that a figure is made of. */
export function overdueIn(bench: Bench, ...figures: readonly (Estimate | undefined)[]): string[] {
  const ids = new Set(figures.flatMap((figure) => figure?.readings ?? []));
  const remarks = bench.figures.flatMap((one) =>
    ids.has(`${bench.prefix}${one.reading.id}`) ? one.remarks.filter((remark) => remark.includes(OVERDUE)) : [],
  );
  return [...new Set(remarks)];
}

/** What every reading of a record needs, found once. */
interface Context {
  readonly record: TeardownRecord;
  readonly prefix: string;
  readonly instruments: ReadonlyMap<string, Instrument>;
  readonly keys: ReadonlyMap<string, string>;
  readonly zeros: readonly Reading[];
  /** χ² limit by degrees of freedom. */
  readonly scatterLimits: Map<number, number>;
  readonly said: Map<string, readonly string[]>;
  readonly tares: Map<Reading, Scatter>;
}

function readFigure(context: Context, reading: Reading, path: string): ReadFigure {
  const { record, prefix } = context;
  const named = `${path} (${reading.id})`;
  const unit = BASE_UNITS[reading.quantity];
  const instrument = reading.instrument === undefined ? undefined : context.instruments.get(reading.instrument);
  checkReading(reading, instrument, named);
  const remarks = new Set<string>();
  const own = scatter(context, reading, instrument, unit, named, remarks);
  const terms = new Map<string, Term>();
  const put = (source: string, u: number, dof = Number.POSITIVE_INFINITY) => {
    if (u !== 0) terms.set(source, { u, dof });
  };
  put(`reading:${prefix}${reading.id}`, own.u, own.dof);
  let value = own.mean;
  const used = sessionDay(record, reading);
  if (instrument === undefined) {
    if (reading.quantity !== "count")
      remarks.add("no instrument is named: the figure is taken as exact but for its scatter");
  } else {
    for (const remark of remarksOn(context, instrument, used)) remarks.add(remark);
    const step = spread(instrument.resolution, unit, () => `${named}: instrument ${instrument.id}, resolution`);
    put(`step:${prefix}${reading.id}`, stepUncertainty(step));
    if (instrument.maxError !== undefined) {
      const limit = spread(instrument.maxError, unit, () => `${named}: instrument ${instrument.id}, maxError`);
      put(`limit:${prefix}${reading.id}`, limit / Math.sqrt(3));
    }
    const common = context.keys.get(instrument.id)!;
    const zero = reading.of.includes("zero") ? undefined : zeroFor(context.zeros, reading);
    if (zero !== undefined) {
      const tare = tareOf(context, zero, instrument, unit);
      value -= tare.mean;
      put(`zero:${prefix}${zero.id}`, -tare.u, tare.dof);
      put(`zero-step:${prefix}${zero.id}`, -stepUncertainty(step));
    } else if (instrument.sharedOffset !== undefined) {
      const offset = spread(instrument.sharedOffset, unit, () => `${named}: instrument ${instrument.id}, sharedOffset`);
      put(`offset:${common}`, offset);
    }
    if (instrument.sharedGain !== undefined) put(`gain:${common}`, instrument.sharedGain * value);
  }
  return {
    reading,
    figure: { kind: "estimate", value, unit, terms, readings: [`${prefix}${reading.id}`] },
    remarks: [...remarks],
  };
}

/** The unit that each quantity is computed in. */
export const BASE_UNITS = Object.fromEntries(
  Object.entries(QUANTITY_DIMENSIONS).map(([quantity, dimension]) => [quantity, baseUnit(dimension)]),
) as { readonly [quantity in QuantityName]: UnitName };
/** Level of the test of repeats against the stated repeatability. */
const LEVEL = 0.95;
/** Two records share an instrument where everything that is said of it is the same; their shared errors then cancel. */
function instrumentKey(instrument: Instrument): string {
  const { id, ...rest } = instrument;
  return `${id}${JSON.stringify(Object.entries(rest).sort(([a], [b]) => (a < b ? -1 : 1)))}`;
}

/** A zero reading serves many: worked out once. */
function tareOf(context: Context, zero: Reading, instrument: Instrument, unit: UnitName): Scatter {
  const known = context.tares.get(zero) ?? scatter(context, zero, instrument, unit, `reading ${zero.id}`, new Set());
  context.tares.set(zero, known);
  return known;
}

/** What is to be said of an instrument on a day, worked out once. */
function remarksOn({ said }: Context, instrument: Instrument, day: string | undefined): readonly string[] {
  const key = `${instrument.id} ${day ?? ""}`;
  const known = said.get(key) ?? instrumentRemarks(instrument, day);
  said.set(key, known);
  return known;
}

function checkReading(reading: Reading, instrument: Instrument | undefined, path: string): void {
  if (reading.values.length === 0) {
    throw new InputError({ path: `${path}.values`, found: "no values", expected: "at least one repeat" });
  }
  const dimension = QUANTITY_DIMENSIONS[reading.quantity];
  if (UNITS[reading.unit].dimension !== dimension) {
    throw new InputError({ path: `${path}.unit`, found: reading.unit, expected: `a unit of ${dimension}` });
  }
  if (instrument !== undefined && !(instrument.resolution.value > 0)) {
    throw new InputError({
      path: `${path}: instrument ${instrument.id}, resolution`,
      found: String(instrument.resolution.value),
      expected: "a display step above 0",
    });
  }
}

/** A spread (step, limit, offset) in the unit wanted. */
function spread(quantity: { value: number; unit: UnitName }, unit: UnitName, path: () => string): number {
  if (UNITS[quantity.unit].dimension !== UNITS[unit].dimension) {
    throw new InputError({ path: path(), found: quantity.unit, expected: `a unit that fits a reading in ${unit}` });
  }
  if (!(quantity.value >= 0)) {
    throw new InputError({ path: path(), found: String(quantity.value), expected: "a number of 0 or more" });
  }
  return convert(quantity.value, quantity.unit, unit, true);
}

/** Mean of the repeats with the uncertainty that their scatter gives it. */
interface Scatter {
  readonly mean: number;
  readonly u: number;
  readonly dof: number;
}

function scatter(
  { scatterLimits }: Context,
  reading: Reading,
  instrument: Instrument | undefined,
  unit: UnitName,
  path: string,
  remarks: Set<string>,
): Scatter {
  const values = reading.values.map((value) => convert(value, reading.unit, unit));
  const { n, mean, sd } = summarise(values, `${path}.values`);
  const stated =
    instrument?.repeatability === undefined
      ? undefined
      : spread(instrument.repeatability, unit, () => `${path}: instrument ${instrument.id}, repeatability`);
  if (sd === null) {
    if (stated === undefined && instrument !== undefined) {
      remarks.add("one reading, and the instrument's repeatability is not stated: its scatter is not counted");
    }
    return { mean, u: stated ?? 0, dof: Number.POSITIVE_INFINITY };
  }
  if (stated !== undefined && stated > 0) {
    const limit = scatterLimits.get(n - 1) ?? chiSquaredQuantile(LEVEL, n - 1);
    scatterLimits.set(n - 1, limit);
    if ((sd * sd * (n - 1)) / (stated * stated) <= limit) {
      return { mean, u: stated / Math.sqrt(n), dof: Number.POSITIVE_INFINITY };
    }
    remarks.add("the repeats scatter more than the instrument's stated repeatability: their own scatter is used");
  }
  return { mean, u: sd / Math.sqrt(n), dof: n - 1 };
}

/** The zero or tare that goes with a reading: same instrument and session, the last before it, else the first after. */
function zeroFor(all: readonly Reading[], reading: Reading): Reading | undefined {
  const zeros = all.filter(
    (one) =>
      one.instrument === reading.instrument &&
      one.quantity === dimensionMate(one.quantity, reading.quantity) &&
      (one.session === undefined || reading.session === undefined || one.session === reading.session),
  );
  const before = zeros.filter((zero) => zero.at === undefined || reading.at === undefined || zero.at <= reading.at);
  return before.length > 0
    ? before.reduce((last, zero) => ((zero.at ?? 0) >= (last.at ?? 0) ? zero : last))
    : zeros.reduce<Reading | undefined>(
        (first, z) => (first === undefined || z.at! < first.at! ? z : first),
        undefined,
      );
}

/** A caliper's zero serves lengths of every name. */
function dimensionMate(zero: QuantityName, wanted: QuantityName): QuantityName {
  return QUANTITY_DIMENSIONS[zero] === QUANTITY_DIMENSIONS[wanted] ? zero : wanted;
}

/** The day of a reading; of one without a session the first day of any, so that overdue is said only where it is certain. */
function sessionDay(record: TeardownRecord, reading: Reading): string | undefined {
  const sessions = record.sessions ?? [];
  const own = sessions.find((one) => one.id === reading.session);
  if (own !== undefined) return own.started;
  return sessions.map((one) => one.started).sort()[0];
}
