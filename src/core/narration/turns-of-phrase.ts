/** Work told by a turn of phrase: counted out, held up, left in. Each is tried in turn; true where the clause was one of them. */
import type { Arguments, Thing } from "./arguments.ts";
import type { Clause } from "./clauses.ts";
import { emit } from "./emit.ts";
import { noteScrews } from "./fasteners.ts";
import type { Standing } from "./filters.ts";
import { completed, isFastener, isPlug, nounText, objectText, referent } from "./objects.ts";
import { clauseWords, type State, simplePhrase } from "./state.ts";
import { openedPart, place, placed, sliceTarget, took, tookUp } from "./targets.ts";

type Noun = Thing & { readonly kind: "noun" };

/** Counts and lists: "that's three out of the shield", "that's the display, and that's the torch", "four plugs". */
export function countedOut(
  state: State,
  clause: Clause,
  args: Arguments,
  stand: Standing,
  index: number,
  all: readonly Noun[],
  off: string | null,
): boolean {
  const words = clauseWords(state, clause);
  const be = clause.group?.base === "be";
  // "Unplug the speakers. Four plugs."
  const plugs = all[0];
  const just = state.entries.at(-1);
  if (
    clause.group === null &&
    all.length === 1 &&
    plugs !== undefined &&
    isPlug(plugs.np) &&
    plugs.np.owner === null &&
    (plugs.np.count ?? 0) > 1 &&
    /^(?:plug|connector|cable|lead|flex)$/.test(plugs.np.head) &&
    just?.action === "unplug" &&
    just.clause === index - 1 &&
    just.count === undefined &&
    args.phrases.length === 0
  ) {
    just.count = plugs.np.count!;
    return true;
  }
  // "Loudspeaker, six screws, no, five. Five out."
  const open = state.pending;
  if (
    clause.group === null &&
    stand.work &&
    args.numbers.length === 1 &&
    all.length === 0 &&
    open !== null &&
    !open.used &&
    open.holder !== null &&
    index - open.clause <= 6 &&
    (open.count === args.numbers[0] || open.count === null) &&
    / (?:out|off|gone|done) $/.test(words)
  ) {
    open.used = true;
    const { holder: np, at, text } = open;
    emit(state, clause, index, {
      action: "unscrew",
      object: objectText(state, np),
      np,
      count: args.numbers[0]!,
      at,
      text,
    });
    return true;
  }
  // "That's three out of the camera shield."
  const source = args.phrases.find(
    ({ prep, thing }) => /^(?:out of|from)$/.test(prep) && thing.kind === "noun" && thing.np.classes.includes("part"),
  )?.thing;
  const some = clause.elements.find((one) => one.kind === "number" || (one.kind === "pronoun" && one.count !== null));
  const many = some?.kind === "number" ? some.value : some?.kind === "pronoun" ? some.count : null;
  if (
    (be || clause.group === null) &&
    all.every((one) => !isFastener(one.np)) &&
    stand.work &&
    source?.kind === "noun" &&
    many !== null &&
    many > 0 &&
    Number.isInteger(many) &&
    args.quantities.length === 0
  ) {
    const np = completed(state, source.np);
    emit(state, clause, index, { action: "unscrew", object: objectText(state, np), np, count: many });
    return true;
  }
  // "That's the camera unplugged, that's the display, and that's the torch."
  const listed = args.objects[0];
  if (
    be &&
    stand.work &&
    args.subjectPronoun === "that" &&
    listed?.kind === "noun" &&
    args.objects.length === 1 &&
    args.phrases.length === 0 &&
    listed.np.classes.some((cls) => cls === "part" || cls === "plug") &&
    state.lastAction === "unplug" &&
    state.lastActionClause === index - 1 &&
    off === null
  ) {
    emit(state, clause, index, { action: "unplug", object: objectText(state, listed.np), np: listed.np });
    return true;
  }
  // "Pull the left strip. Slow. Keep going. Then the right strip."
  const strip = all[0];
  const pulled = state.entries.at(-1);
  if (
    clause.group === null &&
    stand.work &&
    all.length === 1 &&
    strip?.np.classes[0] === "tab" &&
    clause.lead.includes("then") &&
    pulled?.action === "peel" &&
    index - pulled.clause <= 6
  ) {
    emit(state, clause, index, { action: "peel", object: nounText(strip.np), np: strip.np, fresh: true });
    return true;
  }
  // "Six holding the main board", "two little ones in that".
  const held =
    clause.group?.sort === "hold" && clause.group.form === "ing" && args.numbers.length === 1 && args.numbers[0]! > 0
      ? args.objects.find(
          (one): one is Thing & { kind: "noun" } => one.kind === "noun" && one.np.classes.includes("part"),
        )
      : undefined;
  const few = all.find((one) => one.np.elided && (one.np.count ?? 0) > 0 && /^(?:one|ones)$/.test(one.np.head));
  const inThat = args.phrases.some(
    ({ prep, thing }) =>
      /^(?:in|on|into)$/.test(prep) && thing.kind === "pronoun" && /^(?:it|that|this|there)$/.test(thing.w),
  );
  if (held !== undefined && stand.work) {
    noteScrews(
      state,
      clause,
      args,
      index,
      { ...simplePhrase("screws", ["fastener"]), count: args.numbers[0]!, plural: true },
      [held],
    );
    return true;
  }
  if (few !== undefined && inThat && clause.group === null && stand.work && state.topic !== null) {
    noteScrews(
      state,
      clause,
      args,
      index,
      { ...simplePhrase("screws", ["fastener"]), count: few.np.count, plural: true, of: state.topic },
      [],
    );
    return true;
  }
  // "Blue pick in the gap. Down the left side.": how the tool goes on.
  const along =
    clause.group === null &&
    all.length === 0 &&
    args.phrases.length > 0 &&
    args.phrases.every(
      ({ prep, thing }) =>
        /^(?:down|up|along|around|round|across|over|through)$/.test(prep) &&
        thing.kind === "noun" &&
        thing.np.classes[0] === "side",
    );
  const round = clause.group === null && all.length === 0 && / (?:all|right) (?:the way )?(?:a?round) $/.test(words);
  if ((along || round) && stand.work && state.insert !== null && index - state.insert.clause <= 3) {
    const target = sliceTarget(state, place(args));
    if (target !== null) {
      const since = took(state, index);
      emit(state, clause, index, { ...since, action: "slice", object: nounText(target), np: target });
      return true;
    }
  }
  // "Thin blade in the seam. Now there is a gap.", "I pull, and there is our gap."
  const gap =
    / there (?:is|are) /.test(words) &&
    clause.elements.some((one) => one.kind === "noun" && one.np.classes[0] === "gap");
  if (gap && stand.work) {
    if (state.suction !== null) placed(state, clause, index);
    else if (state.insert !== null && index - state.insert.clause <= 3) {
      const target = sliceTarget(state, state.insert.target);
      const since = took(state, index);
      if (target !== null)
        emit(state, clause, index, { ...since, action: "pry", object: nounText(target), np: target });
    }
  }
  return false;
}

