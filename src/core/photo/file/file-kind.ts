/**
 * What a file is, by its first bytes and never by its name or by what a sender says it is.
 *
 * Signatures: JPEG (ITU-T T.81, SOI and a marker), PNG (W3C PNG, 5.2), RIFF forms WEBP and WAVE, TIFF 6.0 (byte order
 * and 42), ISO base media (ISO/IEC 14496-12, the ftyp box and its brands), Matroska and WebM (EBML), Ogg (RFC 3533),
 * FLAC, MPEG audio with ID3 or a frame sync.
 */
export type MediaKind = "photo" | "video" | "audio";
export type PictureFormat = "jpeg" | "png" | "webp" | "avif" | "tiff";

export interface KnownMedia {
  readonly known: true;
  readonly kind: MediaKind;
  readonly format: PictureFormat | "mp4" | "webm" | "m4a" | "mp3" | "ogg" | "wav" | "flac";
  readonly type: string;
}

export interface RefusedMedia {
  readonly known: false;
  /** In words, to be followed by what is taken. */
  readonly found: string;
  readonly advice?: string;
}

/** Bytes that have to be there for a verdict, where the file has as many. */
export const HEAD_BYTES = 4096;

export const TAKEN = "a picture (JPEG, PNG, WebP, AVIF, TIFF), a film (MP4, WebM) or sound (MP3, M4A, WAV, Ogg, FLAC)";

const photo = (format: PictureFormat): KnownMedia => ({ known: true, kind: "photo", format, type: `image/${format}` });
const sound = (format: KnownMedia["format"], type: string): KnownMedia => ({
  known: true,
  kind: "audio",
  format,
  type,
});
const film = (format: KnownMedia["format"], type: string): KnownMedia => ({ known: true, kind: "video", format, type });
const no = (found: string, advice?: string): RefusedMedia => ({ known: false, found, ...(advice ? { advice } : {}) });

/** @param head the file's first bytes, HEAD_BYTES of them or all there are */
export function mediaKind(head: Uint8Array): KnownMedia | RefusedMedia {
  if (head.length === 0) return no("an empty file");
  if (starts(head, [0xff, 0xd8, 0xff])) return photo("jpeg");
  if (starts(head, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return photo("png");
  if (starts(head, [0x49, 0x49, 0x2a, 0]) || starts(head, [0x4d, 0x4d, 0, 0x2a])) return photo("tiff");
  const four = ascii(head, 0, 4);
  if (four === "RIFF") {
    const form = ascii(head, 8, 12);
    if (form === "WEBP") return photo("webp");
    if (form === "WAVE") return sound("wav", "audio/wav");
    return no("a RIFF file that is neither WebP nor WAV");
  }
  if (ascii(head, 4, 8) === "ftyp") return isoMedia(head);
  if (starts(head, [0x1a, 0x45, 0xdf, 0xa3])) return film("webm", "video/webm");
  if (four === "OggS") return sound("ogg", "audio/ogg");
  if (four === "fLaC") return sound("flac", "audio/flac");
  if (ascii(head, 0, 3) === "ID3" || (head[0] === 0xff && (head[1]! & 0xe6) === 0xe2))
    return sound("mp3", "audio/mpeg");
  return refusedKind(head, four);
}

function isoMedia(head: Uint8Array): KnownMedia | RefusedMedia {
  const size = new DataView(head.buffer, head.byteOffset, head.byteLength).getUint32(0);
  const brands: string[] = [];
  for (let at = 8; at + 4 <= Math.min(size, head.length); at += 4) if (at !== 12) brands.push(ascii(head, at, at + 4));
  if (brands.some((brand) => brand === "avif" || brand === "avis")) return photo("avif");
  if (brands.some((brand) => /^(hei[cxms]|hev[cxms]|mif1|msf1)$/.test(brand))) {
    return no("a HEIC picture", "set the camera to JPEG (often called most compatible), or convert it first");
  }
  if (brands[0] === "M4A " || brands[0] === "M4B ") return sound("m4a", "audio/mp4");
  if (brands[0] === "qt  ") return film("mp4", "video/quicktime");
  return film("mp4", "video/mp4");
}

function refusedKind(head: Uint8Array, four: string): RefusedMedia {
  if (four.startsWith("MZ")) return no("a program for Windows");
  if (starts(head, [0x7f, 0x45, 0x4c, 0x46])) return no("a program for Linux");
  if (["feedface", "feedfacf", "cefaedfe", "cffaedfe", "cafebabe"].includes(hex(head, 4))) {
    return no("a program for macOS or Java");
  }
  if (four.startsWith("#!")) return no("a script for a command line");
  if (starts(head, [0x50, 0x4b, 3, 4])) return no("a ZIP archive", "unpack it and add the files in it");
  if (four === "%PDF") return no("a PDF document", "save its page as a picture");
  if (four === "GIF8") return no("a GIF picture", "save it as PNG");
  if (four.startsWith("BM") && head.length > 26) return no("a BMP picture", "save it as PNG");
  if (starts(head, [0xff, 0x0a]) || hex(head, 12) === "0000000c4a584c200d0a870a") {
    return no("a JPEG XL picture", "save it as JPEG or PNG");
  }
  const text = ascii(head, 0, Math.min(head.length, 1024)).trimStart().toLowerCase();
  if (text.includes("<svg")) return no("an SVG drawing, which can carry scripts", "save it as PNG");
  if (/^(<!doctype html|<html|<script|<\?php|<\?xml)/.test(text)) return no("a web page or program text");
  return no("a file of no kind that is known here");
}

const starts = (head: Uint8Array, bytes: readonly number[]): boolean =>
  head.length >= bytes.length && bytes.every((byte, i) => head[i] === byte);

const ascii = (head: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...head.subarray(from, Math.min(to, head.length)));

const hex = (head: Uint8Array, count: number): string =>
  [...head.subarray(0, count)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
