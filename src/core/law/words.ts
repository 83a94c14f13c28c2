/** Sentences that are the same wherever the law is spoken of. */
import { decimal } from "./exact.ts";
import type { RuleSet } from "./rules/types.ts";
import { type Index, roundingDecides } from "./score.ts";

/** Goes with every output of the law. */
export const NOTICE =
  "A planning aid: the text in the Official Journal is what counts, and the assessor signs. Batteries, heat and solvents can hurt: local rules and qualified people come first.";

export function roundingWarning(rules: RuleSet, index: Index): string | undefined {
  if (!roundingDecides(index) || index.exact === null || index.rounded === null) return undefined;
  return (
    `rounding decides the class: ${decimal(index.exact, 4)} is declared as ${decimal(index.rounded, 2)}, class ${index.letter}; ` +
    `not rounded it would be ${index.exactLetter === null ? "below every class" : `class ${index.exactLetter}`} (${rules.act} states no rounding mode; half up is used)`
  );
}
