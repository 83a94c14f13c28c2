/** Clauses with a verb of work: what is done to what. */
import type { Arguments, Thing } from "./arguments.ts";
import type { Clause } from "./clauses.ts";
import type { DraftAction } from "./draft.ts";
import { emit } from "./emit.ts";
import { noteScrews } from "./fasteners.ts";
import type { Standing } from "./filters.ts";
import { completed, isFastener, isTool, nounText, objectText, workable } from "./objects.ts";
import { perform, withoutObject } from "./perform.ts";
import { senseOf } from "./senses.ts";
import { clauseWords, mention, type State } from "./state.ts";
import { openedPart, placed, tookUp } from "./targets.ts";
import { fronted, resolveThings } from "./things.ts";

const INTRANSITIVE =
  /^(?:tip|jump|hop|float|let|come|go|fall|drop|pop|slide|lift|slip|peel|pull|snap|break|crack|swing|unclip|unhook|unsnap|wiggle|twist|clip|fold|tilt|tear|hinge|flip|split|separate|open|spring|release|detach|free)$/;

export function verbWork(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): void {
  const group = clause.group!;
  const particles = new Set(args.particles);
  const toolSubject = args.subjects.find(
    (one): one is Thing & { kind: "noun" } =>
      one.kind === "noun" && isTool(one.np) && !args.objects.some((o) => o.kind === "noun" && isTool(o.np)),
  );
  // "I pop it on the scales": weighed, and nothing done to it.
  const weighed = args.phrases.some(
    ({ prep, thing }) =>
      /^(?:on|onto|across)$/.test(prep) && thing.kind === "noun" && thing.np.classes.includes("gauge"),
  );
  if (weighed && !/^(?:heat|warm|wet|clean|cut)$/.test(group.base)) return;
  // "Over on its face it goes."
  if (
    /^ (?:and |so |right |then )*over /.test(clauseWords(state, clause)) &&
    group.base === "go" &&
    stand.work &&
    args.subjects.every((one) => one.kind === "pronoun")
  ) {
    emit(state, clause, index, { action: "turn", object: nounText(state.device), np: state.device });
    return;
  }
  // "Battery plug first. Pop it up.": how it was done.
  const lastWork = state.entries.at(-1);
  if (
    lastWork?.action === "unplug" &&
    state.lastActionClause >= index - 1 &&
    clause.before >= 2 &&
    args.objects.length === 1 &&
    args.objects[0]!.kind === "pronoun" &&
    args.objects[0]!.w === "it" &&
    /^(?:pop|lever|flick|pry|prise|unplug|disconnect|snap|lift)$/.test(group.base) &&
    ![...particles].some((one) => /^(?:out|away)$/.test(one)) &&
    state.lastPlug
  )
    return;
  // "The third one broke": an accident, and no work.
  if (
    /^(?:break|crack|tear|snap|split|soften|melt)$/.test(group.base) &&
    args.objects.length === 0 &&
    !group.passive &&
    !particles.has("off") &&
    !particles.has("out") &&
    !particles.has("open")
  )
    return;
  // "I broke it.": an accident as well.
  if (
    /^(?:break|crack|tear)$/.test(group.base) &&
    group.form === "past" &&
    args.objects.every((one) => one.kind === "pronoun")
  )
    if (![...particles].some((one) => /^(?:off|out|open|away)$/.test(one))) return;
  // "I pull the first one, and that came out": told with the pulling.
  const pulled = state.entries.at(-1);
  if (
    /^(?:come|go)$/.test(group.base) &&
    args.objects.length === 0 &&
    args.subjects.every((one) => one.kind === "pronoun") &&
    pulled?.action === "peel" &&
    pulled.np?.classes.includes("tab") === true &&
    index - pulled.clause <= 2
  )
    return;
  let things: readonly Thing[] = args.objects.filter(
    (one) => one.kind !== "noun" || (one.np.count !== 0 && one.np.head !== "nothing"),
  );
  let intransitive = false;
  if (
    group.passive ||
    (group.form === "past" &&
      !group.helped &&
      args.objects.length === 0 &&
      args.subjects.some((one) => one.kind === "noun"))
  )
    things = args.subjects.length > 0 ? withAdded(clause, args) : things;
  else if (
    things.length === 0 &&
    args.subjects.length > 0 &&
    (INTRANSITIVE.test(group.base) || args.subjects.some((one) => one.kind === "noun" && isFastener(one.np)))
  ) {
    things = args.subjects;
    intransitive = true;
  } else if (things.length === 0 && args.subjectPronoun !== null && /^(?:i|we)$/.test(args.subjectPronoun)) {
    const nouns = args.subjects.filter((one) => one.kind === "noun" || one.count !== null);
    if (nouns.length > 0) things = nouns;
  }
  if (
    intransitive &&
    /^(?:break|crack|tear|snap|split)$/.test(group.base) &&
    !particles.has("out") &&
    !particles.has("off")
  )
    return;
  if (things.length === 0 && args.subjectPronoun === "they" && INTRANSITIVE.test(group.base) && !group.passive) {
    things = [{ kind: "pronoun", w: "they", count: null, i: clause.i }];
    intransitive = true;
  }
  // "There is some thermal tape that I peel off".
  if (things.length === 0 && state.relative !== null && /^(?:i|we)$/.test(args.subjectPronoun ?? ""))
    things = [{ kind: "noun", np: state.relative, i: clause.i }];
  // "Two leads underneath, which I've just flicked off".
  const screwsNamed = state.pending !== null && !state.pending.used && index - state.pending.clause <= 1;
  const which =
    things.length === 0 && !screwsNamed && clause.lead[0] === "which" && /^(?:i|we)$/.test(args.subjectPronoun ?? "");
  const led = which ? state.mentions.findLast((one) => one.clause === index - 1 && workable(one.np)) : undefined;
  if (led !== undefined) things = [{ kind: "noun", np: led.np, i: clause.i }];
  // "The stub pulls out the top": where it comes out.
  const own = args.subjects.filter((one) => one.kind === "noun");
  if (
    own.length > 0 &&
    things === args.objects &&
    things.length > 0 &&
    group.form === "s" &&
    INTRANSITIVE.test(group.base) &&
    [...particles].some((one) => /^(?:out|off|up|away)$/.test(one)) &&
    things.every((one) => one.kind === "noun" && one.np.classes[0] === "side")
  ) {
    things = own;
    intransitive = true;
  }
  // "That's peeling off the frame now."
  if (
    group.progressive &&
    /^(?:it|that|this)$/.test(args.subjectPronoun ?? "") &&
    /^(?:peel|come|slide|lift|lever|drop|pop)$/.test(group.base)
  ) {
    things = [{ kind: "pronoun", w: args.subjectPronoun!, count: null, i: clause.i }];
    intransitive = true;
  }
  // "Left tab. Slow. It came.", "the right strip is coming": it was pulled.
  const strip =
    group.base === "come" &&
    (group.form === "past" || group.form === "ing") &&
    ![...particles].some((one) => /^(?:up|away)$/.test(one))
      ? (args.subjects.find(
          (one): one is Thing & { kind: "noun" } => one.kind === "noun" && one.np.classes[0] === "tab",
        )?.np ??
        (/^(?:it|that)$/.test(args.subjectPronoun ?? "")
          ? state.mentions.findLast((one) => index - one.clause <= 3 && one.clause > state.lastActionClause)?.np
          : undefined))
      : undefined;
  if (strip?.classes[0] === "tab" && stand.work) {
    emit(state, clause, index, { action: "peel", object: nounText(strip), np: strip });
    return;
  }
  // "One screw, and the card comes."
  const bareCome =
    group.base === "come" &&
    group.form === "s" &&
    args.objects.length === 0 &&
    args.phrases.length === 0 &&
    particles.size === 0;
  const comes = args.subjects.find(
    (one): one is Thing & { kind: "noun" } => one.kind === "noun" && one.np.classes[0] === "part",
  );
  if (
    bareCome &&
    comes !== undefined &&
    stand.work &&
    / comes $/.test(clauseWords(state, clause)) &&
    !clause.lead.includes("next")
  ) {
    perform(state, clause, args, stand, index, "remove", completed(state, comes.np), null);
    return;
  }
  const there = /^ (?:and )?there (?:goes|go) /.test(clauseWords(state, clause)) ? things[0] : undefined;
  if (there?.kind === "noun" && stand.work) {
    // "There goes the cover".
    perform(state, clause, args, stand, index, "remove", completed(state, there.np), null);
    return;
  }
  // "Four screws freed the heat sink".
  const screws = args.subjects.find(
    (one): one is Thing & { kind: "noun" } => one.kind === "noun" && isFastener(one.np),
  );
  if (
    screws !== undefined &&
    things !== args.subjects &&
    /^(?:free|release|loosen)$/.test(group.base) &&
    things[0]?.kind === "noun" &&
    stand.work
  ) {
    emit(state, clause, index, {
      action: "unscrew",
      object: objectText(state, things[0].np),
      np: things[0].np,
      count: screws.np.count,
    });
    return;
  }
  // "The suction cup goes on the display, lower right corner".
  if (
    toolSubject !== undefined &&
    group.base === "go" &&
    things.every((one) => one.kind === "noun" && one.np.classes[0] === "side")
  )
    things = args.subjects;
  // "A suction cup on the back, and lift it slightly": the gap, and not the part.
  const cup = state.suction;
  if (
    cup !== null &&
    index - cup.clause <= 2 &&
    /^(?:lift|pull|raise|tug)$/.test(group.base) &&
    stand.work &&
    things.length > 0 &&
    (things.every((one) => one.kind === "pronoun") ||
      (particles.has("up") && cup.clause === index - 1 && things.length === 1 && group.infinitive)) &&
    ![...particles].some((one) => /^(?:out|off|away|free)$/.test(one))
  ) {
    const opened = things[0];
    if (opened?.kind === "noun") state.suction = { ...cup, target: completed(state, opened.np) };
    placed(state, clause, index);
    return;
  }
  // "… and it comes up easily": how the peeling went.
  const just = state.entries.at(-1);
  if (
    group.base === "come" &&
    args.particles.has("up") &&
    args.subjectPronoun === "it" &&
    just !== undefined &&
    /^(?:peel|pry|slice)$/.test(just.action) &&
    index - just.clause <= 2
  )
    return;
  const onlyManner =
    things.length > 0 &&
    things.every(
      (one) => one.kind === "noun" && (one.np.classes.includes("place") || one.np.classes.includes("abstract")),
    );
  if (onlyManner && fronted(state, index).length > 0 && /^(?:i|we)$/.test(args.subjectPronoun ?? "")) things = [];
  // "Pulling on that".
  if (things.length === 0 && /^(?:pull|tug|yank)$/.test(group.base)) {
    const on = args.phrases.find(({ prep }) => prep === "on");
    const cup = state.suction !== null && index - state.suction.clause <= 3;
    if (on !== undefined && !(cup && on.thing.kind === "pronoun")) things = [on.thing];
  }
  // "I take my opening tool and pop the clips": the work begins with taking it up.
  const taken = things[0];
  if (
    /^(?:take|grab|use|get)$/.test(group.base) &&
    taken?.kind === "noun" &&
    taken.np.classes.includes("suction") &&
    state.tokens[clause.j]?.w === "and" &&
    stand.work
  ) {
    state.suction = tookUp(state, clause, index, taken.np, openedPart(state) ?? state.topic ?? state.focus);
    return;
  }
  if (
    /^(?:take|grab|use|get|pick)$/.test(group.base) &&
    taken?.kind === "noun" &&
    isTool(taken.np) &&
    !taken.np.classes.includes("heater") &&
    state.tokens[clause.j]?.w === "and" &&
    stand.work
  )
    state.insert = tookUp(state, clause, index, taken.np, null);
  if (
    /^(?:take|grab|use|get|pick)$/.test(group.base) &&
    taken?.kind === "noun" &&
    isTool(taken.np) &&
    state.tokens[clause.j]?.w === "to"
  ) {
    state.handy = taken.np;
    state.handyClause = index;
  }
  if (args.objects.some((one) => one.kind === "noun" && one.np.classes[0] === "film"))
    for (const { prep } of args.phrases) if (/^(?:on|over|across)$/.test(prep)) particles.add(prep);
  if (/ belly (?:up|down) /.test(clauseWords(state, clause))) particles.add("face");
  if (/ to (?:the|one) side /.test(clauseWords(state, clause))) particles.add("aside");
  if (toolSubject !== undefined) particles.add("cutter");
  for (const { thing } of args.phrases)
    if (thing.kind === "noun")
      for (const cls of thing.np.classes)
        if (/^(?:heater|cutter|tool|holder|suction|supply)$/.test(cls))
          particles.add(cls === "suction" || cls === "cutter" ? "tool" : cls);
  if (args.phrases.some(({ thing }) => thing.kind === "noun" && thing.np.classes.includes("cutter")))
    particles.add("cutter");
  if (args.tool !== null) particles.add("tool");
  if (state.insert !== null && index - state.insert.clause <= 2) {
    particles.add("cutter");
    particles.add("tool");
  }
  if (args.objects.some((one) => one.kind === "noun" && one.np.classes.includes("clip"))) particles.add("clip");
  const shape = clauseWords(state, clause);
  if (
    / (?:like|as|of) (?:(?:a|an|the) )?(?:\w+ )?(?:book|door|page|cover)| (?:to|towards?) the (?:left|right|side) /.test(
      shape,
    ) &&
    group.base === "open"
  )
    particles.add("swing");
  // "Put 12 volts across the tabs".
  const volts = args.quantities.find(({ q }) => q.quantity === "voltage");
  const read = args.subjects.some(
    (one) =>
      one.kind === "noun" &&
      (/^(?:label|sticker|print|plate|text|meter|marking)$/.test(one.np.head) || one.np.classes.includes("gauge")),
  );
  if (volts !== undefined && !read && senseOf(group.base, new Set(["supply"]), particles) === "debond") {
    if (!stand.work) return;
    const target = args.phrases.find(({ thing }) => thing.kind === "noun")?.thing;
    const np = target?.kind === "noun" ? target.np : (state.topic ?? state.focus ?? state.device);
    const battery =
      state.topic !== null && /battery|cell|glue|adhesive/i.test(nounText(state.topic)) ? state.topic : np;
    emit(state, clause, index, {
      action: "debond",
      object: /tab|contact|strip|glue|adhesive/.test(np.head) ? nounText(np) : nounText(battery),
      np,
    });
    state.focus = np;
    return;
  }
  // "Beneath it sits a steel plate": what is spoken of from here on.
  const next = args.subjects.find((one) => one.kind === "noun" && one.np.classes.includes("part"));
  if (
    /^(?:come|go)$/.test(group.base) &&
    next?.kind === "noun" &&
    / (?:next|now|last) $/.test(shape) &&
    !args.particles.has("off") &&
    !args.particles.has("out")
  ) {
    state.topic = completed(state, next.np);
    state.topicClause = index;
    state.focus = state.topic;
    mention(state, state.topic, index, true);
    return;
  }
  const there2 =
    /^(?:sit|lie|rest|come|go|hide)$/.test(group.base) && args.subjects.length === 0 ? things[0] : undefined;
  if (
    there2?.kind === "noun" &&
    there2.np.classes.includes("part") &&
    clause.lead.some((w) => /^(?:beneath|underneath|under|below|behind|next|here)$/.test(w)) &&
    !/^(?:i|we|you)$/.test(args.subjectPronoun ?? "")
  ) {
    state.topic = completed(state, there2.np);
    state.topicClause = index;
    state.focus = state.topic;
    mention(state, state.topic, index, true);
    return;
  }
  // "The magnets are taped in": how they are fixed, and nothing that is done.
  const after = state.tokens[group.j]?.w ?? "";
  const paste = args.phrases.some(({ thing }) => thing.kind === "noun" && thing.np.classes.includes("residue"));
  if (
    group.passive &&
    !group.perfect &&
    ((group.base === "tape" && /^(?:in|down|on|together)$/.test(after)) ||
      (group.base === "cover" && (after === "in" || paste)))
  ) {
    const held = args.subjects[0];
    if (held?.kind === "noun") {
      state.topic = completed(state, held.np);
      state.topicClause = index;
      mention(state, state.topic, index, true);
    }
    return;
  }
  const resolved = resolveThings(state, clause, args, things, index, group.base, particles);
  if (resolved === null) {
    // "The battery sits on three pull tabs."
    const sits = args.subjects.find(
      (one) => one.kind === "noun" && one.np.classes.some((cls) => cls === "part" || cls === "plug"),
    );
    if (sits?.kind === "noun" && /^(?:sit|rest|lie|live)$/.test(group.base)) {
      state.topic = completed(state, sits.np);
      state.topicClause = index;
      mention(state, state.topic, index, true);
      for (const { thing } of args.phrases)
        if (thing.kind === "noun" && workable(thing.np) && !isTool(thing.np))
          mention(state, thing.np, index, thing.np.plural);
      return;
    }
    if (stand.work) withoutObject(state, clause, args, index, particles, toolSubject?.np ?? null);
    return;
  }
  const before = state.entries.at(-1);
  if (
    group.infinitive &&
    before?.action === "slice" &&
    before.clause === index - 1 &&
    resolved.some((np) => np.classes.includes("clip") || np.classes.includes("gap"))
  ) {
    before.action = "pry";
    state.lastAction = "pry";
    return;
  }
  if (!stand.work) {
    // "To remove the motor, apply a little alcohol."
    const aim = group.infinitive && clause.before >= 1 ? resolved.find((np) => np.classes.includes("part")) : undefined;
    if (aim !== undefined) {
      state.topic = aim;
      state.topicClause = index;
      mention(state, aim, index, true);
    }
    for (const np of resolved) if (workable(np) && np !== aim) mention(state, np, index, false);
    for (const { thing } of args.phrases)
      if (thing.kind === "noun" && workable(thing.np)) mention(state, thing.np, index, false);
    return;
  }
  // "In total I removed 29 screws."
  const total = / (?:in total|altogether|in all|all in all) /.test(shape) && resolved.every((np) => isFastener(np));
  if (
    total &&
    resolved.some((np) => (np.count ?? 0) >= 5) &&
    args.phrases.every(({ thing }) => thing.kind !== "noun" || !workable(thing.np))
  )
    return;
  for (const np of resolved) {
    // "I took twelve screws out, small cross head": which screws they are.
    if (
      np.count === null &&
      (np.classes.includes("drive") || np.unknown) &&
      resolved.some((one) => one !== np && isFastener(one))
    )
      continue;
    const classes = new Set<string>(np.classes);
    if (np.unknown) classes.add("thing");
    if (isFastener(np)) classes.add("fastener");
    // "Put the pad on the heat mat": a device, whatever else the word may be.
    if (particles.has("heater") && classes.has("film") && /^(?:put|place|lay|set|rest)$/.test(group.base)) {
      classes.delete("film");
      classes.add("device");
    }
    if (things.some((one) => one.kind === "pronoun")) classes.add("pron");
    if (toolSubject !== undefined && things === args.subjects) classes.add("cutter");
    const first =
      state.waiting !== null && state.waiting.clause === index - 1
        ? senseOf(state.waiting.verb, classes, particles)
        : null;
    if (first !== null && /^(?:unplug|unscrew|pry|heat|peel)$/.test(first))
      emit(state, clause, index, {
        action: first as DraftAction,
        object: objectText(state, np),
        np,
        at: state.waiting!.at,
      });
    // "Let some alcohol down the edge": whatever the verb, a liquid brought to a place wets it.
    const poured =
      np.classes[0] === "solvent" &&
      !intransitive &&
      args.phrases.some(({ prep }) => /^(?:under|along|down|around|round|into|behind|between|onto|over)$/.test(prep));
    const sense = senseOf(group.base, classes, particles) ?? (poured ? "wet" : null);
    if (sense === null && group.base === "get" && screws !== undefined) {
      // "Five screws, got them".
      noteScrews(
        state,
        clause,
        args,
        index,
        screws.np,
        args.subjects.filter((one): one is Thing & { kind: "noun" } => one.kind === "noun"),
      );
      return;
    }
    if (sense === null && isFastener(np) && np.count !== null && !intransitive) {
      // "Next come ten screws in the cover".
      noteScrews(state, clause, args, index, np, []);
      continue;
    }
    if (sense === null || sense === "none") {
      // "The mid-plate is screwed in": what is spoken of.
      const spoken = group.passive && np.classes.includes("part") && things === args.subjects;
      if (spoken) {
        state.topic = np;
        state.topicClause = index;
      }
      if (workable(np)) mention(state, np, index, spoken);
      // "Wiggle the box. And out."
      if (/^(?:wiggle|rock|jiggle|twist|shake|wriggle)$/.test(group.base) && np.classes.includes("part")) {
        state.topic = np;
        state.topicClause = index;
      }
      for (const { thing } of args.phrases)
        if (thing.kind === "noun" && workable(thing.np) && !isTool(thing.np)) mention(state, thing.np, index, false);
      continue;
    }
    perform(state, clause, args, stand, index, sense, np, toolSubject?.np ?? args.tool);
  }
  together(state, clause, args, index);
}

