/**
 * Words to chunks: noun phrases, verbs, quantities, pronouns and the small words between them. One pass, left to right;
 * looks at most a handful of words ahead. Longer than most files here: it is one grammar, that of the noun phrase.
 * Nothing is thrown away: every word is in one chunk.
 */

import type { DeviceNames } from "./devices.ts";
import { withoutIdle } from "./idle.ts";
import {
  ADJECTIVES,
  ADVERBS,
  BE,
  COMMON_VERBS,
  CONJUNCTIONS,
  DETERMINERS,
  NEGATIONS,
  type NounClass,
  OPENERS,
  PARTICLES,
  PREPOSITIONS,
  PRONOUNS,
} from "./lexicon/index.ts";
import {
  HOLD_VERBS,
  isCommonVerb,
  isNoun,
  isPlural,
  type NounSpan,
  nounAt,
  RETURN_VERBS,
  singular,
  type VerbForm,
  WORK_VERBS,
} from "./lookup.ts";
import { numberAt, quantityAt, type SpokenQuantity } from "./numbers.ts";
import { DRIVE_SIZE, sizeAt } from "./sizes.ts";
import type { Token } from "./tokens.ts";
import {
  AUXILIARY,
  backAside,
  faceDown,
  filling,
  liking,
  noCompound,
  particleOnly,
  pickIn,
  startsAfterPreposition,
  telling,
  verbHere,
} from "./verb-or-noun.ts";

/** A noun phrase: what it names, how many, and what it belongs to. */
export interface NounPhrase {
  /** Words that name it, as said, without article, number and words of judgement. */
  readonly text: string;
  /** Last word of the name, singular, lower case. */
  readonly head: string;
  readonly classes: readonly NounClass[];
  readonly role: string | null;
  readonly count: number | null;
  readonly plural: boolean;
  readonly det: string | null;
  /** Said with "all", "both" or "each". */
  readonly every: boolean;
  readonly each: boolean;
  /** Words before the head, lower case. */
  readonly mods: readonly string[];
  /** Part named by the words before the head: "battery" of "battery connector". */
  readonly owner: string | null;
  /** The name is left open: "the left one", "the rear". */
  readonly elided: boolean;
  /** Belongs to the device that this one is compared with. */
  readonly earlier: boolean;
  /** No word of it is in the lexicon. */
  readonly unknown: boolean;
  /** What it belongs to: "… of the frame", "… holding the bracket". */
  of: NounPhrase | null;
  /** When it was named, where the work that is done to it is told later: "those are all unplugged". */
  readonly said?: number | null;
  /** Kinds of fastener counted together: "three screws and one standoff". */
  readonly mix?: readonly { readonly head: string; readonly count: number }[];
}

interface Span {
  /** First token and the one after the last. */
  readonly i: number;
  readonly j: number;
}
export type Chunk =
  | (Span & { readonly kind: "noun"; readonly np: NounPhrase })
  | (Span & { readonly kind: "quantity"; readonly q: SpokenQuantity })
  | (Span & { readonly kind: "number"; readonly value: number; readonly fraction: boolean })
  | (Span & { readonly kind: "pronoun"; readonly w: string; readonly count: number | null })
  | (Span & {
      readonly kind: "verb";
      readonly base: string;
      readonly form: VerbForm;
      readonly sort: "work" | "hold" | "back" | "common";
    })
  | (Span & { readonly kind: "word"; readonly w: string });

/** Longest noun phrase in words: keeps captions without any sign from becoming one name. */
const LONGEST = 8;

export function chunk(tokens: readonly Token[], names: DeviceNames): Chunk[] {
  const chunks: Chunk[] = [];
  let i = 0;
  while (i < tokens.length) {
    const next = chunkAt(tokens, i, names, chunks);
    chunks.push(next);
    i = next.j;
  }
  return withoutIdle(chunks, tokens);
}

