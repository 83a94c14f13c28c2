/**
 * The warm window: from when every bond is soft, to the latest lift-off after which nothing passes its cap.
 *
 * The hottest stage (of equal ones the last) is held on from where the programme has brought the stack. `from` is read off
 * that march. A lift-off at t is tried by letting the stored profile go through the stages that follow; the excess of the
 * highest temperature over the cap grows with t, and its zero is found by the Illinois form of regula falsi to 0.1 ms.
 * A try ends as soon as nothing in the line is hotter than the peak already seen (maximum principle). Lines through the
 * device exchange no heat, so each is tried by itself. Cost: some ten coolings a line.
 */
import { Holding, type Moment, neverAbove, type Phase, release } from "./holding.ts";
import { capOf, Ledger } from "./ledger.ts";
import type { Marcher } from "./march.ts";
import { marcherFor, TOLERANCE } from "./simulate.ts";
import type { End, HeatStage, Line, Stack } from "./stack.ts";

export interface Window {
  /** Seconds from the beginning at which every watched bond is soft. */
  readonly from: number;
  /** Latest lift-off, seconds from the beginning; null: no limit within an hour. */
  readonly to: number | null;
  /** Seconds after a lift-off at `to` for which every bond stays soft; null: for more than an hour, or no bond is watched. */
  readonly after: number | null;
  /** Seconds above `counted.above` in a heating lifted off at `to`, of the face with most; only where one is counted. */
  readonly counted?: number;
}

export type WindowAnswer =
  | { readonly kind: "window"; readonly window: Window }
  | { readonly kind: "none"; readonly why: string; readonly from: number | null; readonly to: number | null };

/** Longest hold that is looked at, and longest time after a lift-off, s. */
export const HOUR = 3600;
/** Air around a device that has been lifted off, where the programme says nothing else, W/(m2.K). */
export const AIR_HOT = 10;
export const AIR_COOL = 8;

/** The programme seen from its hottest stage. */
export interface Heating {
  readonly stage: number;
  readonly before: readonly HeatStage[];
  readonly held: HeatStage;
  readonly after: readonly Phase[];
  /** The programme ends with its hottest stage: air was assumed to follow. */
  readonly airAssumed: boolean;
}

export function heatingOf(stack: Stack): Heating {
  const { programme, start } = stack;
  let stage = 0;
  for (let i = 1; i < programme.length; i += 1) if (warmth(programme[i]) >= warmth(programme[stage])) stage = i;
  const after = programme.slice(stage + 1);
  const air: Phase = {
    seconds: HOUR,
    hot: { temperature: start, h: AIR_HOT },
    cool: { temperature: start, h: AIR_COOL },
  };
  return {
    stage,
    before: programme.slice(0, stage),
    held: programme[stage],
    after: after.length === 0 ? [air] : after,
    airAssumed: after.length === 0,
  };
}

/** degC of the hotter surrounding; an insulated face has none. */
function warmth(stage: HeatStage): number {
  const of = (end: End) => (end.h === 0 ? Number.NEGATIVE_INFINITY : end.temperature);
  return Math.max(of(stage.hot), of(stage.cool));
}

/** One line, ready to be heated and lifted off. */
export interface Track {
  readonly line: Line;
  readonly marcher: Marcher;
  readonly capped: boolean;
  readonly counts: boolean;
  readonly soft: boolean;
}

export function makeTracks(stack: Stack, refine: readonly number[], tolerance = TOLERANCE): Track[] {
  return stack.lines.map((line, l) => ({
    line,
    marcher: marcherFor(line, stack, refine[l] ?? 1, tolerance),
    capped: line.watch.some((watch) => capOf(watch) !== undefined),
    counts: line.watch.some((watch) => watch.counted !== undefined),
    soft: line.watch.some((watch) => watch.soft !== undefined),
  }));
}

/** Each line where the stages before the hottest have brought it. */
export function beginHeating(tracks: readonly Track[], stack: Stack, before: readonly HeatStage[]): Moment[] {
  return tracks.map(({ line, marcher }) => {
    const moment: Moment = { state: marcher.initial(), ledger: Ledger.begin(line, stack.start) };
    for (const stage of before) marcher.run(moment.state, stage, stage.seconds, (span) => void moment.ledger.see(span));
    return moment;
  });
}

