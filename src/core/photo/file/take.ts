/**
 * What a picture must not be, said alike by the browser (before it is put into the outbox) and by the server (which
 * decodes it as well): under another name, too large, with a script in it. And what can be taken out of it at once.
 */
import { InputError } from "../../errors.ts";
import { HEAD_BYTES, type KnownMedia, mediaKind, type PictureFormat, TAKEN } from "./file-kind.ts";
import { pictureHead } from "./head.ts";
import { focalLength, metadataFound, type PictureFacts, strippedJpeg, strippedPng } from "./notes.ts";

export const PICTURE_LIMITS = {
  /** Bytes. */
  bytes: 80_000_000,
  /** More than the largest sensors of phones give after binning. */
  pixels: 110_000_000,
} as const;

/** Who it is as a file, by its first bytes. @throws InputError for what is no picture, film or sound */
export function judged(head: Uint8Array, name = ""): KnownMedia {
  const kind = mediaKind(head.subarray(0, HEAD_BYTES));
  if (kind.known) return kind;
  const advice = kind.advice === undefined ? "" : ` (${kind.advice})`;
  throw new InputError({ path: name, found: kind.found, expected: `${TAKEN}${advice}` });
}

export const tooLarge = (name: string | undefined, most: number): InputError =>
  new InputError({
    path: name ?? "",
    found: `more than ${Math.round(most / 1e6)} MB`,
    expected: `at most ${Math.round(most / 1e6)} MB`,
  });

/** A name that leads elsewhere, or is meant to be read wrongly, is refused though it is used for messages alone. */
export function refuseTricks(name: string): void {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: those are what is looked for
  const trick = /[\u0000-\u001f\u007f\u200e\u200f\u202a-\u202e\u2066-\u2069]|[/\\]|^\.\.?$|^~|^[a-z]:/i.exec(name);
  if (trick === null && name.length <= 255 && name !== "") return;
  const shown = JSON.stringify(name.slice(0, 80)).slice(1, -1);
  throw new InputError({
    path: "name",
    found: `"${shown}"`,
    expected: "a plain file name, without folders or signs that cannot be seen",
  });
}

const millions = (count: number) => `${Math.round(count / 1e6)} megapixels`;

/**
 * @returns what is taken out of it, in words: position, camera data, notes
 * @throws InputError for too many pixels, and for a script in its notes or behind the picture
 */
export function checkedFacts(bytes: Uint8Array, facts: PictureFacts, name = ""): readonly string[] {
  const { width, height } = facts;
  if (width * height > PICTURE_LIMITS.pixels) {
    throw new InputError({
      path: name,
      found: `${width} x ${height} pixels, ${millions(width * height)}`,
      expected: `at most ${millions(PICTURE_LIMITS.pixels)}: make it smaller first`,
    });
  }
  const { removed, script } = metadataFound(bytes, facts);
  if (script !== null) {
    throw new InputError({
      path: name,
      found: `a script in the picture's metadata ("${script}")`,
      expected: "a picture without one: save it anew from a viewer",
    });
  }
  return removed;
}

/** An upright JPEG or PNG without its notes, every pixel as it was; null for what has to be decoded and written anew. */
export function withoutNotes(bytes: Uint8Array, format: PictureFormat, facts: PictureFacts): Uint8Array | null {
  if (facts.orientation > 1) return null;
  return format === "jpeg" ? strippedJpeg(bytes) : format === "png" ? strippedPng(bytes) : null;
}

export interface PictureToKeep {
  /** Without notes where that can be done without decoding, else as it came. */
  readonly bytes: Uint8Array;
  readonly format: PictureFormat;
  readonly type: string;
  /** Of the upright picture. */
  readonly width: number;
  readonly height: number;
  /** In terms of 35 mm film, mm, where the camera told it. */
  readonly focal?: number;
  /** What was done to it, or is done when it is sent, in words. */
  readonly said: readonly string[];
}

/**
 * A picture as it is put aside until the server has it: all that can be told without decoding it.
 *
 * @throws InputError for what is no picture, too large, damaged in its header, or carries a script
 */
export function pictureToKeep(bytes: Uint8Array, name: string): PictureToKeep {
  refuseTricks(name);
  const { kind, format: found, type } = judged(bytes, name);
  if (kind !== "photo") {
    throw new InputError({
      path: name,
      found: `${kind === "video" ? "a film" : "sound"} (${type})`,
      expected: "a picture",
    });
  }
  const format = found as PictureFormat;
  if (bytes.length > PICTURE_LIMITS.bytes) throw tooLarge(name, PICTURE_LIMITS.bytes);
  const facts = pictureHead(bytes, format);
  if (facts === undefined) {
    throw new InputError({
      path: name,
      found: `a damaged ${format.toUpperCase()} picture (its header does not read)`,
      expected: "one that opens in a viewer",
    });
  }
  const removed = checkedFacts(bytes, facts, name);
  const bare = withoutNotes(bytes, format, facts);
  const focal = facts.exif === null ? undefined : focalLength(facts.exif);
  // Orientations 5 to 8 lie on their side (Exif 2.32, orientation).
  const [width, height] = facts.orientation > 4 ? [facts.height, facts.width] : [facts.width, facts.height];
  return {
    bytes: bare ?? bytes,
    format,
    type,
    width,
    height,
    ...(focal === undefined ? {} : { focal }),
    said: removed.map((what) => (bare === null ? `${what} removed when it is sent` : `${what} removed`)),
  };
}
