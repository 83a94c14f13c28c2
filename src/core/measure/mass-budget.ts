/**
 * Mass: parts and sets weighed together against the device. A positive residual is physical (adhesive, dust, screws left
 * in cups): it is reported as unaccounted for, not spread over the parts.
 *
 * The cover is the one whose residual is known best. Readings outside it are checked against those inside.
 * Least-squares adjustment only where the closure test passes; measured and adjusted stand side by side.
 */
import type { TeardownRecord } from "../record/schema.ts";
import { heldBy, withInside } from "./assemblies.ts";
import type { Closure } from "./closure.ts";
import { closureOf } from "./closure.ts";
import { coverOf } from "./cover.ts";
import type { Estimate } from "./estimate.ts";
import { add, combine, covariance, expandedUncertainty, standardUncertainty, subtract } from "./estimate.ts";
import type { Bench, ReadFigure } from "./readings.ts";
import { overdueIn } from "./readings.ts";
import { reconcile } from "./reconcile.ts";

export interface BudgetLine {
  readonly reading: string;
  readonly of: readonly string[];
  readonly value: number;
  readonly u: number;
  /** Half of the 95 % interval. */
  readonly U: number;
  /** Least-squares value, only where the budget closes. */
  readonly adjusted?: number;
  readonly adjustedU?: number;
}

/** Two ways to the same set of parts. */
export interface CrossCheck {
  readonly reading: string;
  readonly against: readonly string[];
  readonly difference: number;
  readonly u: number;
  readonly z: number;
  readonly agrees: boolean;
}

export interface Budget {
  /** The reading of the whole; null where it was not measured. */
  readonly whole: { readonly reading: string; readonly value: number; readonly u: number; readonly U: number } | null;
  readonly sum: number | null;
  readonly residual: number | null;
  /** Standard uncertainty of the residual (of the sum, where there is no whole to compare with). */
  readonly u: number | null;
  /** Half of the 95 % interval of the same. */
  readonly U: number | null;
  readonly z: number | null;
  readonly p: number | null;
  /** Null where parts are missing or the whole was not measured. */
  readonly closes: boolean | null;
  /** Ids of parts that are in no reading of the sum. */
  readonly missing: readonly string[];
  readonly lines: readonly BudgetLine[];
  readonly checks: readonly CrossCheck[];
  readonly warnings: readonly string[];
}

export interface MassBudget extends Budget {
  readonly unit: "g";
  /** The device weighed whole; null where it was not. */
  readonly device: number | null;
}

/** Budget arithmetic that mass and thickness share. */
export interface BudgetInput {
  readonly whole: ReadFigure | undefined;
  readonly members: readonly string[];
  readonly readings: readonly ReadFigure[];
  readonly record: TeardownRecord;
  /** Stands in the sum beside the readings: gaps of a stack. */
  readonly extra?: Estimate;
}

/** A budget with its residual as a figure that knows its sources. */
export interface Closed<B extends Budget> {
  readonly budget: B;
  readonly residual: Estimate | undefined;
  readonly whole: Estimate | undefined;
  /** The readings of the sum with their figures, and what stands beside them (gaps). */
  readonly sums: readonly { readonly of: readonly string[]; readonly figure: Estimate }[];
}

export function massBudget(bench: Bench): MassBudget {
  return massClosure(bench).budget;
}

export function massClosure(bench: Bench): Closed<MassBudget> {
  const { record } = bench;
  const masses = bench.figures.filter(({ reading }) => reading.quantity === "mass");
  const wholes = masses.filter(({ reading }) => reading.of.includes("device"));
  const whole = bestWhole(wholes);
  const { budget, residual, sums } = budgetOf({
    whole,
    members: record.parts.map((part) => part.id),
    readings: masses.filter(({ reading }) => !reading.of.includes("device")),
    record,
  });
  const warnings = [...budget.warnings, ...overdueIn(bench, whole?.figure, ...sums.map((one) => one.figure))];
  for (const other of wholes) {
    if (whole === undefined || other === whole || unlike(other, whole)) continue;
    const check = closureOf(
      other.figure.value - whole.figure.value,
      standardUncertainty(subtract(other.figure, whole.figure)),
    );
    if (!check.closes) {
      warnings.push(
        `the device was weighed twice and the readings ${whole.reading.id} and ${other.reading.id} disagree (z ${check.z.toFixed(1)})`,
      );
    }
  }
  return {
    budget: { unit: "g", device: whole?.figure.value ?? null, ...budget, warnings },
    residual,
    sums,
    whole: whole?.figure,
  };
}

const unlike = (a: ReadFigure, b: ReadFigure) =>
  JSON.stringify([a.reading.on ?? [], a.reading.off ?? []]) !==
  JSON.stringify([b.reading.on ?? [], b.reading.off ?? []]);

/** The whole as complete as it was measured: with nothing said to be off, then the one known best. */
function bestWhole(wholes: readonly ReadFigure[]): ReadFigure | undefined {
  return [...wholes].sort(
    (a, b) =>
      (a.reading.off?.length ?? 0) - (b.reading.off?.length ?? 0) ||
      standardUncertainty(a.figure) - standardUncertainty(b.figure),
  )[0];
}

