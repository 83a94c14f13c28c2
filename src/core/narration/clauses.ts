/**
 * Elements to clauses: one verb group at most in each. Captions break sentences in the middle and put full stops where
 * none was said, so the grammar decides and the signs only advise: a stop before "in the bottom edge" is none, and where
 * there is no sign at all a clause begins with its own subject, connective or imperative. Looks a dozen elements ahead.
 */
import { predicateAhead } from "./ahead.ts";
import { ADVERBS, CONJUNCTIONS, MODALS, OPENERS, PARTICLES, PREPOSITIONS, SUBJECTS } from "./lexicon/index.ts";
import { glued } from "./soft-stops.ts";
import type { Stop, Token } from "./tokens.ts";
import type { Element, VerbGroup } from "./verb-groups.ts";

export interface Clause {
  readonly elements: readonly Element[];
  /** Connectives at its head: "if", "then", "because". */
  readonly lead: readonly string[];
  readonly group: VerbGroup | null;
  /** The sign before it and after it. */
  readonly before: Stop;
  readonly after: Stop;
  readonly i: number;
  readonly j: number;
}

export function clauses(elements: readonly Element[], tokens: readonly Token[]): Clause[] {
  const out: Clause[] = [];
  let current: Element[] = [];
  const flush = () => {
    if (current.length > 0) out.push(clauseOf(current, tokens));
    current = [];
  };
  elements.forEach((one, k) => {
    const cut = current.length === 0 ? -1 : boundary(elements, tokens, k, current);
    if (cut === 0) flush();
    else if (cut > 0) {
      // The clause began earlier: its subject was taken for the object before it.
      const tail = current.splice(current.length - cut);
      flush();
      current = tail;
    }
    current.push(one);
  });
  flush();
  return joined(out, tokens);
}

/**
 * "The display connector, the speaker connector and the key connector are opened", "two leads, one white and one black,
 * are released": names parted by commas from what is said of them are its subject.
 */
function joined(list: readonly Clause[], tokens: readonly Token[]): Clause[] {
  const out: Clause[] = [];
  for (const clause of list) {
    const shared = sharing(out, clause);
    if (shared > 0) {
      const before = out.splice(out.length - shared);
      out.push(clauseOf([...before.flatMap((one) => one.elements), ...clause.elements], tokens));
      continue;
    }
    const first = clause.elements.find((el) => !(el.kind === "word" && (ADVERBS.has(el.w) || el.w === "and")));
    const verb = clause.group;
    const bare = verb?.passive === true && first === verb && !verb.inverted && !verb.infinitive;
    const told =
      verb !== null && verb.form === "past" && !verb.helped && verb.sort === "work" && !nounLater(clause, verb);
    const listed =
      (verb?.passive === true || told) &&
      verb !== null &&
      first?.kind === "noun" &&
      tokens[first.j - 1]!.stop === 0 &&
      clause.elements.slice(0, clause.elements.indexOf(verb)).every((el) => el.kind === "noun" || el.kind === "word") &&
      (clause.lead[0] === "and" || clause.elements.some((el) => el.kind === "word" && el.w === "and" && el.i < verb.i));
    // "Three screws and one standoff, hold the main board": a comma that the caption put in.
    const screws = out.at(-1)?.elements.filter((el) => el.kind !== "word");
    const holds =
      verb?.sort === "hold" &&
      first === verb &&
      verb.form === "base" &&
      screws?.length === 1 &&
      screws[0]!.kind === "noun" &&
      screws[0]!.np.classes.includes("fastener");
    if (verb === null || !(bare || listed || holds) || !(clause.before === 1 || (listed && clause.before === 0))) {
      out.push(clause);
      continue;
    }
    const head: Clause[] = [];
    while (out.length > 0 && head.length < 5) {
      const one = out.at(-1)!;
      const plug = first?.kind === "noun" && first.np.classes.includes("plug");
      if (plug && one.elements.some((el) => el.kind === "noun" && !el.np.classes.includes("plug"))) break;
      if (one.group !== null || one.after > 1 || !one.elements.some((el) => el.kind === "noun" || el.kind === "number"))
        break;
      // "Two screws out, plate out, and the battery is disconnected.": each is told for itself.
      const told = one.elements.at(-1);
      if (told?.kind === "word" && WAY.test(told.w)) break;
      head.unshift(out.pop()!);
      if (one.before > 1) break;
    }
    if (head.length === 0) {
      out.push(clause);
      continue;
    }
    // What stands between two commas tells more of the name before it.
    const kept = listed
      ? head
      : [
          head[0]!,
          ...head
            .slice(1)
            .filter((one) =>
              one.elements.every(
                (el) => el.kind !== "number" && !(el.kind === "noun" && (el.np.elided || el.np.unknown)),
              ),
            ),
        ];
    out.push(clauseOf([...kept.flatMap((one) => one.elements), ...clause.elements], tokens));
  }
  return out;
}

