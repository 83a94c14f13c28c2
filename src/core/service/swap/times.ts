/**
 * Times as distributions. Each operation has a low, usual and high time: of the record, of set A, of set B or of this bench's
 * own log; a whole job is drawn by simulation, with one factor for the day that all its operations share.
 *
 * This bench's own: of every logged entry with `until`, or in a session of kind `timed` with a next entry, the ratio of the
 * time taken to the standard time of the same work; the ratios of an action are fitted as a lognormal (MIL-HDBK-338B 5.6.2.1)
 * and serve from `ENOUGH` observations on. A new time is predicted with s √(1 + 1/n).
 */
import type { Entry, Joint, Part, Release, TeardownRecord } from "../../record/index.ts";
import type { BackOperation } from "../../route/ways/back.ts";
import type { WayIn, WayOperation } from "../../route/ways/index.ts";
import { liftTime, releaseTime, SET_A, shiftTime } from "../../structure/index.ts";
import { liftSpread, releaseSpread, shiftSpread } from "../../structure/set-b.ts";
import { fitLognormal } from "../reckon/lognormal.ts";
import type { TimeSet } from "./question.ts";

/** Observations of an action before the bench's own time replaces a standard one. Our own setting. */
export const ENOUGH = 5;
/** Low and high over usual where nothing is known of the spread; the day's factor as s of a lognormal. Own settings, no source. */
export const UNKNOWN_SPREAD = { low: 0.7, high: 1.6 } as const;
export const DAY = 0.15;

/** Seconds. `own`: lognormal by m and s. */
export type Timed =
  | { readonly kind: "three-point"; readonly low: number; readonly usual: number; readonly high: number }
  | { readonly kind: "lognormal"; readonly m: number; readonly s: number }
  | { readonly kind: "fixed"; readonly seconds: number };

export interface OwnTime {
  readonly action: string;
  readonly n: number;
  /** Median and 90 % quantile of the ratio to the standard time. */
  readonly ratio: number;
  readonly p90: number;
  readonly m: number;
  readonly s: number;
}

/** What the log says about each action, with how many observations. */
export function ownTimes(record: TeardownRecord): OwnTime[] {
  const ratios = new Map<string, number[]>();
  for (const { entry, seconds } of timedEntries(record)) {
    const standard = standardOf(record, entry);
    if (standard === undefined || !(standard > 0)) continue;
    ratios.set(entry.action, [...(ratios.get(entry.action) ?? []), seconds / standard]);
  }
  return [...ratios].flatMap(([action, list]): OwnTime[] => {
    if (list.length < 2) return [];
    const { n, m, s } = fitLognormal(list);
    return [{ action, n, ratio: Math.exp(m), p90: Math.exp(m + 1.2815515655 * s), m, s }];
  });
}

function timedEntries(record: TeardownRecord): { entry: Entry; seconds: number }[] {
  const timed = new Set((record.sessions ?? []).flatMap(({ id, kind }) => (kind === "timed" ? [id] : [])));
  const out: { entry: Entry; seconds: number }[] = [];
  for (const [index, entry] of record.log.entries()) {
    if (entry.draft || entry.at === undefined) continue;
    let end = entry.until;
    if (end === undefined && entry.session !== undefined && timed.has(entry.session)) {
      const next = record.log.slice(index + 1).find(({ session }) => session === entry.session);
      end = next?.at;
    }
    if (end !== undefined && end > entry.at) out.push({ entry, seconds: end - entry.at });
  }
  return out;
}

/** Seconds that the standards give to what an entry did. */
function standardOf(record: TeardownRecord, entry: Entry): number | undefined {
  const joints = (entry.joints ?? []).flatMap((id) => record.joints.find((joint) => joint.id === id) ?? []);
  const parts = (entry.parts ?? []).flatMap((id) => record.parts.find((part) => part.id === id) ?? []);
  if (entry.action === "lift" && parts.length > 0) return sum(parts.map((part) => liftTime(bare(part)))) / 1000;
  if (entry.action === "shift" && parts.length > 0) return sum(parts.map((part) => shiftTime(bare(part)))) / 1000;
  const times = joints.map((joint) => {
    const release = joint.releases.find(({ action }) => action === entry.action);
    return release === undefined ? undefined : releaseTime(joint, untimed(release)).ms / 1000;
  });
  return times.length > 0 && times.every((one) => one !== undefined) ? sum(times as number[]) : undefined;
}

const sum = (values: readonly number[]): number => values.reduce((all, one) => all + one, 0);

/** Without the times recorded for it: the standard alone. */
const bare = ({ seconds: _, shift, ...part }: Part): Part =>
  shift ? { ...part, shift: { freeing: shift.freeing } } : part;
const untimed = ({ seconds: _, ...release }: Release): Release => release;

export interface TimeModel {
  readonly set: TimeSet;
  readonly own: ReadonlyMap<string, OwnTime>;
}