export function budgetOf({ whole, members, readings, record, extra }: BudgetInput): Closed<Budget> {
  const warnings: string[] = [];
  const off = new Set((whole?.reading.off ?? []).flatMap((id) => withInside(record.parts, id)));
  // What the whole was measured without is no part of its sum.
  const wanted = members.filter((id) => !off.has(id));
  const weighed = readings.map((read) => {
    const { set, assumed, doubtful } = heldBy(record, read.reading);
    // What came along inside an assembly counts only where it belongs to this sum: not everything inside lies under one place.
    const here = (ids: readonly string[]) => ids.filter((id) => wanted.includes(id));
    const outside = assumed.filter((id) => !wanted.includes(id));
    return {
      read,
      figure: read.figure,
      set: new Set([...set].filter((id) => !outside.includes(id))),
      assumed: here(assumed),
      doubtful: here(doubtful),
    };
  });
  const { chosen, left, proved } = coverOf(wanted, weighed, (some) => {
    const sum = add(...some.map((one) => one.figure));
    return standardUncertainty(whole === undefined ? sum : subtract(whole.figure, sum)) ** 2;
  });
  for (const { read, assumed, doubtful } of chosen) {
    if (assumed.length > 0) {
      warnings.push(
        `reading ${read.reading.id} is taken to hold ${assumed.join(", ")} too, which came out with it (say \`off\` if not)`,
      );
    }
    if (doubtful.length > 0) {
      warnings.push(
        `reading ${read.reading.id} does not say whether ${doubtful.join(", ")} was on or off: taken as off, since measured alone`,
      );
    }
  }
  if (!proved)
    warnings.push("the readings can be combined in too many ways: the cover found may not be the best known one");
  const known = extra === undefined ? [] : [extra];
  const sum = chosen.length + known.length === 0 ? undefined : add(...chosen.map((one) => one.figure), ...known);
  const residual = whole === undefined || sum === undefined ? undefined : subtract(whole.figure, sum);
  const test: Closure | undefined =
    residual === undefined ? undefined : closureOf(residual.value, standardUncertainty(residual));
  const complete = left.length === 0 && chosen.length > 0;
  const closes = test === undefined || !complete ? null : test.closes;
  const adjusted =
    closes === true && whole !== undefined
      ? adjust(
          whole.figure,
          chosen.map((one) => one.figure),
          extra,
        )
      : undefined;
  const lines = chosen.map((one, i) => ({
    reading: one.read.reading.id,
    of: [...one.set],
    value: one.figure.value,
    u: standardUncertainty(one.figure),
    U: expandedUncertainty(one.figure),
    ...(adjusted === undefined ? {} : { adjusted: adjusted[i]!.value, adjustedU: adjusted[i]!.u }),
  }));
  const budget: Budget = {
    whole:
      whole === undefined
        ? null
        : {
            reading: whole.reading.id,
            value: whole.figure.value,
            u: standardUncertainty(whole.figure),
            U: expandedUncertainty(whole.figure),
          },
    sum: sum?.value ?? null,
    residual: residual === undefined ? null : dust(residual.value, whole!.figure.value),
    u: test?.u ?? (sum === undefined ? null : standardUncertainty(sum)),
    U: sum === undefined ? null : expandedUncertainty(residual ?? sum),
    z: test?.z ?? null,
    p: test?.p ?? null,
    closes,
    missing: left,
    lines,
    checks: crossChecks(weighed, chosen),
    warnings,
  };
  const sums = chosen.map((one) => ({ of: [...one.set], figure: one.figure }));
  return { budget, residual, whole: whole?.figure, sums };
}

/** A residual without the dust of binary sums: 187.4 - 187.1 is 0.3. */
function dust(residual: number, whole: number): number {
  return Number(residual.toFixed(Math.max(0, 12 - Math.ceil(Math.log10(Math.max(1, Math.abs(whole)))))));
}

function adjust(
  whole: Estimate,
  parts: readonly Estimate[],
  extra: Estimate | undefined,
): { value: number; u: number }[] | undefined {
  const all = [whole, ...parts, ...(extra === undefined ? [] : [extra])];
  const v = all.map((a) => all.map((b) => covariance(a, b)));
  if (all.every((_, i) => v[i]![i] === 0)) return undefined;
  const row = all.map((_, i) => (i === 0 ? 1 : -1));
  const answer = reconcile(
    all.map((one) => one.value),
    v,
    [row],
  );
  return parts.map((_, i) => ({ value: answer.adjusted[i + 1]!, u: answer.u[i + 1]! }));
}

/** Each reading outside the cover against readings that make up the same set. */
function crossChecks<T extends { read: ReadFigure; figure: Estimate; set: ReadonlySet<string> }>(
  weighed: readonly T[],
  chosen: readonly T[],
): CrossCheck[] {
  const checks: CrossCheck[] = [];
  const compare = (whole: T, parts: readonly T[]) => {
    const difference = combine([[whole.figure, 1], ...parts.map((one) => [one.figure, -1] as const)]);
    const { u, z, closes } = closureOf(difference.value, standardUncertainty(difference));
    checks.push({
      reading: whole.read.reading.id,
      against: parts.map((one) => one.read.reading.id),
      difference: dust(difference.value, whole.figure.value),
      u,
      z,
      agrees: closes,
    });
  };
  for (const one of weighed) {
    const others = weighed.filter((other) => other !== one && [...other.set].every((id) => one.set.has(id)));
    if (chosen.includes(one)) {
      // A set in the sum is checked against its members measured one by one.
      const inside = others.filter((other) => !chosen.includes(other) && other.set.size < one.set.size);
      const { chosen: parts, left } = coverOf([...one.set], inside);
      if (left.length === 0) compare(one, parts);
    } else {
      const { chosen: parts, left } = coverOf([...one.set], others);
      if (left.length === 0) compare(one, parts);
    }
  }
  // A set against its members turns up from both sides once at most, since only one of the two is in the sum.
  return checks;
}