/** Verbs that say what is done only with the word after the object. */
const WAITING = /^(?:take|get|pull|bring|pop|fetch|work|wiggle|draw|slide|ease|pick|have)$/;
const WAY = /^(?:out|off|away|free|loose|apart|aside|up)$/;

/**
 * "Take the speaker, the motor and the coil out": the word after the last of them belongs to the verb before the first.
 *
 * @returns how many clauses before this one it completes, 0: none
 */
function sharing(out: readonly Clause[], clause: Clause): number {
  if (clause.group !== null || clause.lead[0] !== "and" || clause.before > 1) return 0;
  const [last, named] = [clause.elements.at(-1), clause.elements.at(-2)];
  const way = last?.kind === "word" && WAY.test(last.w) && named?.kind === "noun";
  if (!way || clause.elements.some((el) => el.kind !== "noun" && el.kind !== "word")) return 0;
  for (let n = 1; n <= 4; n += 1) {
    const one = out.at(-n);
    if (one === undefined || one.after > 1) return 0;
    const verb = one.group;
    if (verb !== null) {
      const object = one.elements.at(-1);
      return WAITING.test(verb.base) && !verb.passive && object?.kind === "noun" && object.i > verb.i ? n : 0;
    }
    if (!one.elements.every((el) => el.kind === "noun")) return 0;
  }
  return 0;
}

const nounLater = (clause: Clause, verb: VerbGroup) =>
  clause.elements.some((el, k) => el.kind === "noun" && el.i > verb.i && clause.elements[k - 1] === verb);

function clauseOf(elements: readonly Element[], tokens: readonly Token[]): Clause {
  const lead: string[] = [];
  for (const one of elements) {
    if (
      one.kind !== "word" ||
      !(CONJUNCTIONS.has(one.w) || OPENERS.has(one.w) || PREPOSITIONS.has(one.w) || ADVERBS.has(one.w))
    )
      break;
    lead.push(one.w);
  }
  const i = elements[0]!.i;
  const j = elements.at(-1)!.j;
  const groups = elements.filter((one): one is VerbGroup => one.kind === "group");
  return {
    elements,
    lead,
    group: groups.at(-1) ?? null,
    before: i === 0 ? 2 : tokens[i - 1]!.stop,
    after: tokens[j - 1]!.stop,
    i,
    j,
  };
}

