/**
 * Word lists: every sentence that a work sheet can say, by key. A language is one data file; `{name}` is filled in, and where a
 * text has two forms, "one|several", `{n}` chooses. A list of one's own is a JSON file with the same keys.
 */
import { type Fault, InputFaults } from "../../core/errors.ts";
import { nearest } from "../../core/record/nearest.ts";
import { de } from "./de.ts";
import { en, type WordKey } from "./en.ts";

export type { WordKey } from "./en.ts";
export type WordList = Readonly<Record<WordKey, string>>;

export const LANGUAGES: Readonly<Record<string, WordList>> = { en, de };

export type Say = (key: WordKey, values?: Readonly<Record<string, string | number>>) => string;

export function sayer(list: WordList): Say {
  return (key, values = {}) => {
    const forms = list[key].split("|");
    const form = forms.length > 1 && values.n !== 1 ? forms[1]! : forms[0]!;
    return form.replace(/\{(\w+)\}/g, (whole, name: string) =>
      Object.hasOwn(values, name) ? String(values[name]) : whole,
    );
  };
}

/** A list of one's own. @throws InputFaults naming keys that are missing, unknown, no text or that use unknown places */
export function wordListFrom(value: unknown): WordList {
  if (value === null || typeof value !== "object" || Array.isArray(value))
    throw new InputFaults([{ path: "", found: "no object", expected: "an object of keys and texts" }]);
  const given = value as Record<string, unknown>;
  const faults: Fault[] = [];
  for (const key of Object.keys(en) as WordKey[]) {
    const text = given[key];
    if (typeof text !== "string" || text.trim() === "") {
      faults.push({
        path: key,
        found: text === undefined ? "nothing" : JSON.stringify(text),
        expected: `a text for "${en[key]}"`,
      });
      continue;
    }
    const places = new Set(placesIn(en[key]));
    for (const place of placesIn(text))
      if (!places.has(place))
        faults.push({
          path: key,
          found: `{${place}}`,
          expected: `only ${[...places].map((one) => `{${one}}`).join(", ") || "plain words"}`,
        });
  }
  for (const key of Object.keys(given))
    if (!Object.hasOwn(en, key)) {
      const near = nearest(key, Object.keys(en));
      faults.push({
        path: key,
        found: "an unknown key",
        expected: "a key of the English list",
        ...(near === undefined ? {} : { nearest: near }),
      });
    }
  if (faults.length > 0) throw new InputFaults(faults);
  return given as WordList;
}

export const placesIn = (text: string): string[] => [...text.matchAll(/\{(\w+)\}/g)].map((match) => match[1]!);
