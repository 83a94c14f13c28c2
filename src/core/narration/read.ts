/**
 * Transcript to draft: words, chunks, clauses, then one pass that keeps in mind what was spoken of. Time linear in the
 * number of words; every look ahead and every look back is bounded.
 */

import { expire, readWork } from "./actions.ts";
import { argumentsOf } from "./arguments.ts";
import { chunk } from "./chunks.ts";
import { readClaims } from "./claims.ts";
import { type Clause, clauses } from "./clauses.ts";
import { findDevices } from "./devices.ts";
import { DRAFT_FORMAT, type Draft, type DraftEntry } from "./draft.ts";
import { readFacts } from "./facts.ts";
import { restateCount } from "./fasteners.ts";
import { standing, turnOfTalk, workFrom } from "./filters.ts";
import { nounAt, WORK_VERBS } from "./lookup.ts";
import { noteOfOrder, noteWhereItLies } from "./notes.ts";
import { readReadings } from "./readings.ts";
import { readRepair } from "./repairs.ts";
import { clauseWords, type State, simplePhrase, type Working } from "./state.ts";
import { type Token, tokenize } from "./tokens.ts";
import type { Transcript, Warning } from "./transcript/index.ts";
import { groupVerbs } from "./verb-groups.ts";
import { readBack, readProof } from "./way-back.ts";

export interface Reading {
  readonly draft: Draft;
  readonly warnings: readonly Warning[];
}

/** Reads what was done, measured and claimed from a transcript. Nothing is invented: what was not said is left out. */
export function readNarration(transcript: Transcript): Reading {
  const tokens = tokenize(transcript.cues);
  const warnings = [...transcript.warnings];
  const empty: Draft = { format: DRAFT_FORMAT, entries: [], claims: [], back: [], proofs: [], questions: [] };
  if (tokens.length >= 12 && !looksEnglish(tokens)) {
    warnings.push({
      line: transcript.cues[0]!.line,
      text: "the words do not look like English, which is all that this reader knows; nothing was read from them",
    });
    return { draft: empty, warnings };
  }
  const names = findDevices(tokens);
  const list = clauses(groupVerbs(chunk(tokens, names), tokens), tokens);
  const state = stateFor(tokens, names);
  const work = workFrom(list);
  list.forEach((clause, index) => {
    readClause(state, clause, index, work);
  });
  const last = list.at(-1);
  if (last !== undefined) expire(state, last, list.length + 9);
  return { draft: draftOf(state), warnings };
}

function stateFor(tokens: readonly Token[], names: ReturnType<typeof findDevices>): State {
  const device = simplePhrase(deviceWord(tokens) ?? names.own ?? "device", ["device"]);
  return {
    tokens,
    names,
    device,
    entries: [],
    notes: [],
    claims: [],
    back: [],
    proofs: [],
    questions: [],
    mentions: [],
    topic: null,
    topicClause: -99,
    focus: device,
    pending: null,
    clips: null,
    insert: null,
    suction: null,
    lastObjects: [],
    lastPlug: false,
    from: 0,
    lastAction: null,
    lastActionClause: -99,
    conditionUntil: -1,
    recap: false,
    wayBack: false,
    dimension: null,
    heatClause: -99,
    waitClause: -99,
    heaterClause: -99,
    fahrenheit: tokens.some((token) => token.w === "fahrenheit" || token.w === "°f"),
    retracted: null,
    takeBack: -1,
    takeBackSign: "",
    aside: null,
    asideClause: -99,
    waiting: null,
    place: null,
    corrected: new Set(),
    relative: null,
    lastSubject: null,
    lastNoun: null,
    lastWords: "",
    index: 0,
    handy: null,
    handyClause: -99,
  };
}

/** The kind of device that the talk is about: the one named most often. */
function deviceWord(tokens: readonly Token[]): string | null {
  const times = new Map<string, number>();
  for (const [at, token] of tokens.entries()) {
    const before = tokens[at - 1];
    const named =
      before !== undefined && before.stop === 0 && /^(?:the|a|an|this|my|our|your|smart|whole|that)$/.test(before.w);
    // "Watch the cable" is no watch.
    if (token.w === "watch" && !named) continue;
    if (
      !/^(?:phone|smartphone|handset|tablet|laptop|notebook|watch|smartwatch|console|handheld|computer|foldable|headset|e-reader)$/.test(
        token.w,
      )
    )
      continue;
    times.set(token.w, (times.get(token.w) ?? 0) + 1);
  }
  return [...times].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null;
}

