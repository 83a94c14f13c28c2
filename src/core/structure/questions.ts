/**
 * Open questions: relations of the structure that nobody has tried, in words that can be answered with a look, and ranked
 * by what their answers decide.
 */
import type { Joint, Part, TeardownRecord } from "../record/index.ts";

export interface OpenQuestion {
  /** Id of the part whose `under`, or of the joint whose `reach`, is doubted. */
  readonly relation: string;
  readonly of: "part" | "joint";
  readonly asks: string;
  /** Parts that the question is about. */
  readonly parts: readonly string[];
}

/** Every doubted relation that says something, in the order of the record. */
export function openQuestions(record: TeardownRecord): OpenQuestion[] {
  const names = new Map(record.parts.map((part) => [part.id, part.name]));
  const name = (id: string): string => names.get(id) ?? id;
  const parts = record.parts.flatMap((part): OpenQuestion[] => {
    const groups = part.under ?? [];
    if (!doubted(part) || !says(groups)) return [];
    return [{ relation: part.id, of: "part", asks: askPart(part, groups, name), parts: [part.id, ...members(groups)] }];
  });
  const joints = record.joints.flatMap((joint): OpenQuestion[] => {
    const groups = joint.reach ?? [];
    if (!doubted(joint) || !says(groups)) return [];
    return [
      {
        relation: joint.id,
        of: "joint",
        asks: askJoint(joint, groups, name),
        parts: [...joint.holds, ...members(groups)],
      },
    ];
  });
  return [...parts, ...joints];
}

/** How a measure comes out when a relation is not there and when it is, the others as written and with none of them. */
export interface Weighed<T> {
  readonly question: OpenQuestion;
  /** The others as written. */
  readonly written: { readonly no: T; readonly yes: T };
  /** None of the others. */
  readonly alone: { readonly no: T; readonly yes: T };
}

/**
 * Weighs every open question by a measure and puts the most decisive first.
 *
 * @param measure value of the record when just these relations (their ids) hold; asked for the same set once
 * @param difference how far apart two values are for a question, at least 0; 0 = the answer does not matter
 */
export function weighQuestions<T>(
  record: TeardownRecord,
  measure: (holding: readonly string[]) => T,
  difference: (a: T, b: T, question: OpenQuestion) => number,
): Weighed<T>[] {
  const questions = openQuestions(record);
  const ids = questions.map((question) => question.relation);
  const known = new Map<string, T>();
  const value = (holding: readonly string[]): T => {
    const key = holding.join("\n");
    if (!known.has(key)) known.set(key, measure(holding));
    return known.get(key) as T;
  };
  const weighed = questions.map((question, index): Weighed<T> & { weight: number; index: number } => {
    const others = ids.filter((id) => id !== question.relation);
    const written = { no: value(others), yes: value(ids) };
    const alone = { no: value([]), yes: value([question.relation]) };
    const weight = Math.max(difference(written.no, written.yes, question), difference(alone.no, alone.yes, question));
    return { question, written, alone, weight, index };
  });
  weighed.sort((a, b) => b.weight - a.weight || a.index - b.index);
  return weighed.map(({ question, written, alone }) => ({ question, written, alone }));
}

function doubted(owner: Part | Joint): boolean {
  return owner.basis === "inferred" || owner.basis === "sibling";
}

function says(groups: readonly (readonly string[])[]): boolean {
  return groups.length > 0 && groups.every((group) => group.length > 0);
}

function members(groups: readonly (readonly string[])[]): string[] {
  return [...new Set(groups.flat())];
}

function askPart(part: Part, groups: readonly (readonly string[])[], name: (id: string) => string): string {
  const over = either(groups, name);
  const from = part.basis === "sibling" ? " It did in the model before." : "";
  if (part.role === "cable" || part.path) return `Does the ${lower(part.name)} run under the ${over}?${from}`;
  return `Does the ${lower(part.name)} lie under the ${over}, so that it cannot come out before?${from}`;
}

function askJoint(joint: Joint, groups: readonly (readonly string[])[], name: (id: string) => string): string {
  const from = joint.basis === "sibling" ? " It was so in the model before." : "";
  const held = joint.holds.map((id) => `the ${lower(name(id))}`).join(" and ");
  const does = groups.length === 1 && groups[0]!.length > 1 ? "Do" : "Does";
  return `${does} the ${either(groups, name)} cover the ${kindWords(joint)} between ${held}?${from}`;
}

function kindWords(joint: Joint): string {
  const count = joint.count ?? 1;
  const noun = joint.kind === "screw" ? "screw" : joint.kind === "connector" ? "plug" : joint.kind.replace("-", " ");
  return count === 1 ? noun : `${count} ${noun}s`;
}

/** "speaker", "speaker and shield", "speaker, or the shield": at least one group must be out of the way. */
function either(groups: readonly (readonly string[])[], name: (id: string) => string): string {
  return groups.map((group) => group.map((id) => lower(name(id))).join(" and the ")).join(", or the ");
}

/** Lower case at the beginning of a sentence's word, but not of a name in capitals (SIM tray). */
function lower(text: string): string {
  return /^[A-Z][a-z]/.test(text) ? text[0].toLowerCase() + text.slice(1) : text;
}
