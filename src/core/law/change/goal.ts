/**
 * The index of a record as a function of the changes made, in ten-thousandths, with rows that bound what further changes add: the
 * three scores of each part (role-rows.ts), and the three of the product.
 */
import type { PriorityRole, TeardownRecord } from "../../record/schema.ts";
import type { LawOptions, RecordBasis } from "../assess.ts";
import { informationFact } from "../market.ts";
import { instancesOf } from "../role.ts";
import type { RuleSet } from "../rules/types.ts";
import { rolesOf, updatePoints, weightOf } from "../score.ts";
import { sparePoints } from "../spare-parts.ts";
import { applyChange, type Change, changeKey, isStructural, yearsOf } from "./changes.ts";
import { type Row, type RowContext, roleRow, SCORE_KINDS, type ScoreKind, type Stand } from "./role-rows.ts";
import { depthUnder, fastenerUnder, RoleSpace, toolUnder, type WayModel } from "./role-space.ts";

/** Where a score has no points it counts as this, far below any sum of points. */
const NONE = -1_000_000;

/** For each part the structural changes that its ways were planned with. */
export type Bases = readonly number[][];

export interface Look {
  readonly value: number;
  readonly rows: readonly Row[];
  readonly bases: Bases;
  /** Rows that were not looked at closely and add to `value` what may not be there. */
  readonly paying: readonly string[];
}

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
  private readonly stands = new Map<string, Stand>();
  private readonly rows = new Map<string, Row | null>();
  private readonly refined = new Set<string>();

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
    return total + this.absent() + this.productValue(set.list);
  }

  /** What the parts add that the device does not have. */
  private absent(): number {
    const { absentPoints, indexWeights } = this.rules;
    let total = 0;
    for (const role of rolesOf(this.record.device.foldable)) {
      if (this.spaces.some((space) => space.role === role)) continue;
      const weight = weightOf(this.rules, this.record.device.foldable, role);
      total += weight * absentPoints * (indexWeights.SDD + indexWeights.SF + indexWeights.ST);
    }
    return total;
  }

  private productValue(list: readonly number[]): number {
    return this.spareValue(list) + this.updateValue(list) + this.informationValue(list);
  }

  /** How often a change can be made at most. */
  capacity(index: number): number {
    const { change } = this.changes[index];
    if (change === "updates")
      return Math.max(1, (this.rules.updatePoints[0]?.years ?? 7) - Math.floor(yearsOf(this.rules, this.record)));
    return change === "information" ? 3 : 1;
  }

  /**
   * A bound on the value of `list`, with rows on whatever more is made. Parts whose ways cannot gain by a structural change keep the
   * ways that they were planned with (`bases`): where such a change has no share, what the part has without it is a bound.
   *
   * @param fixed only changes that leave the ways as they are
   * @param all plan the ways to every part with all that is chosen: `value` is then exact
   */
  look(list: readonly number[], bases: Bases, fixed: boolean, all = false): Look {
    const rows: Row[] = [];
    const now: number[][] = [];
    const paying: string[] = [];
    let value = this.absent() + this.productValue(list);
    for (const [at, space] of this.spaces.entries()) {
      const mine = space.relevant.filter((index) => list.includes(index));
      let base = all ? mine : (bases[at] ?? mine);
      let found = this.roleLook(space, list, base, fixed);
      let later = mine.filter((index) => !base.includes(index));
      if (found.rows.some((row) => row.loose === undefined && later.some((index) => row.shares.has(index)))) {
        base = mine;
        later = [];
        found = this.roleLook(space, list, base, fixed);
      }
      value += found.value;
      for (const row of found.rows) {
        // What has been chosen since and may have added something is granted.
        const sum = later.reduce((total, index) => total + (row.shares.get(index) ?? 0), 0);
        const paid = Math.min(row.cap, sum);
        if (paid > 0 && row.loose !== undefined) paying.push(row.loose);
        value += paid;
        if (row.cap > paid) rows.push({ ...row, cap: row.cap - paid });
      }
      now.push(base);
    }
    rows.push(...this.productRows(list));
    return { value, rows, bases: now, paying };
  }

  /** From now on these rows are looked at closely. */
  refine(rows: Iterable<string>): void {
    for (const row of rows) this.refined.add(row);
  }

  private roleLook(
    space: RoleSpace,
    list: readonly number[],
    base: number[],
    fixed: boolean,
  ): { value: number; rows: readonly Row[] } {
    const counted = list.filter((index) =>
      this.structural.has(index) ? base.includes(index) : concerns(space, this.changes[index]),
    );
    const name = `${space.role} ${base.join()} ${[...new Set(counted)].sort((a, b) => a - b).join()}`;
    const stand = this.standOf(name, space, counted, base);
    const { depth, fastener, tool } = stand.points;
    const worthOf = this.worthOf(space.role);
    const value = worth(worthOf.depth, depth) + worth(worthOf.fastener, fastener) + worth(worthOf.tool, tool);
    return { value, rows: SCORE_KINDS.flatMap((kind) => this.rowOf(kind, name, space, stand, fixed) ?? []) };
  }

  private standOf(name: string, space: RoleSpace, counted: readonly number[], base: readonly number[]): Stand {
    const before = this.stands.get(name);
    if (before !== undefined) return before;
    const keys = new Set(counted.map((index) => this.keys[index]));
    const stand = { base, keys, points: this.rolePoints(space, keys, base) };
    this.stands.set(name, stand);
    return stand;
  }

  private rowOf(kind: ScoreKind, stood: string, space: RoleSpace, stand: Stand, fixed: boolean): Row | undefined {
    const name = `${kind} ${stood}`;
    const mode = fixed ? "fixed" : this.refined.has(name) ? "exact" : "loose";
    const memo = `${mode} ${name}`;
    const before = this.rows.get(memo);
    if (before !== undefined) return before ?? undefined;
    const context: RowContext = {
      rules: this.rules,
      record: this.record,
      indexOf: (key) => this.index.get(key),
      worth: this.worthOf(space.role),
    };
    const gain = (each: number, now: number | null, level: number): number => worth(each, level) - worth(each, now);
    const row = roleRow(kind, context, space, stand, mode, gain);
    const told = row === undefined || mode !== "loose" ? row : { ...row, loose: name };
    this.rows.set(memo, told ?? null);
    return told;
  }

  private worthOf(role: PriorityRole): RowContext["worth"] {
    return {
      depth: this.coefficient("SDD", role),
      fastener: this.coefficient("SF", role),
      tool: this.coefficient("ST", role),
    };
  }

  private coefficient(score: "SDD" | "SF" | "ST", role: PriorityRole): number {
    return this.rules.indexWeights[score] * weightOf(this.rules, this.record.device.foldable, role);
  }

  private roleValue(space: RoleSpace, set: ChangeSet): number {
    const { depth, fastener, tool } = this.rolePoints(space, set.keys, set.list);
    const { role } = space;
    return (
      worth(this.coefficient("SDD", role), depth) +
      worth(this.coefficient("SF", role), fastener) +
      worth(this.coefficient("ST", role), tool)
    );
  }

  private rolePoints(
    space: RoleSpace,
    keys: ReadonlySet<string>,
    base: readonly number[],
  ): { depth: number | null; fastener: number | null; tool: number | null } {
    const state = space.state(base);
    if (!state.proved) this.unproved = true;
    const { rules, record } = this;
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

  private spareValue(list: readonly number[]): number {
    return worth(this.rules.indexWeights.SSP * 100, sparePoints(this.rules, this.offered(list)).low);
  }

  private offered(list: readonly number[]): TeardownRecord {
    let record = this.record;
    for (const index of list)
      if (this.changes[index].change === "offer") record = applyChange(this.rules, record, this.changes[index]);
    return record;
  }

  private productRows(list: readonly number[]): Row[] {
    return [this.spareRow(list), ...this.chainRows(list)].filter((row) => row.shares.size > 0);
  }

  /** A level of spare parts that n offers fall short of gives each of those the gain over n. */
  private spareRow(list: readonly number[]): Row {
    const fact = sparePoints(this.rules, this.offered(list));
    const now = worth(this.rules.indexWeights.SSP * 100, fact.low);
    const shares = new Map<number, number>();
    let cap = 0;
    for (const level of this.rules.spareLevels) {
      if (fact.low !== null && level.points <= fact.low) continue;
      const short = fact.shortOf(level.points);
      const gain = this.rules.indexWeights.SSP * 100 * level.points - now;
      cap = Math.max(cap, gain);
      for (const { part, to } of short) {
        const offers = to === "end-users" ? [to] : (["end-users", "professionals"] as const);
        for (const one of offers) {
          const index = this.index.get(changeKey({ change: "offer", part: part.id, to: one }));
          if (index !== undefined)
            shares.set(index, Math.max(shares.get(index) ?? 0, gain / Math.max(1, short.length)));
        }
      }
    }
    return { cap, shares };
  }

  private updateValue(list: readonly number[]): number {
    return this.updatesAfter(list.filter((index) => this.changes[index].change === "updates").length);
  }

  private updatesAfter(more: number): number {
    const years = yearsOf(this.rules, this.record);
    const points = updatePoints(this.rules, more === 0 ? years : Math.floor(years) + more);
    return worth(this.rules.indexWeights.SSU * 100, points);
  }

  private informationValue(list: readonly number[]): number {
    return this.informationAfter(list.filter((index) => this.changes[index].change === "information").length);
  }

  private informationAfter(more: number): number {
    let record = this.record;
    for (let n = 0; n < more; n += 1) record = applyChange(this.rules, record, { change: "information" });
    return worth(this.rules.indexWeights.SRI * 100, informationFact(this.rules, record).low);
  }

  /** Steps of a chain: the best gain a step over any number of further steps. */
  private chainRows(list: readonly number[]): Row[] {
    const chains = [
      ["updates", (n: number) => this.updatesAfter(n)],
      ["information", (n: number) => this.informationAfter(n)],
    ] as const;
    return chains.map(([key, after]): Row => {
      const shares = new Map<number, number>();
      const index = this.index.get(key);
      let cap = 0;
      if (index === undefined) return { cap, shares };
      const made = list.filter((one) => one === index).length;
      for (let more = 1; made + more <= this.capacity(index); more += 1) {
        const gain = after(made + more) - after(made);
        cap = Math.max(cap, gain);
        if (gain > 0) shares.set(index, Math.max(shares.get(index) ?? 0, gain / more));
      }
      return { cap, shares };
    });
  }
}

/** Whether a change that leaves the ways as they are can matter to the part. */
function concerns(space: RoleSpace, change: Change): boolean {
  if ("joint" in change) return space.joints.has(change.joint);
  if (change.change === "with-spare-part") return change.role === space.role;
  if (change.change === "basic") return true;
  return "part" in change && change.change !== "offer" && space.instances.some((part) => part.id === change.part);
}

function worth(coefficient: number, points: number | null): number {
  return points === null ? NONE : coefficient * points;
}
