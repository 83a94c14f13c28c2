/**
 * A clause to work done: the sense of its verb, the things it is done to, the screws that were spoken of before.
 *
 * What a technician says of one piece of work is often spread over several clauses ("three screws in the lid. Out."; "push
 * a pick in and run it round"): screws named without a verb, a tool put in and a suction cup set are kept until the verb
 * comes, and the entry takes the moment at which the phrase began.
 */

import { type Arguments, argumentsOf, type Thing } from "./arguments.ts";
import type { NounPhrase } from "./chunks.ts";
import type { Clause } from "./clauses.ts";
import type { DraftAction } from "./draft.ts";
import { emit, type Work } from "./emit.ts";
import type { Standing } from "./filters.ts";
import type { NounClass } from "./lexicon/index.ts";
import { ADVERBS, PARTICLES } from "./lexicon/index.ts";
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
import { removal, senseOf } from "./senses.ts";
import { clauseText, clauseWords, mention, type State, simplePhrase } from "./state.ts";

/** How many clauses a thing spoken of waits for its verb. */
const WAITS = 5;
/** Entries looked back at: keeps the time linear in a recording of any length. */
const RECENT = 120;

export function readWork(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): void {
  const group = clause.group;
  if (!stand.earlier && !stand.conditional) noteOfPlace(state, clause, args, stand, index);
  if (group === null || group.sort === "aux" || (group.sort === "hold" && !objectsLikeWork(group.base, args))) {
    fragment(state, clause, args, stand, index);
    return;
  }
  if (group.sort === "common") {
    common(state, clause, args, stand, index);
    return;
  }
  if (group.sort === "back") return;
  verbWork(state, clause, args, stand, index);
}

const objectsLikeWork = (base: string, args: Arguments) =>
  /^(?:clamp|secure|hold|mount|attach|fix)$/.test(base) &&
  args.objects.length > 0 &&
  !args.subjects.some((one) => one.kind === "noun");

/** The clause before this one was only a name: "Fingerprint reader" of "fingerprint reader I disconnect". */
function fronted(state: State, index: number): NounPhrase[] {
  return state.topicClause === index - 1 && state.topic !== null ? [state.topic] : [];
}

const INTRANSITIVE =
  /^(?:come|go|fall|drop|pop|slide|lift|slip|peel|pull|snap|break|crack|swing|fold|tilt|tear|hinge|flip|split|separate|open|spring|release|detach|free)$/;

