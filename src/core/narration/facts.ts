/**
 * What was said of how a device is built, beside the order of work: what hides what, what came out with what, where a plug sits,
 * what the maker has to be told after a swap. Read sentence by sentence, apart from the work, so that nothing that is done or
 * measured depends on it. Linear in the number of words: a sentence without an end is cut.
 *
 * A thing that was only pointed at ("those", "it") has no name here: who joins the facts to the work knows what was in hand.
 */
import { nounAt } from "./lookup.ts";
import type { Token } from "./tokens.ts";

export type FactKind =
  /** `object` cannot be got at before `over` is away. */
  | "behind"
  /** `object` can be got at now: what was lifted last was in the way. */
  | "bared"
  /** `object` came out with `over`, on it or in it. */
  | "within"
  /** `object` has a plug on `over`. */
  | "joined"
  /** A cable with a plug at either end. */
  | "both-ends"
  /** The function of `object` sits on `over` and is changed with it. */
  | "serves"
  /** After a swap the device has to be told, or the maker has to agree. */
  | "notification"
  | "authorisation";

export interface DraftFact {
  readonly at: number | null;
  readonly kind: FactKind;
  /** As named; null: what was in hand at that moment. */
  readonly object: string | null;
  readonly over?: string | null;
  readonly text: string;
}

const LONGEST = 48;
const DETERMINERS = new Set("the a an its this that these those my our your each both".split(" "));
const NO_MODIFIER = new Set(
  "of in on at to from off out and or with by for is are was were be it they them i we you not until under over behind beneath then now so but as into onto after before when once has have had can could only".split(
    " ",
  ),
);

export function readFacts(tokens: readonly Token[]): DraftFact[] {
  const facts: DraftFact[] = [];
  let start = 0;
  tokens.forEach((token, i) => {
    if (token.stop < 2 && i + 1 < tokens.length && i - start < LONGEST) return;
    facts.push(...factsOf(tokens.slice(start, i + 1)));
    start = i + 1;
  });
  return facts;
}

/** Names in a sentence become <0>, <1> …; pointing words stay as they are. */
function tagged(sentence: readonly Token[]): { readonly text: string; readonly names: readonly string[] } {
  const names: string[] = [];
  const out: string[] = [];
  for (let i = 0; i < sentence.length; ) {
    const w = sentence[i]!.w;
    const from = DETERMINERS.has(w) ? i + 1 : i;
    const length = nameAt(sentence, from);
    if (length === 0) {
      out.push(w);
      i += 1;
      continue;
    }
    if (from > i && (w === "both" || w === "each")) out.push(w);
    out.push(`<${names.length}>`);
    names.push(
      sentence
        .slice(from, from + length)
        .map((token) => token.w)
        .join(" "),
    );
    i = from + length;
  }
  return { text: out.join(" "), names };
}

/** Number of words of the name of a part that begins here, modifiers before it included; 0 where none does. */
function nameAt(sentence: readonly Token[], from: number): number {
  for (let before = 0; before < 3; before += 1) {
    const at = from + before;
    if (at >= sentence.length) return 0;
    const span = nounAt((n) => sentence[at + n]?.w ?? null);
    // "Can" is a shield only where it is named as a thing.
    if (span?.words.join() === "can" && before === 0 && !DETERMINERS.has(sentence[at - 1]?.w ?? "")) return 0;
    if (span !== null)
      return span.classes.some((one) => one === "part" || one === "film" || one === "plug")
        ? before + span.words.length
        : 0;
    if (NO_MODIFIER.has(sentence[at]!.w) || DETERMINERS.has(sentence[at]!.w) || sentence[at]!.stop > 0) return 0;
  }
  return 0;
}

const POINT = "it|they|them|that|this|those|these";
const AWAY = "(?:out|off|away|up|clear|gone|lifted|removed)";
const REACH =
  "(?:get (?:at|to|in to|into|hold of|(?:a|my|your|the) \\w+ (?:on|to|in|into|under))|reach|undo|unscrew|take|lift|pull|free|remove|see|come|go|move)";