/** "The front camera is unplugged, and the rear camera." */
function withAdded(clause: Clause, args: Arguments): readonly Thing[] {
  const at = clause.group === null ? -1 : clause.elements.indexOf(clause.group);
  const link = clause.elements[at + 1];
  if (link?.kind !== "word" || link.w !== "and") return args.subjects;
  const added = args.objects.filter(
    (one) => one.kind === "noun" && one.np.classes.some((cls) => cls === "part" || cls === "plug"),
  );
  return added.length === 0 ? args.subjects : [...args.subjects, ...added];
}

/** "Together with the graphite sheet": comes off as well. */
export function together(state: State, clause: Clause, args: Arguments, index: number): void {
  const words = clauseWords(state, clause);
  // "Out it comes, with the rear camera", "comes up with the speaker stuck to it".
  const came = clause.group?.base === "come" && / with (?:the|both) /.test(words);
  if (
    !(/ (?:together|along|complete) with /.test(words) || came) ||
    state.lastAction !== "lift" ||
    state.lastActionClause !== index
  )
    return;
  for (const { prep, thing } of args.phrases)
    if (prep === "with" && thing.kind === "noun" && workable(thing.np) && !isTool(thing.np))
      emit(state, clause, index, { action: "lift", object: objectText(state, thing.np), np: thing.np });
}
