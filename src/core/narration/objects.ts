/** Which thing is meant: pronouns, names left open, owners of screws and plugs. */

import type { NounPhrase } from "./chunks.ts";
import { TELLING } from "./lexicon/index.ts";
import type { State } from "./state.ts";

const WORKABLE = new Set(["part", "plug", "film", "tab", "chip", "clip", "device", "side", "glue", "residue"]);
/** How many clauses back a pronoun may reach. */
const REACH = 14;

export const workable = (np: NounPhrase) => np.unknown || np.classes.some((cls) => WORKABLE.has(cls));
export const isFastener = (np: NounPhrase) =>
  np.classes.includes("fastener") || (np.classes.includes("drive") && np.count !== null);
export const isPlug = (np: NounPhrase) => np.classes.includes("plug");
export const isTool = (np: NounPhrase) =>
  np.classes.some(
    (cls) => cls === "tool" || cls === "cutter" || cls === "suction" || cls === "heater" || cls === "holder",
  ) && !np.classes.includes("part");

/** The last thing that fits a pronoun. */
export function referent(
  state: State,
  w: string,
  clause: number,
  fits: (np: NounPhrase) => boolean = workable,
): NounPhrase | null {
  const plural = w === "them" || w === "they" || w === "these" || w === "those" || w === "both" || w === "all";
  let weak: { np: NounPhrase; clause: number } | null = null;
  for (let at = state.mentions.length - 1; at >= 0; at -= 1) {
    const one = state.mentions[at]!;
    if (clause - one.clause > REACH) break;
    // What was only touched on is meant where nothing was spoken of for itself just before it.
    if (weak !== null && weak.clause - one.clause > 2) break;
    if (one.np.classes[0] === "side" && /^(?:bottom|top|corner|edge|end|side|seam)$/.test(one.np.head)) continue;
    if (!fits(one.np) || one.np.earlier || isFastener(one.np)) continue;
    if (plural && (!one.np.plural || one.np.classes[0] === "side")) continue;
    if (one.strong && (plural || !one.np.plural || one.np.count === 1)) return one.np;
    weak ??= { np: one.np, clause: one.clause };
  }
  return weak?.np ?? (plural ? null : state.topic);
}

/** What figures are about when nothing else is said: a thing that the lexicon knows before one that it does not. */
export function focusOf(state: State): NounPhrase | null {
  if (state.focus?.unknown !== true) return state.focus;
  const worked = state.entries
    .slice(-12)
    .findLast((one) => one.np !== null && one.action !== "measure" && one.action !== "note" && !one.np.unknown);
  const near = worked?.np !== undefined && state.index - worked.clause <= 12;
  return near && worked.np!.classes.includes("part") ? { ...worked.np!, text: worked.object } : state.focus;
}

/** "The left one", "then rear": the head comes from the last name of the kind. */
export function completed(state: State, np: NounPhrase): NounPhrase {
  if (!np.elided) return named(state, inherited(state, np));
  // "Two tabs on the battery; I grab the first one": one of those named since the last work.
  const several = state.mentions.findLast(
    (one) =>
      state.index - one.clause <= 3 && one.np.plural && !one.np.earlier && !isFastener(one.np) && workable(one.np),
  );
  const since =
    several !== undefined && several.clause > state.lastActionClause ? { ...several.np, mods: [] } : undefined;
  const last = since ?? state.lastObjects.at(-1) ?? state.topic;
  if (last === null || last === undefined) return np;
  const mods = (np.mods.length > 0 || np.head === "one" ? [...np.mods, np.head] : [np.head]).filter(
    (w) => w !== "one" && w !== "ones",
  );
  const kept = [...new Set(mods.filter((w) => (TELLING as readonly string[]).includes(w)))];
  return {
    ...last,
    text: [...kept, last.head].join(" "),
    mods: kept,
    count: np.count,
    plural: np.plural,
    det: np.det,
    elided: false,
  };
}

