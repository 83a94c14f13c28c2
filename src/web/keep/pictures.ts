/** Photographs that the server does not have yet, shown from the browser under the names that the record has for them. */
import type { WaitingPicture } from "./outbox.ts";

const waiting = new Map<string, { readonly record: string; readonly address: string; readonly content: Blob }>();
/** An address that was just drawn is let go of only when the one that follows it is drawn. */
const LET_GO_AFTER = 60_000;

/** All that wait for a record; those of it that are not among them are the server's from now on. */
export function showPictures(record: string, pictures: readonly WaitingPicture[]): void {
  const names = new Set(pictures.map(({ name }) => name));
  for (const [name, one] of waiting) {
    if (one.record !== record || names.has(name)) continue;
    waiting.delete(name);
    setTimeout(() => URL.revokeObjectURL(one.address), LET_GO_AFTER);
  }
  for (const { name, content } of pictures)
    if (!waiting.has(name)) waiting.set(name, { record, content, address: URL.createObjectURL(content) });
}

/** Where a picture is: here until the server has it, whole or, from the server, as wide as is asked for. */
export function mediaAddress(file: string, width?: 240 | 480 | 960 | 1920): string {
  const name = file.slice(file.lastIndexOf("/") + 1);
  const here = waiting.get(name);
  if (here !== undefined) return here.address;
  return `/api/media/${encodeURIComponent(name)}${width === undefined ? "" : `?width=${width}`}`;
}

/** A picture's bytes, from wherever it is. @throws Error in words where it is nowhere */
export async function mediaContent(file: string): Promise<Blob> {
  const here = waiting.get(file.slice(file.lastIndexOf("/") + 1));
  if (here !== undefined) return here.content;
  const answer = await fetch(mediaAddress(file)).catch(() => undefined);
  if (answer?.ok) return answer.blob();
  throw new Error(
    answer === undefined ? "the server does not answer" : `the picture could not be read (${answer.status})`,
  );
}

const ENDINGS: Readonly<Record<string, string>> = { jpeg: "jpg" };

/**
 * Bytes as a picture that waits, named after their content as the server would name it. Without the browser's hash (a
 * page that did not come over a safe line) the name is as good as unique and the server gives the other.
 */
export async function waitingPicture(
  record: string,
  { bytes, format, type }: { readonly bytes: Uint8Array; readonly format: string; readonly type: string },
  given: string,
): Promise<WaitingPicture> {
  const content = new Blob([bytes as Uint8Array<ArrayBuffer>], { type });
  const hash =
    (globalThis.crypto.subtle as SubtleCrypto | undefined) === undefined
      ? crypto.getRandomValues(new Uint8Array(32))
      : new Uint8Array(await crypto.subtle.digest("SHA-256", bytes as Uint8Array<ArrayBuffer>));
  const hex = [...hash].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return { record, name: `${hex}.${ENDINGS[format] ?? format}`, given, content };
}
