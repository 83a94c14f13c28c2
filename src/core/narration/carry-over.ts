/**
 * Work told by pointing at other work: "same on the other side", "the left side as well", "those are all unplugged".
 * What was done just before is done again to what is named now. Looks back over a bounded number of entries.
 */
import type { Arguments, Thing } from "./arguments.ts";
import type { NounPhrase } from "./chunks.ts";
import type { Clause } from "./clauses.ts";
import { emit } from "./emit.ts";
import type { Standing } from "./filters.ts";
import { completed, isFastener, isTool, nounText, objectText, sameName, workable } from "./objects.ts";
import { clauseText, clauseWords, type State, simplePhrase, type Working } from "./state.ts";

/** Clauses back to which the work that is repeated may reach. */
const REACH = 10;

const SAME =
  / (?:the same|same) (?:thing |again |story |deal |procedure |process |treatment |method |way |game |here |there |goes |done |also |now |and |with |happens |is |applies |work )*(?:on|for|with|at) | (?:repeat|repeated|repeating|again|likewise|ditto|and so) (?:that |this |it |the same |done )?(?:on|for|with|at) | do the same (?:on|for|with|to|at) | goes for /;
const SIDES: Readonly<Record<string, string>> = {
  left: "right",
  right: "left",
  top: "bottom",
  bottom: "top",
  upper: "lower",
  lower: "upper",
  first: "second",
  front: "rear",
};

/** True where the clause was a repetition and has been told so. */
export function repeated(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): boolean {
  if (!stand.work || args.quantities.length > 0) return false;
  if (
    clause.group !== null &&
    clause.group.sort !== "common" &&
    clause.group.sort !== "aux" &&
    clause.group.base !== "go"
  )
    return false;
  const words = clauseWords(state, clause);
  const same =
    ((SAME.test(words) ||
      / (?:on|for|with|at) (?:\w+ ){1,3}(?:the )?same (?:thing |again |way |story )?$/.test(words)) &&
      !/ (?:same as|as in|like|than) /.test(words)) ||
    / (?:do|does|did|doing|done) (?:\w+ ){1,4}(?:the )?same (?:way |thing )?$/.test(words);
  // "Lower speakers the same."
  const likewise =
    clause.group === null && / the same $/.test(words) && args.subjects.length + args.objects.length === 1;
  const so =
    / (?:so|neither) (?:do|does|did|is|are|has|have|goes|go|went) /.test(words) || words.startsWith(" followed by ");
  const also =
    (so && !stand.negated) ||
    (!same && clause.group === null && / (?:as well|too|likewise|ditto) $/.test(words) && args.phrases.length === 0);
  // "… along the right side, then top side and left side".
  const sides = [...args.subjects, ...args.objects].filter(
    (one): one is Thing & { kind: "noun" } => one.kind === "noun" && one.np.classes[0] === "side",
  );
  const cut = state.entries.at(-1);
  if (
    !same &&
    !also &&
    clause.group === null &&
    clause.lead.some((w) => /^(?:then|and|next)$/.test(w)) &&
    sides.length > 0 &&
    sides.length === args.subjects.length + args.objects.length &&
    cut?.action === "slice" &&
    index - cut.clause <= 2 &&
    args.phrases.length === 0
  ) {
    const np = sides[0]!.np;
    emit(state, clause, index, {
      action: "slice",
      object: nounText(np),
      np,
      tool: cut.tool === undefined ? null : simplePhrase(cut.tool, ["tool"]),
      fresh: true,
    });
    return true;
  }
  if (!same && !also && !likewise) return false;
  const named = [...args.phrases.map(({ thing }) => thing), ...args.objects, ...args.subjects].find(
    (one): one is Thing & { kind: "noun" } =>
      one.kind === "noun" && (workable(one.np) || one.np.elided) && !isTool(one.np) && !isFastener(one.np),
  );
  if (named === undefined) return false;
  const all = lastRun(state, index, also);
  const last = all.at(-1);
  if (last === undefined) return false;
  const np = target(state, last, named.np);
  // Along the other side only the cut is made again; another part is opened in all the same steps.
  const run = np.classes[0] === "side" ? [all.findLast((one) => one.action === "slice") ?? last] : all;
  const side = np.classes[0] === "side" && !/^(?:pry|slice|heat|clean|guard)$/.test(last.action);
  if (side && !run.some((one) => /^(?:unscrew|pry|unplug|peel|lift)$/.test(one.action))) return false;
  for (const one of run)
    emit(state, clause, index, {
      // "The screw's out, and so is the card."
      action: so && one.action === "unscrew" && !isFastener(np) ? "lift" : one.action,
      object: objectText(state, np),
      np,
      count: !so && (one.action === "unscrew" || one.action === "unplug") ? (one.count ?? null) : null,
      tool: one.tool === undefined ? null : simplePhrase(one.tool, ["tool"]),
      text: clauseText(state, clause),
      fresh: true,
      tentative: one.action === "lift",
    });
  return true;
}

/** The last pieces of work on one thing; with `also` only the very last. */
function lastRun(state: State, index: number, only: boolean): Working[] {
  const run: Working[] = [];
  for (let at = state.entries.length - 1; at >= Math.max(0, state.entries.length - 12); at -= 1) {
    const one = state.entries[at]!;
    if (one.action === "measure") continue;
    if (index - one.clause > REACH || /^(?:turn|note|cut)$/.test(one.action)) break;
    const first = run[0];
    if (first !== undefined && !alike(first, one)) break;
    run.unshift(one);
    if (only) break;
  }
  return run;
}

const OPENING = /^(?:heat|pry|slice|wet)$/;
/** Same thing, or steps of one opening ("pry the edge, slice along the side"). */
const alike = (a: Working, b: Working) =>
  sameName(a.object, b.object) ||
  (OPENING.test(a.action) && OPENING.test(b.action)) ||
  (b.action !== "lift" && OPENING.test(a.action) && OPENING.test(b.action));

function target(state: State, last: Working, said: NounPhrase): NounPhrase {
  const other = said.mods.includes("other") || said.head === "other";
  const bare = said.classes[0] === "side" || said.elided;
  if (
    bare &&
    (other || /^(?:left|right|upper|lower|top|bottom|first|second|third|front|rear)$/.test(said.head) || said.elided)
  ) {
    // "Left speaker … same on the right": the other one of the two.
    const words = last.object.split(" ");
    const at = words.findIndex((word) => SIDES[word.toLowerCase()] !== undefined);
    const wish = other ? SIDES[words[at]?.toLowerCase() ?? ""] : (said.mods.find((w) => SIDES[w]) ?? said.head);
    if (at >= 0 && words.length > 1 && wish !== undefined && last.np !== null && last.np.classes[0] !== "side") {
      const text = words.map((word, nth) => (nth === at ? wish : word)).join(" ");
      return { ...last.np, text, mods: text.toLowerCase().split(" ").slice(0, -1) };
    }
  }
  if (said.classes[0] === "side" && other)
    return { ...said, text: `other ${nounText(said)}`.replace("other other", "other") };
  return completed(state, said);
}
