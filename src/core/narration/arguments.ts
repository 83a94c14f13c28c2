/** A clause taken apart: who does it, what it is done to, with what, which way, where. */

import type { NounPhrase } from "./chunks.ts";
import type { Clause } from "./clauses.ts";
import { ADVERBS, PARTICLES, PREPOSITIONS, SUBJECTS } from "./lexicon/index.ts";
import type { SpokenQuantity } from "./numbers.ts";
import { isTool } from "./objects.ts";
import type { Token } from "./tokens.ts";

export type Thing =
  | { readonly kind: "noun"; readonly np: NounPhrase; readonly i: number }
  | { readonly kind: "pronoun"; readonly w: string; readonly count: number | null; readonly i: number };

export interface Arguments {
  readonly subjects: readonly Thing[];
  /** The person or thing that a pronoun before the verb stands for: "i", "you", "it". */
  readonly subjectPronoun: string | null;
  readonly objects: readonly Thing[];
  readonly phrases: readonly { readonly prep: string; readonly thing: Thing }[];
  readonly particles: ReadonlySet<string>;
  readonly tool: NounPhrase | null;
  readonly quantities: readonly { readonly q: SpokenQuantity; readonly i: number }[];
  readonly numbers: readonly number[];
}

export function argumentsOf(clause: Clause, tokens: readonly Token[]): Arguments {
  const subjects: Thing[] = [];
  const objects: Thing[] = [];
  const phrases: { prep: string; thing: Thing }[] = [];
  const particles = new Set<string>();
  const quantities: { q: SpokenQuantity; i: number }[] = [];
  const numbers: number[] = [];
  let subjectPronoun: string | null = null;
  let prep: string | null = null;
  let after = clause.group === null;
  clause.elements.forEach((one, k) => {
    if (one === clause.group) {
      after = true;
      prep = null;
      return;
    }
    if (one.kind === "word") {
      if (one.w === "and" || one.w === "or" || one.w === "plus") {
        // "Between the glass and the case".
        const last = phrases.at(-1)?.prep;
        const beside = clause.elements[k + 1];
        // "With a wipe and alcohol".
        const tools =
          last === "with" && beside?.kind === "noun" && (isTool(beside.np) || beside.np.classes.includes("solvent"));
        // "Along the bottom and the right side".
        const sides =
          /^(?:along|around|across|round|down|up)$/.test(last ?? "") &&
          beside?.kind === "noun" &&
          beside.np.classes[0] === "side" &&
          clause.elements[k - 1]?.kind === "noun";
        prep = last === "between" || tools || sides ? last! : null;
        return;
      }
      if (one.w === "using") prep = "with";
      if (!PREPOSITIONS.has(one.w) && !PARTICLES.has(one.w)) {
        if (one.w === "out" || one.w === "off") particles.add(one.w);
        if (after && /^(?:upwards?|outwards?|clear)$/.test(one.w))
          particles.add(one.w.startsWith("out") ? "out" : "up");
        return;
      }
      const next = nextThing(clause, k);
      const led =
        next !== null && tokens[one.j - 1]!.stop !== 1 && (tokens[one.j - 1]!.stop === 0 || PREPOSITIONS.has(one.w));
      if (after || PARTICLES.has(one.w)) particles.add(one.w);
      const verbBefore = clause.elements[k - 1] === clause.group && clause.group !== null;
      // "Go up the left side": where a tool goes.
      const beside = clause.elements[k + 1];
      const along =
        /^(?:up|down)$/.test(one.w) &&
        beside?.kind === "noun" &&
        beside.np.classes[0] === "side" &&
        !/^(?:warm|heat|soften|loosen|open)$/.test(clause.group?.base ?? "");
      const fronted = !after && clause.group !== null && /^(?:out|off|up|away)$/.test(one.w) && next !== "of";
      const particle =
        fronted ||
        (PARTICLES.has(one.w) &&
          verbBefore &&
          !along &&
          /^(?:off|out|up|away|free|loose|open|apart|aside|over|back|clear|down)$/.test(one.w) &&
          next !== "of");
      // "After four screws have been removed": the time of a clause, and no place.
      const when =
        !after &&
        clause.group !== null &&
        clause.group.form !== "ing" &&
        /^(?:after|before|since|until|till|once)$/.test(one.w);
      if (led && !particle && !when && PREPOSITIONS.has(one.w))
        prep = one.w === "of" && prep === null && particles.has("out") ? "out of" : one.w;
      else if (one.w !== "of") prep = null;
      return;
    }
    if (one.kind === "quantity") {
      quantities.push({ q: one.q, i: one.i });
      prep = null;
      return;
    }
    if (one.kind === "number") {
      numbers.push(one.value);
      return;
    }
    if (one.kind === "group") return;
    // "All the way round".
    if (one.kind === "noun" && one.np.head === "way") return;
    const thing: Thing =
      one.kind === "noun"
        ? { kind: "noun", np: one.np, i: one.i }
        : { kind: "pronoun", w: one.w, count: one.count, i: one.i };
    if (thing.kind === "pronoun" && SUBJECTS.has(thing.w) && thing.w !== "it" && prep === null) {
      if (!after) subjectPronoun = thing.w;
      return;
    }
    if (prep !== null) {
      phrases.push({ prep, thing });
      prep = null;
      return;
    }
    if (after) objects.push(thing);
    else {
      subjects.push(thing);
      if (thing.kind === "pronoun") subjectPronoun = thing.w;
    }
  });
  const tools = phrases.filter(
    ({ prep: by, thing }) =>
      (by === "with" || by === "by" || by === "using") &&
      thing.kind === "noun" &&
      (isTool(thing.np) || (by === "with" && thing.np.classes.includes("cutter"))),
  );
  const tool = tools[0]?.thing;
  return {
    subjects,
    subjectPronoun,
    objects,
    phrases,
    particles,
    tool: tool?.kind === "noun" ? tool.np : null,
    quantities,
    numbers,
  };
}

function nextThing(clause: Clause, k: number): string | null {
  for (let at = k + 1; at < clause.elements.length && at < k + 3; at += 1) {
    const one = clause.elements[at]!;
    if (one.kind === "noun" || one.kind === "quantity" || one.kind === "number") return one.kind;
    if (one.kind === "pronoun") return SUBJECTS.has(one.w) && one.w !== "it" ? null : one.kind;
    if (one.kind === "word" && one.w === "of") return "of";
    if (one.kind === "word" && (ADVERBS.has(one.w) || PREPOSITIONS.has(one.w)) && at === k + 1) continue;
    return null;
  }
  return null;
}