/** What somebody has in hand or on the plate, and what is up: "I've had the pick round", "the battery's up". */
export function inHand(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): boolean {
  const words = clauseWords(state, clause);
  const be = clause.group?.base === "be";
  const cup = args.objects.find((one) => one.kind === "noun" && one.np.classes.includes("suction"));
  if (
    clause.group?.base === "have" &&
    cup?.kind === "noun" &&
    stand.work &&
    /^(?:i|we)$/.test(args.subjectPronoun ?? "")
  ) {
    state.suction = tookUp(
      state,
      clause,
      index,
      cup.np,
      place(args) ?? openedPart(state) ?? state.topic ?? state.focus,
    );
    return true;
  }
  // "I've had the pick round all four sides."
  const pick = args.objects.find(
    (one): one is Thing & { kind: "noun" } => one.kind === "noun" && one.np.classes.includes("cutter"),
  );
  if (
    clause.group?.base === "have" &&
    pick !== undefined &&
    stand.work &&
    args.phrases.some(({ prep }) => /^(?:round|around|along|under|through|behind)$/.test(prep))
  ) {
    const target = sliceTarget(state, place(args));
    if (target !== null)
      emit(state, clause, index, { action: "slice", object: nounText(target), np: target, tool: pick.np });
    return true;
  }
  // "I've had it on the hot plate for five minutes."
  const plate = args.phrases.find(
    ({ prep, thing }) =>
      /^(?:on|under|over)$/.test(prep) && thing.kind === "noun" && thing.np.classes.includes("heater"),
  )?.thing;
  const warmed = args.objects[0];
  if (
    clause.group?.base === "have" &&
    plate?.kind === "noun" &&
    warmed !== undefined &&
    stand.work &&
    /^(?:i|we)$/.test(args.subjectPronoun ?? "")
  ) {
    const np =
      warmed.kind === "noun"
        ? completed(state, warmed.np)
        : (state.topic ?? referent(state, "it", index) ?? state.device);
    emit(state, clause, index, { action: "heat", object: nounText(np), np, tool: plate.np });
    return true;
  }
  // "Battery's up. In one piece."
  const up = args.subjects.find(
    (one): one is Thing & { kind: "noun" } => one.kind === "noun" && one.np.classes[0] === "part",
  );
  if (
    be &&
    stand.work &&
    up !== undefined &&
    args.subjects.length === 1 &&
    / (?:is|are) (?:now |all )?up $/.test(words)
  ) {
    const np = completed(state, up.np);
    emit(state, clause, index, { action: "lift", object: objectText(state, np), np });
    return true;
  }
  // "A card underneath, and it's up."
  const raised = state.entries.at(-1);
  if (
    be &&
    stand.work &&
    / it is up $/.test(words.replace(/ (?:now|then|so|okay) /g, " ")) &&
    raised !== undefined &&
    /^(?:pry|slice)$/.test(raised.action) &&
    raised.np?.classes.includes("part") === true &&
    index - raised.clause <= 2
  ) {
    emit(state, clause, index, { action: "lift", object: raised.object, np: raised.np });
    return true;
  }
  return false;
}