function chunkAt(tokens: readonly Token[], i: number, names: DeviceNames, before: readonly Chunk[]): Chunk {
  const token = tokens[i]!;
  const w = token.w;
  const name = names.at(tokens, i);
  if (name !== null) return nameChunk(tokens, i, name.end, name.earlier, null);
  // "Pelora N3": the maker before the model.
  const made =
    tokens[i + 1] !== undefined && token.stop === 0 && nameable(tokens, i) && !isNoun(w)
      ? names.at(tokens, i + 1)
      : null;
  if (made !== null) return nameChunk(tokens, i, made.end, made.earlier, null);
  if (!attributive(tokens, i)) {
    const q = quantityAt(tokens, i);
    if (q !== null) return { kind: "quantity", q, i, j: q.end };
  }
  const phrase = phraseAt(tokens, i, names, before);
  if (phrase !== null) return phrase;
  const number = numberAt(tokens, i);
  if (number !== null && !(w === "one" && pronounOne(tokens, i)))
    return { kind: "number", value: number.value, fraction: number.fraction, i, j: number.end };
  const verb = w === "like" && !liking(tokens, i) ? null : verbAt(tokens, i);
  if (verb !== null) return verb;
  if (PRONOUNS.has(w)) return { kind: "pronoun", w, count: null, i, j: i + 1 };
  return { kind: "word", w, i, j: i + 1 };
}

/** "The 3 mm screw", "a 12 volt supply": a figure that belongs to a name and reports nothing. */
function attributive(tokens: readonly Token[], i: number): boolean {
  const q = quantityAt(tokens, i);
  if (q === null || q.end >= tokens.length || tokens[q.end - 1]!.stop > 0) return false;
  const before = tokens[i - 1];
  const led =
    before !== undefined &&
    before.stop === 0 &&
    (DETERMINERS.has(before.w) || /^(?:two|three|four|five|six|\d+)$/.test(before.w));
  const noun = nounAt((n) => tokens[q.end + n]?.w ?? null);
  return led && noun !== null && !noun.classes.includes("abstract") && !noun.classes.includes("quantity");
}

const pronounOne = (tokens: readonly Token[], i: number) => {
  const before = tokens[i - 1];
  return (
    before !== undefined &&
    before.stop === 0 &&
    (DETERMINERS.has(before.w) || ADJECTIVES.has(before.w) || telling.has(before.w) || filling.has(before.w))
  );
};

const NUMBER_WORD =
  /^(?:hundred|thousand|point|dozen|half|quarter|tenths?|hundredths?|thirds?|quarters|eighths?|grams?|percent)$/;

/** "The front can", and never "you can". */
function canNoun(tokens: readonly Token[], i: number): boolean {
  const before = tokens[i - 1];
  const next = tokens[i + 1];
  if (before === undefined || before.stop > 0 || next?.w === "not") return false;
  return (
    /^(?:the|a|this|that|each|front|rear|shield|shielding|metal|top|bottom|emi|left|right|big|small|second|first)$/.test(
      before.w,
    ) && !(tokens[i]!.stop === 0 && next !== undefined && (WORK_VERBS.get(next.w)?.form === "base" || next.w === "be"))
  );
}

/** A noun of the lexicon at `i`, unless the word is something else here. */
function spanAt(tokens: readonly Token[], i: number, open: boolean): NounSpan | null {
  const token = tokens[i];
  if (token === undefined || (token.w === "can" && !canNoun(tokens, i)) || faceDown(tokens, i)) return null;
  const span = nounAt((n) => (n > 0 && tokens[i + n - 1]!.stop > 0 ? null : (tokens[i + n]?.w ?? null)));
  if (span === null || span.words.length > 1) return span;
  if (COMMON_VERBS.has(token.w) && !open && !pickIn(tokens, i)) return null;
  return span;
}

