/**
 * Figures that stand up: readings to values with uncertainty, budgets, verdicts on claims, comparison of two records.
 *
 * In: numbers with their uncertainty, or a checked teardown record (and its sibling's). Out: plain results; every value
 * comes with a standard uncertainty `u`, degrees of freedom `dof` (Infinity = known exactly) and, where it is meant to be
 * read, k, U and a text rounded by GUM 7.2.6. Nothing here asks for the time or draws a number without a seed.
 */
export * from "./battery.ts";
export { answerCase, KINDS, type KindName, MEASURE_FORMAT } from "./case.ts";
export type { Verdict } from "./claim-verdict.ts";
export { type ClaimVerdict, judgeClaim, judgeClaims } from "./claims.ts";
export * from "./closure.ts";
export * from "./compare-records.ts";
export * from "./conformance.ts";
export * from "./distributions.ts";
export { type Estimate, type Term, uncertain } from "./estimate.ts";
export type { Change, Difference, Explained } from "./explain-change.ts";
export * from "./figures.ts";
export { compileFormula, type Formula, parseFormula } from "./formula.ts";
export * from "./instruments.ts";
export * from "./line.ts";
export * from "./mass-budget.ts";
export * from "./match-parts.ts";
export { type Drawn, type MonteCarloOptions, type MonteCarloResult, monteCarlo } from "./monte-carlo.ts";
export * from "./plan.ts";
export * from "./plausibility.ts";
export * from "./polygon.ts";
export * from "./probability.ts";
export * from "./propagate.ts";
export { type Random, seededRandom } from "./random.ts";
export { type Bench, benchOf, type ReadFigure } from "./readings.ts";
export * from "./reconcile.ts";
export * from "./report.ts";
export * from "./shapes.ts";
export * from "./stack.ts";
export * from "./summary.ts";
export * from "./thickness-budget.ts";
export * from "./two-values.ts";
export * from "./value-lists.ts";
