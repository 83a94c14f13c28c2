/**
 * Figures that cannot be right, or hardly: flagged with the reason, never corrected.
 */
import { InputError } from "../errors.ts";
import type { Joint, TeardownRecord } from "../record/schema.ts";
import { convert } from "../units/index.ts";
import type { BatteryFigures } from "./battery.ts";
import { areaOf, best } from "./battery.ts";
import { standardUncertainty } from "./estimate.ts";
import type { MassBudget } from "./mass-budget.ts";
import type { Bench } from "./readings.ts";
import type { ThicknessBudget } from "./thickness-budget.ts";

export interface Flag {
  /** What it is about: a part, joint or reading id, or a stack-up's name. */
  readonly about: string;
  readonly kind:
    | "energy-per-mass"
    | "energy-per-volume"
    | "torque"
    | "stack"
    | "budget"
    | "infrared"
    | "density"
    | "part-heavier-than-whole"
    | "readings-disagree"
    | "outline";
  readonly text: string;
}

/** What lithium-ion pouch cells of phones and tablets reach; common practice, no source. */
const CELL_WH_PER_KG = [150, 330] as const;
const CELL_WH_PER_L = [350, 900] as const;
/** Lighter than foam with air, heavier than tungsten alloy (about 19 g/cm³, handbook value recalled): no part of a phone. g/cm³. */
const DENSITY = [0.2, 19] as const;
/** Below this emissivity an infrared thermometer sees the room mirrored in the part; common practice, no source. */
const DULL = 0.6;

/** Least breaking torque of property class 8.8, N.m, ISO 898-7:1992 (table values recalled; they agree with its formula). */
const BREAKING: Readonly<Record<string, number>> = {
  M1: 0.033,
  "M1.2": 0.075,
  "M1.4": 0.12,
  "M1.6": 0.16,
  M2: 0.37,
  "M2.5": 0.82,
  M3: 1.5,
};
/** A torque above this share of the breaking torque is warned of; our own setting. */
const SHARE = 0.5;

export function plausibility(
  bench: Bench,
  mass: MassBudget,
  thickness: readonly ThicknessBudget[],
  battery: BatteryFigures,
): Flag[] {
  return [
    ...batteryFlags(bench.record, battery),
    ...budgetFlags(mass, thickness),
    ...torqueFlags(bench),
    ...infraredFlags(bench),
    ...densityFlags(bench),
    ...wholeFlags(bench, mass),
  ];
}

function batteryFlags(record: TeardownRecord, battery: BatteryFigures): Flag[] {
  const about = record.parts.find((part) => part.role === "battery")?.id ?? "battery";
  const outside = (value: number | null, [low, high]: readonly [number, number]) =>
    value !== null && (value < low || value > high);
  const flags: Flag[] = [];
  if (outside(battery.whPerKg, CELL_WH_PER_KG)) {
    flags.push({
      about,
      kind: "energy-per-mass",
      text: `${battery.whPerKg!.toFixed(0)} Wh/kg is outside what cells reach (${CELL_WH_PER_KG.join(" to ")} Wh/kg, common practice): check the printed capacity and what was weighed with it`,
    });
  }
  if (outside(battery.whPerL, CELL_WH_PER_L)) {
    flags.push({
      about,
      kind: "energy-per-volume",
      text: `${battery.whPerL!.toFixed(0)} Wh/L is outside what cells reach (${CELL_WH_PER_L.join(" to ")} Wh/L, common practice): check the outline and the thickness`,
    });
  }
  return flags;
}

function budgetFlags(mass: MassBudget, thickness: readonly ThicknessBudget[]): Flag[] {
  const flags: Flag[] = [];
  if (mass.residual !== null && mass.u !== null && mass.residual < -2 * mass.u) {
    flags.push({
      about: "device",
      kind: "budget",
      text: `the parts weigh ${(-mass.residual).toFixed(2)} g more than the device: something is counted twice, or was weighed with more on it`,
    });
  }
  for (const stack of thickness) {
    if (stack.residual !== null && stack.u !== null && stack.residual < -2 * stack.u) {
      flags.push({
        about: stack.name,
        kind: "stack",
        text: `the stack at "${stack.name}" is ${(-stack.residual).toFixed(3)} mm thicker than its body: a gap is too large, a layer is measured elsewhere, or the body is bowed`,
      });
    }
  }
  for (const check of [...mass.checks, ...thickness.flatMap((stack) => stack.checks)]) {
    if (check.agrees) continue;
    flags.push({
      about: check.reading,
      kind: "readings-disagree",
      text: `reading ${check.reading} and ${check.against.join(" + ")} are of the same parts and differ by ${check.difference.toFixed(3)} (z ${check.z.toFixed(1)})`,
    });
  }
  return flags;
}

