/**
 * The battery: energy as printed, per mass and per volume of the true outline, its share of the body, and the transport
 * limits that it crosses (information with its date, no advice: the carrier's current rules and trained people decide).
 */
import { InputError } from "../errors.ts";
import type { Part, TeardownRecord } from "../record/schema.ts";
import { convert } from "../units/index.ts";
import { withInside } from "./assemblies.ts";
import type { Estimate } from "./estimate.ts";
import { add, divide, estimate, multiply, result, standardUncertainty } from "./estimate.ts";
import { measurePolygon } from "./polygon.ts";
import type { Result } from "./propagate.ts";
import type { Bench, ReadFigure } from "./readings.ts";
import { overdueIn } from "./readings.ts";
import { shapeUncertainty } from "./shapes.ts";

export interface BatteryFigures {
  readonly energyWh: number | null;
  readonly whPerKg: number | null;
  readonly whPerL: number | null;
  readonly areaMm2: number | null;
  readonly volumeCm3: number | null;
  /** Share of the body's volume, 0 to 1. */
  readonly shareOfBody: number | null;
  readonly detail: {
    readonly energy?: Result;
    readonly perKg?: Result;
    readonly perL?: Result;
    readonly share?: Result;
  };
  readonly transport: readonly string[];
  readonly assumptions: readonly string[];
  readonly warnings: readonly string[];
}

/** Corner of an outline, each axis, mm; photographs and calipers on soft edges do no better. Our own setting. */
const CORNER_U = 0.05;
/** Rated energies carry a tolerance that nobody prints; ± 2 % is our own assumption, as a rectangle. */
const RATING_TOLERANCE = 0.02;

/** Limits of the carriage of lithium batteries; a battery of one cell is judged as a cell (UN Manual 38.3.2.3). */
const TRANSPORT = [
  {
    over: 20,
    text: "above 20 Wh per cell: the reliefs for small cells no longer apply (49 CFR 173.185(c)(1)(i); a battery of one cell counts as a cell, UN Manual of Tests and Criteria 38.3.2.3; as of 2025)",
  },
  {
    over: 2.7,
    text: "above 2.7 Wh: packed with equipment for air, at most 30 % charge (UN 3481, ICAO Technical Instructions 2025-26, mandatory from 2026-01-01)",
  },
] as const;
const TRANSPORT_BATTERY = {
  over: 100,
  text: "above 100 Wh per battery: the reliefs for small batteries no longer apply (49 CFR 173.185(c)(1)(i); as of 2025)",
} as const;
const TRANSPORT_CAUTION =
  "A swollen, damaged or recalled cell is forbidden by air and goes by road only under its own rules: ask the carrier and qualified people.";

export function batteryFigures(bench: Bench): BatteryFigures {
  const { record } = bench;
  const cells = record.parts.filter((part) => part.role === "battery");
  const warnings: string[] = [];
  const assumptions: string[] = [];
  if (cells.length === 0) warnings.push("no part has the role battery");

  const energy = ratedEnergy(bench, cells, assumptions, warnings);
  const mass = sumOver(cells, (cell) => massOf(bench, cell), `mass of the battery`, warnings);
  const area = sumOver(cells, (cell) => areaOf(cell), "outline of the battery", warnings);
  const volume = sumOver(cells, (cell) => volumeOf(bench, cell), "thickness of the battery", warnings);
  const perKg = energy && mass ? divide(energy, mass, "Wh/kg", 1000) : undefined;
  const perL = energy && volume ? divide(energy, volume, "Wh/L", 1e6) : undefined;
  const body = bodyVolume(bench);
  const share = volume && body ? divide(volume, body, "") : undefined;
  if (area)
    assumptions.push(
      `outline corners known to ${CORNER_U} mm (our setting); volume of the outline as drawn, with whatever it encloses`,
    );
  const detail = {
    ...(energy === undefined ? {} : { energy: result(energy) }),
    ...(perKg === undefined ? {} : { perKg: result(perKg) }),
    ...(perL === undefined ? {} : { perL: result(perL) }),
    ...(share === undefined ? {} : { share: result(share) }),
  };
  const perCell = energy === undefined ? 0 : energy.value / Math.max(1, cells.length);
  const crossed = TRANSPORT.filter((limit) => perCell > limit.over).map((limit): string => limit.text);
  if (energy !== undefined && energy.value > TRANSPORT_BATTERY.over) crossed.unshift(TRANSPORT_BATTERY.text);
  return {
    energyWh: energy?.value ?? null,
    whPerKg: perKg?.value ?? null,
    whPerL: perL?.value ?? null,
    areaMm2: area?.value ?? null,
    volumeCm3: volume === undefined ? null : volume.value / 1000,
    shareOfBody: share?.value ?? null,
    detail,
    transport: crossed.length > 0 ? [...crossed, TRANSPORT_CAUTION] : [],
    assumptions,
    warnings: [...warnings, ...overdueIn(bench, mass, volume, body)],
  };
}

