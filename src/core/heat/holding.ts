/**
 * One line held in the hottest stage for as long as need be, remembered step by step, so that a lift-off at any moment
 * can be tried without heating again.
 */
import type { Ledger } from "./ledger.ts";
import { type Ambient, copyState, type Marcher, type MarchState } from "./march.ts";

/** A line at one moment: its profile and what has happened to it. */
export interface Moment {
  readonly state: MarchState;
  readonly ledger: Ledger;
}

export function copyMoment(moment: Moment): Moment {
  return { state: copyState(moment.state), ledger: moment.ledger.copy() };
}

/** What comes after a lift-off: each for its seconds, the last one for as long as need be. */
export interface Phase extends Ambient {
  readonly seconds: number;
}

export class Holding {
  readonly #marcher: Marcher;
  readonly #ambient: Ambient;
  readonly #now: Moment;
  readonly #begin: number;
  /** The moment at which each step began. */
  readonly #steps: Moment[] = [];
  #held = false;

  constructor(marcher: Marcher, from: Moment, ambient: Ambient) {
    this.#marcher = marcher;
    this.#ambient = ambient;
    this.#now = copyMoment(from);
    this.#begin = from.state.time;
  }

  get time(): number {
    return this.#now.state.time;
  }

  get ledger(): Ledger {
    return this.#now.ledger;
  }

  /** Holds until `time`, or until `enough` says so after a step. */
  until(time: number, enough?: (ledger: Ledger) => boolean): void {
    const { state, ledger } = this.#now;
    if (time <= state.time || enough?.(ledger) === true) return;
    let before = copyMoment(this.#now);
    this.#marcher.run(
      state,
      this.#ambient,
      time - state.time,
      (span) => {
        this.#steps.push(before);
        ledger.see(span);
        before = copyMoment(this.#now);
        return enough?.(ledger);
      },
      this.#held,
    );
    this.#held = true;
  }

  /** The line as it is when it is lifted off at `time`, which has been held to. */
  at(time: number): Moment {
    if (time >= this.#now.state.time) return copyMoment(this.#now);
    let low = 0;
    let high = this.#steps.length;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (this.#steps[middle].state.time <= time) low = middle;
      else high = middle;
    }
    const moment = copyMoment(this.#steps[low]);
    // The first step begins small; within the hold the steps of before serve.
    const goesOn = moment.state.time > this.#begin;
    this.#marcher.run(
      moment.state,
      this.#ambient,
      time - moment.state.time,
      (span) => void moment.ledger.see(span),
      goesOn,
    );
    return moment;
  }
}

/**
 * Lets a line go through the phases after a lift-off, in place. Ends when `enough` says so after a step, and at the latest
 * `most` seconds after the lift-off.
 */
export function release(
  marcher: Marcher,
  moment: Moment,
  phases: readonly Phase[],
  most: number,
  enough: (moment: Moment, last: boolean) => boolean,
): void {
  const end = moment.state.time + most;
  for (const [i, phase] of phases.entries()) {
    const last = i === phases.length - 1;
    const seconds = Math.min(last ? Number.POSITIVE_INFINITY : phase.seconds, end - moment.state.time);
    if (seconds <= 0) return;
    const ended = marcher.run(moment.state, phase, seconds, (span) => {
      moment.ledger.see(span);
      return enough(moment, last);
    });
    if (ended) return;
  }
}

/** Nothing in the line or around it is hotter than `level`, so nothing will be (maximum principle). */
export function neverAbove(marcher: Marcher, moment: Moment, around: Ambient, level: number): boolean {
  for (const end of [around.hot, around.cool]) if (end.h !== 0 && end.temperature > level) return false;
  return marcher.hottest(moment.state) <= level;
}