function torqueFlags(bench: Bench): Flag[] {
  return bench.record.joints.flatMap((joint) => {
    const torque = joint.screws?.torque;
    if (torque === undefined) return [];
    const newtonMetres = convert(torque.value, torque.unit, "N.m");
    const limit = breakingTorque(joint);
    if (limit === undefined || newtonMetres <= SHARE * limit) return [];
    return [
      {
        about: joint.id,
        kind: "torque" as const,
        text: `${(newtonMetres * 100).toFixed(1)} cN.m on ${joint.screws!.thread} is above half of the least breaking torque of the thread (${(limit * 100).toFixed(1)} cN.m, class 8.8, ISO 898-7): check the unit and the thread; in plastic the limit is lower still`,
      },
    ];
  });
}

function breakingTorque(joint: Joint): number | undefined {
  const size = /^M\s*(\d+(?:\.\d+)?)/i.exec(joint.screws?.thread?.trim() ?? "")?.[1];
  return size === undefined ? undefined : BREAKING[`M${Number(size)}`];
}

/** Bare metal by its material's name. */
const METAL = /\b(alumin\w*|steel|stainless|titan\w*|copper|brass|magnesium|zinc|gold|silver|nickel|metal)\b/i;

function infraredFlags(bench: Bench): Flag[] {
  const { record } = bench;
  return bench.figures.flatMap(({ reading }) => {
    const instrument = record.instruments.find((one) => one.id === reading.instrument);
    if (reading.quantity !== "temperature" || instrument?.kind !== "infrared") return [];
    const bare = reading.of.find((id) => METAL.test(record.parts.find((part) => part.id === id)?.material ?? ""));
    if (bare === undefined) return [];
    const set = instrument.emissivity;
    if (set !== undefined && set < DULL) return [];
    return [
      {
        about: reading.id,
        kind: "infrared" as const,
        text: `reading ${reading.id} is by infrared on bare metal (${bare}) with an emissivity of ${set ?? "nobody knows what"}: metal mirrors the room; put dull tape on it, or use a thermocouple`,
      },
    ];
  });
}

function densityFlags(bench: Bench): Flag[] {
  const of = (quantity: string, id: string) =>
    best(
      bench.figures.filter(
        ({ reading }) => reading.quantity === quantity && reading.of.length === 1 && reading.of[0] === id,
      ),
    )?.figure.value;
  return bench.record.parts.flatMap((part): Flag[] => {
    let area: number | undefined;
    try {
      area = areaOf(part)?.value;
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      return [{ about: part.id, kind: "outline", text: `${error.path}: ${error.found}; expected ${error.expected}` }];
    }
    const mass = of("mass", part.id);
    const thickness = of("thickness", part.id);
    if (area === undefined || mass === undefined || thickness === undefined || part.base) return [];
    const density = (mass / (area * thickness)) * 1000;
    if (density >= DENSITY[0] && density <= DENSITY[1]) return [];
    return [
      {
        about: part.id,
        kind: "density",
        text: `${part.name}: ${density.toPrecision(2)} g/cm3 from mass, outline and thickness is no material: check the unit of one of them`,
      },
    ];
  });
}

function wholeFlags(bench: Bench, mass: MassBudget): Flag[] {
  if (mass.device === null) return [];
  return bench.figures.flatMap(({ reading, figure }) => {
    if (reading.quantity !== "mass" || reading.of.includes("device")) return [];
    if (figure.value <= mass.device! + 2 * standardUncertainty(figure)) return [];
    return [
      {
        about: reading.id,
        kind: "part-heavier-than-whole" as const,
        text: `reading ${reading.id} (${figure.value} g) is heavier than the whole device (${mass.device} g): check the unit`,
      },
    ];
  });
}
