/**
 * The screws of a way in, numbered by the order of work and lettered by stage. A stage ends when a part comes off or is moved
 * aside, because then something else lies bare.
 */
import type { Joint, Side, TeardownRecord } from "../core/record/index.ts";
import type { WayIn, WayOperation } from "../core/route/ways/types.ts";

export interface NumberedScrew {
  readonly number: number;
  readonly stage: string;
  /** "4B": number and letter. */
  readonly label: string;
  readonly joint: string;
  readonly index: number;
  readonly at?: readonly [number, number];
  readonly length?: number;
  readonly lengthIs?: "under-head" | "overall";
  readonly head?: number;
  readonly drive: string;
  readonly thread?: string;
  readonly mark?: string;
  readonly side: Side;
  readonly holds: readonly string[];
}

export interface Stage {
  readonly letter: string;
  readonly operations: readonly WayOperation[];
  /** Parts away and joints undone when the stage begins. */
  readonly away: ReadonlySet<string>;
  readonly released: ReadonlySet<string>;
  /** The side that is up when it begins. */
  readonly up: Side;
}

/** A, B, … Z, AA, AB, … */
export function letterOf(index: number): string {
  const last = String.fromCharCode(65 + (index % 26));
  return index < 26 ? last : letterOf(Math.floor(index / 26) - 1) + last;
}

export function stagesOf(record: TeardownRecord, way: Pick<WayIn, "operations">): Stage[] {
  const inside = (part: string): string[] => [
    part,
    ...record.parts.filter(({ within }) => within === part).flatMap(({ id }) => inside(id)),
  ];
  const stages: Stage[] = [];
  let away = new Set<string>();
  let released = new Set<string>();
  let up: Side = "back";
  let began: Side = "back";
  let current: WayOperation[] = [];
  let start = { away, released };
  const end = (): void => {
    if (current.length === 0) return;
    stages.push({ letter: letterOf(stages.length), operations: current, ...start, up: began });
    current = [];
  };
  for (const [index, operation] of way.operations.entries()) {
    if (current.length === 0) {
      start = { away: new Set(away), released: new Set(released) };
      began = operation.side ?? up;
    }
    if (operation.side !== undefined) up = operation.side;
    current.push(operation);
    if (operation.joint !== undefined) released = new Set([...released, operation.joint]);
    const moves = operation.kind === "lift" || operation.kind === "shift";
    if (moves && operation.part !== undefined)
      away = new Set([...away, ...(operation.kind === "lift" ? inside(operation.part) : [operation.part])]);
    // Several parts off one after the other are one stage: nothing is done between them.
    const next = way.operations[index + 1];
    if (moves && next?.kind !== "lift" && next?.kind !== "shift") end();
  }
  end();
  return stages;
}

export function numberScrews(record: TeardownRecord, way: Pick<WayIn, "operations">): NumberedScrew[] {
  const joints = new Map(record.joints.map((joint): [string, Joint] => [joint.id, joint]));
  const out: NumberedScrew[] = [];
  for (const stage of stagesOf(record, way))
    for (const { joint: id } of stage.operations) {
      const joint = id === undefined ? undefined : joints.get(id);
      if (joint?.kind !== "screw") continue;
      for (let index = 0; index < Math.max(joint.count ?? 1, joint.screws?.each?.length ?? 0); index += 1)
        out.push(numbered(joint, index, out.length + 1, stage.letter));
    }
  return out;
}

function numbered(joint: Joint, index: number, number: number, stage: string): NumberedScrew {
  const { screws } = joint;
  const one = screws?.each?.[index];
  const length = one?.length ?? screws?.length;
  return {
    number,
    stage,
    label: `${number}${stage}`,
    joint: joint.id,
    index,
    ...(one?.at === undefined ? {} : { at: one.at }),
    ...(length === undefined ? {} : { length }),
    ...(screws?.lengthIs === undefined ? {} : { lengthIs: screws.lengthIs }),
    ...(screws?.head === undefined ? {} : { head: screws.head }),
    drive: screws?.drive ?? "",
    ...(screws?.thread === undefined ? {} : { thread: screws.thread }),
    ...(one?.mark === undefined ? {} : { mark: one.mark }),
    side: joint.side ?? "back",
    holds: joint.holds,
  };
}

/** Lengths of one drive that differ by so little that the eye takes one for the other. Own setting: 1 mm. */
export const CONFUSABLE = 1;

/** Pairs of lengths that are easy to confuse: the same drive, not the same length, at most 1 mm apart. */
export function confusable(
  screws: readonly NumberedScrew[],
): { drive: string; a: number; b: number; numbers: string[] }[] {
  const byDrive = new Map<string, Map<number, string[]>>();
  for (const { drive, length, label } of screws) {
    if (length === undefined) continue;
    const lengths = byDrive.get(drive) ?? new Map<number, string[]>();
    lengths.set(length, [...(lengths.get(length) ?? []), label]);
    byDrive.set(drive, lengths);
  }
  return [...byDrive].flatMap(([drive, lengths]) => {
    const sorted = [...lengths.keys()].sort((a, b) => a - b);
    return sorted.slice(1).flatMap((b, i) => {
      const a = sorted[i]!;
      return b - a <= CONFUSABLE + 1e-9 ? [{ drive, a, b, numbers: lengths.get(b)! }] : [];
    });
  });
}
