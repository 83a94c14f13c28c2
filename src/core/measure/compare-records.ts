/**
 * Two devices beside each other: what changed, by how much, and whether it can be told. Differences are a - b.
 *
 * Parts are matched by role and name (a person can correct it). Mass and thickness are explained by the few groups of
 * parts that changed most; a group is what both benches can tell apart: parts weighed together on either side stay together.
 */
import { InputError } from "../errors.ts";
import type { Joint, PriorityRole, QuantityName, TeardownRecord } from "../record/schema.ts";
import { areaOf, batteryFigures } from "./battery.ts";
import { sideOf } from "./claim-sides.ts";
import type { Estimate } from "./estimate.ts";
import { estimate } from "./estimate.ts";
import type { Difference, Explained } from "./explain-change.ts";
import { differenceOf, explain, explainThickness } from "./explain-change.ts";
import { massClosure } from "./mass-budget.ts";
import type { PartMatch } from "./match-parts.ts";
import { matchParts } from "./match-parts.ts";
import type { Bench } from "./readings.ts";
import { benchOf } from "./readings.ts";

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

export interface ComparedPart extends PartMatch {
  readonly name: string;
  readonly mass?: Difference;
  readonly thickness?: Difference;
  readonly area?: Difference;
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
  return differenceOf(own.figure, other.figure);
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
      ? differenceOf(areaA, estimate(areaB.value, "mm2", [["other", [...areaB.terms.values()][0]!]]))
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

/** Least seconds and steps to each priority part that either device has, side by side. */
export function waysBeside(facts: CompareOptions["facts"]): RecordComparison["ways"] {
  const [a, b] = [facts?.a?.ways ?? {}, facts?.b?.ways ?? {}];
  const roles = [...new Set([...Object.keys(a), ...Object.keys(b)])] as PriorityRole[];
  return roles.map((role) => ({
    role,
    seconds: numbers(a[role]?.seconds, b[role]?.seconds),
    steps: numbers(a[role]?.steps, b[role]?.steps),
  }));
}
