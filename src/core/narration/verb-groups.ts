/**
 * Auxiliaries, modals and the verbs that carry another ("I'm going to have to take") become one group with its main verb,
 * so that a clause has one verb and what is denied, wished or merely possible is known. One pass.
 */

import type { Chunk, NounPhrase } from "./chunks.ts";
import {
  ADVERBS,
  BE,
  CHAINS,
  CONJUNCTIONS,
  DO,
  HAVE,
  MODALS,
  NEGATIONS,
  OPENERS,
  PREPOSITIONS,
  SUBJECTS,
} from "./lexicon/index.ts";
import type { VerbForm } from "./lookup.ts";
import type { Token } from "./tokens.ts";

export interface VerbGroup {
  readonly kind: "group";
  readonly i: number;
  readonly j: number;
  /** Base form of the main verb; "be", "have" or "do" where those stand alone. */
  readonly base: string;
  readonly sort: "work" | "hold" | "back" | "common" | "aux";
  readonly form: VerbForm;
  readonly negated: boolean;
  readonly modal: string | null;
  readonly passive: boolean;
  readonly perfect: boolean;
  readonly progressive: boolean;
  /** Verbs that carry the main one, in order: "going", "have", "try". */
  readonly chain: readonly string[];
  readonly inverted: boolean;
  /** Main verb led by "to": a purpose, where no chain carries it. */
  readonly infinitive: boolean;
  /** A helping verb in the past or present stands before it: the clause has its subject in front. */
  readonly helped: boolean;
}

export type Element = Exclude<Chunk, { kind: "verb" }> | VerbGroup;

export function groupVerbs(chunks: readonly Chunk[], tokens: readonly Token[]): Element[] {
  const out: Element[] = [];
  let k = 0;
  while (k < chunks.length) {
    const group = groupAt(chunks, tokens, k);
    if (group === null) {
      const one = chunks[k]!;
      if (one.kind !== "verb") out.push(one);
      k += 1;
      continue;
    }
    out.push(group.group);
    k = group.next;
  }
  return mergeOf(out, tokens);
}

/** Longest run of helping words before a verb. */
const LONGEST = 14;

