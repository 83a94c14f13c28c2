/**
 * Set B: the spread of times that a working bench would recognise, as low, usual and high. Common practice, no source;
 * people are shown this range instead of a single number. It serves until the bench's own times replace it.
 */
import type { Joint, Part, Release } from "../record/index.ts";
import { liftTime, releaseTime, SET_A, shiftTime } from "./times.ts";

/** Milliseconds, low / usual / high. */
export type Spread = readonly [low: number, usual: number, high: number];

const SCREW: Spread = [4000, 6000, 10_000];
const PLUGS: { readonly [form: string]: Spread } = {
  "board-to-board": [1500, 2500, 5000],
  zif: [3000, 4500, 8000],
  coaxial: [2000, 3000, 6000],
};
const BRACKET: Spread = [2000, 4000, 8000];
const DISPLAY: Spread = [10_000, 15_000, 20_000];
const STUCK_COIL: Spread = [20_000, 40_000, 60_000];
/** Cutting a softened rim, for each 100 mm. */
const CUT_100: Spread = [10_000, 17_000, 25_000];
const PULL_TAB: Spread = [20_000, 45_000, 90_000];

const times = (spread: Spread, factor: number): Spread => [spread[0] * factor, spread[1] * factor, spread[2] * factor];
const same = (ms: number): Spread => [ms, ms, ms];

/** Fetching a tool and turning the device: the published figures of set A, no spread known. */
export const SETUP_B = { fetch: same(SET_A.fetch), turn: same(SET_A.turn) } as const;

/** A recorded time of this bench stands for itself; set B serves where there is none. */
export function releaseSpread(joint: Joint, release: Release): Spread {
  if (release.seconds !== undefined) return same(releaseTime(joint, release).ms);
  const count = joint.count ?? 1;
  if (release.action === "unscrew") return times(SCREW, count);
  if (release.action === "unplug")
    return times(PLUGS[joint.plug?.form ?? "board-to-board"] ?? PLUGS["board-to-board"], count);
  if (release.action === "pull") return times(PULL_TAB, count);
  if ((release.action === "slice" || release.action === "pry") && joint.bond?.length !== undefined) {
    return times(CUT_100, joint.bond.length / 100);
  }
  return same(releaseTime(joint, release).ms);
}

export function liftSpread(part: Part): Spread {
  if (part.seconds !== undefined) return same(liftTime(part));
  if (part.role === "display") return DISPLAY;
  if (part.role === "coil") return STUCK_COIL;
  if (part.role === "bracket" || part.role === "shield") return BRACKET;
  return same(liftTime(part));
}

export function shiftSpread(part: Part): Spread {
  return same(shiftTime(part));
}
