/** Screws: counted before they are undone, undone by a pronoun, counted again ("four in all"). */
import type { Arguments, Thing } from "./arguments.ts";
import type { NounPhrase } from "./chunks.ts";
import type { Clause } from "./clauses.ts";
import { emit, type Work } from "./emit.ts";
import { ADVERBS, PARTICLES } from "./lexicon/index.ts";
import { completed, isFastener, isTool, nounText, objectText, referent, sameName, workable } from "./objects.ts";
import { clauseText, clauseWords, mention, type State, simplePhrase } from "./state.ts";
import { countOf } from "./targets.ts";

/** How many clauses a thing spoken of waits for its verb. */
const WAITS = 5;

/** Entries looked back at: keeps the time linear in a recording of any length. */
export const RECENT = 120;

/** Screws spoken of and not yet taken out, when this pronoun can mean them. */
export function pendingFor(state: State, index: number, w: string, count: number | null): State["pending"] {
  const one = state.pending;
  if (one === null || one.used || index - one.clause > WAITS) return null;
  if (w === "it" && one.count !== 1) return null;
  if (w !== "it" && one.count === 1 && count === null && w !== "that" && w !== "this") return null;
  // Something else in the plural was named since.
  if (count === null && w !== "it") {
    const later = state.mentions.findLast((m) => m.clause > one.clause && m.strong && m.np.plural && !isFastener(m.np));
    const done =
      later !== undefined &&
      state.entries.slice(-RECENT).some((e) => e.clause > one.clause && sameName(e.object, nounText(later.np)));
    if (later !== undefined && !done) return null;
  }
  return one;
}

export const fastenerVerb = (verb: string, particles: ReadonlySet<string>) =>
  /^(?:unscrew|undo|remove|loosen|unfasten|unbolt|extract)$/.test(verb) ||
  (/^(?:screw|take|get|come|go|pull|lift|zip|spin|back|turn|wind|drop|bring|pop|whip|twist)$/.test(verb) &&
    [...particles].some((one) => /^(?:out|off|away|loose|free|undone)$/.test(one)));

