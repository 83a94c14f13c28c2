/**
 * Nothing left over: what the log says was taken out, opened, broken and taken away, against what it says went back.
 *
 * In: a record with its log; entries in the order of work. Out: every difference with its moment and its cup, what went
 * over an open connection, what was disturbed and not proved, and whether the work can be called closed. A difference is
 * explained by a later entry `note` that names the joint or the part and says why; nothing is explained away otherwise.
 *
 * An entry counts as all of a joint's screws unless its text tells a number. A clip, a magnet or a contact is closed when
 * everything that it holds is back; what moves with an assembly is back with it.
 */

import { InputError } from "../../errors.ts";
import {
  type Check,
  CLOSING,
  type Entry,
  type Joint,
  nearest,
  type TeardownRecord,
  UNDOING,
} from "../../record/index.ts";
import { Assemblies, isElectrical } from "../../structure/index.ts";
import { disturbedBy } from "../swap/prove.ts";
import { screwsTold } from "./counted.ts";
import { mustBeAway } from "./covered.ts";

export type DifferenceKind = "screws" | "connection" | "bond" | "joint" | "part" | "proof" | "failed";

export interface Difference {
  readonly kind: DifferenceKind;
  /** A joint, a part, or a function. */
  readonly of: string;
  readonly text: string;
  readonly session?: string;
  /** Seconds on the session's clock at which it came about. */
  readonly at?: number;
  readonly cup?: string;
  readonly out?: number;
  readonly back?: number;
  readonly lengths?: readonly number[];
  /** What a later note says about it. */
  readonly reason?: string;
}

/** Something was laid over a connection that was still open. */
export interface Covered {
  readonly joint: string;
  readonly by: string;
  readonly session?: string;
  readonly at?: number;
  readonly text: string;
}

export interface Cup {
  readonly cup: string;
  readonly holds: readonly { readonly of: string; readonly text: string; readonly since?: number }[];
}

export interface Closing {
  /** closed: no difference; open: every difference has its reason; unexplained: it cannot be called closed. */
  readonly state: "closed" | "open" | "unexplained";
  readonly differences: readonly Difference[];
  readonly covered: readonly Covered[];
  /** Cups and fields of the mat that are not empty. */
  readonly cups: readonly Cup[];
  /** Functions to be tried: through what was lifted and opened, and no other. */
  readonly prove: readonly string[];
  readonly proved: readonly string[];
  /** Tried nothing before the first screw: then a proof at the end proves less. */
  readonly noBaseline: readonly string[];
  readonly warnings: readonly string[];
}

const BONDS: ReadonlySet<Joint["kind"]> = new Set([
  "adhesive",
  "tape",
  "debondable-adhesive",
  "seal",
  "solder",
  "weld",
]);
/** Closed by itself when what it holds is back. */
const BY_ITSELF: ReadonlySet<Joint["kind"]> = new Set(["clip", "press-fit", "magnet", "spring-contact"]);

interface Open {
  readonly entry: Entry;
  out: number;
  back: number;
}

/**
 * @param session the work up to the end of this session; left out, all of the log
 * @throws InputError when there is no such session
 */
export function closingOf(record: TeardownRecord, session?: string): Closing {
  return new Ledger(record, session).run();
}

class Ledger {
  private readonly record: TeardownRecord;
  private readonly log: readonly Entry[];
  private readonly upTo: ReadonlySet<string | undefined>;
  private readonly assemblies: Assemblies;
  private readonly joints: ReadonlyMap<string, Joint>;
  private readonly names: ReadonlyMap<string, string>;
  private readonly open = new Map<string, Open>();
  /** Joints that were ever opened, with all that was taken out and put back. */
  private readonly away = new Map<string, Entry>();
  private readonly touched = { joints: new Set<string>(), parts: new Set<string>() };
  /** Parts tilted or laid aside, with what still holds them. */
  private readonly aside = new Set<string>();
  /** Bonds made again. */
  private readonly laid = new Set<Joint>();
  private readonly covered: Covered[] = [];
  private readonly warnings: string[] = [];

  constructor(record: TeardownRecord, session: string | undefined) {
    this.record = record;
    const sessions = (record.sessions ?? []).map((one) => one.id);
    const place = session === undefined ? sessions.length - 1 : sessions.indexOf(session);
    if (session !== undefined && place < 0) {
      const near = nearest(session, sessions);
      throw new InputError({
        path: "session",
        found: `no session "${session}"`,
        expected: sessions.length === 0 ? "a record with sessions" : `one of ${sessions.join(", ")}`,
        ...(near === undefined ? {} : { nearest: near }),
      });
    }
    this.upTo = new Set([undefined, ...sessions.slice(0, place + 1)]);
    this.log = record.log.filter((entry) => this.upTo.has(entry.session) && entry.draft !== true);
    this.assemblies = new Assemblies(record);
    this.joints = new Map(record.joints.map((joint) => [joint.id, joint]));
    this.names = new Map(record.parts.map((part) => [part.id, part.name]));
  }

