/**
 * The planner: operations that need one another, tools, sides and bonds that cool -> the cheapest order of work, proved.
 *
 * In: a `Problem` and an `Objective` (problem.ts); `core/structure` makes them of a record, `bare.ts` of a document. Out: an
 * `Answer`. Promised: an order that is returned obeys every rule (it has been replayed), nothing is below `lowerBound`,
 * `proved` means that they have met, the same input gives the same answer, and no clock decides anything but when to stop.
 * Why it may say so: docs/core/route.md.
 *
 * `ways/` asks the questions about a record, `sop/` solves sequential ordering problems with costs between any two nodes.
 */
export { BARE_FORMAT, BARE_OBJECTIVE, bareOrder, readBare } from "./bare.ts";
export { type Blocked, blockedTargets } from "./because.ts";
export { type OracleAnswer, oracle } from "./oracle.ts";
export type * from "./problem.ts";
export { DEFAULT_READINGS } from "./problem.ts";
export { landmarks, reachable } from "./reduce.ts";
export { type Replayed, type ReplayedMove, replay, type Violation } from "./replay.ts";
export { solve } from "./solve.ts";
