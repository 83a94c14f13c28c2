/**
 * The line at the bottom of every page, as a pure function: one typed, dictated or measured line and what it is said in ->
 * what was understood, as edits, or the answer to a question.
 *
 * Promised: nothing is lost (what is not understood is kept as a note without a place); nothing is invented; the same line
 * in the same context gives the same answer but for the ids, which the caller makes. Marks are moments without words, named
 * later by hand or by the captions (`matchMarks`).
 */
export { lastCup, lying, nextCup } from "./cups.ts";
export { type MarkMatch, type Moment, matchMarks } from "./match-marks.ts";
export { againNext, LONGEST_LINE, markAt, readLine } from "./read-line.ts";
export { type SessionNow, sessionNow } from "./session-now.ts";
export { isMark, isUnplaced, work } from "./shown.ts";
export type { LineAnswer, LineContext, LineKept, LineKind, LineTold } from "./types.ts";