/** -1: the element goes on; 0: a clause begins here; n > 0: it began n elements ago. */
function boundary(
  elements: readonly Element[],
  tokens: readonly Token[],
  k: number,
  current: readonly Element[],
): number {
  const one = elements[k]!;
  const before = elements[k - 1]!;
  const stop = tokens[before.j - 1]!.stop;
  if (stop >= 2) return glued(elements, tokens, k, current) ? -1 : 0;
  const verb = current.findLast((el): el is VerbGroup => el.kind === "group");
  const next = elements[k + 1];
  if (one.kind === "word") {
    if (one.w === "and" || one.w === "or" || one.w === "but" || one.w === "plus")
      return one.w === "but" || predicateAhead(elements, tokens, k + 1) ? 0 : -1;
    if (OPENERS.has(one.w) && !(one.w === "next" && next?.kind === "word" && next.w === "to")) {
      if (CONJUNCTIONS.has(before.kind === "word" ? before.w : "") && current.length === 1) return -1;
      // "The battery now lifts out".
      if (
        /^(?:now|then)$/.test(one.w) &&
        before.kind === "noun" &&
        next?.kind === "group" &&
        next.form === "s" &&
        verb === undefined
      )
        return -1;
      // "… pull that off as well".
      if (one.w === "well" && before.kind === "word" && before.w === "as") return -1;
      // "… off now.", "right away": closing words, and no opening ones.
      if (tokens[one.j - 1]!.stop >= 2 || next === undefined) return stop === 1 ? 0 : -1;
      if (
        /^(?:right|well|once|first|plus|also|since|before|after)$/.test(one.w) &&
        next.kind !== "noun" &&
        next.kind !== "group" &&
        next.kind !== "pronoun" &&
        next.kind !== "number"
      )
        return -1;
      if (one.w === "as" || (one.w === "once" && verb === undefined)) return -1;
      return current.every((el) => el.kind === "word") ? -1 : 0;
    }
    if (
      (one.w === "there" || one.w === "here") &&
      next?.kind === "group" &&
      next.base === "be" &&
      current.some((el) => el.kind !== "word")
    )
      return 0;
    if (
      (one.w === "by" || one.w === "without" || one.w === "instead" || one.w === "from") &&
      next?.kind === "group" &&
      next.form === "ing"
    )
      return 0;
  }
  if (one.kind === "word" && one.w === "that" && next?.kind === "group" && next.form !== "ing" && verb !== undefined)
    return 0;
  // "… the battery four screws around it": a number of things after an object begins anew.
  if (
    stop === 0 &&
    one.kind === "noun" &&
    before.kind === "noun" &&
    one.np.count !== null &&
    one.np.det === null &&
    (verb !== undefined || (before.np.classes.includes("plug") && one.np.classes.includes("fastener"))) &&
    current.at(-1) === before
  )
    return 0;
  // "… eleven screws no sorry ten screws": captions without signs.
  if (
    stop === 0 &&
    one.kind === "word" &&
    ((one.w === "no" && /^(?:sorry|wait|hang)$/.test(tokens[one.j]?.w ?? "")) ||
      (one.w === "sorry" && before.kind === "noun" && before.np.count !== null)) &&
    current.some((el) => el.kind === "noun")
  )
    return 0;
  // "… wait six minutes suction cup on the corner".
  if (
    stop === 0 &&
    one.kind === "noun" &&
    before.kind === "quantity" &&
    (one.np.classes[0] === "suction" || one.np.classes[0] === "cutter")
  )
    return 0;
  // "… so five total the plate comes off": a number told again ends with its word.
  if (
    stop === 0 &&
    one.kind === "noun" &&
    before.kind === "noun" &&
    /^(?:total|altogether)$/.test(before.np.head) &&
    verb === undefined &&
    current.some((el) => el.kind === "number")
  )
    return 0;
  // "… I pop all of those off two screws in the board".
  if (
    stop === 0 &&
    one.kind === "noun" &&
    one.np.count !== null &&
    one.np.det === null &&
    one.np.classes.includes("fastener") &&
    before.kind === "word" &&
    /^(?:off|out|away|free)$/.test(before.w) &&
    verb !== undefined &&
    verb.base !== "take" &&
    current.some((el) => el.kind === "noun" || (el.kind === "pronoun" && !SUBJECTS.has(el.w)))
  )
    return 0;
  // "… are disconnected six screws and the board …", "the speaker falls out little motor here".
  if (
    stop === 0 &&
    one.kind === "noun" &&
    verb !== undefined &&
    current.some((el) => el !== verb && el.i < verb.i && (el.kind === "noun" || el.kind === "pronoun"))
  ) {
    if (before === verb && verb.passive && one.np.count !== null && one.np.classes.includes("fastener")) return 0;
    const tail = current.filter((el) => !(el.kind === "word" && (ADVERBS.has(el.w) || el.w === "little")));
    const end = tail.at(-1);
    const gone = end?.kind === "word" && /^(?:off|out|away|free|loose)$/.test(end.w) && tail.at(-2) === verb;
    if (
      gone &&
      verb.sort === "work" &&
      (verb.passive || (verb.form === "s" && /^(?:come|fall|pop|lift|slide|drop|pull|slip|peel)$/.test(verb.base))) &&
      one.np.classes[0] !== "side" &&
      one.np.classes[0] !== "place"
    )
      return 0;
  }
  // "… the lower one same thing on the upper panel".
  if (
    stop === 0 &&
    verb !== undefined &&
    tokens[one.i]!.w === "same" &&
    /^(?:thing|story|deal|on|for|with|goes|again|here|procedure)$/.test(tokens[one.i + 1]?.w ?? "") &&
    !(before.kind === "word" && before.w === "the")
  )
    return 0;
  if (stop === 1) return commaCuts(elements, tokens, k, current) ? 0 : -1;
  if (
    one.kind === "pronoun" &&
    subjectHere(elements, tokens, k) &&
    current.some((el) => el.kind === "group" || el.kind === "noun" || el.kind === "quantity")
  ) {
    // "With the spatula I go under the battery", "in the gap I put a card".
    const [first, second] = current;
    const phrase =
      stop === 0 &&
      current.length === 2 &&
      first?.kind === "word" &&
      /^(?:with|in|on|at|over|using|from|into|under|behind)$/.test(first.w) &&
      second?.kind === "noun" &&
      /^(?:i|we|you)$/.test(one.w);
    if (phrase) return -1;
    const relative = before.kind === "word" && (CONJUNCTIONS.has(before.w) || OPENERS.has(before.w));
    return relative && current.length === 1 ? -1 : 0;
  }
  if (one.kind === "group" && verb !== undefined) return beforeVerb(one, verb, current, tokens);
  if (
    one.kind === "group" &&
    verb === undefined &&
    imperative(one) &&
    current.some((el) => el.kind === "noun" || el.kind === "quantity") &&
    !subjectPronoun(current)
  ) {
    // "Battery next remove the screws": a name, and an order after it; "the glass comes off" has its subject.
    const last = current.at(-1)!;
    const subject = last.kind === "noun" && last.np.plural;
    return subject ? -1 : 0;
  }
  return -1;
}

