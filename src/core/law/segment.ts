/**
 * Fastener and tool points of one priority part (2023/1669 Annex IV point 5): looked at is the work after the last lift or
 * shift of a part with another priority role, else all; the worst fastener and the worst tool met there count.
 */
import type { Joint, Part, PriorityRole, Release, TeardownRecord } from "../record/schema.ts";
import { PRIORITY_ROLES } from "../record/schema.ts";
import { Assemblies } from "../structure/index.ts";
import type { LawOperation } from "./operations.ts";
import type { FastenerWord, RuleSet, ToolWord } from "./rules/types.ts";

/** Points between what is known at worst and at best; null: the law has no points. */
export interface Span {
  readonly low: number | null;
  readonly high: number | null;
}

/** A fastener met in the segment, with the kinds that it may be by law. */
export interface MetFastener extends Span {
  readonly joint: Joint;
  /** The way that it was undone by; null where it lets go by itself, or where the way is not known. */
  readonly release: Release | null;
  /** The kind at worst and at best; equal where it is known. */
  readonly kinds: readonly [FastenerWord, FastenerWord];
  readonly because: string;
  /** What would have to be known: the physical fact, or whether the spare part brings the joint. */
  readonly unknown?: "leaves" | "brings";
}

/** A tool met in the segment. */
export interface MetTool extends Span {
  /** null: a source of heat that the record does not name. */
  readonly tool: string | null;
  readonly kind: ToolWord;
  readonly because: string;
}

export interface Segment {
  /** Index of the first operation of the segment. */
  readonly from: number;
  /** The priority part that came off or moved last before it; undefined: the segment is everything. */
  readonly after?: Part;
  readonly fasteners: readonly MetFastener[];
  readonly tools: readonly MetTool[];
  readonly fastener: Span;
  readonly tool: Span;
}

/** The priority roles that a part carries or serves. */
export function priorityRolesOf(part: Part): PriorityRole[] {
  const all = [...(part.role === undefined ? [] : [part.role]), ...(part.serves ?? [])];
  return PRIORITY_ROLES.filter((role) => all.includes(role));
}

export function segmentOf(
  rules: RuleSet,
  record: TeardownRecord,
  target: Part,
  role: PriorityRole,
  operations: readonly LawOperation[],
): Segment {
  let from = 0;
  let after: Part | undefined;
  operations.forEach((operation, index) => {
    if (operation.kind !== "lift" && operation.kind !== "shift") return;
    if (operation.part.id === target.id || !priorityRolesOf(operation.part).some((other) => other !== role)) return;
    from = index + 1;
    after = operation.part;
  });
  const fasteners = fastenersMet(rules, record, target, operations, from);
  const tools = toolsMet(rules, record, target, operations.slice(from));
  return {
    from,
    ...(after === undefined ? {} : { after }),
    fasteners,
    tools,
    fastener: worst(fasteners, rules.fastenerPoints.reusable),
    tool: worst(tools, rules.toolPoints.none),
  };
}

/** The least of each end; no points is below everything. */
export function worst(met: readonly Span[], none: number | null): Span {
  const least = (points: readonly (number | null)[]): number | null =>
    points.includes(null) ? null : points.length === 0 ? none : Math.min(...(points as number[]));
  return { low: least(met.map((one) => one.low)), high: least(met.map((one) => one.high)) };
}

function fastenersMet(
  rules: RuleSet,
  record: TeardownRecord,
  target: Part,
  operations: readonly LawOperation[],
  from: number,
): MetFastener[] {
  const met: MetFastener[] = [];
  const assemblies = new Assemblies(record);
  const apart = new Set<string>();
  const loose = record.joints.filter((joint) => joint.releases.length === 0);
  operations.forEach((operation, index) => {
    if (operation.kind === "release" && index >= from)
      met.push(fastenerKind(rules, record, operation.joint, operation.release, target));
    if (operation.kind !== "lift") return;
    for (const joint of loose) {
      if (apart.has(joint.id) || !assemblies.crosses(joint, operation.part.id)) continue;
      apart.add(joint.id);
      if (index >= from) met.push(looseKind(rules, joint, target));
    }
  });
  return met;
}

