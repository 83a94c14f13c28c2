/**
 * What would make a window where there is none: each change is tried with the same search, alone and in pairs.
 *
 * Only changes that spare the cell are tried; a hotter plate is never proposed.
 */

import { Holding } from "./holding.ts";
import type { Stack } from "./stack.ts";
import { withCool, withHot } from "./vary.ts";
import {
  beginHeating,
  heatingOf,
  latestLiftOff,
  makeTracks,
  type Window,
  type WindowAnswer,
  warmWindow,
  windowFrom,
} from "./window.ts";

export interface Remedy {
  readonly change: string;
  readonly window: Window;
}

/** W/(m2.K) of a metal block pressed on the cool side, its temperature that of the room. Setting of our own, no source. */
const BLOCK = 200;
/** Share of the pad's contact that a card laid between pad and glass over the cell lets through. No source. */
const CARD = 0.3;

export function remedies(stack: Stack, refine: readonly number[] = []): Remedy[] {
  const found: Remedy[] = [];
  const add = (change: string, answer: WindowAnswer) => {
    if (answer.kind === "window") found.push({ change, window: answer.window });
    return answer.kind === "window";
  };
  const block = `the cool side on a metal block at ${stack.start} degC (about ${BLOCK} W/(m2.K))`;
  const cooled = withCool(stack, (end) => ({ temperature: Math.min(end.temperature, stack.start), h: BLOCK }));
  const plate = lowerPlate(stack, refine);
  if (plate !== undefined) add(`a plate of ${plate.degC} degC`, plate.answer);
  const blockHelps = add(block, warmWindow(cooled, refine));
  if (plate === undefined && !blockHelps) {
    const both = lowerPlate(cooled, refine);
    if (both !== undefined) add(`a plate of ${both.degC} degC and ${block}`, both.answer);
  }
  const shielded = shield(stack, refine);
  if (shielded !== undefined)
    add("a card between pad and glass over the cell, so that only the rim is heated", shielded);
  if (heatingOf(stack).stage > 0) {
    const rested = { ...stack, programme: stack.programme.slice(heatingOf(stack).stage) };
    add("a pause before the hottest stage until the device is at room temperature", warmWindow(rested, refine));
  }
  return found;
}

/** s that a window has to be wide to be of use to a hand. Setting of our own, no source. */
const USEFUL = 5;

/** The warmest plate below the given one with which there is a window of use; where there is none, any window at all. */
function lowerPlate(stack: Stack, refine: readonly number[]): { degC: number; answer: WindowAnswer } | undefined {
  const { held } = heatingOf(stack);
  if (held.hot.h === 0) return undefined;
  const soft = stack.lines.flatMap((line) => line.watch.flatMap((watch) => watch.soft ?? []));
  const least = Math.max(stack.start, ...soft);
  let any: { degC: number; answer: WindowAnswer } | undefined;
  for (let degC = Math.floor((held.hot.temperature - 0.5) / 2.5) * 2.5; degC > least; degC -= 2.5) {
    const cooler = withHot(stack, (end) => ({ ...end, temperature: degC }));
    // Once the stage is no longer the hottest the question is another one.
    if (heatingOf(cooler).stage !== heatingOf(stack).stage) return any;
    const answer = warmWindow(cooler, refine);
    if (answer.kind === "none") continue;
    const { from, to } = answer.window;
    if (to === null || to - from >= USEFUL) return { degC, answer };
    any ??= { degC, answer };
  }
  return any;
}

/** Lines that have caps and no bond under a card, the others as they are. */
function shield(stack: Stack, refine: readonly number[]): WindowAnswer | undefined {
  const covered = stack.lines.map((line) => line.watch.every((watch) => watch.soft === undefined));
  if (!covered.includes(true) || !covered.includes(false)) return undefined;
  const { held } = heatingOf(stack);
  const h = (held.hot.h ?? 1000) * CARD;
  const heating = heatingOf(stack);
  const under = heatingOf(withHot(stack, (end) => ({ ...end, h })));
  const tracks = makeTracks(stack, refine);
  const moments = beginHeating(tracks, stack, heating.before);
  const open = tracks.filter((_, l) => !covered[l]);
  const answer = windowFrom(
    open,
    moments.filter((_, l) => !covered[l]),
    heating,
  );
  if (answer.kind === "none") return answer;
  let { to } = answer.window;
  const begin = moments[0].state.time;
  for (const [l, track] of tracks.entries()) {
    if (!covered[l] || !track.capped) continue;
    const limit = latestLiftOff(
      track,
      new Holding(track.marcher, moments[l], under.held),
      under.after,
      begin,
      answer.window.from,
    );
    if (limit !== null && (to === null || limit < to)) to = limit;
  }
  if (to !== null && (to < answer.window.from || to < begin))
    return { kind: "none", why: "", from: answer.window.from, to };
  // `after` at the open lines' own limit is the most; at an earlier lift-off it is found anew.
  if (to === answer.window.to) return answer;
  const again = windowFrom(
    open,
    moments.filter((_, l) => !covered[l]),
    heating,
    to,
  );
  return again;
}
