/**
 * Two devices beside each other: what changed, by how much, and whether it can be told. Differences are a - b.
 *
 * Parts are matched by role and name (a person can correct it). Mass and thickness are explained by the few groups of
 * parts that changed most; a group is what both benches can tell apart: parts weighed together on either side stay together.
 */
import { InputError } from "../errors.ts";
import type { Joint, PriorityRole, QuantityName, TeardownRecord } from "../record/schema.ts";
import { areaOf, batteryFigures } from "./battery.ts";
import { nameOf, sideOf } from "./claim-sides.ts";
import { smallestDifference } from "./claim-verdict.ts";
import { coverageFactor } from "./distributions.ts";
import type { Estimate } from "./estimate.ts";
import { combine, degreesOfFreedom, estimate, standardUncertainty, subtract } from "./estimate.ts";
import type { Closed } from "./mass-budget.ts";
import { massClosure } from "./mass-budget.ts";
import type { PartMatch } from "./match-parts.ts";
import { matchParts } from "./match-parts.ts";
import type { Bench } from "./readings.ts";
import { benchOf } from "./readings.ts";
import { resultText } from "./report.ts";
import { thicknessClosures } from "./thickness-budget.ts";

/** What planner and law say of a device, handed in by whoever can ask them. */
export interface DeviceFacts {
  readonly ways?: {
    readonly [role in PriorityRole]?: {
      readonly seconds: number;
      readonly steps: number;
      readonly proved: boolean;
    } | null;
  };
  readonly index?: string | null;
  readonly class?: string | null;
}

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

export interface ComparedPart extends PartMatch {
  readonly name: string;
  readonly mass?: Difference;
  readonly thickness?: Difference;
  readonly area?: Difference;
}

/** One bar of a waterfall: a group of parts on either side, or what is unaccounted for. */
export interface Change {
  readonly what: string;
  readonly a: readonly string[];
  readonly b: readonly string[];
  readonly kind: "changed" | "added" | "dropped" | "gap" | "unaccounted";
  readonly difference: number;
  readonly u: number;
}

export interface Explained {
  readonly name: string;
  readonly unit: "g" | "mm";
  readonly total: Difference | null;
  /** The few that explain most, largest first. */
  readonly changes: readonly Change[];
  /** All the others in one line. */
  readonly rest: { readonly count: number; readonly difference: number; readonly u: number };
  /** Every change in the order of the device, for the waterfall. */
  readonly all: readonly Change[];
}

export interface CountChange {
  readonly what: string;
  readonly a: number;
  readonly b: number;
  readonly difference: number;
}

export interface RecordComparison {
  readonly a: { readonly id: string; readonly name: string };
  readonly b: { readonly id: string; readonly name: string };
  readonly device: { readonly [quantity in QuantityName]?: Difference };
  readonly battery: {
    readonly [key in "energyWh" | "whPerKg" | "whPerL"]: {
      readonly a: number | null;
      readonly b: number | null;
      readonly difference: number | null;
    };
  };
  readonly parts: readonly ComparedPart[];
  readonly added: readonly string[];
  readonly dropped: readonly string[];
  /** Parts of b that one part of a now does the work of. */
  readonly merged: readonly { readonly a: string; readonly from: readonly string[] }[];
  /** A part of b whose work several parts of a now do. */
  readonly split: readonly { readonly b: string; readonly into: readonly string[] }[];
  readonly mass: Explained;
  readonly thickness: readonly Explained[];
  readonly fasteners: readonly CountChange[];
  readonly joints: readonly CountChange[];
  readonly ways: readonly {
    readonly role: PriorityRole;
    readonly seconds: { readonly a: number | null; readonly b: number | null; readonly difference: number | null };
    readonly steps: { readonly a: number | null; readonly b: number | null; readonly difference: number | null };
  }[];
  readonly index: {
    readonly a: string | null;
    readonly b: string | null;
    readonly classA: string | null;
    readonly classB: string | null;
  };
  readonly warnings: readonly string[];
}

