/** Which part of the record a spoken name means: "back glass" and "rear cover" are one part, "left speaker" and "right speaker" two. */

import type { Part, Role } from "../../record/index.ts";
import { nounAt, singular } from "../lookup.ts";

/** Words that tell parts of a kind apart, in pairs that exclude one another; words of one line mean the same. */
const OPPOSED: readonly (readonly (readonly string[])[])[] = [
  [["left"], ["right"]],
  [
    ["upper", "top"],
    ["lower", "bottom"],
  ],
  [
    ["front", "selfie"],
    ["rear", "back", "main"],
  ],
  [["first", "primary"], ["second", "secondary"], ["third"]],
  [
    ["inner", "inside"],
    ["outer", "outside", "cover"],
  ],
  [["power"], ["volume"], ["home"], ["action"]],
];
/** Roles of which a device has one as a rule: any two names of it mean the same part, unless their words exclude that. */
const SINGLE: ReadonlySet<string> = new Set([
  "battery",
  "display",
  "back-cover",
  "front-camera",
  "charging-port",
  "sim-tray",
  "motor",
  "coil",
  "audio-connector",
]);
/** Heads that say the same within a role where there may be several. */
const SAME_HEAD: readonly (readonly string[])[] = [
  ["board", "motherboard", "mainboard"],
  ["bracket", "plate", "retainer", "cowling"],
  ["shield", "can", "shielding"],
  ["heatsink", "sink", "cooler"],
  ["button", "key", "rocker"],
  ["speaker", "loudspeaker"],
  ["trackpad", "touchpad"],
  ["earpiece", "receiver"],
  ["camera", "cam"],
  ["antenna", "aerial"],
];
/** The board with the processor, said in so many words. */
export const isMainBoard = (name: string): boolean => /\b(?:main ?board|logic|mother)/i.test(name);

/** A board that carries the port, not the processor. */
export const isSmallBoard = (name: string): boolean =>
  /\b(?:port|sub|lower|bottom|daughter|charging|charge|usb)[ -]?board\b/i.test(name);

const MAIN_BOARD = new Set(["board", "main board", "mainboard", "motherboard", "logic board"]);
const IGNORED = new Set([
  "the",
  "a",
  "an",
  "of",
  "this",
  "that",
  "its",
  "small",
  "little",
  "old",
  "bare",
  "plastic",
  "metal",
  "module",
  "assembly",
  "unit",
  "whole",
]);

export function nameWords(text: string): string[] {
  return text
    .toLowerCase()
    .normalize("NFKD")
    .replace(/[^a-z0-9 ]+/g, " ")
    .split(/\s+/)
    .filter((word) => word !== "" && !IGNORED.has(word))
    .map(singular);
}

/** The role that a name suggests: the longest name of the lexicon at its end. */
export function roleOf(text: string): Role | null {
  const words = text
    .toLowerCase()
    .replace(/[^a-z0-9/ -]+/g, " ")
    .split(/\s+/)
    .filter((word) => word !== "");
  for (let start = 0; start < words.length; start += 1) {
    const span = nounAt((n) => words[start + n] ?? null);
    if (span !== null && start + span.words.length === words.length) return span.role as Role | null;
  }
  return null;
}

/** The part meant by a name: exact first, then by role and head, never against a word that excludes it. */
export function partFor(parts: readonly Part[], text: string): Part | null {
  const words = nameWords(text);
  if (words.length === 0) return null;
  const exact = parts.find((part) => same(nameWords(part.name), words));
  if (exact !== undefined) return exact;
  const role = roleOf(text);
  const fits = parts.filter(
    (part) => part.base !== true && !excluded(nameWords(part.name), words) && agrees(part, role, words),
  );
  if (fits.length === 1) return fits[0]!;
  // Several fit: the one whose name holds all the words, or whose words are all said.
  const close = fits.filter((part) => {
    const theirs = nameWords(part.name);
    return words.every((word) => theirs.includes(word)) || theirs.every((word) => words.includes(word));
  });
  return close.length === 1 ? close[0]! : null;
}

function agrees(part: Part, role: Role | null, words: readonly string[]): boolean {
  const theirs = nameWords(part.name);
  const partRole = part.role ?? roleOf(part.name);
  if (role !== null && partRole === role && SINGLE.has(role)) return true;
  if (role === "board" && partRole === "board" && MAIN_BOARD.has(words.join(" ")) && MAIN_BOARD.has(theirs.join(" ")))
    return true;
  // "The board" is the main one, and no small board at the port.
  if (isSmallBoard(part.name) !== isSmallBoard(words.join(" ")) && role === "board" && partRole === "board")
    return false;
  const a = theirs.at(-1)!;
  const b = words.at(-1)!;
  const heads = a === b || SAME_HEAD.some((line) => line.includes(a) && line.includes(b));
  if (!heads) return false;
  if (role !== null && partRole !== null && partRole !== role && partRole !== "other") return false;
  // A bare head fits a fuller name; two fuller names must share a word besides the head.
  const more = theirs.slice(0, -1);
  const mine = words.slice(0, -1);
  if (more.length === 0 || mine.length === 0) return true;
  return mine.every((word) => theirs.includes(word)) || more.every((word) => words.includes(word));
}

function excluded(a: readonly string[], b: readonly string[]): boolean {
  return OPPOSED.some((groups) => {
    const mine = groups.findIndex((group) => group.some((word) => a.includes(word)));
    const theirs = groups.findIndex((group) => group.some((word) => b.includes(word)));
    return mine >= 0 && theirs >= 0 && mine !== theirs;
  });
}

const same = (a: readonly string[], b: readonly string[]) =>
  a.length === b.length && a.every((word, nth) => word === b[nth]);
