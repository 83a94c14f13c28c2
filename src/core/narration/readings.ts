/** Figures reported: which quantity it is and what it is a figure of. The value is kept as said. */

import type { Arguments, Thing } from "./arguments.ts";
import type { NounPhrase } from "./chunks.ts";
import type { Clause } from "./clauses.ts";
import type { QuantityName } from "./draft.ts";
import type { Standing } from "./filters.ts";
import { DIMENSIONS } from "./lexicon/index.ts";
import { isNoun } from "./lookup.ts";
import type { SpokenQuantity } from "./numbers.ts";
import { completed, focusOf, isFastener, isTool, nounText, referent, workable } from "./objects.ts";
import { clauseText, clauseWords, mention, type State } from "./state.ts";

/** Words before a figure that make it a limit and no report. */
const LIMITS = new Set([
  "above",
  "below",
  "under",
  "within",
  "than",
  "exceed",
  "until",
  "every",
  "beyond",
  "minus",
  "another",
]);
/** Clauses after heating or wetting in which a time or a temperature belongs to it. */
const NEAR = 3;
/** The same where the figure stands alone: "How long?" "Five minutes." */
const NEAR_ALONE = 7;

export function readReadings(
  state: State,
  clause: Clause,
  args: Arguments,
  stand: Standing,
  index: number,
  taken: ReadonlySet<number>,
): void {
  if (!stand.figures) return;
  const list = args.quantities.filter(({ i }) => !taken.has(i));
  list.forEach(({ q, i }, nth) => {
    if (limit(state, i)) return;
    const next = list[nth + 1]?.i ?? clause.j;
    const quantity = quantityOf(state, clause, q, i, next, nth, index, stand);
    if (quantity === null) return;
    const object = objectOf(state, clause, args, index, quantity, i, stand);
    if (object === null) return;
    const unit = q.bareDegrees && state.fahrenheit ? "degF" : q.unit;
    const led = state.entries.at(-1);
    // "… thick. I look again: …": the same figure told again is one reading.
    const same =
      led !== undefined &&
      led.action === "measure" &&
      led.quantity === quantity &&
      led.value === q.value &&
      led.unit === unit &&
      index - led.clause <= 2;
    if (same) return;
    state.entries.push({
      at: state.tokens[firstToken(state, clause, i)]!.at,
      action: "measure",
      object: object.text,
      np: object.np,
      quantity,
      value: q.value,
      unit,
      text: clauseText(state, clause),
      clause: index,
    });
    if (object.np !== null && quantity !== "temperature" && quantity !== "duration") {
      state.focus = object.np;
      if (!isFastener(object.np) && !object.np.classes.includes("device")) mention(state, object.np, index, true);
    }
    if (quantity !== "duration" && quantity !== "temperature") state.dimension = quantity;
  });
  spread(state, clause, args, index, stand);
  counts(state, clause, args, stand, index);
}

/** "155 by 72 by 8 millimetres": the unit of the last figure is that of all; length, width and thickness, in that order. */
function spread(state: State, clause: Clause, args: Arguments, index: number, stand: Standing): void {
  const order = ["length", "width", "thickness"] as const;
  for (let k = 0; k < clause.elements.length; k += 1) {
    const chain: { value: number; unit: string | null; i: number }[] = [];
    let at = k;
    for (; at < clause.elements.length && chain.length < 3; at += 2) {
      const one = clause.elements[at]!;
      if (one.kind === "number" && !one.fraction) chain.push({ value: one.value, unit: null, i: one.i });
      else if (one.kind === "quantity" && one.q.quantity === null && one.q.unit !== "%")
        chain.push({ value: one.q.value, unit: one.q.unit, i: one.i });
      else break;
      const link = clause.elements[at + 1];
      if (link?.kind !== "word" || !/^(?:by|x|×|times)$/.test(link.w)) break;
    }
    const unit = chain.at(-1)?.unit ?? null;
    if (chain.length < 2 || unit === null) continue;
    chain.forEach(({ value, i }, nth) => {
      const quantity = order[nth]!;
      const object = objectOf(state, clause, args, index, quantity, i, stand);
      if (object === null) return;
      const known = state.entries
        .slice(-8)
        .find((one) => one.clause === index && one.action === "measure" && one.value === value);
      if (known !== undefined) {
        known.quantity = quantity;
        return;
      }
      state.entries.push({
        at: state.tokens[firstToken(state, clause, i)]!.at,
        action: "measure",
        object: object.text,
        np: object.np,
        quantity,
        value,
        unit,
        text: clauseText(state, clause),
        clause: index,
      });
    });
    k = at;
  }
}

