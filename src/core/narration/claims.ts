/**
 * Comparisons: "1.9 millimetres thinner than the Sliver 5", "half as big as", "the same as", "the thinnest I ever had".
 * Read from the words of a clause; the figures of a comparison are no readings.
 */

import type { Arguments } from "./arguments.ts";
import type { Clause } from "./clauses.ts";
import type { Band, Relation } from "./draft.ts";
import type { Standing } from "./filters.ts";
import { SUBJECTS } from "./lexicon/index.ts";
import { numberAt, quantityAt } from "./numbers.ts";
import { completed, focusOf, isFastener, isTool, nounText, workable } from "./objects.ts";
import { clauseText, clauseWords, type State } from "./state.ts";

const COMPARATIVES: Readonly<Record<string, Relation>> = {
  lighter: "lighter",
  heavier: "heavier",
  thinner: "thinner",
  slimmer: "thinner",
  flatter: "thinner",
  thicker: "thicker",
  fatter: "thicker",
  deeper: "thicker",
  smaller: "smaller",
  tinier: "smaller",
  narrower: "smaller",
  larger: "larger",
  bigger: "larger",
  wider: "larger",
  taller: "larger",
  shorter: "shorter",
  longer: "longer",
  more: "more",
  fewer: "fewer",
  less: "fewer",
};
/** "More light": how those say it whose own language compares with a word. */
const PLAIN: Readonly<Record<string, [Relation, Relation]>> = {
  light: ["lighter", "heavier"],
  heavy: ["heavier", "lighter"],
  thin: ["thinner", "thicker"],
  slim: ["thinner", "thicker"],
  thick: ["thicker", "thinner"],
  small: ["smaller", "larger"],
  big: ["larger", "smaller"],
  large: ["larger", "smaller"],
  long: ["longer", "shorter"],
  short: ["shorter", "longer"],
  wide: ["larger", "smaller"],
};
const SUPERLATIVE =
  /^(?:tallest|deepest|narrowest|flattest|stiffest|thinnest|thickest|lightest|heaviest|smallest|biggest|largest|longest|shortest|slimmest|widest|fewest|tiniest|strongest)$/;
const SCOPE = /^(?:ever|have|had|has|seen|opened|any|all|yet|bench|year|far|world|them|these|in|of|on)$/;
const BY_MASS: Readonly<Partial<Record<Relation, Relation>>> = { more: "heavier", fewer: "lighter" };
const BY_LENGTH: Readonly<Partial<Record<Relation, Relation>>> = { more: "thicker", fewer: "thinner" };

interface Found {
  readonly relation: Relation;
  readonly at: number;
  readonly end: number;
  readonly value?: number;
  readonly unit?: string;
  readonly taken: readonly number[];
}

/** Reads the claims of a clause; returns the first tokens of the figures that belong to them. */
export function readClaims(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): Set<number> {
  const taken = new Set<number>();
  if (stand.conditional || !stand.figures) return taken;
  // "It is thinner than the old one, half a millimetre."
  const open = state.claims.at(-1);
  const only = args.quantities[0];
  if (
    open !== undefined &&
    open.clause === index - 1 &&
    open.value === undefined &&
    /^(?:lighter|heavier|thinner|thicker|larger|smaller|longer|shorter)$/.test(open.relation) &&
    only !== undefined &&
    clause.before === 1 &&
    clause.elements.every(
      (one) => one.kind === "quantity" || (one.kind === "word" && /^(?:by|about|almost|just|only|maybe)$/.test(one.w)),
    ) &&
    (/^(?:lighter|heavier)$/.test(open.relation) ? MASS : LENGTH).test(only.q.unit)
  ) {
    state.claims[state.claims.length - 1] = { ...open, value: only.q.value, unit: only.q.unit };
    taken.add(only.i);
    return taken;
  }
  for (const found of findAll(state, clause)) {
    for (const one of found.taken) taken.add(one);
    if (stand.negated || !unitFits(found)) continue;
    const subject = subjectOf(state, clause, args, found, stand);
    if (subject === null) continue;
    const than = thanOf(state, clause, found);
    if (!strong(state, clause, args, found, than)) continue;
    const band = bandOf(state, found);
    state.claims.push({
      at: state.tokens[start(state, clause, found)]!.at,
      subject,
      relation: found.relation,
      ...(found.value === undefined ? {} : { value: found.value, unit: found.unit! }),
      ...(found.relation === "fraction" && band !== null ? { band } : {}),
      ...(than === null ? {} : { than }),
      text: clauseText(state, clause),
      clause: index,
    });
  }
  return taken;
}

