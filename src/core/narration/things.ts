/** The things a verb of work is done to: names, pronouns, what was named before or left out. */
import type { Arguments, Thing } from "./arguments.ts";
import type { NounPhrase } from "./chunks.ts";
import type { Clause } from "./clauses.ts";
import { fastenerVerb, pendingFor, RECENT } from "./fasteners.ts";
import { nounAt } from "./lookup.ts";
import { completed, isFastener, isPlug, nounText, referent, workable } from "./objects.ts";
import { senseOf } from "./senses.ts";
import { clauseWords, type State, simplePhrase } from "./state.ts";

/** The clause before this one was only a name: "Fingerprint reader" of "fingerprint reader I disconnect". */
export function fronted(state: State, index: number): NounPhrase[] {
  const both = state.mentions.filter(
    (one) =>
      one.clause >= index - 2 &&
      one.clause > state.lastActionClause &&
      one.strong &&
      !one.np.earlier &&
      !isFastener(one.np),
  );
  // "Front camera and rear camera I unplug."
  if (both.length >= 2 && both.at(-1)!.clause === index - 1 && / and $/.test(`${state.lastWords.slice(0, 5)}`))
    return both.slice(-2).map((one) => one.np);
  return state.topicClause === index - 1 && state.topic !== null ? [state.topic] : [];
}

