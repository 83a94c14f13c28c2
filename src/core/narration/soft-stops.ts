/** Full stops that nobody said: captions put them in anywhere, and the grammar says which of them are none. */
import { predicateAhead } from "./ahead.ts";
import { BE, DETERMINERS, MODALS, OPENERS, PREPOSITIONS, SUBJECTS } from "./lexicon/index.ts";
import type { Token } from "./tokens.ts";
import type { Element, VerbGroup } from "./verb-groups.ts";

const AFTER_FIGURE =
  /^(?:thick|wide|high|tall|long|deep|across|diagonal|diagonally|smaller|larger|bigger|lighter|heavier|thinner|thicker|longer|shorter|wider|taller|more|less|fewer)$/;

/** Was the full stop before element `k` put there by the caption? */
export function glued(
  elements: readonly Element[],
  tokens: readonly Token[],
  k: number,
  current: readonly Element[],
): boolean {
  const one = elements[k]!;
  const last = tokens[elements[k - 1]!.j - 1]!;
  if (last.stop === 3 || last.firm === true) return false;
  if (DETERMINERS.has(last.w) && !/^(?:that|this|all|both|these|those|each|some|any|another|either|his)$/.test(last.w))
    return true;
  if (
    /^(?:of|with|from|into|onto|to|for|at|by|than|as|between|and|or|very|is|are|was|a|the|weighs|about|only)$/.test(
      last.w,
    )
  )
    return !(one.kind === "pronoun" && SUBJECTS.has(one.w)) || !BE.has(last.w);
  // "Take out. Both screws", "two screws on. Each fan": a verb or a preposition that still wants its name.
  const wants = /^(?:off|out|away)$/.test(last.w)
    ? current.at(-2)?.kind === "group" && (current.at(-2) as VerbGroup).form === "base"
    : /^(?:on|in|under|behind|along|across|near|over|around|below|above)$/.test(last.w);
  if (
    wants &&
    one.kind === "noun" &&
    (one.np.det !== null || one.np.every || one.np.each) &&
    !predicateAhead(elements, tokens, k)
  )
    return true;
  if (MODALS.has(last.w) && elements[k - 1]!.kind !== "noun") return true;
  if (/^(?:took|takes)$/.test(last.w) && one.kind === "quantity") return true;
  // "A quarter of the mass. Is the battery.": a verb with no subject of its own.
  if (
    one.kind === "group" &&
    one.base === "be" &&
    one.helped &&
    !one.inverted &&
    !current.some((el) => el.kind === "group") &&
    current.some((el) => el.kind === "noun")
  )
    return true;
  // "Off comes. The screen."
  const [front, came] = [current[0], current.at(-1)];
  if (
    current.length <= 3 &&
    front?.kind === "word" &&
    /^(?:off|out|up|away)$/.test(front.w) &&
    came?.kind === "group" &&
    /^(?:come|go|pop)$/.test(came.base) &&
    one.kind === "noun"
  )
    return true;
  // "The upper cover screws. Want 0.12 newton metres."
  const lastNoun = current.at(-1);
  if (
    one.kind === "group" &&
    !one.helped &&
    /^(?:want|need|take|weigh|measure|read)$/.test(one.base) &&
    lastNoun?.kind === "noun" &&
    lastNoun.np.det !== null &&
    (one.form === "s" || (one.form === "base" && lastNoun.np.plural)) &&
    !current.some((el) => el.kind === "group")
  )
    return true;
  // "A third. Smaller than the old one", "5.5 millimeters. High."
  const figure = elements[k - 1]!.kind === "number" || elements[k - 1]!.kind === "quantity";
  const told = elements[k - 1]!;
  const grams = told.kind === "quantity" && /^(?:g|kg)$/.test(told.q.unit);
  if (figure && one.kind === "word" && AFTER_FIGURE.test(one.w))
    // "It weighs 1.9 grams. Bigger than last year's.": two things.
    return !grams || /^(?:lighter|heavier|more|less|fewer)$/.test(one.w);
  // "Main board. From the top, the display and the sensor are unplugged.": a heading.
  const other = elements[k + 1];
  const done = current.some((el) => el.kind === "group" && el.sort === "work");
  if (done && one.kind === "word" && /^(?:on|in)$/.test(one.w) && other?.kind === "noun" && other.np.earlier)
    return false;
  const heading = current.length === 1 && current[0]!.kind === "noun" && current[0]!.np.classes[0] === "part";
  if (heading && one.kind === "word" && one.w === "from") return false;
  if (one.kind === "word") {
    if (one.w === "than" || one.w === "of") return true;
    // "Undo the two screws. Next to the port."
    const beside = elements[k + 1];
    if (one.w === "next" && beside?.kind === "word" && beside.w === "to" && elements[k + 2]?.kind === "noun")
      return true;
    // "Now open it. Like a book."
    const page = elements[k + 1];
    if (one.w === "like" && page?.kind === "noun" && /^(?:book|door|page|lid|hatch)$/.test(page.np.head)) return true;
    if (PREPOSITIONS.has(one.w) && !/^(?:like|as|inside|except|about)$/.test(one.w))
      return tailPhrase(elements, tokens, k);
  }
  if (one.kind === "group" && one.sort === "hold" && one.form === "ing") return true;
  // "Unplug. The battery.": a verb of work that still wants its object.
  const verb = current.at(-1);
  // "Front camera, unplug. Rear camera, unplug.": the name came first.
  const led = elements[k - 2];
  if (current.length === 1 && led?.kind === "noun" && tokens[led.j - 1]!.stop === 1) return false;
  if (
    verb?.kind === "group" &&
    verb.sort === "work" &&
    one.kind === "noun" &&
    verb.form === "base" &&
    (!verb.helped || verb.negated || verb.chain.length > 0) &&
    !current.some((el) => el.kind === "pronoun" && !SUBJECTS.has(el.w)) &&
    !/^(?:pull|tug|push|go|come|stop|wait|heat|flip|turn)$/.test(verb.base)
  )
    return verb.negated || !predicateAhead(elements, tokens, k);
  return false;
}

/** A phrase led by a preposition, up to a sign, with no subject and no verb of its own. */
function tailPhrase(elements: readonly Element[], tokens: readonly Token[], k: number): boolean {
  let nouns = 0;
  for (let at = k; at < elements.length && at < k + 8; at += 1) {
    const one = elements[at]!;
    if (one.kind === "group") return one.infinitive && nouns > 0;
    if (one.kind === "pronoun" && SUBJECTS.has(one.w) && nouns > 0) return false;
    if (one.kind === "noun" || one.kind === "quantity" || one.kind === "pronoun" || one.kind === "number") nouns += 1;
    if (at > k && one.kind === "word" && (OPENERS.has(one.w) || one.w === "and")) return nouns > 0;
    if (tokens[one.j - 1]!.stop > 1) return nouns > 0;
    if (tokens[one.j - 1]!.stop === 1) {
      const after = elements[at + 1];
      // "With the handle, the display is raised": what follows has a subject and a verb of its own.
      if (after?.kind === "noun" && predicateAhead(elements, tokens, at + 1)) return false;
      return nouns > 0 && !(after?.kind === "pronoun" && SUBJECTS.has(after.w));
    }
  }
  return nouns > 0;
}