function start(state: State, clause: Clause, found: Found): number {
  const first = Math.min(found.at, ...found.taken);
  return state.tokens[first]!.cue - state.tokens[clause.i]!.cue > 1 ? first : clause.i;
}

function findAll(state: State, clause: Clause): Found[] {
  const out: Found[] = [];
  const { tokens } = state;
  for (let at = clause.i; at < clause.j; at += 1) {
    const w = tokens[at]!.w;
    const next = tokens[at + 1]?.w ?? "";
    const before = tokens[at - 1]?.w ?? "";
    if (
      before === "no" ||
      before === "any" ||
      before === "not" ||
      (w === "more" && (before === "once" || before === "one" || next === "or" || (before === "two" && next === "for")))
    )
      continue;
    if ((w === "more" || w === "less") && PLAIN[next] !== undefined) {
      out.push(figure(state, clause, at, at + 2, PLAIN[next]![w === "more" ? 0 : 1]));
      at += 1;
      continue;
    }
    // "So we lost 8 grams".
    if (/^(?:lost|saved|shaved|gained)$/.test(w)) {
      const q = quantityAt(tokens, next === "off" || next === "about" || next === "almost" ? at + 2 : at + 1);
      if (q !== null && (MASS.test(q.unit) || LENGTH.test(q.unit))) {
        const more = w === "gained";
        const relation: Relation = MASS.test(q.unit) ? (more ? "heavier" : "lighter") : more ? "thicker" : "thinner";
        const i = next === "off" || next === "about" || next === "almost" ? at + 2 : at + 1;
        out.push({ relation, at, end: q.end, value: q.value, unit: q.unit, taken: [i] });
        continue;
      }
    }
    // "19 grams down from the Eight", "up 3 grams on last year's".
    if ((w === "down" || w === "up") && /^(?:from|on|against|versus|compared)$/.test(next)) {
      const led = quantityBefore(state, clause, at);
      const than = tokens[at + 2]?.w ?? "";
      if (
        led !== null &&
        (LENGTH.test(led.unit) || MASS.test(led.unit) || /^(?:mAh|Wh)$/.test(led.unit)) &&
        than !== "it"
      ) {
        const more = w === "up";
        const turned: Relation = MASS.test(led.unit)
          ? more
            ? "heavier"
            : "lighter"
          : LENGTH.test(led.unit)
            ? more
              ? "thicker"
              : "thinner"
            : more
              ? "more"
              : "fewer";
        out.push({ relation: turned, at, end: at + 2, value: led.value, unit: led.unit, taken: [led.i] });
        continue;
      }
    }
    // "More than a quarter of": the fraction is the claim.
    if (/^(?:more|less)$/.test(w) && next === "than" && fractionOf(state, clause, at + 2) !== null) continue;
    const relation = COMPARATIVES[w];
    if (relation !== undefined) {
      const found =
        relation === "more" || relation === "fewer"
          ? amount(state, clause, at, relation)
          : figure(state, clause, at, at + 1, relation);
      if (found !== null) out.push(weighing(state, clause, found));
      continue;
    }
    const fraction = fractionOf(state, clause, at);
    if (fraction !== null) {
      out.push(fraction);
      at = fraction.end - 1;
      continue;
    }
    if (w === "as" && PLAIN[next] !== undefined && tokens[at + 2]?.w === "as" && !times(before))
      out.push({ relation: "same", at, end: at + 2, taken: [] });
    if (
      w === "same" &&
      sameHere(state, at) &&
      !out.some((one) => one.relation === "same") &&
      (tokens.slice(at + 1, at + 4).some((one) => /^(?:as|like)$/.test(one.w)) ||
        !(tokens[clause.i]!.w === "they" || tokens[clause.i + 1]?.w === "they"))
    )
      out.push({ relation: "same", at, end: at + 1, taken: [] });
    if (w === "identical" && next === "to") out.push({ relation: "same", at, end: at + 1, taken: [] });
    if (
      SUPERLATIVE.test(w) &&
      tokens.slice(at + 1, Math.min(at + 9, tokens.length)).some((one) => SCOPE.test(one.w)) &&
      superlativeScope(state, at)
    )
      out.push({ relation: "superlative", at, end: at + 1, taken: [] });
  }
  return out;
}