export function unscrew(
  state: State,
  clause: Clause,
  args: Arguments,
  index: number,
  np: NounPhrase,
  base: Partial<Work>,
): void {
  const pending =
    state.pending !== null && !state.pending.used && index - state.pending.clause <= WAITS ? state.pending : null;
  if (!isFastener(np)) {
    // "I unscrew it": the part itself is named; the screws were counted before, or are not counted.
    const count =
      pending?.holder !== null && pending?.holder !== undefined && nounText(pending.holder) === nounText(np)
        ? pending.count
        : (withScrews(args) ?? null);
    if (pending !== null && count !== null) pending.used = true;
    emit(state, clause, index, { ...base, action: "unscrew", object: objectText(state, np), np, count });
    return;
  }
  const spoken = args.phrases.find(
    ({ prep, thing }) => /^(?:for|from|on|of|in|out of|at)$/.test(prep) && thing.kind === "pronoun",
  )?.thing;
  const place =
    np.owner === null
      ? (holderIn(args) ?? (spoken?.kind === "pronoun" ? referent(state, spoken.w, index) : null))
      : null;
  const rim =
    place?.classes[0] === "side" &&
    /^(?:edge|rim|perimeter|border|outside|middle|side|corner)s?$/.test(place.head) &&
    place.of === null &&
    state.topic?.classes[0] === "part" &&
    index - state.topicClause <= 2 &&
    state.topicClause >= state.lastActionClause
      ? state.topic
      : null;
  const holder =
    np.of ??
    rim ??
    (place?.classes[0] === "side" && (place.each || /^(?:this|that|one|either|both)$/.test(place.det ?? ""))
      ? null
      : place) ??
    (np.owner === null ? (pending?.holder ?? null) : null);
  // "One standoff came out too": of what the screws were just taken out of.
  const beside =
    holder === null &&
    np.owner === null &&
    (/^(?:standoff|nut|washer|spacer)$/.test(np.head) || / (?:too|also|as well) /.test(clauseWords(state, clause)))
      ? (state.entries.slice(-3).findLast((one) => one.action === "unscrew" && index - one.clause <= 3)?.np ?? null)
      : null;
  const definite =
    np.det === "the" || np.det === "these" || np.det === "those" || np.det === "its" || np.count === null || np.every;
  // "Three screws and one standoff. Take out the screws. Take out the standoff."
  const kind = np.count === null ? pending?.np.mix?.filter((one) => one.head === np.head) : undefined;
  const some = kind !== undefined && kind.length > 0 && kind.length < pending!.np.mix!.length;
  const count = some
    ? kind.reduce((sum, one) => sum + one.count, 0)
    : np.each
      ? (pending?.count ?? null)
      : (countOf(np) ?? (definite ? (pending?.count ?? null) : null));
  if (some) {
    pending!.np = { ...pending!.np, mix: pending!.np.mix!.filter((one) => one.head !== np.head) };
    pending!.count = pending!.np.mix!.reduce((sum, one) => sum + one.count, 0);
    pending!.used = pending!.np.mix!.length === 0;
  } else if (pending !== null) pending.used = true;
  // Right after its plug was opened, the part is meant.
  const unplugged =
    holder === null && np.owner === null && state.lastAction === "unplug" && state.lastActionClause === index - 1
      ? (state.lastObjects.at(-1) ?? null)
      : null;
  const holderPhrase =
    beside !== null && !isFastener(beside)
      ? beside
      : holder === null && np.owner === null && severalPlugs(state, index)
        ? state.topic
        : unplugged?.classes.includes("part") === true
          ? unplugged
          : holder === null
            ? null
            : completed(state, holder);
  const entry = emit(state, clause, index, {
    ...base,
    action: "unscrew",
    object: objectText(state, np, holderPhrase),
    np: holderPhrase ?? np,
    count: count === null ? null : (countedAgain(state, clause, count) ?? count),
    tool: base.tool ?? args.tool,
    // "There are two more screws in it, which I undo."
    ...(clause.lead[0] === "which" && pending !== null ? { at: pending.at } : {}),
  });
  if (holderPhrase !== null) mention(state, holderPhrase, index, true);
  else if (np.owner !== null) mention(state, simplePhrase(np.owner, ["part"]), index, true);
  if (
    holderPhrase === null &&
    np.owner === null &&
    (state.tokens[clause.j]?.w === "and" || clause.lead.some((w) => w === "after" || w === "once" || w === "when"))
  )
    entry.loose = true;
}

/** "Two on each, eight in all", "three here and three there, six": the number of all of them, said in the same breath. */
function countedAgain(state: State, clause: Clause, first: number): number | null {
  const words = clauseWords(state, clause);
  const rest = clause.elements.flatMap((one) =>
    one.kind === "number" ? [one.value] : one.kind === "pronoun" && one.count !== null ? [one.count] : [],
  );
  const whole = rest.filter((one) => Number.isInteger(one) && one > 0);
  // "Six screws, or rather five, are now taken out."
  if (/ (?:or rather|rather|i mean|make that|sorry) /.test(words) && whole.length > 0) return whole.at(-1)!;
  if (/ (?:in all|altogether|in total|total|together|therefore|so) /.test(words))
    return whole.find((one) => one > first) ?? null;
  if (
    / (?:here|left|top|side) (?:and |plus )?\w+ (?:more )?(?:there|right|bottom|other|on the other|over there) /.test(
      words,
    ) &&
    whole.length === 1
  )
    return first + whole[0]!;
  return null;
}

/** "Logic board. Dock flex off, button flex off, four screws": those of the board. */
const severalPlugs = (state: State, index: number) =>
  state.topic?.classes.includes("part") === true &&
  index - state.topicClause <= 8 &&
  (state.lastPlug || state.topic.role === "board") &&
  state.lastAction === "unplug" &&
  state.entries.slice(-8).filter((one) => one.action === "unplug" && one.clause > state.topicClause).length >= 2;