/** Energy as printed (capacity times voltage), else as read on the battery. */
function ratedEnergy(
  bench: Bench,
  cells: readonly Part[],
  assumptions: string[],
  warnings: string[],
): Estimate | undefined {
  const { cell } = bench.record.device;
  if (cell !== undefined) {
    const value =
      (convert(cell.capacity.value, cell.capacity.unit, "mAh") * convert(cell.voltage.value, cell.voltage.unit, "V")) /
      1000;
    assumptions.push(`energy as printed, ± ${RATING_TOLERANCE * 100} % assumed; whether rated or typical is not known`);
    const u = shapeUncertainty("rectangular", RATING_TOLERANCE * value);
    return estimate(value, "Wh", [["rating", { u, dof: Number.POSITIVE_INFINITY }]]);
  }
  const read = (quantity: string) =>
    best(bench.figures.filter((one) => one.reading.quantity === quantity && isOf(one, cells)));
  const energy = read("energy");
  if (energy !== undefined) return energy.figure;
  const capacity = read("capacity");
  const voltage = read("voltage");
  if (capacity !== undefined && voltage !== undefined) {
    assumptions.push("energy from capacity and voltage read on the battery");
    return multiply(capacity.figure, voltage.figure, "Wh", 1 / 1000);
  }
  warnings.push("the battery's capacity and voltage are not recorded");
  return undefined;
}

const isOf = ({ reading }: ReadFigure, cells: readonly Part[]) =>
  reading.of.every((id) => cells.some((cell) => cell.id === id)) && reading.of.length === cells.length;

/** The reading known best. */
export function best(readings: readonly ReadFigure[]): ReadFigure | undefined {
  return [...readings].sort((a, b) => standardUncertainty(a.figure) - standardUncertainty(b.figure))[0];
}

function sumOver(
  cells: readonly Part[],
  of: (cell: Part) => Estimate | undefined,
  what: string,
  warnings: string[],
): Estimate | undefined {
  const found = cells.map(of);
  if (cells.length === 0) return undefined;
  if (found.some((one) => one === undefined)) {
    warnings.push(`the ${what} is not known`);
    return undefined;
  }
  return add(...(found as Estimate[]));
}

/** Mass of the part alone or with what is within it. */
function massOf(bench: Bench, cell: Part): Estimate | undefined {
  const family = new Set(withInside(bench.record.parts, cell.id));
  return best(
    bench.figures.filter(
      ({ reading }) =>
        reading.quantity === "mass" && reading.of.includes(cell.id) && reading.of.every((id) => family.has(id)),
    ),
  )?.figure;
}

/** Area of the true outline, holes taken out. */
export function areaOf(part: Part): Estimate | undefined {
  if (part.outline === undefined) return undefined;
  const { area, u } = measurePolygon(part.outline, { u: CORNER_U }, `the outline of ${part.id}`);
  return estimate(area, "mm2", [[`outline:${part.id}`, { u, dof: Number.POSITIVE_INFINITY }]]);
}

function thicknessOf(bench: Bench, id: string): Estimate | undefined {
  return best(
    bench.figures.filter(
      ({ reading }) => reading.quantity === "thickness" && reading.of.length === 1 && reading.of[0] === id,
    ),
  )?.figure;
}

/** mm³. */
function volumeOf(bench: Bench, cell: Part): Estimate | undefined {
  const area = areaOf(cell);
  const thickness = thicknessOf(bench, cell.id);
  return area === undefined || thickness === undefined ? undefined : multiply(area, thickness, "");
}

/** Width × height × thickness of the device, or the area of its largest outline × thickness; mm³. */
function bodyVolume(bench: Bench): Estimate | undefined {
  const { record } = bench;
  const of = (quantity: string) =>
    best(bench.figures.filter((one) => one.reading.quantity === quantity && one.reading.of.includes("device")))?.figure;
  const thickness = of("thickness");
  if (thickness === undefined) return undefined;
  const width = of("width");
  const height = of("height") ?? of("length");
  if (width !== undefined && height !== undefined) return multiply(multiply(width, height, "mm2"), thickness, "");
  // A faulty outline of some other part is flagged elsewhere; it must not cost the share of the body.
  const outlines = record.parts.flatMap((part) => {
    if (part.outline === undefined) return [];
    try {
      return [outerArea(part)];
    } catch (error) {
      if (error instanceof InputError) return [];
      throw error;
    }
  });
  const largest = outlines.reduce<Estimate | undefined>(
    (a, b) => (a === undefined || b.value > a.value ? b : a),
    undefined,
  );
  return largest === undefined ? undefined : multiply(largest, thickness, "");
}

function outerArea(part: TeardownRecord["parts"][number]): Estimate {
  const { area, u } = measurePolygon([part.outline![0]!], { u: CORNER_U }, `the outline of ${part.id}`);
  return estimate(area, "mm2", [[`outline:${part.id}`, { u, dof: Number.POSITIVE_INFINITY }]]);
}