function verbWork(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): void {
  const group = clause.group!;
  const particles = new Set(args.particles);
  const toolSubject = args.subjects.find(
    (one): one is Thing & { kind: "noun" } =>
      one.kind === "noun" && isTool(one.np) && !args.objects.some((o) => o.kind === "noun" && isTool(o.np)),
  );
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
  let things: readonly Thing[] = args.objects;
  let intransitive = false;
  if (
    group.passive ||
    (group.form === "past" &&
      !group.helped &&
      args.objects.length === 0 &&
      args.subjects.some((one) => one.kind === "noun"))
  )
    things = args.subjects.length > 0 ? args.subjects : things;
  else if (
    things.length === 0 &&
    args.subjects.length > 0 &&
    (INTRANSITIVE.test(group.base) || args.subjects.some((one) => one.kind === "noun" && isFastener(one.np)))
  ) {
    things = args.subjects;
    intransitive = true;
  } else if (things.length === 0 && args.subjectPronoun !== null && /^(?:i|we)$/.test(args.subjectPronoun)) {
    const nouns = args.subjects.filter((one) => one.kind === "noun");
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
  const onlyManner =
    things.length > 0 &&
    things.every(
      (one) => one.kind === "noun" && (one.np.classes.includes("place") || one.np.classes.includes("abstract")),
    );
  if (onlyManner && fronted(state, index).length > 0 && /^(?:i|we)$/.test(args.subjectPronoun ?? "")) things = [];
  // "Pulling on that".
  if (things.length === 0 && /^(?:pull|tug|yank)$/.test(group.base)) {
    const on = args.phrases.find(({ prep }) => prep === "on");
    if (on !== undefined) things = [on.thing];
  }
  // "I take my opening tool and pop the clips": the work begins with taking it up.
  const taken = things[0];
  if (
    /^(?:take|grab|use|get|pick)$/.test(group.base) &&
    taken?.kind === "noun" &&
    isTool(taken.np) &&
    !taken.np.classes.includes("heater") &&
    state.tokens[clause.j]?.w === "and" &&
    stand.work
  )
    state.insert = {
      tool: taken.np,
      target: null,
      at: state.tokens[clause.i]!.at,
      clause: index,
      text: clauseText(state, clause),
    };
  if (
    /^(?:take|grab|use|get|pick)$/.test(group.base) &&
    taken?.kind === "noun" &&
    isTool(taken.np) &&
    state.tokens[clause.j]?.w === "to"
  ) {
    state.handy = taken.np;
    state.handyClause = index;
  }
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
  const shape = clauseWords(state, clause);
  if (/ like (?:a|an|the) (?:book|door|page|cover)| to the (?:left|right|side) /.test(shape) && group.base === "open")
    particles.add("swing");
  // "Put 12 volts across the tabs".
  const volts = args.quantities.find(({ q }) => q.quantity === "voltage");
  if (volts !== undefined && senseOf(group.base, new Set(["supply"]), particles) === "debond") {
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
  const resolved = resolveThings(state, clause, args, things, index, group.base, particles);
  if (resolved === null) {
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
    for (const np of resolved) if (workable(np)) mention(state, np, index, false);
    for (const { thing } of args.phrases)
      if (thing.kind === "noun" && workable(thing.np)) mention(state, thing.np, index, false);
    return;
  }
  for (const np of resolved) {
    const classes = new Set<string>(np.classes);
    if (np.unknown) classes.add("thing");
    if (isFastener(np)) classes.add("fastener");
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
    const sense = senseOf(group.base, classes, particles);
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
      if (workable(np)) mention(state, np, index, false);
      continue;
    }
    perform(state, clause, args, stand, index, sense, np, toolSubject?.np ?? args.tool);
  }
  together(state, clause, args, index);
}

/** "Together with the graphite sheet": comes off as well. */
function together(state: State, clause: Clause, args: Arguments, index: number): void {
  if (
    !/ (?:together|along) with /.test(clauseWords(state, clause)) ||
    state.lastAction !== "lift" ||
    state.lastActionClause !== index
  )
    return;
  for (const { prep, thing } of args.phrases)
    if (prep === "with" && thing.kind === "noun" && workable(thing.np) && !isTool(thing.np))
      emit(state, clause, index, { action: "lift", object: objectText(state, thing.np), np: thing.np });
}

function resolveThings(
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
      const np = completed(state, thing.np);
      out.push(np);
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
      /^(?:run|slide|work|move|guide|drag|sweep|glide|push|twist|turn|pull)$/.test(verb) &&
      thing.w === "it" &&
      !particles.has("out")
    ) {
      out.push(state.insert.tool);
      continue;
    }
    // What is heated or opened is still on: a part that was taken off is not meant.
    const onDevice = /^(?:heat|warm|soften|put|throw|lay|set|place|rest|sit|give|hit|blast)$/.test(verb);
    const found = referent(
      state,
      thing.w,
      index,
      onDevice
        ? (one) =>
            workable(one) &&
            one.classes[0] !== "side" &&
            !state.entries.slice(-RECENT).some((e) => e.action === "lift" && e.object === nounText(one))
        : workable,
    );
    // "The battery has a pull tab, I pull on that, and it comes out": the tab has done its work.
    const spent =
      found !== null &&
      (found.classes.includes("tab") || found.classes.includes("glue")) &&
      !/^(?:pull|peel|tug|yank|cut|slice|remove|grab)$/.test(verb);
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
          : thing.count === null
            ? { ...np, count: null }
            : { ...np, count: thing.count },
      );
  }
  if (out.length > 0) return out;
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
    /^(?:unplug|disconnect|remove|unscrew|undo|lift|peel|desolder|take|pull|loosen|detach|pry|get|come|pop|heat|fall|warm|slide|melt|clean)$/.test(
      verb,
    );
  if (definite && !(verb === "pull" && !particles.has("out") && !particles.has("off"))) {
    if (
      /^(?:take|get|come|pull|pop|fall|slide)$/.test(verb) &&
      ![...particles].some((one) => /^(?:out|off|away|free|loose)$/.test(one))
    )
      return null;
    const screws = pendingFor(state, index, "them", null) ?? pendingFor(state, index, "it", null);
    if (screws !== null && fastenerVerb(verb, particles))
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
      clause.lead.includes("and") &&
      state.lastActionClause === index - 1 &&
      state.lastObjects.length > 0
    )
      return [...state.lastObjects];
    if (state.topic !== null && index - state.topicClause <= 3) return [state.topic];
    const np = referent(state, "it", index);
    return np === null ? null : [np];
  }
  return null;
}

const nextIsAnd = (state: State, clause: Clause) => state.tokens[clause.j]?.w === "and";

const fastenerVerb = (verb: string, particles: ReadonlySet<string>) =>
  /^(?:unscrew|undo|remove|loosen|unfasten|unbolt|extract)$/.test(verb) ||
  (/^(?:take|get|come|go|pull|lift|zip|spin|back|turn|wind|drop|bring|pop|whip|twist)$/.test(verb) &&
    [...particles].some((one) => /^(?:out|off|away|loose|free|undone)$/.test(one)));

/** Screws spoken of and not yet taken out, when this pronoun can mean them. */
function pendingFor(state: State, index: number, w: string, count: number | null): State["pending"] {
  const one = state.pending;
  if (one === null || one.used || index - one.clause > WAITS) return null;
  if (w === "it" && one.count !== 1) return null;
  if (w !== "it" && one.count === 1 && count === null && w !== "that" && w !== "this") return null;
  // Something else in the plural was named since.
  if (count === null && w !== "it") {
    const later = state.mentions.findLast((m) => m.clause > one.clause && m.strong && m.np.plural && !isFastener(m.np));
    const done =
      later !== undefined &&
      state.entries.slice(-RECENT).some((e) => e.clause > one.clause && sameName(e.object, nounText(later.np)));
    if (later !== undefined && !done) return null;
  }
  return one;
}