/** The phrase begins with the clause; where the figure is far down in it, in the cue before the figure. */
function firstToken(state: State, clause: Clause, i: number): number {
  const { cue } = state.tokens[i]!;
  if (cue - state.tokens[clause.i]!.cue <= 1) return clause.i;
  let at = i;
  while (at > clause.i && state.tokens[at - 1]!.cue >= cue - 1) at -= 1;
  return at;
}

function limit(state: State, i: number): boolean {
  for (let at = i - 1; at >= Math.max(0, i - 3); at -= 1) {
    const w = state.tokens[at]!.w;
    if (LIMITS.has(w)) return !(w === "under" && state.tokens[at - 1]?.w === "just");
    if (w !== "about" && w !== "the" && w !== "a" && w !== "of" && w !== "least" && w !== "around") break;
  }
  const words = `${state.tokens[i - 2]?.w ?? ""} ${state.tokens[i - 1]?.w ?? ""}`;
  return /(?:at most|up to|at least|more than|less than|no more|not more)$/.test(words);
}

function quantityOf(
  state: State,
  clause: Clause,
  q: SpokenQuantity,
  i: number,
  next: number,
  nth: number,
  index: number,
  stand: Standing,
): QuantityName | null {
  const words = clauseWords(state, clause);
  if (q.quantity === "duration") {
    if (state.tokens[endOf(state, i, q)]?.w === "ago" || state.tokens[endOf(state, i, q)]?.w === "later") return null;
    const near = alone(clause) ? NEAR_ALONE : NEAR;
    const waited = index - state.waitClause <= near || index - state.heatClause <= near;
    return waited || / (?:took|takes|take|hold|wait|leave|press|give|soak|cure|heat|warm) /.test(words)
      ? "duration"
      : null;
  }
  if (q.quantity === "temperature") {
    if (!q.bareDegrees) return "temperature";
    const hot =
      index - state.heatClause <= (alone(clause) ? NEAR_ALONE : NEAR) ||
      / (?:thermometer|plate|mat|gun|pad|heat|hot|temperature|warm|set|air|iron|dryer|oven|station) /.test(words);
    return hot && !/ (?:angle|stands|turn|rotate|hinge|opens) /.test(words) ? "temperature" : null;
  }
  if (q.quantity !== null) return q.quantity;
  if (q.unit === "%") return null;
  const end = endOf(state, i, q);
  // "A thickness of 5.9 millimetres".
  const namedBefore = /^(?:of|is|was|at|reads)$/.test(state.tokens[i - 1]?.w ?? "")
    ? DIMENSION_OF.get(state.tokens[i - 2]?.w ?? "")
    : undefined;
  if (namedBefore !== undefined) return namedBefore;
  const after = dimensionIn(state, end, next);
  if (after !== null) return after;
  const tail = state.tokens
    .slice(end, end + 4)
    .map((one) => one.w)
    .join(" ");
  if (/^(?:from )?corner to corner/.test(tail)) return "diagonal";
  const before = dimensionIn(state, nth === 0 ? clause.i : Math.max(clause.i, i - 4), i);
  if (before !== null) return before;
  // "Thickness, 5.4 millimetres".
  const led = state.lastWords.trim().split(" ");
  const across = clause.before === 1 && (led.length <= 2 || /^(?:across|along|over|in|on)$/.test(led[0] ?? ""));
  if (nth === 0 && clause.before >= 1 && (clause.elements[0]?.kind === "quantity" || across) && led.length <= 4) {
    const named = led.map((w) => DIMENSION_OF.get(w)).find((one) => one !== undefined);
    if (named !== undefined) return named;
  }
  if (nth === 0 && clause.before === 1 && alone(clause) && led.length <= 14 && / (?:same|as) /.test(state.lastWords)) {
    const named = led.map((w) => DIMENSION_OF.get(w)).findLast((one) => one !== undefined);
    if (named !== undefined) return named;
  }
  // "On the old one it was 0.7", "I measure 12.9": the dimension just spoken of.
  const last = state.entries.at(-1);
  const recent =
    state.dimension !== null &&
    /^(?:thickness|length|width|height|diameter|diagonal)$/.test(state.dimension) &&
    last !== undefined &&
    index - last.clause <= 3;
  if (
    recent &&
    (stand.earlier ||
      (last.action === "measure" && index - last.clause <= 2 && clause.group?.base === "be") ||
      / (?:measure|measured|was|get|read|comes|caliper|calipers|again|actually) /.test(words) ||
      clause.elements.length <= 2)
  )
    return state.dimension;
  // "19 grams. 1.2 millimetres.": what a caliper reads of a part when nothing else is said is its thickness.
  const told = last !== undefined && last.action === "measure" && index - last.clause <= 1 && last.quantity === "mass";
  const lone =
    alone(clause) ||
    / (?:and|it is|it reads|i get|i read|i measure) $/.test(
      ` ${state.tokens
        .slice(clause.i, i)
        .map((one) => one.w)
        .join(" ")} `,
    );
  return q.unit === "mm" && q.value < 30 && told && lone ? "thickness" : null;
}

