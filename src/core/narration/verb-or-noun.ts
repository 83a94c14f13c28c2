/** Words that may be a verb or a name, and which of the two they are where they stand. */
import {
  ADJECTIVES,
  ADVERBS,
  BE,
  CONJUNCTIONS,
  DETERMINERS,
  DO,
  FILLING,
  HAVE,
  MODALS,
  OPENERS,
  PARTICLES,
  POSSESSIVES,
  PREPOSITIONS,
  SUBJECTS,
  TELLING,
} from "./lexicon/index.ts";
import { isNoun, isPlural, type NounSpan, nounAt, WORK_VERBS } from "./lookup.ts";
import { numberAt } from "./numbers.ts";
import type { Token } from "./tokens.ts";

export const filling = new Set<string>(FILLING);
export const telling = new Set<string>(TELLING);
export const AUXILIARY = (w: string) => BE.has(w) || HAVE.has(w) || DO.has(w) || MODALS.has(w);

/** Is this word, which may be a noun, an adjective or a particle, a verb here? */
export function verbHere(tokens: readonly Token[], i: number): boolean {
  const token = tokens[i]!;
  const before = tokens[i - 1];
  const next = tokens[i + 1];
  const open = before !== undefined && before.stop === 0;
  const w = token.w;
  // "The back just clips off".
  if (WORK_VERBS.get(w)?.form === "s" && next !== undefined && /^(?:off|out|away|open)$/.test(next.w) && open) {
    const named = ADVERBS.has(before.w) ? tokens[i - 2] : before;
    if (named !== undefined && isNoun(named.w) && !isPlural(named.w)) return true;
  }
  // "Both antenna leads just snap off".
  if (
    WORK_VERBS.get(w)?.form === "base" &&
    next !== undefined &&
    /^(?:off|out|away|up|free|apart)$/.test(next.w) &&
    open
  ) {
    const named = ADVERBS.has(before.w) ? tokens[i - 2] : before;
    if (named !== undefined && isNoun(named.w) && isPlural(named.w)) return true;
  }
  // "Shielding tape", "insulating film": what it is for.
  if (w.endsWith("ing") && token.stop === 0 && next !== undefined) {
    const named = nounAt((n) => (n === 0 ? next.w : null));
    if (named?.classes.some((cls) => cls === "film" || cls === "tool" || cls === "heater")) return false;
  }
  // "There are pull tabs."
  const known = nounAt((at) => tokens[i + at]?.w ?? null);
  if (open && BE.has(before.w) && known !== null && known.words.length > 1) return false;
  if (open) {
    // "I've stuck", "it's been freed": a participle, whatever else the word may be.
    if (HAVE.has(before.w) && WORK_VERBS.get(w)?.form === "past") return true;
    if (before.w === "it" && WORK_VERBS.get(w)?.form === "s") return true;
    if (
      (SUBJECTS.has(before.w) && before.w !== "it") ||
      MODALS.has(before.w) ||
      before.w === "not" ||
      before.w === "us" ||
      before.w === "me" ||
      before.w === "please"
    )
      return !AUXILIARY(next?.w ?? "");
    if (before.w === "to")
      return (
        !PREPOSITIONS.has(tokens[i - 2]?.w ?? "") &&
        (next === undefined || !PREPOSITIONS.has(next.w) || next.w === "over" || PARTICLES.has(next.w))
      );
    if (DETERMINERS.has(before.w) || POSSESSIVES.has(before.w) || PREPOSITIONS.has(before.w) || before.poss)
      return false;
    if (ADJECTIVES.has(before.w) || telling.has(before.w) || filling.has(before.w))
      if (!ADVERBS.has(before.w)) return false;
    if (BE.has(before.w)) return false;
    // "Put tape on": the word after a verb is its object.
    if (
      (WORK_VERBS.has(before.w) && !isNoun(before.w)) ||
      /^(?:use|using|need|has|have|had|with|grab|apply)$/.test(before.w)
    )
      return false;
  }
  if (token.stop > 1 || next === undefined) return false;
  if (w === "pick" && !/^(?:out|off|up)$/.test(next.w)) return false;
  if (w === "back" && !/^(?:out|off)$/.test(next.w)) return false;
  if (
    w === "tape" &&
    open &&
    isNoun(before.w) &&
    !SUBJECTS.has(before.w) &&
    next !== undefined &&
    PARTICLES.has(next.w)
  )
    return false;
  const afterNoun =
    open && (isNoun(before.w) || /^\d/.test(before.w)) && !OPENERS.has(before.w) && !ADVERBS.has(before.w);
  const leads = (at: number) => {
    const one = tokens[at];
    if (one === undefined) return false;
    return (
      (DETERMINERS.has(one.w) && one.w !== "no") ||
      /^(?:it|them|this|that|these|those)$/.test(one.w) ||
      numberAt(tokens, at) !== null
    );
  };
  if (leads(i + 1) && token.stop === 0) return true;
  if (PARTICLES.has(next.w) && leads(i + 2) && next.stop === 0 && token.stop === 0)
    return !afterNoun || !/^(?:round|around|along|in|on|under)$/.test(next.w);
  if (particleOnly(w))
    return next.w === "up" && leads(i + 2)
      ? true
      : !afterNoun && isPartWord(next.w) && (!open || /^(?:and|then|now|i|we|you)$/.test(before!.w));
  if (afterNoun) return false;
  // "Cover display", "heat screen": at the start of a clause, with a part beside it, and no compound of the two.
  const starts = !open || CONJUNCTIONS.has(before!.w) || OPENERS.has(before!.w) || ADVERBS.has(before!.w);
  if (starts && token.stop === 0 && next.w === "up" && /^(?:lever|wedge|clean|heat|tape|lift)$/.test(w)) return true;
  const compound = nounAt((n) => tokens[i + n]?.w ?? null);
  return (
    starts &&
    token.stop === 0 &&
    (compound === null || compound.words.length === 1) &&
    isPartWord(next.w) &&
    !isPlural(token.w)
  );
}

