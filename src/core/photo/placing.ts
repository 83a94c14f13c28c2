/**
 * What was placed on a photograph, as edits of the record: photographs themselves, how they are seen, places of screws,
 * outlines, levels. Each edit touches as little as possible, so that two people can place different things at once.
 */
import { InputError } from "../errors.ts";
import { measurePolygon, type Point } from "../measure/polygon.ts";
import type { Edit, Joint, Media, Part, TeardownRecord } from "../record/index.ts";
import type { PhotoMarks } from "./marks.ts";

type Json = Extract<Edit, { kind: "set" }>["value"];

/** Hundredths of a millimetre: finer than any photograph tells. */
const round = (value: number): number => Math.round(value * 100) / 100 + 0;
const rounded = ([x, y]: Point): [number, number] => [round(x), round(y)];

export interface PlacedScrews {
  readonly edits: readonly Edit[];
  readonly placed: number;
  /** The joint's own count. */
  readonly count: number;
  /** In words: how many are still to be placed. */
  readonly said: string;
}

/**
 * Places of a joint's screws, in the order in which they come out; null for one that has none yet. What is known of each
 * (length, mark) stays with its number.
 *
 * @throws InputError for more than the joint has, for a joint that is no screw, for screws whose drive nobody stated
 */
export function placeScrews(
  record: TeardownRecord,
  jointId: string,
  places: readonly (Point | null)[],
  drive?: string,
): PlacedScrews {
  const joint = jointOf(record, jointId);
  const count = joint.count ?? 1;
  if (joint.kind !== "screw") {
    throw new InputError({
      path: `joints/${jointId}`,
      found: `a joint of kind ${joint.kind}`,
      expected: "one of kind screw",
    });
  }
  if (places.length > count) {
    throw new InputError({
      path: `joints/${jointId}`,
      found: `${places.length} places`,
      expected: `at most ${count}, the joint's count: correct the count, or choose the joint that the others belong to`,
    });
  }
  const before = joint.screws?.each ?? [];
  const each = Array.from({ length: Math.max(places.length, before.length) }, (_, i) => {
    const { at: _at, ...known } = before[i] ?? {};
    const place = places[i];
    return place === undefined || place === null ? known : { at: rounded(place), ...known };
  });
  while (each.length > 0 && Object.keys(each.at(-1)!).length === 0) each.pop();
  const stated = joint.screws?.drive ?? drive;
  if (stated === undefined) {
    throw new InputError({
      path: `joints/${jointId}`,
      found: "screws whose drive is not stated",
      expected: "the drive, such as PH000, before they are placed",
    });
  }
  const value: Json = joint.screws === undefined ? { drive: stated, each } : each.length === 0 ? undefined : each;
  const path = joint.screws === undefined ? ["screws"] : ["screws", "each"];
  const set: Edit = { kind: "set", list: "joints", id: jointId, path, ...(value === undefined ? {} : { value }) };
  const placed = places.filter((place) => place !== null).length;
  const left = count - placed;
  const said = left === 0 ? `all ${count} placed` : `${placed} of ${count} placed`;
  const nothing = value === undefined && joint.screws?.each === undefined;
  return { edits: nothing ? [] : [set], placed, count, said };
}

/**
 * A part's outline: first ring outer, others holes. The outer ring is kept anticlockwise, holes clockwise.
 *
 * @throws InputError for fewer than three corners, edges that cross, holes that leave the outline
 */
export function placeOutline(record: TeardownRecord, partId: string, rings: readonly (readonly Point[])[]): Edit {
  partOf(record, partId);
  const tidy = rings.map((ring) => ring.map(rounded));
  measurePolygon(tidy, {}, "outline");
  const outline = tidy.map((ring, i) => {
    const anticlockwise = measurePolygon([ring]).signed > 0;
    return anticlockwise === (i === 0) ? ring : [...ring].reverse();
  });
  return { kind: "set", list: "parts", id: partId, path: ["outline"], value: outline };
}

/** From where to where a part reaches below the back face, mm. @throws InputError where it has no thickness */
export function placeLevel(record: TeardownRecord, partId: string, [from, to]: Point): Edit {
  partOf(record, partId);
  const level = rounded([from, to]);
  if (!level.every(Number.isFinite) || !(level[1] > level[0])) {
    throw new InputError({
      path: `parts/${partId}`,
      found: `a level from ${from} to ${to}`,
      expected: "the second number greater: from the back face inwards",
    });
  }
  return { kind: "set", list: "parts", id: partId, path: ["level"], value: level };
}

/** How a photograph is seen: its marks. @throws InputError for a photograph that the record has not */
export function placeView(record: TeardownRecord, mediaId: string, marks: PhotoMarks | null): Edit {
  mediaOf(record, mediaId);
  if (marks === null) return { kind: "set", list: "media", id: mediaId, path: ["view"] };
  const { u: _, card, ...rest } = marks;
  const view = { ...rest, ...(card === undefined ? {} : { card: { level: card.level, points: card.points } }) };
  return { kind: "set", list: "media", id: mediaId, path: ["view"], value: JSON.parse(JSON.stringify(view)) as Json };
}

