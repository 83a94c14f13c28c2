/**
 * What one priority part scores under any set of changes.
 *
 * Only structural changes alter the way to a part; for each set of those the way is found once. On a found way the other
 * changes act by themselves: a fastener or a tool gets its new kind, a remote step goes. Under `least` the cost of a way
 * (steps, seconds, operations) never rises when a relation or a heating is taken away; so where a large set leaves the cost as
 * it is, every set inside it does too. `certificate` uses this: it grows such a set by halving, and what is left over are the
 * only changes that one of must be made before the way changes at all.
 */
import type { Joint, Part, PriorityRole, Release, TeardownRecord } from "../../record/schema.ts";
import { DEFAULT_READINGS } from "../../route/problem.ts";
import { type Compiled, compile, keepWarmth } from "../../structure/index.ts";
import type { LawOptions, RecordBasis } from "../assess.ts";
import { closureOf } from "../closure.ts";
import { countSteps } from "../count.ts";
import { describedSequence, procedureOf } from "../described.ts";
import { Log } from "../done.ts";
import type { LawOperation } from "../operations.ts";
import { planLeast, provedAbove } from "../planning.ts";
import { instancesOf } from "../role.ts";
import type { RuleSet } from "../rules/types.ts";
import { depthPoints } from "../score.ts";
import { fastenerKind, looseKind, segmentOf, toolKind } from "../segment.ts";
import type { Sequence } from "../sequence.ts";
import { applyChange, type Change } from "./changes.ts";
import { exploited } from "./exploited.ts";
import { type Bounds, type Held, heldJoints, otherPriorityParts } from "./held.ts";

/** What is met in the segment of one instance, the changes aside. */
export interface WayModel {
  readonly part: Part;
  readonly kind: Sequence["kind"];
  /** Remote steps left out. */
  readonly steps: number;
  /** The rule of power that it was planned under; empty where it was not planned. */
  readonly gate: string;
  readonly fasteners: readonly { readonly joint: Joint; readonly release: Release | null }[];
  readonly tools: readonly (string | null)[];
}

export interface RoleState {
  readonly ways: readonly WayModel[];
  /** Same text: the same ways at the same cost. */
  readonly cost: string;
  /** The ways themselves, where there are any. */
  readonly operations: readonly (readonly LawOperation[])[];
  readonly proved: boolean;
}

/** Milliseconds for telling whether a way is as short as asked; what is not told in time counts as possible. */
const DECISION_LIMIT = 60;

/** Compiled problems kept at a time. */
const KEPT = 400;

export class RoleSpace implements Bounds {
  readonly role: PriorityRole;
  /** Indices of the structural changes that can matter to this role. */
  readonly relevant: readonly number[];
  private readonly rules: RuleSet;
  private readonly record: TeardownRecord;
  private readonly changes: readonly Change[];
  private readonly basis: RecordBasis;
  private readonly options: LawOptions;
  readonly instances: readonly Part[];
  /** Joints that can matter to the way; the others are left out when it is planned. */
  readonly joints: ReadonlySet<string>;
  private readonly stopped: () => boolean;
  private readonly states = new Map<string, RoleState>();
  private readonly certificates = new Map<string, readonly number[]>();
  private readonly deeper = new Map<string, Map<string, readonly number[]>>();
  private readonly keeping = new Map<string, Map<string, readonly number[]>>();
  private readonly held = new Map<string, readonly Held[]>();
  private readonly compiledFor = new Map<string, Compiled>();
  /** Parts that a way can take at all. */
  readonly parts: ReadonlySet<string>;

  /** @param structural indices of the structural ones among `changes` */
  constructor(
    rules: RuleSet,
    record: TeardownRecord,
    role: PriorityRole,
    basis: RecordBasis,
    options: LawOptions,
    changes: readonly Change[],
    structural: readonly number[],
    stopped: () => boolean,
  ) {
    this.stopped = stopped;
    this.rules = rules;
    this.record = record;
    this.role = role;
    this.basis = basis;
    this.options = options;
    this.changes = changes;
    this.instances = instancesOf(record, role);
    const closure = closureOf(record, this.instances);
    this.joints = closure.joints;
    this.parts = closure.parts;
    this.relevant = structural.filter((index) => {
      const change = changes[index];
      if (change.change === "leaves-under") return closure.parts.has(change.of);
      return "joint" in change && closure.joints.has(change.joint);
    });
  }

