/**
 * Points -> scores -> index -> class, in whole numbers (2023/1669 Annex IV point 5).
 *
 * With part weights in percent a score of the parts is a whole number of hundredths, and the index a whole number of
 * ten-thousandths: R = 25 SDD + 15 (SF + ST) + 1500 (SSP + SSU + SRI). Nothing is ever a binary fraction.
 */
import type { PriorityRole } from "../record/schema.ts";
import type { RangeEnd, Scores } from "./answer.ts";
import { decimal, halfUp, hundredths } from "./exact.ts";
import { CURRENT } from "./rules/index.ts";
import type { ClassLetter, FastenerWord, RuleSet, ToolWord } from "./rules/types.ts";

/** The three scores of one priority part; null: the law has no points for what was found. */
export interface PartPoints {
  readonly depth: number | null;
  readonly fastener: number | null;
  readonly tool: number | null;
}

export interface ProductPoints {
  readonly spareParts: number | null;
  readonly updates: number | null;
  readonly information: number | null;
}

/** Hundredths and ten-thousandths; null where some score has no points. */
export interface Index {
  readonly SDD: number | null;
  readonly SF: number | null;
  readonly ST: number | null;
  readonly SSP: number | null;
  readonly SSU: number | null;
  readonly SRI: number | null;
  readonly exact: number | null;
  readonly rounded: number | null;
  readonly letter: ClassLetter | null;
  readonly exactLetter: ClassLetter | null;
}

export const NOT_FOLDABLE_ROLES = Object.keys(CURRENT.partWeights.flat) as readonly PriorityRole[];
export const FOLDABLE_ROLES = Object.keys(CURRENT.partWeights.foldable) as readonly PriorityRole[];

/** The priority parts that the act asks for, in its order; the hinge only when foldable. */
export function rolesOf(foldable: boolean): readonly PriorityRole[] {
  return foldable ? FOLDABLE_ROLES : NOT_FOLDABLE_ROLES;
}

/** Percent; the hinge weighs nothing on a device that does not fold. */
export function weightOf(rules: RuleSet, foldable: boolean, role: PriorityRole): number {
  const weights: { readonly [role in PriorityRole]?: number } = foldable
    ? rules.partWeights.foldable
    : rules.partWeights.flat;
  return weights[role] ?? 0;
}

/** Points for a number of steps, at least 0 (a part that simply comes off is 1). */
export function depthPoints(rules: RuleSet, steps: number): number {
  const band = rules.depthBands.find(({ upTo }) => upTo === null || steps <= upTo);
  return band?.points ?? 1;
}

export function fastenerPoints(rules: RuleSet, word: FastenerWord): number | null {
  return rules.fastenerPoints[word];
}

export function toolPoints(rules: RuleSet, word: ToolWord): number | null {
  return rules.toolPoints[word];
}

/** Points for guaranteed years of updates; part years do not count, 8 years count as 7; null below five years. */
export function updatePoints(rules: RuleSet, years: number): number | null {
  return rules.updatePoints.find((row) => years >= row.years)?.points ?? null;
}

/** Adds up the index. Roles left out of `parts` are absent and have the highest points. */
export function indexOf(
  rules: RuleSet,
  foldable: boolean,
  parts: ReadonlyMap<PriorityRole, PartPoints>,
  product: ProductPoints,
): Index {
  const sum = (score: keyof PartPoints): number | null => {
    let total = 0;
    for (const role of rolesOf(foldable)) {
      const points = parts.has(role) ? (parts.get(role)?.[score] ?? null) : rules.absentPoints;
      if (points === null) return null;
      total += weightOf(rules, foldable, role) * points;
    }
    return total;
  };
  return fromScores(rules, {
    SDD: sum("depth"),
    SF: sum("fastener"),
    ST: sum("tool"),
    SSP: product.spareParts,
    SSU: product.updates,
    SRI: product.information,
  });
}

/** SDD, SF and ST in hundredths, the others in points. */
interface ScoreNumbers {
  readonly SDD: number | null;
  readonly SF: number | null;
  readonly ST: number | null;
  readonly SSP: number | null;
  readonly SSU: number | null;
  readonly SRI: number | null;
}

function fromScores(rules: RuleSet, scores: ScoreNumbers): Index {
  const { SDD, SF, ST, SSP, SSU, SRI } = scores;
  const weights = rules.indexWeights;
  const exact =
    SDD === null || SF === null || ST === null || SSP === null || SSU === null || SRI === null
      ? null
      : weights.SDD * SDD +
        weights.SF * SF +
        weights.ST * ST +
        100 * (weights.SSP * SSP + weights.SSU * SSU + weights.SRI * SRI);
  const rounded = exact === null ? null : halfUp(exact);
  return {
    ...scores,
    exact,
    rounded,
    letter: rounded === null ? null : classOf(rules, rounded * 100),
    exactLetter: exact === null ? null : classOf(rules, exact),
  };
}

/** The class of an index in ten-thousandths; null below the lowest limit. */
export function classOf(rules: RuleSet, exact: number): ClassLetter | null {
  return rules.classLimits.find((limit) => exact >= limit.from * 100)?.letter ?? null;
}

/** The least index in ten-thousandths that is in the class when it is declared with two decimals, rounded half up. */
export function leastFor(rules: RuleSet, letter: ClassLetter): number {
  const limit = rules.classLimits.find((row) => row.letter === letter);
  return (limit?.from ?? 100) * 100 - 50;
}

/** The index from six declared scores, such as the rows 21a to 21f of a product sheet. @throws InputError */
export function indexFromScores(
  scores: { readonly [name in keyof Scores]: string | number },
  rules: RuleSet = CURRENT,
): Index {
  const within = (name: keyof Scores): number => {
    const value = hundredths(scores[name], name);
    return value;
  };
  return fromScores(rules, {
    SDD: within("SDD"),
    SF: within("SF"),
    ST: within("ST"),
    SSP: within("SSP") / 100,
    SSU: within("SSU") / 100,
    SRI: within("SRI") / 100,
  });
}

export function scoresText(index: Index): Scores {
  const text = (value: number | null): string | null => (value === null ? null : decimal(value, 2));
  return {
    SDD: text(index.SDD),
    SF: text(index.SF),
    ST: text(index.ST),
    SSP: index.SSP,
    SSU: index.SSU,
    SRI: index.SRI,
  };
}

export function endText(index: Index): RangeEnd {
  return { index: index.rounded === null ? null : decimal(index.rounded, 2), class: index.letter };
}

/** Does the class hang on the rounding of the index? */
export function roundingDecides(index: Index): boolean {
  return index.letter !== index.exactLetter;
}