const MASS = /^(?:g|kg|mg)$/;
const LENGTH = /^(?:mm|cm|in)$/;

/** "Six millimetres lighter" says nothing that could be true. */
function unitFits({ relation, unit }: Found): boolean {
  if (unit === undefined || unit === "1" || unit === "%") return true;
  if (relation === "lighter" || relation === "heavier") return MASS.test(unit);
  if (relation === "thinner" || relation === "thicker") return LENGTH.test(unit);
  return true;
}

const times = (w: string) => /^(?:half|twice|times|third|quarter|double)$/.test(w);

function superlativeScope(state: State, at: number): boolean {
  const ahead = state.tokens
    .slice(at + 1, at + 11)
    .map((one) => one.w)
    .join(" ");
  return /\b(?:ever|have seen|had|i've|i have|i opened|of all|in any|of any|on any|yet|so far|this year|of them all|from all|from any|of any|on this bench|in the world|part of|of the lot)\b/.test(
    ahead,
  );
}

function sameHere(state: State, at: number): boolean {
  const { tokens } = state;
  const ahead = tokens.slice(at + 1, at + 4).map((one) => one.w);
  if (
    /^(?:way|time|thing|place|order|tool|screwdriver|driver|plate|story|again|side|screws?|bit|on|with|for|process|procedure|treatment|pick|card|routine|drill|dance|recipe|idea|trick|story)$/.test(
      ahead[0] ?? "",
    )
  )
    return false;
  if (ahead.includes("as") || ahead.includes("like")) return true;
  if (/^(?:all|throughout|each|number)$/.test(ahead[1] ?? "")) return false;
  // "All the same length."
  if (tokens[at - 1]?.w === "the" && /^(?:all|both)$/.test(tokens[at - 2]?.w ?? "")) return false;
  return /^(?:width|height|length|thickness|weight|mass|size|capacity|diameter|diagonal|part)$/.test(ahead[0] ?? "");
}

/** A comparative with the figure before it or after "by". */
function figure(state: State, clause: Clause, at: number, end: number, relation: Relation): Found {
  const { tokens } = state;
  const led = quantityBefore(state, clause, at);
  if (led !== null) return { relation, at, end, value: led.value, unit: led.unit, taken: [led.i] };
  const part = partBefore(state, clause, at);
  if (part !== null) return { relation, at, end, value: part.value, unit: "1", taken: [part.i] };
  for (let k = end; k < Math.min(clause.j, end + 14); k += 1) {
    if (tokens[k]!.w !== "by") continue;
    for (let n = k + 1; n < k + 4 && n < tokens.length; n += 1) {
      const q = quantityAt(tokens, n);
      if (q !== null) return { relation, at, end, value: q.value, unit: q.unit, taken: [n] };
    }
  }
  return { relation, at, end, taken: [] };
}

function quantityBefore(state: State, clause: Clause, at: number): { value: number; unit: string; i: number } | null {
  for (let k = Math.max(clause.i, at - 12); k < at; k += 1) {
    const q = quantityAt(state.tokens, k);
    if (q === null) continue;
    if (q.end <= at && at - q.end <= 1 && (at === q.end || /^(?:or|of|even|just|much)$/.test(state.tokens[q.end]!.w)))
      return { value: q.value, unit: q.unit, i: k };
    k = q.end - 1;
  }
  return null;
}

