/** "Ten screws … no wait, nine": what is taken back, and what is put in its place. */

import type { Arguments } from "./arguments.ts";
import type { Clause } from "./clauses.ts";
import { has } from "./filters.ts";
import { FAILURES, TAKE_BACK } from "./lexicon/index.ts";
import { completed, isFastener, isTool, objectText, sameName, workable } from "./objects.ts";
import { clauseWords, type State, type Working } from "./state.ts";

/** Clauses after the words of taking back in which the right words follow. */
const FOLLOWS = 3;

/** The longest one first, at the head of the clause. */
const SIGN = new RegExp(`^ (?:and |oh )?(${[...TAKE_BACK].sort((a, b) => b.length - a.length).join("|")}) `);
const ONLY_TALK =
  /^(?:no|wait|sorry|rather|actually|hang on|hold on|let me see|well actually|ah no|oh no|excuse me|no no)$/;

/** True where the clause was spent on correcting what was said before. */
export function readRepair(state: State, clause: Clause, args: Arguments, index: number): boolean {
  const words = clauseWords(state, clause);
  const flat = /^ (?:and |but |no )?(?:it (?:will|does|did|would) not|but no) $/.test(words);
  const failed = flat || (has(words, FAILURES) && !/ go back /.test(words));
  if (failed && failure(state, index)) return clause.group === null || clause.group.sort !== "work";
  if (declined(state, clause, words, index)) return true;
  const sign = SIGN.exec(words)?.[1];
  // "I tell a lie, that one's on the shield, so four": said with a reason in between.
  const reach = /\b(?:lie|wrong|count|counted|correct|corrected|miscounted)\b/.test(state.takeBackSign) ? 2 : 1;
  const open = state.takeBack >= 0 && index - state.takeBack <= reach;
  if (sign === undefined && !open) return false;
  // "With no card in it", "no cable on it": what is not there, and nothing taken back.
  const absent = clause.elements.find((one) => one.kind === "noun" && one.np.count === 0);
  const said = state.entries.at(-1);
  if (
    sign === "no" &&
    absent?.kind === "noun" &&
    (said === undefined || said.action === "measure" || !sameName(absent.np.text, said.object))
  )
    return false;
  if (sign !== undefined) {
    state.takeBack = index;
    state.takeBackSign = sign;
  }
  const last = state.entries.at(-1);
  if (last === undefined) return false;
  // "… no fans here": the thing itself was wrong; its work waits for the right name.
  const denied = clause.elements.find((one) => one.kind === "noun" && one.np.count === 0);
  if (
    denied?.kind === "noun" &&
    index - last.clause <= FOLLOWS &&
    last.action !== "measure" &&
    sameName(denied.np.text, last.object)
  ) {
    state.entries.pop();
    state.retracted = { entry: last, clause: index };
    return true;
  }
  if (state.retracted !== null && index - state.retracted.clause <= FOLLOWS + 1) {
    const noun = [...args.objects, ...args.subjects].find(
      (one) => one.kind === "noun" && workable(one.np) && one.np.count !== 0,
    );
    if (noun?.kind === "noun" && (clause.group === null || clause.group.sort === "common")) {
      const np = completed(state, noun.np);
      const entry: Working = {
        ...state.retracted.entry,
        object: objectText(state, np),
        np,
        count: np.count ?? undefined,
        clause: index,
      };
      state.entries.push(entry);
      state.retracted = null;
      state.takeBack = -1;
      state.focus = np;
      return true;
    }
  }
  const bare = clause.elements.find((one) => one.kind === "number");
  const open2 = state.pending;
  if (
    bare?.kind === "number" &&
    Number.isInteger(bare.value) &&
    args.quantities.length === 0 &&
    open2 !== null &&
    !open2.used &&
    index - open2.clause <= FOLLOWS &&
    open2.clause >= last.clause
  ) {
    open2.count = bare.value;
    state.takeBack = -1;
    return true;
  }
  if (index - last.clause > FOLLOWS) return false;
  // A figure put right.
  const quantity = args.quantities[0]?.q;
  if (quantity !== undefined && last.action === "measure" && last.unit === quantity.unit) {
    last.value = quantity.value;
    state.takeBack = -1;
    const more = args.quantities.length > 1;
    for (const one of args.quantities.slice(0, 1)) state.corrected.add(one.i);
    return !more;
  }
  if (args.quantities.length > 0) return false;
  // "Three, one's a locating pin.": no number.
  const leading = clause.elements[0];
  if (open && clause.group?.base === "be" && leading?.kind === "number" && leading.value === 1) return true;
  // "No, I counted one twice, forty six."
  if (/ (?:twice|double) /.test(words) && clause.group !== null && open) {
    state.takeBack = index;
    return true;
  }
  const number = clause.elements.find(
    (one) =>
      one.kind === "number" ||
      (one.kind === "pronoun" && one.count !== null) ||
      (one.kind === "noun" && one.np.elided && one.np.count !== null),
  );
  const screws = clause.elements.find((one) => one.kind === "noun" && isFastener(one.np) && one.np.count !== null);
  const count =
    number?.kind === "number"
      ? number.value
      : number?.kind === "pronoun"
        ? number.count
        : screws?.kind === "noun"
          ? screws.np.count
          : null;
  if (count !== null && count > 0 && Number.isInteger(count)) {
    const pending = state.pending;
    if (pending !== null && !pending.used && pending.clause >= last.clause) {
      pending.count = count;
      state.takeBack = -1;
      return true;
    }
    if (last.count !== undefined) {
      // "Fourteen screws. Hang on, there's two more under the rubber."
      const more = last.action === "unscrew" && / (?:more|another|extra) /.test(words) && count < last.count;
      last.count = more ? last.count + count : count;
      state.takeBack = -1;
      return true;
    }
    if (last.quantity === "count") {
      last.value = count;
      state.takeBack = -1;
      return true;
    }
  }
  // "One hundred and sixty eight grams. No, sorry, one hundred and sixty six."
  if (
    number?.kind === "number" &&
    last.action === "measure" &&
    last.value !== undefined &&
    number.value > last.value / 10 &&
    number.value < last.value * 10
  ) {
    last.value = number.value;
    state.takeBack = -1;
    return true;
  }
  // A name put right: "the left one, sorry, the right speaker".
  const noun = args.subjects
    .concat(args.objects)
    .find((one) => one.kind === "noun" && workable(one.np) && !isTool(one.np) && !isFastener(one.np));
  const corrects =
    sign !== undefined &&
    (sign.startsWith("i mean") ||
      sign === "sorry" ||
      sign === "or rather" ||
      sign === "rather" ||
      sign === "make that" ||
      sign === "i meant" ||
      sign === "scratch that" ||
      sign === "correction" ||
      sign === "no" ||
      sign === "no wait" ||
      sign === "wait no" ||
      sign === "no sorry" ||
      sign === "actually");
  if (
    noun?.kind === "noun" &&
    (clause.group === null || (clause.group.base === "be" && args.subjectPronoun === "that")) &&
    (corrects || (open && clause.group?.base === "be" && args.subjectPronoun === "that")) &&
    last.action !== "measure" &&
    index - last.clause <= (clause.group === null ? 1 : 3)
  ) {
    const np = completed(state, noun.np);
    last.object = objectText(state, np);
    last.np = np;
    state.takeBack = -1;
    return true;
  }
  return sign !== undefined && ONLY_TALK.test(words.trim());
}

/** The last thing tried did not come: it gives no entry. */
function failure(state: State, index: number): boolean {
  if (state.suction !== null && index - state.suction.clause <= 3) {
    state.suction = null;
    return true;
  }
  if (state.insert !== null && index - state.insert.clause <= 2) {
    state.insert = null;
    return true;
  }
  const last = state.entries.at(-1);
  if (last === undefined || index - last.clause > 3 || !/^(?:lift|pry)$/.test(last.action)) return false;
  state.entries.pop();
  state.questions.push({
    at: last.at,
    about: last.object,
    text: `It did not come away at first: what still held the ${last.object}?`,
  });
  return true;
}

/** "I won't.", "I don't.": the work of the sentence before is not done. */
function declined(state: State, clause: Clause, words: string, index: number): boolean {
  if (
    !/^ (?:but )?(?:i|we) (?:will not|do not|did not|would not|am not|are not going to|am not going to) (?:here |today |now )?$/.test(
      words,
    )
  )
    return false;
  const last = state.entries.at(-1);
  if (last !== undefined && index - last.clause <= 2 && last.action !== "measure") state.entries.pop();
  void clause;
  return true;
}
