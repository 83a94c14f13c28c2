/**
 * One line, read live: what the hand typed, dictated or let an instrument type -> what is to be kept, and the words that say
 * how it was understood.
 *
 * Shorthand is read first (`scan.ts`), because the bench speaks in fragments; what is a whole sentence goes to the reader of
 * narrations. Whatever is not understood is kept as it was said, without a place. Cost: linear in the record; a line against
 * a record of 100 parts and 1 000 entries takes a few milliseconds.
 */
import { InputError } from "../../errors.ts";
import { typedQuantity } from "../../measure/typed/typed-quantity.ts";
import { difference, type Edit } from "../../record/edits.ts";
import type {
  Entry,
  Instrument,
  Joint,
  Part,
  QuantityName,
  Reading,
  TeardownRecord,
  UnitName,
} from "../../record/schema.ts";
import { UNIT_NAMES } from "../../record/schema.ts";
import { UNITS } from "../../units/index.ts";
import { DRAFT_FORMAT, type Draft, type DraftEntry } from "../draft.ts";
import { mergeDraft } from "../merge/merge.ts";
import { readNarration } from "../read.ts";
import { answerQuestion, inCup, isQuestion } from "./ask.ts";
import { lastCup, nextCup, placeAlone } from "./cups.ts";
import { couldMean } from "./names.ts";
import { type Scan, scanLine } from "./scan.ts";
import type { LineAnswer, LineContext, LineKept } from "./types.ts";

/** Meant, and not done: no work to be kept as done. */
const LATER = /\b(?:later|tomorrow|if|unless|will|would)\b/;
/** Longer than this is no line: dictation of a minute has about 900 signs. */
export const LONGEST_LINE = 4000;

type Item = { id: string } & Record<string, unknown>;
const putEdit = (list: "log" | "readings", item: object): Edit => ({ kind: "put", list, item: item as Item }) as Edit;

