/**
 * A clause to work done: the sense of its verb, the things it is done to, the screws that were spoken of before.
 *
 * What a technician says of one piece of work is often spread over several clauses ("three screws in the lid. Out."; "push
 * a pick in and run it round"): screws named without a verb, a tool put in and a suction cup set are kept until the verb
 * comes, and the entry takes the moment at which the phrase began.
 */
import type { Arguments, Thing } from "./arguments.ts";
import { gone } from "./bare-phrases.ts";
import { repeated } from "./carry-over.ts";
import type { Clause } from "./clauses.ts";
import { emit } from "./emit.ts";
import type { Standing } from "./filters.ts";
import { common, fragment } from "./fragments.ts";
import { noteOfPlace } from "./notes.ts";
import { completed, isFastener, isTool, nounText } from "./objects.ts";
import { clauseWords, mention, type State } from "./state.ts";
import { openedPart, placed } from "./targets.ts";
import { verbWork } from "./verb-work.ts";

export function readWork(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): void {
  const group = clause.group;
  if (!stand.earlier && !stand.conditional) noteOfPlace(state, clause, args, stand, index);
  if (repeated(state, clause, args, stand, index)) return;
  turnsTo(state, clause, args, stand, index);
  // "Two screws and a standoff. Gone."
  if (stand.work && clauseWords(state, clause) === " gone " && gone(state, clause, args, index, [], "gone")) return;
  // "Two covers are gone", "the plate is gone".
  const parts = args.subjects.filter((one): one is Thing & { kind: "noun" } => one.kind === "noun");
  if (
    stand.work &&
    group?.base === "go" &&
    group.passive &&
    parts.length > 0 &&
    / (?:is|are) (?:now |all |both )?gone /.test(clauseWords(state, clause))
  )
    if (gone(state, clause, args, index, parts, "gone")) return;
  // "They are in the dish", "all nine in the cup", "zip zip": the screws that were counted are out.
  const laid =
    / (?:in|into) (?:the |my |a |that |this )?(?:\w+ )?(?:cup|tray|box|pot|dish|bowl|lid|bag|jar|tin|tub) /.test(
      clauseWords(state, clause),
    );
  const still = state.pending !== null && !state.pending.used && index - state.pending.clause <= 3;
  if (
    still &&
    laid &&
    stand.work &&
    !args.subjects.some((one) => one.kind === "noun" && !isFastener(one.np)) &&
    unscrewed(state, clause, index)
  )
    return;
  // "Speaker: two screws, done."
  const counted = state.pending !== null && !state.pending.used && index - state.pending.clause <= 1;
  if (counted && stand.work && clauseWords(state, clause) === " done " && unscrewed(state, clause, index)) return;
  if (group === null || group.sort === "aux" || (group.sort === "hold" && !objectsLikeWork(group.base, args))) {
    fragment(state, clause, args, stand, index);
    return;
  }
  if (group.sort === "common") {
    common(state, clause, args, stand, index);
    return;
  }
  if (group.sort === "back") return;
  verbWork(state, clause, args, stand, index);
}

/** The screws that were counted last are out. */
function unscrewed(state: State, clause: Clause, index: number): boolean {
  const one = state.pending!;
  if (one.holder === null) return false;
  one.used = true;
  const { at, text, count, holder } = one;
  emit(state, clause, index, { action: "unscrew", object: nounText(holder), np: holder, count, at, text });
  return true;
}

const TURNS =
  / (?:start|starts|starting|begin|beginning|move|moves|moving|go|going|get|getting|come|coming|over|on|back|turn|turning|continue|continuing|carry on|as|now|next|let us|driver|access|reach) (?:now |on |over |next |straight |right |then )*(?:with|onto|on to|to|for|into) /;

