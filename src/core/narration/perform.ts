/** The sense of a verb and its object to an entry. */
import type { Arguments } from "./arguments.ts";
import type { NounPhrase } from "./chunks.ts";
import type { Clause } from "./clauses.ts";
import type { DraftAction } from "./draft.ts";
import { emit } from "./emit.ts";
import { RECENT, unscrew } from "./fasteners.ts";
import type { Standing } from "./filters.ts";
import { isPlug, isTool, nounText, objectText, sameName, workable } from "./objects.ts";
import { removal, senseOf } from "./senses.ts";
import { clauseWords, type State, simplePhrase } from "./state.ts";
import { besideSide, countOf, openedPart, place, placed, sliceTarget, sourceOf, took, tookUp } from "./targets.ts";

/** "Inserted beside the port, near the hinge": the place of a tool, where no other is named. */
function besides(args: Arguments): NounPhrase | null {
  const hit = args.phrases.find(
    ({ prep, thing }) =>
      /^(?:beside|near|by|at|next)$/.test(prep) && thing.kind === "noun" && thing.np.classes[0] === "side",
  );
  return hit?.thing.kind === "noun" ? hit.thing.np : null;
}

/** Unplugged or peeled before: what comes off now is the whole of it. */
export const freed = (state: State, np: NounPhrase, index: number) =>
  state.entries
    .slice(-14)
    .some(
      (one) =>
        one.clause < index &&
        index - one.clause <= 12 &&
        ((one.action === "unplug" && isPlug(np) && np.owner === null) ||
          (one.action === "peel" && !np.classes.includes("tab"))) &&
        sameName(one.object, nounText(np)),
    );

/** A place that is a thing of its own, and no edge of one. */
const whole = (where: NounPhrase | null): NounPhrase | null =>
  where === null || (where.classes[0] === "side" && !/^(?:back|rear|front)$/.test(where.head)) ? null : where;

const SLICING = new Set(["slice"]);

