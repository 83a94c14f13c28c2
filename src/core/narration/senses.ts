/** The senses of lexicon/verbs.ts as tables, and the choice among them. */
import { BACK_VERBS, type NounClass, VERBS } from "./lexicon/index.ts";

/** What a verb asks for; the last four are decided further by the reader. */
export type Sense = string;

interface Rule {
  readonly classes: ReadonlySet<string> | null;
  /** null: any; empty: none may stand there. */
  readonly particles: ReadonlySet<string> | null;
  readonly action: Sense;
}

const parse = (text: string): readonly Rule[] =>
  text.split(";").map((rule) => {
    const at = rule.lastIndexOf(":");
    const action = rule.slice(at + 1).trim();
    const [classes, particles] = rule.slice(0, at).trim().split("+");
    return {
      classes: classes === "*" ? null : new Set(classes!.split("/")),
      particles: particles === undefined || particles === "*" ? null : new Set(particles.split("/")),
      action,
    };
  });

const RULES: ReadonlyMap<string, readonly Rule[]> = new Map(
  Object.entries(VERBS).map(([verb, text]) => [verb, parse(text)]),
);
const BACK_RULES: ReadonlyMap<string, readonly Rule[]> = new Map(
  Object.entries(BACK_VERBS).map(([verb, text]) => [verb, parse(text)]),
);

/** The sense of `verb` for an object of these classes with these particles beside it; null where none fits. */
export function senseOf(verb: string, classes: ReadonlySet<string>, particles: ReadonlySet<string>): Sense | null {
  return choose(RULES.get(verb) ?? [], classes, particles);
}

export function backSenseOf(verb: string, classes: ReadonlySet<string>): Sense | null {
  return choose(BACK_RULES.get(verb) ?? [], classes, new Set());
}

function choose(rules: readonly Rule[], classes: ReadonlySet<string>, particles: ReadonlySet<string>): Sense | null {
  for (const rule of rules) {
    if (rule.classes !== null && ![...rule.classes].some((one) => classes.has(one))) continue;
    if (rule.particles === null) return rule.action;
    const wants = [...rule.particles];
    if (wants.some((one) => particles.has(one)) || (rule.particles.has("-") && bare(particles))) return rule.action;
  }
  return null;
}

/** Nothing beside the verb but what it is done with. */
const DIRECTIONS = new Set(
  "off out up away free loose open apart aside over back clear down around round through under underneath beneath along".split(
    " ",
  ),
);
const bare = (particles: ReadonlySet<string>) => ![...particles].some((one) => DIRECTIONS.has(one));

/** "Remove" by what is removed. */
export function removal(classes: readonly NounClass[], loose = false): string {
  const has = (cls: NounClass) => classes.includes(cls);
  if (loose && (has("plug") || has("film"))) return "lift";
  if (has("fastener") || has("drive")) return "unscrew";
  if (has("part") || has("device")) return "lift";
  if (has("plug")) return "unplug";
  if (has("tab") || has("film")) return "peel";
  if (has("residue") || has("glue")) return "clean";
  if (has("clip")) return "pry";
  if (has("chip")) return "lift";
  if (
    has("side") ||
    has("gap") ||
    has("abstract") ||
    has("place") ||
    has("quantity") ||
    has("tool") ||
    has("heater") ||
    has("suction") ||
    has("cutter") ||
    has("solvent") ||
    has("gauge") ||
    has("holder") ||
    has("supply")
  )
    return "none";
  return "lift";
}
