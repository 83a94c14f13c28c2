/** Clauses without a verb of work: names, screws counted, what comes next. */
import type { Arguments, Thing } from "./arguments.ts";
import { brought, gone } from "./bare-phrases.ts";
import type { NounPhrase } from "./chunks.ts";
import type { Clause } from "./clauses.ts";
import type { DraftAction } from "./draft.ts";
import { emit } from "./emit.ts";
import { holderIn, noteScrews, RECENT } from "./fasteners.ts";
import type { Standing } from "./filters.ts";
import { completed, isFastener, isPlug, isTool, nounText, objectText, workable } from "./objects.ts";
import { removal } from "./senses.ts";
import { clauseText, clauseWords, mention, type State, simplePhrase } from "./state.ts";
import { countOf, openedPart, place, tookUp } from "./targets.ts";
import { countedOut, inHand } from "./turns-of-phrase.ts";

/** Verbs that are no work of their own: weigh, use, hold, have … */
export function common(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): void {
  const base = clause.group!.base;
  const noun = args.objects.find((one): one is Thing & { kind: "noun" } => one.kind === "noun");
  if (/^(?:use|using|used|need|take|grab)$/.test(base) && noun !== undefined && stand.work) {
    if (noun.np.classes.includes("suction")) {
      if (state.tokens[clause.j]?.w === "to") state.handyClause = index;
      state.suction = tookUp(
        state,
        clause,
        index,
        noun.np,
        place(args) ?? openedPart(state) ?? state.topic ?? state.focus,
      );
      return;
    }
    if (isTool(noun.np)) {
      const last = state.entries.at(-1);
      if (last !== undefined && index - last.clause <= 1 && last.tool === undefined && last.action !== "measure")
        last.tool = nounText(noun.np);
      else state.handy = noun.np;
      const target =
        args.phrases.find(({ prep, thing }) => prep === "for" && thing.kind === "noun")?.thing ??
        args.phrases.find(({ prep }) => prep === "for")?.thing;
      if (target?.kind === "noun") {
        state.topic = target.np;
        state.topicClause = index;
        mention(state, target.np, index, true);
      }
      return;
    }
  }
  if (/^(?:weigh|weighing|weighed|measure|check)$/.test(base) && noun !== undefined && noun.np.head !== "corner") {
    state.focus = noun.np;
    mention(state, noun.np, index, true);
    return;
  }
  if (/^eject$/.test(base) && noun !== undefined && stand.work) {
    emit(state, clause, index, { action: "lift", object: objectText(state, noun.np), np: noun.np });
    return;
  }
  fragment(state, clause, args, stand, index);
}