export const particleOnly = (w: string) => PARTICLES.has(w) || ADJECTIVES.has(w) || ADVERBS.has(w);

export function isPartWord(w: string): boolean {
  const noun = nounAt((n) => (n === 0 ? w : null));
  if (telling.has(w)) return true;
  return (
    noun?.classes.some(
      (cls) =>
        cls === "part" ||
        cls === "plug" ||
        cls === "device" ||
        cls === "side" ||
        cls === "film" ||
        cls === "residue" ||
        cls === "glue",
    ) === true
  );
}

/** "I like it", and not "opens like a book", "for like four minutes". */
export const liking = (tokens: readonly Token[], i: number) =>
  tokens[i - 1] !== undefined &&
  tokens[i - 1]!.stop === 0 &&
  /^(?:i|we|you|they|people|not|to|would|really|also|do|does|might|will|quite)$/.test(tokens[i - 1]!.w);

/** "Pick in, and round the sides": the tool, at the head of a sentence. */
export const pickIn = (tokens: readonly Token[], i: number) =>
  tokens[i]!.w === "pick" &&
  (i === 0 || tokens[i - 1]!.stop > 0 || /^(?:and|then|now|so)$/.test(tokens[i - 1]!.w)) &&
  /^(?:in|under|around|round|along|goes|into|through|between|underneath)$/.test(tokens[i + 1]?.w ?? "");

/** "I peel that back", "fold this back and …": a direction, and no face of the device. */
export function backAside(tokens: readonly Token[], at: number): boolean {
  const verb = WORK_VERBS.get(tokens[at - 2]?.w ?? "");
  if (tokens[at]?.w !== "back" || verb === undefined) return false;
  if (!/^(?:peel|fold|flip|bend|pull|push|move|swing|roll|tilt|hinge|lift|lay)$/.test(verb.base)) return false;
  const next = tokens[at + 1];
  return tokens[at]!.stop > 0 || next === undefined || (!isNoun(next.w) && next.w !== "off");
}

/**
 * Two known names side by side that are not one: "… the upper panel suction cup and pick" and "… round with the pick back glass
 * is off" in captions without signs, "flip the tablet back over".
 */
export function noCompound(
  tokens: readonly Token[],
  start: number,
  at: number,
  head: NounSpan,
  next: NounSpan,
): boolean {
  const toolAfterPart = head.classes[0] === "part" && /^(?:suction|heater|cutter|solvent|tool)$/.test(next.classes[0]!);
  const partAfterTool =
    next.classes[0] === "part" && head.classes.every((cls) => /^(?:suction|cutter|tool)$/.test(cls));
  return toolAfterPart || partAfterTool || backAgain(tokens, start, at);
}

/** "Flip the tablet back over", "fold the bracket back, because …": a direction, and no back of it. */
function backAgain(tokens: readonly Token[], start: number, at: number): boolean {
  if (tokens[at]!.w !== "back") return false;
  const next = tokens[at + 1];
  const ends =
    tokens[at]!.stop > 0 || next === undefined || /^(?:over|on|onto|in|into|down|up|together|and)$/.test(next.w);
  const moved = [1, 2].some((n) =>
    /^(?:flip|turn|fold|put|swing|lay|peel|bend|pull|push|move|slide|tilt|hinge|lift|set|place)$/.test(
      WORK_VERBS.get(tokens[start - n]?.w ?? "")?.base ?? "",
    ),
  );
  return ends && (moved || WORK_VERBS.get(tokens[start]!.w) !== undefined);
}

/** "Face down" is how a thing lies. */
export const faceDown = (tokens: readonly Token[], i: number) =>
  tokens[i]?.w === "face" && /^(?:down|up)$/.test(tokens[i + 1]?.w ?? "");

/** "Back" and the like: a face of the device, and no direction. */
export const startsAfterPreposition = (tokens: readonly Token[], i: number) =>
  PREPOSITIONS.has(tokens[i - 1]?.w ?? "") ||
  /^(?:cover|glass|panel|plate|camera|case|shell|side|edge)$/.test(tokens[i + 1]?.w ?? "") ||
  // "And back is coming off."
  (tokens[i]!.w === "back" &&
    /^(?:is|was|comes|lifts|pops|weighs|has)$/.test(tokens[i + 1]?.w ?? "") &&
    (i === 0 || tokens[i - 1]!.stop > 0 || /^(?:and|so|now|then)$/.test(tokens[i - 1]!.w))) ||
  // "Back away." said of the cover.
  (tokens[i]!.w === "back" &&
    /^(?:away|off)$/.test(tokens[i + 1]?.w ?? "") &&
    (i === 0 || tokens[i - 1]!.stop >= 2) &&
    tokens[i + 1]!.stop >= 1);