/** "Is unscrewed in the same way, with three screws." */
function withScrews(args: Arguments): number | null {
  const by = args.phrases.find(({ prep, thing }) => prep === "with" && thing.kind === "noun" && isFastener(thing.np));
  return by?.thing.kind === "noun" ? by.thing.np.count : null;
}

export function holderIn(args: Arguments): NounPhrase | null {
  const order = [
    "out of",
    "from",
    "holding",
    "of",
    "on",
    "in",
    "off",
    "at",
    "for",
    "around",
    "round",
    "along",
    "across",
    "through",
    "under",
    "into",
    "near",
    "beside",
    "to",
  ];
  for (const prep of order)
    for (const one of args.phrases)
      if (
        one.prep === prep &&
        one.thing.kind === "noun" &&
        (workable(one.thing.np) || one.thing.np.classes.includes("holder")) &&
        !isTool(one.thing.np)
      )
        return one.thing.np;
  return null;
}

/** Screws counted without being taken out yet. */
export function noteScrews(
  state: State,
  clause: Clause,
  args: Arguments,
  index: number,
  np: NounPhrase,
  nouns: readonly (Thing & { kind: "noun" })[],
): void {
  if (np.count === null && /^(?:a|an|another)$/.test(np.det ?? "") && !np.plural) {
    noteScrews(state, clause, args, index, { ...np, count: 1 }, nouns);
    return;
  }
  if (np.earlier || np.count === null || np.count === 0 || np.head === "washer") return;
  // "I unscrewed the reader, which was held by one screw": the count of what was told.
  const told = state.entries.at(-1);
  if (told?.action === "unscrew" && told.count === undefined && index - told.clause === 1 && clause.before === 1) {
    told.count = np.count;
    return;
  }
  // "Three screws: two Phillips and one standoff": the same ones, told apart.
  const before = state.pending;
  // "Every speaker has two screws, so together eight."
  if (
    before !== null &&
    !before.used &&
    before.count !== null &&
    index - before.clause <= 2 &&
    np.count > before.count &&
    np.count % before.count === 0 &&
    np.count < 40 &&
    / (?:together|altogether|in all|in total|all in all|makes|that is) /.test(clauseWords(state, clause))
  ) {
    before.count = np.count;
    return;
  }
  if (
    before !== null &&
    !before.used &&
    before.clause === index - 1 &&
    clause.before === 1 &&
    (clause.group === null || / of (?:them|those|these) (?:is|are) /.test(clauseWords(state, clause))) &&
    before.count !== null &&
    np.count < before.count &&
    nouns.every((one) => isFastener(one.np) || one.np.classes.includes("drive"))
  )
    return;
  const words = clauseWords(state, clause);
  const held1 = clause.group?.sort === "hold" || / each /.test(words);
  if (!held1 && / (?:total|in all|altogether|all together|count|counted|makes) /.test(words)) return;
  if (
    clause.group?.base === "be" &&
    np.count === 1 &&
    args.subjects.some((one) => one.kind === "noun" && isFastener(one.np)) &&
    !/ there is /.test(words)
  )
    return;
  // "It has one screw and two cables": what else it has does not hold it.
  const named =
    clause.group === null || clause.group.sort === "hold" || clause.group.base === "be"
      ? nouns
      : nouns.filter((one) => args.subjects.includes(one));
  // "One screw plus a spring contact": what else is there does not hold it.
  const beside = clause.elements.findIndex((one) => one.kind === "noun" && one.np === np);
  const link = clause.elements[beside + 1];
  const listed = clause.group === null && link?.kind === "word" && /^(?:and|plus)$/.test(link.w) && clause.before >= 1;
  const subject = listed
    ? null
    : ((nouns.length === 1 && nouns[0]!.np.classes.includes("part") ? nouns[0]!.np : null) ??
      named.find((one) => !isFastener(one.np) && workable(one.np) && one.np.classes[0] !== "device")?.np ??
      null);
  const spoken = /^(?:it|they|this|that)$/.test(args.subjectPronoun ?? "")
    ? referent(state, args.subjectPronoun!, index)
    : null;
  const at1 = np.owner === null || np.each ? holderIn(args) : null;
  // "Two screws under the label": the label holds nothing.
  const covers =
    at1 !== null &&
    args.phrases.some(
      ({ prep, thing }) =>
        /^(?:under|underneath|beneath|behind|below)$/.test(prep) && thing.kind === "noun" && thing.np === at1,
    ) &&
    (at1.unknown || at1.classes[0] === "film" || clause.group?.passive === true);
  const where = covers ? null : at1;
  const onEach = where !== null && where.classes[0] === "side" && (where.each || where.every);
  // "The board has seven screws around the edge": those of the board.
  const rim = where?.classes[0] === "side" && subject?.classes.includes("part") === true;
  const held =
    np.of ??
    (onEach || rim ? null : where) ??
    (state.place !== null && state.place.clause === index - 1 && clause.before === 1 ? state.place.np : null);
  const cleared = severalPlugs(state, index);
  // What was just worked on, or what was named since.
  const worked =
    state.lastActionClause > state.topicClause &&
    index - state.lastActionClause <= 2 &&
    state.lastAction !== "lift" &&
    state.lastAction !== "unscrew" &&
    !cleared
      ? (state.lastObjects.at(-1) ?? null)
      : null;
  const topic =
    worked !== null && !worked.classes.includes("side") && !worked.classes.includes("glue")
      ? worked
      : state.topic !== null && index - state.topicClause <= (cleared ? 8 : 6)
        ? state.topic
        : null;
  const holder = held ?? subject ?? (np.owner === null ? (spoken ?? topic) : null);
  const whole = holder === null ? null : completed(state, holder);
  // "Two screws each, four in total".
  const numbers = clause.elements.flatMap((one) =>
    one.kind === "number" ? [one.value] : one.kind === "pronoun" && one.count !== null ? [one.count] : [],
  );
  const all = / (?:total|all|altogether) /.test(words)
    ? numbers.find((one) => Number.isInteger(one) && one > np.count!)
    : undefined;
  // "… has four screws. And one stand-off at the top": counted together where both hold the same.
  const first = state.pending;
  if (
    first !== null &&
    !first.used &&
    first.count !== null &&
    index - first.clause <= 5 &&
    (clause.lead.includes("and") || clause.lead.includes("plus") || / (?:another|also) /.test(words)) &&
    first.holder !== null &&
    (whole === null || sameName(nounText(whole), nounText(first.holder)) || whole.classes[0] === "side")
  ) {
    first.count += np.count;
    return;
  }
  const more =
    state.pending !== null && !state.pending.used && index - state.pending.clause <= 1 && / more /.test(words);
  if (more) return;
  state.pending = {
    np,
    count: all ?? np.count,
    holder: whole,
    topical: held === null && (subject !== null || topic !== null),
    at: state.tokens[clause.i]!.at,
    clause: index,
    text: clauseText(state, clause),
    used: false,
  };
  if (whole !== null) mention(state, whole, index, true);
  // "Three screws from the buzzer.": they come out of it.
  const out = clause.group === null && args.phrases.some(({ prep }) => /^(?:from|out of)$/.test(prep));
  if (out && whole?.classes.includes("part") === true) {
    const { at, text, count } = state.pending;
    state.pending.used = true;
    emit(state, clause, index, { action: "unscrew", object: nounText(whole), np: whole, count, at, text });
  }
}