/** "Camera out" after "front camera": the name that was given it. */
function named(state: State, np: NounPhrase): NounPhrase {
  const topic = state.topic;
  if (
    topic === null ||
    state.index - state.topicClause > 4 ||
    np.mods.length > 0 ||
    np.plural ||
    np.of !== null ||
    np.owner !== null
  )
    return np;
  if (topic.head !== np.head || topic.text === np.text || !topic.text.toLowerCase().endsWith(` ${np.head}`)) return np;
  return { ...np, text: topic.text, role: topic.role, mods: topic.mods, classes: topic.classes };
}

/** "Cables off" after "two antenna cables": the bare name takes over what was said before. */
function inherited(state: State, np: NounPhrase): NounPhrase {
  if (np.count !== null || np.mods.length > 0 || np.of !== null) return np;
  for (let at = state.mentions.length - 1; at >= Math.max(0, state.mentions.length - 8); at -= 1) {
    const one = state.mentions[at]!;
    if (one.used || one.np.head !== np.head || one.np.earlier || one.np.plural !== np.plural) continue;
    if (one.np.count !== null && np.plural) {
      one.used = true;
      return { ...one.np, det: np.det };
    }
    if (isPlug(np) && one.np.owner !== null && at >= state.mentions.length - 2)
      return { ...one.np, count: null, det: np.det };
    return np;
  }
  return np;
}

/** The object as an entry names it: the part, without the words for its fasteners, its plug or its cable. */
export function objectText(state: State, np: NounPhrase, holder: NounPhrase | null = null): string {
  const spoken = state.topicClause > state.lastActionClause ? state.topic : null;
  const its = np.det === "its" || np.det === "their" ? (spoken ?? owning(state) ?? state.topic) : null;
  if (isFastener(np)) {
    const owner = holder ?? np.of ?? its;
    if (owner !== null) return nounText(owner);
    if (np.owner !== null) return np.owner;
    return state.topic === null ? np.text || state.device.text : nounText(state.topic);
  }
  if (isPlug(np)) {
    if (its !== null && np.owner === null && np.of === null) return nounText(its);
    const named = plugOwner(np);
    if (named !== null) return named;
    if (np.of !== null && !np.of.classes.includes("abstract")) return nounText(np.of);
    if (
      /^(?:connector|plug|connection|header)$/.test(np.head) &&
      np.mods.every((w) => /^(?:little|small|tiny|its|press|board-to-board)$/.test(w)) &&
      state.topic !== null
    )
      return nounText(state.topic);
    return np.text;
  }
  if (
    (np.classes.includes("glue") || np.classes.includes("tab")) &&
    np.owner === null &&
    np.of !== null &&
    np.text === ""
  )
    return nounText(np.of);
  return nounText(np);
}

/** What was worked on last, where it may have a plug or screws of its own. */
const owning = (state: State): NounPhrase | undefined =>
  state.lastObjects.findLast((one) => !one.classes.some((cls) => /^(?:film|tab|glue|residue|clip)$/.test(cls)));

/** "Display" of "display cable"; a cable of its own, "antenna cable", keeps its name. */
function plugOwner(np: NounPhrase): string | null {
  const owner = np.owner;
  if (owner === null) return null;
  const own = /antenna|aerial/i.test(owner) && /^(?:cable|lead|wire|coax)$/.test(np.head);
  return own ? null : owner;
}

export function nounText(np: NounPhrase): string {
  return np.text !== "" ? np.text : np.head;
}

/** Do two names mean the same thing, as far as words can tell? */
export function sameName(a: string, b: string): boolean {
  const x = words(a);
  const y = words(b);
  if (x.length === 0 || y.length === 0) return false;
  const opposed = (p: string, q: string) => (x.includes(p) && y.includes(q)) || (x.includes(q) && y.includes(p));
  if (
    opposed("left", "right") ||
    opposed("front", "rear") ||
    opposed("upper", "lower") ||
    opposed("top", "bottom") ||
    opposed("first", "second") ||
    opposed("inner", "outer") ||
    opposed("front", "back")
  )
    return false;
  return x.every((w) => y.includes(w)) || y.every((w) => x.includes(w));
}

const words = (text: string) =>
  text
    .toLowerCase()
    .split(/[\s-]+/)
    .filter((w) => w !== "")
    .map((w) => w.replace(/(?<=[^s])s$/, ""));
