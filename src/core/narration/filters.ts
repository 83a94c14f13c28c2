/** What is said but not done here and now: denied, advised, wished, imagined, habitual, asked, told of another device. */

import type { Arguments } from "./arguments.ts";
import type { Clause } from "./clauses.ts";
import { CONDITIONS, HABITUAL, HYPOTHETICAL, RECAPS, WAY_BACK } from "./lexicon/index.ts";
import { clauseWords, type State } from "./state.ts";

export interface Standing {
  /** The work of this clause is done on this device. */
  readonly work: boolean;
  /** Figures of this clause are reported. */
  readonly figures: boolean;
  /** It speaks of the device that this one is compared with. */
  readonly earlier: boolean;
  readonly tentative: boolean;
  readonly conditional: boolean;
  readonly negated: boolean;
}

/** "Guy dropped it off a ladder": whose work it is not. */
const PEOPLE =
  /^(?:guy|man|woman|customer|client|owner|wife|husband|kid|son|daughter|boss|colleague|friend|cousin|neighbour|neighbor|viewer|somebody|someone|people|maker|factory|apprentice|mate|uncle|brother|sister)$/;

const patterns = new WeakMap<readonly string[], RegExp>();

/** Is one of these turns of phrase among the words? One pattern for each list, made once. */
export function has(words: string, list: readonly string[]): boolean {
  const known = patterns.get(list);
  if (known !== undefined) return known.test(words);
  const pattern = new RegExp(` (?:${list.map((one) => one.replace(/[^a-z' -]/g, "\\$&")).join("|")}) `);
  patterns.set(list, pattern);
  return pattern.test(words);
}

