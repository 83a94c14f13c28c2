/**
 * What explains a change of mass or thickness between two devices: groups of parts that both sums can tell apart, gaps,
 * and what is left of the total; ranked, the many small ones in one line.
 */
import type { TeardownRecord } from "../record/schema.ts";
import { nameOf } from "./claim-sides.ts";
import { smallestDifference } from "./claim-verdict.ts";
import type { Estimate } from "./estimate.ts";
import { combine, degreesOfFreedom, estimate, expandedUncertainty, standardUncertainty, subtract } from "./estimate.ts";
import type { Closed } from "./mass-budget.ts";
import type { PartMatch } from "./match-parts.ts";
import type { Bench } from "./readings.ts";
import { resultText } from "./report.ts";
import { shapeUncertainty } from "./shapes.ts";
import { thicknessClosures } from "./thickness-budget.ts";

export interface Difference {
  readonly a: number;
  readonly b: number;
  readonly difference: number;
  readonly u: number;
  readonly U: number;
  readonly text: string;
  /** The sign can be told: P >= 0.95. */
  readonly told: boolean;
}

/** One bar of a waterfall: a group of parts on either side, or what is unaccounted for. */
export interface Change {
  readonly what: string;
  readonly a: readonly string[];
  readonly b: readonly string[];
  readonly kind: "changed" | "added" | "dropped" | "gap" | "unaccounted";
  readonly difference: number;
  readonly u: number;
  /** Half of the 95 % interval. */
  readonly U: number;
}

export interface Explained {
  readonly name: string;
  readonly unit: "g" | "mm";
  readonly total: Difference | null;
  /** The few that explain most, largest first. */
  readonly changes: readonly Change[];
  /** All the others in one line. */
  readonly rest: { readonly count: number; readonly difference: number; readonly u: number; readonly U: number };
  /** Every change in the order of the device, for the waterfall. */
  readonly all: readonly Change[];
}

/** The changes named are those that make up this share of all change, at most so many. */
const MOST = 0.8;
const FEW = 6;

/** A change with the figure that it is made of, so that what several share is not counted twice in their sum. */
interface Weighed {
  readonly change: Change;
  readonly figure: Estimate;
}

/** a - b with its uncertainty, and whether its sign can be told. */
export function differenceOf(a: Estimate, b: Estimate): Difference {
  const d = subtract(a, b);
  const u = standardUncertainty(d);
  const dof = degreesOfFreedom(d);
  const U = expandedUncertainty(d);
  const value = Number(d.value.toPrecision(12));
  return {
    a: a.value,
    b: b.value,
    difference: value,
    u,
    U,
    text: resultText(value, U, d.unit),
    told: u === 0 ? value !== 0 : Math.abs(value) >= smallestDifference(u, dof),
  };
}

/** Groups of parts that both sums can tell apart, and their differences; what is left of the total is unaccounted for. */
export function explain(
  name: string,
  unit: "g" | "mm",
  left: Bench,
  right: Bench,
  a: Pick<Closed<never>, "sums" | "whole">,
  b: Pick<Closed<never>, "sums" | "whole">,
  pairs: readonly PartMatch[],
  gaps: readonly Weighed[] = [],
): Explained {
  const group = new Map<string, string>();
  const root = (key: string): string => {
    const up = group.get(key) ?? key;
    return up === key ? key : root(up);
  };
  const join = (x: string, y: string) => void group.set(root(x), root(y));
  for (const { of } of a.sums) for (const id of of) join(`a:${of[0]}`, `a:${id}`);
  for (const { of } of b.sums) for (const id of of) join(`b:${of[0]}`, `b:${id}`);
  const inA = new Set(a.sums.flatMap(({ of }) => of));
  const inB = new Set(b.sums.flatMap(({ of }) => of));
  for (const pair of pairs) if (inA.has(pair.a) && inB.has(pair.b)) join(`a:${pair.a}`, `b:${pair.b}`);
  const groups = new Map<string, { a: (typeof a.sums)[number][]; b: (typeof b.sums)[number][] }>();
  const put = (side: "a" | "b", line: (typeof a.sums)[number]) => {
    const key = root(`${side}:${line.of[0]}`);
    const found = groups.get(key) ?? { a: [], b: [] };
    found[side].push(line);
    groups.set(key, found);
  };
  for (const line of a.sums) put("a", line);
  for (const line of b.sums) put("b", line);

  const found: Weighed[] = [...groups.values()].map((one) => {
    const parts = { a: one.a.flatMap(({ of }) => of), b: one.b.flatMap(({ of }) => of) };
    const figure = combine(
      [...one.a.map(({ figure: f }) => [f, 1] as const), ...one.b.map(({ figure: f }) => [f, -1] as const)],
      unit,
    );
    const kind = one.a.length === 0 ? "dropped" : one.b.length === 0 ? "added" : "changed";
    const what = one.a.length > 0 ? shortName(left, parts.a) : shortName(right, parts.b);
    return weighed({ what, ...parts, kind }, figure);
  });
  found.push(...gaps);
  const total = a.whole === undefined || b.whole === undefined ? null : differenceOf(a.whole, b.whole);
  if (a.whole !== undefined && b.whole !== undefined) {
    const rest = combine([[a.whole, 1], [b.whole, -1], ...found.map(({ figure }) => [figure, -1] as const)], unit);
    found.push(weighed({ what: "unaccounted for", a: [], b: [], kind: "unaccounted" }, rest));
  }
  return { name, unit, total, ...few(found, unit), all: found.map(({ change }) => change) };
}

