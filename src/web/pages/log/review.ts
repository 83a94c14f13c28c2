/**
 * A narration under review: what was read from the talk, phrase by phrase, each ready to be taken into the record.
 *
 * In: the text of a transcript, the record, and how far the recording's clock is behind the session's. Out: the cues and the
 * items drafted from them. The whole draft is merged at once, so that what one phrase says of a part serves another; an item
 * brings along only the parts, joints and tools that it needs when it is taken. Pure; made in a worker.
 */
import {
  type Cue,
  type Draft,
  mergeDraft,
  parseTranscript,
  readNarration,
  type TranscriptWarning,
} from "../../../core/narration/index.ts";
import { isMark, type Moment, matchMarks } from "../../../core/narration/line/index.ts";
import type { Edit } from "../../../core/record/edits.ts";
import type { Check, Claim, Entry, Joint, Part, Reading, TeardownRecord, Tool } from "../../../core/record/index.ts";

export type Thing =
  | { readonly list: "log"; readonly item: Entry }
  | { readonly list: "readings"; readonly item: Reading }
  | { readonly list: "claims"; readonly item: Claim }
  | { readonly list: "checks"; readonly item: Check };

export interface Item {
  readonly id: string;
  /** Seconds of the session. */
  readonly at: number | null;
  /** Index of the cue in which it was said. */
  readonly cue: number;
  readonly text: string;
  /** What it becomes in the record; null: nothing there fits it yet. */
  readonly thing: Thing | null;
  /** Why a person should look; empty: sure. */
  readonly doubts: readonly string[];
  readonly rejected: boolean;
}

export interface Talk {
  readonly cues: readonly Cue[];
  readonly items: readonly Item[];
  readonly warnings: readonly TranscriptWarning[];
  /** Parts, joints and tools that the talk speaks of and the record does not have, by id. */
  readonly made: Readonly<Record<string, Made>>;
  /** Presses and lines of the hand that found their phrase. */
  readonly matched: number;
}

export type Made =
  | { readonly list: "parts"; readonly item: Part }
  | { readonly list: "joints"; readonly item: Joint }
  | { readonly list: "tools"; readonly item: Tool };

export interface TalkAsks {
  readonly text: string;
  readonly record: TeardownRecord;
  readonly session: string | null;
  /** Session seconds at the start of the recording. */
  readonly starts: number;
}

/** @throws InputError when the text is no transcript, with the line */
export function readTalk({ text, record, session, starts }: TalkAsks): Talk {
  const transcript = parseTranscript(text);
  const { draft, warnings } = readNarration(transcript);
  const shifted = shift(draft, starts);
  const merged = mergeTalk(record, shifted, session ?? undefined);
  const made: Record<string, Made> = {};
  for (const list of ["parts", "joints", "tools"] as const) {
    const known = new Set(record[list].map((one) => one.id));
    for (const item of merged[list]) if (!known.has(item.id)) made[item.id] = { list, item } as Made;
  }
  const cueAt = cueFinder(transcript.cues, starts);
  const prefix = `talk-${hash(text)}`;
  const find = finder(record, merged, prefix);
  const items: Item[] = [];
  const add = (one: { at: number | null; text: string }, thing: Thing | null, doubts: readonly string[]) => {
    items.push({
      id: `${prefix}-${items.length}`,
      at: one.at,
      cue: cueAt(one),
      text: one.text,
      thing,
      doubts: thing === null ? ["nothing in the record fits it yet", ...doubts] : doubts,
      rejected: false,
    });
  };
  const id = () => `${prefix}-${items.length}`;
  for (const one of shifted.entries) {
    const thing = one.action === "measure" ? find.reading(one, id()) : find.entry(one, id());
    add(one, thing, thing === null ? [] : entryDoubts(record, made, one, thing));
  }
  for (const one of shifted.claims) add(one, find.claim(one, id()), []);
  for (const one of shifted.back) add(one, find.entry(one, id()), []);
  for (const one of shifted.proofs) add(one, find.check(one, id()), []);
  for (const one of shifted.questions) add(one, null, [one.about]);
  const named = laidOver(record, session, items);
  return {
    cues: transcript.cues,
    items: named.items.sort((a, b) => a.cue - b.cue || (a.at ?? 0) - (b.at ?? 0)),
    warnings,
    made,
    matched: named.matched,
  };
}

/** Phrases that are merged at once. An afternoon has some hundreds; only what is no afternoon any more comes in pieces. */
const PIECE = 2000;

/**
 * The draft laid into the record. The merge looks back over everything that it wrote, so a talk of many hours is laid in by
 * pieces, which keeps the time linear; parts found in one piece are known to the next, guesses from the order of work are not.
 */