const SLICING = new Set(["slice"]);

function perform(
  state: State,
  clause: Clause,
  args: Arguments,
  stand: Standing,
  index: number,
  sense: string,
  np: NounPhrase,
  tool: NounPhrase | null,
): void {
  const where = place(args);
  const base = { tentative: stand.tentative, tool };
  switch (sense) {
    case "remove": {
      const face = np.classes[0] === "side" && /^(?:back|front|rear)$/.test(np.head);
      // "Raised with the suction handle": a gap is made.
      const cup = args.phrases.some(
        ({ prep, thing }) => prep === "with" && thing.kind === "noun" && thing.np.classes.includes("suction"),
      );
      const action = cup && !np.classes.includes("fastener") ? "pry" : face ? "lift" : removal(np.classes);
      if (action === "none") return;
      if (action === "unscrew") {
        unscrew(state, clause, args, index, np, base);
        return;
      }
      if (action === "lift" && np.classes.includes("device")) return;
      emit(state, clause, index, {
        ...base,
        action: action as DraftAction,
        object: objectText(state, np),
        np,
        count: countOf(np),
      });
      return;
    }
    case "unscrew": {
      unscrew(state, clause, args, index, np, base);
      return;
    }
    case "insert":
      state.insert = {
        tool: np,
        target: where,
        at: state.tokens[clause.i]!.at,
        clause: index,
        text: clauseText(state, clause),
      };
      return;
    case "place": {
      const target = where ?? (isTool(np) ? (openedPart(state) ?? state.topic ?? state.focus) : np);
      state.suction = {
        tool: np,
        target,
        at: state.tokens[clause.i]!.at,
        clause: index,
        text: clauseText(state, clause),
      };
      return;
    }
    case "tug":
      return void withoutObject(state, clause, args, index, new Set(args.particles), null);
    case "heat": {
      const heaterObject = isTool(np) && !np.classes.includes("part");
      if (
        clause.group?.base === "use" &&
        (/iron/.test(np.text) ||
          (where === null && !args.phrases.some(({ prep }) => prep === "for") && state.topicClause < index - 2))
      ) {
        state.handy = np;
        return;
      }
      const aim = args.phrases.find(
        ({ prep, thing }) => prep === "for" && thing.kind === "noun" && workable(thing.np),
      )?.thing;
      const target = heaterObject
        ? (where ?? (aim?.kind === "noun" ? aim.np : null) ?? state.topic ?? state.focus ?? state.device)
        : np;
      const source = heaterObject ? np : (tool ?? sourceOf(args));
      if (target.classes.includes("chip") || /^(?:can|shield)$/.test(target.head)) {
        if (source !== null && /air|iron|station/.test(nounText(source))) {
          emit(state, clause, index, {
            ...base,
            action: "desolder",
            object: objectText(state, target),
            np: target,
            tool: source,
          });
          return;
        }
      }
      if (source !== null && /solder|^iron$/.test(nounText(source)) && isPlug(target)) {
        emit(state, clause, index, {
          ...base,
          action: "desolder",
          object: objectText(state, target),
          np: target,
          tool: source,
        });
        return;
      }
      // "With its back down": that face is heated.
      const down = target.classes.includes("device") && / (?:back|rear) down /.test(clauseWords(state, clause));
      const face = down ? simplePhrase("back", ["side"]) : target;
      emit(state, clause, index, { ...base, action: "heat", object: nounText(face), np: face, tool: source });
      return;
    }
    case "wet": {
      const target = np.classes.includes("solvent") ? (where ?? state.topic ?? state.focus) : np;
      if (target === null) return;
      emit(state, clause, index, {
        ...base,
        action: "wet",
        object: objectText(state, target),
        np: target,
        tool: np.classes.includes("solvent") ? np : tool,
      });
      return;
    }
    case "guard": {
      const covering =
        np.classes.includes("film") &&
        !np.classes.includes("part") &&
        where !== null &&
        !where.classes.includes("holder");
      const target = covering ? where : np;
      emit(state, clause, index, {
        ...base,
        action: "guard",
        object: isPlug(target) ? target.text : nounText(target),
        np: target,
        tool: covering ? np : base.tool,
      });
      return;
    }
    case "debond": {
      const target = where ?? (np.classes.includes("supply") ? (state.topic ?? state.focus) : np);
      if (target !== null)
        emit(state, clause, index, { ...base, action: "debond", object: nounText(target), np: target });
      return;
    }
    case "desolder": {
      // "Two wires, I melt them": the part that the wires go to.
      const target =
        isPlug(np) && np.owner === null && np.of === null && state.topic !== null
          ? { ...state.topic, count: np.count }
          : np;
      emit(state, clause, index, {
        ...base,
        action: "desolder",
        object: isPlug(target) ? objectText(state, target) : nounText(target),
        np: target,
        count: countOf(np),
        tool: tool ?? state.handy,
      });
      return;
    }
    case "slice": {
      const cutting = np.classes.includes("cutter") || isTool(np);
      const target = cutting ? sliceTarget(state, where) : np;
      if (target === null) return;
      const since = took(state, index);
      // "… goes around and cuts the glue": one cut.
      if (
        np.classes.includes("glue") &&
        clause.before === 0 &&
        clause.lead.includes("and") &&
        state.lastAction === "slice" &&
        state.lastActionClause === index - 1
      )
        return;
      const fresh = cutting && (np.mods.includes("second") || np.mods.includes("other") || np.det === "another");
      emit(state, clause, index, {
        ...base,
        ...since,
        fresh,
        action: "slice",
        object: nounText(target),
        np: target,
        tool: cutting ? np : (since?.tool ?? tool),
      });
      return;
    }
    case "pry": {
      const cut = state.entries.at(-1);
      if (
        np.classes.includes("clip") &&
        clause.lead.includes("and") &&
        cut?.action === "slice" &&
        cut.clause === index - 1
      ) {
        // "I go around with the tool and pop the clips": one piece of work.
        cut.action = "pry";
        state.lastAction = "pry";
        state.lastActionClause = index;
        return;
      }
      const since = took(state, index);
      const target =
        isTool(np) && !np.classes.includes("part")
          ? sliceTarget(state, where)
          : np.classes.includes("gap")
            ? (where ?? state.suction?.target ?? state.topic ?? state.focus)
            : np;
      if (target === null) return;
      if (np.classes.includes("gap") && state.lastAction === "pry" && index - state.lastActionClause <= 3) return;
      emit(state, clause, index, {
        ...base,
        ...since,
        action: "pry",
        object: objectText(state, target),
        np: target,
        count: countOf(np),
        tool: tool ?? since?.tool ?? null,
      });
      return;
    }
    case "turn":
      emit(state, clause, index, { ...base, action: "turn", object: nounText(np), np });
      return;
    case "clean":
      emit(state, clause, index, { ...base, action: "clean", object: nounText(np), np });
      return;
    default: {
      // "The flex from the charging board".
      const from =
        isPlug(np) && np.owner === null && np.of === null
          ? args.phrases.find(
              ({ prep, thing }) =>
                (prep === "from" || prep === "off") && thing.kind === "noun" && thing.np.classes.includes("part"),
            )?.thing
          : undefined;
      const whole = from?.kind === "noun" ? { ...np, of: from.np } : np;
      emit(state, clause, index, {
        ...base,
        action: sense as DraftAction,
        object: objectText(state, whole),
        np: whole,
        count: countOf(np),
      });
    }
  }
}

