/**
 * Record and question -> the planning problem of core/route, and the way back from its operations to the record.
 */

import type { Joint, Part, Release, Side, TeardownRecord } from "../record/index.ts";
import { SIDES } from "../record/index.ts";
import type { Atom, Group, Need, Operation, Problem, Zone } from "../route/problem.ts";
import { type Harm, harmOf } from "./harm.ts";
import { isLiveWork, onTheWayToPower, powerJoint } from "./power.ts";
import { reachable } from "./reach.ts";
import { liftTime, releaseTime, SET_A, shiftTime, type ZoneTime } from "./times.ts";
import { allowed, holding, reachOf, standing, type Terms, underOf, type View, viewOf } from "./view.ts";
import { warmZone } from "./warm-zones.ts";

type Heat = NonNullable<Release["heat"]>;

/** What an operation of the problem is in the record. */
export type Meaning =
  | { readonly kind: "release"; readonly joint: Joint; readonly release: number }
  | { readonly kind: "lift"; readonly part: Part }
  | { readonly kind: "shift"; readonly part: Part };

export interface Compiled {
  readonly view: View;
  readonly problem: Problem;
  readonly meanings: readonly Meaning[];
  readonly harm: Harm;
  /** Assumed time of an operation (same index), where there is one. */
  readonly assumed: readonly (string | undefined)[];
  /** The same for zones. */
  readonly zonesAssumed: readonly (string | undefined)[];
  /** Whether the rule of power is in force. */
  readonly gated: boolean;
  /** The needs that stand for it, as against those of the structure. */
  readonly powerNeeds: ReadonlySet<Need>;
  readonly warnings: readonly string[];
}

/** The side that faces a side. */
export const OPPOSITE: { readonly [side in Side]: Side } = {
  back: "front",
  front: "back",
  top: "bottom",
  bottom: "top",
  left: "right",
  right: "left",
};

/**
 * Compiles a question. `targets` must be ids of parts other than the base (checked by the caller).
 *
 * @param isolate false leaves the rule of power out.
 * @param wayToPower which doubted relations count when it is judged what must be undone to isolate the cell.
 */
export function compile(
  record: TeardownRecord,
  terms: Terms,
  targets: readonly string[],
  isolate: boolean,
  wayToPower: Terms["doubt"] = terms.doubt,
): Compiled {
  const view = viewOf(record, terms);
  const powerView = isolate && wayToPower !== terms.doubt ? viewOf(record, { ...terms, doubt: wayToPower }) : view;
  return new Builder(view, isolate, powerView).build(targets);
}

class Builder {
  private readonly view: View;
  private readonly isolate: boolean;
  private readonly powerView: View;
  private readonly operations: Operation[] = [];
  private readonly meanings: Meaning[] = [];
  private readonly assumed: (string | undefined)[] = [];
  private readonly zones: Zone[] = [];
  private readonly zonesAssumed: (string | undefined)[] = [];
  private readonly zoneIndex = new Map<string, number>();
  private readonly tools: Map<string, number>;
  private readonly releasesOf = new Map<string, number[]>();
  private readonly liftOf = new Map<string, number>();
  private readonly shiftOf = new Map<string, number>();
  private readonly powerNeeds = new Set<Need>();
  private readonly warnings: string[] = [];

  constructor(view: View, isolate: boolean, powerView: View) {
    this.view = view;
    this.isolate = isolate;
    this.powerView = powerView;
    this.tools = new Map(view.record.tools.map((tool, index) => [tool.id, index]));
  }

  build(targets: readonly string[]): Compiled {
    const { view } = this;
    const harm = harmOf(view);
    this.number();
    const gate = this.gate();
    const done: Operation[] = this.meanings.map((meaning, index) => {
      if (meaning.kind === "release") return this.releaseOperation(meaning.joint, meaning.release, index, harm, gate);
      return meaning.kind === "lift"
        ? this.liftOperation(meaning.part, index)
        : this.shiftOperation(meaning.part, index);
    });
    this.operations.push(...done);
    return {
      view,
      problem: {
        operations: this.operations,
        zones: this.zones,
        tools: view.record.tools.map((tool) => tool.id),
        sides: [...SIDES],
        fetch: SET_A.fetch,
        turn: SET_A.turn,
        start: { tools: [], side: SIDES.indexOf("back") },
        targets: targets.filter((part) => !view.gone.has(part)).map((part) => this.liftOf.get(part) ?? -1),
      },
      meanings: this.meanings,
      harm,
      assumed: this.assumed,
      zonesAssumed: this.zonesAssumed,
      gated: gate !== undefined,
      powerNeeds: this.powerNeeds,
      warnings: this.warnings,
    };
  }

  /** Gives every operation its index before any refers to another. */
  private number(): void {
    const { view } = this;
    for (const joint of view.record.joints) {
      if (!standing(view, joint)) continue;
      const mine: number[] = [];
      joint.releases.forEach((release, index) => {
        if (!allowed(release, view.terms)) return;
        mine.push(this.meanings.length);
        this.meanings.push({ kind: "release", joint, release: index });
      });
      this.releasesOf.set(joint.id, mine);
    }
    for (const part of view.record.parts) {
      if (part.base || view.gone.has(part.id)) continue;
      this.liftOf.set(part.id, this.meanings.length);
      this.meanings.push({ kind: "lift", part });
      if (part.shift === undefined) continue;
      this.shiftOf.set(part.id, this.meanings.length);
      this.meanings.push({ kind: "shift", part });
    }
  }

