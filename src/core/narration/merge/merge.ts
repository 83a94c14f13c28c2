/**
 * A draft into a record: parts are matched and not doubled, roles guessed, screws and connectors become joints, and a
 * relation is guessed only by one of the rules below, with `basis: "inferred"`; it is `stated` where it was said.
 *
 * An order of work alone is no reason; the rules R1 to R5 are in obstacles.ts. The rule is kept in the note of the part, so
 * that the guess can be judged.
 *
 * Longer than most files here: every rule reads and adds to the same half-made record.
 *
 * Promised: the record given is not changed; what is added passes the record's rules; every entry, claim, proof and
 * question of the draft is added, matched or left over. Merging the same draft again adds nothing.
 */
import type { Basis, Claim, Entry, Joint, Part, Reading, Release, TeardownRecord, Tool } from "../../record/index.ts";
import type { BackEntry, Draft, DraftClaim, DraftEntry, DraftQuestion, Proof } from "../draft.ts";
import { nounAt } from "../lookup.ts";
import { build, type Work } from "./build.ts";
import { facing, jointKind, ownPart, quantityOf, releaseAction, tellingKey, toolKind, usedIds } from "./kinds.ts";
import { isMainBoard, nameWords, partFor, roleOf } from "./names.ts";
import { type Off, obstacle } from "./obstacles.ts";
import { thanOf } from "./than.ts";

export interface LeftOver {
  readonly at: number | null;
  readonly text: string;
}

export interface Merged {
  readonly record: TeardownRecord;
  /** Number of things added to the record: parts, joints, tools, entries, readings, claims, checks. */
  readonly added: number;
  /** Number of things of the draft that the record held already. */
  readonly matched: number;
  readonly leftOver: readonly LeftOver[];
}

/** Bond temperature that is taken where none was said, degC: common practice for a pressure-sensitive rim, no source. */
const BOND_SOFT = 65;

type Writable<T> = { -readonly [K in keyof T]: T[K] };

export function mergeDraft(record: TeardownRecord, draft: Draft, session?: string): Merged {
  return new Merge(record, draft, session).run();
}

class Merge {
  readonly #draft: Draft;
  readonly #session: string | undefined;
  readonly #record: TeardownRecord;
  readonly #parts: Writable<Part>[];
  readonly #joints: Writable<Joint>[];
  readonly #tools: Tool[];
  readonly #log: Entry[];
  readonly #readings: Reading[];
  readonly #unnamed: DraftEntry[] = [];
  readonly #claims: Claim[];
  readonly #checks: NonNullable<TeardownRecord["checks"]>[number][];
  readonly #left: LeftOver[] = [];
  readonly #ids: Set<string>;
  readonly #base: string;
  readonly #deviceWords: ReadonlySet<string>;
  #added = 0;
  #matched = 0;
  /** Covers that are off: part ids, with the entry at which they came off. */
  #cover: string | null = null;
  #turned = false;
  /** Entries that the record held before, by what was said. */
  readonly #told = new Map<string, Entry[]>();
  readonly #off = new Set<string>();
  readonly #offs: Off[] = [];
  /** Words with which film was peeled, by part. */
  readonly #peels = new Map<string, string>();
  readonly #made = new Set<string>();
  readonly #work: Work[] = [];
  #last: string | null = null;
  #heat: { part: string; plate?: number; seconds?: number; tool?: string } | null = null;