const TAG = "(<\\d+>)";
const THING = `(<\\d+>|${POINT})`;
/** What each says is in the order of `factsOf`; made once, as every sentence of a talk is held against all of them. */
const SAID = {
  until: new RegExp(
    `^(.*?)\\b(?:not|never)\\b(.*?\\b${REACH}\\b.*?|.*?)\\b(?:until|before) ${TAG} (?:is|are|comes|goes|has|have|was|were) (?:come |been |gone )?${AWAY}\\b`,
  ),
  only: new RegExp(
    `${THING} (?:\\w+ )?only (?:\\w+ ){0,2}(?:after|once|when|with) ${TAG} (?:is |are |was |were )?${AWAY}\\b`,
  ),
  had: new RegExp(
    `${TAG} (?:had|has|have|needs|needed) to (?:be|come|go) ${AWAY}(?: first)? (?:for|before) ${THING}\\b`,
  ),
  over: new RegExp(
    `${THING} (?:runs?|ran|lies|lay|sits?|sat|goes|passes|crosses|comes) (?:\\w+ )?(?:right )?(?:over|across|on top of) ${TAG}`,
  ),
  under: new RegExp(
    `${THING} (?:is|are|was|were|sits?|sat|lies|lay|runs?|ran|hides?|hid) (?:hidden |tucked |trapped |right |just |partly |well )*(?:under|underneath|beneath) ${TAG}`,
  ),
  bared: new RegExp(`\\bnow (?:i|we|you) (?:can|could) (?:finally |at last )?${REACH} ${TAG}`),
  stuck: new RegExp(
    `${TAG} (?:is|are|was|were) (?:stuck|glued|fixed|clipped|riveted|welded|bonded|taped) (?:on |down )?(?:to|on|onto|in|into) ${THING}\\b.*\\b(?:comes?|came|goes|went) (?:out |off |away )?(?:too|with|along)`,
  ),
  pan: /(<\d+>|\bit) (?:\w+ )?(?:weighs?|comes? to|comes? in at )?[\d. ]+ (?:g|gram|grams|gramme|grammes)\b/,
  plug: /\b(?:unplug|unplugs|unplugged|disconnect|disconnects|disconnected|detach|release|pop off|pull)\b(?: both ends of)? (<\d+>)(?: at the \w+)? (?:on|from|off) (<\d+>)/,
  ends: /\b(?:unplug|disconnect|detach|pop|pull|release|free)\w*\b.* (?:both ends of (<\d+>)|(<\d+>) (?:at |from )?both ends)|(<\d+>) (?:unplug|disconnect|detach|pop off) both ends/,
  sits: new RegExp(
    `${TAG} (?:is|are|sits?|lives?|was|were) (?:soldered |mounted |fixed |right |all )*(?:on|to|onto) ${THING}\\b`,
  ),
  denied: /\b(?:not|no|never|without|if)\b/,
  pairedThing: new RegExp(
    `${THING} (?:is|are|was|were) (?:\\w+ )?(?:paired|tied|matched|locked|married|seriali[sz]ed)`,
  ),
  pointed: /^(?:(?:and|so|but|then|also|after) )*(?:it|that|this|they)\b/,
  told: /\b(?:has|have|had|wants|want|needs|need) to be told\b|\basks? for (?:the|its|a|their) (?:new )?(?:serial|number)|\bnotif(?:y|ied|ication)\b/,
  agreed:
    /\b(?:maker|factory|server|manufacturer)s? (?:has|have|must|needs|need|wants|also has)(?: also)? (?:to )?(?:approve|authori[sz]e|unlock|agree|release|allow)|\bauthori[sz]ation\b/,
  paired:
    /\b(?:paired|tied|matched|locked|married)\b.*\b(?:serial|number|board|device|phone|tablet)\b|\bseriali[sz]ed\b/,
} as const;

