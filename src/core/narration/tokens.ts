/**
 * Cues to one stream of words. Captions break sentences anywhere, so the cue is kept with each word and is no boundary.
 * Contractions are opened ("it's" = it is), what was misheard is put right (lexicon/mishearings.ts). Linear in the text.
 */
import { MISHEARINGS, PARTICLES, PHRASES, PREPOSITIONS } from "./lexicon/index.ts";
import { isNoun } from "./lookup.ts";
import { quantityAt } from "./numbers.ts";
import type { Cue } from "./transcript/index.ts";

/** 0 nothing, 1 comma, dash or colon, 2 full stop, 3 question mark: the sign after a word. */
export type Stop = 0 | 1 | 2 | 3;

export interface Token {
  /** As said, without the sign after it; empty for the second word of an opened contraction. */
  raw: string;
  /** Lower case, put right. */
  w: string;
  cue: number;
  at: number | null;
  stop: Stop;
  /** Said with the 's of possession. */
  poss: boolean;
  /** The full stop after it was written by somebody, and not put in by captions that put one anywhere. */
  firm?: boolean;
}

/** A figure keeps its signs ("4,900", "0,7"); a list of figures has spaces. */
const WORD =
  /\d{1,3}(?:,\d{3})+(?:\.\d+)?(?![\d,])|\d+,\d{1,2}(?![\d,])|[\p{L}\p{N}]+(?:['’./·⋅-][\p{L}\p{N}]+)*['’]?|[°º%"″”×½¼¾µ²]|[.,;:!?…]+|[-–—]+/gu;

const CONTRACTIONS: Readonly<Record<string, readonly string[]>> = {
  gonna: ["going", "to"],
  wanna: ["want", "to"],
  gotta: ["got", "to"],
  em: ["them"],
  lemme: ["let", "me"],
  gimme: ["give", "me"],
  cannot: ["can", "not"],
  "can't": ["can", "not"],
  "won't": ["will", "not"],
  "shan't": ["shall", "not"],
  "ain't": ["is", "not"],
  "let's": ["let", "us"],
  dont: ["do", "not"],
  doesnt: ["does", "not"],
  didnt: ["did", "not"],
  wont: ["will", "not"],
  cant: ["can", "not"],
  isnt: ["is", "not"],
  wasnt: ["was", "not"],
  arent: ["are", "not"],
  im: ["i", "am"],
  ive: ["i", "have"],
  youve: ["you", "have"],
  youd: ["you", "would"],
  youll: ["you", "will"],
  theres: ["there", "is"],
  thats: ["that", "is"],
  heres: ["here", "is"],
};
const ENDINGS: Readonly<Record<string, string>> = {
  "'ll": "will",
  "'ve": "have",
  "'re": "are",
  "'m": "am",
  "'d": "would",
};
/** After these an 's is always "is". */
const IS_HOSTS = new Set(
  "it that there here what who he she this where how everything nothing something one".split(" "),
);
/** A noun's 's is "is" before one of these, and possession before anything else. */
const IS_BEFORE = new Set(
  "off out away free loose up still not now a an the at on in just only gone done open stuck glued held marked rated already very quite so about really too almost all made got covered soldered riveted coming going sitting".split(
    " ",
  ),
);

export function tokenize(cues: readonly Cue[]): Token[] {
  const tokens: Token[] = [];
  cues.forEach((cue, index) => {
    for (const [piece] of cue.text.matchAll(WORD)) addPiece(tokens, piece, index, cue.at);
  });
  return trusted(repaired(openPossessives(things(tokens))));
}

/** "Out she comes", "flip her over": said of the thing in hand. */
function things(tokens: readonly Token[]): Token[] {
  return tokens.map((token, index) => {
    const next = tokens[index + 1];
    const last = token.stop > 0 || next === undefined;
    const her = token.w === "her" && (last || PARTICLES.has(next.w) || (PREPOSITIONS.has(next.w) && next.w !== "like"));
    return token.w === "she" || her ? { ...token, w: "it" } : token;
  });
}

/** Words after which no sentence ends: a full stop there tells of captions that cut anywhere. */
const HANGING = new Set(
  "the a an of to and with for is are was my your its at by from as than or but very into onto about between".split(
    " ",
  ),
);

/** Full stops are to be trusted where hardly any stands after a word that cannot end a sentence. */
function trusted(tokens: Token[]): Token[] {
  const stops = tokens.filter((token) => token.stop >= 2);
  const hanging = stops.filter((token) => HANGING.has(token.w)).length;
  if (hanging > 1 && hanging * 80 > stops.length) return tokens;
  for (const token of stops) if (!HANGING.has(token.w)) token.firm = true;
  return tokens;
}

/** "Mid-plate", "ear-piece": the spelling in one word, where that is the one known. */
function joinedWord(w: string): string {
  if (!w.includes("-") || isNoun(w)) return w;
  const joined = w.replaceAll("-", "");
  return isNoun(joined) ? joined : w;
}

function addPiece(tokens: Token[], piece: string, cue: number, at: number | null): void {
  if (/^[.,;:!?…–—-]+$/.test(piece)) {
    const last = tokens.at(-1);
    if (last !== undefined) last.stop = Math.max(last.stop, stopOf(piece)) as Stop;
    return;
  }
  const push = (raw: string, w: string) => tokens.push({ raw, w, cue, at, stop: 0, poss: false });
  const number = /^(\d+(?:[.,]\d+)*)(?!\d)(\p{L}.*|[°º%"″”×½¼¾].*)$/u.exec(piece);
  // "3610mAh", "2x": number and unit in one word; "5G" is no weight, "4K" no temperature.
  if (number !== null && !/^[A-Z]$/.test(number[2]!) && !/^(?:st|nd|rd|th)$/.test(number[2]!)) {
    push(number[1]!, number[1]!);
    push(number[2]!, number[2]!.toLowerCase());
    return;
  }
  const clean = piece.replace(/’/g, "'").replace(/'$/, "");
  const lower = clean.toLowerCase();
  const opened = CONTRACTIONS[lower];
  if (opened !== undefined) return void opened.forEach((word, nth) => push(nth === 0 ? clean : "", word));
  if (lower.endsWith("n't")) {
    push(clean, lower.slice(0, -3));
    push("", "not");
    return;
  }
  for (const [ending, word] of Object.entries(ENDINGS)) {
    if (!lower.endsWith(ending)) continue;
    push(clean, lower.slice(0, -ending.length));
    push("", word);
    return;
  }
  if (lower.endsWith("'s") && IS_HOSTS.has(lower.slice(0, -2))) {
    push(clean, lower.slice(0, -2));
    push("", "is");
    return;
  }
  push(clean, joinedWord(lower));
}

function stopOf(sign: string): Stop {
  if (sign.includes("?")) return 3;
  if (/^(?:\.{2,}|…|[,:]|[-–—]+)/.test(sign)) return 1;
  return 2;
}

function openPossessives(tokens: readonly Token[]): Token[] {
  const out: Token[] = [];
  tokens.forEach((token, index) => {
    if (!token.w.endsWith("'s") || token.w.length < 4) return void out.push(token);
    const base = token.w.slice(0, -2);
    const next = tokens[index + 1];
    const is =
      token.stop === 0 &&
      next !== undefined &&
      (IS_BEFORE.has(next.w) ||
        /^\d/.test(next.w) ||
        /^[a-z]{3,}(?:ed|ing)$/.test(next.w) ||
        // "That back's fourteen point two grams", "the board's four screws".
        quantityAt(tokens, index + 1) !== null);
    if (is) {
      out.push({ ...token, raw: token.raw.slice(0, -2), w: base, stop: 0 });
      out.push({ ...token, raw: "", w: "is" });
    } else out.push({ ...token, raw: token.raw.slice(0, -2), w: base, poss: true });
  });
  return out;
}

interface Repair {
  readonly heard: readonly string[];
  readonly meant: readonly string[];
}

const REPAIRS: ReadonlyMap<string, readonly Repair[]> = (() => {
  const map = new Map<string, Repair[]>();
  for (const [heard, meant] of [...Object.entries(MISHEARINGS), ...Object.entries(PHRASES)]) {
    const words = heard.split(" ");
    const list = map.get(words[0]!) ?? [];
    list.push({ heard: words, meant: meant.split(" ") });
    map.set(words[0]!, list);
  }
  for (const list of map.values()) list.sort((a, b) => b.heard.length - a.heard.length);
  return map;
})();

function repaired(tokens: readonly Token[]): Token[] {
  const out: Token[] = [];
  let index = 0;
  while (index < tokens.length) {
    const token = tokens[index]!;
    let plural = "";
    const repair = REPAIRS.get(token.w)?.find((one) =>
      one.heard.every((word, nth) => {
        const said = tokens[index + nth]?.w;
        // "Section cups" as well as "section cup".
        const more = nth > 0 && nth === one.heard.length - 1 && said === `${word}s` && isNoun(one.meant.at(-1)!);
        plural = more ? "s" : "";
        return said === word || more;
      }),
    );
    if (repair === undefined) {
      out.push(token);
      index += 1;
      continue;
    }
    const last = tokens[index + repair.heard.length - 1]!;
    repair.meant.forEach((word, nth) => {
      const end = nth === repair.meant.length - 1;
      const text = end ? word + plural : word;
      out.push({ ...token, raw: text, w: text, stop: end ? last.stop : 0, poss: end ? last.poss : false });
    });
    index += repair.heard.length;
  }
  return out;
}