/** Can the word open or continue a name? */
function nameable(tokens: readonly Token[], i: number): boolean {
  const token = tokens[i];
  if (token === undefined) return false;
  const w = token.w;
  if (!/^[\p{L}\d][\p{L}\d./'-]*$/u.test(w)) return false;
  return !(
    PREPOSITIONS.has(w) ||
    CONJUNCTIONS.has(w) ||
    PRONOUNS.has(w) ||
    DETERMINERS.has(w) ||
    ADVERBS.has(w) ||
    NEGATIONS.has(w) ||
    OPENERS.has(w) ||
    AUXILIARY(w) ||
    isCommonVerb(w) ||
    PARTICLES.has(w) ||
    (WORK_VERBS.has(w) && !isNoun(w)) ||
    RETURN_VERBS.has(w) ||
    (HOLD_VERBS.has(w) && !isNoun(w)) ||
    /^\d/.test(w) ||
    numberAt(tokens, i) !== null ||
    NUMBER_WORD.test(w) ||
    DRIVE_SIZE.test(w) ||
    /^[x×]$/.test(w) ||
    (!isNoun(w) && /(?:ed|ing|ly)$/.test(w)) ||
    (w === "can" && !canNoun(tokens, i)) ||
    faceDown(tokens, i)
  );
}

/** A noun phrase at `i`, with its determiner and number; null where none begins. */
function phraseAt(tokens: readonly Token[], i: number, names: DeviceNames, before: readonly Chunk[]): Chunk | null {
  let at = i;
  let det: string | null = null;
  let every = false;
  let each = false;
  let count: number | null = null;
  const first = tokens[i]!;
  if (first.w === "all" || first.w === "both" || first.w === "each") {
    every = true;
    each = first.w === "each";
    if (first.w === "both") count = 2;
    at += 1;
    if (first.stop > 1 && (first.firm === true || !startsNoun(tokens, at)))
      return { kind: "pronoun", w: first.w, count, i, j: at };
    if (tokens[at]?.w === "of") at += 1;
    if (/^(?:them|these|those|it|this|that)$/.test(tokens[at]?.w ?? "") && !startsNoun(tokens, at + 1))
      return { kind: "pronoun", w: tokens[at]!.w === "it" ? "it" : "them", count, i, j: at + 1 };
  }
  const said = tokens[at];
  if (said !== undefined && DETERMINERS.has(said.w) && !(said.w === "a" && numberAt(tokens, at) !== null)) {
    if (said.w === "that" && !startsNoun(tokens, at + 1))
      return every ? { kind: "pronoun", w: first.w, count, i, j: at } : null;
    det = said.w;
    at += 1;
    // A full stop after an article was put there by the caption.
    if (said.stop > 1 && /^(?:this|that|these|those|all|both|each|some|any|another|either|his|her)$/.test(said.w))
      return null;
    // "Undo those, bracket out", "I peel that back".
    if (said.stop === 1 && /^(?:this|that|these|those)$/.test(said.w)) return null;
    if (/^(?:this|that|these|those)$/.test(said.w) && backAside(tokens, at)) return null;
    // "So peel that first."
    if (/^(?:this|that|these|those)$/.test(said.w) && tokens[at]?.w === "first" && tokens[at]!.stop > 0) return null;
    // "The last two screws".
    if (/^(?:last|first|next|other|remaining|final|same|own)$/.test(tokens[at]?.w ?? "") && tokens[at]!.stop === 0) {
      const after = numberAt(tokens, at + 1);
      if (after !== null && !after.fraction && Number.isInteger(after.value) && startsNoun(tokens, after.end)) at += 1;
    }
    if (tokens[at] !== undefined) {
      const name = names.at(tokens, at);
      if (name !== null && !nameGoesOn(tokens, name.end)) return nameChunk(tokens, i, name.end, name.earlier, det, at);
      const made =
        tokens[at + 1] !== undefined && tokens[at]!.stop === 0 && nameable(tokens, at) && !isNoun(tokens[at]!.w)
          ? names.at(tokens, at + 1)
          : null;
      if (made !== null && !nameGoesOn(tokens, made.end)) return nameChunk(tokens, i, made.end, made.earlier, det, at);
    }
  }
  if (det !== null && tokens[at]?.w === "single" && tokens[at]!.stop === 0) count = 1;
  if ((det === "no" || det === "neither") && numberAt(tokens, at) !== null) return null;
  if (det === "no" || det === "neither") count = 0;
  const number = numberAt(tokens, at);
  if (number !== null && !number.fraction && Number.isInteger(number.value) && quantityAt(tokens, at) === null) {
    const sign = tokens[number.end]?.w;
    const end = sign === "x" || sign === "×" ? number.end + 1 : number.end;
    const bare = every && !startsNoun(tokens, end);
    if (bare || (det !== null && det !== "a" && !startsNoun(tokens, end) && !ADJECTIVES.has(tokens[end]?.w ?? "")))
      return {
        kind: "pronoun",
        w: number.value === 1 && !every ? "it" : "them",
        count: number.value === 1 && every ? null : number.value,
        i,
        j: end,
      };
    const fakeStop =
      tokens[end - 1]!.stop === 2 && /^(?:screws|standoffs|connectors|cables)$/.test(tokens[end]?.w ?? "");
    if (!startsNoun(tokens, end) || (tokens[end - 1]!.stop > 0 && !fakeStop))
      return every && at > i ? pronounOf(first, count, i, at) : null;
    count = number.value;
    at = end;
    if (tokens[at]?.w === "of" && tokens[at + 1] !== undefined) at += DETERMINERS.has(tokens[at + 1]!.w) ? 2 : 1;
    if (tokens[at]?.w === "more" || tokens[at]?.w === "other") at += 1;
  } else if (tokens[at]?.w === "couple" || tokens[at]?.w === "pair") {
    if (tokens[at + 1]?.w === "of" && det === "a") {
      count = 2;
      at += 2;
      if (DETERMINERS.has(tokens[at]?.w ?? "")) at += 1;
    }
  }
  const open = det !== null || count !== null || every;
  if (!open && !nameStart(tokens, at, before)) return null;
  const built = nameFrom(tokens, at, open);
  if (built === null) {
    if (every) return pronounOf(first, count, i, i + 1);
    if (det !== null && /^(?:this|that|these|those|another)$/.test(det))
      return { kind: "pronoun", w: det, count, i, j: i + 1 };
    return null;
  }
  // "This thing", "this one", "the whole thing": what was spoken of.
  if (
    count === null &&
    ((/^(?:this|that)$/.test(det ?? "") &&
      built.words.length === 1 &&
      /^(?:thing|one|guy|part|piece|bit|assembly)$/.test(built.words[0]!.w)) ||
      (/^(?:the|this|that)$/.test(det ?? "") &&
        /^(?:thing|lot|assembly|piece)$/.test(built.words.at(-1)!.w) &&
        built.words.slice(0, -1).every((one) => /^(?:whole|entire|complete|little|big)$/.test(one.w)) &&
        (built.words.length > 1 || built.words[0]!.w === "thing")))
  )
    return { kind: "pronoun", w: "it", count: null, i, j: built.end };
  let end = built.end;
  // "Rear cameras x3".
  const times = /^[x×]$/.test(tokens[end]?.w ?? "") ? numberAt(tokens, end + 1) : null;
  const glued = /^[x×](\d{1,2})$/.exec(tokens[end]?.w ?? "");
  if (times !== null) {
    count = times.value;
    end = times.end;
  } else if (glued !== null) {
    count = Number(glued[1]);
    end += 1;
  }
  return { kind: "noun", i, j: end, np: phraseOf(built, { det, every, each, count }) };
}

const pronounOf = (token: Token, count: number | null, i: number, j: number): Chunk => ({
  kind: "pronoun",
  w: token.w,
  count,
  i,
  j: Math.max(j, i + 1),
});

/** Does a name go on after a device's name: "the Sliver 5 camera"? */
const nameGoesOn = (tokens: readonly Token[], i: number) =>
  tokens[i] !== undefined &&
  tokens[i - 1]!.stop === 0 &&
  nounAt((n) => tokens[i + n]?.w ?? null)?.classes.some((one) => one === "part" || one === "plug") === true;

function startsNoun(tokens: readonly Token[], i: number): boolean {
  const token = tokens[i];
  if (token === undefined) return false;
  // "Five total", "five in total": no name.
  if (token.w === "total" && spanAt(tokens, i + 1, true)?.classes[0] !== "fastener") return false;
  if (spanAt(tokens, i, true) !== null) return true;
  if (telling.has(token.w) || filling.has(token.w) || ADJECTIVES.has(token.w)) {
    const next = tokens[i + 1];
    return (
      next !== undefined &&
      (nameable(tokens, i + 1) ||
        ADJECTIVES.has(next.w) ||
        filling.has(next.w) ||
        telling.has(next.w) ||
        isNoun(next.w))
    );
  }
  if (/ed$/.test(token.w) && token.stop === 0 && spanAt(tokens, i + 1, true)?.classes[0] === "fastener") return true;
  if (sizeAt(tokens, i) > 0) return true;
  if (/^[x×]$/.test(token.w) || (DRIVE_SIZE.test(token.w) && token.stop === 0)) return startsNoun(tokens, i + 1);
  if (token.w === "of")
    return DETERMINERS.has(tokens[i + 1]?.w ?? "") ? startsNoun(tokens, i + 2) : startsNoun(tokens, i + 1);
  if (token.w === "more" || token.w === "other" || token.w === "further") return startsNoun(tokens, i + 1);
  if (numberAt(tokens, i) !== null && quantityAt(tokens, i) === null)
    return startsNoun(tokens, numberAt(tokens, i)!.end);
  return nameable(tokens, i);
}

/** Without article or number a name must begin with a word that is known, or be unknown and no small word. */
function nameStart(tokens: readonly Token[], i: number, before: readonly Chunk[]): boolean {
  const token = tokens[i];
  if (token === undefined) return false;
  // "1.6 inches long": the word belongs to the figure.
  if (
    before.at(-1)?.kind === "quantity" &&
    /^(?:long|wide|high|tall|thick|deep|across|round|heavy|apart|diagonal|thin)$/.test(token.w)
  )
    return false;
  if (WORK_VERBS.has(token.w) && isNoun(token.w) && verbHere(tokens, i)) return false;
  // "Heating pad" is one name.
  if (/ing$/.test(token.w) && (nounAt((n) => tokens[i + n]?.w ?? null)?.words.length ?? 0) > 1) return true;
  if (WORK_VERBS.has(token.w) && !isNoun(token.w)) {
    // "Opened", "removed" may stand before a noun, but only after an article.
    return false;
  }
  if (nounAt((n) => tokens[i + n]?.w ?? null) !== null)
    return !PARTICLES.has(token.w) || startsAfterPreposition(tokens, i);
  if (telling.has(token.w) || filling.has(token.w) || ADJECTIVES.has(token.w)) {
    const last = before.at(-1);
    const be = last?.kind === "word" && BE.has(last.w);
    let at = i;
    while (
      at < i + 4 &&
      tokens[at] !== undefined &&
      (telling.has(tokens[at]!.w) || filling.has(tokens[at]!.w) || ADJECTIVES.has(tokens[at]!.w))
    ) {
      if (isNoun(tokens[at]!.w) && at > i) return !verbHere(tokens, at);
      if (tokens[at]!.stop > 0)
        return telling.has(tokens[at]!.w) && !ADVERBS.has(token.w) && !PARTICLES.has(token.w) && !be;
      at += 1;
    }
    if (ADVERBS.has(token.w) && !isNoun(tokens[at]?.w ?? "")) return false;
    return nameable(tokens, at) || (tokens[at] !== undefined && isNoun(tokens[at]!.w) && !verbHere(tokens, at));
  }
  return nameable(tokens, i);
}

interface Built {
  readonly words: readonly Token[];
  readonly kept: readonly Token[];
  readonly head: NounSpan | null;
  readonly owner: string | null;
  readonly end: number;
  readonly known: boolean;
  readonly elided: boolean;
}

function nameFrom(tokens: readonly Token[], start: number, open: boolean): Built | null {
  const words: Token[] = [];
  const kept: Token[] = [];
  let head: NounSpan | null = null;
  let owner: string | null = null;
  let unknown = 0;
  let elided = false;
  let at = start;
  while (at < tokens.length && words.length < LONGEST) {
    const token = tokens[at]!;
    const stopBefore = at > start ? tokens[at - 1]!.stop : 0;
    // A sign ends a name that has a head; before that it is a comma between adjectives or a stop the caption put in.
    if (stopBefore > 0 && (head !== null || unknown > 0 || tokens[at - 1]!.firm === true)) break;
    const ordinal =
      /^(?:first|second|third|fourth|last)$/.test(token.w) && token.stop === 0 && startsNoun(tokens, at + 1);
    const span: NounSpan | null = ordinal
      ? null
      : spanAt(tokens, at, (open && words.length === 0) || (words.length > 0 && head === null));
    const verb =
      span !== null &&
      span.words.length === 1 &&
      WORK_VERBS.has(token.w) &&
      (head !== null || unknown > 0) &&
      verbHere(tokens, at);
    if (span !== null && head !== null && noCompound(tokens, start, at, head, span)) break;
    if (span !== null && words.length > 0 && words.at(-1)!.w === "total" && !/fastener|quantity/.test(span.classes[0]!))
      break;
    if (span !== null && !verb && !(span.classes[0] === "abstract" && head !== null && !token.poss)) {
      if ((token.w === "one" || token.w === "ones") && (words.length > 0 || open)) {
        elided = true;
        words.push(token);
        at += 1;
        break;
      }
      const owning = head?.classes.some(
        (cls) =>
          cls === "part" ||
          cls === "device" ||
          cls === "chip" ||
          cls === "film" ||
          cls === "side" ||
          cls === "clip" ||
          cls === "tab",
      );
      if (owning || (head === null && unknown > 0)) owner = kept.map((one) => one.raw).join(" ");
      head = span;
      for (const one of tokens.slice(at, at + span.words.length)) {
        words.push(one);
        kept.push(one);
      }
      at += span.words.length;
      const last = tokens[at - 1]!;
      // "The battery's plug": the owner goes on to what it owns.
      if (last.stop > 0 || (isPlural(last.w) && !nounPluralOwner(tokens, at))) break;
      continue;
    }
    if (verb) break;
    const size = head === null ? sizeAt(tokens, at) : 0;
    if (size > 0) {
      words.push(...tokens.slice(at, at + size));
      at += size;
      continue;
    }
    // "Two T3 screws": the size of the drive belongs to the screws and names nothing.
    if (head === null && DRIVE_SIZE.test(token.w) && token.stop === 0 && startsNoun(tokens, at + 1)) {
      words.push(token);
      at += 1;
      continue;
    }
    if (telling.has(token.w) || filling.has(token.w) || ADJECTIVES.has(token.w)) {
      if (head !== null) break;
      // "Lift the board clear": an adverb or particle that ends the name.
      words.push(token);
      if (telling.has(token.w)) kept.push(token);
      at += 1;
      continue;
    }
    if (head !== null && !/^(?:assembly|module|unit|thingy|piece)$/.test(token.w)) break;
    if (
      nameable(tokens, at) ||
      (open &&
        words.length === 0 &&
        token.stop === 0 &&
        (/(?:ed|ing)$/.test(token.w) || (COMMON_VERBS.has(token.w) && !AUXILIARY(token.w))) &&
        spanAt(tokens, at + 1, true)?.classes.some((cls) => cls !== "abstract" && cls !== "quantity") === true)
    ) {
      if (unknown >= 3) break;
      unknown += 1;
      words.push(token);
      kept.push(token);
      at += 1;
      continue;
    }
    break;
  }
  if (head === null && unknown === 0) {
    const last = words.at(-1);
    if (last === undefined || (!elided && !telling.has(last.w))) return null;
    elided = true;
  }
  if (kept.length === 0 && !elided) return null;
  return { words, kept, head, owner, end: at, known: head !== null, elided };
}

/** After a plural a name goes on only in "screws", "cables" compounds said by non-native speakers; not kept. */
const nounPluralOwner = (tokens: readonly Token[], at: number) =>
  tokens[at - 1]!.poss || nounAt((n) => tokens[at + n]?.w ?? null)?.classes[0] === "plug";

function phraseOf(
  built: Built,
  said: { det: string | null; every: boolean; each: boolean; count: number | null },
): NounPhrase {
  const last = built.kept.at(-1) ?? built.words.at(-1)!;
  const classes: NounClass[] = built.head === null ? [] : [...built.head.classes];
  const lower = built.words.map((one) => one.w);
  // "Two pentalobe", "4x torx": the drive stands for the screws.
  if (classes.includes("drive") && (said.count !== null || isPlural(last.w))) classes.push("fastener");
  const earlier = lower.some(
    (w, n) =>
      w === "old" ||
      w === "older" ||
      w === "previous" ||
      (w === "year" && lower[n - 1] === "last") ||
      w === "earlier" ||
      w === "former",
  );
  return {
    text: built.kept.map((one) => one.raw).join(" "),
    head: singular(last.w),
    classes: classes.length === 0 && built.elided ? [] : classes,
    role: built.head?.role ?? null,
    count: said.count,
    plural: isPlural(last.w) || (said.count ?? 1) > 1,
    det: said.det,
    every: said.every,
    each: said.each,
    mods: lower.slice(0, -1),
    owner: built.owner,
    elided: built.elided,
    earlier: earlier && !classes.includes("glue") && !classes.includes("residue"),
    unknown: !built.known && !built.elided,
    of: null,
  };
}

function nameChunk(
  tokens: readonly Token[],
  i: number,
  end: number,
  earlier: boolean,
  det: string | null,
  from = i,
): Chunk {
  const words = tokens.slice(from, end);
  return {
    kind: "noun",
    i,
    j: end,
    np: {
      text: words.map((one) => one.raw).join(" "),
      head: words.at(-1)!.w,
      classes: ["device"],
      role: null,
      count: null,
      plural: false,
      det,
      every: false,
      each: false,
      mods: words.slice(0, -1).map((one) => one.w),
      owner: null,
      elided: false,
      earlier,
      unknown: false,
      of: null,
    },
  };
}

function verbAt(tokens: readonly Token[], i: number): Chunk | null {
  const w = tokens[i]!.w;
  const back = RETURN_VERBS.get(w);
  if (back !== undefined) return { kind: "verb", base: back.base, form: back.form, sort: "back", i, j: i + 1 };
  const work = WORK_VERBS.get(w);
  const hold = HOLD_VERBS.get(w);
  // "Is pressed out": more than how it is fixed.
  const moved =
    work?.form === "past" && tokens[i]!.stop === 0 && /^(?:out|off|away|free)$/.test(tokens[i + 1]?.w ?? "");
  if (work !== undefined && (!isNoun(w) || verbHere(tokens, i)) && !(particleOnly(w) && !moved && !verbHere(tokens, i)))
    return { kind: "verb", base: work.base, form: work.form, sort: hold === undefined ? "work" : "hold", i, j: i + 1 };
  if (hold !== undefined && !isNoun(w))
    return { kind: "verb", base: hold.base, form: hold.form, sort: "hold", i, j: i + 1 };
  if (AUXILIARY(w)) return null;
  if (isCommonVerb(w)) return { kind: "verb", base: w, form: commonForm(w), sort: "common", i, j: i + 1 };
  return null;
}

function commonForm(w: string): VerbForm {
  if (w.endsWith("ing")) return "ing";
  if (
    w.endsWith("ed") ||
    /^(?:saw|knew|thought|said|told|found|made|kept|left|stood|felt|heard|meant|took|lost|wrote|forgot|fit|ran|sat|lay|came|went|got|put|became|hid|chose|held|bought|grew)$/.test(
      w,
    )
  )
    return "past";
  if (w.endsWith("s") && !/(?:ss|press|miss|is|was|us)$/.test(w)) return "s";
  return "base";
}
