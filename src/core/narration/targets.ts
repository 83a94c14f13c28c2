/** What a tool is brought to: the part being opened, the place named, the tool put in before. */
import type { Arguments } from "./arguments.ts";
import type { NounPhrase } from "./chunks.ts";
import type { Clause } from "./clauses.ts";
import { emit } from "./emit.ts";
import { isTool, nounText, workable } from "./objects.ts";
import { clauseText, type PendingTool, type State } from "./state.ts";

export const countOf = (np: NounPhrase) => (np.count !== null && np.count > 0 ? np.count : null);

/** A cup set or a tool put in: kept until the verb comes, with the moment at which the phrase began. */
export const tookUp = (
  state: State,
  clause: Clause,
  index: number,
  tool: NounPhrase,
  target: NounPhrase | null,
): PendingTool => ({
  tool,
  target,
  at: state.tokens[clause.i]!.at,
  clause: index,
  text: clauseText(state, clause),
});

/** The tool that was put in before is the beginning of this work. */
export function took(state: State, index: number): { at: number | null; text: string; tool: NounPhrase } | null {
  const one = state.insert;
  if (one === null || index - one.clause > 3) return null;
  state.insert = null;
  return { at: one.at, text: one.text, tool: one.tool };
}

export function sliceTarget(state: State, where: NounPhrase | null): NounPhrase | null {
  const inserted = state.insert?.target ?? null;
  for (const np of [where, inserted])
    if (
      np !== null &&
      !np.classes.includes("side") &&
      !np.classes.includes("gap") &&
      !np.classes.includes("glue") &&
      // "The second half": of what is being opened.
      !/^(?:half|rest|remainder|length|way|lot|corner)s?$/.test(np.head)
    )
      return np;
  // What the talk was about a while ago is not what is being cut, where a side is named.
  const old = state.index - state.topicClause > 4 && where !== null ? state.topic : null;
  const part = (np: NounPhrase | null) => (np !== null && (isTool(np) || np === old) ? null : np);
  return part(openedPart(state)) ?? where ?? inserted ?? part(state.topic) ?? state.focus;
}

/** The part that is being opened: what was last heated, pried or cut round. */
export function openedPart(state: State): NounPhrase | null {
  for (let at = state.entries.length - 1; at >= Math.max(0, state.entries.length - 4); at -= 1) {
    const one = state.entries[at]!;
    if (/^(?:pry|heat|slice|wet|debond)$/.test(one.action) && one.np !== null && !one.np.classes.includes("glue"))
      // A whole device was heated; the part is named since.
      return (one.np.classes[0] === "device" ||
        (one.np.classes[0] === "side" && !/^(?:back|rear|front)$/.test(one.np.head))) &&
        state.topic !== null &&
        state.topicClause > one.clause &&
        state.topic.classes.includes("part") &&
        !state.topic.classes.includes("cutter")
        ? state.topic
        : one.np.classes[0] === "side" && one.np.of?.classes[0] === "part"
          ? one.np.of
          : one.np;
  }
  // Screws were just taken out of it.
  const last = state.entries.findLast((one) => one.action !== "measure");
  if (
    last !== undefined &&
    /^(?:unscrew|lift)$/.test(last.action) &&
    last.clause >= state.topicClause &&
    last.np?.classes.includes("part") === true
  )
    return last.action === "unscrew" ? last.np : null;
  return state.topic;
}

/** "Down the side": that of the part that is being opened. */
export const besideSide = (state: State, where: NounPhrase | null): NounPhrase | null =>
  where?.classes[0] === "side" ? (openedPart(state) ?? where) : where;

export function place(args: Arguments): NounPhrase | null {
  const hit = args.phrases.find(
    ({ prep, thing }) =>
      /^(?:on|under|underneath|beneath|behind|over|to|onto|around|along|across|between|into|in|from|round|through|above|up|down)$/.test(
        prep,
      ) &&
      thing.kind === "noun" &&
      workable(thing.np) &&
      !isTool(thing.np),
  );
  if (hit?.thing.kind !== "noun") return null;
  // "Round the first half of the display": the display.
  const whole = hit.thing.np.of;
  return whole !== null &&
    /^(?:half|rest|part|section|quarter|stretch|middle|centre|center|whole)$/.test(hit.thing.np.head)
    ? whole
    : hit.thing.np;
}

export function sourceOf(args: Arguments): NounPhrase | null {
  const hit = args.phrases.find(({ thing }) => thing.kind === "noun" && thing.np.classes.includes("heater"));
  return hit?.thing.kind === "noun" ? hit.thing.np : null;
}

/** The suction cup that was set is pulled: a gap is made. */
export function placed(state: State, clause: Clause, index: number): void {
  const cup = state.suction;
  if (cup === null) return;
  state.suction = null;
  const target =
    cup.target === null || cup.target.classes.includes("side") ? (openedPart(state) ?? cup.target) : cup.target;
  if (target === null) return;
  emit(state, clause, index, {
    action: "pry",
    object: nounText(target),
    np: target,
    at: cup.at,
    text: cup.text,
    tool: cup.tool,
  });
}
