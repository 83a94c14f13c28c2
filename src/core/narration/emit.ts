/** Adds an entry, or joins it to one that says the same. */
import type { NounPhrase } from "./chunks.ts";
import type { Clause } from "./clauses.ts";
import type { DraftAction } from "./draft.ts";
import { isFastener, isPlug, nounText, sameName } from "./objects.ts";
import { clauseText, mention, type State, type Working } from "./state.ts";

/** Clauses within which the same action on the same thing is the same work told again. */
const AGAIN = 3;
/** A part comes off once: this far back a second "off" is the first one confirmed. */
const LIFTED_AGAIN = 8;

export interface Work {
  readonly action: DraftAction;
  readonly object: string;
  readonly np: NounPhrase | null;
  readonly count?: number | null;
  readonly tool?: NounPhrase | null;
  readonly at?: number | null;
  readonly text?: string;
  readonly tentative?: boolean;
  /** Work of its own, even where the same was said just before: the other side, a second tool. */
  readonly fresh?: boolean;
}

export function emit(state: State, clause: Clause, index: number, work: Work): Working {
  const at = work.at === undefined ? (work.np?.said ?? state.tokens[clause.i]!.at) : work.at;
  // "One tape": an article, and no count of parts.
  const one = work.count === 1 && work.action !== "unscrew" && work.np?.classes.includes("fastener") !== true;
  const count = one ? undefined : (work.count ?? undefined);
  if (work.action === "lift" || work.action === "shift") impliedScrews(state, clause, index, work);
  if (work.action === "lift" && /^(?:back-cover|display)$/.test(work.np?.role ?? "")) opened(state, work.object);
  const screws = state.entries.at(-1);
  if (work.action === "lift" && screws?.loose === true && screws.clause === index - 1) {
    screws.object = work.object;
    screws.loose = false;
  }
  const known = work.fresh === true ? null : again(state, index, work.action, work.object, count);
  if (known !== null) {
    if (known.tentative === true && index - known.clause > 1) {
      // It was announced, and is done now: the moment of the work counts.
      known.at = at;
      known.text = work.text ?? clauseText(state, clause);
      state.entries.splice(state.entries.indexOf(known), 1);
      state.entries.push(known);
    }
    known.tentative = known.tentative === true && work.tentative === true;
    known.clause = index;
    known.count ??= count;
    known.tool ??= work.tool === null || work.tool === undefined ? undefined : nounText(work.tool);
    after(state, index, work, known);
    return known;
  }
  const entry: Working = {
    at,
    action: work.action,
    object: work.object,
    np: work.np,
    count,
    tool: work.tool === null || work.tool === undefined ? undefined : nounText(work.tool),
    text: work.text ?? clauseText(state, clause),
    clause: index,
    tentative: work.tentative === true,
  };
  state.entries.push(entry);
  after(state, index, work, entry);
  return entry;
}

/** A gap made in "the phone" was made at the part that comes off. */
function opened(state: State, object: string): void {
  for (const one of state.entries.slice(-8))
    if (/^(?:pry|slice)$/.test(one.action) && one.np !== null && one.np.classes[0] === "device") one.object = object;
}

/** "Seven screws, then it falls in my hand": screws told of a part that comes off were taken out. */
function impliedScrews(state: State, clause: Clause, index: number, work: Work): void {
  const one = state.pending;
  // "Three more screws and the board is free": the screws were those of the board.
  // "Two screws, one each side. Cup fifteen. Lift out the charging port."
  if (
    one !== null &&
    !one.used &&
    one.holder === null &&
    index - one.clause <= 4 &&
    work.np?.classes.includes("part") === true
  )
    one.holder = work.np;
  if (
    one !== null &&
    !one.used &&
    (one.topical || one.holder === null) &&
    index - one.clause === 1 &&
    clause.lead.includes("and") &&
    work.np?.classes.includes("part") === true &&
    !(one.holder !== null && sameName(nounText(one.holder), work.object))
  )
    one.holder = work.np;
  if (
    one === null ||
    one.used ||
    one.holder === null ||
    index - one.clause > 9 ||
    !sameName(nounText(one.holder), work.object)
  )
    return;
  one.used = true;
  emit(state, clause, index, {
    action: "unscrew",
    object: nounText(one.holder),
    np: one.holder,
    count: one.count,
    at: one.at,
    text: one.text,
  });
}

function after(state: State, index: number, work: Work, entry: Working): void {
  state.lastAction = work.action;
  state.lastActionClause = index;
  if (work.np !== null && !isFastener(work.np)) {
    // "Battery" of "battery connector": from here on the part is meant.
    const plug = isPlug(work.np) && entry.object !== work.np.text;
    const { said: _said, ...meant } = work.np;
    const np: NounPhrase = plug
      ? { ...meant, text: entry.object, classes: ["part"], owner: null, of: null }
      : { ...meant, text: entry.object };
    mention(state, np, index, true);
    if (!np.classes.includes("tab") && !np.classes.includes("glue") && !np.classes.includes("clip")) state.focus = np;
    state.lastObjects = [np];
    state.lastPlug = plug || isPlug(work.np);
  }
  if (work.action === "heat" || work.action === "debond" || work.action === "desolder") state.heatClause = index;
  if (/^(?:heat|debond|wet|desolder|guard)$/.test(work.action)) state.waitClause = index;
}

function again(
  state: State,
  index: number,
  action: DraftAction,
  object: string,
  count: number | undefined,
): Working | null {
  for (let at = state.entries.length - 1; at >= Math.max(0, state.entries.length - 40); at -= 1) {
    const one = state.entries[at]!;
    if (one.action !== action) {
      if (
        action === "lift" &&
        (one.action === "unplug" || one.action === "unscrew") &&
        one.clause < index &&
        sameName(one.object, object)
      ) {
        announced(state, index, at, object);
        return null;
      }
      continue;
    }
    const reach = one.tentative === true ? 60 : action === "lift" ? LIFTED_AGAIN : AGAIN;
    if (index - one.clause > reach || !sameName(one.object, object)) {
      // It was opened again since: another one of the name.
      if (action === "lift" && one.clause < index - reach) break;
      continue;
    }
    if (action === "lift" && headOf(one.object) !== headOf(object)) continue;
    // "The cell … the second cell": another one.
    if (
      action === "lift" &&
      one.clause < index &&
      /^(?:second|other|third|fourth|next) /i.test(object) &&
      !/^(?:second|other|third|fourth|next) /i.test(one.object)
    )
      continue;
    if (action === "lift" && index - one.clause > AGAIN && one.object.toLowerCase() !== object.toLowerCase()) continue;
    if (count !== undefined && one.count !== undefined && count !== one.count) continue;
    return one;
  }
  return null;
}

/** "Next, remove the speaker. It has six screws. … Lift the speaker out.": the first was only said ahead. */
function announced(state: State, index: number, before: number, object: string): void {
  for (let at = before - 1; at >= Math.max(0, before - 8); at -= 1) {
    const one = state.entries[at]!;
    if (index - one.clause > 2 * LIFTED_AGAIN) return;
    const topic = state.topic === null ? "" : nounText(state.topic).toLowerCase();
    const same =
      one.object.toLowerCase() === object.toLowerCase() ||
      (one.object.toLowerCase() === topic && headOf(topic) === headOf(object));
    if (one.action !== "lift" || !same) continue;
    state.entries.splice(at, 1);
    return;
  }
}

const headOf = (text: string) =>
  text
    .toLowerCase()
    .split(/[\s-]+/)
    .at(-1)!
    .replace(/(?<=[^s])s$/, "");
