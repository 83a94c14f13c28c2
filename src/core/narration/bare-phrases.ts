/** Work told without a verb: "lid off", "three screws, out", "hot air on the can". */
import type { Arguments, Thing } from "./arguments.ts";
import type { Clause } from "./clauses.ts";
import type { DraftAction } from "./draft.ts";
import { emit } from "./emit.ts";
import { RECENT, unscrew } from "./fasteners.ts";
import type { Standing } from "./filters.ts";
import type { NounClass } from "./lexicon/index.ts";
import {
  completed,
  isFastener,
  isPlug,
  isTool,
  nounText,
  objectText,
  referent,
  sameName,
  workable,
} from "./objects.ts";
import { freed, perform } from "./perform.ts";
import { removal } from "./senses.ts";
import { clauseWords, type State } from "./state.ts";
import { besideSide, countOf, openedPart, place, sliceTarget, tookUp } from "./targets.ts";

/** "Out.", "lid off", "three screws, out": what was named comes off. */
export function gone(
  state: State,
  clause: Clause,
  args: Arguments,
  index: number,
  nouns: readonly (Thing & { kind: "noun" })[],
  off: string,
): boolean {
  const be = clause.group?.base === "be";
  if (be && nouns.some((one) => one.np.classes.includes("device"))) return false;
  // "The board had to be out for that": how it stood then.
  if (be && / (?:had|has|have|needs|needed) to be /.test(clauseWords(state, clause))) return false;
  // "I pull the left strip, slowly, and it is out."
  const strip = state.entries.at(-1);
  const pulled =
    be && args.subjectPronoun === "it" && strip?.action === "peel" && strip.np?.classes.includes("tab") === true;
  if (nouns.length === 0 && pulled && index - strip.clause <= 2) return true;
  if (nouns.length === 0) {
    if (
      be &&
      args.subjectPronoun !== null &&
      !/^(?:it|that|they|this|them|these|those|all|both)$/.test(args.subjectPronoun)
    )
      return false;
    const pending =
      state.pending !== null && !state.pending.used && index - state.pending.clause <= 3 ? state.pending : null;
    if (pending !== null) {
      pending.used = true;
      const holder = pending.holder ?? state.topic;
      emit(state, clause, index, {
        action: "unscrew",
        object: objectText(state, pending.np, holder),
        np: holder ?? pending.np,
        count: pending.count,
        at: pending.at,
        text: pending.text,
      });
      // "Left speaker, three screws, out": the part was the subject, and comes out as well.
      if (pending.topical && holder !== null && !holder.classes.includes("side") && !holder.classes.includes("device"))
        emit(state, clause, index, {
          action: "lift",
          object: objectText(state, holder),
          np: holder,
          count: countOf(holder),
        });
      return true;
    }
    // "Screen plug, sensor plug, both off."
    const pair = state.mentions
      .filter((one) => index - one.clause <= 2 && isPlug(one.np))
      .filter((one, nth, list) => list.findIndex((each) => nounText(each.np) === nounText(one.np)) === nth);
    if (/ (?:both|all|them) /.test(clauseWords(state, clause)) && pair.length >= 2) {
      for (const { np, at } of pair)
        emit(state, clause, index, { action: "unplug", object: objectText(state, np), np, at, count: countOf(np) });
      return true;
    }
    // "Unplug the screen. Then the key flex. The rear camera. The front camera. All off."
    const list = state.mentions
      .filter(
        (one) =>
          index - one.clause <= 5 &&
          one.clause > state.lastActionClause &&
          !one.np.earlier &&
          one.np.classes.some((cls) => cls === "part" || cls === "plug"),
      )
      .filter((one, nth, every) => every.findIndex((each) => nounText(each.np) === nounText(one.np)) === nth);
    if (
      /^ (?:and )?(?:all|both|they are all|all of them) (?:off|unplugged|out) $/.test(clauseWords(state, clause)) &&
      list.length >= 2 &&
      state.lastAction === "unplug"
    ) {
      for (const { np, at } of list)
        emit(state, clause, index, { action: "unplug", object: objectText(state, np), np, at });
      return true;
    }
    // "The speakers … all four out."
    const all = clause.elements.find((one) => one.kind === "pronoun" && one.count !== null && one.count > 1);
    const counted = state.pending;
    if (
      all?.kind === "pronoun" &&
      counted !== null &&
      !counted.used &&
      counted.count === all.count &&
      counted.holder !== null &&
      index - counted.clause <= 6
    ) {
      counted.used = true;
      const { holder: of, count, at, text } = counted;
      emit(state, clause, index, { action: "unscrew", object: objectText(state, of), np: of, count, at, text });
      return true;
    }
    const meant = all === undefined ? null : referent(state, "them", index);
    const other =
      meant?.count !== null && meant?.count !== undefined && all?.kind === "pronoun" && meant.count !== all.count;
    // "Going to take out the ones along this edge, and that's the six out": screws, of which there are many.
    const heading = meant === null && state.topic?.classes.includes("part") === true && index - state.topicClause <= 6;
    if (all?.kind === "pronoun" && (heading || (other && all.count! > 2))) {
      const done = state.entries.slice(-12).findLast((one) => one.action === "unscrew")?.np ?? null;
      const of = state.topic ?? done;
      if (of === null) return false;
      emit(state, clause, index, {
        action: "unscrew",
        object: objectText(state, of),
        np: of,
        count: all.count,
        fresh: true,
      });
      return true;
    }
    const several = other ? null : meant;
    if (all?.kind === "pronoun" && several !== null && !isFastener(several)) {
      const action = isPlug(several) ? "unplug" : removal(several.classes);
      if (action === "none") return false;
      emit(state, clause, index, {
        action: action as DraftAction,
        object: objectText(state, several),
        np: several,
        count: all.count,
      });
      return true;
    }
    // "Two coax leads. Off."
    const named = state.mentions.at(-1);
    if (
      named !== undefined &&
      named.clause === index - 1 &&
      (named.strong || clause.before === 1) &&
      isPlug(named.np) &&
      off === "off"
    ) {
      emit(state, clause, index, {
        action: "unplug",
        object: objectText(state, named.np),
        np: named.np,
        count: countOf(named.np),
      });
      return true;
    }
    // "Selfie camera unplugged, out": what the sentence was about.
    const goes =
      clause.before <= 1 &&
      state.lastActionClause === index - 1 &&
      state.lastAction !== "lift" &&
      state.lastAction !== "unscrew"
        ? state.focus
        : null;
    const fresh =
      goes !== null
        ? goes
        : state.topic !== null && index - state.topicClause <= 4
          ? state.topic
          : be
            ? referent(state, args.subjectPronoun ?? "it", index)
            : null;
    const np = fresh ?? (state.lastActionClause === index - 1 ? state.focus : null);
    if (
      np === null ||
      (np.unknown && be) ||
      !workable(np) ||
      isTool(np) ||
      np.classes.includes("device") ||
      np.classes.includes("side")
    )
      return false;
    emit(state, clause, index, {
      action: removal(np.classes) as DraftAction,
      object: objectText(state, np),
      np,
      count: null,
    });
    return true;
  }
  let any = false;
  for (const { np: said } of nouns) {
    const whole = completed(state, said);
    // "Daughterboard: flex off": the flex of what was just named.
    const np =
      isPlug(whole) &&
      whole.owner === null &&
      whole.of === null &&
      whole.mods.length === 0 &&
      clause.before === 1 &&
      state.topic !== null &&
      state.topicClause === index - 1
        ? { ...whole, of: state.topic }
        : whole;
    if (isTool(np) && !np.classes.includes("part")) continue;
    // "The battery plug is off its socket."
    if (/^(?:socket|connector|header)$/.test(np.head) && np.det === "its" && any) continue;
    if (isFastener(np)) {
      unscrew(state, clause, args, index, np, {});
      any = true;
      continue;
    }
    if (
      np.classes.includes("device") ||
      np.classes.includes("side") ||
      np.classes.includes("abstract") ||
      np.classes.includes("place") ||
      (np.unknown && be)
    )
      continue;
    // "Three pull tabs … first one out, second one": told with the pulling.
    const pulled =
      said.elided &&
      np.classes.includes("tab") &&
      state.entries.slice(-6).some((one) => one.action === "peel" && index - one.clause <= 8 && (one.count ?? 1) > 1);
    if (pulled) return true;
    // "Power key flex out", once that key was unplugged: the cable itself.
    const cable = off !== "off" && /^(?:flex|cable|lead|ribbon|wire)$/.test(np.head) ? { ...np, owner: null } : np;
    // "I'm going to peel the graphite off, and the graphite's off": the one is the other.
    const filmOff = state.entries
      .slice(-6)
      .findLast((one) => one.action === "peel" && sameName(one.object, nounText(np)));
    const announced = filmOff?.tentative === true && index - filmOff.clause <= 4;
    // "Battery off first.": while its glue has not been touched it is its plug that comes off.
    const glued = state.entries
      .slice(-RECENT)
      .some(
        (one) =>
          /^(?:unplug|wet|slice|peel|debond|pry|unscrew)$/.test(one.action) && sameName(one.object, nounText(np)),
      );
    const plugged = np.role === "battery" && off === "off" && !glued;
    const action = plugged
      ? "unplug"
      : announced
        ? "peel"
        : freed(state, cable, index)
          ? "lift"
          : isPlug(np)
            ? "unplug"
            : removal(np.classes);
    if (action === "none") continue;
    emit(state, clause, index, {
      action: action as DraftAction,
      object: objectText(state, np),
      np,
      count: countOf(np),
    });
    any = true;
  }
  return any;
}