  /** The ways under the structural changes among `chosen` that matter here. */
  state(chosen: readonly number[]): RoleState {
    const mine = this.relevant.filter((index) => chosen.includes(index));
    const key = mine.join();
    const before = this.states.get(key);
    if (before !== undefined) return before;
    const same = this.unchanged(mine);
    if (same !== undefined) {
      this.states.set(key, same);
      return same;
    }
    let record = this.record;
    for (const index of mine) record = applyChange(this.rules, record, this.changes[index]);
    const state = this.evaluate(record);
    this.states.set(key, state);
    return state;
  }

  /** The state of a smaller set, where its certificate says that the one change more alters nothing. */
  private unchanged(mine: readonly number[]): RoleState | undefined {
    for (const index of mine) {
      const without = mine.filter((other) => other !== index).join();
      if (this.certificates.get(without)?.includes(index) === false) return this.states.get(without);
    }
    return undefined;
  }

  /** The structural changes that can matter here and are not made yet. */
  others(chosen: readonly number[]): readonly number[] {
    return this.relevant.filter((index) => !chosen.includes(index));
  }

  /** One of these must be among any further changes that alter the way, given `chosen`. */
  certificate(chosen: readonly number[]): readonly number[] {
    const mine = this.relevant.filter((index) => chosen.includes(index));
    const others = this.relevant.filter((index) => !mine.includes(index));
    // What a log counts may fall and rise again as relations go: nothing is left out there.
    if (this.basis === "done") return others;
    const key = mine.join();
    const before = this.certificates.get(key);
    if (before !== undefined) return before;
    const now = this.state(mine).cost;
    const uses = (list: readonly number[]): readonly number[] | null => {
      const { cost, operations } = this.state([...mine, ...list]);
      return cost === now ? null : this.used(operations, list);
    };
    return this.outside(others, uses, this.certificates, mine);
  }

  /**
   * One of these must be among any further changes that bring an instance down to so many steps, remote ones left out.
   * Asked is only whether there is a way that short, which is quicker told than which way is the least.
   */
  shortening(chosen: readonly number[], instance: number, steps: number): readonly number[] {
    if (steps < 1) return [];
    const mine = this.relevant.filter((index) => chosen.includes(index));
    if (this.basis !== "least") return this.certificate(mine);
    const { part, gate } = this.state(mine).ways[instance];
    const name = `${instance} ${steps}`;
    const known = this.deeper.get(name) ?? new Map<string, readonly number[]>();
    this.deeper.set(name, known);
    const before = known.get(mine.join());
    if (before !== undefined) return before;
    const { control, readings = DEFAULT_READINGS } = this.options;
    const others = this.relevant.filter((index) => !mine.includes(index));
    const uses = (list: readonly number[]): readonly number[] | null => {
      const record = this.made([...mine, ...list]);
      const way = provedAbove(record, part, readings, control, DECISION_LIMIT, steps, gate);
      return way === null ? null : this.used([way], list);
    };
    return this.outside(others, uses, known, mine);
  }

  /** The joints that every way to an instance undoes in its segment. */
  heldBy(chosen: readonly number[], instance: number): readonly Held[] {
    const mine = this.relevant.filter((index) => chosen.includes(index));
    if (this.basis !== "least" || this.options.readings?.I4 || this.options.readings?.I6) return [];
    const key = `${mine.join()} ${instance}`;
    const before = this.held.get(key);
    if (before !== undefined) return before;
    const held = heldJoints(this.compiled(mine, instance), this.instances[instance], this);
    this.held.set(key, held);
    return held;
  }

