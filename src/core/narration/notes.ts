/** Where parts are and where things were put, as far as it was said. */
import type { Arguments, Thing } from "./arguments.ts";
import type { Clause } from "./clauses.ts";
import type { Standing } from "./filters.ts";
import { nounText, referent } from "./objects.ts";
import { clauseText, type State } from "./state.ts";

/** "It sits under a lid", "you can't get at the side key until the board is out": where a part is, in so many words. */
export function noteOfPlace(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): void {
  if (!stand.figures || stand.negated || clause.group === null) return;
  const over = args.phrases.find(
    ({ prep, thing }) =>
      /^(?:under|underneath|beneath|behind|below)$/.test(prep) &&
      thing.kind === "noun" &&
      thing.np.classes.some((cls) => cls === "part" || cls === "film"),
  );
  const sits =
    clause.group.base === "be" ||
    /^(?:sit|rest|sits|sat|lie|lies|lay|hide|hides|hidden|live|lives|stays|stay|rest|rests)$/.test(clause.group.base);
  if (over !== undefined && sits) {
    const subject = args.subjects.find((one): one is Thing & { kind: "noun" } => one.kind === "noun");
    const np =
      subject?.np ??
      (/^(?:it|they|that|this)$/.test(args.subjectPronoun ?? "") ? referent(state, args.subjectPronoun!, index) : null);
    if (np === null || !np.classes.includes("part")) return;
    state.notes.push({
      at: state.tokens[clause.i]!.at,
      action: "note",
      object: nounText(np),
      np,
      text: clauseText(state, clause),
      clause: index,
    });
  }
}

/** The second half of "not … until the board is out". */
export function noteOfOrder(state: State, clause: Clause, args: Arguments, index: number): void {
  const off = args.particles.has("out") || args.particles.has("off") || args.particles.has("away");
  if (!clause.lead.includes("until") || !off || clause.group === null || !/(?:not|never) /.test(state.lastWords))
    return;
  const over = args.subjects.find(
    (one): one is Thing & { kind: "noun" } => one.kind === "noun" && one.np.classes.includes("part"),
  );
  const about = state.mentions.findLast((one) => one.clause === index - 1 && one.np.classes.includes("part"));
  if (over === undefined || about === undefined) return;
  state.notes.push({
    at: state.tokens[clause.i]!.at,
    action: "note",
    object: nounText(about.np),
    np: about.np,
    text: `${state.lastWords.trim()} ${clauseText(state, clause)}`,
    clause: index,
  });
}

/** "Put them in cup four": where the things of the last work lie. */
export function noteWhereItLies(state: State, clause: Clause, index: number): void {
  clause.elements.forEach((one, k) => {
    if (
      one.kind !== "noun" ||
      !/^(?:cup|pot|jar|bin|box|bag|compartment|dish|tray|field|row|drawer)$/.test(one.np.head)
    )
      return;
    const next = clause.elements[k + 1];
    const before = clause.elements[k - 1];
    if (next?.kind !== "number" || next.i !== one.j || before?.kind !== "word" || !/^(?:in|into|to|on)$/.test(before.w))
      return;
    const last = state.entries.findLast((entry) => entry.action !== "measure");
    if (last !== undefined && index - last.clause <= 2) last.lies = `${one.np.head} ${next.value}`;
  });
}
