/**
 * The work that the log tells of, up to a part's lift: what is on the device at that moment in the order in which it was
 * undone, less what was needed only for other targets (reading I8).
 *
 * Entries are turned into operations by their joints, parts and tool. What is put back drops out again; a session that
 * undoes what was undone before begins with an assembled device. An operation is dropped, the last first, where without it no
 * more of the recorded structure stands in the way than the log leaves open anyway.
 */

import { CLOSING, UNDOING } from "../record/log-actions.ts";
import type { Entry, Joint, Part, Release, TeardownRecord } from "../record/schema.ts";
import { HAZARDS } from "../record/schema.ts";
import { needHolds } from "../route/advance.ts";
import { Assemblies, type Compiled, compile } from "../structure/index.ts";
import { type LawOperation, moveOperation, operationText, sourceOf, sourceOfHeat } from "./operations.ts";
import { PowerRule } from "./power-rule.ts";
import type { Sequence } from "./sequence.ts";

/** The sequence up to the lift of each part that the log lifts, by part id. */
export class Log {
  private readonly compiled: Compiled;
  private readonly index = new Map<string, number[]>();
  private readonly lifted = new Map<string, readonly LawOperation[]>();
  private readonly drafts: number;
  private readonly rule: PowerRule;

  constructor(record: TeardownRecord) {
    const target = record.parts.find((part) => !part.base);
    this.compiled = compile(record, { damage: true, accept: HAZARDS }, target ? [target.id] : [], false);
    this.rule = new PowerRule(this.compiled.view);
    this.compiled.meanings.forEach((meaning, index) => {
      const key = meaning.kind === "release" ? `release ${meaning.joint.id}` : `${meaning.kind} ${meaning.part.id}`;
      this.index.set(key, [...(this.index.get(key) ?? []), index]);
    });
    this.drafts = record.log.filter((entry) => entry.draft).length;
    new Reader(record, this.lifted).read();
  }

  sequence(part: Part): Sequence {
    const all = this.lifted.get(part.id);
    if (all === undefined) {
      const because = `the log does not lift ${part.name} (${part.id}) by itself`;
      return { kind: "cannot-tell", part, because, warnings: [because] };
    }
    const operations = this.needed(all);
    const warnings: string[] = [];
    if (this.drafts > 0)
      warnings.push(`the log holds ${this.drafts} draft entries that nobody has accepted; they are counted`);
    const open = [...this.unmet(operations).values()];
    if (open.length > 0)
      warnings.push(
        `${part.id}: the log lifts it although ${open.slice(0, 3).join("; ")}${open.length > 3 ? "; and more" : ""}`,
      );
    return { kind: "told", part, operations, warnings };
  }

  /**
   * Reading I8: what no other kept operation waits for is dropped, from the last to the first. All work on one joint, and all
   * heating of one zone, stays or goes together: a joint undone in several goes took all of them.
   */
  private needed(all: readonly LawOperation[]): readonly LawOperation[] {
    const allowed = new Set(this.unmet(all).keys());
    const target = all.at(-1);
    const works = [...new Set(all.map(operationText))].reverse();
    let kept = all;
    for (const work of works) {
      if (target !== undefined && work === operationText(target)) continue;
      const without = kept.filter((operation) => operationText(operation) !== work);
      const open = this.unmet(without);
      if ([...open.keys()].every((key) => allowed.has(key))) kept = without;
    }
    return kept;
  }

