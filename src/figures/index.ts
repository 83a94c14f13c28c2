/**
 * Figures: an answer -> a scene. Nothing here decides a number or knows a colour.
 *
 * In: a record, a way in, measured figures. Out: a `Scene` of seven kinds of shape in px, drawn by `draw/`.
 */
export { spokenRange, spokenTime } from "./axis.ts";
export { type BarFigure, type BarOptions, type BarRow, drawBars } from "./bars/mass-bars.ts";
export { type MassReading, massRows } from "./bars/mass-rows.ts";
export { type BudgetOptions, drawBudget } from "./budget/budget.ts";
export { type BudgetPicture, massPicture, thicknessPicture } from "./budget/budget-rows.ts";
export { drawClaimStrip, type StripClaim } from "./claim-strip/claim-strip.ts";
export type { Seen } from "./device/bare.ts";
export { closedView, type DeviceDrawing, type DrawingInput, drawDevice } from "./device/drawing.ts";
export { materialClass } from "./device/material-class.ts";
export { type PlacedDevice, type PlacedPart, placeDevice } from "./device/placed.ts";
export type { Choice } from "./device/plan.ts";
export { type DimensionOptions, drawDimensions } from "./dimensions/dimensions.ts";
export { jointDetail, jointWords } from "./joint-words.ts";
export { drawLadder } from "./ladder/ladder.ts";
export { type Rung, rungsTo } from "./ladder/rungs.ts";
export { type Weighed, weighedScores } from "./law/weighed.ts";
export { drawWeights, type WeighedPart, type WeighedScore, type WeightOptions } from "./law/weights.ts";
export { type Obstacle, obstaclesOf } from "./ribbon/obstacles.ts";
export { operationWords } from "./ribbon/operation-words.ts";
export { drawRibbon, rowOf, stepTimes } from "./ribbon/ribbon.ts";
export type { Reference, Scene, Shape } from "./scene.ts";
export { drawBoardPlan } from "./warmth/board-plan.ts";
export { type CountedFigure, drawCounted } from "./warmth/counted.ts";
export { drawCourse } from "./warmth/course.ts";
export { drawFit, type FitFigure } from "./warmth/fit.ts";
export { drawWarmSection } from "./warmth/section.ts";
export { drawWaterfall, type Fall, fallsOf, type WaterfallOptions } from "./waterfall/waterfall.ts";
