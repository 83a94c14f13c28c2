/**
 * One line of shorthand taken apart: "six screws top shield, one longer, cup four". Every word is accounted for or named as
 * not understood; nothing is guessed here.
 */
import type { Part, QuantityName, TeardownRecord } from "../../record/schema.ts";
import { BACK_ACTIONS, DRAFT_ACTIONS } from "../draft.ts";
import { DIMENSIONS } from "../lexicon/index.ts";
import { nounAt, RETURN_VERBS, WORK_VERBS } from "../lookup.ts";
import { numberAt, quantityAt, type SpokenQuantity } from "../numbers.ts";
import { backSenseOf, removal, senseOf } from "../senses.ts";
import { type Token, tokenize } from "../tokens.ts";
import { partsIn } from "./names.ts";

export interface Scan {
  readonly words: readonly string[];
  readonly parts: readonly Part[];
  /** An action of the record's list; null where no word tells one. */
  readonly action: string | null;
  readonly count: number | null;
  readonly fastener: boolean;
  readonly plug: boolean;
  readonly clip: boolean;
  readonly lies: "same" | "next" | string | null;
  readonly tool: string | null;
  readonly figures: readonly SpokenQuantity[];
  readonly dimension: QuantityName | null;
  readonly device: boolean;
  readonly zero: boolean;
  readonly damaged: boolean;
  /** "One longer": told in the words that are kept. */
  readonly odd: string | null;
  /** Denied, wished for or still to come: no work was done. */
  readonly unreal: boolean;
  readonly compares: boolean;
  readonly unknown: readonly string[];
}