  /** The needs that do not hold where an operation stands, by a key that stays the same when others are dropped. */
  private unmet(operations: readonly LawOperation[]): Map<string, string> {
    const { problem, meanings } = this.compiled;
    const open = new Map<string, string>();
    const done = new Uint8Array(problem.operations.length);
    const warm = new Set<string>();
    let isolated = false;
    for (const operation of operations) {
      if (operation.kind === "heat") {
        if (operation.zone !== null) warm.add(operation.zone);
        continue;
      }
      const key = operationText(operation);
      const indices = this.index.get(key) ?? [];
      const [first] = indices;
      if (first !== undefined) {
        problem.operations[first].needs.forEach((need, n) => {
          if (needHolds(need, done)) return;
          const waits = need[0]?.find((atom) => !atom.some((other) => done[other] === 1))?.[0];
          const meaning = waits === undefined ? undefined : meanings[waits];
          const name = meaning?.kind === "release" ? meaning.joint.id : meaning?.part.id;
          open.set(`${key} ${n}`, `nothing is said of ${name ?? "what can never be done"} before ${key}`);
        });
      }
      if (operation.kind === "release") {
        const zone = operation.release?.heat?.zone;
        if (zone !== undefined && !warm.has(zone)) open.set(`${key} heat`, `nothing is said of heat before ${key}`);
        // Isolating the cell is needed for the target too where live work on the way waits for it.
        const { power } = this.rule;
        if (operation.joint.id === power?.id) isolated = true;
        else if (!isolated && operation.release !== null && this.rule.waits(operation.joint, operation.release))
          open.set(`${key} power`, `nothing is said of ${power?.id} before ${key}, which is live work`);
      }
      for (const one of indices) done[one] = 1;
    }
    return open;
  }
}

class Reader {
  private readonly record: TeardownRecord;
  private readonly lifted: Map<string, readonly LawOperation[]>;
  private readonly joints: ReadonlyMap<string, Joint>;
  private readonly parts: ReadonlyMap<string, Part>;
  private readonly assemblies: Assemblies;
  private current: LawOperation[] = [];
  private session: string | undefined;

  constructor(record: TeardownRecord, lifted: Map<string, readonly LawOperation[]>) {
    this.record = record;
    this.lifted = lifted;
    this.joints = new Map(record.joints.map((joint) => [joint.id, joint]));
    this.parts = new Map(record.parts.map((part) => [part.id, part]));
    this.assemblies = new Assemblies(record);
  }

  read(): void {
    this.record.log.forEach((entry, index) => {
      this.startAnew(entry);
      const from = `log[${index}]`;
      if (UNDOING.has(entry.action)) this.undo(entry, from);
      else if (entry.action === "lift" || entry.action === "shift") this.move(entry, entry.action, from);
      else if (entry.action === "heat") this.heat(entry, from);
      else if (entry.action === "refit")
        this.drop((one) => one.kind !== "release" && one.kind !== "heat" && (entry.parts ?? []).includes(one.part.id));
      else if (CLOSING.has(entry.action))
        this.drop((one) => one.kind === "release" && this.jointsOf(entry).includes(one.joint));
    });
  }

  /** Another session that undoes what stands undone has begun with an assembled device. */
  private startAnew(entry: Entry): void {
    const before = this.session;
    this.session = entry.session ?? before;
    if (entry.session === undefined || before === undefined || entry.session === before) return;
    const ahead = this.record.log.filter((other) => other.session === entry.session);
    const again = ahead.some(
      (other) =>
        (other.action === "lift" && (other.parts ?? []).some((part) => this.stands("lift", part))) ||
        (UNDOING.has(other.action) && (other.joints ?? []).some((joint) => this.stands("release", joint))),
    );
    if (again) this.current = [];
  }

  private stands(kind: "lift" | "release", id: string): boolean {
    return this.current.some(
      (one) => one.kind === kind && (one.kind === "release" ? one.joint.id : one.part.id) === id,
    );
  }

  private drop(gone: (operation: LawOperation) => boolean): void {
    this.current = this.current.filter((operation) => !gone(operation));
  }

  private undo(entry: Entry, from: string): void {
    for (const joint of this.jointsOf(entry)) {
      const release = releaseMeant(joint, entry);
      const tools = toolsUsed(entry, release);
      const before = this.current.findLast((one) => one.kind === "release" && one.joint === joint);
      // Going on with the same joint and the same tools is one undoing, told in several entries.
      if (before?.kind === "release" && before.tools.join() === tools.join()) continue;
      this.current.push({
        kind: "release",
        joint,
        release,
        tools,
        ...(joint.side === undefined ? {} : { side: joint.side }),
        from,
      });
    }
  }