const imperative = (group: VerbGroup) =>
  group.form === "base" && !group.helped && !group.infinitive && group.sort !== "common" && group.sort !== "aux";
const subjectPronoun = (current: readonly Element[]) =>
  current.some(
    (el) =>
      el.kind === "pronoun" &&
      (SUBJECTS.has(el.w) ||
        el.w === "that" ||
        el.w === "this" ||
        el.w === "these" ||
        el.w === "those" ||
        el.w === "all" ||
        el.w === "both" ||
        el.w === "them"),
  );

function beforeVerb(group: VerbGroup, verb: VerbGroup, current: readonly Element[], tokens: readonly Token[]): number {
  if (group.infinitive) return 0;
  const finite =
    group.helped ||
    group.form === "s" ||
    (group.form === "past" && group.sort !== "hold") ||
    (group.sort === "common" && group.form === "base") ||
    // "… the three cameras lift right out".
    (/^(?:lift|slide|come|pop|fall|drop|pull|go)$/.test(group.base) &&
      group.form === "base" &&
      !group.infinitive &&
      current.at(-1)?.kind === "noun" &&
      (current.at(-1) as { np: { plural: boolean } }).np.plural &&
      verb.sort === "aux");
  // "… under the battery slowly, don't bend it": an order, and no subject before it.
  const subject = current.findLast((el) => el.kind === "noun" || el.kind === "pronoun");
  if (
    tokens[group.i]!.w === "do" &&
    group.negated &&
    group.form === "base" &&
    subject?.kind === "noun" &&
    !subject.np.plural
  )
    return 0;
  // "… and then the screen comes off": the name just before the verb is its subject.
  const tail = subjectTail(current, tokens);
  if (finite && tail > 0 && tail < current.length && group.form !== "ing") {
    const objects = current
      .slice(0, current.length - tail)
      .some((el) => el.kind === "noun" || el.kind === "pronoun" || el.kind === "quantity");
    const particle = current.slice(0, current.length - tail).at(-1);
    const closed =
      objects ||
      verb.sort === "aux" ||
      verb.sort === "common" ||
      (particle?.kind === "word" && PARTICLES.has(particle.w));
    if (closed) return tail;
  }
  // Participle that tells more of a name: "the screws holding it", "the cable soldered there".
  if (group.form === "ing" && !group.helped) return 0;
  if (group.form === "past" && !group.helped && group.sort !== "work" && group.sort !== "back") return -1;
  return 0;
}