const endOf = (_state: State, _i: number, q: SpokenQuantity) => q.end;

const DIMENSION_OF: ReadonlyMap<string, QuantityName> = new Map(
  Object.entries(DIMENSIONS).flatMap(([name, words]) =>
    words.filter((w) => !w.includes(" ")).map((w) => [w, name as QuantityName] as const),
  ),
);

function dimensionIn(state: State, from: number, to: number): QuantityName | null {
  for (let at = from; at < Math.min(to, from + 12); at += 1) {
    const token = state.tokens[at];
    if (token === undefined) break;
    const name = DIMENSION_OF.get(token.w);
    if (name === undefined || token.w === "thin") continue;
    if (token.w === "round" && state.tokens[at + 1]?.w === "the") continue;
    // "6.2 inches across the diagonal."
    if (token.w === "across" && state.tokens[at + 1]?.w === "the") continue;
    // "The long edge": which edge, and no length.
    if (token.stop === 0 && state.tokens[at - 1]?.w === "the" && isNoun(state.tokens[at + 1]?.w ?? "")) continue;
    return name;
  }
  return null;
}

function objectOf(
  state: State,
  clause: Clause,
  args: Arguments,
  index: number,
  quantity: QuantityName,
  i: number,
  stand: Standing,
): { text: string; np: NounPhrase | null } | null {
  const named = (np: NounPhrase) => {
    const whole = completed(state, np);
    const owner = isFastener(whole) ? (whole.of ?? null) : null;
    if (owner !== null) return { text: nounText(owner), np: owner };
    if (isFastener(whole) && whole.owner !== null) return { text: whole.owner, np: whole };
    return { text: nounText(whole), np: whole };
  };
  const nounsBefore = clause.elements.filter((one) => one.kind === "noun" && one.i < i);
  const placeNouns = args.phrases.filter(({ thing }) => thing.kind === "noun");
  if (quantity === "temperature" || quantity === "duration") {
    const heater = clause.elements.find((one) => one.kind === "noun" && one.np.classes.includes("heater"));
    const withHeater = args.phrases.some(
      ({ prep, thing }) =>
        (prep === "with" || prep === "by") && thing.kind === "noun" && thing.np.classes.includes("heater"),
    );
    if (quantity === "temperature" && heater?.kind === "noun" && !withHeater) return named(heater.np);
    // "The mat is warm, it has seventy degrees."
    const plate = state.lastNoun;
    if (
      quantity === "temperature" &&
      args.subjectPronoun === "it" &&
      clause.before <= 1 &&
      plate?.classes.includes("heater") === true
    )
      return named(plate);
    if (quantity === "duration" && / (?:took|takes) /.test(clauseWords(state, clause))) {
      const device = { text: nounText(state.device), np: state.device };
      if (
        /^ (?:so |and )*(?:it )?(?:took|takes) (?:us|me) /.test(clauseWords(state, clause)) &&
        nounsBefore.length === 0 &&
        i > 0.6 * state.tokens.length
      )
        return device;
      const part = nounsBefore.find((one) => one.kind === "noun" && workable(one.np));
      if (part?.kind === "noun") return named(part.np);
      const spoken = state.mentions.findLast((one) => !one.np.classes.includes("device") && !isFastener(one.np))?.np;
      if (spoken !== undefined) return named(spoken);
    }
    const last = state.entries.findLast((one) => one.action !== "measure");
    if (last !== undefined && index - last.clause <= (alone(clause) ? NEAR_ALONE : NEAR + 1))
      return { text: last.object, np: last.np };
    if (heater?.kind === "noun") return named(heater.np);
    const subject = nounsBefore.find((one) => one.kind === "noun" && workable(one.np));
    if (subject?.kind === "noun") return named(subject.np);
    return state.focus === null ? null : named(state.focus);
  }
  if (quantity === "voltage" && state.lastAction === "debond" && index - state.lastActionClause <= 1) {
    const at = placeNouns.find(({ prep }) => /^(?:across|to|on|over|between|onto|into)$/.test(prep));
    if (at?.thing.kind === "noun") return named(at.thing.np);
  }
  // "Put the meter across the cell. 7.62 volts": said of the cell, whatever else was in hand.
  const cells = /^(?:voltage|capacity|energy)$/.test(quantity);
  const cell = (np: NounPhrase) => np.role === "battery" || /\b(?:battery|cell|pack)$/.test(nounText(np).toLowerCase());
  if (cells) {
    const said = [...args.subjects, ...args.objects, ...args.phrases.map(({ thing }) => thing)].find(
      (one): one is Extract<typeof one, { kind: "noun" }> => one.kind === "noun" && cell(one.np) && !one.np.earlier,
    );
    if (said !== undefined) return named(said.np);
    const spoken = state.mentions.findLast((one) => index - one.clause <= 24 && cell(one.np) && !one.np.earlier);
    const other = args.subjects.some(
      (one) => one.kind === "noun" && (workable(one.np) || one.np.elided) && !isGauge(one.np),
    );
    if (spoken !== undefined && !other && (state.focus === null || !cell(state.focus))) return named(spoken.np);
  }
  const corners = / corner to corner /.test(clauseWords(state, clause));
  const fits = (np: NounPhrase) =>
    !(corners && np.head === "corner") &&
    (workable(np) || isFastener(np) || np.classes.includes("cutter") || np.classes.includes("drive")) &&
    !isGauge(np) &&
    !np.classes.includes("abstract");
  // "That leaves the bare frame, which is 74 grams."
  if (clause.lead[0] === "which" && clause.before <= 1 && state.lastNoun !== null && fits(state.lastNoun))
    return named(state.lastNoun);
  // The subject: names before the figure that no preposition leads.
  const subjects = args.subjects.filter(
    (one): one is Thing & { kind: "noun" } =>
      one.kind === "noun" && one.i < i && fits(one.np) && !(one.np.classes[0] === "side" && args.subjects.length > 1),
  );
  const subject = subjects.find((one) => !one.np.unknown) ?? subjects[0];
  const measuring = args.subjects.find((one) => one.kind === "noun" && one.np.classes.includes("quantity"));
  if (measuring?.kind === "noun") {
    if (measuring.np.of !== null && fits(measuring.np.of)) return named(measuring.np.of);
    if (measuring.np.owner !== null && measuring.np.owner !== "") return { text: measuring.np.owner, np: null };
  }
  // "On the battery is written 8000 milliamp hours".
  const bears = placeNouns.find(
    ({ prep, thing }) => prep === "on" && thing.kind === "noun" && thing.i < i && thing.np.classes.includes("part"),
  )?.thing;
  if (
    bears?.kind === "noun" &&
    / (?:written|printed|marked|stamped|stands|says|reads) /.test(clauseWords(state, clause))
  )
    return named(bears.np);
  if (subject?.kind === "noun" && !subject.np.classes.includes("quantity")) {
    if (subject.np.earlier && state.focus !== null && subject.np.classes.includes("device"))
      return earlierFocus(state, subject.np);
    if (/^(?:label|sticker|print|printing|marking|writing|text|rating)$/.test(subject.np.head) && state.focus !== null)
      return named(state.focus);
    return named(subject.np);
  }
  const object = args.objects.find((one) => one.kind === "noun" && one.i < i && fits(one.np) && !isTool(one.np));
  if (object?.kind === "noun" && !(object.np.classes.includes("film") && /^(?:label|sticker)$/.test(object.np.head)))
    return named(object.np);
  if (stand.earlier) {
    const other = args.phrases.find(({ thing }) => thing.kind === "noun" && thing.np.earlier)?.thing;
    if (state.focus !== null) return earlierFocus(state, other?.kind === "noun" ? other.np : null);
  }
  const forPart = placeNouns.find(
    ({ prep, thing }) => prep === "for" && thing.kind === "noun" && fits(thing.np) && thing.i > i,
  );
  if (forPart?.thing.kind === "noun") return named(forPart.thing.np);
  if (whole(state, quantity)) return { text: nounText(state.device), np: state.device };
  if (
    args.subjectPronoun === "it" ||
    args.subjectPronoun === "this" ||
    args.subjectPronoun === "that" ||
    args.subjectPronoun === "they"
  ) {
    const focus = focusOf(state);
    if (focus !== null) return named(focus);
    const np = referent(state, "it", index);
    if (np !== null) return named(np);
  }
  const passive = args.phrases.find(
    ({ prep, thing }) => prep === "of" && thing.kind === "noun" && fits(thing.np) && !MATERIAL.test(thing.np.head),
  );
  if (passive?.thing.kind === "noun") return named(passive.thing.np);
  const focus = focusOf(state);
  if (focus !== null) return named(focus);
  return { text: nounText(state.device), np: state.device };
}