export function perform(
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
  const unplug = () =>
    emit(state, clause, index, { ...base, action: "unplug", object: objectText(state, np), np, count: countOf(np) });
  switch (sense) {
    case "remove": {
      // "Pop the side key off its socket."
      const socket = args.phrases.some(
        ({ prep, thing }) =>
          /^(?:off|from|out of|of)$/.test(prep) &&
          thing.kind === "noun" &&
          /^(?:socket|connector|header|plug)$/.test(thing.np.head),
      );
      // "There's a flex for the reader on the left. … Pop the reader off.": its plug.
      const led = state.mentions.some(
        (one) =>
          index - one.clause <= 6 &&
          isPlug(one.np) &&
          sameName(one.np.of === null ? (one.np.owner ?? "") : nounText(one.np.of), nounText(np)),
      );
      const opened = state.entries
        .slice(-RECENT)
        .some((one) => one.action === "unplug" && sameName(one.object, nounText(np)));
      const popped = /^(?:pop|flick|knock|snap|click)$/.test(clause.group?.base ?? "") && led && !opened;
      if ((socket || popped) && (np.classes.includes("part") || isPlug(np))) {
        unplug();
        return;
      }
      const face = np.classes[0] === "side" && /^(?:back|front|rear)$/.test(np.head);
      // "Raised with the suction handle": a gap is made.
      const cup = args.phrases.some(
        ({ prep, thing }) => prep === "with" && thing.kind === "noun" && thing.np.classes.includes("suction"),
      );
      const raised = tool?.classes.includes("suction") === true;
      const action =
        (cup || raised) && !np.classes.includes("fastener")
          ? "pry"
          : face
            ? "lift"
            : removal(np.classes, freed(state, np, index));
      if (action === "none") return;
      const screwed = state.entries
        .slice(-6)
        .some((one) => one.action === "unscrew" && sameName(one.object, nounText(np)));
      if (action === "peel" && screwed && !np.classes.includes("tab")) {
        emit(state, clause, index, { ...base, action: "lift", object: nounText(np), np, count: countOf(np) });
        return;
      }
      // "A suction cup on the corner of the panel raises it."
      const spot = raised
        ? args.phrases.find(({ thing }) => thing.kind === "noun" && thing.np.of !== null)?.thing
        : undefined;
      if (spot?.kind === "noun" && spot.np.of !== null) {
        emit(state, clause, index, { ...base, action: "pry", object: nounText(spot.np.of), np: spot.np.of });
        return;
      }
      if (action === "unscrew") {
        unscrew(state, clause, args, index, np, base);
        return;
      }
      if (action === "lift" && np.classes.includes("device")) return;
      emit(state, clause, index, {
        ...base,
        action: action as DraftAction,
        object: action === "lift" && isPlug(np) ? nounText(np) : objectText(state, np),
        np,
        count: countOf(np),
      });
      return;
    }
    case "unscrew": {
      unscrew(state, clause, args, index, np, base);
      return;
    }
    case "insert": {
      // "A card goes in there and right round the edge", "goes in behind the screen, from the outside towards the hinge".
      const round =
        np.classes.includes("cutter") &&
        (args.phrases.some(({ prep }) => /^(?:around|round|along)$/.test(prep)) ||
          (args.phrases.some(({ prep }) => prep === "from") &&
            args.phrases.some(({ prep }) => /^(?:to|towards?|into)$/.test(prep))));
      if (round) {
        const target = sliceTarget(state, where);
        if (target !== null)
          emit(state, clause, index, { ...base, action: "slice", object: nounText(target), np: target, tool: np });
        return;
      }
      state.insert = tookUp(state, clause, index, np, where ?? besides(args));
      return;
    }
    case "place": {
      const target = where ?? (isTool(np) ? (openedPart(state) ?? state.topic ?? state.focus) : np);
      state.suction = tookUp(state, clause, index, np, target);
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
      const target = np.classes.includes("solvent") ? (besideSide(state, where) ?? state.topic ?? state.focus) : np;
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
        ((np.classes.includes("film") && !np.classes.includes("part")) ||
          /^(?:cap|cloth|towel|card|paper|cardboard|glove|foam)$/.test(np.head)) &&
        where !== null &&
        !where.classes.includes("holder");
      const target = covering ? where : np;
      emit(state, clause, index, {
        ...base,
        action: "guard",
        object: isPlug(target) ? target.text : nounText(target),
        np: target,
        count: countOf(target),
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
      // "Now the adhesive is cut.": told again.
      if (
        np.classes.includes("glue") &&
        clause.group?.passive === true &&
        state.lastAction === "slice" &&
        index - state.lastActionClause <= 4
      )
        return;
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
      // "The two leads are unclipped from the wireless card."
      const board = args.phrases.some(
        ({ prep, thing }) =>
          (prep === "from" || prep === "off") &&
          thing.kind === "noun" &&
          (thing.np.role === "board" ||
            /^(?:board|card|modem|module|motherboard|mainboard|daughterboard)$/.test(thing.np.head)),
      );
      if (board && isPlug(np)) {
        unplug();
        return;
      }
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
            ? (whole(where) ?? state.suction?.target ?? openedPart(state) ?? state.topic ?? state.focus)
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
      if (
        (sense === "peel" || sense === "unplug") &&
        /^(?:lift|remove|take)$/.test(clause.group?.base ?? "") &&
        freed(state, np, index)
      ) {
        perform(state, clause, args, stand, index, "remove", np, tool);
        return;
      }
      // "The flex from the charging board".
      const from =
        isPlug(np) && np.owner === null && np.of === null && !np.text.includes(" ")
          ? args.phrases.find(
              ({ prep, thing }) =>
                (prep === "from" || prep === "off") && thing.kind === "noun" && thing.np.classes.includes("part"),
            )?.thing
          : undefined;
      const whole = from?.kind === "noun" ? { ...np, of: from.np } : np;
      emit(state, clause, index, {
        ...base,
        action: sense as DraftAction,
        // A cable that is stuck down is peeled itself.
        object: sense === "peel" && isPlug(np) ? nounText(np) : objectText(state, whole),
        np: whole,
        count: countOf(np),
      });
    }
  }
}

/** A verb of work with nothing beside it: "Pull.", "and go all the way round", "keep cutting". */
export function withoutObject(
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
  // "I blow with the hair dryer."
  const warm = args.phrases.find(
    ({ prep, thing }) => prep === "with" && thing.kind === "noun" && thing.np.classes.includes("heater"),
  )?.thing;
  if (/^(?:blow|blast|heat|warm)$/.test(base) && warm?.kind === "noun") {
    const target = whole(place(args)) ?? state.topic ?? state.focus ?? state.device;
    emit(state, clause, index, { action: "heat", object: nounText(target), np: target, tool: warm.np });
    return;
  }
  // "With the suction cup near the port I pull."
  const held = args.phrases.find(({ thing }) => thing.kind === "noun" && thing.np.classes.includes("suction"))?.thing;
  if (/^(?:pull|tug|lift|yank)$/.test(base) && held?.kind === "noun") {
    const target = openedPart(state) ?? state.topic ?? state.focus;
    if (target !== null)
      emit(state, clause, index, { action: "pry", object: nounText(target), np: target, tool: held.np });
    return;
  }
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
  // "Open like a book."
  if (base === "open" && particles.has("swing")) {
    const target = openedPart(state);
    if (target !== null) emit(state, clause, index, { action: "shift", object: nounText(target), np: target });
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
    /^(?:go|run|slide|work|twist|cut|slice|saw|move|keep|walk|surf|creep|travel|come)$/.test(base)
      ? base === "twist"
        ? "pry"
        : "slice"
      : null);
  // "Now cut along the top."
  if (
    /^(?:cut|slice|saw)$/.test(base) &&
    args.phrases.some(({ prep }) =>
      /^(?:through|along|around|round|under|underneath|behind|between|across|down|up|over)$/.test(prep),
    )
  ) {
    const target = sliceTarget(state, place(args));
    const since = took(state, index);
    if (target !== null)
      emit(state, clause, index, {
        ...since,
        action: "slice",
        object: nounText(target),
        np: target,
        tool: since?.tool ?? tool,
        fresh: true,
      });
    return;
  }
  // "I go with the pick through the glue."
  const by = args.phrases.find(
    ({ prep, thing }) => /^(?:with|using)$/.test(prep) && thing.kind === "noun" && thing.np.classes.includes("cutter"),
  )?.thing;
  if (
    by?.kind === "noun" &&
    /^(?:go|run|slide|work|cut|slice|move|saw|come|start|follow)$/.test(base) &&
    (args.phrases.some(({ prep }) =>
      /^(?:through|along|around|round|under|underneath|behind|between|across|down|up|over|in|into)$/.test(prep),
    ) ||
      [...args.particles].some((one) => /^(?:around|round|along|through|under|underneath)$/.test(one)))
  ) {
    const at = place(args);
    const clips = at?.classes[0] === "clip";
    const target = clips ? at : sliceTarget(state, at);
    if (target !== null)
      emit(state, clause, index, {
        action: clips ? "pry" : "slice",
        object: nounText(target),
        np: target,
        tool: by.np,
      });
    return;
  }
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