export function standing(state: State, clause: Clause, args: Arguments, index: number): Standing {
  const words = clauseWords(state, clause);
  const group = clause.group;
  const lead = new Set(clause.lead);
  const conditional =
    [...lead].some((w) => CONDITIONS.has(w)) ||
    words.startsWith(" in case ") ||
    words.startsWith(" assuming ") ||
    words.startsWith(" or else ");
  const followsCondition = index <= state.conditionUntil;
  const negated =
    group?.negated === true ||
    (lead.has("without") && (group === null || group.form === "ing")) ||
    (lead.has("instead") && / instead of /.test(words)) ||
    / (?:no need|not need|rather than|instead of|never) /.test(words) ||
    (group === null && / (?:not|without) /.test(words.replace(/ not (?:too |so |half )?(?:bad|much|a lot) /, " ")));
  const question =
    clause.after === 3 ||
    group?.inverted === true ||
    (lead.has("how") && group !== null) ||
    (lead.has("why") && group !== null);
  const hypothetical = group?.modal !== null && group?.modal !== undefined && HYPOTHETICAL.has(group.modal);
  const can = group?.modal === "can" || group?.chain.includes("able") === true;
  const nowCan = can && (lead.has("now") || lead.has("then") || lead.has("so") || / now /.test(words));
  const ready = can && group?.passive === true && index - state.lastActionClause <= 4;
  const iCan = can && (args.subjectPronoun === "i" || args.subjectPronoun === "we") && group?.form === "base";
  const somebody = args.subjects.some((one) => one.kind === "noun" && PEOPLE.test(one.np.head));
  const other =
    somebody ||
    (/^(?:they|he|she)$/.test(args.subjectPronoun ?? "") && group?.passive !== true && args.objects.length > 0);
  const advice =
    args.subjectPronoun === "you" &&
    (group?.chain.includes("want") === true ||
      group?.chain.includes("supposed") === true ||
      group?.modal === "should" ||
      group?.modal === "must" ||
      group?.modal === "will");
  // "It reads 68 degrees when I lift it off": the time of something else.
  const time = (lead.has("when") || lead.has("while")) && clause.before === 0 && group?.form !== "ing";
  const before = time || lead.has("before") || lead.has("until") || lead.has("till");
  // "Use a spudger to open the plug" is work; "heat it to soften the glue" was told with the heating.
  const purpose = group?.infinitive === true && state.handyClause !== index - 1;
  const earlierSubject = args.subjects.some((one) => one.kind === "noun" && one.np.earlier);
  const compares = / (?:than|same|like) /.test(words);
  const earlierPlace =
    !compares &&
    args.phrases.some(
      ({ prep, thing }) => /^(?:on|in|with|for|from)$/.test(prep) && thing.kind === "noun" && thing.np.earlier,
    );
  const earlierWords =
    / (?:on|in|with|for) (?:the |my |our )?(?:old|older|previous|earlier|former|other|last|first) (?:one|ones|model|generation|version|phone|tablet|laptop|watch|device|handset|year)/.test(
      words,
    );
  const another = / on the (?:one|last one) (?:that )?i (?:did|had|opened|fixed|took|repaired) /.test(words);
  const said = earlierSubject || earlierPlace || earlierWords || another;
  // "On the older one | you had to take the board out", "last time I did this | I broke it": goes on in the same breath.
  const soft = clause.before < 2 || (clause.before === 2 && clause.lead[0] === "and" && args.subjectPronoun === "you");
  const goesOn = soft && index === state.asideClause + 1;
  const earlier = said || (goesOn && state.aside === "earlier");
  const habitual =
    (has(words, HABITUAL) && !words.includes(" than ")) ||
    (goesOn && state.aside === "habit" && !lead.has("but") && !lead.has("so") && !lead.has("now"));
  if (goesOn && state.aside === "habit" && habitual) state.asideClause = index;
  if ((said && group === null) || has(words, HABITUAL)) {
    state.aside = said && group === null ? "earlier" : "habit";
    state.asideClause = index;
  }
  const next = state.tokens[clause.j]?.w ?? "";
  const gerund =
    group !== null &&
    group.form === "ing" &&
    !group.helped &&
    (gerundSubject(clause) ||
      /^(?:took|takes|is|was|needs|will|would|can)$/.test(next) ||
      // "Removing it is a separate job."
      (/^(?:it|them|that|this)$/.test(next) &&
        /^(?:took|takes|is|was|needs|will|would|can)$/.test(state.tokens[clause.j + 1]?.w ?? "") &&
        clause.before >= 2) ||
      /^(?:need|needs|needed|require|requires|of|for|from|without|avoid|mind|before|stop|than|about|worth)$/.test(
        state.tokens[clause.i - 1]?.w ?? "",
      ));
  // "Held by an adhesive that is released electrically": how it is made.
  const described =
    clause.lead[0] === "that" &&
    group?.passive === true &&
    !group.perfect &&
    !group.progressive &&
    group.modal === null;
  // "I tried to lift it.": it is not told that it came.
  const must = group?.passive === true && / (?:has|have|needs?) to be /.test(words);
  const tried = group?.chain.includes("try") === true && / tried /.test(words);
  // "Since the display comes out from the front": a reason.
  const reason = (lead.has("because") || clause.lead[0] === "since") && group !== null && group.form !== "ing";
  const told = !question && !conditional && !habitual && !described;
  return {
    work:
      told &&
      !reason &&
      !tried &&
      !must &&
      !negated &&
      !followsCondition &&
      !hypothetical &&
      (!can || nowCan || iCan || ready) &&
      !other &&
      !advice &&
      !before &&
      !purpose &&
      !earlier &&
      !gerund &&
      !state.recap,
    figures:
      told &&
      !hypothetical &&
      !(negated && group?.sort !== "common") &&
      !followsCondition &&
      !(lead.has("until") || lead.has("before")),
    earlier,
    tentative:
      (/^(?:i|we)$/.test(args.subjectPronoun ?? "") &&
        (group?.chain.includes("go") === true || group?.modal === "will" || group?.modal === "shall")) ||
      nowCan ||
      iCan ||
      (group?.chain.includes("let") === true && group.form === "base") ||
      (group?.chain.some((w) => w === "have" || w === "need" || w === "want" || w === "try") === true &&
        group.form === "base"),
    conditional,
    negated,
  };
}

/** "Getting the battery out took eleven minutes": a verb as subject tells of work that was told before. */
function gerundSubject(clause: Clause): boolean {
  return clause.lead.some((w) => w === "for" || w === "when" || w === "while" || w === "before" || w === "of");
}

/** The most of the work that may be told after a closing summary or the way back has begun. */
const LATE = 0.25;

/**
 * Turns of the talk: a closing summary, the way back. "On the way back you'd mix them up" is said in the middle of the work too:
 * where most of the work comes after it, it is none.
 *
 * @param work of which clauses it is known that their verb is one of work, counted from the end
 */
export function turnOfTalk(state: State, clause: Clause, index: number, work: readonly number[]): void {
  if (state.recap && state.wayBack) return;
  const words = clauseWords(state, clause);
  const [back, recap] = [has(words, WAY_BACK), has(words, RECAPS)];
  if (!back && !recap) return;
  const after = work[index + 1] ?? 0;
  if (after > 2 + LATE * (work[0] ?? 0)) return;
  if (recap) state.recap = true;
  if (back) state.wayBack = true;
}

/** For each clause, how many from it on have a verb of work. */
export function workFrom(list: readonly Clause[]): number[] {
  const from = new Array<number>(list.length + 1).fill(0);
  for (let at = list.length - 1; at >= 0; at -= 1)
    from[at] = from[at + 1]! + (list[at]!.group?.sort === "work" ? 1 : 0);
  return from;
}