function readClause(state: State, clause: Clause, index: number, work: readonly number[]): void {
  state.index = index;
  state.from = clause.i;
  expire(state, clause, index);
  turnOfTalk(state, clause, index, work);
  const args = argumentsOf(clause, state.tokens);
  const stand = standing(state, clause, args, index);
  if (stand.conditional) condition(state, clause, index);
  if (!readRepair(state, clause, args, index)) {
    restateCount(state, clause, args, index);
    const taken = readClaims(state, clause, args, stand, index);
    for (const one of state.corrected) taken.add(one);
    if (!readBack(state, clause, args, stand, index)) readWork(state, clause, args, stand, index);
    readReadings(state, clause, args, stand, index, taken);
    readProof(state, clause, stand);
    noteOfOrder(state, clause, args, index);
    noteWhereItLies(state, clause, index);
  }
  const [named, that] = clause.elements.slice(-2);
  const led = that?.kind === "pronoun" && that.w === "that" && named?.kind === "noun" && clause.after === 0;
  state.relative = led ? named.np : null;
  if (clause.elements.some((one) => one.kind === "noun" && one.np.classes.includes("heater")))
    state.heaterClause = index;
  const said = args.subjects.find((one) => one.kind === "noun");
  state.lastSubject = said?.kind === "noun" && said.np.classes[0] === "part" && clause.group !== null ? said.np : null;
  const last = clause.elements.findLast((one) => one.kind === "noun");
  state.lastNoun = last?.kind === "noun" ? last.np : null;
  state.lastWords = clauseWords(state, clause);
}

/**
 * An "if" reaches forward to the clause it governs, or back to the one it comes after: forward where a clause with its own
 * subject or an order follows in the same breath.
 */
function condition(state: State, clause: Clause, index: number): void {
  const next = state.tokens[clause.j];
  const w = next?.w ?? "";
  const unless = clause.lead.includes("unless");
  const own =
    /^(?:then|it|you|that|there|stop|wait|check|they|this|just|do|leave|don't)$/.test(w) ||
    (clause.after === 1 && !/^(?:i|we|and|so|now)$/.test(w)) ||
    // "If yours is cracked. Put tape on it first."
    (clause.after === 2 && state.tokens[clause.j - 1]!.firm !== true && WORK_VERBS.get(w)?.form === "base");
  const soon = next === undefined || next.at === null || next.at - state.tokens[clause.j - 1]!.at! < 8;
  if (own && !unless && soon) {
    state.conditionUntil = index + 1;
    return;
  }
  const last = state.entries.at(-1);
  const attached = clause.before === 0 || (clause.before === 2 && /^(?:i|we)$/.test(w));
  if (attached && last !== undefined && last.clause === index - 1 && last.action !== "measure") state.entries.pop();
}

function draftOf(state: State): Draft {
  return {
    format: DRAFT_FORMAT,
    entries: inOrder([...state.entries, ...state.notes]).map(entryOf),
    claims: state.claims.map(({ clause: _clause, ...claim }) => claim),
    back: state.back,
    proofs: state.proofs,
    questions: state.questions,
    ...factsIn(state.tokens),
  };
}

function factsIn(tokens: readonly Token[]): Pick<Draft, "facts"> {
  const facts = readFacts(tokens);
  return facts.length === 0 ? {} : { facts };
}

/** In the order in which they were said; with no clock the order of reading is kept. */
function inOrder(entries: readonly Working[]): Working[] {
  return entries
    .map((entry, nth) => ({ entry, nth }))
    .sort((a, b) => (a.entry.at ?? 0) - (b.entry.at ?? 0) || a.nth - b.nth)
    .map((one) => one.entry);
}

function entryOf(entry: Working): DraftEntry {
  return {
    at: entry.at,
    action: entry.action,
    object: entry.object,
    ...(entry.count === undefined ? {} : { count: entry.count }),
    ...(entry.tool === undefined ? {} : { tool: entry.tool }),
    ...(entry.quantity === undefined ? {} : { quantity: entry.quantity, value: entry.value!, unit: entry.unit! }),
    ...(entry.lies === undefined ? {} : { lies: entry.lies }),
    text: entry.text,
  };
}

const COMMON = new Set(
  "the a and to of in it is i you that on for with this we are so be have at as not off out up now then from my".split(
    " ",
  ),
);

/** At least one word in sixteen is one of the commonest, or every fourth is a thing of the bench (terse notes). */
function looksEnglish(tokens: readonly Token[]): boolean {
  let common = 0;
  let nouns = 0;
  const size = Math.min(tokens.length, 4000);
  for (let at = 0; at < size; at += 1) {
    const w = tokens[at]!.w;
    if (COMMON.has(w)) common += 1;
    else if (nounAt((n) => (n === 0 ? w : null)) !== null) nouns += 1;
  }
  return common * 7 >= size || (common + nouns) * 3 >= size;
}