/** Fastener kind by law, from the physical fact of how the joint is left. */
export function fastenerKind(
  rules: RuleSet,
  record: TeardownRecord,
  joint: Joint,
  release: Release | null,
  target: Part,
): MetFastener {
  const destroyed = release?.destroys ?? [];
  if (destroyed.length > 0) {
    const names = destroyed.map((id) => record.parts.find((part) => part.id === id)?.name ?? id).join(", ");
    return known(rules, joint, release, "destroyed", `undoing ${joint.id} destroys ${names}`);
  }
  switch (release?.leaves ?? "unknown") {
    case "whole":
      return known(rules, joint, release, "reusable", `${joint.id} can be used again`);
    case "broken":
      return known(rules, joint, release, "destroyed", `undoing ${joint.id} damages something`);
    case "spent":
      return spentKind(rules, joint, release, target);
    case "unknown":
      return {
        ...span(rules, "removable", "reusable"),
        joint,
        release,
        kinds: ["removable", "reusable"],
        because: `whether ${joint.id} can be used again is not known`,
        unknown: "leaves",
      };
  }
}

/** A joint that lets go by itself leaves nothing behind, unless it is said to need a new fastener. */
export function looseKind(rules: RuleSet, joint: Joint, target: Part): MetFastener {
  if (joint.remake?.newFastener) return spentKind(rules, joint, null, target);
  return known(rules, joint, null, "reusable", `${joint.id} lets go by itself`);
}

function spentKind(rules: RuleSet, joint: Joint, release: Release | null, target: Part): MetFastener {
  const brings = target.spare?.brings;
  if (brings === undefined) {
    return {
      ...span(rules, "removable", "resupplied"),
      joint,
      release,
      kinds: ["removable", "resupplied"],
      because: `${joint.id} is spent, and whether a new one comes with the spare part of ${target.name} is not stated`,
      unknown: "brings",
    };
  }
  return brings.includes(joint.id)
    ? known(
        rules,
        joint,
        release,
        "resupplied",
        `${joint.id} is spent; a new one comes with the spare part of ${target.name}`,
      )
    : known(
        rules,
        joint,
        release,
        "removable",
        `${joint.id} is spent, and no new one comes with the spare part of ${target.name}`,
      );
}

function known(
  rules: RuleSet,
  joint: Joint,
  release: Release | null,
  kind: FastenerWord,
  because: string,
): MetFastener {
  return { ...span(rules, kind, kind), joint, release, kinds: [kind, kind], because };
}

function span(rules: RuleSet, low: FastenerWord, high: FastenerWord): Span {
  return { low: rules.fastenerPoints[low], high: rules.fastenerPoints[high] };
}

function toolsMet(
  rules: RuleSet,
  record: TeardownRecord,
  target: Part,
  operations: readonly LawOperation[],
): MetTool[] {
  const used = new Set<string | null>();
  for (const operation of operations) {
    if (operation.kind === "heat") used.add(operation.source.by);
    if (operation.kind !== "release") continue;
    for (const tool of operation.tools) used.add(tool);
    const heat = operation.release?.heat;
    if (operation.passes !== undefined && heat) used.add(heat.by ?? null);
  }
  return [...used].map((tool) => toolKind(rules, record, target, tool));
}

/** Tool kind by law: what comes with the spare part of the target counts as such where that is better. */
export function toolKind(rules: RuleSet, record: TeardownRecord, target: Part, id: string | null): MetTool {
  if (id === null) {
    const points = rules.toolPoints["commercially-available"];
    const because = "a source of heat that the record does not name is taken as commercially available (assumption)";
    return { tool: null, kind: "commercially-available", low: points, high: points, because };
  }
  const tool = record.tools.find((one) => one.id === id);
  const own: ToolWord = tool?.kind ?? "commercially-available";
  const brought = target.spare?.brings?.includes(id) === true;
  const kind =
    brought && (rules.toolPoints[own] ?? 0) < (rules.toolPoints["with-spare-part"] ?? 0) ? "with-spare-part" : own;
  const points = rules.toolPoints[kind];
  const name = tool?.name ?? id;
  const because = kind === own ? `${name} is ${kind}` : `${name} (${own}) comes with the spare part of ${target.name}`;
  return { tool: id, kind, low: points, high: points, because };
}
