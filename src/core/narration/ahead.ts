/** What follows a place in the elements: looks a dozen of them ahead, so that time stays linear. */
import { OPENERS, PARTICLES } from "./lexicon/index.ts";
import type { Token } from "./tokens.ts";
import type { Element } from "./verb-groups.ts";

/** How far ahead a verb is looked for before a list is taken to be a list. */
const AHEAD = 12;

/** Is there something said of the names that follow, before the next sign or connective? */
export function predicateAhead(elements: readonly Element[], tokens: readonly Token[], from: number): boolean {
  for (let at = from; at < elements.length && at < from + AHEAD; at += 1) {
    const one = elements[at]!;
    if (one.kind === "group") return true;
    if (one.kind === "pronoun" && /^(?:i|we|you|they)$/.test(one.w)) return true;
    if (one.kind === "word") {
      const last = elements[at - 1];
      if (
        PARTICLES.has(one.w) &&
        at > from &&
        (last?.kind === "noun" || last?.kind === "pronoun") &&
        !nounAfter(elements, tokens, at)
      )
        return true;
      if (at === from && PARTICLES.has(one.w) && !nounAfter(elements, tokens, at)) return true;
      if (at > from && one.w === "and" && elements[at + 1]?.kind === "noun" && tokens[one.j - 1]!.stop === 0) continue;
      if (at > from && (OPENERS.has(one.w) || one.w === "and")) return false;
    }
    if (tokens[one.j - 1]!.stop > 0) return false;
  }
  return false;
}

const nounAfter = (elements: readonly Element[], tokens: readonly Token[], at: number) => {
  const next = elements[at + 1];
  return (
    next !== undefined &&
    tokens[elements[at]!.j - 1]!.stop === 0 &&
    (next.kind === "noun" || next.kind === "quantity" || (next.kind === "word" && next.w === "of"))
  );
};
