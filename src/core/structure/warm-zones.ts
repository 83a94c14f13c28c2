/**
 * Heating times of a record's zones from their layers (core/heat), where the record gives them.
 *
 * "Gives" is meant strictly: each line through the device has layers of known materials, every bond in it its thickness,
 * a bond is watched, and the zone's programme or a release's plate says how it is heated. Where anything of that is
 * missing the recorded times stand; where there are none, the settings of `times.ts`, marked as assumptions.
 *
 * One heating of a zone serves its longest cut, each joint by the first of its ways. A release whose work is longer than
 * the bond then stays soft is done in the rounds of the warm window: as many heatings as it says, each with the mean of
 * their times and pauses, so that the sum is right. The search is the quick one. Cost: some tenths of a second a zone,
 * once a record: answers are kept by record, which nobody changes in place.
 */
import { InputError, InputFaults } from "../errors.ts";
import { heatOfStack, type ReleaseHeat, stackFromZone, type ZoneStack } from "../heat/index.ts";
import type { Release, TeardownRecord } from "../record/index.ts";
import { milliseconds, releaseTime, SET_A, type ZoneTime, zoneTime } from "./times.ts";

type Heat = NonNullable<Release["heat"]>;

export interface WarmZone {
  /** The heating that stands alone. */
  readonly once: ZoneTime;
  /** The heating of each round of a release of so many ms with so many tools; null: it is done after one heating. */
  readonly inRounds: (ms: number, tools: number) => ZoneTime | null;
}

/** By layers and work: a record that was changed elsewhere, or came from elsewhere, has the same heat. */
const computed = new Map<string, ReleaseHeat>();
const MOST_KEPT = 64;
const kept = new WeakMap<TeardownRecord, Map<string, WarmZone>>();

const derived = new WeakMap<Map<string, WarmZone>, Map<string, Map<string, WarmZone>>>();

/**
 * Says of a record made from another one that its zones are heated as before, so that nothing is computed again: who made it has to
 * know that it differs in nothing that a heating depends on.
 *
 * @param changed the zone that is heated otherwise, and what makes it so; the same words mean the same change
 */
export function keepWarmth(
  from: TeardownRecord,
  to: TeardownRecord,
  changed?: { readonly zone: string; readonly by: string },
): void {
  let zones = kept.get(from);
  if (zones === undefined) {
    zones = new Map();
    kept.set(from, zones);
  }
  if (changed === undefined) {
    kept.set(to, zones);
    return;
  }
  const branches = derived.get(zones) ?? new Map<string, Map<string, WarmZone>>();
  derived.set(zones, branches);
  let branch = branches.get(changed.by);
  if (branch === undefined) {
    branch = new Map([...zones].filter(([key]) => !key.startsWith(`${changed.zone} `)));
    branches.set(changed.by, branch);
  }
  kept.set(to, branch);
}

/** Times of a zone: from its layers where they are given, else as `heat` states them. */
export function warmZone(record: TeardownRecord, heat: Heat): WarmZone {
  let zones = kept.get(record);
  if (zones === undefined) {
    zones = new Map();
    kept.set(record, zones);
  }
  // Ways of one joint may differ in whether they may be interrupted where nothing is computed.
  const key = `${heat.zone} ${heat.passes === true}`;
  const known = zones.get(key);
  if (known !== undefined) return known;
  const made = ofLayers(record, heat);
  zones.set(key, made);
  return made;
}

function heatKept(given: ZoneStack, layers: string, zone: string, ms: number): ReleaseHeat {
  const key = `${ms} ${layers}`;
  let answer = computed.get(key);
  if (answer === undefined) {
    answer = heatOfStack(given, zone, ms / 1000, { quick: true });
    if (computed.size >= MOST_KEPT) computed.delete(computed.keys().next().value!);
    computed.set(key, answer);
  }
  return answer;
}

/** The heatings of a cut of so many ms, as a way in has them; undefined where the layers do not tell. */
export function heatOfCut(record: TeardownRecord, zone: string, ms: number): ReleaseHeat | undefined {
  if (!(record.zones ?? []).some(({ id }) => id === zone)) return undefined;
  const given = layersGiven(record, zone);
  return typeof given === "string" ? undefined : heatKept(given, JSON.stringify(given.stack), zone, ms);
}

function ofLayers(record: TeardownRecord, heat: Heat): WarmZone {
  const { zone } = heat;
  const stated = (why?: string): WarmZone => {
    const time = zoneTime(heat);
    const from = heat.seconds === undefined ? time.assumed : `zone ${zone}: heated and soft for as long as recorded`;
    return {
      once: why === undefined ? time : { ...time, assumed: `${from}; the layers do not tell (${why})` },
      inRounds: () => null,
    };
  };
  if (!(record.zones ?? []).some(({ id }) => id === zone)) return stated();
  const given = layersGiven(record, zone);
  if (typeof given === "string") return stated(given);
  const layers = JSON.stringify(given.stack);
  const heatFor = (ms: number): ReleaseHeat => heatKept(given, layers, zone, ms);
  const alone = heatFor(longestCut(record, zone));
  if (alone.kind === "none") return stated(`no sequence of heatings was found that keeps every limit: ${alone.why}`);
  const soft = alone.soft === null ? null : milliseconds(alone.soft);
  const said = `zone ${zone}: heated for ${alone.seconds} s${soft === null ? "" : `, soft for ${soft / 1000} s`}, computed from the layers of the record (contact of the source as in its programme, properties from the table)`;
  return {
    once: { ms: milliseconds(alone.seconds), soft, passes: true, assumed: said },
    inRounds: (ms, tools) => {
      if (soft === null || ms <= soft) return null;
      const answer = heatFor(ms);
      if (answer.kind === "none" || answer.rounds < 2) return null;
      const { rounds, elapsed } = answer;
      const piece = ms / rounds;
      // The set-up after a heating takes from the soft time: what it can be at most is added, as long as the number stays.
      const setUp = tools * SET_A.fetch + SET_A.turn;
      const more = Math.min(setUp, (0.9 * ms) / (rounds * (rounds - 1)));
      return {
        ms: Math.round((milliseconds(elapsed) - ms) / rounds),
        soft: Math.ceil(piece + more),
        passes: true,
        assumed: `${said}; ${ms / 1000} s of cutting in ${rounds} heatings, ${elapsed} s in all, pauses included`,
      };
    },
  };
}

/** The stack of a zone, or in words what its layers lack. */
function layersGiven(record: TeardownRecord, zone: string): ZoneStack | string {
  try {
    const found = stackFromZone(record, zone);
    if (found.missing.length > 0) return `not recorded: ${found.missing.join(", ")}`;
    const bond = found.stack.lines.some((line) => line.watch.some(({ soft }) => soft !== undefined));
    return bond ? found : "no bond with a soft limit lies under its places";
  } catch (error) {
    if (error instanceof InputFaults) return error.faults.map(({ path, found }) => `${path}: ${found}`).join("; ");
    if (error instanceof InputError) return error.message;
    throw error;
  }
}

/** ms; at least 1, so that there is something to plan for. */
function longestCut(record: TeardownRecord, zone: string): number {
  let longest = 1;
  for (const joint of record.joints) {
    const first = joint.releases.find((release) => release.heat?.zone === zone);
    if (first !== undefined) longest = Math.max(longest, releaseTime(joint, first).ms);
  }
  return longest;
}
