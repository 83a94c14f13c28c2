/**
 * What must be undone, and in which order, before a part comes away: the least deep tree of parts, one rung each.
 *
 * Depth of a part = 1 + the greatest depth of what must be away before it, over the best of its alternatives; found by
 * repeating the equations until nothing changes (at most once per part), then traced back from the target. Only
 * structure counts here: times, tools and the rule about the cell belong to the ways in.
 */
import type { Joint, TeardownRecord } from "../../core/record/index.ts";
import {
  allowed,
  holding,
  holds,
  reachOf,
  type Terms,
  underOf,
  type View,
  viewOf,
} from "../../core/structure/index.ts";

export interface Rung {
  readonly part: string;
  readonly name: string;
  readonly move: "lift" | "shift";
  /** 1 = can be done at once. */
  readonly depth: number;
  /** Joints to undo for it; those that let go by themselves are not among them. */
  readonly joints: readonly Joint[];
  /** Rungs (part ids) that must come before. */
  readonly needs: readonly string[];
  /** Other groups of parts that would do instead, in names. */
  readonly instead: readonly string[];
  /** The order rests on a relation that nobody has tried. */
  readonly guess: boolean;
}

interface Way {
  readonly move: "lift" | "shift";
  readonly part: string;
}
const key = (way: Way): string => `${way.move} ${way.part}`;

class Depths {
  private readonly view: View;
  private readonly depth = new Map<string, number>();

  constructor(view: View) {
    this.view = view;
    const ways = view.record.parts.flatMap((part): Way[] => [
      { move: "lift", part: part.id },
      ...(part.shift ? [{ move: "shift" as const, part: part.id }] : []),
    ]);
    for (let changed = true; changed; ) {
      changed = false;
      for (const way of ways) {
        const found = this.compute(way);
        if (found < this.of(way)) {
          this.depth.set(key(way), found);
          changed = true;
        }
      }
    }
  }

  of(way: Way): number {
    return this.depth.get(key(way)) ?? Infinity;
  }

  jointsOf(way: Way): readonly Joint[] {
    if (way.move === "lift") return holding(this.view, way.part);
    const freeing = this.view.parts.get(way.part)?.shift?.freeing ?? [];
    return freeing.flatMap((id) => this.view.joints.get(id) ?? []).filter((joint) => !this.view.gone.has(joint.id));
  }

  private compute(way: Way): number {
    const part = this.view.parts.get(way.part)!;
    if (part.base) return Infinity;
    const joints = this.jointsOf(way);
    if (joints.some((joint) => !joint.releases.some((release) => allowed(release, this.view.terms)))) return Infinity;
    return (
      1 +
      Math.max(
        0,
        this.best(underOf(this.view, part), this.view.assemblies.containing(part.id)).depth,
        ...joints.map(
          (joint) => this.best(reachOf(this.view, joint), this.view.assemblies.containingJoint(joint)).depth,
        ),
      )
    );
  }

  /** The group that is away soonest, with the move that takes each of its parts away. */
  best(
    groups: readonly (readonly string[])[],
    around: readonly string[],
  ): { depth: number; ways: Way[]; group: number } {
    if (groups.length === 0) return { depth: 0, ways: [], group: -1 };
    let least = { depth: Infinity, ways: [] as Way[], group: 0 };
    groups.forEach((group, index) => {
      const ways = group.map((other) => this.soonest(other, around));
      const depth = Math.max(0, ...ways.map((way) => this.of(way)));
      if (depth < least.depth) least = { depth, ways, group: index };
    });
    return least;
  }

  private soonest(other: string, around: readonly string[]): Way {
    const options: Way[] = [
      { move: "lift", part: other },
      ...(this.view.parts.get(other)?.shift ? [{ move: "shift" as const, part: other }] : []),
      ...this.view.assemblies
        .parting(this.view.assemblies.containing(other), around)
        .filter((one) => one !== other)
        .map((one): Way => ({ move: "lift", part: one })),
    ];
    return options.reduce((a, b) => (this.of(b) < this.of(a) ? b : a));
  }
}

/** The rungs from what can be done at once down to the target, or null where the target cannot be got out. */
export function rungsTo(record: TeardownRecord, target: string, terms: Terms = {}): readonly Rung[] | null {
  const view = viewOf(record, terms);
  if (!view.parts.has(target)) return null;
  const depths = new Depths(view);
  const goal: Way = { move: "lift", part: target };
  if (!Number.isFinite(depths.of(goal))) return null;
  const rungs = new Map<string, Rung>();
  const visit = (way: Way): void => {
    if (rungs.has(key(way))) return;
    const part = view.parts.get(way.part)!;
    const joints = depths.jointsOf(way);
    const instead: string[] = [];
    const needs = new Map<string, Way>();
    const ask = (groups: readonly (readonly string[])[], around: readonly string[]) => {
      const chosen = depths.best(groups, around);
      for (const need of chosen.ways) needs.set(key(need), need);
      groups.forEach((group, i) => {
        if (i !== chosen.group) instead.push(group.map((id) => view.parts.get(id)?.name ?? id).join(" and "));
      });
    };
    ask(underOf(view, part), view.assemblies.containing(part.id));
    for (const joint of joints) ask(reachOf(view, joint), view.assemblies.containingJoint(joint));
    const doubted = [part, ...joints].some(
      (one) => (one.basis === "inferred" || one.basis === "sibling") && holds(one, view.terms),
    );
    for (const need of needs.values()) visit(need);
    rungs.set(key(way), {
      part: part.id,
      name: part.name,
      move: way.move,
      depth: depths.of(way),
      joints,
      needs: [...needs.values()].map((need) => need.part),
      instead: [...new Set(instead)],
      guess: doubted,
    });
  };
  visit(goal);
  const order = new Map(record.parts.map((part, i) => [part.id, i]));
  return [...rungs.values()].sort((a, b) => a.depth - b.depth || order.get(a.part)! - order.get(b.part)!);
}

/** Needs that follow from other needs are left out, so that each line in the picture says something. */
export function directNeeds(rungs: readonly Rung[]): ReadonlyMap<string, readonly string[]> {
  const byPart = new Map(rungs.map((rung) => [rung.part, rung]));
  const above = new Map<string, Set<string>>();
  for (const rung of rungs) {
    const all = new Set<string>();
    for (const need of rung.needs) {
      all.add(need);
      for (const further of above.get(need) ?? []) all.add(further);
    }
    above.set(rung.part, all);
  }
  return new Map(
    rungs.map((rung) => [
      rung.part,
      rung.needs.filter(
        (need) => byPart.has(need) && !rung.needs.some((other) => other !== need && above.get(other)?.has(need)),
      ),
    ]),
  );
}
