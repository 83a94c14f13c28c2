/**
 * Parts as the hand writes them: "top sh", "bat", "back glass" for a rear cover. The longest run of words that means one
 * part wins; words that fit several parts equally well mean none of them, and are told.
 */
import type { Part, TeardownRecord } from "../../record/schema.ts";
import { singular } from "../lookup.ts";
import { nameWords, partFor } from "../merge/names.ts";

/** More words than this are never one part's name. */
const LONGEST = 5;
/** Fewer letters than this are no beginning of a name: "t" or "to" could be anything. */
const SHORTEST = 3;

export interface NamedPart {
  readonly part: Part;
  readonly from: number;
  readonly to: number;
}

/** @param open whether the word at an index may be part of a name */
export function partsIn(
  record: TeardownRecord,
  words: readonly string[],
  open: (index: number) => boolean,
): NamedPart[] {
  const named: NamedPart[] = [];
  for (let from = 0; from < words.length; ) {
    const hit = open(from) ? longest(record, words, from, open) : null;
    if (hit !== null) named.push(hit);
    from = hit === null ? from + 1 : hit.to;
  }
  return named;
}

function longest(
  record: TeardownRecord,
  words: readonly string[],
  from: number,
  open: (index: number) => boolean,
): NamedPart | null {
  let to = from;
  while (to < words.length && to - from < LONGEST && open(to)) to += 1;
  for (; to > from; to -= 1) {
    const part = meant(record, words.slice(from, to));
    if (part !== null) return { part, from, to };
  }
  return null;
}

/** The one part that these words mean, all of them needed; null where none or several do. */
export function meant(record: TeardownRecord, words: readonly string[]): Part | null {
  if (/^(?:the|a|an|of|its)$/.test(words.at(-1) ?? "") || words.every((word) => !/\p{L}/u.test(word))) return null;
  const found = partFor(record.parts, words.join(" "));
  if (found !== null) return found;
  const said = nameWords(words.join(" ")).map(plain);
  if (!said.some((word) => word.length >= SHORTEST) || said.some((word) => word.length < 2)) return null;
  const fits = record.parts.filter((part) => namesOf(part).some((name) => begins(name, said)));
  return fits.length === 1
    ? fits[0]!
    : (fits.find((part) => namesOf(part).some((name) => name.length === said.length)) ?? null);
}

/** Parts whose names these words could be the beginnings of, for asking which one is meant. */
export function couldMean(record: TeardownRecord, words: readonly string[]): readonly Part[] {
  const said = words.map((word) => plain(singular(word))).filter((word) => word.length >= SHORTEST);
  return said.length === 0 ? [] : record.parts.filter((part) => namesOf(part).some((name) => begins(name, said)));
}

/** A part goes by its name and by its id, which somebody wrote as well: "Upper shield", "top-shield". */
const namesOf = (part: Part): string[][] =>
  [part.name, part.id].map((name) => nameWords(name.replaceAll("-", " ")).map(plain));

const SAME: Readonly<Record<string, string>> = { top: "upper", bottom: "lower", rear: "back" };
const plain = (word: string): string => SAME[word] ?? word;

function begins(name: readonly string[], said: readonly string[]): boolean {
  const left = [...name];
  return said.every((word) => {
    const at = left.findIndex((one) => one.startsWith(word));
    if (at < 0) return false;
    left.splice(at, 1);
    return true;
  });
}
