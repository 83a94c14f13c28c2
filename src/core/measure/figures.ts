/** All the figures of a record: readings with their uncertainty, budgets, battery, claims, flags and the measuring plan. */
import type { QuantityName, TeardownRecord, UnitName } from "../record/schema.ts";
import { convert, UNITS } from "../units/index.ts";
import type { BatteryFigures } from "./battery.ts";
import { batteryFigures } from "./battery.ts";
import type { ClaimVerdict } from "./claims.ts";
import { judgeClaims } from "./claims.ts";
import type { Estimate } from "./estimate.ts";
import { degreesOfFreedom, standardUncertainty } from "./estimate.ts";
import type { MassBudget } from "./mass-budget.ts";
import { massBudget } from "./mass-budget.ts";
import type { OpenClaim, PlanStep } from "./plan.ts";
import { measuringPlan, openClaims } from "./plan.ts";
import type { Flag } from "./plausibility.ts";
import { plausibility } from "./plausibility.ts";
import type { Result } from "./propagate.ts";
import { finish, welchSatterthwaite } from "./propagate.ts";
import type { ReadFigure } from "./readings.ts";
import { BASE_UNITS, benchOf } from "./readings.ts";
import type { ThicknessBudget } from "./thickness-budget.ts";
import { thicknessBudgets } from "./thickness-budget.ts";

/** One source of error of a reading. */
export interface ErrorSource {
  readonly what: "scatter" | "display-step" | "error-limit" | "shared-offset" | "shared-gain" | "zero-reading";
  readonly u: number;
  readonly dof: number;
}

export interface ReadingResult extends Result {
  readonly id: string;
  readonly of: readonly string[];
  readonly quantity: QuantityName;
  /** The unit it was read in. */
  readonly unit: UnitName;
  readonly instrument?: string;
  readonly place?: readonly [number, number];
  /** Another device that it is of. */
  readonly record?: string;
  /** The budget of its uncertainty, largest first, in the unit it was read in. */
  readonly sources: readonly ErrorSource[];
  /** Overdue calibration, no limit stated, and the like: to be said on the figure. */
  readonly warnings: readonly string[];
}

export interface Figures {
  readonly mass: MassBudget;
  readonly thickness: readonly ThicknessBudget[];
  readonly battery: BatteryFigures;
  readonly readings: readonly ReadingResult[];
  readonly claims: readonly ClaimVerdict[];
  readonly flags: readonly Flag[];
  readonly plan: readonly PlanStep[];
  /** Claims that no instrument of the record can decide, and what it would take. */
  readonly open: readonly OpenClaim[];
  readonly warnings: readonly string[];
}

/** Sources and readings of the sibling's record carry it in front. */
export const SIBLING_PREFIX = "sibling:";

/** @throws InputError naming the reading (or outline) that cannot be worked with */
export function figuresOf(record: TeardownRecord, sibling?: TeardownRecord): Figures {
  const bench = benchOf(record);
  const other = sibling === undefined ? undefined : benchOf(sibling, SIBLING_PREFIX);
  const mass = massBudget(bench);
  const thickness = thicknessBudgets(bench);
  const battery = batteryFigures(bench);
  const claims = judgeClaims(bench, other);
  const plan = measuringPlan(bench, other, claims);
  const warnings: string[] = [];
  if (sibling === undefined && record.claims.some((claim) => claim.than?.startsWith("sibling"))) {
    warnings.push("claims compare with a sibling, and its record is not at hand");
  }
  return {
    mass,
    thickness,
    battery,
    readings: bench.all.map(readingResult),
    claims,
    flags: plausibility(bench, mass, thickness, battery),
    plan,
    open: openClaims(claims, plan),
    warnings,
  };
}

/** A reading in the unit that it was read in. */
export function readingResult({ reading, figure, remarks }: ReadFigure): ReadingResult {
  const { id, of, quantity, unit, instrument, place, record } = reading;
  const base = BASE_UNITS[quantity];
  const value = convert(figure.value, base, unit);
  const u = Math.abs(convert(standardUncertainty(figure), base, unit, true));
  return {
    id,
    of,
    quantity,
    unit,
    ...finish(clean(value), u, degreesOfFreedom(figure), 0.95, UNITS[unit].dimension === "count" ? "" : unit),
    ...(instrument === undefined ? {} : { instrument }),
    ...(place === undefined ? {} : { place }),
    ...(record === undefined ? {} : { record }),
    sources: sourcesOf(figure, (term) => Math.abs(convert(term, base, unit, true))),
    warnings: remarks,
  };
}

const SOURCES: Readonly<Record<string, ErrorSource["what"]>> = {
  reading: "scatter",
  step: "display-step",
  limit: "error-limit",
  offset: "shared-offset",
  gain: "shared-gain",
  zero: "zero-reading",
  "zero-step": "zero-reading",
};

/** Scatter and display step of a zero reading stand together: both come from having taken it off. */
function sourcesOf(figure: Estimate, inUnit: (term: number) => number): ErrorSource[] {
  const found: { what: ErrorSource["what"]; u: number; dof: number }[] = [];
  for (const [source, term] of figure.terms) {
    const what = SOURCES[source.slice(0, source.indexOf(":"))];
    if (what === undefined) continue;
    const u = inUnit(term.u);
    const same = found.find((one) => one.what === what);
    if (same === undefined) found.push({ what, u, dof: term.dof });
    else {
      same.dof = welchSatterthwaite([
        [same.u, same.dof],
        [u, term.dof],
      ]);
      same.u = Math.sqrt(same.u * same.u + u * u);
    }
  }
  return found.sort((a, b) => b.u - a.u);
}

/** Without the dust of unit conversion and tare. */
function clean(value: number): number {
  return Number(value.toPrecision(15));
}