  /** The joints that an entry names; else those of its parts that this action undoes and that still hold. */
  private jointsOf(entry: Entry): Joint[] {
    if (entry.joints !== undefined) return entry.joints.flatMap((id) => this.joints.get(id) ?? []);
    if (entry.action === "isolate" || entry.action === "wake") return this.record.joints.filter((joint) => joint.power);
    const parts = (entry.parts ?? []).flatMap((id) => this.parts.get(id) ?? []);
    return this.record.joints.filter(
      (joint) =>
        !this.stands("release", joint.id) &&
        joint.releases.some((release) => release.action === entry.action) &&
        parts.some((part) => this.assemblies.crosses(joint, part.id)),
    );
  }

  private move(entry: Entry, kind: "lift" | "shift", from: string): void {
    for (const id of entry.parts ?? []) {
      const part = this.parts.get(id);
      if (part === undefined || part.base || (kind === "lift" && this.stands("lift", id))) continue;
      this.current.push({ ...moveOperation(kind, part), from });
      if (kind === "lift" && !this.lifted.has(id)) this.lifted.set(id, [...this.current]);
    }
  }

  /** Heating the same bond again, with nothing lifted in between, is another round of the same work (reading I10). */
  private heat(entry: Entry, from: string): void {
    const heat = this.heatMeant(entry);
    const zone = heat?.zone ?? null;
    const stated = heat === undefined ? { by: null, held: false } : sourceOfHeat(heat);
    const source =
      entry.tool === undefined
        ? stated
        : { ...stated, by: entry.tool, held: heat === undefined || heat.down === undefined };
    const since = this.current.findLastIndex((one) => one.kind === "heat" && one.zone === zone);
    const between = since < 0 ? [] : this.current.slice(since + 1);
    const again = since >= 0 && zone !== null && between.every((one) => one.kind === "release" && zoneOf(one) === zone);
    if (!again) {
      this.current.push({
        kind: "heat",
        zone,
        source: zone === null ? source : { ...sourceOf(this.record, zone), ...source },
        from,
      });
      return;
    }
    const last = this.current.at(-1);
    if (last?.kind !== "release") return;
    this.current[this.current.length - 1] = { ...last, passes: (last.passes ?? 1) + 1, firstHeatingBefore: true };
  }

  private heatMeant(entry: Entry): Release["heat"] {
    const near = this.record.joints.filter(
      (joint) =>
        entry.joints?.includes(joint.id) ||
        (entry.joints === undefined && (entry.parts ?? []).some((part) => joint.holds.includes(part))),
    );
    const heats = (joints: readonly Joint[]): NonNullable<Release["heat"]>[] =>
      joints.flatMap((joint) => joint.releases.flatMap((release) => release.heat ?? []));
    const own = heats(near);
    const byTool = (list: readonly NonNullable<Release["heat"]>[]) => list.find((heat) => heat.by === entry.tool);
    return byTool(own) ?? own[0] ?? (entry.tool === undefined ? undefined : byTool(heats(this.record.joints)));
  }
}

function zoneOf(operation: LawOperation & { kind: "release" }): string | undefined {
  return operation.release?.heat?.zone;
}

/** The way that the entry means: the same action with the same tool, else the same tool, else the same action. */
function releaseMeant(joint: Joint, entry: Entry): Release | null {
  const action = entry.action === "isolate" ? "unplug" : entry.action;
  const { releases } = joint;
  const acts = (release: Release): boolean => release.action === action;
  const withTool = (release: Release): boolean =>
    entry.tool === undefined ? release.tools.length === 0 : release.tools.includes(entry.tool);
  const byTool = entry.tool === undefined ? undefined : releases.find(withTool);
  return releases.find((one) => acts(one) && withTool(one)) ?? byTool ?? releases.find(acts) ?? null;
}

/** An entry names one tool; where the way meant takes it together with others, all of them were used. */
function toolsUsed(entry: Entry, release: Release | null): readonly string[] {
  if (entry.tool === undefined) return release?.tools ?? [];
  return release?.tools.includes(entry.tool) ? release.tools : [entry.tool];
}
