/** Tables made once from the lexicon: noun spans, verb forms, singulars. */
import {
  BACK_VERBS,
  COMMON_VERBS,
  EVERYDAY_VERBS,
  HOLDING,
  IRREGULAR,
  type NounClass,
  PARTS,
  THINGS,
  VERBS,
} from "./lexicon/index.ts";

export interface NounSpan {
  readonly words: readonly string[];
  readonly classes: readonly NounClass[];
  readonly role: string | null;
}

export type VerbForm = "base" | "s" | "past" | "ing";
export interface VerbWord {
  readonly base: string;
  readonly form: VerbForm;
}

const SINGULARS: Readonly<Record<string, string>> = {
  feet: "foot",
  batteries: "battery",
  lenses: "lens",
  halves: "half",
  knives: "knife",
  leaves: "leaf",
  chassis: "chassis",
  lens: "lens",
  gas: "gas",
  bus: "bus",
  phillips: "phillips",
  series: "series",
};

export function singular(word: string): string {
  const known = SINGULARS[word];
  if (known !== undefined) return known;
  if (word.endsWith("ies") && word.length > 4) return `${word.slice(0, -3)}y`;
  if (/(?:s|x|z|ch|sh)es$/.test(word)) return word.slice(0, -2);
  if (word.endsWith("s") && !/(?:ss|us|is)$/.test(word) && word.length > 3) return word.slice(0, -1);
  return word;
}

export const isPlural = (word: string) => singular(word) !== word && word !== "glasses";

const NOUNS: ReadonlyMap<string, readonly NounSpan[]> = (() => {
  const spans = new Map<string, { words: string[]; classes: NounClass[]; role: string | null }>();
  const add = (name: string, cls: NounClass, role: string | null) => {
    const known = spans.get(name);
    if (known === undefined) spans.set(name, { words: name.split(" "), classes: [cls], role });
    else {
      if (!known.classes.includes(cls)) known.classes.push(cls);
      known.role ??= role;
    }
  };
  for (const [role, names] of Object.entries(PARTS))
    for (const name of names) add(name, "part", role === "other" ? null : role);
  for (const [cls, names] of Object.entries(THINGS)) for (const name of names) add(name, cls as NounClass, null);
  const map = new Map<string, NounSpan[]>();
  for (const span of spans.values()) {
    const list = map.get(span.words[0]!) ?? [];
    list.push(span);
    map.set(span.words[0]!, list);
  }
  for (const list of map.values()) list.sort((a, b) => b.words.length - a.words.length);
  return map;
})();

/** The longest noun of the lexicon whose words stand at `i`; `word(n)` gives the n-th word or null past a hard boundary. */
export function nounAt(word: (n: number) => string | null): NounSpan | null {
  const first = word(0);
  if (first === null) return null;
  for (const key of [first, singular(first)]) {
    for (const span of NOUNS.get(key) ?? []) {
      const last = span.words.length - 1;
      const fits = span.words.every((want, nth) => {
        const said = word(nth);
        return said !== null && (said === want || (nth === last && singular(said) === want));
      });
      if (fits) return span;
    }
  }
  return null;
}

export const isNoun = (word: string) => nounAt((n) => (n === 0 ? word : null)) !== null;

function forms(base: string): [string, VerbForm][] {
  const irregular = IRREGULAR[base];
  const short =
    /^[^aeiou]*[aeiou][bdgklmnprtvz]$/.test(base) ||
    /(?:plug|clip|snap|wrap|snip|slip|flip|strip|tug|zip|drag|rip)$/.test(base);
  const doubled = short && !/[aeiou]{2}.$/.test(base) && !/(?:en|er|ow|ew|ck)$/.test(base) ? base + base.at(-1)! : base;
  const e = base.endsWith("e");
  const y = /[^aeiou]y$/.test(base);
  const ing = e ? `${base.slice(0, -1)}ing` : `${doubled}ing`;
  const ed = e ? `${base}d` : y ? `${base.slice(0, -1)}ied` : `${doubled}ed`;
  const s = y ? `${base.slice(0, -1)}ies` : /(?:s|x|z|ch|sh|o)$/.test(base) ? `${base}es` : `${base}s`;
  const past =
    irregular === undefined || irregular.length === 0 ? [ed] : irregular.filter((one) => !one.endsWith("ing"));
  const list: [string, VerbForm][] = [[s, "s"], [ing, "ing"], ...past.map((one): [string, VerbForm] => [one, "past"])];
  return [...list, [base, "base"]];
}

function formTable(bases: readonly string[]): ReadonlyMap<string, VerbWord> {
  const map = new Map<string, VerbWord>();
  // Later entries win: a base form ("split", "cut") is read as base before it is read as past.
  for (const base of bases) for (const [word, form] of forms(base)) map.set(word, { base, form });
  for (const base of bases) map.set(base, { base, form: "base" });
  return map;
}

export const WORK_VERBS = formTable(Object.keys(VERBS));
export const HOLD_VERBS = formTable([...HOLDING]);
export const RETURN_VERBS = formTable(Object.keys(BACK_VERBS));
const COMMON: ReadonlySet<string> = new Set([
  ...COMMON_VERBS,
  ...EVERYDAY_VERBS.flatMap((base) => forms(base).map(([word]) => word)).filter((word) => !isNoun(word)),
]);

export const isCommonVerb = (word: string) => COMMON.has(word);
