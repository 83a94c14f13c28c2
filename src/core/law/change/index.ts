/**
 * Least change: the fewest (or cheapest) design changes that lift a device to a class, or make Article 11 pass.
 *
 * In: a record, what is to be reached, the planner, a limit of time. Out: all smallest sets up to a hundred, each enough by
 * itself, with whether that they are smallest is proved. Promised: a set made on the record gives the class when assessed
 * anew.
 */
export { leastChangeForArticle11 } from "./article-11-change.ts";
export { applyChange, type Change, changeKey, changesOf } from "./changes.ts";
export * from "./least-change.ts";
export { CHANGE_WORDS, type Prices, type PricesCheck, parsePrices, priceOf } from "./prices.ts";