/**
 * The warm window of a stack. `refine`: how fine each line's mesh must be, as `simulate` found. `before`: lifted off by then
 * whatever the caps allow.
 */
export function warmWindow(stack: Stack, refine: readonly number[] = [], before: number | null = null): WindowAnswer {
  const heating = heatingOf(stack);
  const tracks = makeTracks(stack, refine);
  const moments = beginHeating(tracks, stack, heating.before);
  return windowFrom(tracks, moments, heating, before);
}

/**
 * The window of a heating that starts from any profile. Times are those of the moments. `before`: a latest lift-off known
 * from elsewhere.
 */
export function windowFrom(
  tracks: readonly Track[],
  moments: readonly Moment[],
  heating: Heating,
  before: number | null = null,
): WindowAnswer {
  const begin = moments[0].state.time;
  const holdings = tracks.map(({ marcher }, l) => new Holding(marcher, moments[l], heating.held));
  for (const [l, track] of tracks.entries()) {
    const passed = moments[l].ledger.firstPassed();
    if (!Number.isNaN(passed)) {
      const why = `${passedWhat(track, moments[l].ledger)} is passed at ${round(passed)} s, before the hottest stage begins`;
      return { kind: "none", why, from: null, to: null };
    }
  }
  const from = softFrom(tracks, holdings, begin);
  if (typeof from === "string") return { kind: "none", why: from, from: null, to: null };
  let to: number | null = before;
  let limiting: Track | undefined;
  for (const [l, track] of tracks.entries()) {
    if (!track.capped) continue;
    const limit = latestLiftOff(track, holdings[l], heating.after, begin, Math.max(begin, from));
    if (limit !== null && (to === null || limit < to)) {
      to = limit;
      limiting = track;
    }
  }
  if (to !== null && limiting !== undefined && (to < from || to < begin)) {
    const first = to <= begin ? "even when it is lifted off at once" : `unless it is lifted off by ${round(to)} s`;
    const late = to < from ? `; the bond is soft only from ${round(from)} s` : "";
    const why = `${capWords(limiting)} would be passed ${first}${late}`;
    return { kind: "none", why, from, to: to < begin ? null : to };
  }
  const lift = to ?? begin + HOUR;
  let after: number | null = null;
  let counted: number | undefined;
  for (const [l, track] of tracks.entries()) {
    if (!track.soft && !track.counts) continue;
    holdings[l].until(lift);
    const moment = holdings[l].at(lift);
    const lost = cutTime(track, moment, heating.after);
    if (track.soft && lost !== null && (after === null || lost < after)) after = lost;
    for (const [w, watch] of track.line.watch.entries())
      if (watch.counted !== undefined) counted = Math.max(counted ?? 0, moment.ledger.counted[w]);
  }
  return { kind: "window", window: { from, to, after, ...(counted === undefined ? {} : { counted }) } };
}

/** Seconds at which every bond of every line is soft, or why that does not happen. */
function softFrom(tracks: readonly Track[], holdings: readonly Holding[], begin: number): number | string {
  let from = tracks.some((track) => track.soft) ? 0 : begin;
  for (const [l, track] of tracks.entries()) {
    if (!track.soft) continue;
    const holding = holdings[l];
    holding.until(begin + HOUR, (ledger) => !Number.isNaN(ledger.allSoftAt()));
    const at = holding.ledger.allSoftAt();
    if (Number.isNaN(at)) {
      const w = track.line.watch.findIndex(
        (watch, i) => watch.soft !== undefined && Number.isNaN(holding.ledger.softAt[i]),
      );
      const watch = track.line.watch[w];
      return `${watch.name} does not reach ${watch.soft} degC within an hour (${round(holding.ledger.peak[w])} degC at most)`;
    }
    from = Math.max(from, at);
  }
  return from;
}

/**
 * Latest lift-off in seconds after which no face of the line passes its cap; null: no limit within an hour; before
 * `begin`: not even a lift-off at once. `guess`: where a limit is likely, or matters most.
 */