/** "I'm starting with the lower panel", "moving on to the speaker", "as for the coil": what comes next. */
function turnsTo(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): void {
  if (stand.negated || stand.conditional || stand.earlier) return;
  // "On the main board I open four connectors.": what follows is of the board.
  const head = clause.elements[0];
  const on = clause.elements[1];
  if (
    head?.kind === "word" &&
    /^(?:on|at)$/.test(head.w) &&
    on?.kind === "noun" &&
    on.np.classes[0] === "part" &&
    /^(?:i|we)$/.test(args.subjectPronoun ?? "")
  ) {
    state.topic = completed(state, on.np);
    state.topicClause = index;
  }
  // "So for the battery they use that electric glue again".
  const lead = clause.elements.findIndex(
    (one) => one.kind !== "word" || !/^(?:so|now|and|then|okay|well)$/.test(one.w),
  );
  const [front, fronted] = [clause.elements[lead], clause.elements[lead + 1]];
  if (front?.kind === "word" && front.w === "for" && fronted?.kind === "noun" && fronted.np.classes[0] === "part") {
    state.topic = completed(state, fronted.np);
    state.topicClause = index;
    state.focus = state.topic;
    mention(state, state.topic, index, true);
  }
  if (args.quantities.length > 0) return;
  // "That leaves the hinge", "that brings us to the board".
  const rest = [...args.objects, ...args.phrases.map(({ thing }) => thing)].find(
    (one) => one.kind === "noun" && one.np.classes[0] === "part",
  );
  if (
    / (?:that|which|this) (?:now )?(?:leaves|leaves us with|brings us to|brings me to|takes us to|gets us to) /.test(
      clauseWords(state, clause),
    ) &&
    rest?.kind === "noun"
  ) {
    state.topic = completed(state, rest.np);
    state.topicClause = index;
    state.focus = state.topic;
    mention(state, state.topic, index, true);
    return;
  }
  const { group } = clause;
  if (group !== null && group.sort !== "aux" && !/^(?:go|start|begin|move|turn|come|get|continue)$/.test(group.base))
    return;
  if (!TURNS.test(clauseWords(state, clause))) return;
  const next = args.phrases.find(
    ({ prep, thing }) =>
      /^(?:with|onto|on|to|for|into)$/.test(prep) &&
      thing.kind === "noun" &&
      thing.np.classes.includes("part") &&
      !isTool(thing.np) &&
      !isFastener(thing.np),
  )?.thing;
  if (next?.kind !== "noun" || args.objects.some((one) => one.kind === "noun" || one.kind === "pronoun")) return;
  state.topic = completed(state, next.np);
  state.topicClause = index;
  state.focus = state.topic;
  mention(state, state.topic, index, true);
}

const objectsLikeWork = (base: string, args: Arguments) =>
  /^(?:clamp|secure|hold|mount|attach|fix)$/.test(base) &&
  args.objects.length > 0 &&
  !args.subjects.some((one) => one.kind === "noun");

/** Things put in place and not followed up by the verb: said once their time has run out. */
export function expire(state: State, clause: Clause, index: number): void {
  // What is told late changes nothing of what the talk is about by now.
  const { focus, lastObjects, lastAction, lastActionClause } = state;
  const before = state.entries.length;
  expireTools(state, clause, index);
  if (state.entries.length > before) Object.assign(state, { focus, lastObjects, lastAction, lastActionClause });
}

function expireTools(state: State, clause: Clause, index: number): void {
  if (state.suction !== null && index - state.suction.clause > 3) placed(state, clause, index);
  const put = state.insert;
  if (put !== null && index - put.clause > 3) {
    state.insert = null;
    const recent =
      state.lastAction !== null && /^(?:pry|slice)$/.test(state.lastAction) && state.lastActionClause >= put.clause;
    const target = put.target ?? openedPart(state);
    if (!recent && target !== null)
      emit(state, clause, index, {
        action: "pry",
        object: nounText(target),
        np: target,
        at: put.at,
        text: put.text,
        tool: put.tool,
      });
  }
}
