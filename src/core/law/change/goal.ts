/**
 * The index of a record as a function of the changes made, in ten-thousandths, with a bound on what each further change can
 * add.
 *
 * `shares(state)` gives every change a share so that no set of further changes adds more than the sum of its shares: a level
 * of a score that needs n changes gives each of those the gain over n; one that can only come from another way in gives all
 * that the part may still gain to the changes one of which must be made for that (the certificate). Proof: a set that reaches
 * the level holds at least n of them.
 */
import type { PriorityRole, TeardownRecord } from "../../record/schema.ts";
import type { LawOptions, RecordBasis } from "../assess.ts";
import { informationFact } from "../market.ts";
import { instancesOf } from "../role.ts";
import type { RuleSet } from "../rules/types.ts";
import { rolesOf, updatePoints, weightOf } from "../score.ts";
import { sparePoints } from "../spare-parts.ts";
import { applyChange, type Change, changeKey, isStructural, yearsOf } from "./changes.ts";
import { depthUnder, fastenerUnder, RoleSpace, remoteFlags, toolUnder, type WayModel } from "./role-space.ts";

/** Where a score has no points it counts as this, far below any sum of points. */
const NONE = -1_000_000;

/** Chosen changes: indices, one as often as it is made. */
export interface ChangeSet {
  readonly list: readonly number[];
  readonly keys: ReadonlySet<string>;
}

export class Goal {
  readonly changes: readonly Change[];
  readonly structural: ReadonlySet<number>;
  /** A way in was not proved least: nothing that follows is proved. */
  unproved = false;
  private readonly rules: RuleSet;
  private readonly record: TeardownRecord;
  private readonly keys: readonly string[];
  private readonly index: ReadonlyMap<string, number>;
  private readonly spaces: readonly RoleSpace[];

  constructor(
    rules: RuleSet,
    record: TeardownRecord,
    basis: RecordBasis,
    options: LawOptions,
    changes: readonly Change[],
    stopped: () => boolean = () => false,
  ) {
    this.rules = rules;
    this.record = record;
    this.changes = changes;
    this.keys = changes.map(changeKey);
    this.index = new Map(this.keys.map((key, index) => [key, index]));
    this.structural = new Set(changes.flatMap((change, index) => (isStructural(record, change) ? [index] : [])));
    const roles = rolesOf(record.device.foldable).filter((role) => instancesOf(record, role).length > 0);
    this.spaces = roles.map(
      (role) => new RoleSpace(rules, record, role, basis, options, changes, [...this.structural], stopped),
    );
  }

  set(list: readonly number[]): ChangeSet {
    return { list, keys: new Set(list.map((index) => this.keys[index])) };
  }

  /** The record with the changes made. */
  made(list: readonly number[]): TeardownRecord {
    return list.reduce((record, index) => applyChange(this.rules, record, this.changes[index]), this.record);
  }

  /** Ten-thousandths of the index at worst; far below zero where a score has no points. */
  value(set: ChangeSet): number {
    let total = 0;
    for (const space of this.spaces) total += this.roleValue(space, set);
    for (const role of rolesOf(this.record.device.foldable)) {
      if (!this.spaces.some((space) => space.role === role))
        total += this.coefficient("SDD", role) * 5 + (this.coefficient("SF", role) + this.coefficient("ST", role)) * 5;
    }
    return total + this.spareValue(set) + this.updateValue(set) + this.informationValue(set);
  }

  /** How often a change can be made at most. */
  capacity(index: number): number {
    const { change } = this.changes[index];
    if (change === "updates")
      return Math.max(1, (this.rules.updatePoints[0]?.years ?? 7) - Math.floor(yearsOf(this.rules, this.record)));
    return change === "information" ? 3 : 1;
  }

  /**
   * @param open changes that may still be made
   * @param structural `none`: no further structural change is made; `loose`: every one that can matter to a part may bring all
   *   that the part has to gain; `exact`: only one of the certificate may
   */
  shares(
    set: ChangeSet,
    open: (index: number) => boolean,
    structural: "none" | "loose" | "exact",
  ): Map<number, number> {
    const shares = new Map<number, number>();
    const give = (key: string | number, gain: number): void => {
      const index = typeof key === "number" ? key : this.index.get(key);
      if (index !== undefined && gain > 0 && open(index)) shares.set(index, (shares.get(index) ?? 0) + gain);
    };
    for (const space of this.spaces) {
      // Either the way stays, or it changes: of the two shares that a change has then the greater holds for both.
      const fixed = new Map<number, number>();
      this.roleShares(space, set, (key, gain) => {
        const index = this.index.get(key);
        if (index !== undefined) fixed.set(index, (fixed.get(index) ?? 0) + gain);
      });
      if (structural !== "none") {
        const all = this.roleGain(space, set);
        const first = structural === "exact" ? space.certificate(set.list) : space.others(set.list);
        for (const index of all > 0 ? first : []) fixed.set(index, Math.max(all, fixed.get(index) ?? 0));
      }
      for (const [index, gain] of fixed) give(index, gain);
    }
    this.spareShares(set, give);
    this.chainShares(set, give);
    return shares;
  }