export function resolveThings(
  state: State,
  clause: Clause,
  args: Arguments,
  things: readonly Thing[],
  index: number,
  verb: string,
  particles: ReadonlySet<string>,
): NounPhrase[] | null {
  const out: NounPhrase[] = [];
  for (const thing of things) {
    if (thing.kind === "noun") {
      // "The strips, first the left one, …": one of those just named.
      if (thing.np.elided && out.length > 0) continue;
      // "Unplug the flex, both ends."
      if (/^(?:end|side)$/.test(thing.np.head) && thing.np.every && thing.np.of === null) {
        const spoken = state.mentions.findLast((one) => one.clause === index - 1)?.np ?? state.topic;
        if (out.length === 0 && spoken !== null && clause.before === 1) out.push(spoken);
        if (out.length > 0) continue;
      }
      // "Unhook the side keys, three hooks."
      if (out.length > 0 && thing.np.classes.includes("clip") && thing.np.count !== null) continue;
      const np = completed(state, thing.np);
      const listed = clause.group!.passive && things.length > 1 && thing.i < clause.group!.i;
      out.push(listed ? { ...np, said: state.tokens[thing.i]!.at } : np);
      continue;
    }
    const screws =
      thing.w === "it" && !/^(?:undo|unscrew|remove|take|get|loosen|unfasten)$/.test(verb)
        ? null
        : pendingFor(state, index, thing.w, thing.count);
    if (
      screws !== null &&
      senseOf(verb, new Set(["fastener", "pron"]), particles) !== null &&
      fastenerVerb(verb, particles)
    ) {
      out.push({ ...screws.np, count: thing.count ?? screws.count, of: screws.holder });
      continue;
    }
    // "Two hooks on the key cap. Unclip those.": of the cap, as many as there are.
    const { clips } = state;
    if (
      clips !== null &&
      index - clips.clause <= 3 &&
      /^(?:them|these|those|all|both)$/.test(thing.w) &&
      senseOf(verb, new Set(["clip"]), particles) === "pry"
    ) {
      out.push({ ...clips.holder, classes: ["clip"], count: clips.count });
      state.clips = null;
      continue;
    }
    // "Both cameras are unplugged, and both lifted out": those of the last work.
    if (thing.w === "both" && state.lastActionClause >= index - 2) {
      const done = state.entries
        .slice(-4)
        .filter((one) => one.clause === state.lastActionClause && one.action === state.lastAction && one.np !== null);
      const since = state.mentions.some((one) => one.clause > state.lastActionClause && one.np.plural);
      if (done.length === 2 && !since) {
        out.push(...done.map((one) => ({ ...one.np!, text: one.object, classes: ["part" as const], count: null })));
        continue;
      }
    }
    // "The display flex, the camera flex and the antenna; those are all disconnected".
    if (
      /^(?:them|they|these|those|all|both)$/.test(thing.w) &&
      senseOf(verb, new Set(["plug"]), particles) === "unplug"
    ) {
      const plugs = state.mentions
        .filter((one) => index - one.clause <= 2 && one.clause > state.lastActionClause && !one.np.earlier)
        .map((one) => ({ ...one.np, said: one.at }))
        .filter((np, nth, all) => all.findIndex((each) => nounText(each) === nounText(np)) === nth)
        .slice(thing.count === null ? 0 : -thing.count);
      if (plugs.length >= 2 && plugs.some(isPlug) && plugs.every((np) => isPlug(np) || np.classes.includes("part"))) {
        out.push(...plugs.map((np) => (isPlug(np) ? np : { ...np, classes: ["plug" as const], owner: nounText(np) })));
        continue;
      }
    }
    if (
      /^(?:turn|flip|roll)$/.test(verb) &&
      (thing.w === "it" || thing.w === "this" || thing.w === "that") &&
      /over|around|round|face|upside|back/.test([...particles].join(" ")) &&
      !particles.has("out")
    ) {
      out.push(state.device);
      continue;
    }
    // "Push a pick in and run it round": the tool is moved, not the part.
    if (
      state.insert !== null &&
      index - state.insert.clause <= 2 &&
      /^(?:run|slide|work|move|guide|drag|sweep|glide|push|twist|turn|pull|walk|drive|feed|saw|draw|bring|take)$/.test(
        verb,
      ) &&
      thing.w === "it" &&
      !particles.has("out")
    ) {
      out.push(state.insert.tool);
      continue;
    }
    // What is heated or opened is still on: a part that was taken off is not meant.
    const onDevice = /^(?:heat|warm|soften|put|throw|lay|set|place|rest|sit|give|hit|blast)$/.test(verb);
    // "I still need some alcohol; I drip it along the edge."
    const liquid =
      thing.w === "it" && /^(?:drip|apply|put|drop|squirt|inject|dribble|spread|dab|run|let|spray)$/.test(verb)
        ? solventBefore(state, clause)
        : null;
    if (liquid !== null) {
      out.push(liquid);
      continue;
    }
    // "The connector sits under a foam pad, so peel that first."
    const film = /^(?:peel|strip)$/.test(verb)
      ? state.mentions.findLast(
          (one) => index - one.clause <= 2 && one.np.classes.some((cls) => cls === "film" || cls === "tab"),
        )
      : undefined;
    if (film !== undefined) {
      out.push(film.np);
      continue;
    }
    // "The heat sink has to be twisted because of the paste, and then it comes off."
    const spoken = state.lastSubject;
    if (
      thing.w === "it" &&
      spoken !== null &&
      clause.before <= 1 &&
      thing.i < clause.group!.i &&
      /^(?:come|go|lift|pop|slide|fall|drop|slip)$/.test(verb)
    ) {
      out.push(completed(state, spoken));
      continue;
    }
    const found = referent(
      state,
      thing.w,
      index,
      onDevice
        ? (one) =>
            workable(one) &&
            !one.unknown &&
            (one.classes[0] !== "side" || /^(?:back|front|rear)$/.test(one.head)) &&
            !state.entries.slice(-RECENT).some((e) => e.action === "lift" && e.object === nounText(one))
        : workable,
    );
    // "The battery has a pull tab, I pull on that, and it comes out": the tab has done its work.
    const spent =
      found !== null &&
      (found.classes.includes("tab") || found.classes.includes("glue")) &&
      !/^(?:pull|peel|tug|yank|cut|slice|remove|grab|snip|trim|nip|tear|rip|sever)$/.test(verb);
    const other = spent
      ? (referent(
          state,
          thing.w,
          index,
          (one) => workable(one) && !one.classes.includes("tab") && !one.classes.includes("glue"),
        ) ?? state.topic)
      : null;
    const np = other ?? (found === null && onDevice ? state.device : found);
    // "Two strips … I pull them": still two.
    const several =
      np?.plural === true && (np.classes.includes("tab") || isPlug(np) || state.lastActionClause === index - 1);
    if (np !== null)
      out.push(
        thing.count === null && several
          ? np
          : thing.count === null || thing.count === 1
            ? { ...np, count: null }
            : { ...np, count: thing.count },
      );
  }
  if (out.length > 0) return plugsOf(out);
  // "With this one I removed four from the board."
  const bare = args.numbers[0];
  if (
    things.length === 0 &&
    args.numbers.length === 1 &&
    Number.isInteger(bare) &&
    bare! > 0 &&
    fastenerVerb(verb, particles) &&
    args.quantities.length === 0 &&
    (state.pending !== null || state.entries.slice(-12).some((one) => one.action === "unscrew"))
  )
    return [{ ...simplePhrase("screws", ["fastener"]), count: bare!, plural: bare! > 1 }];
  if (things.length > 0) return null;
  if (clause.group!.passive) return null;
  const front = fronted(state, index);
  if (
    front.length > 0 &&
    args.subjectPronoun !== null &&
    /^(?:i|we)$/.test(args.subjectPronoun) &&
    verb !== "go" &&
    verb !== "come"
  )
    return front;
  // Terse notes: "unplugged, peeled off", "removed them", "then unplug".
  const definite =
    /^(?:unplug|disconnect|remove|unscrew|undo|lift|peel|desolder|take|pull|loosen|detach|pry|get|come|pop|heat|reheat|fall|warm|slide|melt|clean)$/.test(
      verb,
    );
  if (definite && !(verb === "pull" && !particles.has("out") && !particles.has("off"))) {
    if (
      /^(?:take|get|come|pull|pop|fall|slide)$/.test(verb) &&
      ![...particles].some((one) => /^(?:out|off|away|free|loose)$/.test(one))
    )
      return null;
    const screws = pendingFor(state, index, "them", null) ?? pendingFor(state, index, "it", null);
    const along = / (?:along|together|complete) with /.test(clauseWords(state, clause));
    if (screws !== null && !along && fastenerVerb(verb, particles))
      return [{ ...screws.np, count: screws.count, of: screws.holder }];
    // "I unplug and remove the panel": the object comes with the second verb.
    if (clause.after === 0 && clause.group!.form !== "past" && nextIsAnd(state, clause)) {
      state.waiting = { verb, clause: index, at: state.tokens[clause.i]!.at };
      return null;
    }
    // "Is unplugged and pulled out": of the same thing.
    if (
      clause.group!.form === "past" &&
      !clause.group!.helped &&
      (clause.lead.includes("and") || clause.before === 1) &&
      state.lastActionClause === index - 1 &&
      state.lastObjects.length > 0
    )
      // "The camera flex is unlatched and pulled out": the flex, and not the camera.
      return state.lastPlug && /^(?:pull|slide|draw|lift|take|withdraw|ease)$/.test(verb) ? [] : [...state.lastObjects];
    // "There is one black tape, I remove also."
    const just = state.mentions.at(-1);
    if (
      just !== undefined &&
      just.clause === index - 1 &&
      clause.before === 1 &&
      workable(just.np) &&
      !isFastener(just.np)
    )
      return [just.np];
    if (state.topic !== null && index - state.topicClause <= 3) return [state.topic];
    const np = referent(state, "it", index);
    return np === null ? null : [np];
  }
  return null;
}