/** "74 grams of aluminium": what it is made of, and no part. */
const MATERIAL =
  /^(?:aluminium|aluminum|magnesium|steel|titanium|copper|brass|plastic|glass|rubber|metal|ceramic|kit|stuff|tech|engineering)$/;

/** Nothing said but figures. */
const alone = (clause: Clause) =>
  clause.elements.every(
    (one) => one.kind === "quantity" || one.kind === "word" || (one.kind === "noun" && isGauge(one.np)),
  );

const isGauge = (np: NounPhrase) =>
  np.classes.includes("gauge") || np.classes.includes("place") || np.classes[0] === "quantity";

/** Before anything but the tray is off, a weight or a size that names nothing is that of the device. */
function whole(state: State, quantity: QuantityName): boolean {
  if (!/^(?:mass|thickness|length|width|height|diagonal)$/.test(quantity)) return false;
  if (state.entries.length > 12) return false;
  return state.entries.every(
    (one) =>
      (one.action === "measure" && (one.np === null || one.np.classes.includes("device"))) ||
      (one.action === "lift" && /(?:tray|card|stylus|pen|case|loop|strap|sleeve)$/i.test(one.object)),
  );
}

function earlierFocus(state: State, other: NounPhrase | null): { text: string; np: NounPhrase | null } {
  const focus = state.focus!;
  if (focus.classes.includes("device")) return { text: `earlier ${nounText(state.device)}`, np: null };
  return {
    text: `${nounText(focus)} on the ${other === null || other.text === "" ? "earlier device" : nounText(other)}`,
    np: null,
  };
}