  private coefficient(score: "SDD" | "SF" | "ST", role: PriorityRole): number {
    return this.rules.indexWeights[score] * weightOf(this.rules, this.record.device.foldable, role);
  }

  private roleValue(space: RoleSpace, set: ChangeSet): number {
    const { depth, fastener, tool } = this.rolePoints(space, set);
    const { role } = space;
    return (
      worth(this.coefficient("SDD", role), depth) +
      worth(this.coefficient("SF", role), fastener) +
      worth(this.coefficient("ST", role), tool)
    );
  }

  private rolePoints(
    space: RoleSpace,
    set: ChangeSet,
  ): { depth: number | null; fastener: number | null; tool: number | null } {
    const state = space.state(set.list);
    if (!state.proved) this.unproved = true;
    const { rules, record } = this;
    const { keys } = set;
    const least = (each: (way: WayModel) => readonly (number | null)[]): number | null => {
      let lowest = 5;
      for (const way of state.ways) {
        if (way.kind === "no-way") return null;
        if (way.kind === "cannot-tell") lowest = 1;
        for (const points of way.kind === "told" ? each(way) : []) {
          if (points === null) return null;
          lowest = Math.min(lowest, points);
        }
      }
      return lowest;
    };
    return {
      depth: least((way) => [depthUnder(rules, way, keys)]),
      fastener: least((way) => way.fasteners.map((met) => fastenerUnder(rules, record, way, met, keys))),
      tool: least((way) => way.tools.map((tool) => toolUnder(rules, record, way, space.role, tool, keys))),
    };
  }

  /** What a part has to gain at most. */
  private roleGain(space: RoleSpace, set: ChangeSet): number {
    const { role } = space;
    const best = 5 * (this.coefficient("SDD", role) + this.coefficient("SF", role) + this.coefficient("ST", role));
    return best - this.roleValue(space, set);
  }

  private roleShares(space: RoleSpace, set: ChangeSet, give: (key: string, gain: number) => void): void {
    const points = this.rolePoints(space, set);
    const { role } = space;
    const gainOf = (score: "SDD" | "SF" | "ST", now: number | null, level: number): number =>
      worth(this.coefficient(score, role), level) - worth(this.coefficient(score, role), now);
    const { ways } = space.state(set.list);
    if (ways.some((way) => way.kind !== "told")) return;
    this.levelShares(
      ways,
      (way, level) => this.fastenersShort(way, level, set),
      (level) => gainOf("SF", points.fastener, level),
      [3, 5],
      points.fastener,
      give,
    );
    this.levelShares(
      ways,
      (way, level) => this.toolsShort(way, space.role, level, set),
      (level) => gainOf("ST", points.tool, level),
      [2, 3, 4],
      points.tool,
      give,
    );
    this.levelShares(
      ways,
      (way, level) => this.stepsShort(way, level, set),
      (level) => gainOf("SDD", points.depth, level),
      [2, 3, 4, 5],
      points.depth,
      give,
    );
  }

  /**
   * Shares of one score of one part. `short` lists what must change in a way for a level: for each thing the changes that
   * would do, any one of them; null where no change does.
   */
  private levelShares(
    ways: readonly WayModel[],
    short: (
      way: WayModel,
      level: number,
    ) => Map<string, { readonly keys: readonly string[]; readonly needed: number }> | null,
    gain: (level: number) => number,
    levels: readonly number[],
    now: number | null,
    give: (key: string, gain: number) => void,
  ): void {
    const best = new Map<string, number>();
    for (const level of levels) {
      if (now !== null && level <= now) continue;
      const things = new Map<string, { readonly keys: readonly string[]; readonly needed: number }>();
      let possible = true;
      for (const way of ways) {
        const mine = short(way, level);
        if (mine === null) possible = false;
        else for (const [thing, needs] of mine) things.set(thing, joined(things.get(thing), needs));
      }
      const needed = [...things.values()].reduce((sum, one) => sum + one.needed, 0);
      if (!possible || needed === 0) continue;
      const share = gain(level) / needed;
      for (const { keys } of things.values())
        for (const key of keys) best.set(key, Math.max(best.get(key) ?? 0, share));
    }
    for (const [key, share] of best) give(key, share);
  }

  private fastenersShort(way: WayModel, level: number, set: ChangeSet): ReturnType<Parameters<Goal["levelShares"]>[1]> {
    const short = new Map<string, { keys: string[]; needed: number }>();
    for (const met of way.fasteners) {
      const now = fastenerUnder(this.rules, this.record, way, met, set.keys);
      if (now !== null && now >= level) continue;
      const keys = [`whole joint=${met.joint.id}`, `brings joint=${met.joint.id}`].filter((key) => {
        const then = fastenerUnder(this.rules, this.record, way, met, new Set([...set.keys, key]));
        return then !== null && then >= level && this.index.has(key);
      });
      if (keys.length === 0) return null;
      short.set(met.joint.id, { keys, needed: 1 });
    }
    return short;
  }

