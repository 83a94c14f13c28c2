/**
 * A sequence of operations as the law looks at it: in the words of the record, with what each joint was undone by.
 *
 * The same shape serves a planned way in, a described procedure and the log, so that one count and one segment rule serve
 * all three.
 */
import type { Joint, Part, Release, Side, TeardownRecord } from "../record/schema.ts";
import type { WayOperation } from "../route/ways/types.ts";
import { OPPOSITE } from "../structure/index.ts";

export type LawOperation =
  | {
      readonly kind: "release";
      readonly joint: Joint;
      /** null where the log names a way that the record does not have. */
      readonly release: Release | null;
      readonly tools: readonly string[];
      readonly side?: Side;
      /** Rounds of heating and work; the first heating may stand as an operation of its own before it. */
      readonly passes?: number;
      readonly firstHeatingBefore?: true;
      readonly from?: string;
    }
  | { readonly kind: "lift" | "shift"; readonly part: Part; readonly side?: Side; readonly from?: string }
  | {
      readonly kind: "heat";
      readonly zone: string | null;
      readonly source: HeatSource;
      readonly from?: string;
    };

export interface HeatSource {
  /** Tool id; null where the record does not say. */
  readonly by: string | null;
  /** Held like any other tool; otherwise the device lies on it. */
  readonly held: boolean;
  /** Side that must be up while it lies on the source. */
  readonly side?: Side;
}

/** The heat of a zone as its releases state it (they agree in a valid record). */
export function heatOf(record: TeardownRecord, zone: string | null): Release["heat"] {
  for (const joint of record.joints)
    for (const { heat } of joint.releases) if (heat !== undefined && heat.zone === zone) return heat;
  return undefined;
}

/** Where the heat of a zone comes from. */
export function sourceOf(record: TeardownRecord, zone: string): HeatSource {
  const heat = heatOf(record, zone);
  return heat === undefined ? { by: null, held: false } : sourceOfHeat(heat);
}

/** What is in hand for an operation: none leaves the hand alone. */
export function toolsOf(operation: LawOperation): readonly string[] {
  if (operation.kind === "release") return operation.tools;
  return operation.kind === "heat" && operation.source.held && operation.source.by !== null
    ? [operation.source.by]
    : [];
}

export function sourceOfHeat(heat: NonNullable<Release["heat"]>): HeatSource {
  return {
    by: heat.by ?? null,
    held: heat.down === undefined && heat.by !== undefined,
    ...(heat.down === undefined ? {} : { side: OPPOSITE[heat.down] }),
  };
}

/** The operations of a planned way in. */
export function lawOperations(record: TeardownRecord, operations: readonly WayOperation[]): LawOperation[] {
  const joints = new Map(record.joints.map((joint) => [joint.id, joint]));
  const parts = new Map(record.parts.map((part) => [part.id, part]));
  return operations.map((operation): LawOperation => {
    if (operation.kind === "heat") {
      const zone = operation.zone ?? "";
      return { kind: "heat", zone, source: sourceOf(record, zone) };
    }
    if (operation.kind === "release") {
      const joint = must(joints.get(operation.joint ?? ""), operation.joint);
      return releaseOperation(joint, operation.release ?? 0, operation.passes);
    }
    return moveOperation(operation.kind, must(parts.get(operation.part ?? ""), operation.part));
  });
}

export function releaseOperation(joint: Joint, way: number, passes?: number): LawOperation & { kind: "release" } {
  const release = joint.releases[way];
  return {
    kind: "release",
    joint,
    release,
    tools: release.tools,
    ...(joint.side === undefined ? {} : { side: joint.side }),
    ...(passes === undefined ? {} : { passes }),
  };
}

export function moveOperation(kind: "lift" | "shift", part: Part): LawOperation {
  return { kind, part, ...(part.side === undefined ? {} : { side: part.side }) };
}

function must<T>(value: T | undefined, id: string | undefined): T {
  if (value === undefined) throw new Error(`a way in names ${id}, which the record does not have`);
  return value;
}

/** "release j12", as a described procedure would write it. */
export function operationText(operation: LawOperation): string {
  if (operation.kind === "heat") return `heat ${operation.zone ?? "(zone not recorded)"}`;
  if (operation.kind === "release") return `release ${operation.joint.id}`;
  return `${operation.kind} ${operation.part.id}`;
}