  /** One of these must be among any further changes after which a held joint may be done without, or before the segment. */
  freeing(chosen: readonly number[], instance: number, { joint }: Held): readonly number[] {
    const mine = this.relevant.filter((index) => chosen.includes(index));
    const name = `${instance} ${joint.id}`;
    const known = this.keeping.get(name) ?? new Map<string, readonly number[]>();
    this.keeping.set(name, known);
    const before = known.get(mine.join());
    if (before !== undefined) return before;
    const others = this.relevant.filter((index) => !mine.includes(index));
    const uses = (list: readonly number[]): readonly number[] | null => {
      const held = heldJoints(this.compiled([...mine, ...list], instance), this.instances[instance], this, joint.id);
      return held.length > 0 ? null : [];
    };
    return this.outside(others, uses, known, mine);
  }

  /** No other priority part can come off on the way: the segment is all the work, heat too. */
  wholeWay(chosen: readonly number[], instance: number): boolean {
    return otherPriorityParts(this.compiled(chosen, instance), this.instances[instance], this).length === 0;
  }

  /** Which of the changes of a list these ways make use of. */
  private used(ways: readonly (readonly LawOperation[])[], list: readonly number[]): readonly number[] {
    return [...new Set(ways.flatMap((operations) => exploited(operations, this.changes, list)))];
  }

  /**
   * What a largest set leaves out for which a property holds that changes only ever take away. First everything but what the
   * ways found make use of, then of that what can still be had, by halving. What was left out with one change less is looked
   * at last: with one more it is mostly the same.
   *
   * @param uses null: the property holds; else changes of the list of which one at least must go before it can, or none
   *   where that is not known
   */
  private outside(
    all: readonly number[],
    uses: (list: readonly number[]) => readonly number[] | null,
    known: Map<string, readonly number[]>,
    mine: readonly number[],
  ): readonly number[] {
    const inside: number[] = [];
    const decisive: number[] = [];
    const grow = (list: readonly number[], fails = false): void => {
      if (list.length === 0) return;
      // Out of time nothing may be left out; the search stops at its next look.
      if (this.stopped()) decisive.push(...list);
      else if (!fails && uses([...inside, ...list]) === null) inside.push(...list);
      else if (list.length === 1) decisive.push(list[0]);
      else {
        const half = list.length >> 1;
        grow(list.slice(0, half));
        grow(list.slice(half));
      }
    };
    const before = mine.flatMap((index) => known.get(mine.filter((other) => other !== index).join()) ?? []);
    const late = all.filter((index) => before.includes(index));
    let list = all.filter((index) => !before.includes(index));
    const out: number[] = [];
    for (;;) {
      const used = list.length === 0 ? null : this.stopped() ? [] : uses(list);
      if (used === null) {
        inside.push(...list);
        break;
      }
      if (used.length === 0) {
        grow(list, true);
        break;
      }
      out.push(...used);
      list = list.filter((index) => !used.includes(index));
    }
    grow(out, true);
    grow(late);
    const told = all.filter((index) => decisive.includes(index));
    known.set(mine.join(), told);
    return told;
  }

  /** What matters to the role, with structural changes made. */
  private made(list: readonly number[]): TeardownRecord {
    return this.lean(list.reduce((made, index) => applyChange(this.rules, made, this.changes[index]), this.record));
  }

  private lean(record: TeardownRecord): TeardownRecord {
    const lean = { ...record, joints: record.joints.filter((joint) => this.joints.has(joint.id)) };
    keepWarmth(record, lean);
    return lean;
  }

  private compiled(chosen: readonly number[], instance: number): Compiled {
    const mine = this.relevant.filter((index) => chosen.includes(index));
    const key = `${mine.join()} ${instance}`;
    const before = this.compiledFor.get(key);
    if (before !== undefined) return before;
    const compiled = compile(this.made(mine), {}, [this.instances[instance].id], false);
    if (this.compiledFor.size >= KEPT) this.compiledFor.clear();
    this.compiledFor.set(key, compiled);
    return compiled;
  }

