/** What stands in the way: a way in grouped by the part that each piece of work gets out of the way. */
import type { Joint, Part, TeardownRecord } from "../../core/record/index.ts";
import type { WayIn, WayOperation } from "../../core/route/ways/types.ts";
import { Assemblies } from "../../core/structure/assemblies.ts";

export interface Obstacle {
  readonly part: Part;
  readonly joints: readonly Joint[];
  readonly heat: boolean;
  /** With fetches and turns; all obstacles together make the way in. */
  readonly seconds: number;
  readonly steps: number;
  /** It rests on a relation that nobody has tried. */
  readonly guess: boolean;
  readonly target: boolean;
}

const doubted = (one: Part | Joint): boolean => one.basis === "inferred" || one.basis === "sibling";

export function obstaclesOf(record: TeardownRecord, way: WayIn): readonly Obstacle[] {
  const assemblies = new Assemblies(record);
  const parts = new Map(record.parts.map((part) => [part.id, part]));
  const joints = new Map(record.joints.map((joint) => [joint.id, joint]));
  const moved = way.operations.flatMap((one) => (one.kind === "lift" || one.kind === "shift" ? [one.part!] : []));
  /** The first part to move afterwards that the operation frees; else the first that moves, else the target. */
  const ownerOf = (operation: WayOperation, index: number): string => {
    const later = way.operations
      .slice(index)
      .flatMap((one) => (one.kind === "lift" || one.kind === "shift" ? [one.part!] : []));
    if (operation.part !== undefined) return operation.part;
    const joint =
      operation.kind === "heat"
        ? way.operations
            .slice(index + 1)
            .map((one) => (one.joint === undefined ? undefined : joints.get(one.joint)))
            .find((one) => one?.releases.some((release) => release.heat?.zone === operation.zone))
        : joints.get(operation.joint!);
    const freed = later.find((part) => joint !== undefined && assemblies.crosses(joint, part));
    return freed ?? later[0] ?? way.targets[0]!;
  };
  const groups = new Map<string, { joints: Joint[]; heat: boolean; seconds: number; steps: number }>();
  let end = 0;
  way.operations.forEach((operation, index) => {
    const owner = ownerOf(operation, index);
    const group = groups.get(owner) ?? { joints: [], heat: false, seconds: 0, steps: 0 };
    const until = operation.at + operation.seconds;
    group.seconds += until - end;
    end = until;
    group.steps += operation.steps;
    group.heat ||= operation.kind === "heat" || operation.passes !== undefined;
    if (operation.joint !== undefined) group.joints.push(joints.get(operation.joint)!);
    groups.set(owner, group);
  });
  return moved
    .filter((part, i) => moved.indexOf(part) === i && groups.has(part))
    .map((id) => {
      const part = parts.get(id)!;
      const group = groups.get(id)!;
      const seconds = Math.round(group.seconds * 1000) / 1000;
      return {
        part,
        ...group,
        seconds,
        guess: [part, ...group.joints].some(doubted),
        target: way.targets.includes(id),
      };
    });
}