function weighed(change: Pick<Change, "what" | "a" | "b" | "kind">, figure: Estimate): Weighed {
  return { change: { ...change, ...sizeOf(figure) }, figure };
}

function sizeOf(figure: Estimate): Pick<Change, "difference" | "u" | "U"> {
  return { difference: clean(figure.value), u: standardUncertainty(figure), U: expandedUncertainty(figure) };
}

const clean = (value: number) => (Math.abs(value) < 1e-9 ? 0 : Number(value.toPrecision(12)));

function shortName(bench: Bench, ids: readonly string[]): string {
  const names = ids.map((id) => nameOf(bench.record, [id]).replace(/^the /, ""));
  return names.length <= 2 ? names.join(" and ") : `${names[0]} with ${names.length - 1} others`;
}

function few(all: readonly Weighed[], unit: "g" | "mm"): Pick<Explained, "changes" | "rest"> {
  const size = ({ change }: Weighed) => Math.abs(change.difference);
  const ranked = [...all].sort((x, y) => size(y) - size(x));
  const whole = ranked.reduce((sum, one) => sum + size(one), 0);
  let seen = 0;
  const named = ranked.filter((one, i) => {
    const take = i < FEW && seen < MOST * whole;
    seen += size(one);
    return take && one.change.difference !== 0;
  });
  const others = ranked.filter((one) => !named.includes(one));
  // Summed as figures: the whole and its parts share errors, which cancel in the rest.
  const rest = combine(
    others.map(({ figure }) => [figure, 1] as const),
    unit,
  );
  return { changes: named.map(({ change }) => change), rest: { count: others.length, ...sizeOf(rest) } };
}

/** Stack-ups of the same name, or the only one of each device. */
export function explainThickness(
  left: Bench,
  right: Bench,
  pairs: readonly PartMatch[],
  warnings: string[],
): Explained[] {
  const own = thicknessClosures(left);
  const other = thicknessClosures(right);
  return own.flatMap((closed) => {
    const { name } = closed.budget;
    const match =
      other.find((one) => one.budget.name === name) ?? (own.length === 1 && other.length === 1 ? other[0] : undefined);
    if (match === undefined) {
      warnings.push(`${right.record.device.name} has no stack-up named "${name}"`);
      return [];
    }
    const gaps = gapChanges(left.record, right.record, name, match.budget.name);
    return [explain(name, "mm", left, right, closed, match, pairs, gaps)];
  });
}

function gapChanges(a: TeardownRecord, b: TeardownRecord, nameA: string, nameB: string): Weighed[] {
  const gapsOf = (record: TeardownRecord, name: string) =>
    record.device.stackups?.find((one) => one.name === name)?.gaps ?? [];
  const own = gapsOf(a, nameA);
  const other = gapsOf(b, nameB);
  const names = [...new Set([...own, ...other].map((gap) => gap.name))];
  return names.map((name) => {
    const x = own.find((gap) => gap.name === name);
    const y = other.find((gap) => gap.name === name);
    const spread = (side: string, tolerance = 0) =>
      [
        `gap:${side}:${name}`,
        { u: shapeUncertainty("rectangular", tolerance), dof: Number.POSITIVE_INFINITY },
      ] as const;
    const figure = estimate((x?.value ?? 0) - (y?.value ?? 0), "mm", [
      spread("a", x?.tolerance),
      spread("b", y?.tolerance),
    ]);
    return weighed({ what: `gap: ${name}`, a: [], b: [], kind: "gap" }, figure);
  });
}
