/**
 * A cut that takes longer than the bond stays soft: the whole sequence of heatings, pieces of cutting and pauses.
 *
 * Each heating starts from the profile that the one before left. A rule says how long to hold after every bond is soft
 * again, and down to which temperature of the counted faces to wait first; no lift-off ever passes a cap, the warming
 * after it included. All rules of a small grid are played through, and the one with the least total time is kept whose
 * counted seconds stay within what is allowed; equal ones prefer fewer heatings. Waiting is tried only where no rule
 * without it will do. Bounded by `MOST_HEATINGS` heatings a rule.
 */
import { copyMoment, Holding, type Moment, neverAbove, release } from "./holding.ts";
import { capOf } from "./ledger.ts";
import type { Stack, Watch } from "./stack.ts";
import { beginHeating, type Heating, HOUR, heatingOf, letPeak, makeTracks, type Track, zero } from "./window.ts";

export interface Piece {
  readonly kind: "heat" | "cut" | "pause";
  /** Seconds from the beginning of the programme. */
  readonly from: number;
  readonly to: number;
}

export interface Rounds {
  readonly heatings: number;
  /** Seconds from the beginning of the first heating (what the programme did before it included) to the end of the cut. */
  readonly elapsed: number;
  /** Highest degC of a face with a cap, over everything, the cooling at the end included. */
  readonly peak: number;
  /** Seconds above the band of the counted face with most, over everything. */
  readonly counted: number;
  readonly pauses: number;
  readonly sequence: readonly Piece[];
}

export type RoundsAnswer =
  | { readonly kind: "rounds"; readonly rounds: Rounds }
  | { readonly kind: "none"; readonly why: string };

/** Pieces of cutting shorter than this are not work: setting the blade takes as long. Setting of our own, no source. */
export const SHORTEST_PIECE = 5;
/** What a heating weighs beyond its seconds when sequences are compared. Setting of our own, no source. */
export const CHANGE = 15;
/** K */
const MARGIN = 0.01;
const MOST_HEATINGS = 200;
const QUICK_HEATINGS = 12;
/** Seconds held beyond softness: a fine grid without waits, a coarse one with them. */
const HOLDS = [4, 6, 8, 11, 14, 18, 23, 29, 36, 45, 56, 70, 90, 115, 150, 200, 270, 360, 480, 600];
const QUICK_HOLDS = [8, 18, 36, 70, 150, 360];
const FEW_HOLDS = [8, 14, 25, 50, 120];
const WAITS = [3, 8, 12, 17, 23];
const QUICK_WAITS = [12, 23];
const QUICK_BURSTS = [Number.POSITIVE_INFINITY, 2, 1];
const BURSTS = [Number.POSITIVE_INFINITY, 6, 4, 3, 2, 1];

interface Rule {
  /** Seconds to hold after every bond is soft. */
  readonly hold: number;
  /** K below its cap (10 K above its counted band, where it has none) to which a face cools in a wait; undefined: no waiting. */
  readonly wait: number | undefined;
  /** Heatings between waits. */
  readonly burst: number;
}

export interface RoundsControl {
  /** Share of the rules that have been played, 0 to 1: an upper bound of what is left, most searches end sooner. */
  readonly progress?: (share: number) => void;
  /** Few rules: for planners that ask often. What it finds keeps every limit as well, and may take longer. */
  readonly quick?: boolean;
}