function groupAt(
  chunks: readonly Chunk[],
  tokens: readonly Token[],
  k: number,
): { group: VerbGroup; next: number } | null {
  const first = chunks[k]!;
  const starts =
    first.kind === "verb" ||
    (first.kind === "word" && (helper(first.w) || first.w === "to" || NEGATIONS.has(first.w) || first.w === "please"));
  if (!starts) return null;
  let negated = false;
  let modal: string | null = null;
  let be = false;
  let have = false;
  let last = "";
  let inverted = false;
  let infinitive = false;
  let helped = false;
  const chain: string[] = [];
  let aux: { base: string; at: number } | null = null;
  for (let at = k; at < chunks.length && at < k + LONGEST; at += 1) {
    const one = chunks[at]!;
    const stop = at > k ? tokens[chunks[at - 1]!.j - 1]!.stop : 0;
    if (stop > 0 && at > k && !(stop >= 2 && (last === "to" || MODALS.has(last) || last === "not"))) break;
    if (one.kind === "word") {
      const w = one.w;
      if (BE.has(w)) {
        be = true;
        have = false;
        aux = { base: "be", at };
        helped = true;
      } else if (HAVE.has(w)) {
        have = true;
        be = false;
        aux = { base: "have", at };
        helped = true;
        if (next(chunks, at + 1)?.kind === "word" && (next(chunks, at + 1) as { w: string }).w === "to")
          chain.push("have");
      } else if (DO.has(w)) {
        aux ??= { base: "do", at };
        helped = true;
      } else if (MODALS.has(w)) {
        modal = w;
        helped = true;
      } else if (w === "to") {
        if (
          at > k &&
          !(
            chain.length > 0 ||
            last === "have" ||
            last === "be" ||
            /^(?:able|ready|sure|about|time|supposed|not|just)$/.test(last)
          )
        )
          break;
        if (at === k) infinitive = true;
        be = false;
        have = false;
      } else if (NEGATIONS.has(w) && w !== "no" && w !== "without") negated = true;
      else if (w === "and" && (last === "ahead" || last === "on" || last === "try")) {
        // "Go ahead and lift", "try and pry".
      } else if (/^(?:able|ready|sure|about|supposed|bound|set)$/.test(w) && be) {
        if (wordAt(chunks, at + 1) !== "to") break;
        if (w === "supposed") chain.push(w);
      } else if (!ADVERBS.has(w) && w !== "please") break;
      last = BE.has(w) ? "be" : HAVE.has(w) ? "have" : w;
      continue;
    }
    if (
      one.kind === "pronoun" &&
      SUBJECTS.has(one.w) &&
      at > k &&
      helped &&
      aux !== null &&
      clauseStart(chunks, tokens, k)
    ) {
      inverted = true;
      last = one.w;
      continue;
    }
    if (one.kind === "pronoun" && (one.w === "me" || one.w === "us") && last === "let") continue;
    // "Those are all disconnected".
    if (
      one.kind === "pronoun" &&
      /^(?:all|both|each)$/.test(one.w) &&
      helped &&
      at > k &&
      chunks[at + 1]?.kind === "verb"
    )
      continue;
    if (one.kind !== "verb") break;
    const passive = chunks[at + 1];
    if (
      one.base === "get" &&
      one.form !== "ing" &&
      passive?.kind === "verb" &&
      passive.form === "past" &&
      tokens[one.j - 1]!.stop === 0
    ) {
      // "They get unplugged".
      be = true;
      have = false;
      helped = true;
      last = "be";
      continue;
    }
    if (carries(chunks, tokens, at)) {
      chain.push(one.base);
      last = one.base === "go" ? "go" : one.base;
      be = false;
      have = false;
      continue;
    }
    if (infinitive && one.form !== "base") break;
    const participle =
      one.form === "past" ||
      one.base === "cut" ||
      (be && one.base === "hold" && one.form === "base") ||
      one.base === "put" ||
      one.base === "set" ||
      one.base === "split";
    return {
      next: at + 1,
      group: {
        kind: "group",
        i: first.i,
        j: one.j,
        base: (have || (be && one.form === "past")) && one.base === "get" ? "have" : one.base,
        sort: (have || (be && one.form === "past")) && one.base === "get" ? "aux" : one.sort,
        form: one.form,
        negated,
        modal,
        passive: be && participle,
        perfect: have && participle,
        progressive: be && one.form === "ing",
        chain,
        inverted,
        infinitive: infinitive && chain.length === 0,
        helped,
      },
    };
  }
  if (aux === null) return null;
  const end = chunks[aux.at]!;
  // The "not" after "is" belongs to it; other adverbs stay with what follows.
  const after = chunks[aux.at + 1];
  const no = after?.kind === "word" && after.w === "not";
  return {
    next: aux.at + (no ? 2 : 1),
    group: {
      kind: "group",
      i: first.i,
      j: no ? after.j : end.j,
      base: aux.base,
      sort: "aux",
      form: /^(?:was|were|had|did|been)$/.test(end.kind === "word" ? end.w : "") ? "past" : "s",
      negated: negated && (no || aux.at > k),
      modal,
      passive: false,
      perfect: false,
      progressive: false,
      chain: [],
      inverted,
      infinitive: false,
      helped: true,
    },
  };
}

const helper = (w: string) => BE.has(w) || HAVE.has(w) || DO.has(w) || MODALS.has(w);
const next = (chunks: readonly Chunk[], at: number) => chunks[at];
const wordAt = (chunks: readonly Chunk[], at: number) => {
  const one = chunks[at];
  return one?.kind === "word" ? one.w : null;
};

function clauseStart(chunks: readonly Chunk[], tokens: readonly Token[], k: number): boolean {
  const before = chunks[k - 1];
  if (before === undefined || tokens[before.j - 1]!.stop > 0) return true;
  return (
    before.kind === "word" &&
    (OPENERS.has(before.w) || CONJUNCTIONS.has(before.w) || /^(?:how|why|what|where|which)$/.test(before.w))
  );
}

/** Does the verb at `at` carry another: "want to", "start removing", "let me", "try and", "go ahead and"? */
function carries(chunks: readonly Chunk[], tokens: readonly Token[], at: number): boolean {
  const one = chunks[at]!;
  if (one.kind !== "verb" || tokens[one.j - 1]!.stop > 1) return false;
  const said = tokens[one.i]!.w;
  if (!CHAINS.has(said) && !CHAINS.has(one.base) && one.base !== "go") return false;
  let ahead = at + 1;
  const follow = chunks[ahead];
  if (one.base === "go") {
    const w = wordAt(chunks, ahead);
    if (w === "ahead" || w === "on") return wordAt(chunks, ahead + 1) === "and" && chunks[ahead + 2]?.kind === "verb";
    if (w !== "to" && !(w !== null && ADVERBS.has(w) && wordAt(chunks, ahead + 1) === "to")) return false;
  }
  if (follow?.kind === "pronoun" && (follow.w === "me" || follow.w === "us") && /^(?:let|lets)$/.test(said)) {
    while (ahead + 1 < chunks.length && wordAt(chunks, ahead + 1) !== null && ADVERBS.has(wordAt(chunks, ahead + 1)!))
      ahead += 1;
    return chunks[ahead + 1]?.kind === "verb" || wordAt(chunks, ahead + 1) === "go";
  }
  while (
    wordAt(chunks, ahead) !== null &&
    (ADVERBS.has(wordAt(chunks, ahead)!) || wordAt(chunks, ahead) === "not") &&
    ahead < at + 3
  )
    ahead += 1;
  const w = wordAt(chunks, ahead);
  if (w === "to") return verbSoon(chunks, ahead + 1);
  if (w === "and" && /^(?:try|go)$/.test(one.base))
    return chunks[ahead + 1]?.kind === "verb" && (chunks[ahead + 1] as { form: VerbForm }).form === "base";
  if ((w === "by" || w === "with") && /^(?:start|begin)/.test(said)) return false;
  const verb = chunks[ahead];
  return (
    verb?.kind === "verb" &&
    verb.form === "ing" &&
    /^(?:start|started|starting|starts|begin|began|keep|keeps|kept|continue|continued|like|love)$/.test(said)
  );
}