function mergeTalk(record: TeardownRecord, draft: Draft, session: string | undefined): TeardownRecord {
  const longest = Math.max(draft.entries.length, draft.claims.length, draft.back.length, draft.proofs.length);
  if (longest <= PIECE) return mergeDraft(record, draft, session).record;
  let known = record;
  const lists = {
    log: [...record.log],
    readings: [...record.readings],
    claims: [...record.claims],
    checks: [...(record.checks ?? [])],
  };
  for (let from = 0; from < longest; from += PIECE) {
    const cut = <T>(list: readonly T[]): readonly T[] => list.slice(from, from + PIECE);
    const piece: Draft = {
      ...draft,
      entries: cut(draft.entries),
      claims: cut(draft.claims),
      back: cut(draft.back),
      proofs: cut(draft.proofs),
      questions: [],
    };
    const { parts, joints, tools, ...made } = mergeDraft(known, piece, session).record;
    lists.log.push(...made.log.slice(record.log.length));
    lists.readings.push(...made.readings.slice(record.readings.length));
    lists.claims.push(...made.claims.slice(record.claims.length));
    lists.checks.push(...(made.checks ?? []).slice(record.checks?.length ?? 0));
    known = { ...known, parts, joints, tools };
  }
  return { ...known, ...lists };
}

function shift(draft: Draft, starts: number): Draft {
  if (starts === 0) return draft;
  const move = <T extends { at: number | null }>(list: readonly T[]): T[] =>
    list.map((one) => (one.at === null ? one : { ...one, at: Math.round((one.at + starts) * 1000) / 1000 }));
  return {
    ...draft,
    entries: move(draft.entries),
    claims: move(draft.claims),
    back: move(draft.back),
    proofs: move(draft.proofs),
    questions: move(draft.questions),
  };
}

/** FNV-1a, 32 bits: the same talk has the same ids whenever it is read. */
function hash(text: string): string {
  let value = 0x811c9dc5;
  for (let i = 0; i < text.length; i += 1) value = Math.imul(value ^ text.charCodeAt(i), 0x01000193) >>> 0;
  return value.toString(36);
}

function cueFinder(cues: readonly Cue[], starts: number) {
  const first = new Map<number, number>();
  cues.forEach((cue, index) => {
    if (cue.at !== null && !first.has(cue.at)) first.set(cue.at, index);
  });
  let plain = 0;
  return ({ at, text }: { at: number | null; text: string }): number => {
    if (at !== null) return first.get(Math.round((at - starts) * 1000) / 1000) ?? nearest(cues, at - starts);
    // No clock: the cue in which the first words stand, looked for from the last one found on.
    const words = text.toLowerCase().split(/\s+/).slice(0, 3).join(" ");
    for (let i = plain; i < Math.min(cues.length, plain + 400); i += 1)
      if (
        cues[i]!.text.toLowerCase()
          .replaceAll(/[.,;:!?]/g, "")
          .includes(words)
      ) {
        plain = i;
        break;
      }
    return plain;
  };
}