export function timeModel(record: TeardownRecord, set: TimeSet): TimeModel {
  const own = set === "own" ? ownTimes(record).filter(({ n }) => n >= ENOUGH) : [];
  return { set, own: new Map(own.map((one) => [one.action, one])) };
}

const about = (seconds: number): Timed => ({
  kind: "three-point",
  low: seconds * UNKNOWN_SPREAD.low,
  usual: seconds,
  high: seconds * UNKNOWN_SPREAD.high,
});

function byOwn(model: TimeModel, action: string, standard: number): Timed | undefined {
  const own = model.own.get(action);
  if (!own || !(standard > 0)) return undefined;
  return { kind: "lognormal", m: Math.log(standard) + own.m, s: own.s * Math.sqrt(1 + 1 / own.n) };
}

function spread([low, usual, high]: readonly [number, number, number]): Timed {
  return low === high
    ? about(usual / 1000)
    : { kind: "three-point", low: low / 1000, usual: usual / 1000, high: high / 1000 };
}

function releaseTimed(model: TimeModel, joint: Joint, release: Release): Timed {
  if (model.set === "A") return about(releaseTime(joint, release).ms / 1000);
  return (
    byOwn(model, release.action, releaseTime(joint, untimed(release)).ms / 1000) ??
    spread(releaseSpread(joint, release))
  );
}

function liftTimed(model: TimeModel, part: Part): Timed {
  if (model.set === "A") return about(liftTime(part) / 1000);
  return byOwn(model, "lift", liftTime(bare(part)) / 1000) ?? spread(liftSpread(part));
}

function shiftTimed(model: TimeModel, part: Part): Timed {
  if (model.set === "A") return about(shiftTime(part) / 1000);
  return byOwn(model, "shift", shiftTime(bare(part)) / 1000) ?? spread(shiftSpread(part));
}

/** Times of the operations of a way in; fetches, turns and heatings beside the work itself. */
export function timesIn(record: TeardownRecord, model: TimeModel, way: WayIn): Timed[] {
  const joints = new Map(record.joints.map((joint) => [joint.id, joint]));
  const parts = new Map(record.parts.map((part) => [part.id, part]));
  return way.operations.flatMap((operation): Timed[] => {
    const setup = setupOf(operation);
    if (operation.kind === "heat") return [...setup, { kind: "fixed", seconds: operation.seconds }];
    const part = operation.part === undefined ? undefined : parts.get(operation.part);
    if (operation.kind === "lift" && part) return [...setup, liftTimed(model, part)];
    if (operation.kind === "shift" && part) return [...setup, shiftTimed(model, part)];
    const joint = operation.joint === undefined ? undefined : joints.get(operation.joint);
    const release = joint?.releases[operation.release ?? 0];
    if (!joint || !release) return [...setup, about(operation.seconds)];
    // Of an interrupted release the heatings and fetches between its pieces keep their time.
    const rest = operation.seconds - releaseTime(joint, release).ms / 1000;
    return [
      ...setup,
      ...(rest > 0.0005 ? [{ kind: "fixed", seconds: rest } as const] : []),
      releaseTimed(model, joint, release),
    ];
  });
}

function setupOf({ fetch, turn }: Pick<WayOperation, "fetch" | "turn">): Timed[] {
  const seconds = (fetch.length * SET_A.fetch + (turn ? SET_A.turn : 0)) / 1000;
  return seconds > 0 ? [about(seconds)] : [];
}

/** Hands-on times of a way back; pressing and curing are hands off. */
export function timesBack(
  record: TeardownRecord,
  model: TimeModel,
  operations: readonly BackOperation[],
  way: WayIn,
): Timed[] {
  const joints = new Map(record.joints.map((joint) => [joint.id, joint]));
  const parts = new Map(record.parts.map((part) => [part.id, part]));
  const releaseAt = new Map(way.operations.map(({ joint, release }) => [joint, release ?? 0]));
  return operations.flatMap((operation): Timed[] => {
    const setup = setupOf(operation);
    const part = operation.part === undefined ? undefined : parts.get(operation.part);
    if (operation.kind === "refit" && part) return [...setup, liftTimed(model, part)];
    if (operation.kind === "unshift" && part) return [...setup, shiftTimed(model, part)];
    const joint = operation.joint === undefined ? undefined : joints.get(operation.joint);
    const release = joint?.releases[releaseAt.get(operation.joint) ?? 0];
    if (!joint || !release) return [...setup, about(operation.seconds)];
    const press = joint.remake?.press ?? 0;
    const made = (joint.remake?.clean ?? 0) + (joint.remake?.lay ?? 0);
    const fastening = operation.seconds - press - made;
    return [
      ...setup,
      ...(made > 0 ? [about(made)] : []),
      ...(fastening > 0.0005 ? [releaseTimed(model, joint, release)] : []),
    ];
  });
}