export interface CompareOptions {
  /** Ids of a to ids of b, or to null: a person's corrections. */
  readonly match?: Readonly<Record<string, string | null>>;
  readonly facts?: { readonly a?: DeviceFacts; readonly b?: DeviceFacts };
}

const OF_THE_DEVICE = [
  "mass",
  "thickness",
  "width",
  "height",
  "length",
  "diagonal",
  "area",
  "energy",
  "capacity",
] as const;
/** The changes named are those that make up this share of all change, at most so many. */
const MOST = 0.8;
const FEW = 6;

export function compareRecords(a: TeardownRecord, b: TeardownRecord, options: CompareOptions = {}): RecordComparison {
  const left = benchOf(a);
  const right = benchOf(b, "sibling:");
  const { pairs, onlyA, onlyB } = matchParts(a, b, options.match);
  const warnings: string[] = [];
  const device: { [quantity in QuantityName]?: Difference } = {};
  for (const quantity of OF_THE_DEVICE) {
    const found = differ(left, right, ["device"], ["device"], quantity, warnings);
    if (found !== undefined) device[quantity] = found;
  }
  const [cellA, cellB] = [batteryFigures(left), batteryFigures(right)];
  const cell = (key: "energyWh" | "whPerKg" | "whPerL") => numbers(cellA[key], cellB[key]);
  return {
    a: { id: a.id, name: a.device.name },
    b: { id: b.id, name: b.device.name },
    device,
    battery: { energyWh: cell("energyWh"), whPerKg: cell("whPerKg"), whPerL: cell("whPerL") },
    parts: pairs.map((pair) => comparePart(left, right, pair)),
    added: onlyA,
    dropped: onlyB,
    ...mergedAndSplit(a, b, pairs, onlyA, onlyB),
    mass: explain("mass", "g", left, right, massClosure(left), massClosure(right), pairs),
    thickness: explainThickness(left, right, pairs, warnings),
    fasteners: countChanges(a, b, fastener),
    joints: countChanges(a, b, (joint) => joint.kind),
    ways: waysBeside(options.facts),
    index: {
      a: options.facts?.a?.index ?? null,
      b: options.facts?.b?.index ?? null,
      classA: options.facts?.a?.class ?? null,
      classB: options.facts?.b?.class ?? null,
    },
    warnings,
  };
}

function numbers(a: number | null | undefined, b: number | null | undefined) {
  const [x, y] = [a ?? null, b ?? null];
  return { a: x, b: y, difference: x === null || y === null ? null : Number((x - y).toPrecision(12)) };
}

