/** A photograph from a file, the camera or a still of a film, taken in by the server and tied to the record. */

import { addPhoto, type NewPhoto } from "../../../core/photo/index.ts";
import type { Edit, TeardownRecord } from "../../../core/record/index.ts";
import type { TakenMedia } from "../../../server/api.ts";
import { ask } from "../../data/client.ts";

export const mediaAddress = (file: string, width?: 240 | 480 | 960 | 1920): string =>
  `/api/media/${encodeURIComponent(file.slice(file.lastIndexOf("/") + 1))}${width === undefined ? "" : `?width=${width}`}`;

/** @throws Failed with the server's reasons, or when it is not there: a photograph is not put into the outbox */
export function sendMedia(content: Blob, name: string): Promise<TakenMedia> {
  return ask<TakenMedia>(`/api/media?name=${encodeURIComponent(name)}`, {
    method: "POST",
    headers: { "content-type": "application/octet-stream" },
    body: content,
  });
}

export interface Added {
  readonly id: string;
  readonly edits: readonly Edit[];
  /** What was done to it, in words. */
  readonly said: readonly string[];
}

export async function takePhoto(
  record: TeardownRecord,
  content: Blob,
  name: string,
  tie: Pick<NewPhoto, "session" | "at" | "entry" | "parts">,
): Promise<Added> {
  const taken = await sendMedia(content, name);
  const { name: file, hash, width, height, focal } = taken;
  const lens =
    width === undefined || height === undefined || focal === undefined
      ? {}
      : { lens: { size: [width, height] as const, focal } };
  return { ...addPhoto(record, { file, hash, ...lens, ...tie }), said: taken.said };
}

/** The picture that a film shows at this moment, in its own size. @throws Error where it shows none yet */
export async function stillOf(video: HTMLVideoElement): Promise<Blob> {
  const canvas = new OffscreenCanvas(video.videoWidth, video.videoHeight);
  if (canvas.width === 0 || canvas.height === 0) throw new Error("The film shows no picture yet.");
  canvas.getContext("2d")!.drawImage(video, 0, 0);
  return canvas.convertToBlob({ type: "image/jpeg", quality: 0.95 });
}