function verbSoon(chunks: readonly Chunk[], from: number): boolean {
  for (let at = from; at < from + 4; at += 1) {
    const one = chunks[at];
    if (one === undefined) return false;
    if (one.kind === "verb" || (one.kind === "word" && (HAVE.has(one.w) || BE.has(one.w) || DO.has(one.w))))
      return true;
    if (one.kind !== "word" || !(ADVERBS.has(one.w) || one.w === "not")) return false;
  }
  return false;
}

/** Words before "of" that only measure what follows: "a drop of alcohol", "a strip of tape", "a couple of screws". */
const MEASURE_WORDS =
  /^(?:drop|bit|piece|touch|dab|splash|lot|strip|layer|couple|few|pair|set|row|ring|bead|little|squirt|puddle|roll|bunch|number|rest|end|half|one|some|none|most|sheet|patch|square|amount|dribble|dash|line|length|blob|scrap|worst|remains|trace|traces|hunk|smear|spot|trickle|slip|edge|each|stack|series|total)$/;

/** "… of X", "cable for X": the owner goes to the name; "a drop of X" is X. */
function mergeOf(elements: readonly Element[], tokens: readonly Token[]): Element[] {
  const out: Element[] = [];
  for (let k = 0; k < elements.length; k += 1) {
    const one = elements[k]!;
    const held = holding(elements, tokens, k);
    if (held !== null && one.kind === "noun") {
      out.push({ kind: "noun", i: one.i, j: held.j, np: { ...one.np, of: held.np } });
      k = held.last;
      continue;
    }
    const mixed = mixedFasteners(elements, tokens, k);
    if (mixed !== null && one.kind === "noun") {
      const held = holding(
        [{ ...one, j: mixed.j, np: mixed.np }, ...elements.slice(mixed.last + 1, mixed.last + 10)],
        tokens,
        0,
      );
      out.push({
        kind: "noun",
        i: one.i,
        j: held?.j ?? mixed.j,
        np: held === null ? mixed.np : { ...mixed.np, of: held.np },
      });
      k = mixed.last + (held?.last ?? 0);
      continue;
    }
    // "… the camera flex, two of those".
    const [several, of, those] = [elements[k + 1], elements[k + 2], elements[k + 3]];
    if (
      one.kind === "noun" &&
      one.np.count === null &&
      several?.kind === "number" &&
      of?.kind === "word" &&
      of.w === "of" &&
      those?.kind === "pronoun" &&
      /^(?:those|these|them)$/.test(those.w) &&
      tokens[one.j - 1]!.stop <= 1
    ) {
      out.push({ kind: "noun", i: one.i, j: those.j, np: { ...one.np, count: several.value, plural: true } });
      k += 3;
      continue;
    }
    const link = elements[k + 1];
    const owner = elements[k + 2];
    const joins =
      one.kind === "noun" &&
      link?.kind === "word" &&
      owner?.kind === "noun" &&
      tokens[link.j - 1]!.stop !== 1 &&
      tokens[one.j - 1]!.stop !== 1 &&
      (link.w === "of" ||
        ((link.w === "for" || link.w === "to") &&
          tokens[one.j - 1]!.stop === 0 &&
          one.np.classes.includes("plug") &&
          one.np.owner === null &&
          !ownerIsTool(owner.np)) ||
        (link.w === "for" && tokens[one.j - 1]!.stop === 0 && one.np.classes.includes("fastener")));
    if (!joins) {
      out.push(one);
      continue;
    }
    const measure = link.w === "of" && MEASURE_WORDS.test(one.np.head) && !one.np.classes.includes("part");
    const np: NounPhrase = measure
      ? { ...owner.np, count: owner.np.count ?? (one.np.head === "pair" || one.np.head === "couple" ? 2 : null) }
      : // "Ten more screws of the same kind": which screws, and not whose.
        {
          ...one.np,
          of: /^(?:kind|sort|type|size|length|colour|color|variety)$/.test(owner.np.head) ? null : owner.np,
        };
    out.push({ kind: "noun", i: one.i, j: owner.j, np });
    k += 2;
  }
  return out;
}

