/**
 * Relations as they are written into a table: "back + coil or display" is what `under` and `reach` hold, all of a group
 * or all of another one. Names are taken as well as ids; ids are written.
 */
import { InputError } from "../../errors.ts";
import { nearest } from "../nearest.ts";

export interface Named {
  readonly id: string;
  readonly name?: string;
}

/** Finds things by id or by name, capitals or not. */
export class NameList {
  private readonly what: string;
  private readonly byWord = new Map<string, string>();
  private readonly words: string[] = [];

  /** @param what as it is called in a fault: "part" */
  constructor(what: string, items: readonly Named[]) {
    this.what = what;
    for (const { id, name } of items) if (name !== undefined) this.add(name, id);
    // An id wins over another thing's name.
    for (const { id } of items) this.add(id, id);
  }

  find(word: string): string | undefined {
    return this.byWord.get(key(word));
  }

  /** @throws InputError naming the nearest that there is */
  need(word: string): string {
    const found = this.find(word);
    if (found !== undefined) return found;
    const near = nearest(word.trim(), this.words);
    throw new InputError({
      path: "",
      found: word.trim() === "" ? "nothing" : `"${word.trim()}"`,
      expected: `the id or the name of a ${this.what}`,
      ...(near === undefined ? {} : { nearest: near }),
    });
  }

  private add(word: string, id: string): void {
    this.byWord.set(key(word), id);
    this.words.push(word);
  }
}

const key = (word: string): string => word.trim().toLowerCase().replaceAll(/\s+/g, " ");

/** "a + b" as ids. A name with "and" in it is taken as one where there is such a thing. */
export function readList(text: string, names: NameList): string[] {
  const whole = names.find(text);
  if (whole !== undefined) return [whole];
  if (text.trim() === "") return [];
  const ids = text.split(/\s*[+,]\s*|\s+and\s+/i).map((word) => names.need(word));
  return [...new Set(ids)];
}

export const listText = (ids: readonly string[]): string => ids.join(" + ");

/** "a + b or c" as groups; nothing written is no group. */
export function readGroups(text: string, names: NameList): string[][] {
  if (text.trim() === "") return [];
  if (names.find(text) !== undefined) return [readList(text, names)];
  return text.split(/\s+or\s+|\s*\|\s*/i).map((part) => {
    const group = readList(part, names);
    if (group.length === 0)
      throw new InputError({ path: "", found: `nothing beside "or" in "${text}"`, expected: "a part on both sides" });
    return group;
  });
}

export const groupsText = (groups: readonly (readonly string[])[] | undefined): string =>
  (groups ?? []).map(listText).join(" or ");

/** An id made of a name, unlike any of `taken`. */
export function idFrom(name: string, taken: Iterable<string>): string {
  const plain =
    name
      .normalize("NFKD")
      .replaceAll(/\p{M}/gu, "")
      .toLowerCase()
      .replaceAll(/[^a-z0-9]+/g, "-")
      .replaceAll(/^-+|-+$/g, "")
      .slice(0, 60) || "unnamed";
  const known = new Set(taken);
  let id = plain;
  for (let n = 2; known.has(id); n += 1) id = `${plain}-${n}`;
  return id;
}