const countOf = (np: NounPhrase) => (np.count !== null && np.count > 0 ? np.count : null);

/** The tool that was put in before is the beginning of this work. */
function took(state: State, index: number): { at: number | null; text: string; tool: NounPhrase } | null {
  const one = state.insert;
  if (one === null || index - one.clause > 3) return null;
  state.insert = null;
  return { at: one.at, text: one.text, tool: one.tool };
}

function sliceTarget(state: State, where: NounPhrase | null): NounPhrase | null {
  const inserted = state.insert?.target ?? null;
  for (const np of [where, inserted])
    if (np !== null && !np.classes.includes("side") && !np.classes.includes("gap") && !np.classes.includes("glue"))
      return np;
  return openedPart(state) ?? where ?? inserted ?? state.topic ?? state.focus;
}

/** The part that is being opened: what was last heated, pried or cut round. */
function openedPart(state: State): NounPhrase | null {
  for (let at = state.entries.length - 1; at >= Math.max(0, state.entries.length - 4); at -= 1) {
    const one = state.entries[at]!;
    if (/^(?:pry|heat|slice|wet|debond)$/.test(one.action) && one.np !== null && !one.np.classes.includes("glue"))
      return one.np;
  }
  return state.topic;
}

function place(args: Arguments): NounPhrase | null {
  const hit = args.phrases.find(
    ({ prep, thing }) =>
      /^(?:on|under|underneath|beneath|behind|over|to|onto|around|along|across|between|into|in|from|round|through|above)$/.test(
        prep,
      ) &&
      thing.kind === "noun" &&
      workable(thing.np) &&
      !isTool(thing.np),
  );
  return hit?.thing.kind === "noun" ? hit.thing.np : null;
}

function sourceOf(args: Arguments): NounPhrase | null {
  const hit = args.phrases.find(({ thing }) => thing.kind === "noun" && thing.np.classes.includes("heater"));
  return hit?.thing.kind === "noun" ? hit.thing.np : null;
}