/** A liquid named a few words before. */
function solventBefore(state: State, clause: Clause): NounPhrase | null {
  for (let at = clause.i - 1; at >= Math.max(0, clause.i - 10); at -= 1) {
    const { w } = state.tokens[at]!;
    if (nounAt((n) => (n === 0 ? w : null))?.classes[0] === "solvent") return simplePhrase(w, ["solvent"]);
  }
  return null;
}

/** "Pop the connectors of the rear camera, the selfie camera and the sensor": the plugs of all of them. */
function plugsOf(list: readonly NounPhrase[]): NounPhrase[] {
  const first = list[0];
  // "The display flex, the touch flex and the two cameras."
  if (list.length >= 3 && list.filter(isPlug).length >= 2 && first !== undefined && isPlug(first))
    return list.map((np) =>
      isPlug(np) || !np.classes.includes("part") ? np : { ...np, classes: ["plug" as const], owner: nounText(np) },
    );
  const lead =
    first !== undefined &&
    list.length > 1 &&
    isPlug(first) &&
    first.plural &&
    (first.of !== null || first.owner !== null);
  if (!lead) return [...list];
  return list.map((np) =>
    isPlug(np) || !np.classes.includes("part") ? np : { ...np, classes: ["plug" as const], owner: nounText(np) },
  );
}

const nextIsAnd = (state: State, clause: Clause) => state.tokens[clause.j]?.w === "and";
