/**
 * What has to be proved after a job: the functions that go through every part that came off and every connection that was
 * opened, and no other. A part that comes off inside an assembly has come off; a spring contact that lets go by itself when a
 * part is lifted has been opened.
 */
import type { TeardownRecord } from "../../record/index.ts";
import type { WayIn } from "../../route/ways/index.ts";
import { Assemblies, isElectrical } from "../../structure/index.ts";

export interface Disturbed {
  /** Parts lifted, those inside them too, in the order of the record. */
  readonly parts: readonly string[];
  /** Electrical joints opened, by hand or by themselves. */
  readonly connections: readonly string[];
  /** Functions, each once, in the order of the record. */
  readonly functions: readonly string[];
}

export function disturbedBy(record: TeardownRecord, way: Pick<WayIn, "operations">): Disturbed {
  const assemblies = new Assemblies(record);
  const off = new Set<string>();
  const released = new Set<string>();
  const lifts: string[] = [];
  for (const { kind, part, joint } of way.operations) {
    if (kind === "lift" && part !== undefined) {
      lifts.push(part);
      for (const one of assemblies.of(part)) off.add(one);
    }
    if (kind === "release" && joint !== undefined) released.add(joint);
  }
  const opened = record.joints.filter(
    (joint) =>
      isElectrical(joint) &&
      (released.has(joint.id) ||
        (joint.releases.length === 0 && lifts.some((part) => assemblies.crosses(joint, part)))),
  );
  const through = new Set([...off, ...opened.flatMap((joint) => joint.holds)]);
  return {
    parts: record.parts.filter((part) => off.has(part.id)).map((part) => part.id),
    connections: opened.map((joint) => joint.id),
    functions: [...new Set(record.parts.flatMap((part) => (through.has(part.id) ? (part.gives ?? []) : [])))],
  };
}

/** Functions that can be tried once these operations of the way back are done: all that they go through is back and closed. */
export function provableAt(
  record: TeardownRecord,
  disturbed: Disturbed,
  back: { readonly refitted: ReadonlySet<string>; readonly closed: ReadonlySet<string> },
): string[] {
  const assemblies = new Assemblies(record);
  const lying = new Set(
    disturbed.parts.filter((part) => !assemblies.containing(part).some((one) => back.refitted.has(one))),
  );
  const open = new Set(
    disturbed.connections.filter((id) => {
      const joint = record.joints.find((one) => one.id === id);
      if (joint && joint.releases.length === 0) return joint.holds.some((part) => lying.has(part));
      return !back.closed.has(id);
    }),
  );
  const broken = new Set([
    ...lying,
    ...record.joints.filter((joint) => open.has(joint.id)).flatMap((joint) => joint.holds),
  ]);
  const lost = new Set(record.parts.flatMap((part) => (broken.has(part.id) ? (part.gives ?? []) : [])));
  return disturbed.functions.filter((name) => !lost.has(name));
}