/** "44 screws in the Sliver 6", "I count 49 screws", "there are 18 magnets". */
function counts(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): void {
  if (stand.negated) return;
  const words = clauseWords(state, clause);
  const before = index > 0 ? state.lastWords : "";
  if (countAnswered(state, clause, args, stand, index, words, before) || stand.earlier) return;
  const total =
    / (?:total|in all|all in|altogether|all together|overall|count|counted|counts|makes|make|made|together) /.test(
      words,
    ) ||
    / there (?:are|is) .* in (?:my|the) (?:cup|tray|box|pot|dish|bowl|tin) /.test(words) ||
    / (?:in|into) (?:my|the|this|that) (?:cup|tray|box|pot|dish|bowl|tin) (?:are|is|lie|sit) /.test(words) ||
    (/ (?:total|altogether|together) $/.test(before) && args.objects.length + args.subjects.length > 0) ||
    args.phrases.some(
      ({ prep, thing }) =>
        /^(?:in|on)$/.test(prep) && thing.kind === "noun" && thing.np.classes.includes("device") && !thing.np.earlier,
    );
  for (const one of clause.elements) {
    if (one.kind !== "noun" || one.np.count === null || one.np.count < 1 || one.np.earlier) continue;
    const np = one.np;
    const number = one.np.count;
    // "The shield is unscrewed, and I count seven screws": those of the shield.
    const told = state.entries.at(-1);
    if (isFastener(np) && told?.action === "unscrew" && index - told.clause <= 1 && (told.count ?? number) === number) {
      told.count ??= number;
      continue;
    }
    const holds = clause.group?.sort === "hold" && !/ (?:altogether|in all|in total) /.test(words);
    if (isFastener(np) && (holds || / each /.test(words))) continue;
    const screws = isFastener(np);
    // "Every speaker has two screws, so together eight": those still to be taken out.
    const open = state.pending;
    if (
      screws &&
      open !== null &&
      !open.used &&
      open.count === number &&
      index - open.clause <= 2 &&
      index > open.clause
    ) {
      continue;
    }
    const held = args.phrases.some(
      ({ thing }) => thing.kind === "noun" && workable(thing.np) && !thing.np.classes.includes("device"),
    );
    const ours =
      screws &&
      number >= 10 &&
      !held &&
      clause.group?.base === "have" &&
      /^(?:i|we|you|it|that|this)$/.test(args.subjectPronoun ?? "") &&
      nearEnd(state, clause);
    const bare =
      !state.wayBack &&
      screws &&
      clause.elements.filter((el) => el.kind !== "word").length === 1 &&
      number >= 10 &&
      !(state.topic?.classes.includes("part") === true && index - state.topicClause <= 2) &&
      nearEnd(state, clause);
    const counted = screws
      ? (total || bare || ours) && number >= 2
      : / there (?:is|are) /.test(words) &&
        number >= 3 &&
        /^(?:magnet|microphone|sensor|contact|led|rivet|bead|vent|hole|rib)$/.test(np.head);
    if (!counted) continue;
    if (screws && np.of !== null && !np.of.classes.includes("device")) continue;
    if (state.pending !== null && state.pending.clause === index) state.pending = null;
    state.entries.push({
      at: state.tokens[clause.i]!.at,
      action: "measure",
      object: np.text || "screws",
      np,
      quantity: "count",
      value: number,
      unit: "1",
      text: clauseText(state, clause),
      clause: index,
    });
    state.focus = np;
  }
}