function difference(a: Estimate, b: Estimate): Difference {
  const d = subtract(a, b);
  const u = standardUncertainty(d);
  const dof = degreesOfFreedom(d);
  const U = u === 0 ? 0 : coverageFactor(0.95, dof) * u;
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

function differ(
  left: Bench,
  right: Bench,
  a: readonly string[],
  b: readonly string[],
  quantity: QuantityName,
  warnings?: string[],
): Difference | undefined {
  const own = sideOf(left, a, quantity);
  const other = sideOf(right, b, quantity);
  if ("missing" in own || "missing" in other) return undefined;
  const said = (side: typeof own) =>
    [...side.on.map((id) => `on ${id}`), ...side.off.map((id) => `off ${id}`)].sort().join(", ");
  if (warnings !== undefined && said(own) !== said(other)) {
    warnings.push(
      `${quantity}: not measured alike (${own.name}: ${said(own) || "nothing said"}; ${other.name}: ${said(other) || "nothing said"})`,
    );
  }
  return difference(own.figure, other.figure);
}

function comparePart(left: Bench, right: Bench, pair: PartMatch): ComparedPart {
  const partA = left.record.parts.find((part) => part.id === pair.a)!;
  const partB = right.record.parts.find((part) => part.id === pair.b)!;
  const mass = differ(left, right, [pair.a], [pair.b], "mass");
  const thickness = differ(left, right, [pair.a], [pair.b], "thickness");
  const [areaA, areaB] = [safeArea(partA), safeArea(partB)];
  // Both outlines were traced by themselves: nothing is shared, whatever the ids say.
  const area =
    areaA && areaB
      ? difference(areaA, estimate(areaB.value, "mm2", [["other", [...areaB.terms.values()][0]!]]))
      : undefined;
  return {
    ...pair,
    name: partA.name,
    ...(mass === undefined ? {} : { mass }),
    ...(thickness === undefined ? {} : { thickness }),
    ...(area === undefined ? {} : { area }),
  };
}

/** Undefined for an outline that is faulty: the figures of that record say so. */
function safeArea(part: TeardownRecord["parts"][number]): Estimate | undefined {
  try {
    return areaOf(part);
  } catch (error) {
    if (error instanceof InputError) return undefined;
    throw error;
  }
}

/** Work taken over: by a stated role that comes only with a part, or by functions that go through it. */
function mergedAndSplit(
  a: TeardownRecord,
  b: TeardownRecord,
  pairs: readonly PartMatch[],
  onlyA: readonly string[],
  onlyB: readonly string[],
): Pick<RecordComparison, "merged" | "split"> {
  const takesOver = (heir: TeardownRecord["parts"][number], lost: TeardownRecord["parts"][number]) =>
    (lost.role !== undefined && heir.serves?.includes(lost.role) === true) ||
    (lost.gives !== undefined &&
      lost.gives.length > 0 &&
      lost.gives.every((what) => heir.gives?.includes(what) === true));
  const find = (gone: TeardownRecord, goneIds: readonly string[], heirs: TeardownRecord) => {
    const groups = new Map<string, string[]>();
    for (const id of goneIds) {
      const lost = gone.parts.find((part) => part.id === id)!;
      const heir = heirs.parts.find((part) => takesOver(part, lost));
      if (heir !== undefined) groups.set(heir.id, [...(groups.get(heir.id) ?? []), id]);
    }
    return groups;
  };
  const merged = [...find(b, onlyB, a)].map(([id, from]) => {
    const own = pairs.find((pair) => pair.a === id)?.b;
    return { a: id, from: [...(own === undefined ? [] : [own]), ...from] };
  });
  const split = [...find(a, onlyA, b)].map(([id, into]) => {
    const own = pairs.find((pair) => pair.b === id)?.a;
    return { b: id, into: [...(own === undefined ? [] : [own]), ...into] };
  });
  return { merged: merged.filter(({ from }) => from.length > 1), split: split.filter(({ into }) => into.length > 1) };
}

/** Groups of parts that both sums can tell apart, and their differences; what is left of the total is unaccounted for. */
function explain(
  name: string,
  unit: "g" | "mm",
  left: Bench,
  right: Bench,
  a: Pick<Closed<never>, "sums" | "whole">,
  b: Pick<Closed<never>, "sums" | "whole">,
  pairs: readonly PartMatch[],
  gaps: readonly Change[] = [],
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

  const figures = [...groups.values()].map((one) => {
    const parts = { a: one.a.flatMap(({ of }) => of), b: one.b.flatMap(({ of }) => of) };
    const figure = combine(
      [...one.a.map(({ figure: f }) => [f, 1] as const), ...one.b.map(({ figure: f }) => [f, -1] as const)],
      unit,
    );
    const kind = one.a.length === 0 ? "dropped" : one.b.length === 0 ? "added" : "changed";
    const what = one.a.length > 0 ? shortName(left, parts.a) : shortName(right, parts.b);
    return { figure, change: changeOf(what, parts.a, parts.b, kind, figure) };
  });
  const changes: Change[] = [...figures.map(({ change }) => change), ...gaps];
  const total = a.whole === undefined || b.whole === undefined ? null : difference(a.whole, b.whole);
  if (a.whole !== undefined && b.whole !== undefined) {
    const left1 = combine([[a.whole, 1], [b.whole, -1], ...figures.map(({ figure }) => [figure, -1] as const)], unit);
    const gap = gaps.reduce((sum, one) => sum + one.difference, 0);
    changes.push({
      what: "unaccounted for",
      a: [],
      b: [],
      kind: "unaccounted",
      difference: clean(left1.value - gap),
      u: Math.hypot(standardUncertainty(left1), ...gaps.map((one) => one.u)),
    });
  }
  return { name, unit, total, ...few(changes), all: changes };
}

function changeOf(
  what: string,
  a: readonly string[],
  b: readonly string[],
  kind: Change["kind"],
  figure: Estimate,
): Change {
  return { what, a, b, kind, difference: clean(figure.value), u: standardUncertainty(figure) };
}

const clean = (value: number) => (Math.abs(value) < 1e-9 ? 0 : Number(value.toPrecision(12)));

function shortName(bench: Bench, ids: readonly string[]): string {
  const names = ids.map((id) => nameOf(bench.record, [id]).replace(/^the /, ""));
  return names.length <= 2 ? names.join(" and ") : `${names[0]} with ${names.length - 1} others`;
}

function few(changes: readonly Change[]): Pick<Explained, "changes" | "rest"> {
  const ranked = [...changes].sort((x, y) => Math.abs(y.difference) - Math.abs(x.difference));
  const whole = ranked.reduce((sum, one) => sum + Math.abs(one.difference), 0);
  let seen = 0;
  const named = ranked.filter((one, i) => {
    const take = i < FEW && seen < MOST * whole;
    seen += Math.abs(one.difference);
    return take && one.difference !== 0;
  });
  const others = ranked.filter((one) => !named.includes(one));
  return {
    changes: named,
    rest: {
      count: others.length,
      difference: clean(others.reduce((sum, one) => sum + one.difference, 0)),
      u: Math.hypot(...others.map((one) => one.u)),
    },
  };
}

/** Stack-ups of the same name, or the only one of each device. */
function explainThickness(left: Bench, right: Bench, pairs: readonly PartMatch[], warnings: string[]): Explained[] {
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

function gapChanges(a: TeardownRecord, b: TeardownRecord, nameA: string, nameB: string): Change[] {
  const gapsOf = (record: TeardownRecord, name: string) =>
    record.device.stackups?.find((one) => one.name === name)?.gaps ?? [];
  const own = gapsOf(a, nameA);
  const other = gapsOf(b, nameB);
  const names = [...new Set([...own, ...other].map((gap) => gap.name))];
  return names.map((name) => {
    const x = own.find((gap) => gap.name === name);
    const y = other.find((gap) => gap.name === name);
    return {
      what: `gap: ${name}`,
      a: [],
      b: [],
      kind: "gap",
      difference: clean((x?.value ?? 0) - (y?.value ?? 0)),
      u: Math.hypot(x?.tolerance ?? 0, y?.tolerance ?? 0) / Math.sqrt(3),
    };
  });
}

/** Screws by drive and thread; other joints do not count as fasteners. */
function fastener(joint: Joint): string | undefined {
  if (joint.kind !== "screw") return undefined;
  const { drive, thread } = joint.screws ?? {};
  return ["screw", drive, thread].filter((word) => word !== undefined).join(", ");
}

function countChanges(a: TeardownRecord, b: TeardownRecord, key: (joint: Joint) => string | undefined): CountChange[] {
  const count = (record: TeardownRecord) => {
    const counts = new Map<string, number>();
    for (const joint of record.joints) {
      const what = key(joint);
      if (what !== undefined) counts.set(what, (counts.get(what) ?? 0) + (joint.count ?? 1));
    }
    return counts;
  };
  const [own, other] = [count(a), count(b)];
  return [...new Set([...own.keys(), ...other.keys()])].sort().map((what) => {
    const [x, y] = [own.get(what) ?? 0, other.get(what) ?? 0];
    return { what, a: x, b: y, difference: x - y };
  });
}

function waysBeside(facts: CompareOptions["facts"]): RecordComparison["ways"] {
  const [a, b] = [facts?.a?.ways ?? {}, facts?.b?.ways ?? {}];
  const roles = [...new Set([...Object.keys(a), ...Object.keys(b)])] as PriorityRole[];
  return roles.map((role) => ({
    role,
    seconds: numbers(a[role]?.seconds, b[role]?.seconds),
    steps: numbers(a[role]?.steps, b[role]?.steps),
  }));
}