/** "A third smaller", "twenty percent lighter": a part of the whole, as said. */
function partBefore(state: State, clause: Clause, at: number): { value: number; i: number } | null {
  const { tokens } = state;
  for (let k = Math.max(clause.i, at - 6); k < at; k += 1) {
    const percent = quantityAt(tokens, k);
    if (percent !== null && percent.unit === "%" && percent.end === at) return { value: percent.value / 100, i: k };
    const number = numberAt(tokens, k);
    if (number?.fraction && number.end === at) return { value: number.value, i: k };
    if (number !== null) k = number.end - 1;
  }
  return null;
}

/** "It weighs less than the old one", "19 grams, that is less than the lid": said of a weight, "less" is lighter. */
function weighing<T extends { readonly relation: Relation; readonly unit?: string | undefined }>(
  state: State,
  clause: Clause,
  found: T,
): T {
  if ((found.relation !== "more" && found.relation !== "fewer") || found.unit !== undefined) return found;
  const here = clauseWords(state, clause);
  const noun = clause.elements.some(
    (one) => one.kind === "noun" && /^(?:capacity|energy|screw|battery life)$/.test(one.np.head),
  );
  const weighed =
    / (?:weighs?|weighing|weighed|weight|heavy) /.test(here) ||
    (clause.before === 1 &&
      / (?:that|which|it) is (?:\w+ )?(?:more|less) than /.test(here) &&
      / (?:grams?|g) $/.test(state.lastWords));
  if (!weighed || noun) return found;
  return { ...found, relation: found.relation === "more" ? "heavier" : "lighter" };
}

/** "More" and "fewer" compare only with a figure, or with "than" after a thing. */
function amount(state: State, clause: Clause, at: number, relation: Relation): Found | null {
  const { tokens } = state;
  const led = quantityBefore(state, clause, at);
  const turned = (unit: string): Relation =>
    unit === "g" || unit === "kg" || unit === "mg"
      ? (BY_MASS[relation] ?? relation)
      : unit === "mm" || unit === "cm" || unit === "in"
        ? (BY_LENGTH[relation] ?? relation)
        : relation;
  if (led !== null)
    return { relation: turned(led.unit), at, end: at + 1, value: led.value, unit: led.unit, taken: [led.i] };
  const part = partBefore(state, clause, at);
  if (part !== null && tokens[at + 1]?.w === "than")
    return { relation, at, end: at + 1, value: part.value, unit: "1", taken: [part.i] };
  let number: { value: number; i: number } | null = null;
  for (let k = Math.max(clause.i, at - 6); k < at; k += 1) {
    const hit = numberAt(tokens, k);
    if (hit === null) continue;
    if (hit.end === at && !hit.fraction) {
      number = { value: hit.value, i: k };
      break;
    }
    k = hit.end - 1;
  }
  const than = tokens.slice(at + 1, at + 6).some((one) => one.w === "than");
  if (number !== null) {
    // "410 fewer milliamp hours": the unit after the word.
    const unit = unitAfter(state, number, at);
    if (unit !== null) return { relation: turned(unit), at, end: at + 1, value: number.value, unit, taken: [number.i] };
    const rest = tokens[at + 1]?.w ?? "";
    if (
      !than &&
      relation === "more" &&
      /^(?:screw|screws|in|on|for|from|clip|clips|of|pentalobe|phillips|torx)$/.test(rest)
    )
      return null;
    if (!than && relation === "more" && tokens[at]!.stop === 0) return null;
    if (!than && relation === "more") return null;
    return { relation, at, end: at + 1, value: number.value, unit: "1", taken: [number.i] };
  }
  return than && relation !== "more"
    ? { relation, at, end: at + 1, taken: [] }
    : than && /^(?:capacity|screws|energy|power|glue|than)$/.test(tokens[at + 1]?.w ?? "")
      ? { relation, at, end: at + 1, taken: [] }
      : null;
}

function unitAfter(state: State, number: { value: number; i: number }, at: number): string | null {
  const { tokens } = state;
  // A number and the unit words put side by side, as if they had been said so.
  const near = [{ ...tokens[number.i]!, w: String(number.value), stop: 0 as const }, ...tokens.slice(at + 1, at + 4)];
  return quantityAt(near, 0)?.unit ?? null;
}