export interface NewPhoto {
  readonly file: string;
  readonly hash: string;
  readonly session?: string;
  /** Seconds of the session at which it was taken. */
  readonly at?: number;
  /** An entry of the log that it shows; else one is made for it. */
  readonly entry?: string;
  readonly parts?: readonly string[];
  /** Width and height in pixels and focal length in terms of 35 mm film, where the camera told it. */
  readonly lens?: { readonly size: Point; readonly focal: number };
}

/**
 * A photograph taken in and tied to the log: to the entry that is named, or to a note of its own with the parts. The same
 * file again is not taken in twice.
 */
export function addPhoto(
  record: TeardownRecord,
  photo: NewPhoto,
): { readonly id: string; readonly edits: readonly Edit[] } {
  const known = record.media.find((one) => one.file === photo.file);
  const id =
    known?.id ??
    freeId(
      "photo",
      record.media.map((one) => one.id),
    );
  const session = photo.session === undefined ? {} : { session: photo.session };
  const at = photo.at === undefined ? {} : { at: round(photo.at) };
  const edits: Edit[] = [];
  const { lens } = photo;
  const view =
    lens === undefined
      ? {}
      : { view: { size: [...lens.size] as [number, number], seen: "back" as const, level: 0, focal: lens.focal } };
  if (known === undefined) {
    edits.push({
      kind: "put",
      list: "media",
      item: { id, ...session, kind: "photo", file: photo.file, hash: photo.hash, ...view },
    });
  }
  const entry = record.log.find((one) => one.id === photo.entry);
  if (photo.entry !== undefined && entry === undefined) {
    throw new InputError({ path: "log", found: `no entry "${photo.entry}"`, expected: "the id of one that is there" });
  }
  const parts = (photo.parts ?? []).filter((part) => part !== "");
  for (const part of parts) partOf(record, part);
  if (entry !== undefined && entry.media === undefined) {
    edits.push({ kind: "set", list: "log", id: entry.id, path: ["media"], value: id });
    const more = parts.filter((part) => !(entry.parts ?? []).includes(part));
    if (more.length > 0) {
      edits.push({ kind: "set", list: "log", id: entry.id, path: ["parts"], value: [...(entry.parts ?? []), ...more] });
    }
  } else if (known === undefined || parts.length > 0) {
    const note = freeId(
      "log-photo",
      record.log.map((one) => one.id),
    );
    edits.push({
      kind: "put",
      list: "log",
      item: {
        id: note,
        ...session,
        ...at,
        action: "note",
        media: id,
        ...(parts.length === 0 ? {} : { parts: [...parts] }),
      },
    });
  }
  return { id, edits };
}

/** Where a joint's screw heads lie: on the part that is taken off first, the one nearest to the side that is looked at. */
export function headLevel(record: TeardownRecord, joint: Joint, seen: PhotoMarks["seen"]): number | undefined {
  const spans = joint.holds.flatMap((id) => record.parts.find((part) => part.id === id)?.level ?? []);
  return spans.length === 0 ? undefined : seen === "back" ? Math.min(...spans) : Math.max(...spans);
}

export interface KnownPlace {
  /** "top-shield-screws 3". */
  readonly name: string;
  readonly is: Point;
  readonly level?: number;
}

/** Places that the record already has, to be marked in a further photograph. */
export function knownPlaces(record: TeardownRecord, seen: PhotoMarks["seen"]): readonly KnownPlace[] {
  return record.joints.flatMap((joint) =>
    (joint.screws?.each ?? []).flatMap(({ at }, i) => {
      if (at === undefined) return [];
      const level = headLevel(record, joint, seen);
      return [{ name: `${joint.id} ${i + 1}`, is: at, ...(level === undefined ? {} : { level }) }];
    }),
  );
}

/** Least and greatest x and y of the body: of the base's outline, else of all outlines; undefined where there is none. */
export function bodyOf(record: TeardownRecord): readonly [number, number, number, number] | undefined {
  const base = record.parts.find((part) => part.base)?.outline;
  const rings = base === undefined ? record.parts.flatMap((part) => part.outline?.[0] ?? []) : base[0]!;
  if (rings.length === 0) return undefined;
  const xs = rings.map((point) => point[0]);
  const ys = rings.map((point) => point[1]);
  return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
}

function freeId(stem: string, taken: readonly string[]): string {
  for (let i = 1; ; i++) if (!taken.includes(`${stem}-${i}`)) return `${stem}-${i}`;
}

function partOf(record: TeardownRecord, id: string): Part {
  return found(record.parts, id, "parts");
}
function jointOf(record: TeardownRecord, id: string): Joint {
  return found(record.joints, id, "joints");
}
function mediaOf(record: TeardownRecord, id: string): Media {
  return found(record.media, id, "media");
}

function found<T extends { readonly id: string }>(list: readonly T[], id: string, path: string): T {
  const item = list.find((one) => one.id === id);
  if (item !== undefined) return item;
  throw new InputError({ path, found: `no "${id}"`, expected: "the id of one that is there" });
}
