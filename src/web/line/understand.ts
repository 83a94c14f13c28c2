/**
 * The line: typed words -> what is to be done, and what was understood. Pages and parts are found by name, a depth by its
 * number. Words that mean nothing here are named, never guessed at.
 */
import type { Part } from "../../core/record/index.ts";

export type Act =
  | { readonly kind: "page"; readonly page: string }
  | { readonly kind: "part"; readonly part: string }
  | { readonly kind: "depth"; readonly mm: number }
  | { readonly kind: "side"; readonly seen: "back" | "front" }
  | { readonly kind: "close" };

export interface Understood {
  readonly acts: readonly Act[];
  /** In large type: "battery · Ways in". Empty where nothing was understood. */
  readonly words: string;
  readonly unknown: readonly string[];
}

export interface Vocabulary {
  readonly pages: readonly { readonly id: string; readonly label: string }[];
  readonly parts: readonly Pick<Part, "id" | "name" | "role">[];
}

const FILLERS = new Set([
  "the",
  "a",
  "an",
  "to",
  "of",
  "show",
  "go",
  "open",
  "please",
  "and",
  "page",
  "part",
  "at",
  "deep",
]);

const fold = (words: string): string => words.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();

const tokensOf = (words: string): string[] => fold(words).match(/-?\d+(?:[.,]\d+)?|[\p{L}\p{N}]+/gu) ?? [];

/** Takes `run` out of the front of `tokens` when they begin with it. */
const begins = (tokens: readonly string[], run: readonly string[]): boolean =>
  run.length > 0 && run.every((word, i) => tokens[i] === word);

interface Found {
  readonly act: Act;
  readonly said: string;
  readonly used: number;
}

export function understand(line: string, { pages, parts }: Vocabulary): Understood {
  const acts: Act[] = [];
  const said: string[] = [];
  const unknown: string[] = [];
  let rest = tokensOf(line);
  while (rest.length > 0) {
    const found = phrase(rest) ?? page(rest, pages) ?? part(rest, parts);
    if (found) {
      acts.push(found.act);
      said.push(found.said);
      rest = rest.slice(found.used);
      continue;
    }
    if (!FILLERS.has(rest[0]!)) unknown.push(rest[0]!);
    rest = rest.slice(1);
  }
  return { acts, words: said.join(" · "), unknown };
}

function phrase(tokens: readonly string[]): Found | null {
  const value = Number(tokens[0]!.replace(",", "."));
  if (/\d/.test(tokens[0]!) && Number.isFinite(value)) {
    const used = tokens[1] === "mm" ? 2 : 1;
    return { act: { kind: "depth", mm: value }, said: `opened to ${value} mm`, used };
  }
  const phrases: readonly (readonly [readonly string[], Act, string])[] = [
    [["from", "the", "display"], { kind: "side", seen: "front" }, "from the display"],
    [["from", "display"], { kind: "side", seen: "front" }, "from the display"],
    [["from", "the", "front"], { kind: "side", seen: "front" }, "from the display"],
    [["from", "the", "back"], { kind: "side", seen: "back" }, "from the back"],
    [["from", "back"], { kind: "side", seen: "back" }, "from the back"],
    [["close"], { kind: "close" }, "closed"],
    [["closed"], { kind: "close" }, "closed"],
  ];
  const hit = phrases.find(([words]) => begins(tokens, words));
  return hit ? { act: hit[1], said: hit[2], used: hit[0].length } : null;
}

function page(tokens: readonly string[], pages: Vocabulary["pages"]): Found | null {
  for (const { id, label } of pages) {
    const words = tokensOf(label);
    if (begins(tokens, words)) return { act: { kind: "page", page: id }, said: label, used: words.length };
  }
  return null;
}

/** The part that most words in a row speak of: by beginnings of the words of its name, or by its role. */
function part(tokens: readonly string[], parts: Vocabulary["parts"]): Found | null {
  let best: { part: Vocabulary["parts"][number]; used: number; exact: number; length: number } | null = null;
  for (const one of parts) {
    for (const name of [tokensOf(one.name), tokensOf((one.role ?? "").replaceAll("-", " "))]) {
      let used = 0;
      let exact = 0;
      const left = [...name];
      for (const token of tokens) {
        const at = left.findIndex((word) => word === token || (token.length >= 3 && word.startsWith(token)));
        if (at < 0) break;
        if (left[at] === token) exact++;
        left.splice(at, 1);
        used++;
      }
      if (used === 0) continue;
      const better =
        best === null ||
        used > best.used ||
        (used === best.used && (exact > best.exact || (exact === best.exact && name.length < best.length)));
      if (better) best = { part: one, used, exact, length: name.length };
    }
  }
  return best ? { act: { kind: "part", part: best.part.id }, said: best.part.name, used: best.used } : null;
}

/**
 * Does the line go somewhere, rather than say something to be kept? Where every word is a part, a page or a side, or a page is
 * named. A number opens the drawing only where the words say so: by itself it is what an instrument typed.
 */
export function leadsSomewhere(line: string, { acts, unknown }: Understood): boolean {
  if (acts.length === 0 || /\?\s*$/.test(line)) return false;
  if (acts.some((act) => act.kind === "page")) return true;
  if (acts.some((act) => act.kind === "depth") && !/\b(?:open|opened|depth|deep)\b/i.test(line)) return false;
  return unknown.filter((word) => word !== "depth").length === 0;
}