const NTH = "zeroth first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth".split(
  " ",
);

/** The next words: who counts again says so after the number as well. */
const following = (state: State, clause: Clause) =>
  clause.after === 1
    ? `${state.tokens
        .slice(clause.j, clause.j + 3)
        .map((one) => one.w)
        .join(" ")} `
    : "";

/** "That's six", "four in all", ", four": the number of all the screws, after the number on each side. */
export function restateCount(state: State, clause: Clause, args: Arguments, index: number): void {
  // "Four screws out, and the fifth one is hiding."
  const nth = NTH.indexOf(/ the (\w+) (?:one|screw) /.exec(clauseWords(state, clause))?.[1] ?? "");
  const there = / (?:hiding|hides|hidden|under|beneath|behind|too|also|as well|out|here|there|sits|down) /.test(
    `${clauseWords(state, clause)}${state.tokens
      .slice(clause.j, clause.j + 3)
      .map((one) => one.w)
      .join(" ")} `,
  );
  if (nth > 1 && there && state.takeBack < index - 2) {
    const open = state.pending !== null && !state.pending.used ? state.pending : undefined;
    const done = state.entries.slice(-3).findLast((one) => one.action === "unscrew" && index - one.clause <= 3);
    for (const one of [open, done]) if (one?.count === nth - 1) one.count = nth;
    return;
  }
  const numbers = clause.elements.filter(
    (one) => one.kind === "number" || (one.kind === "pronoun" && one.count !== null),
  );
  if (
    numbers.length !== 1 ||
    args.quantities.length > 0 ||
    args.subjects.some((one) => one.kind === "noun" && !one.np.unknown && one.np.head !== "total")
  )
    return;
  const one = numbers[0]!;
  const value = one.kind === "number" ? one.value : one.kind === "pronoun" ? one.count : null;
  if (value === null || !Number.isInteger(value) || value < 1) return;
  const extra = clause.elements.some(
    (el) =>
      (el.kind === "noun" && !/^(?:total|all)$/.test(el.np.head)) ||
      (el.kind === "group" && el.base !== "be" && el.base !== "make"),
  );
  if (extra) return;
  const pending = state.pending;
  const words = clauseWords(state, clause);
  // "Six round the frame and two under the slot, so that's eight."
  const sum =
    clause.lead.includes("so") &&
    clause.group?.base === "be" &&
    value > (pending?.count ?? 99) &&
    value <= 4 * (pending?.count ?? 0);
  // "Five screws this side, five on the other."
  if (
    pending !== null &&
    !pending.used &&
    index - pending.clause === 1 &&
    clause.before === 1 &&
    clause.group === null &&
    pending.count !== null &&
    / (?:this side|here|left|top|one side|upper)\b/i.test(` ${pending.text}`) &&
    / (?:other|other side|there|that side|right|bottom|lower) $/.test(words)
  ) {
    pending.count += value;
    return;
  }
  // "I count eight", "eight, you're right", "so five total".
  if (
    (sum ||
      / (?:count|counted|counts|right|total|altogether|actually|all) /.test(`${words}${following(state, clause)}`)) &&
    pending !== null &&
    !pending.used &&
    index - pending.clause <= 2 &&
    pending.count !== null &&
    value >= pending.count
  ) {
    pending.count = value;
    return;
  }
  // "… the antennas, they sit on the speakers. Two of them."
  if (/ of (?:them|those|these) /.test(words)) {
    const done = state.entries.findLast((entry) => entry.action !== "measure");
    if (done?.count === undefined && done?.np?.plural === true && index - done.clause <= 2) done.count = value;
    else if (state.topic?.plural === true && state.topic.count === null && index - state.topicClause <= 1)
      state.topic = { ...state.topic, count: value };
    return;
  }
  const others = clause.elements.filter(
    (el) => el.kind === "word" && !ADVERBS.has(el.w) && !PARTICLES.has(el.w),
  ).length;
  if (others > 3) return;
  if (
    pending !== null &&
    !pending.used &&
    index - pending.clause <= 2 &&
    pending.count !== null &&
    value > pending.count &&
    value % pending.count === 0
  )
    pending.count = value;
  else {
    const last = state.entries.at(-1);
    if (
      last?.action === "unscrew" &&
      index - last.clause <= 2 &&
      last.count !== undefined &&
      value > last.count &&
      (value % last.count === 0 || / (?:that is|makes) all /.test(words))
    )
      last.count = value;
  }
}