  constructor(record: TeardownRecord, draft: Draft, session: string | undefined) {
    this.#record = record;
    this.#draft = draft;
    this.#session = session ?? (record.sessions?.length === 1 ? record.sessions[0]!.id : undefined);
    this.#parts = record.parts.map((part) => ({ ...part }));
    this.#joints = record.joints.map((joint) => ({ ...joint }));
    this.#tools = [...record.tools];
    this.#log = [...record.log];
    this.#readings = [...record.readings];
    this.#claims = [...record.claims];
    this.#checks = [...(record.checks ?? [])];
    this.#ids = usedIds(record);
    for (const entry of record.log) {
      const key = tellingKey(entry);
      this.#told.set(key, [...(this.#told.get(key) ?? []), entry]);
    }
    this.#base = (record.parts.find((part) => part.base === true) ?? record.parts[0])?.id ?? "";
    this.#deviceWords = new Set([
      ...nameWords(record.device.name),
      ...nameWords(record.device.model ?? ""),
      ...nameWords(record.device.maker ?? ""),
    ]);
  }

  run(): Merged {
    // Notes last: they speak of parts that are named and made later.
    for (const entry of this.#draft.entries) if (entry.action !== "note") this.#entry(entry);
    for (const entry of this.#draft.entries) if (entry.action === "note") this.#entry(entry);
    this.#build();
    for (const claim of this.#draft.claims) this.#claim(claim);
    for (const entry of this.#draft.back) this.#back(entry);
    // Figures of what had no name yet: "the plate is at 75 degrees" before the phone is put on it.
    for (const entry of this.#unnamed.splice(0)) this.#reading(entry, true);
    for (const proof of this.#draft.proofs) this.#proof(proof);
    for (const question of this.#draft.questions) this.#question(question);
    const { checks: _checks, ...rest } = this.#record;
    const merged: TeardownRecord = {
      ...rest,
      parts: this.#parts,
      joints: this.#joints,
      tools: this.#tools,
      log: this.#log,
      readings: this.#readings,
      claims: this.#claims,
      ...(this.#checks.length === 0 ? {} : { checks: this.#checks }),
    };
    return { record: merged, added: this.#added, matched: this.#matched, leftOver: this.#left };
  }

  #build(): void {
    const half = {
      parts: this.#parts,
      joints: this.#joints,
      made: this.#made,
      base: this.#base,
      add: (joint: Omit<Joint, "id">, wish: string) => {
        const id = this.#id(wish);
        this.#joints.push({ id, ...joint });
        this.#made.add(id);
        this.#added += 1;
      },
      record: () => ({ ...this.#record, parts: this.#parts, joints: this.#joints, tools: this.#tools }),
    };
    build(half, this.#work, this.#draft.facts ?? []);
  }

  #leave(one: { at: number | null; text: string }): void {
    this.#left.push({ at: one.at, text: one.text });
  }

  #id(wish: string): string {
    const slug =
      wish
        .toLowerCase()
        .normalize("NFKD")
        .replace(/[^a-z0-9]+/g, "-")
        .replace(/^-+|-+$/g, "")
        .slice(0, 60) || "thing";
    let id = slug;
    for (let nth = 2; this.#ids.has(id); nth += 1) id = `${slug}-${nth}`;
    this.#ids.add(id);
    return id;
  }

  /** Is it the device itself? */
  #isDevice(text: string): boolean {
    const words = nameWords(text);
    const noun = nounAt((n) => words[n] ?? null);
    return (
      (noun?.classes[0] === "device" && noun.words.length === words.length) ||
      (words.length > 0 && words.every((word) => this.#deviceWords.has(word)))
    );
  }

  /** The part of that name, made where the record has none; null for what is no part of its own (glue, clips, a face). */
  #part(text: string, make: boolean): string | null {
    const face = /^(?:back|rear)$/i.test(text) ? "back-cover" : /^front$/i.test(text) ? "display" : null;
    if (face !== null)
      return (
        this.#parts.find((part) => part.role === face)?.id ??
        (make ? this.#make(face === "display" ? "display" : "back cover") : null)
      );
    const found = partFor(this.#parts, text);
    // A lid inside, once the back is off, is not the back.
    const inner =
      found !== null &&
      found.role === "back-cover" &&
      this.#off.has(found.id) &&
      make &&
      !/\b(?:back|rear|bottom|glass|shell|housing)\b/i.test(text) &&
      nameWords(found.name).join() !== nameWords(text).join();
    if (found !== null && !inner) {
      if (!this.#made.has(found.id)) this.#matched += 1;
      return found.id;
    }
    if (!make || this.#isDevice(text) || !ownPart(text)) return null;
    return this.#make(text, inner ? "bracket" : roleOf(text));
  }

  #make(name: string, role: Part["role"] | null = roleOf(name)): string {
    const id = this.#id(name);
    this.#parts.push({ id, name: name.charAt(0).toUpperCase() + name.slice(1), ...(role === null ? {} : { role }) });
    this.#made.add(id);
    this.#added += 1;
    return id;
  }

  #tool(name: string | undefined): string | null {
    if (name === undefined || /^(?:hand|hands|bare hands|finger|fingers|fingernail|thumb|nail)$/i.test(name))
      return null;
    const words = nameWords(name).join(" ");
    const known = this.#tools.find((tool) => nameWords(tool.name).join(" ") === words);
    if (known !== undefined) return known.id;
    const id = this.#id(name);
    const heats = /\b(?:hot|heat|heating|hair ?dryer|iron|oven|warm)/i.test(name);
    this.#tools.push({
      id,
      name,
      kind: toolKind(name),
      ...(heats ? { heatSource: true as const } : {}),
      ...(/tweezers|metal|steel|screwdriver|driver/i.test(name) && !heats ? { conductive: true as const } : {}),
    });
    this.#added += 1;
    return id;
  }

  #entry(entry: DraftEntry): unknown {
    const told = this.#told.get(tellingKey(entry));
    const before = told?.shift();
    if (before !== undefined) {
      // The record has it from an earlier merge, and perhaps a person has changed it since.
      this.#matched += 1;
      const part = before.parts?.[0];
      this.#last = part ?? this.#last;
      if (part !== undefined && (entry.action === "lift" || entry.action === "shift")) this.#lifted(part);
      if (entry.action === "turn") this.#turned = !this.#turned;
      return;
    }
    if (entry.action === "measure") return this.#reading(entry);
    if (entry.action === "note") return this.#note(entry);
    if (entry.action === "turn") {
      this.#turned = !this.#turned;
      return this.#write({ action: "turn" }, entry);
    }
    const part =
      this.#edgeScrews(entry) ??
      this.#part(
        entry.object,
        /^(?:lift|shift|unscrew|unplug|desolder|cut|peel|pry|slice|heat|debond|guard|wet)$/.test(entry.action),
      );
    if (part === null) {
      // Glue, clips and tabs belong to the part that is being worked on; what names nothing is left for a person.
      const about = /\b(?:glue|adhesive|tab|tabs|strip|strips|clip|clips|gap|seam|edge)\b/i.test(entry.object)
        ? this.#about(entry)
        : null;
      if (about === null) return this.#leave(entry);
      const joint = this.#joint(entry, about);
      return this.#write(
        { action: entry.action, parts: [about], ...(joint === null ? {} : { joints: [joint] }) },
        entry,
      );
    }
    if (entry.action === "peel" && !/\b(?:tab|tabs|strip|strips)\b/i.test(entry.object))
      this.#peels.set(part, entry.text);
    const joint = this.#joint(entry, part);
    this.#write({ action: entry.action, parts: [part], ...(joint === null ? {} : { joints: [joint] }) }, entry);
    if (entry.action === "heat")
      this.#heat = { part, ...(this.#tool(entry.tool) === null ? {} : { tool: this.#tool(entry.tool)! }) };
    if (entry.action === "lift") this.#lies(part);
    if (entry.action === "lift" || entry.action === "shift") this.#lifted(part);
    if (entry.action === "peel" && this.#peels.has(part)) this.#peeled(part);
    if (entry.action === "shift") this.#shifts(part);
  }

  /** Film that was peeled is out of the way, also where nobody says that it was put aside. */
  #peeled(part: string): void {
    const one = this.#parts.find((each) => each.id === part);
    if (one === undefined || this.#offs.some((each) => each.part.id === part)) return;
    this.#offs.push({ part: one, peeled: this.#peels.get(part)!, screwed: this.#screwed(part) });
  }

  #screwed(part: string): boolean {
    return this.#joints.some((joint) => joint.kind === "screw" && joint.holds[0] === part);
  }

  /** A part that only lies there, or whose glue nobody spoke of: what covers it is guessed for the part itself. */
  #lies(part: string): void {
    const one = this.#parts.find((each) => each.id === part)!;
    if (!this.#made.has(part) || one.under !== undefined || part === this.#cover || part === this.#base) return;
    if (/^(?:sim-tray|display|back-cover)$/.test(one.role ?? "")) return;
    if (this.#joints.some((joint) => joint.holds[0] === part && joint.kind !== "connector")) return;
    const reach = this.#reach(part, "press-fit");
    if (reach === null) return;
    one.under = [[...reach.parts]];
    one.basis = reach.basis;
  }

  /** "Fold the display out": it can be moved aside once its rim is free. */
  #shifts(part: string): void {
    const one = this.#parts.find((each) => each.id === part)!;
    const rim = this.#joints.filter(
      (joint) => joint.holds.includes(part) && joint.kind !== "connector" && this.#made.has(joint.id),
    );
    if (this.#made.has(part) && one.shift === undefined && rim.length > 0)
      one.shift = { freeing: rim.map((joint) => joint.id) };
  }

  /** Screws in the edge of a closed device hold what is opened next. */
  #edgeScrews(entry: DraftEntry): string | null {
    if (entry.action !== "unscrew" || this.#cover !== null || !(facing(entry.object) || this.#isDevice(entry.object)))
      return null;
    const next = this.#draft.entries.find(
      (one) =>
        /^(?:pry|slice|heat|lift|shift)$/.test(one.action) &&
        (/^(?:back|rear|front)$/i.test(one.object) || /^(?:back-cover|display)$/.test(roleOf(one.object) ?? "")),
    );
    return next === undefined ? null : this.#part(next.object, true);
  }

  /** The part that glue, clips or tabs belong to: the cell where current is put on, else what was worked on last. */
  #about(entry: DraftEntry): string | null {
    const cell = this.#parts.find((one) => one.role === "battery")?.id;
    if (cell !== undefined && (entry.action === "debond" || entry.quantity === "voltage")) return cell;
    // Pull tabs hold the cell: common practice, no source.
    if (
      cell !== undefined &&
      !this.#off.has(cell) &&
      entry.action === "peel" &&
      /\b(?:tabs?|strips?)\b/i.test(entry.object)
    )
      return cell;
    return this.#latest() ?? this.#heat?.part ?? null;
  }

  /** The part that this talk worked on last; what the record tells of other talk is no matter. */
  #latest(): string | null {
    return this.#last;
  }

  #lifted(part: string): void {
    this.#off.add(part);
    const one = this.#parts.find((each) => each.id === part);
    const peeled = this.#peels.get(part);
    if (one !== undefined && !this.#offs.some((each) => each.part.id === part))
      this.#offs.push({ part: one, screwed: this.#screwed(part), ...(peeled === undefined ? {} : { peeled }) });
    const role = this.#parts.find((one) => one.id === part)?.role;
    if (this.#cover === null && (role === "back-cover" || role === "display")) this.#cover = part;
  }

  #write(
    fields: Partial<Entry> & { action: Entry["action"] },
    from: { at: number | null; text: string; tool?: string; lies?: string },
  ): void {
    this.#last = fields.parts?.[0] ?? this.#last;
    if (fields.parts?.[0] !== undefined && fields.action !== "note")
      this.#work.push({ ...from, action: fields.action, part: fields.parts[0], joint: fields.joints?.[0] ?? null });
    const tool = fields.action === "wet" ? null : this.#tool(from.tool);
    const known = this.#log.find(
      (one) =>
        one.action === fields.action &&
        one.text === from.text &&
        (one.at ?? null) === from.at &&
        one.parts?.[0] === fields.parts?.[0],
    );
    if (known !== undefined) {
      this.#matched += 1;
      return;
    }
    this.#log.push({
      id: this.#id(`e-${fields.action}-${fields.parts?.[0] ?? "device"}`),
      ...(this.#session === undefined ? {} : { session: this.#session }),
      ...(from.at === null ? {} : { at: from.at }),
      ...fields,
      ...(tool === null ? {} : { tool }),
      ...(from.lies === undefined ? {} : { lies: from.lies }),
      text: from.text,
      draft: true,
    });
    this.#added += 1;
  }

  /** The joint that this work undoes, matched or made. */
  #joint(entry: DraftEntry, part: string): string | null {
    const kind = jointKind(entry.action, entry.object, this.#parts.find((one) => one.id === part)?.role);
    if (kind === null || part === this.#base) return null;
    const known = this.#joints.find(
      (one) =>
        one.holds.includes(part) &&
        (one.kind === kind ||
          (kind === "press-fit" && (one.kind === "adhesive" || one.kind === "clip")) ||
          (kind === "adhesive" && (one.kind === "clip" || one.kind === "tape" || one.kind === "press-fit"))),
    );
    if (known !== undefined) {
      if (!this.#made.has(known.id)) this.#matched += 1;
      else this.#improve(known, entry);
      return known.id;
    }
    const other = kind === "connector" || kind === "solder" ? (this.#board(part) ?? this.#base) : this.#base;
    if (other === "" || other === part) return null;
    const wet = entry.action === "wet";
    const tool = wet ? null : this.#tool(entry.tool);
    const release: Release = {
      action: releaseAction(kind, entry.action),
      tools: tool !== null ? [tool] : kind === "screw" ? [this.#tool("screwdriver")!] : [],
      leaves:
        kind === "screw" || kind === "connector" || kind === "clip"
          ? "whole"
          : entry.action === "cut"
            ? "broken"
            : kind === "solder"
              ? "unknown"
              : "spent",
      ...this.#heating(kind, part),
      ...(wet ? { solvent: true as const } : {}),
    };
    const reach = this.#reach(part, kind);
    const role = this.#parts.find((one) => one.id === part)?.role;
    const power = kind === "connector" && role === "battery" && !this.#joints.some((one) => one.power === true);
    const id = this.#id(`${kind}-${part}`);
    this.#joints.push({
      id,
      kind,
      holds: [part, other],
      ...(entry.count === undefined || entry.count < 1 || !Number.isInteger(entry.count) ? {} : { count: entry.count }),
      ...(reach === null ? {} : { reach: [[...reach.parts]], basis: reach.basis }),
      ...(this.#turned && this.#cover !== null ? { side: "front" as const } : {}),
      ...(power ? { power: true as const } : {}),
      releases: [release],
    });
    this.#made.add(id);
    this.#added += 1;
    return id;
  }

  /** A joint made from an earlier entry learns the count and the tool from a later one. */
  #improve(joint: Writable<Joint>, entry: DraftEntry): void {
    if (joint.count === undefined && entry.count !== undefined && entry.count >= 1 && Number.isInteger(entry.count))
      joint.count = entry.count;
    const tool = entry.action === "wet" ? null : this.#tool(entry.tool);
    const first = joint.releases[0];
    if (first === undefined) return;
    // A cup opens the gap while a pick is put in: both are in hand.
    const rim = first.action === "pry" && entry.action === "slice" && joint.kind === "adhesive";
    const heat = joint.holds.map((id) => this.#heating(joint.kind, id)).find((one) => one.heat !== undefined);
    joint.releases = [
      {
        ...first,
        ...(rim ? { action: "slice" as const } : {}),
        ...(tool !== null && (first.tools.length === 0 || (rim && !first.tools.includes(tool)))
          ? { tools: [...first.tools, tool] }
          : {}),
        ...(first.heat === undefined && heat !== undefined ? heat : {}),
      },
      ...joint.releases.slice(1),
    ];
  }

  #heating(kind: Joint["kind"], part: string): Pick<Release, "heat"> {
    const heat = this.#heat;
    if (heat === null || heat.part !== part || kind !== "adhesive") return {};
    const plate =
      heat.tool !== undefined &&
      /plate|mat|pad|bed/i.test(this.#tools.find((tool) => tool.id === heat.tool)?.name ?? "");
    const down =
      this.#parts.find((one) => one.id === part)?.role === "display" ? ("front" as const) : ("back" as const);
    const zone = `zone-${part}`;
    return {
      heat: {
        zone,
        bond: BOND_SOFT,
        ...(heat.plate === undefined ? {} : { plate: heat.plate }),
        ...(heat.tool === undefined || plate ? {} : { by: heat.tool }),
        ...(plate ? { down } : {}),
        ...(heat.seconds === undefined ? {} : { seconds: heat.seconds }),
      },
    };
  }

  #board(part: string): string | null {
    const boards = this.#parts.filter((one) => one.id !== part && one.role === "board");
    return boards.find((one) => isMainBoard(one.name) && !this.#off.has(one.id))?.id ?? null;
  }

  /** What stands in the way, by the rules at the head of this file; null where none applies. */
  #reach(part: string, kind: Joint["kind"]): { parts: readonly string[]; basis: Basis } | null {
    // The other face is opened from outside.
    const role = this.#parts.find((one) => one.id === part)?.role;
    if ((role === "display" || role === "back-cover") && kind !== "connector" && kind !== "screw") return null;
    if (role === "sim-tray") return null;
    const cover = this.#cover === null || !this.#off.has(this.#cover) ? null : this.#cover;
    const guess = obstacle(
      this.#parts.find((one) => one.id === part)!,
      kind,
      this.#offs,
      this.#parts.find((one) => one.id === cover) ?? null,
    );
    if (guess === null) return null;
    this.#remember(part, guess.because);
    return { parts: guess.parts, basis: "inferred" };
  }

  /** Keeps the rule of a guess with the part; a note that a person wrote is left alone. */
  #remember(part: string, rule: string): void {
    const one = this.#parts.find((each) => each.id === part)!;
    if (this.#made.has(part) && (one.note === undefined || !one.note.includes(rule)))
      one.note = one.note === undefined ? `Guess by rule ${rule}.` : `${one.note} Guess by rule ${rule}.`;
  }

  /** Where a part is: what that says of the structure is in the facts of the draft. */
  #note(entry: DraftEntry): unknown {
    const part = this.#part(entry.object, false);
    if (part === null) return this.#leave(entry);
    this.#write({ action: "note", parts: [part] }, entry);
  }

  #reading(entry: DraftEntry, last = false): unknown {
    const { quantity, value, unit } = entry;
    if (
      quantity === undefined ||
      value === undefined ||
      unit === undefined ||
      !(value > 0 || quantity === "temperature")
    )
      return this.#leave(entry);
    const earlier = / on the (.+)$/.exec(entry.object);
    const name = earlier === null ? entry.object : entry.object.slice(0, earlier.index);
    if (earlier !== null && this.#record.sibling === undefined) return this.#leave(entry);
    if (quantity === "temperature" || quantity === "duration") {
      this.#setting(quantity, value, unit);
      const heater = this.#tools.find((tool) => nameWords(tool.name).some((word) => nameWords(name).includes(word)));
      if (heater !== undefined) return this.#read([heater.id], entry);
    }
    if (this.#isDevice(name) || quantity === "count") return this.#read(["device"], entry, earlier !== null);
    const part = this.#part(name, quantity !== "temperature" && quantity !== "duration" && quantity !== "voltage");
    if (part !== null) return this.#read([part], entry, earlier !== null);
    if (/\b(?:tab|tabs|strip|strips|glue|adhesive|clip|screws?)\b/i.test(name)) {
      const about = this.#about(entry);
      if (about !== null) return this.#read([about], entry);
    }
    if (last) this.#leave(entry);
    else this.#unnamed.push(entry);
  }

  #setting(quantity: "temperature" | "duration", value: number, unit: string): void {
    if (this.#heat === null) return;
    if (quantity === "temperature" && unit === "degC") this.#heat.plate = value;
    if (quantity === "duration" && (unit === "s" || unit === "min"))
      this.#heat.seconds = unit === "s" ? value : value * 60;
  }

  #read(of: string[], entry: DraftEntry, earlier = false): unknown {
    const known = this.#readings.find(
      (one) =>
        one.quantity === entry.quantity &&
        one.unit === entry.unit &&
        // What an earlier merge gave to one part stays there, whatever its name would find by now.
        (one.of.join() === of.join() || this.#record.readings.includes(one)) &&
        (one.at ?? null) === entry.at &&
        one.values.includes(entry.value!),
    );
    if (known !== undefined) {
      this.#matched += 1;
      return;
    }
    this.#readings.push({
      id: this.#id(`r-${entry.quantity}-${of[0]}`),
      ...(this.#session === undefined ? {} : { session: this.#session }),
      ...(entry.at === null ? {} : { at: entry.at }),
      of,
      ...(earlier ? { record: this.#record.sibling! } : {}),
      quantity: entry.quantity!,
      values: [entry.value!],
      unit: entry.unit as Reading["unit"],
    });
    this.#added += 1;
  }

  #claim(claim: DraftClaim): unknown {
    const subject = this.#subject(claim.subject);
    if (subject === null) return this.#leave(claim);
    if (
      this.#claims.some(
        (one) => one.text === claim.text && (one.at ?? null) === claim.at && one.relation === claim.relation,
      )
    ) {
      this.#matched += 1;
      return;
    }
    const than =
      claim.than === undefined
        ? undefined
        : claim.relation === "superlative"
          ? claim.than
          : thanOf(claim.than, subject, this.#parts, this.#record.device, (text) => this.#isDevice(text));
    this.#claims.push({
      id: this.#id(`c-${claim.relation}-${subject}`),
      ...(this.#session === undefined ? {} : { session: this.#session }),
      ...(claim.at === null ? {} : { at: claim.at }),
      text: claim.text,
      subject: [subject],
      ...quantityOf(claim),
      relation: claim.relation,
      ...(claim.value === undefined ? {} : { value: claim.value, unit: claim.unit as NonNullable<Claim["unit"]> }),
      ...(claim.band === undefined ? {} : { band: claim.band }),
      ...(than === undefined ? {} : { than }),
    });
    this.#added += 1;
  }

  #subject(text: string): string | null {
    if (/^(?:screws?|width|height|thickness|length)$/i.test(text) || this.#isDevice(text)) return "device";
    return this.#part(text, true);
  }

  #back(entry: BackEntry): unknown {
    const part = this.#part(entry.object, false);
    if (part === null) return this.#leave(entry);
    this.#write({ action: entry.action, parts: [part] }, entry);
  }

  #proof(proof: Proof): unknown {
    if (this.#checks.some((one) => one.what === proof.what && (one.at ?? null) === proof.at)) {
      this.#matched += 1;
      return;
    }
    this.#checks.push({
      id: this.#id(`check-${proof.what}`),
      ...(this.#session === undefined ? {} : { session: this.#session }),
      ...(proof.at === null ? {} : { at: proof.at }),
      what: proof.what,
      when: "after",
      result: proof.result,
    });
    this.#added += 1;
  }

  #question(question: DraftQuestion): unknown {
    return this.#leave(question);
  }
}