/** "Total screws?" "Twenty three. The Nine had thirty.": bare numbers after a question, and for the earlier device. */
function countAnswered(
  state: State,
  clause: Clause,
  args: Arguments,
  stand: Standing,
  index: number,
  words: string,
  before: string,
): boolean {
  const numbers = clause.elements.filter(
    (one) => one.kind === "number" || (one.kind === "pronoun" && one.count !== null),
  );
  const one = numbers[0];
  const screws = clause.elements.find(
    (el) => el.kind === "noun" && isFastener(el.np) && el.np.count !== null && el.np.count >= 5,
  );
  const asked =
    / (?:how many|total|altogether|in all|count|counted) /.test(before) &&
    / (?:screws|screw|fasteners|pieces) /.test(before);
  const last = state.entries.at(-1);
  const has =
    stand.earlier &&
    last?.quantity === "count" &&
    index - last.clause <= 3 &&
    (clause.group?.base === "have" || clause.lead.some((w) => /^(?:against|versus)$/.test(w)));
  // "Total fasteners 47".
  const told = clause.elements.findIndex((el) => el.kind === "noun" && isFastener(el.np) && el.np.count === null);
  const number = clause.elements[told + 1];
  const headed = told >= 0 && number?.kind === "number" && / (?:total|count) /.test(words);
  const value =
    numbers.length === 1 && one?.kind === "number"
      ? one.value
      : numbers.length === 1 && one?.kind === "pronoun"
        ? one.count
        : screws?.kind === "noun" && has
          ? screws.np.count
          : null;
  if (
    value === null ||
    !Number.isInteger(value) ||
    value < 2 ||
    args.quantities.length > 0 ||
    !(asked || has || headed)
  )
    return false;
  if (/ (?:more|fewer|less|than) /.test(words)) return false;
  state.entries.push({
    at: state.tokens[clause.i]!.at,
    action: "measure",
    object: has
      ? "screws on the earlier device"
      : headed
        ? nounText((clause.elements[told] as { np: NounPhrase }).np).replace(/^total /i, "")
        : "screws",
    np: null,
    quantity: "count",
    value,
    unit: "1",
    text: clauseText(state, clause),
    clause: index,
  });
  return true;
}

/** In the last tenth of the talk a bare "29 screws." is the count of all of them. */
const nearEnd = (state: State, clause: Clause) => clause.i > 0.85 * state.tokens.length;
