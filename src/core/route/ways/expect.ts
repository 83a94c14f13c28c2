/**
 * A way in with its branches: a release that may fail sends the work on to another release of its joint, which may fail in
 * turn. What the joints add is independent, so means and variances add up. The order of work stays the one that is proved
 * without failures.
 */
import type { TeardownRecord } from "../../record/index.ts";
import { releaseTime, SET_A } from "../../structure/index.ts";
import type { WayIn } from "./types.ts";

/** Seconds. */
export interface Expectation {
  /** Nothing fails. */
  readonly smooth: number;
  readonly mean: number;
  /** Standard deviation that comes from failures alone, not from how fast somebody works. */
  readonly spread: number;
  /** All that may fail does, as far as it goes. */
  readonly worst: number;
  /** Chance that nothing fails. */
  readonly chanceSmooth: number;
}

/** Null where nothing on the way may fail. */
export function expectationOf(record: TeardownRecord, way: WayIn): Expectation | null {
  const chains = way.operations.flatMap((operation) => {
    if (operation.kind !== "release") return [];
    const joint = record.joints.find(({ id }) => id === operation.joint);
    const chain = joint === undefined ? [] : failuresOf(joint, operation.release ?? 0);
    return chain.length === 0 ? [] : [chain];
  });
  if (chains.length === 0) return null;
  let mean = 0;
  let variance = 0;
  let worst = 0;
  let chanceSmooth = 1;
  for (const chain of chains) {
    let reach = 1;
    let sum = 0;
    let first = 0;
    let second = 0;
    for (const [i, { chance, seconds }] of chain.entries()) {
      reach *= chance;
      sum += seconds;
      const stays = reach * (1 - (chain[i + 1]?.chance ?? 0));
      first += stays * sum;
      second += stays * sum * sum;
    }
    mean += first;
    variance += second - first * first;
    worst += sum;
    chanceSmooth *= 1 - chain[0].chance;
  }
  const whole = (seconds: number) => Math.round(seconds * 1000) / 1000;
  return {
    smooth: way.seconds,
    mean: whole(way.seconds + mean),
    spread: whole(Math.sqrt(Math.max(0, variance))),
    worst: whole(way.seconds + worst),
    chanceSmooth: Math.round(chanceSmooth * 1e6) / 1e6,
  };
}

type JointOf = TeardownRecord["joints"][number];

/** One failure after the other, each with the seconds it adds; a circle ends where it would begin again. */
function failuresOf(joint: JointOf, release: number): { readonly chance: number; readonly seconds: number }[] {
  const out: { chance: number; seconds: number }[] = [];
  const seen = new Set<number>();
  let at = release;
  for (;;) {
    seen.add(at);
    const fails = joint.releases[at]?.fails;
    if (fails === undefined || fails.chance <= 0 || seen.has(fails.then)) return out;
    const next = joint.releases[fails.then];
    if (next === undefined) return out;
    const hand = joint.releases[at].tools;
    // Fetch what the other way needs and, at the end, what was in hand again.
    const fetches =
      next.tools.filter((tool) => !hand.includes(tool)).length +
      (next.tools.length === 0 ? 0 : hand.filter((tool) => !next.tools.includes(tool)).length);
    const work = fails.seconds ?? releaseTime(joint, next).ms / 1000;
    out.push({ chance: fails.chance, seconds: work + (fetches * SET_A.fetch) / 1000 });
    at = fails.then;
  }
}