export function latestLiftOff(
  track: Track,
  holding: Holding,
  after: readonly Phase[],
  begin: number,
  guess: number,
): number | null {
  const excess = (time: number): number => {
    const moment = holding.at(time);
    letPeak(track, moment, after);
    return moment.ledger.excess();
  };
  holding.until(begin + HOUR, (ledger) => !Number.isNaN(ledger.firstPassed()));
  const passed = holding.ledger.firstPassed();
  // Passed by the stages before: no lift-off of this one helps.
  if (passed < begin) return begin - 1;
  let high = Number.isNaN(passed) ? begin + HOUR : passed;
  let over = excess(high);
  if (over <= 0) {
    if (Number.isNaN(passed)) return null;
    // Lifted off at the very moment at which the cap is reached, and nothing rises any more.
    return high;
  }
  let low = begin;
  let under = 0;
  if (guess > begin && guess < high) {
    const x = excess(guess);
    if (x > 0) [high, over] = [guess, x];
    else [low, under] = [guess, x];
  }
  if (low === begin) {
    under = excess(begin);
    if (under > 0) return begin - 1;
  }
  return zero(excess, low, under, high, over, 1e-4);
}

/** Illinois: like regula falsi, but an end that stays put loses half its weight. Ends on the side where f is not above 0. */
export function zero(
  f: (x: number) => number,
  low: number,
  under: number,
  high: number,
  over: number,
  precision: number,
): number {
  let [a, fa, b, fb] = [low, under, high, over];
  let side = 0;
  for (let i = 0; i < 60 && b - a > precision; i += 1) {
    let x = (a * fb - b * fa) / (fb - fa);
    if (!(x > a && x < b)) x = (a + b) / 2;
    const fx = f(x);
    if (fx > 0) {
      [b, fb] = [x, fx];
      if (side === 1) fa /= 2;
      side = 1;
    } else {
      [a, fa] = [x, fx];
      if (side === -1) fb /= 2;
      side = -1;
    }
    if (Math.abs(fx) < 1e-6) return x;
  }
  // The side on which nothing is passed.
  return a;
}

/** Lets a line cool, in place, until its peaks are behind it. */
export function letPeak(track: Track, moment: Moment, after: readonly Phase[]): void {
  const { ledger } = moment;
  release(track.marcher, moment, after, HOUR, (now, last) => {
    if (!last) return false;
    let lowest = Number.POSITIVE_INFINITY;
    for (const [w, watch] of track.line.watch.entries())
      if (capOf(watch) !== undefined) lowest = Math.min(lowest, ledger.peak[w]);
    return neverAbove(track.marcher, now, after[after.length - 1], lowest);
  });
}

/**
 * Lets a line cool, in place, until its bonds are hard, its peaks behind it and its counted faces below their band.
 * Returns the seconds after the lift-off for which every bond stayed soft, or null when that is more than an hour.
 */
export function cutTime(track: Track, moment: Moment, after: readonly Phase[]): number | null {
  const begin = moment.state.time;
  const { ledger } = moment;
  ledger.lostAt = Number.NaN;
  release(track.marcher, moment, after, HOUR, (now, last) => {
    if (!last || (track.soft && Number.isNaN(ledger.lostAt))) return false;
    let lowest = Number.POSITIVE_INFINITY;
    for (const [w, watch] of track.line.watch.entries()) {
      if (watch.counted !== undefined) lowest = Math.min(lowest, watch.counted.above);
      if (capOf(watch) !== undefined) lowest = Math.min(lowest, ledger.peak[w]);
    }
    return neverAbove(track.marcher, now, after[after.length - 1], lowest);
  });
  return track.soft && !Number.isNaN(ledger.lostAt) ? ledger.lostAt - begin : null;
}

function capWords(track: Track): string {
  return track.line.watch
    .filter((watch) => capOf(watch) !== undefined)
    .map((watch) => `${watch.plan === undefined ? "stop" : "plan"} limit of ${watch.name} (${capOf(watch)} degC)`)
    .join(" or ");
}

function passedWhat(track: Track, ledger: Ledger): string {
  const w = track.line.watch.findIndex((_, i) => !Number.isNaN(ledger.passedAt[i]));
  const watch = track.line.watch[w];
  return `${watch.plan === undefined ? "stop" : "plan"} limit of ${watch.name} (${capOf(watch)} degC)`;
}

function round(x: number): number {
  return Math.round(x * 10) / 10;
}
