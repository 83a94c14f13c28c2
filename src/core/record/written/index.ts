/**
 * A record as it is written into a table by hand: a relation, a way to undo, a level, a fastener as one line of text.
 *
 * Promised: reading what was written gives back the same value; text that is not understood is an InputError that names
 * the words and what was expected, and never a guess.
 */
export * from "./fields.ts";
export * from "./groups.ts";
export * from "./releases.ts";
export { removal } from "./removal.ts";
