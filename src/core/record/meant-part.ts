/** The part that was meant by a word which is no part's id: by role, by name, by the nearest spelling of an id or a name. */
import { nearest } from "./nearest.ts";
import type { TeardownRecord } from "./schema.ts";

/** @returns the id, or undefined where nothing is near; the part of a role only where there is one alone */
export function meantPart({ parts }: Pick<TeardownRecord, "parts">, word: string): string | undefined {
  const plain = (text: string): string => text.toLowerCase().replaceAll(/[\s_-]+/g, "-");
  const ofRole = parts.filter((part) => part.role === plain(word));
  if (ofRole.length === 1) return ofRole[0]!.id;
  const names = new Map<string, string>();
  for (const { id, name } of parts.toReversed()) names.set(plain(name), id).set(plain(id), id);
  const near = nearest(plain(word), names.keys());
  return near === undefined ? undefined : names.get(near);
}