/** Number of elements at the end that form a subject: a name, with what belongs to it. */
function subjectTail(current: readonly Element[], tokens: readonly Token[]): number {
  let size = 0;
  for (let at = current.length - 1; at >= 0 && size < 6; at -= 1) {
    const el = current[at]!;
    if (size > 0 && tokens[el.j - 1]!.stop > 0) break;
    if (el.kind === "word" && (ADVERBS.has(el.w) || el.w === "not") && size === 0) {
      size += 1;
      continue;
    }
    if (
      el.kind === "pronoun" &&
      (el.w === "that" ||
        el.w === "this" ||
        el.w === "these" ||
        el.w === "those" ||
        SUBJECTS.has(el.w) ||
        el.w === "all" ||
        el.w === "both")
    )
      return size + 1;
    if (el.kind !== "noun") return 0;
    const link = current[at - 1];
    if (
      link?.kind === "word" &&
      (link.w === "and" || (PREPOSITIONS.has(link.w) && current[at - 2]?.kind === "noun" && !PARTICLES.has(link.w)))
    ) {
      size += 2;
      continue;
    }
    return size + 1;
  }
  return 0;
}

/** A pronoun that is the subject of what follows. */
function subjectHere(elements: readonly Element[], tokens: readonly Token[], k: number): boolean {
  const one = elements[k]!;
  if (one.kind !== "pronoun") return false;
  if (/^(?:i|we|you|he|she|they)$/.test(one.w)) return true;
  if (!/^(?:it|that|this|these|those|everything)$/.test(one.w)) return false;
  for (let at = k + 1; at < k + 3; at += 1) {
    const next = elements[at];
    if (tokens[elements[at - 1]!.j - 1]!.stop > 1 && tokens[elements[at - 1]!.j - 1]!.firm === true) return false;
    if (next?.kind === "group")
      return next.helped || next.form === "s" || next.form === "past" || /^(?:be|have)$/.test(next.base);
    if (next?.kind !== "word" || !(ADVERBS.has(next.w) || MODALS.has(next.w))) return false;
  }
  return false;
}

function commaCuts(
  elements: readonly Element[],
  tokens: readonly Token[],
  k: number,
  current: readonly Element[],
): boolean {
  const one = elements[k]!;
  if (one.kind === "word" && (one.w === "and" || one.w === "or")) return predicateAhead(elements, tokens, k + 1);
  // "Two more screws, out of the bracket."
  const away = elements[k + 1];
  const counted = elements[k - 1];
  if (
    one.kind === "word" &&
    one.w === "out" &&
    away?.kind === "word" &&
    away.w === "of" &&
    counted?.kind === "noun" &&
    counted.np.classes.includes("fastener")
  )
    return false;
  if (predicateAhead(elements, tokens, k)) return true;
  // "…, by sixty six grams", "…, than the old one": belongs to what was said.
  if (one.kind === "word" && (one.w === "by" || one.w === "than")) return false;
  if (one.kind === "noun") {
    // A list of objects goes on over commas; a name after a figure or after no verb stands for itself.
    const verb = current.some(
      (el) => el.kind === "group" && (el.sort === "work" || el.sort === "back") && el.base !== "use",
    );
    return !verb || current.some((el) => el.kind === "quantity");
  }
  return true;
}
