/**
 * A picture's metadata: what is told of it, what must not be in it, and a JPEG or PNG rid of it without touching a pixel.
 *
 * JPEG: segments by ITU-T T.81 Annex B; kept are JFIF (APP0), colour profile (APP2 ICC), Adobe transform (APP14), tables,
 * frames and scans up to the first end of image. PNG: chunks by W3C PNG 5.3; kept are the critical ones and those that
 * say what the colours mean. Exif: TIFF directories, tag 0x8825 leads to the position (Exif 2.32, 4.6.3).
 */
import { latin } from "./bytes.ts";

/** What a reader of the file's header tells of it; the header's own notes are not yet judged. */
export interface PictureFacts {
  readonly width: number;
  readonly height: number;
  /** As the camera wrote it (Exif 2.32, orientation): 1 is upright. */
  readonly orientation: number;
  readonly exif: Uint8Array | null;
  /** XMP, IPTC and comments as they stand in the file. */
  readonly notes: readonly Uint8Array[];
}

/** A script or page where only words of a camera belong. */
const SCRIPT =
  /<\s*(script|svg|html|iframe|object|embed|img|body)\b|javascript:|vbscript:|data:text\/html|<\?(php|=)|\bon(error|load|click)\s*=/i;

export interface MetadataFound {
  /** What was taken out, in words. */
  readonly removed: readonly string[];
  /** Piece of a script, where there is one. */
  readonly script: string | null;
}

/** @param bytes the whole file: what hides in a field that is not read, or after the picture's end, is found as well */
export function metadataFound(bytes: Uint8Array, facts: Pick<PictureFacts, "exif" | "notes">): MetadataFound {
  const removed: string[] = [];
  const notes = facts.notes.map(latin);
  const exif = facts.exif === null ? "" : latin(facts.exif);
  if ((facts.exif !== null && hasPosition(facts.exif)) || notes.some((note) => /GPS(Latitude|Longitude)/.test(note))) {
    removed.push("position data");
  }
  if (facts.exif !== null) removed.push("camera data");
  if (notes.length > 0) removed.push("notes in the file");
  for (const text of [exif, ...notes]) {
    // Wide characters hide nothing: the zeros between them are left out.
    const found = SCRIPT.exec(text) ?? SCRIPT.exec(text.replaceAll("\0", ""));
    if (found !== null) return { removed, script: found[0].slice(0, 40) };
  }
  const hidden = ["<script", "<?php", "javascript:"].find((piece) => holds(bytes, piece));
  return { removed, script: hidden ?? null };
}

/** Whether the Exif block has a directory for the position. Damaged blocks have none that can be read. */
export function hasPosition(exif: Uint8Array): boolean {
  return exifValue(exif, [0x8825]) !== undefined;
}

/** Focal length in terms of 35 mm film (Exif 2.32, tag 0xa405 in the Exif directory), mm; undefined where not told. */
export function focalLength(exif: Uint8Array): number | undefined {
  const value = exifValue(exif, [0x8769, 0xa405]);
  return value !== undefined && value >= 8 && value <= 1200 ? value : undefined;
}

/** Which way up the camera was held (Exif 2.32, tag 0x0112); 1, upright, where it is not told. */
export function orientation(exif: Uint8Array): number {
  const value = exifValue(exif, [0x0112]);
  return value !== undefined && value >= 1 && value <= 8 ? value : 1;
}

/** A short or long value by its tags, from directory to directory; undefined where any of it does not read. */
function exifValue(exif: Uint8Array, tags: readonly number[]): number | undefined {
  const skip = latin(exif.subarray(0, 6)) === "Exif\0\0" ? 6 : 0;
  const view = new DataView(exif.buffer, exif.byteOffset + skip, exif.byteLength - skip);
  if (view.byteLength < 8) return undefined;
  const little = view.getUint16(0) === 0x4949;
  let value = view.getUint32(4, little);
  for (const tag of tags) {
    if (value + 2 > view.byteLength) return undefined;
    const count = view.getUint16(value, little);
    let found: number | undefined;
    for (let i = 0; i < count && found === undefined; i++) {
      const at = value + 2 + 12 * i;
      if (at + 12 > view.byteLength) return undefined;
      if (view.getUint16(at, little) !== tag) continue;
      found = view.getUint16(at + 2, little) === 3 ? view.getUint16(at + 8, little) : view.getUint32(at + 8, little);
    }
    if (found === undefined) return undefined;
    value = found;
  }
  return value;
}

/** The JPEG without its notes, or null where its segments do not read (it is then decoded and written anew). */
export function strippedJpeg(bytes: Uint8Array): Uint8Array | null {
  const kept: Uint8Array[] = [bytes.subarray(0, 2)];
  let at = 2;
  for (;;) {
    if (at + 2 > bytes.length || bytes[at] !== 0xff) return null;
    const marker = bytes[at + 1]!;
    if (marker === 0xff) {
      at++;
      continue;
    }
    if (marker === 0xd9) break;
    // Past the end of a file that breaks off it is no length at all.
    const length = (bytes[at + 2]! << 8) | bytes[at + 3]!;
    const end = at + 2 + length;
    if (length < 2 || end > bytes.length) return null;
    const segment = bytes.subarray(at, end);
    const note = (marker >= 0xe0 && marker <= 0xef) || marker === 0xfe;
    const useful =
      (marker === 0xe0 && latin(segment.subarray(4, 9)) === "JFIF\0") ||
      (marker === 0xe2 && latin(segment.subarray(4, 16)) === "ICC_PROFILE\0") ||
      (marker === 0xee && latin(segment.subarray(4, 9)) === "Adobe");
    if (!note || useful) kept.push(segment);
    at = end;
    if (marker === 0xda) {
      const from = at;
      // Within a scan 0xff is followed by 0 or a restart marker; anything else ends it.
      while (at + 1 < bytes.length && !(bytes[at] === 0xff && endsScan(bytes[at + 1]!))) at++;
      if (at + 1 >= bytes.length) return null;
      kept.push(bytes.subarray(from, at));
    }
  }
  kept.push(new Uint8Array([0xff, 0xd9]));
  return joined(kept);
}

const endsScan = (next: number): boolean => next !== 0 && next !== 0xff && !(next >= 0xd0 && next <= 0xd7);

const PNG_KEPT = new Set(["IHDR", "PLTE", "IDAT", "IEND", "tRNS", "gAMA", "cHRM", "sRGB", "iCCP", "pHYs"]);

/** The PNG without its notes, or null where its chunks do not read. */
export function strippedPng(bytes: Uint8Array): Uint8Array | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const kept: Uint8Array[] = [bytes.subarray(0, 8)];
  for (let at = 8; at + 12 <= bytes.length; ) {
    const end = at + 12 + view.getUint32(at);
    if (end > bytes.length) return null;
    const name = latin(bytes.subarray(at + 4, at + 8));
    if (PNG_KEPT.has(name)) kept.push(bytes.subarray(at, end));
    if (name === "IEND") return joined(kept);
    at = end;
  }
  return null;
}

function joined(pieces: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

function holds(bytes: Uint8Array, piece: string): boolean {
  const codes = [...piece].map((sign) => sign.charCodeAt(0));
  for (let at = bytes.indexOf(codes[0]!); at >= 0; at = bytes.indexOf(codes[0]!, at + 1)) {
    if (codes.every((code, i) => bytes[at + i] === code)) return true;
  }
  return false;
}