function factsOf(sentence: readonly Token[]): DraftFact[] {
  const { text, names } = tagged(sentence);
  const facts: DraftFact[] = [];
  const at = sentence[0]!.at;
  const words = sentence
    .map((token) => token.raw)
    .filter((raw) => raw !== "")
    .join(" ");
  const name = (tag: string | undefined): string | null => {
    const nth = /^<(\d+)>$/.exec(tag ?? "")?.[1];
    return nth === undefined ? null : names[Number(nth)]!;
  };
  const add = (kind: FactKind, object: string | null, over?: string | null) => {
    if (object !== null && object === over) return;
    facts.push({ at, kind, object, ...(over === undefined ? {} : { over }), text: words });
  };
  const tagIn = (piece: string | undefined): string | null => name(/<\d+>/.exec(piece ?? "")?.[0]);

  const until = SAID.until.exec(text);
  if (until !== null) add("behind", tagIn(until[2]) ?? lastTag(until[1], name), name(until[3]));
  const only = SAID.only.exec(text);
  if (only !== null) add("behind", name(only[1]), name(only[2]));
  const had = SAID.had.exec(text);
  if (had !== null) add("behind", name(had[2]), name(had[1]));
  const over = SAID.over.exec(text);
  if (over !== null) add("behind", name(over[2]), name(over[1]));
  const under = SAID.under.exec(text);
  if (under !== null) add("behind", name(under[1]), name(under[2]));
  const bared = SAID.bared.exec(text);
  if (bared !== null) add("bared", name(bared[1]));
  const stuck = SAID.stuck.exec(text);
  if (stuck !== null) add("within", name(stuck[1]), name(stuck[2]));
  const pan = SAID.pan.exec(text);
  if (pan !== null) for (const one of weighedWith(sentence)) add("within", one, name(pan[1]));
  const plug = SAID.plug.exec(text);
  if (plug !== null) add("joined", name(plug[1]), name(plug[2]));
  const ends = SAID.ends.exec(text);
  if (ends !== null) add("both-ends", name(ends[1] ?? ends[2] ?? ends[3]));
  const sits = SAID.sits.exec(text);
  if (sits !== null) add("serves", name(sits[1]), name(sits[2]));

  if (!SAID.denied.test(text)) {
    const subject = SAID.pairedThing.exec(text)?.[1];
    const about = subject !== undefined ? name(subject) : SAID.pointed.test(text) ? null : tagIn(text);
    const agreed = SAID.agreed.test(text);
    if (SAID.told.test(text) || (SAID.paired.test(text) && !agreed)) add("notification", about);
    if (agreed) add("authorisation", about);
  }
  return facts;
}

/** "… grams with the trim and the window on it", "… grams, trim, window and flash included": what lay on the scale as well. */
function weighedWith(sentence: readonly Token[]): string[] {
  const words = sentence.flatMap(({ w, stop }) => (stop === 1 ? [w, ","] : [w])).join(" ");
  const list =
    /\b(?:g|grams?|grammes?) (?:, )?with (.+?)(?: (?:still )?(?:on (?:it|its \w+)|in (?:it|place)|attached|inside))?$/.exec(
      words,
    )?.[1] ?? /\b(?:g|grams?|grammes?) , (.+?) (?:included|with it|on it)$/.exec(words)?.[1];
  if (list === undefined || /\b(?:every|all|no|without|screws?|glue)\b/.test(list)) return [];
  return list
    .split(/ (?:and|,|plus) /)
    .map((one) => one.replace(/^(?:(?:the|its|a|an|both|,) )+/, "").trim())
    .filter((one) => one !== "" && one.split(" ").length <= 3);
}

function lastTag(piece: string | undefined, name: (tag: string | undefined) => string | null): string | null {
  return name([...(piece ?? "").matchAll(/<\d+>/g)].at(-1)?.[0]);
}