/** The cheapest sequence for a cut of `cut` seconds. */
export function planRounds(
  stack: Stack,
  cut: number,
  refine: readonly number[] = [],
  { progress, quick = false }: RoundsControl = {},
): RoundsAnswer {
  const heating = heatingOf(stack);
  // What is compared are totals of minutes: a looser tolerance does.
  const tracks = makeTracks(withMargin(stack), refine, 1e-3);
  const begin = beginHeating(tracks, stack, heating.before);
  let best = undefined as Rounds | undefined;
  let refused: string | undefined;
  const all = HOLDS.length + BURSTS.length * WAITS.length * FEW_HOLDS.length;
  let tried = 0;
  const consider = (rule: Rule): boolean => {
    progress?.(tried++ / all);
    const limit = best === undefined ? Number.POSITIVE_INFINITY : weight(best);
    const played = play(tracks, begin, heating, cut, rule, limit, quick ? QUICK_HEATINGS : MOST_HEATINGS);
    if (played.kind === "rounds") best = played.rounds;
    else refused = played.why;
    return played.kind === "none" && played.last;
  };
  // A hold that the caps cut short already in the first round is as long as a hold can be.
  let longest = 0;
  for (const hold of quick ? QUICK_HOLDS : HOLDS) {
    longest = hold;
    if (consider({ hold, wait: undefined, burst: Number.POSITIVE_INFINITY })) break;
  }
  const holds = FEW_HOLDS.filter((hold) => hold <= longest || hold === FEW_HOLDS[0]);
  if (best === undefined) {
    // More waits make longer days: one step beyond the first burst that will do is looked at, no further.
    let beyond = 0;
    for (const burst of quick ? QUICK_BURSTS : BURSTS) {
      for (const wait of quick ? QUICK_WAITS : WAITS) for (const hold of holds) consider({ hold, wait, burst });
      if (best !== undefined && (beyond += 1) === 2) break;
    }
  }
  if (best !== undefined) return { kind: "rounds", rounds: best };
  return { kind: "none", why: refused ?? "no sequence of heatings was found" };
}

/** Caps `MARGIN` lower, so that no sum of step errors carries a face past its own. */
function withMargin(stack: Stack): Stack {
  const lower = (watch: Watch): Watch => {
    const cap = capOf(watch);
    return cap === undefined ? watch : { ...watch, plan: cap - MARGIN };
  };
  return { ...stack, lines: stack.lines.map((line) => ({ ...line, watch: line.watch.map(lower) })) };
}

function weight(rounds: Pick<Rounds, "elapsed" | "heatings">): number {
  return rounds.elapsed + CHANGE * rounds.heatings;
}

type Played = { kind: "rounds"; rounds: Rounds } | { kind: "none"; why: string; last: boolean };

/** Plays a rule through. `last`: longer holds cannot do better. */
function play(
  tracks: readonly Track[],
  begin: readonly Moment[],
  heating: Heating,
  cut: number,
  rule: Rule,
  best: number,
  most: number,
): Played {
  const moments = begin.map(copyMoment);
  const sequence: Piece[] = [];
  let left = cut;
  let burst = 0;
  let mustWait = false;
  for (let n = 1; n <= most; n += 1) {
    let now = moments[0].state.time;
    const pause = () => {
      const waited = rule.wait === undefined ? 0 : waitFor(tracks, moments, heating, rule.wait);
      if (waited <= 0) return false;
      sequence.push({ kind: "pause", from: now, to: (now += waited) });
      burst = 0;
      return true;
    };
    const needs = mustWait || burst >= rule.burst;
    let waited = needs && pause();
    if (mustWait && !waited)
      return { kind: "none", why: "waiting does not help: the bond stays soft too briefly", last: false };
    mustWait = false;
    const cold = tracks.map((_, l) => copyMoment(moments[l]));
    let lift = heat(tracks, moments, heating, rule.hold);
    if (typeof lift === "string" && n > 1 && !waited) {
      waited = pause();
      if (waited) lift = heat(tracks, moments, heating, rule.hold);
    }
    if (typeof lift === "string") return { kind: "none", why: lift, last: n === 1 };
    sequence.push({ kind: "heat", from: now, to: lift.at });
    // A piece ends with the first bond that hardens; what the cell does meanwhile goes on in the same air.
    const piece = Math.min(left, ...tracks.map((track, l) => softTime(track, moments[l], heating, left)));
    if (piece < Math.min(left, SHORTEST_PIECE)) {
      if (n > 1 && lift.capped && !waited && rule.wait !== undefined) {
        // The cap cut the heating short: undo it and wait first.
        sequence.pop();
        for (const l of tracks.keys()) moments[l] = cold[l];
        mustWait = true;
        n -= 1;
        continue;
      }
      const why = `the bond stays soft for ${piece.toFixed(1)} s after a heating, too short a piece to cut`;
      return { kind: "none", why, last: n === 1 && lift.capped };
    }
    burst += 1;
    left -= piece;
    const done = left <= 1e-9;
    sequence.push({ kind: "cut", from: lift.at, to: lift.at + piece });
    const elapsed = lift.at + piece;
    if (weight({ elapsed: elapsed + left, heatings: n }) > best)
      return { kind: "none", why: "another rule is quicker", last: false };
    for (const [l, track] of tracks.entries()) {
      if (done) finish(track, moments[l], heating);
      else cool(track, moments[l], heating, piece);
    }
    const over = overspent(tracks, moments);
    if (over !== undefined) return { kind: "none", why: over, last: false };
    if (done)
      return {
        kind: "rounds",
        rounds: {
          heatings: n,
          elapsed,
          peak: peakOf(tracks, moments),
          counted: countedOf(tracks, moments),
          pauses: sequence.filter((step) => step.kind === "pause").length,
          sequence,
        },
      };
  }
  return { kind: "none", why: `more than ${most} heatings would be needed`, last: false };
}