function nearest(cues: readonly Cue[], at: number): number {
  let [low, high] = [0, cues.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((cues[middle]!.at ?? 0) <= at) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Takes what the merge wrote for each phrase, in order; what the record held already comes first. */
function finder(record: TeardownRecord, merged: TeardownRecord, prefix: string) {
  const held = new Set(
    [...record.log, ...record.readings, ...record.claims, ...(record.checks ?? [])].map((one) => one.id),
  );
  const queues = <T extends { id: string }>(list: readonly T[], key: (one: T) => string) => {
    const map = new Map<string, T[]>();
    for (const one of list) {
      const queue = map.get(key(one));
      if (queue === undefined) map.set(key(one), [one]);
      else queue.push(one);
    }
    // An item that was changed after it was taken is known by its id.
    const byId = new Map(list.filter((one) => one.id.startsWith(prefix)).map((one) => [one.id, one]));
    return (wanted: string, id: string): T | null => {
      const taken = byId.get(id);
      const found = map.get(wanted)?.shift();
      if (taken !== undefined) return taken;
      if (found === undefined) return null;
      if (held.has(found.id)) return found;
      const { draft: _, ...kept } = found as T & { draft?: true };
      return { ...(kept as unknown as T), id };
    };
  };
  const entries = queues(merged.log, (one) => `${one.action}\n${one.at ?? ""}\n${one.text ?? ""}`);
  const readings = queues(merged.readings, (one) => `${one.quantity} ${one.values[0]} ${one.unit} ${one.at ?? ""}`);
  const claims = queues(merged.claims, (one) => `${one.relation}\n${one.at ?? ""}\n${one.text}`);
  const checks = queues(merged.checks ?? [], (one) => `${one.what}\n${one.at ?? ""}`);
  const thing = <L extends Thing["list"], T>(list: L, item: T | null) =>
    item === null ? null : ({ list, item } as unknown as Thing);
  return {
    entry: (one: { action: string; at: number | null; text: string }, id: string) =>
      thing("log", entries(`${one.action}\n${one.at ?? ""}\n${one.text}`, id)),
    reading: (one: Draft["entries"][number], id: string) =>
      thing("readings", readings(`${one.quantity} ${one.value} ${one.unit} ${one.at ?? ""}`, id)),
    claim: (one: Draft["claims"][number], id: string) =>
      thing("claims", claims(`${one.relation}\n${one.at ?? ""}\n${one.text}`, id)),
    check: (one: Draft["proofs"][number], id: string) => thing("checks", checks(`${one.what}\n${one.at ?? ""}`, id)),
  };
}

function entryDoubts(
  record: TeardownRecord,
  made: Readonly<Record<string, Made>>,
  one: Draft["entries"][number],
  thing: Thing,
): string[] {
  const doubts: string[] = [];
  const parts = thing.list === "log" ? (thing.item.parts ?? []) : thing.list === "readings" ? thing.item.of : [];
  for (const part of parts) {
    const fresh = made[part];
    if (fresh !== undefined) doubts.push(`a part that the record does not have: ${(fresh.item as Part).name}`);
  }
  const head = one.object.toLowerCase().split(/\s+/).at(-1) ?? "";
  if (one.action !== "turn" && head !== "" && !one.text.toLowerCase().includes(head.replace(/s$/, "")))
    doubts.push(`"${one.object}" is not in these words`);
  if (one.action === "note") doubts.push("a remark on where it is");
  if (thing.list === "log" && one.count !== undefined && thing.item.joints?.length === 1) {
    const joint = record.joints.find((each) => each.id === thing.item.joints![0]);
    if (joint?.count !== undefined && joint.count !== one.count)
      doubts.push(`${one.count} was said, the record has ${joint.count}`);
  }
  if (thing.list === "readings") {
    const { of, quantity, unit, values } = thing.item;
    const before = record.readings.find(
      (each) =>
        each.id !== thing.item.id &&
        each.record === thing.item.record &&
        each.quantity === quantity &&
        each.unit === unit &&
        each.of.join() === of.join(),
    );
    if (before !== undefined && Math.abs(before.values[0]! - values[0]!) > 0.1 * Math.abs(before.values[0]!))
      doubts.push(`the record has ${before.values[0]} ${unit}`);
  }
  return doubts;
}

/** Phrases laid over what the hand kept live: a mark gets the phrase's name, and what agrees is in the record already. */
function laidOver(
  record: TeardownRecord,
  session: string | null,
  items: readonly Item[],
): { items: Item[]; matched: number } {
  const live = record.log.filter(
    (one) => one.id.startsWith("line-") && one.at !== undefined && (session === null || one.session === session),
  );
  const moment = (id: string, entry: Entry): Moment => ({
    id,
    at: entry.at!,
    action: isMark(entry) ? null : entry.action,
    part: isMark(entry) ? null : (entry.parts?.[0] ?? null),
  });
  const said = items.flatMap((one) =>
    one.thing?.list === "log" && one.at !== null ? [moment(one.id, one.thing.item)] : [],
  );
  const found = new Map(
    matchMarks(
      live.map((one) => moment(one.id, one)),
      said,
    ).map((one) => [one.said, one]),
  );
  const byId = new Map(live.map((one) => [one.id, one]));
  const named = items.map((one): Item => {
    const match = found.get(one.id);
    const entry = match === undefined ? undefined : byId.get(match.mark);
    if (entry === undefined || one.thing?.list !== "log") return one;
    // A mark is named by the phrase; what was typed stays as it was typed.
    const item: Entry = isMark(entry) ? { ...one.thing.item, id: entry.id, at: entry.at! } : entry;
    return { ...one, thing: { list: "log", item } };
  });
  return { items: named, matched: found.size };
}

/** Whether the record has it, as it stands here or changed since. */
export function isTaken(index: ReadonlyMap<string, unknown>, { thing }: Item): boolean {
  if (thing === null) return false;
  const held = index.get(`${thing.list} ${thing.item.id}`);
  if (held === undefined) return false;
  // A mark has the id of the phrase that names it, and is no more than a mark until then.
  return thing.list !== "log" || !isMark(held as Entry) || isMark(thing.item);
}

export function indexOf(record: TeardownRecord): ReadonlyMap<string, unknown> {
  const map = new Map<string, unknown>();
  for (const list of ["log", "readings", "claims", "checks"] as const)
    for (const one of record[list] ?? []) map.set(`${list} ${one.id}`, one);
  return map;
}

/** The edits that take items into the record, each with the parts, joints and tools that it needs. */
export function takeEdits(record: TeardownRecord, made: Talk["made"], items: readonly Item[]): Edit[] {
  const edits: Edit[] = [];
  const there = new Set<string>([...record.parts, ...record.joints, ...record.tools].map((one) => one.id));
  const need = (id: string): void => {
    const one = made[id];
    if (one === undefined || there.has(id)) return;
    there.add(id);
    for (const other of namedIn(one)) need(other);
    edits.push({ kind: "put", list: one.list, item: { ...one.item } } as Edit);
  };
  for (const { thing } of items) {
    if (thing === null) continue;
    for (const id of namedIn(thing)) need(id);
    edits.push({ kind: "put", list: thing.list, item: { ...thing.item } } as Edit);
  }
  return edits;
}

function namedIn(one: Thing | Made): readonly string[] {
  switch (one.list) {
    case "log":
      return [
        ...(one.item.parts ?? []),
        ...(one.item.joints ?? []),
        ...(one.item.tool === undefined ? [] : [one.item.tool]),
      ];
    case "readings":
      return [...one.item.of, ...(one.item.on ?? []), ...(one.item.off ?? [])];
    case "claims":
      return [...one.item.subject, ...(one.item.than === undefined ? [] : [one.item.than.replace("sibling:", "")])];
    case "checks":
      return one.item.parts ?? [];
    case "parts":
      return [...(one.item.under ?? []).flat(), ...(one.item.within === undefined ? [] : [one.item.within])];
    case "joints":
      return [
        ...one.item.holds,
        ...(one.item.reach ?? []).flat(),
        ...one.item.releases.flatMap((release) => [
          ...release.tools,
          ...(release.heat?.by === undefined ? [] : [release.heat.by]),
        ]),
      ];
    case "tools":
      return [];
  }
}

/** One item as two: an entry on several parts by part, else its words cut in the middle, the second half a remark. */
export function splitItem(item: Item): readonly [Item, Item] | null {
  const { thing } = item;
  if (thing?.list === "log" && (thing.item.parts?.length ?? 0) > 1) {
    const [first, ...rest] = thing.item.parts!;
    return [
      { ...item, thing: { list: "log", item: { ...thing.item, parts: [first!] } } },
      {
        ...item,
        id: `${item.id}b`,
        thing: { list: "log", item: { ...thing.item, id: `${thing.item.id}b`, parts: rest } },
      },
    ];
  }
  const words = item.text.split(/\s+/);
  if (words.length < 2) return null;
  const cut = breakOf(words);
  const [one, two] = [words.slice(0, cut).join(" "), words.slice(cut).join(" ")];
  const withText = (text: string): Thing | null =>
    thing?.list === "log" || thing?.list === "claims" ? ({ ...thing, item: { ...thing.item, text } } as Thing) : thing;
  const note: Entry = {
    id: `${item.id}b`,
    ...(thing?.item.session === undefined ? {} : { session: thing.item.session }),
    ...(item.at === null ? {} : { at: item.at }),
    action: "note",
    text: two,
  };
  return [
    { ...item, text: one, thing: withText(one) },
    {
      ...item,
      id: `${item.id}b`,
      text: two,
      thing: { list: "log", item: note },
      doubts: ["split off: say what it is"],
    },
  ];
}

/** After a comma or before "and" nearest to the middle; the middle where there is neither. */
function breakOf(words: readonly string[]): number {
  const middle = words.length / 2;
  const places = words.flatMap((word, i) =>
    i > 0 && (/[,;]$/.test(words[i - 1]!) || /^(?:and|then|so)$/i.test(word)) ? [i] : [],
  );
  return places.sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle))[0] ?? Math.ceil(middle);
}

/** Two items as one: the first with the other's parts, joints, place and words. Null where they are of different lists. */
export function joinItems(one: Item, other: Item): Item | null {
  const text = `${one.text} ${other.text}`.trim();
  const [a, b] = [one.thing, other.thing];
  if (a === null && b === null) return { ...one, text };
  if (a === null || b === null) {
    const thing = (a ?? b)!;
    const item = { ...thing.item, ...(thing.list === "log" || thing.list === "claims" ? { text } : {}) };
    return { ...one, text, thing: { ...thing, item } as Thing };
  }
  if (a.list !== "log" || b.list !== "log") return null;
  const both = (x: readonly string[] | undefined, y: readonly string[] | undefined) => [
    ...new Set([...(x ?? []), ...(y ?? [])]),
  ];
  const [parts, joints] = [both(a.item.parts, b.item.parts), both(a.item.joints, b.item.joints)];
  const item: Entry = {
    ...b.item,
    ...a.item,
    ...(parts.length === 0 ? {} : { parts }),
    ...(joints.length === 0 ? {} : { joints }),
    text,
  };
  return { ...one, text, thing: { list: "log", item } };
}