export function readLine(text: string, context: LineContext): LineAnswer {
  const line = text.normalize("NFC").replaceAll(/\s+/g, " ").trim().slice(0, LONGEST_LINE);
  if (line === "") return { kind: "nothing" };
  const plain = line.toLowerCase().replace(/[.!]+$/, "");
  if (/^(?:undo|take (?:that|it) back|scratch that|no,? undo)$/.test(plain)) return { kind: "undo" };
  if (/^(?:redo|do (?:that|it) again after all)$/.test(plain)) return { kind: "redo" };
  const place = placeAlone(line);
  if (place !== null) return scanned(place, context);
  if (isQuestion(line)) {
    const { words, lies } = scanLine(line.replaceAll("?", " "), context.record);
    return answerQuestion(words, context, lies);
  }
  if (/^(?:again|same again|once more)(?:[, ].*)?$/.test(plain)) {
    const last = lastWork(context.record);
    if (last !== null)
      return repeated(
        last,
        context,
        plain.includes("same cup") ? (last.lies ?? null) : nextCup(lastCup(context.record.log)),
      );
  }
  if (/^[+\-−–]?\s*[\d.,½¼¾⅛⅜⅝⅞]+[^a-z]*\s*[a-zµμ°"″%·.²^*Ωω\d]{0,6}$/iu.test(line)) {
    const typed = typedNumber(line, context);
    if (typed !== null) return typed;
  }
  // "Mid-plate" is two words to the hand; what is kept is what was written.
  const scan = scanLine(line.replaceAll(/(?<=\p{L})-(?=\p{L})/gu, " "), context.record);
  const short = scan.compares || scan.unreal ? null : shorthand(line, scan, context);
  if (short !== null && scan.unknown.length === 0) return short;
  return (
    (LATER.test(plain) ? null : sentence(line, context)) ??
    (short === null ? unplaced(line, context, whyNot(scan, context)) : partly(short, scan))
  );
}

/** Work by which something comes to lie somewhere. */
const TAKES_OUT: ReadonlySet<string> = new Set(["unscrew", "lift", "pull", "unplug", "peel", "desolder", "shift"]);

/** A cup by itself: the last work goes into it, where that lies nowhere yet; else what lies in it. */
function scanned(place: string, context: LineContext): LineAnswer {
  const { record, session } = context;
  const last = record.log.findLast((one) => one.action !== "note" && one.action !== "measure");
  const takes = last !== undefined && TAKES_OUT.has(last.action) && (session === null || last.session === session);
  if (takes && last.lies === undefined)
    return kept(
      "entry",
      entryWords(record, { ...last, lies: place }, null),
      ["put there"],
      [{ kind: "set", list: "log", id: last.id, path: ["lies"], value: place }],
    );
  const told = inCup(record, place);
  if (!takes || last.lies === place) return told;
  return {
    ...told,
    lines: [...told.lines, `the last work lies in ${last.lies}: say it again with ${place} to move it`],
  };
}

/** A press of the bound key: a moment without words. */
export function markAt(context: LineContext): LineKept {
  const entry: Entry = { ...start(context), action: "note", draft: true };
  return { kind: "kept", what: "entry", words: "mark", notes: ["name it later"], edits: [putEdit("log", entry)] };
}

/** The last work of the log once more, put into the next cup. Null where there is none. */
export function againNext(context: LineContext): LineKept | null {
  const last = lastWork(context.record);
  return last === null ? null : repeated(last, context, nextCup(lastCup(context.record.log)));
}

const lastWork = (record: TeardownRecord): Entry | null =>
  record.log.findLast((one) => one.action !== "note" && one.action !== "measure") ?? null;

function repeated(last: Entry, context: LineContext, lies: string | null): LineKept {
  const { id: _id, at: _at, until: _until, session: _session, lies: _lies, media: _media, ...same } = last;
  const entry: Entry = { ...start(context), ...same, ...(lies === null ? {} : { lies }) };
  return kept("entry", entryWords(context.record, entry, null), ["the last again"], [putEdit("log", entry)]);
}

const start = ({ newId, session, at }: LineContext): { id: string; session?: string; at?: number } => ({
  id: newId(),
  ...(session === null ? {} : { session }),
  ...(at === null ? {} : { at: Math.round(at * 10) / 10 }),
});

const kept = (what: LineKept["what"], words: string, notes: readonly string[], edits: readonly Edit[]): LineKept => ({
  kind: "kept",
  what,
  words,
  notes,
  edits,
});

/** Kept as it was said: to be placed by a person. */
function unplaced(line: string, context: LineContext, why: readonly string[]): LineKept {
  const entry: Entry = { ...start(context), action: "note", text: line, draft: true };
  return kept("unplaced", "kept, not understood", why, [putEdit("log", entry)]);
}

/** Understood but for some words: they stay in what is kept, which is then to be looked at. */
function partly(short: LineKept, scan: Scan): LineKept {
  return {
    ...short,
    notes: [...short.notes, `not understood: ${scan.unknown.join(", ")}`],
    edits: short.edits.map((edit) =>
      edit.kind === "put" && edit.list === "log" ? ({ ...edit, item: { ...edit.item, draft: true } } as Edit) : edit,
    ),
  };
}

function whyNot(scan: Scan, { record }: LineContext): string[] {
  if (scan.unreal) return ["it reads as not done, or not done yet"];
  const could = couldMean(record, scan.unknown.slice(0, 3));
  if (could.length > 1)
    return [
      `which one: ${could
        .slice(0, 5)
        .map((part) => part.name)
        .join(", ")}${could.length > 5 ? ", …" : ""}?`,
    ];
  if (scan.parts.length === 0 && (scan.action !== null || scan.fastener))
    return ["of which part? choose it, or name it"];
  return ["it waits in the log to be placed"];
}

/** "29.41 g", "1,4mm", "0.71" with an instrument in hand. Null where it is no number after all. */
function typedNumber(line: string, context: LineContext): LineKept | null {
  const instrument = context.record.instruments.find((one) => one.id === context.instrument);
  try {
    const { value, unit, places } = typedQuantity(
      line,
      instrument === undefined ? {} : { unit: instrument.resolution.unit },
    );
    return reading(
      line,
      { value, unit, quantity: quantityFor(unit, context), places },
      context.part === null ? [] : [context.part],
      context,
    );
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const unit = line.replace(/^[\d.,+\-−–\s]+/, "");
    return unit === "" || (UNIT_NAMES as readonly string[]).includes(unit)
      ? unplaced(line, context, [
          `${error.found}: expected ${error.expected}; choose the instrument in hand, or type the unit`,
        ])
      : null;
  }
}

/** What a figure in this unit is: what the last such reading was, or else the usual. */
function quantityFor(unit: UnitName, { record }: LineContext): QuantityName | null {
  const { dimension } = UNITS[unit];
  const usual: Readonly<Record<string, QuantityName>> = {
    mass: "mass",
    length: "thickness",
    area: "area",
    capacity: "capacity",
    energy: "energy",
    voltage: "voltage",
    current: "current",
    resistance: "resistance",
    temperature: "temperature",
    duration: "duration",
    torque: "torque",
    force: "force",
  };
  if (unit === "%") return "charge";
  const last = record.readings.at(-1);
  if (dimension === "length" && last !== undefined && UNITS[last.unit].dimension === "length") return last.quantity;
  return usual[dimension] ?? null;
}

interface Figure {
  readonly value: number;
  readonly unit: UnitName;
  readonly quantity: QuantityName | null;
  readonly places: number | null;
}

function reading(line: string, figure: Figure, of: readonly string[], context: LineContext): LineKept {
  const { value, unit, quantity, places } = figure;
  if (quantity === null) return unplaced(line, context, [`what is measured in ${unit}? say the quantity`]);
  if (of.length === 0) return unplaced(line, context, ["of which part? choose it, or name it before the number"]);
  if (!(value > 0) && quantity !== "temperature" && of[0] !== "zero")
    return unplaced(line, context, [`${quantity} of ${value} ${unit}: expected more than nothing`]);
  const instrument = instrumentFor(context, unit, quantity, places);
  const item: Reading = {
    ...start(context),
    of: [...of],
    quantity,
    values: [value],
    unit,
    ...(instrument === null ? {} : { instrument: instrument.id }),
  };
  const names = of.map((id) => context.record.parts.find((part) => part.id === id)?.name ?? id).join(" + ");
  const before = context.record.readings.filter(
    (one) => one.record === undefined && one.quantity === quantity && one.unit === unit && one.of.join() === of.join(),
  );
  return kept(
    "reading",
    `${names} · ${quantity} ${shownValue(value, places)} ${unit}`,
    [
      ...(instrument === null ? [] : [`by ${instrument.name ?? instrument.kind}`]),
      ...(before.length === 0
        ? []
        : [
            `before: ${before
              .flatMap((one) => one.values)
              .slice(-3)
              .join(", ")} ${unit}`,
          ]),
    ],
    [putEdit("readings", item)],
  );
}

const shownValue = (value: number, places: number | null) =>
  places === null ? String(value) : value.toFixed(Math.min(places, 9));

/** The one in hand; else the one that such readings were taken with; else the only one that shows as many digits. */
function instrumentFor(
  { record, instrument }: LineContext,
  unit: UnitName,
  quantity: QuantityName,
  places: number | null,
): Instrument | null {
  const fits = record.instruments.filter((one) => UNITS[one.resolution.unit].dimension === UNITS[unit].dimension);
  const inHand = fits.find((one) => one.id === instrument);
  if (inHand !== undefined) return inHand;
  const digits =
    places === null
      ? []
      : fits.filter((one) => one.resolution.unit === unit && placesOf(one.resolution.value) === places);
  const from = digits.length > 0 ? digits : fits;
  const last = record.readings.findLast(
    (one) => one.quantity === quantity && from.some((each) => each.id === one.instrument),
  );
  return from.find((one) => one.id === last?.instrument) ?? (from.length === 1 ? from[0]! : null);
}

const placesOf = (value: number): number => String(value).split(".")[1]?.length ?? 0;

/** Shorthand in full; null where it names neither a work nor a figure of a part. */
function shorthand(line: string, scan: Scan, context: LineContext): LineKept | null {
  const parts = scan.parts.map((part) => part.id);
  const of = scan.zero
    ? ["zero"]
    : parts.length > 0
      ? parts
      : scan.device
        ? ["device"]
        : context.part === null
          ? []
          : [context.part];
  const figure = scan.figures[0];
  if (
    figure !== undefined &&
    scan.figures.length === 1 &&
    scan.action === null &&
    !scan.fastener &&
    !scan.plug &&
    of.length > 0
  ) {
    if (!(UNIT_NAMES as readonly string[]).includes(figure.unit)) return null;
    const unit = figure.unit as UnitName;
    const decimals = new RegExp(`${String(figure.value).replace(".", "[.,]")}(0*)`).exec(line);
    const places = placesOf(figure.value) + (String(figure.value).includes(".") ? (decimals?.[1]?.length ?? 0) : 0);
    return reading(
      line,
      { value: figure.value, unit, quantity: scan.dimension ?? figure.quantity ?? quantityFor(unit, context), places },
      of,
      context,
    );
  }
  const action =
    scan.action ??
    (scan.fastener
      ? "unscrew"
      : scan.plug
        ? "unplug"
        : scan.damaged
          ? "note"
          : scan.clip
            ? "pry"
            : scan.lies !== null && scan.parts.length > 0
              ? "lift"
              : null);
  if (action === null || action === "measure") return null;
  const about =
    parts.length > 0
      ? parts
      : // Words that are not known may name another part: then the chosen one is not meant.
        context.part !== null && action !== "turn" && scan.unknown.length === 0
        ? [context.part]
        : [];
  if (about.length === 0 && action !== "turn") return null;
  return entry(line, action as Entry["action"], about, scan, context);
}

function entry(
  line: string,
  action: Entry["action"],
  parts: readonly string[],
  scan: Scan,
  context: LineContext,
): LineKept | null {
  const { record } = context;
  const cup = lastCup(record.log);
  const lies = scan.lies === "same" ? cup : scan.lies === "next" ? nextCup(cup) : scan.lies;
  const part = record.parts.find((one) => one.id === parts[0]);
  const notes: string[] = [];
  const joint = part === undefined ? null : jointFor(record, action, part, scan.count);
  if (joint === null && action === "unscrew" && part !== undefined && part.base !== true)
    return newJoint(line, part, scan, lies, context);
  const tool = scan.tool === null ? undefined : toolFor(record, scan.tool);
  const item: Entry = {
    ...start(context),
    action,
    ...(parts.length === 0 ? {} : { parts: [...parts] }),
    ...(joint === null ? {} : { joints: [joint.id] }),
    ...(tool === undefined ? {} : { tool }),
    ...(lies === null ? {} : { lies }),
    text: line,
    ...(scan.damaged ? { outcome: "damaged" as const } : {}),
  };
  const edits: Edit[] = [putEdit("log", item)];
  if (joint !== null && scan.count !== null && (action === "unscrew" || action === "fasten")) {
    if (joint.count === undefined && action === "unscrew" && scan.count > 1)
      edits.unshift({ kind: "set", list: "joints", id: joint.id, path: ["count"], value: scan.count });
    else if ((joint.count ?? 1) !== scan.count)
      notes.push(`the record has ${joint.count ?? 1}, ${scan.count} was said`);
  }
  if (scan.odd !== null) notes.push(scan.odd);
  return kept("entry", entryWords(record, item, scan.count), notes, edits);
}

/** "unscrew · Cable cover · 3 · cup 4". */
function entryWords(record: TeardownRecord, entry: Entry, count: number | null): string {
  return [
    entry.action,
    ...(entry.parts ?? []).map((id) => record.parts.find((part) => part.id === id)?.name ?? id),
    ...(count === null ? [] : [String(count)]),
    ...(entry.outcome === "damaged" ? ["damaged"] : []),
    ...(entry.lies === undefined ? [] : [entry.lies]),
  ].join(" · ");
}

const KINDS: Readonly<Record<string, readonly Joint["kind"][]>> = {
  unscrew: ["screw"],
  fasten: ["screw"],
  unplug: ["connector", "spring-contact"],
  plug: ["connector", "spring-contact"],
  desolder: ["solder"],
  debond: ["debondable-adhesive"],
  slice: ["adhesive", "tape", "seal"],
  peel: ["tape", "adhesive", "seal"],
  pry: ["clip", "press-fit", "adhesive"],
  lay: ["adhesive", "tape", "seal", "debondable-adhesive"],
};
const CLOSES: ReadonlySet<string> = new Set(["fasten", "plug", "lay", "refit"]);

/** The joint that this work is about: of the right kind, not undone already, with the count that was said; null in doubt. */
function jointFor(record: TeardownRecord, action: string, part: Part, count: number | null): Joint | null {
  const kinds = KINDS[action];
  if (kinds === undefined) return null;
  const open = new Set<string>();
  for (const one of record.log)
    for (const id of one.joints ?? []) CLOSES.has(one.action) ? open.delete(id) : open.add(id);
  const weight = (joint: Joint) =>
    (count !== null && (joint.count ?? 1) === count ? 4 : 0) +
    (open.has(joint.id) === CLOSES.has(action) ? 3 : 0) +
    (joint.holds[0] === part.id ? 6 : 0) +
    (joint.kind === kinds[0] ? 1 : 0);
  const fits = record.joints
    .filter((joint) => kinds.includes(joint.kind) && joint.holds.includes(part.id))
    .map((joint) => ({ joint, weight: weight(joint) }))
    .sort((a, b) => b.weight - a.weight);
  return fits.length === 0 || (fits.length > 1 && fits[0]!.weight === fits[1]!.weight) ? null : fits[0]!.joint;
}

function toolFor(record: TeardownRecord, words: string): string | undefined {
  const fits = record.tools.filter((tool) => tool.name.toLowerCase().includes(words));
  return fits.length === 1 ? fits[0]!.id : undefined;
}

/** Screws of a part that the record has no screws of: the joint is made as a narration would make it. */
function newJoint(line: string, part: Part, scan: Scan, lies: string | null, context: LineContext): LineKept | null {
  const draft: DraftEntry = {
    at: context.at,
    action: "unscrew",
    object: part.name,
    ...(scan.count === null ? {} : { count: scan.count }),
    ...(lies === null ? {} : { lies }),
    text: line,
  };
  const edits = editsOf(draftWith({ entries: [draft] }), context, false);
  if (edits.length === 0) return null;
  const words = ["unscrew", part.name, ...(scan.count === null ? [] : [scan.count]), ...(lies === null ? [] : [lies])];
  return kept(
    "entry",
    words.join(" · "),
    [...(scan.odd === null ? [] : [scan.odd]), "screws that the record did not have"],
    edits,
  );
}

const draftWith = (some: Partial<Draft>): Draft => ({
  format: DRAFT_FORMAT,
  entries: [],
  claims: [],
  back: [],
  proofs: [],
  questions: [],
  ...some,
});

/** A draft as edits of this record, with ids of the line's own. */
function editsOf(draft: Draft, context: LineContext, asDraft: boolean): Edit[] {
  const { record } = mergeDraft(context.record, draft, context.session ?? undefined);
  return difference(context.record, record).map((edit): Edit => {
    if (edit.kind !== "put" || !/^(?:log|readings|claims|checks)$/.test(edit.list)) return edit;
    const { draft: _, ...item } = edit.item;
    const { at: _at, ...rest } = edit;
    return {
      ...rest,
      item: { ...item, id: context.newId(), ...(asDraft && edit.list === "log" ? { draft: true } : {}) },
    } as Edit;
  });
}

/** A whole sentence, read as narrations are; the part that is chosen is what "it" means. */
function sentence(line: string, context: LineContext): LineKept | null {
  const part = context.record.parts.find((one) => one.id === context.part);
  const at = context.at ?? 0;
  const cue = (text: string, second: number) => ({ at: second, until: null, text, line: 1 });
  const cues = [...(part === undefined ? [] : [cue(`Now the ${part.name.toLowerCase()}.`, at - 1)]), cue(line, at)];
  const { draft } = readNarration({ kind: "transcript", form: "clocked", cues, warnings: [] });
  const here = <T extends { at: number | null }>(list: readonly T[]) => list.filter((one) => one.at === at);
  const own = draftWith({
    // A joint of more than a thousand fasteners is a slip of the tongue, or a number of something else.
    entries: here(draft.entries).filter((one) => (one.count ?? 1) <= 1000),
    claims: here(draft.claims),
    back: here(draft.back),
    proofs: here(draft.proofs),
  });
  const words = [
    ...own.entries.map((one) => [
      one.action === "measure" ? "" : one.action,
      one.object,
      one.count,
      one.quantity,
      one.value,
      one.unit,
      one.lies,
    ]),
    ...own.back.map((one) => [one.action, one.object, one.count]),
    ...own.claims.map((one) => ["claim", one.subject, one.relation, one.value, one.unit, one.than]),
    ...own.proofs.map((one) => [one.what, one.result]),
  ].map((some) => some.filter((one) => one !== undefined && one !== "" && one !== "1").join(" · "));
  if (words.length === 0) return null;
  const edits = editsOf(own, context, false);
  if (!edits.some((edit) => edit.kind === "put" && /^(?:log|readings|claims|checks)$/.test(edit.list))) return null;
  const made = edits.flatMap((edit) => (edit.kind === "put" && edit.list === "parts" ? [String(edit.item.name)] : []));
  // "The board", where there are three: a person says which; a fourth is not made.
  if (made.some((name) => couldMean(context.record, name.toLowerCase().split(" ")).length > 0)) return null;
  const what =
    own.claims.length > 0
      ? "claim"
      : own.proofs.length > 0
        ? "check"
        : own.entries.every((one) => one.action === "measure")
          ? "reading"
          : "entry";
  return kept(what, words.join("; "), made.length === 0 ? [] : [`new part: ${made.join(", ")}`], edits);
}