/** "Four Phillips and two Torx", "three screws, one standoff and a nut": counted together. */
function mixedFasteners(
  elements: readonly Element[],
  tokens: readonly Token[],
  k: number,
): { np: NounPhrase; j: number; last: number } | null {
  const first = elements[k];
  if (first?.kind !== "noun" || !countedFastener(first.np)) return null;
  const counts = [first.np.count ?? 1];
  const mix = [{ head: first.np.head, count: first.np.count ?? 1 }];
  let last = k;
  let { np } = first;
  for (let at = k; at < k + 8; ) {
    const stop = tokens[elements[at]!.j - 1]!.stop;
    if (stop > 1) break;
    const link = elements[at + 1];
    const and = link?.kind === "word" && /^(?:and|plus)$/.test(link.w);
    const next = elements[at + (and ? 2 : 1)];
    if (next?.kind !== "noun" || !(and || stop === 1)) break;
    const one = next.np.count === null && next.np.det === "a" ? { ...next.np, count: 1 } : next.np;
    if (!countedFastener(one) && !(one.elided && (one.count ?? 0) > 0 && and && stop === 0)) break;
    // "Two screws at the top and three at the bottom" are two places: only names side by side are one.
    counts.push(one.count ?? 1);
    mix.push({ head: one.head, count: one.count ?? 1 });
    np = { ...np, plural: true, owner: np.owner ?? one.owner, of: one.of ?? np.of };
    at += and ? 2 : 1;
    last = at;
    if (!and && stop !== 1) break;
  }
  const rest = counts.slice(1).reduce((sum, one) => sum + one, 0);
  // "Eight screws, four Phillips and four Torx": the same ones, told apart.
  const total = rest === counts[0] && counts.length > 2 ? rest : rest + counts[0]!;
  return last === k ? null : { np: { ...np, count: total, mix }, j: elements[last]!.j, last };
}

const countedFastener = (np: NounPhrase) =>
  np.classes.includes("fastener") && (np.count ?? (np.det === "a" ? 1 : 0)) > 0 && !np.each && !np.earlier;

/** "Three screws (that are) holding (down) the bracket": the part goes to the screws. */
function holding(
  elements: readonly Element[],
  tokens: readonly Token[],
  k: number,
): { np: NounPhrase | null; j: number; last: number } | null {
  const one = elements[k]!;
  if (one.kind !== "noun" || !one.np.classes.some((cls) => cls === "fastener" || cls === "clip" || cls === "drive"))
    return null;
  let at = k + 1;
  const link = elements[at];
  if ((link?.kind === "word" || link?.kind === "pronoun") && (link.w === "that" || link.w === "which")) at += 1;
  const verb = elements[at];
  if (verb?.kind !== "group" || verb.sort !== "hold" || verb.passive || verb.negated || tokens[one.j - 1]!.stop === 1)
    return null;
  at += 1;
  while (
    elements[at]?.kind === "word" &&
    /^(?:down|in|on|up|together|place|back|into|to|onto|just|also)$/.test((elements[at] as { w: string }).w)
  )
    at += 1;
  const part = elements[at];
  if (part?.kind === "pronoun" && /^(?:it|them|this|that)$/.test(part.w) && part.j > one.j)
    return { np: one.np.of, j: part.j, last: at };
  if (part?.kind !== "noun" || tokens[elements[at - 1]!.j - 1]!.stop === 1) return null;
  let { j } = part;
  let last = at;
  // "… in place", "… down".
  const after = elements[at + 1];
  if (after?.kind === "word" && after.w === "down") {
    last += 1;
    j = after.j;
  } else if (
    after?.kind === "word" &&
    after.w === "in" &&
    elements[at + 2]?.kind === "noun" &&
    (elements[at + 2] as { np: NounPhrase }).np.head === "place"
  ) {
    last += 2;
    j = elements[at + 2]!.j;
  }
  return { np: part.np, j, last };
}

const ownerIsTool = (np: NounPhrase) => np.classes.some((cls) => cls === "tool" || cls === "heater" || cls === "place");

export const isPreposition = (w: string) => PREPOSITIONS.has(w);
