/**
 * Thickness at a named place: what lies under it, by outlines and levels, against the body.
 *
 * Two views that must not be mixed: the measurement view asks whether this unit's layers add up to this unit's body
 * (closure); the tolerance view asks what a production that varies by the stated tolerances would do to the gaps.
 */
import type { TeardownRecord } from "../record/schema.ts";
import type { Estimate } from "./estimate.ts";
import { estimate, standardUncertainty } from "./estimate.ts";
import type { Budget, Closed } from "./mass-budget.ts";
import { budgetOf } from "./mass-budget.ts";
import { containsPoint } from "./polygon.ts";
import type { Bench, ReadFigure } from "./readings.ts";
import { overdueIn } from "./readings.ts";
import { shapeUncertainty } from "./shapes.ts";
import type { Stack } from "./stack.ts";
import { toleranceStack } from "./stack.ts";

export interface ThicknessBudget extends Budget {
  readonly unit: "mm";
  readonly name: string;
  readonly place: readonly [number, number];
  /** Thickness of the closed device at the place; null where it was not measured. */
  readonly body: number | null;
  /** Parts under the place, from the back downwards. */
  readonly layers: readonly string[];
  /** What the gaps' tolerances would do; only where the stack-up states any. */
  readonly tolerance?: Stack & { readonly view: string };
}

type Stackup = NonNullable<TeardownRecord["device"]["stackups"]>[number];

/** A reading counts as taken at the place within this distance; beyond it the nearest is used and named. mm, our own setting. */
const AT_PLACE = 5;

export function thicknessBudgets(bench: Bench): ThicknessBudget[] {
  return thicknessClosures(bench).map(({ budget }) => budget);
}

export function thicknessClosures(bench: Bench): Closed<ThicknessBudget>[] {
  return (bench.record.device.stackups ?? []).map((stackup) => thicknessClosure(bench, stackup));
}

/** Ids of the parts whose outline contains the place, from the back face downwards. */
export function layersAt(record: TeardownRecord, place: readonly [number, number]): string[] {
  return record.parts
    .filter((part) => part.outline !== undefined && containsPoint(part.outline, place))
    .sort((a, b) => (a.level?.[0] ?? 0) - (b.level?.[0] ?? 0))
    .map((part) => part.id);
}

function thicknessClosure(bench: Bench, stackup: Stackup): Closed<ThicknessBudget> {
  const { record } = bench;
  const { name, place } = stackup;
  const warnings: string[] = [];
  const layers = layersAt(record, place);
  const thick = bench.figures.filter(({ reading }) => reading.quantity === "thickness");
  const wholes = nearestOnly(
    thick.filter(({ reading }) => reading.of.includes("device")),
    place,
  );
  const whole = [...wholes].sort((a, b) => standardUncertainty(a.figure) - standardUncertainty(b.figure))[0];
  const readings = nearestOnly(
    thick.filter(({ reading }) => !reading.of.includes("device")),
    place,
  );
  if (layers.length === 0) warnings.push(`no part has an outline that contains the place [${place.join(", ")}]`);

  const gaps = stackup.gaps ?? [];
  const { budget, ...closed } = budgetOf({
    whole,
    members: layers,
    readings,
    record,
    ...(gaps.length > 0 ? { extra: gapSum(name, gaps) } : {}),
  });
  const used = [
    ...(whole === undefined ? [] : [whole]),
    ...readings.filter(({ reading }) => budget.lines.some((line) => line.reading === reading.id)),
  ];
  const answer: ThicknessBudget = {
    unit: "mm",
    name,
    place,
    body: whole?.figure.value ?? null,
    layers,
    ...budget,
    warnings: [
      ...warnings,
      ...farAway(used, place),
      ...budget.warnings,
      ...overdueIn(bench, ...used.map((one) => one.figure)),
      ...overdueIn(bench, ...used.map((one) => one.figure)),
      ...overlaps(record, budget),
    ],
    ...toleranceView(gaps, whole, budget),
  };
  return { ...closed, budget: answer };
}

/** Of each set of parts, the readings nearest to the place; those without a place speak for the whole part. */
function nearestOnly(readings: readonly ReadFigure[], place: readonly [number, number]): ReadFigure[] {
  const groups = new Map<string, ReadFigure[]>();
  for (const one of readings) {
    const key = [...one.reading.of].sort().join("\n");
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()].flatMap((group) => {
    const least = Math.min(...group.map((one) => distanceTo(one, place)));
    return group.filter((one) => distanceTo(one, place) <= least + 1e-9);
  });
}

function distanceTo({ reading }: ReadFigure, place: readonly [number, number]): number {
  return reading.place === undefined ? AT_PLACE : Math.hypot(reading.place[0] - place[0], reading.place[1] - place[1]);
}

function farAway(used: readonly ReadFigure[], place: readonly [number, number]): string[] {
  return used
    .filter((one) => distanceTo(one, place) > AT_PLACE)
    .map(
      (one) =>
        `reading ${one.reading.id} was taken ${distanceTo(one, place).toFixed(0)} mm from the place, at [${one.reading.place!.join(", ")}]`,
    );
}

function gapSum(name: string, gaps: NonNullable<Stackup["gaps"]>): Estimate {
  return estimate(
    gaps.reduce((sum, gap) => sum + gap.value, 0),
    "mm",
    gaps.map((gap, i) => [
      `gap:${name}:${i}`,
      { u: shapeUncertainty("rectangular", gap.tolerance ?? 0), dof: Number.POSITIVE_INFINITY },
    ]),
  );
}

/** Layers of a sum that lie at the same depth by their levels, by more than the sum's uncertainty could excuse. */
function overlaps(record: TeardownRecord, budget: Budget): string[] {
  const spans = budget.lines.flatMap((line) => {
    const levels = line.of.flatMap((id) => record.parts.find((part) => part.id === id)?.level ?? []);
    return levels.length === 0 ? [] : [{ line, from: Math.min(...levels), to: Math.max(...levels) }];
  });
  const found: string[] = [];
  spans.forEach((a, i) => {
    for (const b of spans.slice(i + 1)) {
      const depth = Math.min(a.to, b.to) - Math.max(a.from, b.from);
      if (depth > 0.5 * Math.min(a.to - a.from, b.to - b.from)) {
        found.push(
          `${a.line.of.join(" + ")} and ${b.line.of.join(" + ")} lie at the same depth by their levels, and both are in the sum`,
        );
      }
    }
  });
  return found;
}

function toleranceView(
  gaps: NonNullable<Stackup["gaps"]>,
  whole: ReadFigure | undefined,
  budget: Budget,
): Pick<ThicknessBudget, "tolerance"> {
  if (whole === undefined || budget.lines.length === 0 || !gaps.some((gap) => (gap.tolerance ?? 0) > 0)) return {};
  const stack = toleranceStack([
    { a: 1, value: whole.figure.value, t: 0, name: "body" },
    ...budget.lines.map((line) => ({ a: -1, value: line.value, t: 0, name: line.of.join(" + ") })),
    ...gaps.map((gap) => ({ a: -1, value: gap.value, t: gap.tolerance ?? 0, name: gap.name })),
  ]);
  return {
    tolerance: {
      ...stack,
      view: "what production may vary: the stated tolerances of the gaps about this unit's measured layers; not how well this unit was measured",
    },
  };
}
