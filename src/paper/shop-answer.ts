/**
 * A shop answers an edition with a line or two ("screw 4 is 2.8, not 2.4; 14 min; cable torn"). Out: proposals, each with
 * the edits that would take it over, for somebody to accept or not; what was not understood is given back, never dropped.
 */
import type { Edit } from "../core/record/edits.ts";
import type { Entry, Session, TeardownRecord } from "../core/record/index.ts";
import type { WayOperation } from "../core/route/ways/types.ts";
import type { NumberedScrew } from "./screw-numbers.ts";

export interface Proposal {
  readonly kind: "screw" | "time" | "damage" | "fine";
  readonly text: string;
  readonly edits: readonly Edit[];
  /** What does not fit: the length that the shop says was printed is not the one that is recorded. */
  readonly doubt?: string;
}

export interface ShopAnswer {
  readonly proposals: readonly Proposal[];
  readonly notUnderstood: readonly string[];
}

export interface Answered {
  /** What the sheet replaces. */
  readonly replace: readonly string[];
  readonly operations: readonly WayOperation[];
  readonly screws: readonly NumberedScrew[];
  /** Of the session that the answer becomes; its id is new. */
  readonly session: Session;
  /** Gives ids that are not taken. */
  readonly newId: () => string;
}

const NUMBER = String.raw`(\d+(?:[.,]\d+)?)`;
const HARMED =
  /\b(torn|tore|ripped|broken|broke|snapped|cracked|creased|bent|stripped|punctured|scratched|damaged|dead)\b/i;

export function readShopAnswer(text: string, record: TeardownRecord, sheet: Answered): ShopAnswer {
  const proposals: Proposal[] = [];
  const notUnderstood: string[] = [];
  for (const piece of text.split(/[;\n]+|\.\s+/).map((one) => one.trim().replace(/\.$/, ""))) {
    if (piece === "") continue;
    const found =
      screwOf(piece, record, sheet) ??
      timeOf(piece, record, sheet) ??
      fineOf(piece, record, sheet) ??
      damageOf(piece, record, sheet);
    if (found === null) notUnderstood.push(piece);
    else proposals.push(found);
  }
  return { proposals, notUnderstood };
}

/** "screw 4B is 2.8, not 2.4" */
function screwOf(piece: string, record: TeardownRecord, { screws }: Answered): Proposal | null {
  const words = new RegExp(
    String.raw`^(?:screw|no\.?|number)\s*(\d+)\s*([a-z]{1,2})?\s*(?:is|=|:|measures|should be)\s*${NUMBER}\s*(?:mm)?(?:\s*,?\s*(?:and\s+)?not\s*${NUMBER}\s*(?:mm)?)?$`,
    "i",
  ).exec(piece);
  if (words === null) return null;
  const [, number, letter, now, before] = words;
  const screw = screws.find(
    (one) => one.number === Number(number) && (letter === undefined || one.stage === letter.toUpperCase()),
  );
  if (screw === undefined) return null;
  const length = Number(now!.replace(",", "."));
  const joint = record.joints.find((one) => one.id === screw.joint)!;
  const each = [...(joint.screws?.each ?? [])];
  while (each.length <= screw.index) each.push({});
  each[screw.index] = { ...each[screw.index], length };
  const said = before === undefined ? undefined : Number(before.replace(",", "."));
  return {
    kind: "screw",
    text: `Screw ${screw.label}: ${length} mm in place of ${screw.length ?? "no recorded length"}`,
    edits: [
      { kind: "set", list: "joints", id: joint.id, path: ["screws"], value: { ...joint.screws!, each } as never },
    ],
    ...(said !== undefined && said !== screw.length
      ? {
          doubt: `the sheet is said to have ${said} mm, the record has ${screw.length ?? "none"}: is it the same edition?`,
        }
      : {}),
  };
}

