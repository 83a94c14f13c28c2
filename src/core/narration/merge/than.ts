/** What a claim compares with, in the words of the record. */
import type { Part, TeardownRecord } from "../../record/index.ts";
import { nounAt } from "../lookup.ts";
import { nameWords, partFor } from "./names.ts";

type Device = TeardownRecord["device"];

/** A part, "device", "sibling" (the same thing there), "sibling:PART", or the words as they were said. */
export function thanOf(
  text: string,
  subject: string,
  parts: readonly Part[],
  device: Device,
  isDevice: (text: string) => boolean,
): string {
  const earlier =
    /\b(?:old|older|last|previous|predecessor|before|earlier|former|first|year'?s?)\b/i.test(text) ||
    otherDevice(text, device);
  const owner =
    /^(.+?)(?:'s)?\s+(?:mass|weight|thickness|volume|capacity|width|height|length)$/i.exec(text)?.[1] ?? text;
  if (!earlier) {
    if (isDevice(owner.replace(/'s$/i, ""))) return "device";
    return partFor(parts, owner)?.id ?? text;
  }
  const there = partFor(
    parts,
    owner
      .replace(/\b(?:in|on|of|from)\b.*$/i, "")
      .replace(/\b(?:old|older|last|previous|year'?s?|one|ones|the)\b/gi, "")
      .trim(),
  );
  if (there === null || there.id === subject) return "sibling";
  return `sibling:${there.id}`;
}

/** A name like the device's own with another ending: "Sliver 5" beside "Sliver 6". */
function otherDevice(text: string, device: Device): boolean {
  const words = nameWords(text);
  const own = [...nameWords(device.name), ...nameWords(device.model ?? "")];
  const shares = own.some((word) => words.includes(word) && nounAt((n) => (n === 0 ? word : null)) === null);
  return shares && !own.every((word) => words.includes(word) || words.length < 2)
    ? true
    : /\b[A-Z][a-z]+ (?:\d+|[A-Z][a-z]*)\b/.test(text) && !words.every((word) => own.includes(word));
}