/** "Half as big as", "a quarter of the phone's mass", "twice the capacity", "20 percent of". */
function fractionOf(state: State, clause: Clause, at: number): Found | null {
  const { tokens } = state;
  const w = tokens[at]!.w;
  if (w === "twice" || w === "double" || w === "triple") {
    const next = tokens[at + 1]?.w ?? "";
    if (next !== "the" && next !== "as") return null;
    return { relation: "fraction", at, end: at + 1, value: w === "triple" ? 3 : 2, unit: "1", taken: [at] };
  }
  const percent = quantityAt(tokens, at);
  if (percent !== null) {
    if (percent.unit === "%" && tokens[percent.end]?.w === "of")
      return { relation: "fraction", at, end: percent.end, value: percent.value / 100, unit: "1", taken: [at] };
    return null;
  }
  const number = numberAt(tokens, at);
  if (number === null || number.end > clause.j) return null;
  const after = tokens[number.end]?.w ?? "";
  if (!number.fraction) {
    if (after === "times" && (tokens[number.end + 1]?.w === "as" || tokens[number.end + 1]?.w === "the"))
      return { relation: "fraction", at, end: number.end + 1, value: number.value, unit: "1", taken: [at] };
    return null;
  }
  const of =
    after === "of" &&
    /^(?:the|its|what|that|all|this|a|an|last|older|old|capacity|mass|weight|size|thickness|volume|energy)$/.test(
      tokens[number.end + 1]?.w ?? "",
    ) &&
    !/^(?:a|an)$/.test(tokens[number.end + 1]?.w ?? "");
  const as =
    after === "as" ||
    (after === "the" &&
      number.value <= 1 &&
      /^(?:size|weight|mass|thickness|capacity|volume|width|height|length)$/.test(tokens[number.end + 1]?.w ?? ""));
  if (!of && !as) return null;
  if (
    of &&
    /^(?:way|screws|time|way|top|bottom|side|sides|left|right|edge|edges|perimeter|glue|adhesive|clips)$/.test(
      tokens[number.end + 2]?.w ?? "",
    )
  )
    return null;
  return { relation: "fraction", at, end: number.end, value: number.value, unit: "1", taken: [at] };
}

function thanOf(state: State, clause: Clause, found: Found): string | null {
  const { tokens } = state;
  const limit = Math.min(tokens.length, Math.max(clause.j, found.end + 1));
  const links =
    found.relation === "same" || found.relation === "fraction"
      ? ["as", "like", "to", "of"]
      : found.relation === "superlative"
        ? ["of", "in", "on"]
        : ["than"];
  for (let at = found.end; at < limit; at += 1) {
    if (!links.includes(tokens[at]!.w)) continue;
    const words: string[] = [];
    for (let k = at + 1; k < Math.min(tokens.length, at + 11); k += 1) {
      const token = tokens[k]!;
      if (/^(?:by|and|so|but|which|because|is|are|was|now|then)$/.test(token.w)) break;
      if (words.length > 0 && SUBJECTS.has(token.w) && found.relation !== "superlative") break;
      if (token.raw !== "") words.push(token.poss ? `${token.raw}'s` : token.raw);
      if (token.stop > 0) break;
    }
    const text = words
      .filter((word, nth) => !(nth === 0 && /^(?:the|a|an)$/i.test(word)) && !(nth === 0 && /^in$/i.test(word)))
      .join(" ");
    return text === "" ? null : text;
  }
  return null;
}

/** A comparative alone is talk; with a figure, a "than" or a part that it is said of, it is a claim. */
function strong(state: State, clause: Clause, args: Arguments, found: Found, than: string | null): boolean {
  if (found.value !== undefined || found.relation === "same" || found.relation === "superlative") return true;
  const word = state.tokens[found.at]!.w;
  if (than !== null) return !/^(?:that|this|it|you|usual|expected|necessary)\b/i.test(than) || /^that of/i.test(than);
  if (/^(?:longer|shorter|more|less|fewer|deeper|flatter)$/.test(word)) return false;
  if (clause.lead.some((w) => /^(?:where|because|which|who)$/.test(w))) return false;
  if (args.subjects.some((one) => one.kind === "noun" && /^(?:glue|film|residue)$/.test(one.np.classes[0] ?? "")))
    return false;
  const be = clause.group?.base === "be";
  return (
    be &&
    args.subjects.some(
      (one) => (one.kind === "noun" && workable(one.np) && !isFastener(one.np)) || one.kind === "pronoun",
    ) &&
    state.tokens[found.at - 1]?.w !== "the"
  );
}