function unscrew(
  state: State,
  clause: Clause,
  args: Arguments,
  index: number,
  np: NounPhrase,
  base: Partial<Work>,
): void {
  const pending =
    state.pending !== null && !state.pending.used && index - state.pending.clause <= WAITS ? state.pending : null;
  if (!isFastener(np)) {
    // "I unscrew it": the part itself is named; the screws were counted before, or are not counted.
    const count =
      pending?.holder !== null && pending?.holder !== undefined && nounText(pending.holder) === nounText(np)
        ? pending.count
        : null;
    if (pending !== null && count !== null) pending.used = true;
    emit(state, clause, index, { ...base, action: "unscrew", object: objectText(state, np), np, count });
    return;
  }
  const spoken = args.phrases.find(
    ({ prep, thing }) => /^(?:for|from|on|of|in|out of|at)$/.test(prep) && thing.kind === "pronoun",
  )?.thing;
  const place =
    np.owner === null
      ? (holderIn(args) ?? (spoken?.kind === "pronoun" ? referent(state, spoken.w, index) : null))
      : null;
  const holder =
    np.of ??
    (place?.each === true && place.classes[0] === "side" ? null : place) ??
    (np.owner === null ? (pending?.holder ?? null) : null);
  const definite =
    np.det === "the" || np.det === "these" || np.det === "those" || np.det === "its" || np.count === null || np.every;
  const count = np.each ? (pending?.count ?? null) : (countOf(np) ?? (definite ? (pending?.count ?? null) : null));
  if (pending !== null) pending.used = true;
  // Right after its plug was opened, the part is meant.
  const unplugged =
    holder === null && np.owner === null && state.lastAction === "unplug" && state.lastActionClause === index - 1
      ? (state.lastObjects.at(-1) ?? null)
      : null;
  const holderPhrase =
    unplugged?.classes.includes("part") === true ? unplugged : holder === null ? null : completed(state, holder);
  const entry = emit(state, clause, index, {
    ...base,
    action: "unscrew",
    object: objectText(state, np, holderPhrase),
    np: holderPhrase ?? np,
    count,
    tool: base.tool ?? driverOf(np, args),
  });
  if (holderPhrase !== null) mention(state, holderPhrase, index, true);
  else if (np.owner !== null) mention(state, simplePhrase(np.owner, ["part"]), index, true);
  if (
    holderPhrase === null &&
    np.owner === null &&
    (state.tokens[clause.j]?.w === "and" || clause.lead.some((w) => w === "after" || w === "once" || w === "when"))
  )
    entry.loose = true;
}

function driverOf(_np: NounPhrase, args: Arguments): NounPhrase | null {
  return args.tool;
}

function holderIn(args: Arguments): NounPhrase | null {
  const order = [
    "out of",
    "from",
    "holding",
    "of",
    "on",
    "in",
    "off",
    "at",
    "for",
    "around",
    "along",
    "under",
    "across",
    "through",
    "round",
    "into",
    "near",
    "beside",
    "to",
  ];
  for (const prep of order)
    for (const one of args.phrases)
      if (
        one.prep === prep &&
        one.thing.kind === "noun" &&
        (workable(one.thing.np) || one.thing.np.classes.includes("holder")) &&
        !isTool(one.thing.np)
      )
        return one.thing.np;
  return null;
}

/** A verb of work with nothing beside it: "Pull.", "and go all the way round", "keep cutting". */
function withoutObject(
  state: State,
  clause: Clause,
  args: Arguments,
  index: number,
  particles: ReadonlySet<string>,
  tool: NounPhrase | null,
): void {
  const base = clause.group!.base;
  const shape = new Set<string>(["void"]);
  if (tool !== null || args.tool !== null) shape.add("cutter");
  const cup = state.suction;
  if (/^(?:pull|tug|lift|yank)$/.test(base) && cup !== null && index - cup.clause <= 3) {
    placed(state, clause, index);
    return;
  }
  if (base === "go" && particles.has("over") && /^(?:it|she|he)$/.test(args.subjectPronoun ?? "")) {
    emit(state, clause, index, { action: "turn", object: nounText(state.device), np: state.device });
    return;
  }
  if (/^(?:turn|flip|roll)$/.test(base) && (particles.has("over") || particles.has("around"))) {
    emit(state, clause, index, { action: "turn", object: nounText(state.device), np: state.device });
    return;
  }
  // "Three strips under the battery. Grab each tab and pull."
  const strips = /^(?:pull|tug|yank)$/.test(base)
    ? state.mentions.findLast((one) => index - one.clause <= 3 && one.np.classes.includes("tab"))
    : undefined;
  if (strips !== undefined) {
    const whole =
      state.mentions.findLast(
        (one) => index - one.clause <= 4 && one.np.classes.includes("tab") && one.np.count !== null,
      ) ?? strips;
    emit(state, clause, index, { action: "peel", object: nounText(whole.np), np: whole.np, count: countOf(whole.np) });
    return;
  }
  const sense =
    senseOf(base, shape, particles) ??
    (state.insert !== null &&
    !(base === "go" && args.particles.size === 0) &&
    /^(?:go|run|slide|work|twist|cut|slice|saw|move|keep)$/.test(base)
      ? base === "twist"
        ? "pry"
        : "slice"
      : null);
  const cutting =
    /^(?:go|run|slide|work|cut|slice|move)$/.test(base) &&
    state.lastAction !== null &&
    SLICING.has(state.lastAction) &&
    index - state.lastActionClause <= 3;
  if (cutting) {
    state.lastActionClause = index;
    return;
  }
  if (sense === "slice" || sense === "pry") {
    const target = sliceTarget(state, place(args));
    if (target === null) return;
    const since = took(state, index);
    emit(state, clause, index, {
      ...since,
      action: sense,
      object: nounText(target),
      np: target,
      tool: since?.tool ?? tool,
    });
  }
}