  run(): Closing {
    this.clock();
    for (const entry of this.log) this.take(entry);
    const differences = [...this.leftOpen(), ...this.leftAway()];
    const { prove, proved, noBaseline, unproved } = this.proofs();
    const all = [...differences, ...unproved].map((one) => this.explained(one));
    return {
      state: all.length === 0 ? "closed" : all.every((one) => one.reason !== undefined) ? "open" : "unexplained",
      differences: all,
      covered: this.covered,
      cups: this.cups(),
      prove,
      proved,
      noBaseline,
      warnings: this.warnings,
    };
  }

  /** A clock that runs back is said; the order of the log stands. */
  private clock(): void {
    const last = new Map<string | undefined, number>();
    for (const { id, session, at } of this.log) {
      if (at === undefined) continue;
      const before = last.get(session);
      if (before !== undefined && at < before)
        this.warnings.push(
          `Entry ${id} stands at ${at} s, after one at ${before} s: the clock of ${session ?? "the log"} jumped. The order of the log is kept.`,
        );
      last.set(session, at);
    }
  }

  private take(entry: Entry): void {
    const { action } = entry;
    const joints = (entry.joints ?? []).flatMap((id) => this.joints.get(id) ?? []);
    if (UNDOING.has(action)) for (const joint of joints) this.opens(joint, entry, joints.length === 1);
    if (action === "lift") for (const part of entry.parts ?? []) this.lifts(part, entry);
    if (action === "shift") for (const part of entry.parts ?? []) this.aside.add(part);
    if (CLOSING.has(action) || action === "refit") {
      for (const joint of joints) this.closes(joint, entry, joints.length === 1);
      if (action === "refit" || action === "lay") for (const part of entry.parts ?? []) this.refits(part, entry);
    }
  }

  private opens(joint: Joint, entry: Entry, alone: boolean): void {
    this.laid.delete(joint);
    this.touched.joints.add(joint.id);
    const whole = joint.count ?? 1;
    const told = joint.kind === "screw" && alone ? screwsTold(entry.text) : null;
    const open = this.open.get(joint.id);
    if (open === undefined) this.open.set(joint.id, { entry, out: Math.min(told ?? whole, whole), back: 0 });
    else if (joint.kind === "screw") open.out = Math.min(whole, told === null ? whole : open.out + told);
  }

  private closes(joint: Joint, entry: Entry, alone: boolean): void {
    const open = this.open.get(joint.id);
    if (BONDS.has(joint.kind)) {
      this.laid.add(joint);
      this.lookUnder(joint, entry);
    }
    if (open === undefined) return;
    const told = joint.kind === "screw" && alone ? screwsTold(entry.text) : null;
    open.back = Math.min(open.out, told === null ? open.out : open.back + told);
    if (open.back >= open.out) this.open.delete(joint.id);
  }

  private lifts(part: string, entry: Entry): void {
    this.away.set(part, entry);
    for (const inside of this.assemblies.of(part)) this.touched.parts.add(inside);
    // What lets go by itself when the part comes away is open until the part is back.
    for (const joint of this.record.joints)
      if (joint.releases.length === 0 && isElectrical(joint) && joint.holds.includes(part))
        this.touched.joints.add(joint.id);
  }

  private refits(part: string, entry: Entry): void {
    this.away.delete(part);
    this.aside.delete(part);
    // Glue that was laid before its part came back seals when it does.
    for (const joint of this.laid) if (joint.holds.includes(part)) this.lookUnder(joint, entry);
    for (const [id] of [...this.open]) {
      const joint = this.joints.get(id)!;
      if (BY_ITSELF.has(joint.kind) && !joint.holds.some((one) => this.isAway(one))) this.open.delete(id);
    }
  }

  private isAway(part: string): boolean {
    return this.assemblies.containing(part).some((one) => this.away.has(one)) || this.away.has(part);
  }

  /** What is laid with a bond covers every open connection that cannot be reached with it in place. */
  private lookUnder(joint: Joint, entry: Entry): void {
    for (const [id] of this.open) {
      const connection = this.joints.get(id)!;
      if (!isElectrical(connection) || id === joint.id) continue;
      const over = mustBeAway(this.record, connection);
      if (this.covered.some((one) => one.joint === id && one.by === joint.id)) continue;
      // What is put on, not what it is put on to; and not a part that lies on the bench with the connection out of its reach.
      const placed = (part: string): boolean =>
        entry.parts?.includes(part) === true || !(this.isAway(part) || this.aside.has(part));
      const by = (entry.parts ?? joint.holds).find(
        (part) => joint.holds.includes(part) && over.has(part) && placed(part),
      );
      if (by !== undefined)
        this.covered.push({
          joint: id,
          by: joint.id,
          ...moment(entry),
          text: `${this.jointName(connection)} was still open when ${this.name(by)} was closed over it`,
        });
    }
  }