/** Heats all lines, in place, until every bond is soft and `hold` seconds longer, but never beyond the latest lift-off. */
function heat(
  tracks: readonly Track[],
  moments: Moment[],
  heating: Heating,
  hold: number,
): { at: number; capped: boolean } | string {
  const begin = moments[0].state.time;
  const holdings = tracks.map(({ marcher }, l) => {
    const moment = copyMoment(moments[l]);
    moment.ledger.beginAgain();
    return new Holding(marcher, moment, heating.held);
  });
  let from = begin;
  for (const [l, track] of tracks.entries()) {
    if (!track.soft) continue;
    holdings[l].until(begin + HOUR, (ledger) => !Number.isNaN(ledger.allSoftAt()));
    const at = holdings[l].ledger.allSoftAt();
    if (Number.isNaN(at)) return "the bond does not become soft within an hour";
    from = Math.max(from, at);
  }
  let lift = from + hold;
  let capped = false;
  for (const [l, track] of tracks.entries()) {
    if (!track.capped) continue;
    holdings[l].until(lift);
    const excess = (time: number): number => {
      const tried = holdings[l].at(time);
      letPeak(track, tried, heating.after);
      return tried.ledger.excess();
    };
    if (keeps(track, holdings[l].at(lift), heating)) continue;
    const over = excess(lift);
    const under = excess(from);
    if (under > 0) return `${capNames(track)} would pass its limit before the bond is soft again`;
    const to = zero(excess, from, under, lift, over, 0.05);
    lift = Math.min(lift, to);
    capped = true;
  }
  for (const l of tracks.keys()) {
    holdings[l].until(lift);
    moments[l] = holdings[l].at(lift);
  }
  return { at: lift, capped };
}

/** Seconds, `most` at most, for which every bond of the line stays soft after a lift-off. */
function softTime(track: Track, lifted: Moment, heating: Heating, most: number): number {
  if (!track.soft) return most;
  const moment = copyMoment(lifted);
  moment.ledger.lostAt = Number.NaN;
  release(track.marcher, moment, heating.after, most, ({ ledger }) => !Number.isNaN(ledger.lostAt));
  return Number.isNaN(moment.ledger.lostAt) ? most : moment.ledger.lostAt - lifted.state.time;
}

