/**
 * The warm window: when a bond is soft and the battery is still safe.
 *
 * In: a layer stack (`unseam-stack/1`), a record's zone, a board (`unseam-board/1`), a thermocouple log. Out: plain
 * readonly answers. Lengths in mm, temperatures in degC, times in s from the beginning, conductances in W/(m2.K).
 * Promised: temperatures within 0.05 K and times within 0.1 s of the exact solution of one-dimensional conduction with
 * constant properties; stored heat equal to summed flux to 1e-9. Not promised: that a device is one-dimensional.
 * Errors: `InputFaults` with every fault of an input at once.
 */
export { InputFaults } from "../errors.ts";
export * from "./board/index.ts";
export {
  type Course,
  type CourseFace,
  type CourseLayer,
  type CourseOptions,
  courseOf,
  secondsAbove,
} from "./course.ts";
export { calibrated, type FitAnswer, type FitQuestion, type Fitted, fitStack } from "./fit.ts";
export { heatOfRelease, heatOfStack, type ReleaseHeat, stackFromZone, type ZoneStack } from "./from-record.ts";
export {
  MATERIALS,
  type Mark,
  type Material,
  type MaterialEntry,
  materialEntry,
  materialFromWords,
  materialName,
  materialOf,
  nearestMaterials,
  type Property,
} from "./materials.ts";
export { type Log, readLog } from "./read-log.ts";
export { MOST_LAYERS, readStack, STACK_FORMAT } from "./read-stack.ts";
export { type Remedy, remedies } from "./remedies.ts";
export { type Piece, planRounds, type Rounds, type RoundsAnswer, type RoundsControl } from "./rounds.ts";
export { type Band, type KnownContact, sensitivity, type Unsure, unsureOf, type Variation } from "./sensitivity.ts";
export { BURN, burnTime, type Caution, cautions, IPA, SETTINGS, type Setting } from "./settings.ts";
export { type FaceSeries, type Reached, type Simulation, simulate } from "./simulate.ts";
export * from "./stack.ts";
export { withCool, withHot } from "./vary.ts";
export { type WarmAnswer, type WarmQuestion, warmAnswer } from "./warm.ts";
export { type Heating, HOUR, heatingOf, type Window, type WindowAnswer, warmWindow } from "./window.ts";