const FILLING = new Set(
  "the a an of from to in into on onto off out up down away at with by is are was it its them they this that these those and then now so all just put goes go i we got have has had there here one ones free loose also please ok okay for".split(
    " ",
  ),
);
const DIRECTIONS = new Set("off out up down away free loose open apart aside over back around through".split(" "));
/** Things to put screws and parts into, and fields to lay them on. */
export const PLACES = /^(?:cup|mat|tray|tin|box|bag|dish|bin|field|pot|jar|drawer|compartment|row)$/;
const DAMAGE = /^(?:torn|broken|cracked|damaged|snapped|ripped|stripped|bent|scratched|shattered|tore|broke)$/;
/** Drives by their short names: PH000, T5, P2. */
const DRIVE = /^(?:ph|pz|sl|t|ip|p|y)(?:0{1,4}|\d{1,2})$/;
const UNREAL =
  /^(?:not|never|without|if|unless|later|tomorrow|will|would|should|could|might|may|must|can|need|needs|want|before|until|going|try|tried|almost|don't)$/;
const COMPARES =
  /^(?:than|lighter|heavier|thinner|thicker|smaller|larger|bigger|shorter|fewer|same|lightest|thinnest)$/;
const ACTIONS: ReadonlySet<string> = new Set([...DRAFT_ACTIONS, ...BACK_ACTIONS, "pull"]);

export function scanLine(text: string, record: TeardownRecord): Scan {
  const tokens = tokenize([{ at: 0, until: null, text, line: 1 }]);
  const words = tokens.map((token) => token.w);
  const used = new Array<boolean>(words.length).fill(false);
  const take = (from: number, to: number) => used.fill(true, from, to);

  const lies = readPlace(tokens, take);
  const odd = readOdd(words, take);
  const figures: SpokenQuantity[] = [];
  let count: number | null = null;
  for (let i = 0; i < tokens.length; i += 1) {
    if (used[i]) continue;
    const q = quantityAt(tokens, i);
    if (q !== null && !(q.quantity === null && q.unit === "in")) {
      figures.push(q);
      take(i, q.end);
      continue;
    }
    if (i > 0 && DRIVE.test(`${words[i - 1]}${words[i]}`)) continue;
    const n = numberAt(tokens, i);
    if (n === null || n.fraction || (words[i] === "one" && n.end < words.length && /^(?:is|was)$/.test(words[n.end]!)))
      continue;
    if (Number.isInteger(n.value) && n.value > 0 && n.value <= 1000 && count === null) {
      count = n.value;
      take(i, n.end);
    }
  }
  let dimension: QuantityName | null = null;
  for (const [i, word] of words.entries()) {
    if (used[i]) continue;
    const found = Object.entries(DIMENSIONS).find(([, names]) => names.includes(word));
    if (found === undefined) continue;
    dimension ??= found[0] as QuantityName;
    take(i, i + 1);
  }
  // Names before verbs: "top shield" is a part, though "shield" may be a verb.
  const named = partsIn(
    record,
    words,
    (i) => !used[i] && !FILLING.has(words[i]!) && !UNREAL.test(words[i]!) && !thing(words[i]!) && !driven(words[i]!),
  );
  for (const one of named) take(one.from, one.to);
  const verb = readVerb(words, used);
  if (verb !== null) take(verb.at, verb.at + 1);

  const classes = new Set<string>(named.length > 0 ? ["part"] : []);
  let tool: string | null = null;
  let device = false;
  let zero = false;
  let damaged = false;
  for (let i = 0; i < words.length; i += 1) {
    if (used[i]) continue;
    const word = words[i]!;
    if (DAMAGE.test(word)) {
      damaged = true;
      take(i, i + 1);
      continue;
    }
    const split = /^\d{1,3}$/.test(words[i + 1] ?? "") && DRIVE.test(`${word}${words[i + 1]}`);
    if (split || DRIVE.test(word)) {
      classes.add("drive");
      take(i, split ? i + 2 : i + 1);
      continue;
    }
    if (/^(?:zero|tare|tared)$/.test(word)) {
      zero = true;
      take(i, i + 1);
      continue;
    }
    const span = nounAt((n) => (used[i + n] === false ? (words[i + n] ?? null) : null));
    if (span === null) continue;
    for (const cls of span.classes) classes.add(cls);
    if (span.classes.includes("device")) device = true;
    // A drive is the tool's, or the screws': both say how they came out.
    if (span.classes.some((cls) => /^(?:tool|cutter|suction|heater|drive)$/.test(cls))) tool = span.words.join(" ");
    if (
      span.classes.some((cls) =>
        /^(?:fastener|drive|plug|clip|glue|film|tab|tool|cutter|suction|heater|device|residue)$/.test(cls),
      )
    )
      take(i, i + span.words.length);
  }
  const fastener = classes.has("fastener") || classes.has("drive");
  const action = verb === null ? null : actionOf(verb, classes, fastener, words);
  return {
    words,
    parts: [...new Set(named.map((one) => one.part))],
    action,
    count,
    fastener,
    plug: classes.has("plug"),
    lies,
    tool,
    figures,
    dimension,
    device,
    zero,
    damaged,
    odd,
    unreal: words.some((word, i) => UNREAL.test(word) && !named.some((one) => i >= one.from && i < one.to)),
    compares: words.some((word, i) => COMPARES.test(word) && !(word === "same" && PLACES.test(words[i + 1] ?? ""))),
    clip: classes.has("clip"),
    unknown: words.filter(
      (word, i) => !used[i] && !FILLING.has(word) && !(damaged && /^(?:under|beneath|behind|near|beside)$/.test(word)),
    ),
  };
}

const thing = (word: string): boolean =>
  /^(?:screws?|bolts?|nuts?|standoffs?|clips?|connectors?|plugs?|flex|glue|tapes?|tabs?|films?|cup|mat)$/.test(word);

/** A drive or a tool by a word of its own: never the beginning of a part's name. */
const driven = (word: string): boolean =>
  DRIVE.test(word) ||
  (nounAt((n) => (n === 0 ? word : null))?.classes.every((cls) => cls === "drive" || cls === "tool") ?? false);

/** "Cup four", "in the same cup", "next cup", "mat b", "tin". */
function readPlace(tokens: readonly Token[], take: (from: number, to: number) => void): string | null {
  for (let i = 0; i < tokens.length; i += 1) {
    const word = tokens[i]!.w;
    if (!PLACES.test(word)) continue;
    const before = tokens[i - 1]?.w;
    if (before === "same" || before === "next") {
      take(i - 1, i + 1);
      return before;
    }
    const number = numberAt(tokens, i + 1);
    if (number !== null && Number.isInteger(number.value) && tokens[i]!.stop < 2) {
      take(i, number.end);
      return `${word} ${number.value}`;
    }
    const letter = tokens[i + 1]?.w;
    if (letter !== undefined && /^[a-z]$/.test(letter) && tokens[i]!.stop === 0) {
      take(i, i + 2);
      return `${word} ${letter.toUpperCase()}`;
    }
    if (word === "tin") {
      take(i, i + 1);
      return "tin";
    }
  }
  return null;
}

/** "One longer", "two are shorter", "one is black". */
function readOdd(words: readonly string[], take: (from: number, to: number) => void): string | null {
  const at = words.findIndex((word) => /^(?:longer|shorter|longest|shortest)$/.test(word));
  if (at < 1 || words[at + 1] === "than") return null;
  const be = /^(?:is|are)$/.test(words[at - 1]!) ? at - 1 : at;
  const from = be - 1;
  if (from < 0 || !/^(?:one|two|three|four|\d+|them|which)$/.test(words[from]!)) return null;
  take(from, at + 1);
  return words.slice(from, at + 1).join(" ");
}

interface SaidVerb {
  readonly at: number;
  readonly base: string;
  readonly back: boolean;
}

function readVerb(words: readonly string[], used: readonly boolean[]): SaidVerb | null {
  for (let at = 0; at < words.length; at += 1) {
    // "Six screws": things, though each of these words may be a verb.
    if (used[at] || thing(words[at]!) || DAMAGE.test(words[at]!)) continue;
    const word = words[at]!.replace(/tt(ed|ing)$/, "t$1");
    const back = RETURN_VERBS.get(word);
    if (back !== undefined) return { at, base: back.base, back: true };
    if (/^(?:fasten|fastened|fastening|screwed|plugged)$/.test(word))
      return { at, base: word.startsWith("plug") ? "replug" : "refasten", back: true };
    const work = WORK_VERBS.get(words[at]!);
    if (work !== undefined) return { at, base: work.base, back: false };
  }
  return null;
}

function actionOf(
  verb: SaidVerb,
  classes: ReadonlySet<string>,
  fastener: boolean,
  words: readonly string[],
): string | null {
  const about = new Set(fastener ? ["fastener", ...classes] : classes);
  const backIn = words.some(
    (word, i) => word === "back" && /^(?:in|on|down|into|onto|together)$/.test(words[i + 1] ?? ""),
  );
  if (verb.back || backIn) {
    const sense = verb.back
      ? backSenseOf(verb.base, about)
      : fastener
        ? "fasten"
        : about.has("plug")
          ? "plug"
          : "refit";
    return sense !== null && ACTIONS.has(sense) ? sense : null;
  }
  const particles = new Set(words.filter((word) => DIRECTIONS.has(word)));
  // "Flip it": with no part named it is the device that is turned, and a part that everything else is done to.
  if (about.size === 0 && senseOf(verb.base, new Set(["device"]), particles) === "turn") return "turn";
  if (about.size === 0) about.add("pron");
  const sense = senseOf(verb.base, about, particles);
  const action = sense === "remove" ? removal([...about] as Parameters<typeof removal>[0]) : sense;
  return action !== null && ACTIONS.has(action) ? action : null;
}
