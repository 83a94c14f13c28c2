/**
 * The lexicon: plain data, read once. A technician extends the reader here and nowhere else: `verbs.ts` (what is done),
 * `nouns.ts` (what it is done to and with), `units.ts`, `mishearings.ts`, `words.ts` (the small words).
 */
export * from "./mishearings.ts";
export * from "./nouns.ts";
export * from "./units.ts";
export * from "./verbs.ts";
export * from "./words.ts";