/** Clauses without a verb of work: names, screws counted, "lid off", "hot air on the can", "then rear". */
export function fragment(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): void {
  const words = clauseWords(state, clause);
  const nouns = [...args.subjects, ...(clause.group === null ? args.objects : [])].filter(
    (one): one is Thing & { kind: "noun" } => one.kind === "noun",
  );
  const all = unique([
    ...nouns,
    ...args.objects.filter((one): one is Thing & { kind: "noun" } => one.kind === "noun"),
  ]).filter((one) => one.np.count !== 0);
  const off =
    ["off", "out", "away", "free", "loose", "gone", "removed", "clear"].find(
      (one) =>
        words.includes(` ${one} `) &&
        ((args.particles.has(one) &&
          (one !== "clear" || clause.group === null || args.subjects.some((s) => s.kind === "noun"))) ||
          one === "gone" ||
          (one === "clear" && clause.group === null && words.endsWith(" clear "))),
    ) ?? null;
  const be = clause.group?.base === "be";
  if (stand.earlier || stand.conditional) return;
  // "A gasket that has been out once": told of it, and nothing done.
  if (be && clause.lead[0] === "that" && clause.before === 0) return;
  if (countedOut(state, clause, args, stand, index, all, off)) return;
  const screws = all.find((one) => isFastener(one.np));
  const with1 = args.phrases[0];
  if (
    clause.group === null &&
    stand.work &&
    /^ (?:and )?(?:out|off|away) with /.test(words) &&
    with1?.thing.kind === "noun"
  ) {
    // "Out with the tray".
    const np = completed(state, with1.thing.np);
    const action = isPlug(np) ? "unplug" : removal(np.classes);
    if (action !== "none")
      emit(state, clause, index, {
        action: action as DraftAction,
        object: objectText(state, np),
        np,
        count: countOf(np),
      });
    return;
  }
  const nextUp = / (?:is|are) next $/.test(words)
    ? args.subjects.find((one): one is Thing & { kind: "noun" } => one.kind === "noun" && isPlug(one.np))
    : undefined;
  // "Battery connector first. Then the two display connectors."
  const alone = clause.group === null && args.quantities.length === 0 && args.phrases.length === 0 && all.length === 1;
  const inTurn =
    alone &&
    isPlug(all[0]!.np) &&
    /^(?:connector|plug|cable|flex|ribbon|lead)s?$/.test(all[0]!.np.head) &&
    (all[0]!.np.owner !== null || all[0]!.np.of !== null) &&
    / (?:first|then|next) /.test(words)
      ? all[0]
      : undefined;
  const opened = nextUp ?? inTurn;
  if (opened !== undefined && stand.work) {
    const { np } = opened;
    emit(state, clause, index, { action: "unplug", object: objectText(state, np), np, count: countOf(np) });
    return;
  }
  if (inHand(state, clause, args, stand, index)) return;
  // "Seven screws fix the board, and the last of them is out now."
  const open = state.pending;
  if (be && off !== null && stand.work && / (?:last|rest|all|lot) of (?:them|those|these) /.test(words)) {
    if (open !== null && !open.used && open.holder !== null) {
      open.used = true;
      const { holder: of, count, at, text } = open;
      emit(state, clause, index, { action: "unscrew", object: objectText(state, of), np: of, count, at, text });
    }
    return;
  }
  if (clause.group === null || be) {
    // "Lid off", "screw out", "battery's out", "both display connectors off".
    // "Now it's free": told with the work that freed it.
    const freed = be && /^(?:free|loose)$/.test(off ?? "") && args.subjects.every((one) => one.kind !== "noun");
    if (
      off !== null &&
      stand.work &&
      !freed &&
      !/ power (?:is |was |now |all )*(?:off|out|down) /.test(words) &&
      !outOf(words, all.length)
    ) {
      if (gone(state, clause, args, index, all, off)) return;
    }
    if (clause.group === null && stand.work && brought(state, clause, args, index, all)) return;
  }
  if (screws !== undefined && !stand.negated) {
    noteScrews(state, clause, args, index, screws.np, all);
    if (all.length === 1) return;
  }
  const latches = all.find((one) => one.np.classes.includes("clip") && (one.np.plural || one.np.count !== null));
  if (latches !== undefined && stand.work) {
    const named = all.find((one) => one !== latches && one.np.classes.includes("part"))?.np;
    const holder = latches.np.of ?? holderIn(args) ?? named ?? null;
    if (holder?.classes.includes("part") === true)
      state.clips = { holder: completed(state, holder), count: countOf(latches.np), clause: index };
  }
  const more = clause.elements.find(
    (one) => one.kind === "number" || (one.kind === "noun" && one.np.elided && one.np.count !== null),
  );
  const moreCount = more?.kind === "number" ? more.value : more?.kind === "noun" ? more.np.count : null;
  if (
    moreCount !== null &&
    Number.isInteger(moreCount) &&
    / (?:more|others|other) /.test(words) &&
    screws === undefined &&
    state.entries.slice(-RECENT).some((one) => one.action === "unscrew" && index - one.clause <= 8) &&
    args.quantities.length === 0 &&
    !words.includes(" than ")
  ) {
    const last = state.entries.findLast((one) => one.action === "unscrew")!;
    const at = holderIn(args);
    const holder =
      at !== null &&
      args.phrases.some(
        ({ prep, thing }) =>
          /^(?:under|behind|beneath|underneath|below)$/.test(prep) && thing.kind === "noun" && thing.np === at,
      )
        ? last.np
        : (at ?? last.np);
    if (at !== null) {
      state.pending = {
        np: simplePhrase("screws", ["fastener"]),
        count: moreCount,
        holder,
        topical: holder === at,
        at: state.tokens[clause.i]!.at,
        clause: index,
        text: clauseText(state, clause),
        used: false,
      };
      if (holder !== null) mention(state, holder, index, true);
      if (holder === at) {
        state.topic = holder;
        state.topicClause = index;
      }
      return;
    }
  }
  // "Held by five screws" after a name and a comma is said of that name.
  // "Six stretch strips. I'll do all six."
  if (
    clause.group?.base === "do" &&
    stand.work &&
    !clause.group.negated &&
    /^(?:i|we)$/.test(args.subjectPronoun ?? "")
  ) {
    const each = clause.elements.find((one) => one.kind === "pronoun" && /^(?:all|them|both|these|those)$/.test(one.w));
    const strips = state.mentions.findLast((one) => index - one.clause <= 2 && one.np.classes.includes("tab"));
    if (each !== undefined && strips !== undefined) {
      emit(state, clause, index, {
        action: "peel",
        object: nounText(strips.np),
        np: strips.np,
        count: countOf(strips.np),
      });
      return;
    }
  }
  // "The board sits with three screws", "is down to six screws", "hangs on two".
  const on =
    !stand.negated && clause.group !== null && /^(?:be|sit|hold|hang|rest|come|stay|lie|go)$/.test(clause.group.base)
      ? args.phrases.find(
          ({ prep, thing }) =>
            /^(?:with|by|to|on)$/.test(prep) &&
            thing.kind === "noun" &&
            isFastener(thing.np) &&
            (thing.np.count ?? 0) > 0,
        )
      : undefined;
  if (on?.thing.kind === "noun" && screws === undefined) {
    const held = args.subjects.filter(
      (one): one is Thing & { kind: "noun" } => one.kind === "noun" && workable(one.np),
    );
    noteScrews(state, clause, args, index, on.thing.np, held);
  }
  const passiveHold =
    clause.group?.sort === "hold" &&
    (clause.group.passive || (clause.group.form === "past" && !clause.group.helped && clause.before === 1));
  if (passiveHold) {
    const by = args.phrases.find(({ thing }) => thing.kind === "noun" && isFastener(thing.np));
    const held = args.subjects.find((one): one is Thing & { kind: "noun" } => one.kind === "noun");
    if (by?.thing.kind === "noun")
      noteScrews(state, clause, args, index, by.thing.np, held === undefined ? [] : [held]);
  }
  // "The camera has a bracket with two screws": those of the bracket.
  const withScrews = clause.elements.findIndex(
    (one, k) =>
      one.kind === "noun" &&
      isFastener(one.np) &&
      one.np.count !== null &&
      clause.elements[k - 1]?.kind === "word" &&
      (clause.elements[k - 1] as { w: string }).w === "with",
  );
  // "A plate over the connectors with three screws": what lies over them is screwed down.
  const beneath = clause.elements[withScrews - 3];
  const over = beneath?.kind === "word" && /^(?:over|on|above|across|around)$/.test(beneath.w);
  const bearer = clause.elements[withScrews - (over ? 4 : 2)];
  const screwed = clause.elements[withScrews];
  if (
    bearer?.kind === "noun" &&
    screwed?.kind === "noun" &&
    workable(bearer.np) &&
    (clause.group === null ||
      clause.group.base === "have" ||
      clause.group.sort === "common" ||
      /^(?:over|under|on|behind|above)$/.test(clause.lead[0] ?? "") ||
      / there (?:is|are) /.test(words))
  )
    noteScrews(state, clause, args, index, screwed.np, [{ kind: "noun", np: bearer.np, i: bearer.i }]);
  if (be) {
    const by = args.phrases.find(({ prep, thing }) => prep === "with" && thing.kind === "noun" && isFastener(thing.np));
    const held = args.subjects.find((one): one is Thing & { kind: "noun" } => one.kind === "noun");
    if (by?.thing.kind === "noun" && held !== undefined) noteScrews(state, clause, args, index, by.thing.np, [held]);
  }
  const same = words.includes(" same ");
  const named = same && clause.group === null ? [] : all.filter((one) => workable(one.np) && !isFastener(one.np));
  // "Storage is a card": what is said of the subject is no other thing.
  const there = / there (?:is|are|was|were) /.test(words);
  const spokenOf =
    be &&
    !there &&
    /^(?:it|they|this|that|these|those)$/.test(args.subjectPronoun ?? "") &&
    !words.startsWith(" this is ");
  const counted = (np: NounPhrase) => there && np.classes.includes("part") && np.role !== null && np.role !== "gasket";
  if (spokenOf) for (const { np } of named) if (!isPlug(np)) mention(state, np, index, false);
  const parts = spokenOf
    ? []
    : be && args.subjects.some((one) => one.kind === "noun")
      ? named.filter((one) => args.subjects.includes(one))
      : named;
  // "Cables under a shield, three screws": what lies over the plugs is screwed on.
  const lid = args.phrases.find(
    ({ prep, thing }) =>
      /^(?:under|underneath|beneath|behind|below)$/.test(prep) &&
      thing.kind === "noun" &&
      /^(?:bracket|shield)$/.test(thing.np.role ?? ""),
  )?.thing;
  if (lid?.kind === "noun" && (clause.group === null || be) && all.some((one) => isPlug(one.np))) {
    state.topic = completed(state, lid.np);
    state.topicClause = index;
    mention(state, state.topic, index, true);
  }
  const about = args.phrases.find(({ prep }) => prep === "for")?.thing;
  if (clause.group === null && clause.lead.includes("for") && about?.kind === "noun" && workable(about.np)) {
    state.topic = completed(state, about.np);
    state.topicClause = index;
    mention(state, state.topic, index, true);
  }
  // "Unplug the screen. Then the side key cable. Then rear."
  // "Unplug the battery. That's always the first. Then the screen."
  const remark = / (?:that|this|it) is (?:always |the |never )/.test(state.lastWords) && clause.lead.includes("then");
  const repeated =
    clause.group === null &&
    stand.work &&
    parts.length > 0 &&
    args.quantities.length === 0 &&
    state.lastAction !== null &&
    state.lastActionClause >= index - (remark ? 2 : 1);
  const cutUp = clause.before >= 2 && state.tokens[clause.i - 1]?.firm !== true && state.lastAction === "unplug";
  if (repeated && cutUp && parts.length === 1 && all.length === 1 && parts[0]!.np.det !== null && !stand.tentative) {
    const np = completed(state, parts[0]!.np);
    emit(state, clause, index, { action: "unplug", object: objectText(state, np), np, count: countOf(np) });
    return;
  }
  if (
    repeated &&
    (state.lastAction === "unplug" ||
      (clause.lead.some((w) => w === "and" || w === "also") && state.lastAction !== "heat"))
  ) {
    const told = clause.lead.some((w) => /^(?:which|that|who|where)$/.test(w));
    const only =
      !told &&
      clause.lead.some((w) => w === "then" || w === "and" || w === "also" || w === "next") &&
      !clause.lead.includes("now");
    if (only) {
      for (const { np } of parts) {
        // "Front camera. Then rear.": the kind of thing comes from the one before.
        const last = state.lastObjects.at(-1);
        const bare = np.classes[0] === "side" && np.mods.length === 0 && last !== undefined && last.mods.length > 0;
        const whole = bare
          ? { ...last, text: `${np.text} ${last.head}`, mods: [np.head], count: np.count }
          : completed(state, np);
        // "Remove the four screws, and both speakers."
        const off = state.lastAction === "unscrew" && !isFastener(whole) ? removal(whole.classes) : state.lastAction!;
        if (off === "none") continue;
        emit(state, clause, index, {
          action: off as DraftAction,
          object: objectText(state, whole),
          np: whole,
          count: countOf(whole),
        });
      }
      return;
    }
  }
  // "Four screws, sensor bracket, out": what they hold is named after them.
  const waiting = state.pending;
  if (
    waiting !== null &&
    !waiting.used &&
    (waiting.topical || waiting.holder === null) &&
    waiting.clause === index - 1 &&
    clause.before === 1 &&
    clause.group === null &&
    parts.length === 1 &&
    !isPlug(parts[0]!.np) &&
    args.quantities.length === 0
  ) {
    waiting.holder = completed(state, parts[0]!.np);
    waiting.topical = true;
  }
  for (const { np } of parts) {
    if (np.classes[0] === "side" && np.owner === null) {
      // "The back is glued on."
      const named = clause.group === null && clause.before >= 2 && clause.after >= 2 && all.length === 1;
      if (named && /^(?:back|front|rear)$/.test(np.head)) {
        mention(state, np, index, true);
        state.topic = np;
        state.topicClause = index;
      }
      if (
        be &&
        args.subjects.some((one) => one.kind === "noun" && one.np === np) &&
        /^(?:back|front|rear)$/.test(np.head)
      )
        mention(state, np, index, true);
      if (clause.group === null && clause.after === 1) state.place = { np, clause: index };
      continue;
    }
    if (np.unknown && np.det === null) continue;
    mention(
      state,
      np,
      index,
      !stand.negated &&
        !(isPlug(np) && np.owner === null && np.count === null) &&
        (!there || counted(np)) &&
        !/ (?:excluded|included|aside|apart) /.test(words),
    );
  }
  for (const { thing } of args.phrases) {
    if (thing.kind === "noun" && workable(thing.np) && !isFastener(thing.np))
      mention(state, thing.np, index, parts.length === 0 && args.phrases.length === 1);
  }
  const first =
    parts.find(
      (one) =>
        !one.np.classes.includes("side") &&
        !one.np.classes.includes("device") &&
        !(one.np.classes.includes("tab") && state.topic?.classes.includes("part") && index - state.topicClause <= 2) &&
        !one.np.unknown &&
        !(isPlug(one.np) && one.np.owner === null),
    ) ?? parts.find((one) => one.np.unknown && clause.group === null);
  if (
    first !== undefined &&
    !stand.earlier &&
    (clause.group === null || be || clause.group.base === "have" || passiveHold || clause.group.sort === "common")
  ) {
    if (clause.group === null || clause.group.negated === false) {
      const topical = clause.group === null || args.subjects.includes(first) || be;
      const material =
        /^(?:glass|steel|plastic|metal|aluminium|aluminum|titanium|rubber)$/i.test(first.np.text) &&
        clause.before === 1;
      if (
        topical &&
        (!there || counted(first.np)) &&
        !material &&
        (!isTool(first.np) || first.np.classes.includes("part"))
      ) {
        state.topic = completed(state, first.np);
        state.topicClause = index;
        const mark =
          /^(?:label|sticker|print|printing|marking|writing|text)$/.test(first.np.head) ||
          // "241 grams, SIM tray inside": how it was weighed.
          (clause.group === null &&
            clause.before === 1 &&
            / (?:inside|included|fitted|installed|in|and all|out) $/.test(words));
        // The opening names makers and models that the lexicon does not hold.
        const opening = first.np.unknown && clause.j < 0.1 * state.tokens.length;
        if (!mark && !opening && (args.quantities.length === 0 || args.subjects.includes(first)))
          state.focus = state.topic;
      }
    }
  }
}

/** "Straight out of the box": where a thing comes from, and nothing comes off. */
const outOf = (words: string, names: number) =>
  names === 0 && / out of /.test(words) && !/ (?:off|away|free) /.test(words);

const unique = <T extends { readonly i: number }>(list: readonly T[]) =>
  list.filter((one, at) => list.findIndex((other) => other.i === one.i) === at);
