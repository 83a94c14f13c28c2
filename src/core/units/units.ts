import type { Quantity, QuantityName, UnitName } from "../record/schema.ts";

/** What a unit measures. */
export type Dimension =
  | "mass"
  | "length"
  | "area"
  | "capacity"
  | "energy"
  | "voltage"
  | "current"
  | "resistance"
  | "ratio"
  | "temperature"
  | "duration"
  | "torque"
  | "force"
  | "count";

interface UnitDefinition {
  readonly dimension: Dimension;
  /** Value in the dimension's first unit = value * scale + offset; held as a fraction so that powers of ten stay exact. */
  readonly times: number;
  readonly over: number;
  readonly offset: number;
}

const unit = (dimension: Dimension, times = 1, over = 1, offset = 0): UnitDefinition => ({
  dimension,
  times,
  over,
  offset,
});

/** Every unit of the record. International inch: 25.4 mm exactly; 1 Wh = 3600 J exactly (SI definitions). */
export const UNITS: { readonly [name in UnitName]: UnitDefinition } = {
  g: unit("mass"),
  kg: unit("mass", 1000),
  mg: unit("mass", 1, 1000),
  mm: unit("length"),
  cm: unit("length", 10),
  in: unit("length", 254, 10),
  um: unit("length", 1, 1000),
  mm2: unit("area"),
  cm2: unit("area", 100),
  mAh: unit("capacity"),
  Ah: unit("capacity", 1000),
  Wh: unit("energy"),
  J: unit("energy", 1, 3600),
  V: unit("voltage"),
  mV: unit("voltage", 1, 1000),
  mA: unit("current"),
  A: unit("current", 1000),
  ohm: unit("resistance"),
  mohm: unit("resistance", 1, 1000),
  "%": unit("ratio"),
  degC: unit("temperature"),
  degF: unit("temperature", 5, 9, -32),
  s: unit("duration"),
  min: unit("duration", 60),
  h: unit("duration", 3600),
  "N.m": unit("torque"),
  "cN.m": unit("torque", 1, 100),
  N: unit("force"),
  "1": unit("count"),
};

/** Which dimension each quantity of a reading has. */
export const QUANTITY_DIMENSIONS: { readonly [name in QuantityName]: Dimension } = {
  mass: "mass",
  thickness: "length",
  length: "length",
  width: "length",
  height: "length",
  diameter: "length",
  diagonal: "length",
  area: "area",
  capacity: "capacity",
  energy: "energy",
  voltage: "voltage",
  current: "current",
  resistance: "resistance",
  charge: "ratio",
  temperature: "temperature",
  duration: "duration",
  torque: "torque",
  force: "force",
  count: "count",
};

/** The unit that a dimension is computed in: g, mm, mm2, mAh, Wh, V, mA, ohm, %, degC, s, N.m, N, 1. */
export function baseUnit(dimension: Dimension): UnitName {
  const found = (Object.keys(UNITS) as UnitName[]).find(
    (name) => UNITS[name].dimension === dimension && UNITS[name].times === 1 && UNITS[name].over === 1,
  );
  return found ?? "1";
}

/** The units that fit a quantity, first the one it is computed in. */
export function unitsOf(dimension: Dimension): UnitName[] {
  return (Object.keys(UNITS) as UnitName[]).filter((name) => UNITS[name].dimension === dimension);
}

/**
 * A value in another unit of the same dimension.
 *
 * @param interval true for a difference or an uncertainty: a temperature's zero point then does not count.
 * @throws RangeError when the units measure different things.
 */
export function convert(value: number, from: UnitName, to: UnitName, interval = false): number {
  const a = UNITS[from];
  const b = UNITS[to];
  if (a.dimension !== b.dimension) throw new RangeError(`${from} and ${to} do not measure the same thing`);
  if (from === to) return value;
  const shift = interval ? 0 : 1;
  const based = ((value + a.offset * shift) * a.times) / a.over;
  return (based * b.over) / b.times - b.offset * shift;
}

/** A quantity's value in the given unit. */
export function valueIn(quantity: Quantity, to: UnitName): number {
  return convert(quantity.value, quantity.unit, to);
}