  /** Which releases wait for the power joint; undefined where the rule is off. */
  private gate(): ((joint: Joint, release: Release) => boolean) | undefined {
    const { view } = this;
    const power = powerJoint(view);
    if (power === undefined || !this.isolate || view.terms.isolation === false) return undefined;
    const exempt = onTheWayToPower(this.powerView, power, (options) => reachable(this.powerView, options));
    const waits = (joint: Joint, release: Release): boolean =>
      !exempt.has(joint.id) && isLiveWork(view, joint, release);
    const reached = reachable(view, { gate: (joint, release) => (waits(joint, release) ? power.id : undefined) });
    if (!reached.released.has(power.id)) return undefined;
    return waits;
  }

  private releaseOperation(
    joint: Joint,
    way: number,
    index: number,
    harm: Harm,
    gate: ((joint: Joint, release: Release) => boolean) | undefined,
  ): Operation {
    const release = joint.releases[way];
    const time = releaseTime(joint, release);
    this.assumed[index] = time.assumed;
    const needs = this.clear(reachOf(this.view, joint), this.view.assemblies.containingJoint(joint));
    if (gate?.(joint, release)) {
      const isolated = this.releasedNeed(powerJoint(this.view)?.id ?? "");
      this.powerNeeds.add(isolated);
      needs.push(isolated);
    }
    const heat = release.heat && this.heating(release.heat, time.ms, release.tools.length);
    return {
      id: `release ${joint.id}/${way}`,
      kind: "release",
      ms: time.ms,
      tools: this.toolSet(release.tools),
      side: joint.side === undefined ? -1 : SIDES.indexOf(joint.side),
      needs,
      zone: heat?.zone ?? -1,
      passes: heat?.passes ?? false,
      clean: release.clean === true,
      tray: false,
      risk: harm.of(release),
      // One joint is released once, by one of its ways.
      group: this.view.record.joints.indexOf(joint),
      bundle: [],
    };
  }

  private liftOperation(part: Part, index: number): Operation {
    const { view } = this;
    const needs = holding(view, part.id).map((joint) => this.releasedNeed(joint.id));
    needs.push(...this.clear(underOf(view, part), view.assemblies.containing(part.id), part));
    const bundle = [...view.assemblies.of(part.id)].map((inside) =>
      view.assemblies
        .containing(inside)
        .map((around) => this.liftOf.get(around) ?? -1)
        .filter((lift) => lift >= 0 && lift !== index)
        .sort((a, b) => a - b),
    );
    return {
      ...this.move(part),
      id: `lift ${part.id}`,
      kind: "lift",
      ms: liftTime(part),
      needs,
      tray: part.role === "sim-tray",
      bundle,
    };
  }

  private shiftOperation(part: Part, _index: number): Operation {
    const { view } = this;
    const freeing = (part.shift?.freeing ?? []).filter((id) => {
      const joint = view.joints.get(id);
      return joint !== undefined && standing(view, joint);
    });
    const needs = freeing.map((joint) => this.releasedNeed(joint));
    needs.push(...this.clear(underOf(view, part), view.assemblies.containing(part.id), part));
    return {
      ...this.move(part),
      id: `shift ${part.id}`,
      kind: "shift",
      ms: shiftTime(part),
      needs,
      tray: false,
      bundle: [],
    };
  }

  private move(part: Part): Omit<Operation, "id" | "kind" | "ms" | "needs" | "tray" | "bundle"> {
    return {
      tools: [],
      side: part.side === undefined ? -1 : SIDES.indexOf(part.side),
      zone: -1,
      passes: false,
      clean: false,
      risk: 0,
    };
  }

  private toolSet(ids: readonly string[]): number[] {
    return [...new Set(ids.map((id) => this.tools.get(id) ?? -1))].sort((a, b) => a - b);
  }

  /** Where the layers say in which rounds a release is done, its rounds are a zone of their own: their heatings are shorter. */
  private heating(heat: Heat, ms: number, tools: number): { readonly zone: number; readonly passes: boolean } {
    const warm = warmZone(this.view.record, heat);
    const rounds = warm.inRounds(ms, tools);
    if (rounds !== null) return { zone: this.zone(heat, rounds, `${heat.zone} ${ms} ${tools}`), passes: true };
    return { zone: this.zone(heat, warm.once, heat.zone), passes: warm.once.passes };
  }

  private zone(heat: Heat, time: ZoneTime, key: string): number {
    const known = this.zoneIndex.get(key);
    if (known !== undefined) return known;
    const index = this.zones.length;
    this.zoneIndex.set(key, index);
    this.zones.push({
      id: heat.zone,
      ms: time.ms,
      soft: time.soft,
      tools: heat.down === undefined && heat.by !== undefined ? this.toolSet([heat.by]) : [],
      side: heat.down === undefined ? -1 : SIDES.indexOf(OPPOSITE[heat.down]),
    });
    this.zonesAssumed[index] = time.assumed;
    return index;
  }

  private releasedNeed(joint: string): Need {
    return [[this.releasesOf.get(joint) ?? []]];
  }

  /** Groups of parts, at least one of which must be away as seen from what `around` contains. */
  private clear(groups: readonly (readonly string[])[], around: readonly string[], moved?: Part): Need[] {
    if (groups.length === 0 || groups.some((group) => group.length === 0)) return [];
    return [groups.map((group): Group => group.map((part) => this.away(part, around, moved)))];
  }

  private away(part: string, around: readonly string[], moved?: Part): Atom {
    const ways = new Set<number>();
    const own = [this.liftOf.get(part), this.shiftOf.get(part)];
    for (const operation of own) if (operation !== undefined) ways.add(operation);
    for (const other of this.view.assemblies.parting(this.view.assemblies.containing(part), around)) {
      const lift = this.liftOf.get(other);
      // A part's own lift cannot clear the way for it.
      if (lift !== undefined && other !== moved?.id) ways.add(lift);
    }
    return [...ways].sort((a, b) => a - b);
  }
}
