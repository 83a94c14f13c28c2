/**
 * The design changes that are weighed, each exactly one: what it is, which of them a record allows, and the record with it.
 */
import type { Joint, Money, Part, PriorityRole, Release, TeardownRecord } from "../../record/schema.ts";
import { Assemblies, keepWarmth } from "../../structure/index.ts";
import { updateFact } from "../market.ts";
import { instancesOf } from "../role.ts";
import type { RuleSet } from "../rules/types.ts";
import { rolesOf } from "../score.ts";
import { priorityRolesOf } from "../segment.ts";
import { askedRoles } from "../spare-parts.ts";

export type Change = {
  /** What one unit of it costs, where prices are given. */
  readonly cost?: Money;
} & (
  | { /** The joint's fasteners can be used again. */ readonly change: "whole"; readonly joint: string }
  | { /** A new one comes with the spare part, whichever it is. */ readonly change: "brings"; readonly joint: string }
  | {
      /** The work can be done with a basic tool instead, everywhere. */ readonly change: "basic";
      readonly tool: string;
    }
  | {
      /** The tool comes with the spare part of one role. */
      readonly change: "with-spare-part";
      readonly tool: string;
      readonly role: PriorityRole;
    }
  | {
      /** The part no longer stands in the way of the joint. */ readonly change: "leaves-reach";
      readonly part: string;
      readonly joint: string;
    }
  | {
      /** The part no longer lies over another. */ readonly change: "leaves-under";
      readonly part: string;
      readonly of: string;
    }
  | {
      /** The release, from 0, takes no heat. */ readonly change: "no-heat";
      readonly joint: string;
      readonly release: number;
    }
  | { readonly change: "no-notification" | "no-authorisation"; readonly part: string }
  | { readonly change: "offer"; readonly part: string; readonly to: "end-users" | "professionals" }
  | { /** One year more of updates, or repair information one level up. */ readonly change: "updates" | "information" }
);

/** The same text for the same change; keys sort changes into one fixed order. */
export function changeKey(change: Change): string {
  const { change: kind, cost: _cost, ...rest } = change;
  return [kind, ...Object.entries(rest).map(([key, value]) => `${key}=${value}`)].join(" ");
}

/** A change that alters what is possible on the bench, so that ways in must be found anew. */
export function isStructural(record: TeardownRecord, change: Change): boolean {
  if (change.change === "whole")
    return record.joints.some(
      (joint) => joint.id === change.joint && joint.releases.some((one) => one.leaves === "broken"),
    );
  return change.change === "leaves-reach" || change.change === "leaves-under" || change.change === "no-heat";
}

/** Every change that the record allows, in the record's order. `updates` and `information` may be made more than once. */
export function changesOf(rules: RuleSet, record: TeardownRecord): Change[] {
  return [
    ...record.joints.flatMap(jointChanges),
    ...record.joints.flatMap((joint) =>
      spread(joint.reach, (part) => ({ change: "leaves-reach", part, joint: joint.id })),
    ),
    ...underChanges(record),
    ...toolChanges(record),
    ...record.parts.flatMap((part) => pairingChanges(part)),
    ...offerChanges(record),
    ...(Math.floor(yearsOf(rules, record)) < (rules.updatePoints[0]?.years ?? 7)
      ? [{ change: "updates" } as const]
      : []),
    ...(record.market?.repairInformation === "free-for-all" ? [] : [{ change: "information" } as const]),
  ];
}

function jointChanges(joint: Joint): Change[] {
  const spent = joint.releases.some((release) => release.leaves === "spent");
  const loose = joint.releases.length === 0 && joint.remake?.newFastener === true;
  const whole = loose || joint.releases.some((release) => release.leaves !== "whole");
  return [
    ...(whole ? [{ change: "whole", joint: joint.id } as const] : []),
    ...(spent || loose ? [{ change: "brings", joint: joint.id } as const] : []),
    ...joint.releases.flatMap((release, index) =>
      release.heat ? [{ change: "no-heat", joint: joint.id, release: index } as const] : [],
    ),
  ];
}

/** One change for each part that stands in some group; an empty group stands in nobody's way. */
function spread(groups: readonly (readonly string[])[] | undefined, make: (part: string) => Change): Change[] {
  if (groups === undefined || groups.some((group) => group.length === 0)) return [];
  return [...new Set(groups.flat())].map(make);
}

function underChanges(record: TeardownRecord): Change[] {
  const assemblies = new Assemblies(record);
  return record.parts.flatMap((part) => {
    const over = part.under?.map((group) => group.filter((other) => !assemblies.of(part.id).has(other)));
    return spread(over, (other) => ({ change: "leaves-under", part: other, of: part.id }));
  });
}

function toolChanges(record: TeardownRecord): Change[] {
  const roles = rolesOf(record.device.foldable).filter((role) => instancesOf(record, role).length > 0);
  return record.tools.flatMap((tool): Change[] => {
    if (tool.kind === "basic") return [];
    const supplied = roles.filter(
      (role) =>
        tool.kind !== "with-spare-part" &&
        instancesOf(record, role).some((part) => part.spare?.brings?.includes(tool.id) !== true),
    );
    return [
      { change: "basic", tool: tool.id },
      ...supplied.map((role): Change => ({ change: "with-spare-part", tool: tool.id, role })),
    ];
  });
}