function subjectOf(state: State, clause: Clause, args: Arguments, found: Found, stand: Standing): string | null {
  const fits = args.subjects.filter(
    (one) =>
      one.kind === "noun" &&
      (workable(one.np) || isFastener(one.np)) &&
      !one.np.earlier &&
      !isTool(one.np) &&
      one.i < found.at,
  );
  const named = fits.find((one) => one.kind === "noun" && !one.np.unknown) ?? fits[0];
  if (named?.kind === "noun") {
    if (named.np.head === "mass" || named.np.classes[0] === "quantity")
      return named.np.of === null ? focusText(state) : nounText(named.np.of);
    return nounText(completed(state, named.np));
  }
  if (found.unit === "1" && (found.relation === "more" || found.relation === "fewer")) {
    const counted = clause.elements.find((one) => one.kind === "noun" && isFastener(one.np));
    if (counted?.kind === "noun") return counted.np.text || "screws";
    const last = state.entries.at(-1);
    if (last?.quantity === "count") return last.object;
  }
  if (found.relation === "same" && named === undefined) {
    const counted = clause.elements.find((one) => one.kind === "noun" && isFastener(one.np) && one.j <= found.at);
    if (counted?.kind === "noun") return counted.np.text || "screws";
  }
  // "Five fewer screws", "same width": what is compared stands after the word.
  const after = clause.elements.find(
    (one) => one.kind === "noun" && one.i <= found.end && one.j > found.at && (isFastener(one.np) || workable(one.np)),
  );
  if (after?.kind === "noun" && isFastener(after.np)) return after.np.text;
  if (found.relation === "fraction") {
    // "A quarter of the phone's mass is the battery".
    const tail = clause.elements.filter(
      (one) => one.kind === "noun" && one.i > found.end && workable(one.np) && !one.np.classes.includes("device"),
    );
    const last = tail.at(-1);
    const subject = args.subjects.some((one) => one.kind === "pronoun");
    if (last?.kind === "noun" && !subject) return nounText(last.np);
  }
  if (found.relation === "superlative" && /^(?:i|we)?$/.test(args.subjectPronoun ?? "")) {
    const own = clause.elements.find((one) => one.kind === "noun" && one.j > found.at && workable(one.np));
    if (own?.kind === "noun" && own.np.classes.some((cls) => cls === "part" || cls === "device"))
      return nounText(own.np);
  }
  if (stand.earlier && state.focus === null) return null;
  // "It is eleven grams heavier than the Halvex 8": one device beside the other, unless a part was just measured.
  const other = clause.elements.find((one) => one.kind === "noun" && one.i >= found.end && one.np.earlier);
  const last = state.entries.at(-1);
  const part = last?.action === "measure" && last.np !== null && !last.np.classes.includes("device");
  const direct =
    other?.kind === "noun" &&
    state.tokens.slice(found.end, other.i).every(({ w }) => !/^(?:in|of|on|from|for)$/.test(w));
  if (other?.kind === "noun" && direct && other.np.classes[0] === "device" && other.np.owner === null && !part) {
    const opened = state.entries.some((one) => one.action !== "measure" && one.action !== "lift");
    if (!opened) return nounText(state.device);
  }
  return focusText(state);
}

function focusText(state: State): string {
  return nounText(focusOf(state) ?? state.device);
}

function bandOf(state: State, found: Found): Band | null {
  const before = state.tokens
    .slice(Math.max(0, found.at - 4), found.at)
    .map((one) => one.w)
    .join(" ");
  if (/(?:just|bit|little|slightly) over$/.test(before)) return "just-over";
  if (/(?:over|more than)$/.test(before)) return "over";
  if (/(?:under|less than|below)$/.test(before)) return "under";
  if (/(?:almost|nearly|not quite)$/.test(before)) return "almost";
  if (/(?:about|roughly|around|approximately)$/.test(before)) return "about";
  return null;
}
