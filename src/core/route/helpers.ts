/**
 * Operations that may be worth doing though no need asks for them. Taking away an operation that serves no other never
 * costs anything (fetches and turns obey the triangle inequality), but for three effects:
 *
 * 1. Heat. What has to be fetched or turned between a heating and its bond takes part of the soft time. An operation or
 *    a heating just before, with the bond's tool or side, makes it ready (`makesReady`, `heatingHelps`).
 * 2. Steps. A tool taken up while the work is closed counts no step; a release without tools then opens the work, and
 *    going on with the tool that is still in hand is no change (`keepsSet`).
 * 3. Steps. Lifts that count no step and still close the work (readings I4 and I7), and operations that have the device
 *    turned earlier than it must be, where the turn closes the work (reading I6): `closesFree`.
 */
import type { Problem, StepReadings } from "./problem.ts";
import { sameTools } from "./steps.ts";

/** Which effects are at work in a search. */
export interface Allowed {
  /** Effects 1 and 2: off in a relaxation that grants them for nothing. */
  readonly ready: boolean;
  /** Steps are part of the question. */
  readonly counted: boolean;
}

/** Operations with one of the effects on what is kept; `inTime(helper, helped)`: the one can come before the other. */
export function findHelpers(
  problem: Problem,
  readings: StepReadings,
  allow: Allowed,
  kept: Uint8Array,
  inTime: (helper: number, helped: number) => boolean = () => true,
): number[] {
  const { operations, zones } = problem;
  const bonds: number[] = [];
  const list: number[] = [];
  for (const [i, operation] of operations.entries()) {
    if (kept[i] !== 1) continue;
    list.push(i);
    if ((zones[operation.zone]?.soft ?? null) !== null) bonds.push(i);
  }
  const bareWork = list.some((i) => operations[i]!.kind === "release" && operations[i]!.tools.length === 0);
  return operations.flatMap((operation, i) => {
    // What is not kept yet has no landmarks: any order may be possible.
    const before = (other: number) => kept[i] !== 1 || inTime(i, other);
    const forHeat =
      allow.ready && bonds.some((bond) => makesReady(problem, operation, bond, allow.counted) && before(bond));
    const forSteps =
      allow.counted &&
      (closesFree(problem, readings, i) ||
        (allow.ready && bareWork && list.some((y) => keepsSet(problem, readings, i, y) && before(y))));
    return forHeat || forSteps ? [i] : [];
  });
}

/** Operations that may close the work without a step more. */
export function closesFree(problem: Problem, readings: StepReadings, i: number): boolean {
  const operation = problem.operations[i]!;
  if (readings.I6 && operation.side >= 0) return true;
  if (operation.kind !== "lift") return false;
  if (readings.I7 && operation.tray) return true;
  if (!readings.I4) return false;
  // What it takes off counts no more in the lifts that would have taken it off.
  return (
    operation.bundle.length > 0 || problem.operations.some(({ bundle }) => bundle.some((lifts) => lifts.includes(i)))
  );
}

/** Whether release `i` takes up the very set that `other` uses itself or for its heating. */
export function keepsSet(problem: Problem, readings: StepReadings, i: number, other: number): boolean {
  const { kind, tools } = problem.operations[i]!;
  if (readings.I1 || readings.I5 || i === other || kind !== "release" || tools.length === 0) return false;
  const later = problem.operations[other]!;
  const zone = problem.zones[later.zone];
  return sameTools(tools, later.tools) || (zone !== undefined && sameTools(tools, zone.tools));
}

/**
 * May doing something with these tools and this side just before the heating of `bond` spare a fetch or a turn within
 * its window? A held source replaces what is in hand, a device that lies on its source the side that is up. Where the
 * bond itself uses no tool (or side), or other work may come between heating and bond (where the source is held, the
 * device lies on it, or steps are counted, since a heating closes the work), any tool (or side) counts.
 */
export function makesReady(
  problem: Problem,
  what: { readonly tools: readonly number[]; readonly side: number },
  bond: number,
  counted: boolean,
): boolean {
  const { tools, side, zone: index } = problem.operations[bond]!;
  const zone = problem.zones[index]!;
  const alone = zone.tools.length === 0 && zone.side < 0 && !counted;
  if (zone.tools.length === 0 && what.tools.length > 0) {
    if (!alone || tools.length === 0 || what.tools.some((tool) => tools.includes(tool))) return true;
  }
  return zone.side < 0 && what.side >= 0 && (!alone || side < 0 || side === what.side);
}

/** Whether heating zone `z` may make ready an operation with a bond that cools. */
export function heatingHelps(problem: Problem, z: number, i: number, counted: boolean): boolean {
  const { zone } = problem.operations[i]!;
  if ((problem.zones[zone]?.soft ?? null) === null) return false;
  return makesReady(problem, problem.zones[z]!, i, counted);
}