function pairingChanges(part: Part): Change[] {
  if (priorityRolesOf(part).length === 0) return [];
  return [
    ...(part.pairing?.notification ? [{ change: "no-notification", part: part.id } as const] : []),
    ...(part.pairing?.authorisation ? [{ change: "no-authorisation", part: part.id } as const] : []),
  ];
}

function offerChanges(record: TeardownRecord): Change[] {
  const asked = askedRoles(record);
  return record.parts.flatMap((part): Change[] => {
    if (!priorityRolesOf(part).some((role) => asked.includes(role)) || part.spare?.to === "end-users") return [];
    return [
      { change: "offer", part: part.id, to: "end-users" },
      ...(part.spare?.to === "nobody" ? [{ change: "offer", part: part.id, to: "professionals" } as const] : []),
    ];
  });
}

/** The years that count now; at worst the fewest that have points where they are not known. */
export function yearsOf(rules: RuleSet, record: TeardownRecord): number {
  const fact = updateFact(rules, record);
  return fact.years ?? Math.min(...rules.updatePoints.map((row) => row.years));
}

const LEVELS = ["none", "fee", "free-for-professionals", "free-for-all"] as const;

/** The record with one change made. */
export function applyChange(rules: RuleSet, record: TeardownRecord, change: Change): TeardownRecord {
  const made = changed(rules, record, change);
  // Only a heating that goes alters how a zone is heated: for the longest cut that is left.
  const heat =
    change.change === "no-heat"
      ? record.joints.find(({ id }) => id === change.joint)?.releases[change.release]?.heat
      : undefined;
  keepWarmth(record, made, heat === undefined ? undefined : { zone: heat.zone, by: changeKey(change) });
  return made;
}

function changed(rules: RuleSet, record: TeardownRecord, change: Change): TeardownRecord {
  switch (change.change) {
    case "whole":
      return withJoint(record, change.joint, (joint) => {
        const { newFastener: _gone, ...remake } = joint.remake ?? {};
        const releases = joint.releases.map((release) => ({ ...release, leaves: "whole" as const }));
        return { ...joint, releases, ...(joint.remake === undefined ? {} : { remake }) };
      });
    case "brings":
      return withParts(record, (part) => (priorityRolesOf(part).length > 0 ? bringing(part, change.joint) : part));
    case "basic":
      return {
        ...record,
        tools: record.tools.map((tool) => (tool.id === change.tool ? { ...tool, kind: "basic" as const } : tool)),
      };
    case "with-spare-part":
      return withParts(record, (part) =>
        priorityRolesOf(part).includes(change.role) ? bringing(part, change.tool) : part,
      );
    case "leaves-reach":
      return withJoint(record, change.joint, (joint) => ({ ...joint, reach: without(joint.reach, change.part) }));
    case "leaves-under":
      return withParts(record, (part) =>
        part.id === change.of ? { ...part, under: without(part.under, change.part) } : part,
      );
    case "no-heat":
      return withoutHeat(record, change.joint, change.release);
    case "no-notification":
    case "no-authorisation": {
      const key = change.change === "no-notification" ? "notification" : "authorisation";
      return withParts(record, (part) =>
        part.id === change.part ? { ...part, pairing: { ...part.pairing, [key]: false } } : part,
      );
    }
    case "offer":
      return withParts(record, (part) =>
        part.id === change.part ? { ...part, spare: { ...part.spare, to: change.to } } : part,
      );
    case "updates":
      return { ...record, market: { ...record.market, updateYears: Math.floor(yearsOf(rules, record)) + 1 } };
    case "information": {
      const level = LEVELS.indexOf(record.market?.repairInformation ?? "fee");
      return { ...record, market: { ...record.market, repairInformation: LEVELS[Math.min(level + 1, 3)] } };
    }
  }
}

function withParts(record: TeardownRecord, make: (part: Part) => Part): TeardownRecord {
  return { ...record, parts: record.parts.map(make) };
}

function withJoint(record: TeardownRecord, id: string, make: (joint: Joint) => Joint): TeardownRecord {
  return { ...record, joints: record.joints.map((joint) => (joint.id === id ? make(joint) : joint)) };
}

function bringing(part: Part, id: string): Part {
  const brings = part.spare?.brings ?? [];
  return brings.includes(id) ? part : { ...part, spare: { ...part.spare, brings: [...brings, id] } };
}

function without(groups: string[][] | undefined, part: string): string[][] | undefined {
  return groups?.map((group) => group.filter((other) => other !== part));
}

/** A description no longer heats what nothing heats any more. */
function withoutHeat(record: TeardownRecord, id: string, way: number): TeardownRecord {
  const zone = record.joints.find((joint) => joint.id === id)?.releases[way]?.heat?.zone;
  const cold = withJoint(record, id, (joint) => ({
    ...joint,
    releases: joint.releases.map((release, index): Release => {
      if (index !== way) return release;
      const { heat: _heat, ...rest } = release;
      return rest;
    }),
  }));
  const heated = cold.joints.some((joint) => joint.releases.some((release) => release.heat?.zone === zone));
  if (heated || zone === undefined || record.described === undefined) return cold;
  const described = record.described.map((one) => ({
    ...one,
    parts: one.parts.map((procedure) => ({
      ...procedure,
      steps: procedure.steps.flatMap((step) => {
        const operations = step.operations.filter((text) => text !== `heat ${zone}`);
        return operations.length === 0 ? [] : [{ ...step, operations }];
      }),
    })),
  }));
  return { ...cold, described };
}