/** "14 min", "1 h 5 min", "90 s": the whole job, as a reading. */
function timeOf(piece: string, record: TeardownRecord, sheet: Answered): Proposal | null {
  const words = new RegExp(
    String.raw`^(?:it took\s+|took\s+)?(?:${NUMBER}\s*h(?:ours?)?)?\s*(?:${NUMBER}\s*min(?:utes?)?)?\s*(?:${NUMBER}\s*s(?:ec(?:onds?)?)?)?$`,
    "i",
  ).exec(piece);
  if (words === null || words.slice(1).every((one) => one === undefined)) return null;
  const [hours, minutes, seconds] = words
    .slice(1)
    .map((one) => (one === undefined ? 0 : Number(one.replace(",", "."))));
  const whole = 3600 * hours! + 60 * minutes! + seconds!;
  if (whole <= 0) return null;
  const item = {
    id: sheet.newId(),
    session: sheet.session.id,
    of: [...sheet.replace],
    quantity: "duration",
    values: [whole],
    unit: "s",
  };
  return {
    kind: "time",
    text: `The whole job took ${Math.round(whole / 6) / 10} min`,
    edits: [...sessionOf(record, sheet), { kind: "put", list: "readings", item: item as never }],
  };
}

/** "all fine": every risky release of the way in came out well. */
function fineOf(piece: string, record: TeardownRecord, sheet: Answered): Proposal | null {
  if (!/^(?:all (?:went )?(?:fine|well|good)|no damage|nothing (?:broken|torn|damaged)|went fine|fine)$/i.test(piece))
    return null;
  const joints = risky(record, sheet).map(({ joint }) => joint);
  return {
    kind: "fine",
    text: "Nothing was damaged",
    edits: [
      ...sessionOf(record, sheet),
      entry(sheet, {
        text: piece,
        outcome: "fine",
        parts: [...sheet.replace],
        ...(joints.length === 0 ? {} : { joints }),
      }),
    ],
  };
}

/** "cable torn": an outcome, tied to the releases that can harm that part. */
function damageOf(piece: string, record: TeardownRecord, sheet: Answered): Proposal | null {
  if (!HARMED.test(piece)) return null;
  const part = partNamed(piece.replace(HARMED, " "), record, sheet);
  if (part === null) return null;
  const joints = risky(record, sheet)
    .filter((one) => one.parts.includes(part))
    .map(({ joint }) => joint);
  const name = record.parts.find((one) => one.id === part)!.name;
  return {
    kind: "damage",
    text: `${name}: ${piece}`,
    edits: [
      ...sessionOf(record, sheet),
      entry(sheet, { text: piece, outcome: "damaged", parts: [part], ...(joints.length === 0 ? {} : { joints }) }),
    ],
  };
}

/** Releases of the way in that can harm something. */
function risky(
  record: TeardownRecord,
  { operations }: Answered,
): { readonly joint: string; readonly parts: readonly string[] }[] {
  return operations.flatMap((operation) => {
    if (operation.kind !== "release" || operation.joint === undefined) return [];
    const release = record.joints.find((joint) => joint.id === operation.joint)?.releases[operation.release ?? 0];
    const parts = (release?.harm ?? []).map((one) => one.part);
    return parts.length === 0 ? [] : [{ joint: operation.joint, parts }];
  });
}

/** The part whose name shares most words with the text; of equals, one that the way in touches or can harm. */
function partNamed(text: string, record: TeardownRecord, sheet: Answered): string | null {
  const words = (one: string) =>
    one
      .toLowerCase()
      .split(/[^a-z0-9]+/)
      .filter((word) => word.length > 2 && word !== "the" && word !== "was");
  const said = new Set(words(text));
  const near = new Set([
    ...sheet.operations.flatMap((one) => one.part ?? []),
    ...risky(record, sheet).flatMap((one) => one.parts),
  ]);
  const ranked = record.parts
    .map((part) => {
      const own = words(`${part.name} ${part.role ?? ""}`);
      const shared = own.filter((word) => said.has(word)).length;
      return { id: part.id, shared, share: shared / Math.max(1, own.length), near: near.has(part.id) };
    })
    .filter((one) => one.shared > 0)
    .sort((a, b) => Number(b.near) - Number(a.near) || b.shared - a.shared || b.share - a.share);
  return ranked[0]?.id ?? null;
}

function sessionOf(record: TeardownRecord, { session }: Answered): Edit[] {
  return record.sessions?.some((one) => one.id === session.id)
    ? []
    : [{ kind: "put", list: "sessions", item: session as never }];
}

function entry(sheet: Answered, more: Partial<Entry>): Edit {
  return {
    kind: "put",
    list: "log",
    item: { id: sheet.newId(), session: sheet.session.id, action: "note", ...more } as never,
  };
}
