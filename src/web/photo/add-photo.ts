/** A photograph from a file, the camera or a still of a film, put into the outbox and tied to the record. */
import { InputError } from "../../core/errors.ts";
import {
  addPhoto,
  type NewPhoto,
  PICTURE_LIMITS,
  type PictureToKeep,
  pictureToKeep,
  tooLarge,
} from "../../core/photo/index.ts";
import type { Edit, TeardownRecord } from "../../core/record/index.ts";
import { type WaitingPicture, waitingPicture } from "../keep/index.ts";

export interface Added {
  readonly id: string;
  readonly edits: readonly Edit[];
  /** What has to be with the server before the edits are. */
  readonly pictures: readonly WaitingPicture[];
  /** What was done to it, in words. */
  readonly said: readonly string[];
}

/**
 * A picture as the edits that add it, with the server or without: judged here, rid of what can be taken out without
 * decoding it, to be put into the outbox.
 *
 * @throws InputError for what is no picture, too large, damaged, or carries a script
 */
export async function takePhoto(
  record: TeardownRecord,
  content: Blob,
  name: string,
  tie: Pick<NewPhoto, "session" | "at" | "entry" | "parts">,
): Promise<Added> {
  // What is far too large is not read into memory to be told so.
  if (content.size > PICTURE_LIMITS.bytes) throw tooLarge(name, PICTURE_LIMITS.bytes);
  const picture = pictureToKeep(new Uint8Array(await content.arrayBuffer()), name);
  await refuseDamaged(content, picture, name);
  const waiting = await waitingPicture(record.id, picture, name);
  const { width, height, focal, said } = picture;
  const lens = focal === undefined ? {} : { lens: { size: [width, height] as const, focal } };
  const hash = `sha256:${waiting.name.slice(0, waiting.name.indexOf("."))}`;
  const { id, edits } = addPhoto(record, { file: waiting.name, hash, ...lens, ...tie });
  const known = record.media.some((one) => one.file === waiting.name);
  return { id, edits, pictures: known ? [] : [waiting], said: known ? ["it was there already"] : said };
}

/** Larger ones would take half a gigabyte to look at; the server looks at those. */
const DECODED_HERE = 50e6;

/** Of a kind that browsers show, it is decoded once. @throws InputError where it is damaged */
async function refuseDamaged(content: Blob, picture: PictureToKeep, name: string): Promise<void> {
  const { format, type, width, height } = picture;
  if (format === "tiff" || width * height > DECODED_HERE) return;
  try {
    (await createImageBitmap(new Blob([content], { type }))).close();
  } catch {
    throw new InputError({
      path: name,
      found: `a damaged ${format.toUpperCase()} picture (it does not open)`,
      expected: "one that opens in a viewer",
    });
  }
}

/** The picture that a film shows at this moment, in its own size. @throws Error where it shows none yet */
export async function stillOf(video: HTMLVideoElement): Promise<Blob> {
  const canvas = new OffscreenCanvas(video.videoWidth, video.videoHeight);
  if (canvas.width === 0 || canvas.height === 0) throw new Error("The film shows no picture yet.");
  canvas.getContext("2d")!.drawImage(video, 0, 0);
  return canvas.convertToBlob({ type: "image/jpeg", quality: 0.95 });
}
