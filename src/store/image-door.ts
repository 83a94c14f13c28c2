/**
 * The one file that imports the picture library (sharp, which brings libvips). It decodes, turns upright and writes
 * pictures again; everything that is not pixels (position, camera, notes, thumbnails of the camera's own, bytes after
 * the end) stays behind.
 */
import type { Metadata, Sharp, SharpOptions } from "sharp";
import type { PictureFacts } from "../core/photo/file/index.ts";

/** The library is not there: it is an optional package with ready binaries for the usual machines. */
export class PicturesMissing extends Error {
  constructor(cause: unknown) {
    super("The picture library sharp is not installed or has no binary for this machine: run npm ci again.", { cause });
    this.name = "PicturesMissing";
  }
}

/** What the library tells of a file, more than its header says by itself. */
export interface KnownPicture extends PictureFacts {
  readonly alpha: boolean;
  readonly pages: number;
}

export interface WrittenPicture {
  readonly bytes: Uint8Array;
  readonly format: "jpeg" | "png";
  readonly width: number;
  readonly height: number;
}

type Open = (input: Uint8Array, options?: SharpOptions) => Sharp;
let opened: Promise<Open> | undefined;

function library(): Promise<Open> {
  opened ??= import("sharp").then(
    ({ default: sharp }) => {
      // One picture at a time: a large one takes 400 MB, and nothing read before is wanted again.
      sharp.cache(false);
      sharp.concurrency(1);
      return sharp as unknown as Open;
    },
    (error: unknown) => {
      opened = undefined;
      throw new PicturesMissing(error);
    },
  );
  return opened;
}

/** Reads the header alone, no pixel is decoded. @throws Error of the library where it is no picture */
export async function pictureFacts(bytes: Uint8Array): Promise<KnownPicture> {
  const open = await library();
  const facts: Metadata = await open(bytes, { limitInputPixels: false, failOn: "none" }).metadata();
  const notes = [facts.xmp, facts.iptc, ...(facts.comments ?? []).map(({ text }) => Buffer.from(text))];
  return {
    width: facts.width,
    height: facts.height,
    orientation: facts.orientation ?? 1,
    alpha: facts.hasAlpha,
    pages: facts.pages ?? 1,
    exif: facts.exif ?? null,
    notes: notes.filter((note) => note !== undefined),
  };
}

/**
 * Decodes the whole picture, turns it upright and writes it from its pixels alone: PNG where nothing may be lost or
 * something shows through, else JPEG of quality 95 with full colour.
 *
 * @throws Error of the library where the picture is damaged or has more than `most` pixels
 */
export async function writeUpright(bytes: Uint8Array, lossless: boolean, most: number): Promise<WrittenPicture> {
  const open = await library();
  const upright = open(bytes, { limitInputPixels: most, failOn: "error", pages: 1 }).autoOrient().toColourspace("srgb");
  const written = lossless
    ? upright.png({ compressionLevel: 6 })
    : upright.jpeg({ quality: 95, chromaSubsampling: "4:4:4" });
  const { data, info } = await written.toBuffer({ resolveWithObject: true });
  return { bytes: data, format: lossless ? "png" : "jpeg", width: info.width, height: info.height };
}

/** A small picture, JPEG on white. @throws Error of the library where the picture is damaged */
export async function shrink(bytes: Uint8Array, width: number, most: number): Promise<Uint8Array> {
  const open = await library();
  return open(bytes, { limitInputPixels: most, failOn: "error", pages: 1 })
    .autoOrient()
    .resize({ width, height: width * 2, fit: "inside", withoutEnlargement: true })
    .flatten({ background: "#ffffff" })
    .jpeg({ quality: 82 })
    .toBuffer();
}