  private toolsShort(
    way: WayModel,
    role: PriorityRole,
    level: number,
    set: ChangeSet,
  ): ReturnType<Parameters<Goal["levelShares"]>[1]> {
    const short = new Map<string, { keys: string[]; needed: number }>();
    for (const tool of way.tools) {
      const now = toolUnder(this.rules, this.record, way, role, tool, set.keys);
      if (now !== null && now >= level) continue;
      if (tool === null) return null;
      const keys = [`basic tool=${tool}`, `with-spare-part tool=${tool} role=${role}`].filter((key) => {
        const then = toolUnder(this.rules, this.record, way, role, tool, new Set([...set.keys, key]));
        return then !== null && then >= level && this.index.has(key);
      });
      if (keys.length === 0) return null;
      short.set(tool, { keys, needed: 1 });
    }
    return short;
  }

  private stepsShort(way: WayModel, level: number, set: ChangeSet): ReturnType<Parameters<Goal["levelShares"]>[1]> {
    const flags = remoteFlags(way.part, set.keys);
    const at = (gone: number): number => depthUnder(this.rules, way, new Set([...set.keys, ...flags.slice(0, gone)]));
    for (let gone = 0; gone <= flags.length; gone += 1) {
      if (at(gone) < level) continue;
      return new Map(gone === 0 ? [] : [[way.part.id, { keys: flags, needed: gone }]]);
    }
    return null;
  }

  private spareValue(set: ChangeSet): number {
    return worth(this.rules.indexWeights.SSP * 100, sparePoints(this.rules, this.offered(set)).low);
  }

  private offered(set: ChangeSet): TeardownRecord {
    let record = this.record;
    for (const index of set.list)
      if (this.changes[index].change === "offer") record = applyChange(this.rules, record, this.changes[index]);
    return record;
  }

  private spareShares(set: ChangeSet, give: (key: string, gain: number) => void): void {
    const record = this.offered(set);
    const fact = sparePoints(this.rules, record);
    const now = worth(this.rules.indexWeights.SSP * 100, fact.low);
    const best = new Map<string, number>();
    for (const level of this.rules.spareLevels) {
      if (fact.low !== null && level.points <= fact.low) continue;
      const short = fact.shortOf(level.points);
      const gain = (this.rules.indexWeights.SSP * 100 * level.points - now) / Math.max(1, short.length);
      for (const { part, to } of short) {
        const offers = to === "end-users" ? [to] : (["end-users", "professionals"] as const);
        for (const one of offers) {
          const key = changeKey({ change: "offer", part: part.id, to: one });
          best.set(key, Math.max(best.get(key) ?? 0, gain));
        }
      }
    }
    for (const [key, gain] of best) give(key, gain);
  }

  private updateValue(set: ChangeSet): number {
    const more = set.list.filter((index) => this.changes[index].change === "updates").length;
    return this.updatesAfter(more);
  }

  private updatesAfter(more: number): number {
    const years = yearsOf(this.rules, this.record);
    const points = updatePoints(this.rules, more === 0 ? years : Math.floor(years) + more);
    return worth(this.rules.indexWeights.SSU * 100, points);
  }

  private informationValue(set: ChangeSet): number {
    const more = set.list.filter((index) => this.changes[index].change === "information").length;
    return this.informationAfter(more);
  }

  private informationAfter(more: number): number {
    let record = this.record;
    for (let n = 0; n < more; n += 1) record = applyChange(this.rules, record, { change: "information" });
    return worth(this.rules.indexWeights.SRI * 100, informationFact(this.rules, record).low);
  }

  /** Steps of a chain: the best gain a step over any number of further steps. */
  private chainShares(set: ChangeSet, give: (key: string, gain: number) => void): void {
    for (const [key, after] of [
      ["updates", (n: number) => this.updatesAfter(n)],
      ["information", (n: number) => this.informationAfter(n)],
    ] as const) {
      const index = this.index.get(key);
      if (index === undefined) continue;
      const made = set.list.filter((one) => one === index).length;
      let best = 0;
      for (let more = 1; made + more <= this.capacity(index); more += 1)
        best = Math.max(best, (after(made + more) - after(made)) / more);
      give(key, best);
    }
  }
}

/** What one thing needs in several ways at once: any change that does in either, and the greater number. */
function joined(
  a: { readonly keys: readonly string[]; readonly needed: number } | undefined,
  b: { readonly keys: readonly string[]; readonly needed: number },
): { readonly keys: readonly string[]; readonly needed: number } {
  if (a === undefined) return b;
  return { keys: [...new Set([...a.keys, ...b.keys])], needed: Math.max(a.needed, b.needed) };
}

function worth(coefficient: number, points: number | null): number {
  return points === null ? NONE : coefficient * points;
}
