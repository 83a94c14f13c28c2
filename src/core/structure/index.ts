/**
 * Structure: parts, joints and what hides what -> the operations that are possible.
 *
 * In: a valid record and the terms of a question. Out: the planning problem of core/route with the meaning of each of its
 * operations, what can be reached at all, and why a part cannot.
 */
export { Assemblies } from "./assemblies.ts";
export { type Blocked, whyBlocked } from "./blockers.ts";
export { type Compiled, compile, type Meaning, OPPOSITE } from "./compile.ts";
export { examineRecord, structureWarnings } from "./examine.ts";
export { type Harm, harmOf, millionths, moneyOf, requireOneCurrency } from "./harm.ts";
export { isElectrical, isLiveWork, isOnTheWayToPower, onTheWayToPower, powerJoint } from "./power.ts";
export { type OpenQuestion, openQuestions, type Weighed, weighQuestions } from "./questions.ts";
export { isAway, type Reached, reachable } from "./reach.ts";
export { recordHolding, type Settled, settle } from "./settle.ts";
export { liftTime, milliseconds, releaseTime, SET_A, SETTINGS, shiftTime, zoneTime } from "./times.ts";
export { allowed, holding, holds, reachOf, standing, type Terms, underOf, type View, viewOf } from "./view.ts";
export { keepWarmth, type WarmZone, warmZone } from "./warm-zones.ts";
