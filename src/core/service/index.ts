/**
 * From the bench to the shop. In: a valid record and what is to be replaced, or records and a forecast. Out: a job with its way
 * in and back, what it takes, how long, what can go wrong and what it costs; what to keep on the shelf; the methods alone.
 *
 * Promised: no clock and no draw without the caller's seed; money exact and of one currency; what is not known is null, with why.
 */
export { type Closing, closingOf, type Difference } from "./closing/index.ts";
export { drawBeta, drawGamma, drawPert, sampleQuantile } from "./draws.ts";
export { microsOf, moneyFrom, times, toHundredths } from "./money.ts";
export { KINDS, RECKON_FORMAT, type ReckonKind, reckonCase } from "./reckon/case.ts";
export {
  readForecast,
  SHELF_DEFAULTS,
  type Shelf,
  type ShelfItem,
  type ShelfRecord,
  type ShelfSettings,
  shelfOf,
} from "./shelf/index.ts";
export { readTable, writeTable } from "./shelf/table.ts";
export {
  DEFAULTS,
  disturbedBy,
  type Swap,
  type SwapBack,
  type SwapBackOperation,
  type SwapQuestion,
  type SwapSettings,
  swapOf,
  validateSwap,
} from "./swap/index.ts";
export { breakingTorque, torqueWords } from "./torque.ts";