/** The suction cup that was set is pulled: a gap is made. */
function placed(state: State, clause: Clause, index: number): void {
  const cup = state.suction;
  if (cup === null) return;
  state.suction = null;
  const target =
    cup.target === null || cup.target.classes.includes("side") ? (openedPart(state) ?? cup.target) : cup.target;
  if (target === null) return;
  emit(state, clause, index, {
    action: "pry",
    object: nounText(target),
    np: target,
    at: cup.at,
    text: cup.text,
    tool: cup.tool,
  });
}

/** Things put in place and not followed up by the verb: said once their time has run out. */
export function expire(state: State, clause: Clause, index: number): void {
  if (state.suction !== null && index - state.suction.clause > 3) placed(state, clause, index);
  const put = state.insert;
  if (put !== null && index - put.clause > 3) {
    state.insert = null;
    const recent =
      state.lastAction !== null && /^(?:pry|slice)$/.test(state.lastAction) && state.lastActionClause >= put.clause;
    const target = put.target ?? openedPart(state);
    if (!recent && target !== null)
      emit(state, clause, index, {
        action: "pry",
        object: nounText(target),
        np: target,
        at: put.at,
        text: put.text,
        tool: put.tool,
      });
  }
}

/** Verbs that are no work of their own: weigh, use, hold, have … */
function common(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): void {
  const base = clause.group!.base;
  const noun = args.objects.find((one): one is Thing & { kind: "noun" } => one.kind === "noun");
  if (/^(?:use|using|used|need|take|grab)$/.test(base) && noun !== undefined && stand.work) {
    if (noun.np.classes.includes("suction")) {
      state.suction = {
        tool: noun.np,
        target: place(args) ?? openedPart(state) ?? state.topic ?? state.focus,
        at: state.tokens[clause.i]!.at,
        clause: index,
        text: clauseText(state, clause),
      };
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
  if (/^(?:weigh|weighing|weighed|measure|check)$/.test(base) && noun !== undefined) {
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
function fragment(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): void {
  const words = clauseWords(state, clause);
  const nouns = [...args.subjects, ...(clause.group === null ? args.objects : [])].filter(
    (one): one is Thing & { kind: "noun" } => one.kind === "noun",
  );
  const all = unique([
    ...nouns,
    ...args.objects.filter((one): one is Thing & { kind: "noun" } => one.kind === "noun"),
  ]).filter((one) => one.np.count !== 0);
  const off =
    ["off", "out", "away", "free", "loose", "gone", "removed"].find(
      (one) => words.includes(` ${one} `) && (args.particles.has(one) || one === "gone"),
    ) ?? null;
  const be = clause.group?.base === "be";
  if (stand.earlier || stand.conditional) return;
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
  if (nextUp !== undefined && stand.work) {
    emit(state, clause, index, {
      action: "unplug",
      object: objectText(state, nextUp.np),
      np: nextUp.np,
      count: countOf(nextUp.np),
    });
    return;
  }
  if (clause.group === null || be) {
    // "Lid off", "screw out", "battery's out", "both display connectors off".
    if (off !== null && stand.work && !words.includes(" power ")) {
      if (gone(state, clause, args, index, all, off)) return;
    }
    if (clause.group === null && stand.work && brought(state, clause, args, index, all)) return;
  }
  if (screws !== undefined && !stand.negated) {
    noteScrews(state, clause, args, index, screws.np, all);
    if (all.length === 1) return;
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
  const passiveHold = clause.group?.sort === "hold" && clause.group.passive;
  if (passiveHold) {
    const by = args.phrases.find(({ thing }) => thing.kind === "noun" && isFastener(thing.np));
    const held = args.subjects.find((one): one is Thing & { kind: "noun" } => one.kind === "noun");
    if (by?.thing.kind === "noun")
      noteScrews(state, clause, args, index, by.thing.np, held === undefined ? [] : [held]);
  }
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
  const about = args.phrases.find(({ prep }) => prep === "for")?.thing;
  if (clause.group === null && clause.lead.includes("for") && about?.kind === "noun" && workable(about.np)) {
    state.topic = completed(state, about.np);
    state.topicClause = index;
    mention(state, state.topic, index, true);
  }
  // "Unplug the screen. Then the side key cable. Then rear."
  const repeated =
    clause.group === null &&
    stand.work &&
    parts.length > 0 &&
    args.quantities.length === 0 &&
    state.lastAction !== null &&
    state.lastActionClause === index - 1;
  if (
    repeated &&
    (state.lastAction === "unplug" ||
      (clause.lead.some((w) => w === "and" || w === "also") && state.lastAction !== "heat"))
  ) {
    const only =
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
        emit(state, clause, index, {
          action: state.lastAction!,
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
        const mark = /^(?:label|sticker|print|printing|marking|writing|text)$/.test(first.np.head);
        // The opening names makers and models that the lexicon does not hold.
        const opening = first.np.unknown && clause.j < 0.1 * state.tokens.length;
        if (!mark && !opening && (args.quantities.length === 0 || args.subjects.includes(first)))
          state.focus = state.topic;
      }
    }
  }
}

/** "It sits under a lid", "you can't get at the side key until the board is out": where a part is, in so many words. */
function noteOfPlace(state: State, clause: Clause, args: Arguments, stand: Standing, index: number): void {
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

const unique = <T extends { readonly i: number }>(list: readonly T[]) =>
  list.filter((one, at) => list.findIndex((other) => other.i === one.i) === at);

/** "Out.", "lid off", "three screws, out": what was named comes off. */
function gone(
  state: State,
  clause: Clause,
  args: Arguments,
  index: number,
  nouns: readonly (Thing & { kind: "noun" })[],
  off: string,
): boolean {
  const be = clause.group?.base === "be";
  if (be && nouns.some((one) => one.np.classes.includes("device"))) return false;
  if (nouns.length === 0) {
    if (be && args.subjectPronoun !== null && !/^(?:it|that|they|this)$/.test(args.subjectPronoun)) return false;
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
    // "Two coax leads. Off."
    const named = state.mentions.at(-1);
    if (named !== undefined && named.clause === index - 1 && named.strong && isPlug(named.np) && off === "off") {
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
    if (np === null || !workable(np) || isTool(np) || np.classes.includes("device") || np.classes.includes("side"))
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
    const action = isPlug(np) ? "unplug" : removal(np.classes);
    if (action === "none") continue;
    emit(state, clause, index, {
      action: action as DraftAction,
      object: objectText(state, np),
      np,
      count: countOf(np),
    });
    any = true;
  }
  void off;
  return any;
}

/** Tools and liquids brought to a part without a verb: "hot air on the front can", "a drop of alcohol under the motor". */
function brought(
  state: State,
  clause: Clause,
  args: Arguments,
  index: number,
  nouns: readonly (Thing & { kind: "noun" })[],
): boolean {
  const thing = nouns.find((one) =>
    one.np.classes.some((cls) => cls === "heater" || cls === "solvent" || cls === "suction" || cls === "cutter"),
  );
  const where = place(args);
  const words = clauseWords(state, clause);
  if (/ over $/.test(words) && nouns.some((one) => one.np.classes.includes("device"))) {
    emit(state, clause, index, { action: "turn", object: nounText(nouns[0]!.np), np: nouns[0]!.np });
    return true;
  }
  if (thing === undefined) return false;
  const has = (cls: NounClass) => thing.np.classes.includes(cls);
  const stand: Standing = {
    work: true,
    figures: true,
    earlier: false,
    tentative: false,
    conditional: false,
    negated: false,
  };
  if (has("suction")) {
    state.suction = {
      tool: thing.np,
      target: where ?? openedPart(state) ?? state.topic ?? state.focus,
      at: state.tokens[clause.i]!.at,
      clause: index,
      text: clauseText(state, clause),
    };
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
      stand,
      index,
      "heat",
      thing.np,
      null,
    );
    return true;
  }
  if (has("solvent") && (where !== null || / (?:under|on|behind|in|into) (?:it|there|them) /.test(words))) {
    const target = where ?? referent(state, "it", index) ?? state.topic;
    if (target !== null)
      emit(state, clause, index, { action: "wet", object: nounText(target), np: target, tool: thing.np });
    return target !== null;
  }
  if (
    has("cutter") &&
    !has("part") &&
    [...args.particles].some((one) => /^(?:around|round|along|through|across|under)$/.test(one))
  ) {
    const target = sliceTarget(state, where);
    if (target !== null)
      emit(state, clause, index, { action: "slice", object: nounText(target), np: target, tool: thing.np });
    return target !== null;
  }
  if (has("cutter") && !has("part") && / in (?:goes|go) /.test(words)) {
    state.insert = {
      tool: thing.np,
      target: where,
      at: state.tokens[clause.i]!.at,
      clause: index,
      text: clauseText(state, clause),
    };
    return true;
  }
  return false;
}

/** Screws counted without being taken out yet. */
function noteScrews(
  state: State,
  clause: Clause,
  args: Arguments,
  index: number,
  np: NounPhrase,
  nouns: readonly (Thing & { kind: "noun" })[],
): void {
  if (np.earlier || np.count === null || np.count === 0) return;
  // "I unscrewed the reader, which was held by one screw": the count of what was told.
  const told = state.entries.at(-1);
  if (told?.action === "unscrew" && told.count === undefined && index - told.clause === 1 && clause.before === 1) {
    told.count = np.count;
    return;
  }
  // "Three screws: two Phillips and one standoff": the same ones, told apart.
  const before = state.pending;
  if (
    before !== null &&
    !before.used &&
    before.clause === index - 1 &&
    clause.before === 1 &&
    clause.group === null &&
    before.count !== null &&
    np.count < before.count &&
    nouns.every((one) => isFastener(one.np) || one.np.classes.includes("drive"))
  )
    return;
  const words = clauseWords(state, clause);
  const held1 = clause.group?.sort === "hold" || / each /.test(words);
  if (!held1 && / (?:total|in all|altogether|all together|count|counted|makes) /.test(words)) return;
  if (
    clause.group?.base === "be" &&
    np.count === 1 &&
    args.subjects.some((one) => one.kind === "noun" && isFastener(one.np)) &&
    !/ there is /.test(words)
  )
    return;
  // "It has one screw and two cables": what else it has does not hold it.
  const named =
    clause.group === null || clause.group.sort === "hold" || clause.group.base === "be"
      ? nouns
      : nouns.filter((one) => args.subjects.includes(one));
  const subject =
    named.find((one) => !isFastener(one.np) && workable(one.np) && one.np.classes[0] !== "device")?.np ?? null;
  const spoken = /^(?:it|they|this|that)$/.test(args.subjectPronoun ?? "")
    ? referent(state, args.subjectPronoun!, index)
    : null;
  const where = np.owner === null || np.each ? holderIn(args) : null;
  const onEach = where !== null && where.classes[0] === "side" && (where.each || where.every);
  const held =
    np.of ??
    (onEach ? null : where) ??
    (state.place !== null && state.place.clause === index - 1 && clause.before === 1 ? state.place.np : null);
  // What was just worked on, or what was named since.
  const worked =
    state.lastActionClause > state.topicClause &&
    index - state.lastActionClause <= 2 &&
    state.lastAction !== "lift" &&
    state.lastAction !== "unscrew"
      ? (state.lastObjects.at(-1) ?? null)
      : null;
  const topic =
    worked !== null && !worked.classes.includes("side") && !worked.classes.includes("glue")
      ? worked
      : state.topic !== null && index - state.topicClause <= 6
        ? state.topic
        : null;
  const holder = held ?? subject ?? (np.owner === null ? (spoken ?? topic) : null);
  const whole = holder === null ? null : completed(state, holder);
  // "Two screws each, four in total".
  const numbers = clause.elements.flatMap((one) =>
    one.kind === "number" ? [one.value] : one.kind === "pronoun" && one.count !== null ? [one.count] : [],
  );
  const all = / (?:total|all|altogether) /.test(words)
    ? numbers.find((one) => Number.isInteger(one) && one > np.count!)
    : undefined;
  const more =
    state.pending !== null && !state.pending.used && index - state.pending.clause <= 1 && / more /.test(words);
  if (more) return;
  state.pending = {
    np,
    count: all ?? np.count,
    holder: whole,
    topical: held === null && (subject !== null || topic !== null),
    at: state.tokens[clause.i]!.at,
    clause: index,
    text: clauseText(state, clause),
    used: false,
  };
  if (whole !== null) mention(state, whole, index, true);
}

/** "That's six", "four in all", ", four": the number of all the screws, after the number on each side. */
export function restateCount(state: State, clause: Clause, args: Arguments, index: number): void {
  const numbers = clause.elements.filter(
    (one) => one.kind === "number" || (one.kind === "pronoun" && one.count !== null),
  );
  if (
    numbers.length !== 1 ||
    args.quantities.length > 0 ||
    args.subjects.some((one) => one.kind === "noun" && !one.np.unknown)
  )
    return;
  const one = numbers[0]!;
  const value = one.kind === "number" ? one.value : one.kind === "pronoun" ? one.count : null;
  if (value === null || !Number.isInteger(value) || value < 1) return;
  const extra = clause.elements.some(
    (el) => el.kind === "noun" || (el.kind === "group" && el.base !== "be" && el.base !== "make"),
  );
  if (extra) return;
  const pending = state.pending;
  const others = clause.elements.filter(
    (el) => el.kind === "word" && !ADVERBS.has(el.w) && !PARTICLES.has(el.w),
  ).length;
  if (others > 3) return;
  if (
    pending !== null &&
    !pending.used &&
    index - pending.clause <= 2 &&
    pending.count !== null &&
    value > pending.count &&
    value % pending.count === 0
  )
    pending.count = value;
  else {
    const last = state.entries.at(-1);
    if (
      last?.action === "unscrew" &&
      index - last.clause <= 2 &&
      last.count !== undefined &&
      value > last.count &&
      value % last.count === 0
    )
      last.count = value;
  }
}

export { argumentsOf };