  private evaluate(record: TeardownRecord): RoleState {
    const parts = instancesOf(record, this.role);
    const sequences = this.sequences(record, parts);
    const costs: string[] = [];
    const ways = parts.map((part, index): WayModel => {
      const { sequence, cost, gate } = sequences[index];
      if (sequence.kind !== "told") {
        costs.push(sequence.kind);
        return { part, kind: sequence.kind, steps: 0, gate, fasteners: [], tools: [] };
      }
      const segment = segmentOf(this.rules, record, part, this.role, sequence.operations);
      const fasteners = segment.fasteners.map(({ joint, release }) => ({ joint, release }));
      const tools = segment.tools.map((met) => met.tool);
      const steps = countSteps(record, sequence.operations, this.options.readings ?? DEFAULT_READINGS).steps;
      const met = [...fasteners.map(({ joint, release }) => `${joint.id}:${release?.leaves}`).sort(), ...tools].join();
      costs.push(`${steps} ${cost} ${met}`);
      return { part, kind: "told", steps, gate, fasteners, tools };
    });
    const proved = sequences.every(({ sequence }) => sequence.kind !== "told" || sequence.stepsAtLeast === undefined);
    const operations = sequences.flatMap(({ sequence }) => (sequence.kind === "told" ? [sequence.operations] : []));
    return { ways, cost: costs.join(";"), operations, proved };
  }

  private sequences(
    record: TeardownRecord,
    parts: readonly Part[],
  ): { sequence: Sequence; cost: string; gate: string }[] {
    if (this.basis === "described") {
      const procedure = procedureOf(record);
      if (procedure === undefined) throw new Error("the basis described is taken without a described procedure");
      return parts.map((part) => ({ sequence: describedSequence(record, procedure, part), cost: "", gate: "" }));
    }
    if (this.basis === "done") {
      const log = new Log(record);
      return parts.map((part) => ({ sequence: log.sequence(part), cost: "", gate: "" }));
    }
    const { control, limit = 5000, readings = DEFAULT_READINGS } = this.options;
    const lean = this.lean(record);
    return parts.map((part) => {
      if (part.base)
        return { sequence: { kind: "cannot-tell", part, because: "the base", warnings: [] }, cost: "", gate: "" };
      const { sequence, cost, gate } = planLeast(lean, part, readings, control, limit);
      return { sequence, cost: `${cost} ${gate}`, gate };
    });
  }
}

/** Lookups of the chosen changes that act on a found way. */
export interface Chosen {
  has(key: string): boolean;
}

/** Points of one fastener under the chosen changes; null: none. */
export function fastenerUnder(
  rules: RuleSet,
  record: TeardownRecord,
  way: WayModel,
  met: WayModel["fasteners"][number],
  chosen: Chosen,
): number | null {
  const { joint, release } = met;
  const destroys = (release?.destroys ?? []).length > 0;
  if (!destroys && chosen.has(`whole joint=${joint.id}`)) return rules.fastenerPoints.reusable;
  const loose = joint.releases.length === 0;
  const { low: now } = loose
    ? looseKind(rules, joint, way.part)
    : fastenerKind(rules, record, joint, release, way.part);
  const spent = loose ? joint.remake?.newFastener === true : release?.leaves === "spent";
  if (!destroys && spent && chosen.has(`brings joint=${joint.id}`))
    return Math.max(now ?? 0, rules.fastenerPoints.resupplied ?? 0);
  return now;
}

export function toolUnder(
  rules: RuleSet,
  record: TeardownRecord,
  way: WayModel,
  role: PriorityRole,
  tool: string | null,
  chosen: Chosen,
): number | null {
  const now = toolKind(rules, record, way.part, tool).low;
  if (tool === null) return now;
  if (chosen.has(`basic tool=${tool}`)) return rules.toolPoints.basic;
  if (chosen.has(`with-spare-part tool=${tool} role=${role}`))
    return Math.max(now ?? 0, rules.toolPoints["with-spare-part"] ?? 0);
  return now;
}

export function depthUnder(rules: RuleSet, way: WayModel, chosen: Chosen): number {
  return depthPoints(rules, way.steps + rules.remoteSteps * remoteFlags(way.part, chosen).length);
}

/** The remote steps of a part that are still asked for, by the change that would take each away. */
export function remoteFlags(part: Part, chosen: Chosen): string[] {
  const flags: string[] = [];
  for (const what of ["notification", "authorisation"] as const) {
    const key = `no-${what} part=${part.id}`;
    if (part.pairing?.[what] && !chosen.has(key)) flags.push(key);
  }
  return flags;
}