/** Whether a lift-off keeps a line below its caps: looks only as far ahead as that is in doubt. */
function keeps(track: Track, moment: Moment, heating: Heating): boolean {
  const { ledger } = moment;
  const last = heating.after[heating.after.length - 1];
  let lowest = Number.POSITIVE_INFINITY;
  for (const watch of track.line.watch) lowest = Math.min(lowest, capOf(watch) ?? Number.POSITIVE_INFINITY);
  release(track.marcher, moment, heating.after, HOUR, (now, ending) => {
    return ledger.excess() > 0 || (ending && neverAbove(track.marcher, now, last, lowest));
  });
  return ledger.excess() <= 0;
}

/** Goes through the phases after a lift-off for `seconds`, in place. */
function cool(track: Track, moment: Moment, heating: Heating, seconds: number): void {
  release(track.marcher, moment, heating.after, seconds, () => false);
}

/** The cooling at the end, in place: until nothing can be counted or peak any more. */
function finish(track: Track, moment: Moment, heating: Heating): void {
  const { ledger } = moment;
  release(track.marcher, moment, heating.after, HOUR, (now, last) => {
    if (!last) return false;
    let lowest = Number.POSITIVE_INFINITY;
    for (const [w, watch] of track.line.watch.entries()) {
      if (watch.counted !== undefined) lowest = Math.min(lowest, watch.counted.above);
      if (capOf(watch) !== undefined) lowest = Math.min(lowest, ledger.peak[w]);
    }
    return neverAbove(track.marcher, now, heating.after[heating.after.length - 1], lowest);
  });
}

/** Waits, in place, until every face with a cap or a band is cool enough; returns the seconds, 0 where all are. */
function waitFor(tracks: readonly Track[], moments: Moment[], heating: Heating, below: number): number {
  const last = heating.after[heating.after.length - 1];
  const rest = [{ ...last, seconds: HOUR }];
  let seconds = 0;
  for (const [l, track] of tracks.entries()) {
    const levels = track.line.watch.map((watch) => capOf(watch) ?? (watch.counted && watch.counted.above + 10));
    const cool = ({ ledger }: Moment) =>
      levels.every((level, w) => level === undefined || ledger.now[w] <= level - below);
    const moment = copyMoment(moments[l]);
    const begin = moment.state.time;
    if (!cool(moment)) release(track.marcher, moment, rest, HOUR, cool);
    seconds = Math.max(seconds, moment.state.time - begin);
  }
  for (const [l, track] of tracks.entries()) release(track.marcher, moments[l], rest, seconds, () => false);
  return seconds;
}

function overspent(tracks: readonly Track[], moments: readonly Moment[]): string | undefined {
  for (const [l, { line }] of tracks.entries()) {
    for (const [w, { name, counted }] of line.watch.entries()) {
      if (counted !== undefined && moments[l].ledger.counted[w] > counted.seconds)
        return `${name} would be above ${counted.above} degC for longer than the ${counted.seconds} s that are allowed in all`;
    }
  }
  return undefined;
}

function peakOf(tracks: readonly Track[], moments: readonly Moment[]): number {
  let capped = Number.NEGATIVE_INFINITY;
  let any = Number.NEGATIVE_INFINITY;
  for (const [l, { line }] of tracks.entries()) {
    for (const [w, watch] of line.watch.entries()) {
      any = Math.max(any, moments[l].ledger.top[w]);
      if (capOf(watch) !== undefined) capped = Math.max(capped, moments[l].ledger.top[w]);
    }
  }
  return capped === Number.NEGATIVE_INFINITY ? any : capped;
}

function countedOf(tracks: readonly Track[], moments: readonly Moment[]): number {
  let most = 0;
  for (const [l, { line }] of tracks.entries())
    for (const [w, watch] of line.watch.entries())
      if (watch.counted !== undefined) most = Math.max(most, moments[l].ledger.counted[w]);
  return most;
}

function capNames(track: Track): string {
  return track.line.watch
    .filter((watch) => capOf(watch) !== undefined)
    .map((watch) => watch.name)
    .join(" or ");
}