  private leftOpen(): Difference[] {
    return [...this.open].map(([id, { entry, out, back }]): Difference => {
      const joint = this.joints.get(id)!;
      const common = { of: id, ...moment(entry), ...(entry.lies === undefined ? {} : { cup: entry.lies }) };
      const where = entry.lies === undefined ? "" : `, in ${entry.lies}`;
      if (joint.kind === "screw") {
        const lengths = [
          ...new Set((joint.screws?.each ?? []).flatMap((one) => one.length ?? joint.screws?.length ?? [])),
        ];
        const length = lengths.length > 0 ? lengths : joint.screws?.length === undefined ? [] : [joint.screws.length];
        const left = out - back;
        return {
          kind: "screws",
          ...common,
          out,
          back,
          ...(length.length === 0 ? {} : { lengths: length }),
          text: `${left} of ${out} ${left === 1 ? "screw is" : "screws are"} not back: ${this.jointName(joint)}${length.length === 0 ? "" : `, ${length.join(" or ")} mm`}${where}`,
        };
      }
      if (isElectrical(joint))
        return { kind: "connection", ...common, text: `${this.jointName(joint)} was opened and is not closed${where}` };
      if (BONDS.has(joint.kind))
        return { kind: "bond", ...common, text: `${this.jointName(joint)} was undone and not made again` };
      return { kind: "joint", ...common, text: `${this.jointName(joint)} was undone and is not closed` };
    });
  }

  private leftAway(): Difference[] {
    return [...this.away].map(([part, entry]) => ({
      kind: "part" as const,
      of: part,
      ...moment(entry),
      ...(entry.lies === undefined ? {} : { cup: entry.lies }),
      text: `${this.name(part)} came out and is not back${entry.lies === undefined ? "" : `, it lies in ${entry.lies}`}`,
    }));
  }

  private cups(): Cup[] {
    const cups = new Map<string, Cup["holds"][number][]>();
    const put = (cup: string, of: string, text: string, since: number | undefined) => {
      const held = cups.get(cup) ?? [];
      held.push({ of, text, ...(since === undefined ? {} : { since }) });
      cups.set(cup, held);
    };
    for (const [id, { entry, out, back }] of this.open) {
      const joint = this.joints.get(id)!;
      if (entry.lies !== undefined && joint.kind === "screw")
        put(
          entry.lies,
          id,
          `${out - back} ${out - back === 1 ? "screw" : "screws"}: ${this.jointName(joint)}`,
          entry.at,
        );
    }
    for (const [part, entry] of this.away)
      if (entry.lies !== undefined) put(entry.lies, part, this.name(part), entry.at);
    return [...cups].map(([cup, holds]) => ({ cup, holds }));
  }

  private proofs() {
    const operations = [
      ...[...this.touched.parts].map((part) => ({ kind: "lift" as const, part })),
      ...[...this.touched.joints].map((joint) => ({ kind: "release" as const, joint })),
    ];
    const prove = disturbedBy(this.record, { operations: operations as never }).functions;
    const checks = (this.record.checks ?? []).filter((check) => this.upTo.has(check.session));
    const last = (what: string, when: Check["when"]) =>
      checks.findLast((check) => check.what === what && check.when === when);
    const proved = prove.filter((what) => last(what, "after")?.result === "works");
    const unproved = prove.flatMap((what): Difference[] => {
      const after = last(what, "after");
      if (after?.result === "works") return [];
      if (after?.result === "fails") {
        const before = last(what, "before")?.result;
        const then = before === "works" ? ", and worked before" : before === "fails" ? ", as it did before" : "";
        return [{ kind: "failed", of: what, ...moment(after), text: `${what} fails${then}` }];
      }
      return [{ kind: "proof", of: what, text: `${what} was disturbed and not tried` }];
    });
    const noBaseline = prove.filter((what) => {
      const before = last(what, "before");
      return before === undefined || before.result === "not-tried";
    });
    return { prove, proved, noBaseline, unproved };
  }

  /** The last note that names the thing, made no earlier than it came about. */
  private explained(difference: Difference): Difference {
    const from = this.log.findIndex((entry) => entry.session === difference.session && entry.at === difference.at);
    const note = this.log.findLast(
      (entry, index) =>
        entry.action === "note" &&
        entry.text !== undefined &&
        entry.text.trim() !== "" &&
        index >= from &&
        (entry.joints?.includes(difference.of) ||
          entry.parts?.includes(difference.of) ||
          ((difference.kind === "proof" || difference.kind === "failed") &&
            entry.text.toLowerCase().includes(difference.of.toLowerCase()))),
    );
    return note === undefined ? difference : { ...difference, reason: note.text! };
  }

  private name(part: string): string {
    return this.names.get(part) ?? part;
  }

  private jointName(joint: Joint): string {
    return `${joint.kind} of ${joint.holds.map((part) => this.name(part)).join(" and ")}`;
  }
}

function moment({ session, at }: { readonly session?: string; readonly at?: number }) {
  return { ...(session === undefined ? {} : { session }), ...(at === undefined ? {} : { at }) };
}
