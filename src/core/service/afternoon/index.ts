/**
 * The afternoon: what to learn while the device is open, when the last moment for it is, and the brief for the evening
 * before. In: a record, a way in and back, and what the figures and the law leave open. Out: chances with their windows
 * and what they are worth, in the order of work.
 */
export { type Brief, type BriefOptions, briefOf } from "./brief.ts";
export { type Chance, chancesAlong, closedNext, lastChanceText, withinMinutes, worthText } from "./chances.ts";
export { type FirstReading, firstReadings } from "./first-readings.ts";
export { workSoFar } from "./progress.ts";
export { type BenchState, CLOSED_DEVICE, type Doing, Sight, statesAlong } from "./states.ts";
export { type Known, type Want, wantsOf } from "./wants.ts";