const WORKING: Standing = {
  work: true,
  figures: true,
  earlier: false,
  tentative: false,
  conditional: false,
  negated: false,
};

/** Tools and liquids brought to a part without a verb: "hot air on the front can", "a drop of alcohol under the motor". */
export function brought(
  state: State,
  clause: Clause,
  args: Arguments,
  index: number,
  nouns: readonly (Thing & { kind: "noun" })[],
): boolean {
  // "In with a plastic card."
  const within = /^ (?:and |so |then )?in with /.test(clauseWords(state, clause)) ? args.phrases[0]?.thing : undefined;
  if (within?.kind === "noun" && within.np.classes.includes("cutter")) {
    state.insert = tookUp(state, clause, index, within.np, null);
    return true;
  }
  let thing =
    nouns.find((one) =>
      one.np.classes.some((cls) => cls === "heater" || cls === "solvent" || cls === "suction" || cls === "cutter"),
    ) ?? nouns.find((one) => one.np.classes[0] === "tool" && one.np.head !== "screwdriver" && one.np.head !== "driver");
  const where = place(args);
  const words = clauseWords(state, clause);
  if (/ over $/.test(words) && nouns.some((one) => one.np.classes.includes("device"))) {
    emit(state, clause, index, { action: "turn", object: nounText(nouns[0]!.np), np: nouns[0]!.np });
    return true;
  }
  // "Quick scrape round the frame."
  const swept = / (?:quick|good|little|gentle|bit of a|final) (?:scrape|wipe|clean|brush|rub|scrub|swab) /.test(words);
  if (clause.group === null && swept && where !== null) {
    emit(state, clause, index, { action: "clean", object: nounText(where), np: where, tool: args.tool });
    return true;
  }
  // "A bit of tape over the lenses."
  const cover = nouns.find((one) => one.np.classes[0] === "film" || /^(?:tape|card|paper|cloth)$/.test(one.np.head));
  const covered = args.phrases.find(
    ({ prep, thing: one }) =>
      /^(?:over|across|around)$/.test(prep) &&
      one.kind === "noun" &&
      (workable(one.np) || /^(?:hole|lens|pin|contact|port|slot)s?$/.test(one.np.head)) &&
      one.np.classes[0] !== "glue",
  )?.thing;
  const peeled = state.tokens
    .slice(clause.j, clause.j + 4)
    .some(({ w }) => /^(?:peel|peeled|peeling|pull|comes?|goes)$/.test(w));
  if (clause.group === null && !peeled && cover !== undefined && covered?.kind === "noun" && !isTool(covered.np)) {
    emit(state, clause, index, {
      action: "guard",
      object: objectText(state, covered.np),
      np: covered.np,
      tool: cover.np,
    });
    return true;
  }
  // "Face up on the hot plate", "phone on the mat".
  const plate = args.phrases.find(
    ({ prep, thing: one }) =>
      /^(?:on|onto|under)$/.test(prep) && one.kind === "noun" && one.np.classes.includes("heater"),
  )?.thing;
  // "And a third time on the plate", "back on the mat for another minute": what was warmed before, on what it lay on then.
  const warmed = state.entries.slice(-12).findLast((one) => one.action === "heat" && one.np !== null);
  const onto = args.phrases.find(
    ({ prep, thing: one }) =>
      /^(?:on|onto)$/.test(prep) &&
      one.kind === "noun" &&
      (one.np.classes.includes("heater") || warmed?.text.toLowerCase().includes(` ${one.np.head}`) === true),
  )?.thing;
  if (
    warmed !== undefined &&
    index - warmed.clause <= 12 &&
    thing === undefined &&
    onto?.kind === "noun" &&
    !nouns.some((one) => one.np.classes.some((cls) => /^(?:part|film|plug|device)$/.test(cls))) &&
    / (?:time|another|again|more|back|same) /.test(words) &&
    warmed.clause < index - 1
  ) {
    emit(state, clause, index, { action: "heat", object: warmed.object, np: warmed.np, tool: onto.np, fresh: true });
    return true;
  }
  // "One minute with the warm bag on the reader", "thirty seconds of hot air on the can".
  const source = args.phrases.find(
    ({ prep, thing: one }) =>
      /^(?:with|of|from|under)$/.test(prep) && one.kind === "noun" && one.np.classes.includes("heater"),
  )?.thing;
  if (
    thing === undefined &&
    source?.kind === "noun" &&
    where !== null &&
    !where.classes.includes("heater") &&
    args.quantities.some(({ q }) => q.quantity === "duration")
  ) {
    const on = { prep: "on", thing: { kind: "noun" as const, np: where, i: clause.i } };
    perform(state, clause, { ...args, phrases: [on] }, WORKING, index, "heat", source.np, null);
    return true;
  }
  // "The mat is at 75 degrees. Tablet on it."
  const onIt = args.phrases.some(
    ({ prep, thing: one }) => /^(?:on|onto)$/.test(prep) && one.kind === "pronoun" && /^(?:it|that|there)$/.test(one.w),
  );
  const hot = state.entries.at(-1);
  if (
    thing === undefined &&
    onIt &&
    clause.group === null &&
    nouns.length === 1 &&
    workable(nouns[0]!.np) &&
    (state.heaterClause === index - 1 || (hot?.np?.classes.includes("heater") === true && index - hot.clause <= 3))
  ) {
    emit(state, clause, index, { action: "heat", object: nounText(nouns[0]!.np), np: nouns[0]!.np });
    return true;
  }
  const warm = state.entries
    .slice(-12)
    .some(
      (one) => one.action === "heat" || one.quantity === "temperature" || one.np?.classes.includes("heater") === true,
    );
  const justMat = plate?.kind === "noun" && nounText(plate.np).toLowerCase() === "mat" && !warm;
  if (
    thing === undefined &&
    plate?.kind === "noun" &&
    !justMat &&
    (/ face (?:up|down) /.test(words) || nouns.length === 1)
  ) {
    const np = nouns.find((one) => workable(one.np))?.np ?? state.device;
    emit(state, clause, index, { action: "heat", object: nounText(np), np, tool: plate.np });
    return true;
  }
  // "Cup on the screen. Pull."
  const cup =
    thing === undefined && clause.group === null
      ? nouns.find(
          (one) =>
            one.np.head === "cup" &&
            one.np.mods.length === 0 &&
            args.phrases.some(
              ({ prep, thing: at }) =>
                /^(?:on|near|by|at)$/.test(prep) &&
                at.kind === "noun" &&
                (/^(?:display|back-cover)$/.test(at.np.role ?? "") ||
                  /^(?:back|front|screen|glass|panel)$/.test(at.np.head)),
            ),
        )
      : undefined;
  thing ??= cup;
  if (thing === undefined) return false;
  // "So heat from behind".
  if (thing.np.text.toLowerCase() === "heat" && / (?:from|underneath|again|on) /.test(words) && where === null) {
    const np = (state.topic?.classes.includes("part") ? state.topic : null) ?? state.focus ?? state.topic;
    if (np !== null) emit(state, clause, index, { action: "heat", object: nounText(np), np });
    return np !== null;
  }
  const has = (cls: NounClass) => thing.np.classes.includes(cls) || (cls === "suction" && cup !== undefined);
  // "Spudger under the front camera. And lever."
  const lever = args.phrases.find(
    ({ prep, thing: one }) =>
      /^(?:under|underneath|beneath|behind|between)$/.test(prep) &&
      one.kind === "noun" &&
      workable(one.np) &&
      !isTool(one.np),
  )?.thing;
  if (has("tool") && clause.group === null && lever?.kind === "noun") {
    state.insert = tookUp(state, clause, index, thing.np, lever.np);
    return true;
  }
  if (has("suction")) {
    // "Near the bottom of the back": of the back.
    const whole = args.phrases.find(
      ({ thing: one }) => one.kind === "noun" && one.np.classes[0] === "side" && one.np.of !== null,
    )?.thing;
    state.suction = tookUp(
      state,
      clause,
      index,
      thing.np,
      (whole?.kind === "noun" ? whole.np.of : null) ?? where ?? openedPart(state) ?? state.topic ?? state.focus,
    );
    return true;
  }
  if (
    has("heater") &&
    (where !== null ||
      (nouns.some((one) => one !== thing && workable(one.np)) && args.quantities.length > 0) ||
      args.quantities.some(({ q }) => q.quantity === "temperature"))
  ) {
    const target = where ?? nouns.find((one) => one !== thing)?.np ?? state.topic;
    if (target === null || target === undefined) return false;
    perform(
      state,
      clause,
      { ...args, phrases: [{ prep: "on", thing: { kind: "noun", np: target, i: clause.i } }] },
      WORKING,
      index,
      "heat",
      thing.np,
      null,
    );
    return true;
  }
  if (has("solvent") && (where !== null || / (?:under|on|behind|in|into) (?:it|there|them) /.test(words))) {
    const target = besideSide(state, where) ?? referent(state, "it", index) ?? state.topic;
    if (target !== null)
      emit(state, clause, index, { action: "wet", object: nounText(target), np: target, tool: thing.np });
    return target !== null;
  }
  const under = args.phrases.find(
    ({ prep, thing }) => /^(?:under|underneath|beneath|behind)$/.test(prep) && thing.kind === "pronoun",
  )?.thing;
  if (
    has("cutter") &&
    (!has("part") ||
      (where !== null && thing.np.text.toLowerCase() === "card" && where.head !== "card") ||
      under !== undefined ||
      / (?:under|underneath|beneath|behind|in|around|round) $/.test(words)) &&
    [...args.particles].some((one) =>
      /^(?:around|round|along|through|across|under|underneath|beneath|behind|up|down|over)$/.test(one),
    )
  ) {
    const target = (under?.kind === "pronoun" ? referent(state, under.w, index) : null) ?? sliceTarget(state, where);
    if (target !== null)
      emit(state, clause, index, { action: "slice", object: nounText(target), np: target, tool: thing.np });
    return target !== null;
  }
  const seam = args.phrases.some(
    ({ prep, thing: one }) =>
      /^(?:in|into|under|behind|between)$/.test(prep) &&
      one.kind === "noun" &&
      (one.np.classes[0] === "gap" || one.np.classes[0] === "side"),
  );
  if (
    has("cutter") &&
    (seam || / card in $/.test(words) || (!has("part") && / in (?:goes |go |again |now |there |here )?$/.test(words)))
  ) {
    state.insert = tookUp(state, clause, index, thing.np, where);
    return true;
  }
  return false;
}
