/**
 * The law: the repairability index of Delegated Regulation (EU) 2023/1669 and the checks that stand beside it.
 *
 * In: a sheet of declared values, or a record with a basis of counting. Out: the index in exact arithmetic with what
 * decides each score, a range where facts are unknown, and no index where the law has no points. Promised: no number is
 * ever a binary fraction; what is unknown is never guessed; what could not be verified in the act is listed by the rule
 * set.
 */
export * from "./answer.ts";
export type { Article11 } from "./article-11.ts";
export * from "./assess.ts";
export { assessSheet } from "./assess-sheet.ts";
export * from "./change/index.ts";
export { type Count, type CountedStep, countSteps, type StepEnd } from "./count.ts";
export * from "./declared.ts";
export type { Ecodesign, RowResult } from "./ecodesign.ts";
export { type Evidence, evidenceOf, type PartEvidence, type StepEvidence } from "./evidence.ts";
export * from "./exact.ts";
export { gridCsv } from "./grid.ts";
export type { FindWayIn } from "./least.ts";
export * from "./operations.ts";
export type { ProductFact } from "./product.ts";
export * from "./readings.ts";
export * from "./report.ts";
export { type Instance, instancesOf, type RoleResult } from "./role.ts";
export * from "./rules/index.ts";
export * from "./score.ts";
export * from "./segment.ts";
export type { Sequence } from "./sequence.ts";
export * from "./sheet.ts";
export type { TimedSequence } from "./timed.ts";
export type { Finding, Verdict } from "./verdict.ts";
export * from "./words.ts";
