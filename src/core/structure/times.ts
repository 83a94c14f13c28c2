/**
 * Standard times where a record gives none.
 *
 * Set A: service operation times printed in the disassembly worksheet of Yang and El-Haik, "Design for Six Sigma",
 * McGraw-Hill 2003, Table 10.5, pp. 373-374. Set B: what a working bench would recognise; common practice, no source. The
 * rest are settings of our own, no source, and are marked as assumptions wherever they are used.
 */
import type { Joint, Part, Release } from "../record/index.ts";

/** Milliseconds. */
export const SET_A = {
  fetch: 4200,
  turn: 4500,
  screw: 8000,
  hardScrew: 11300,
  aside: 1400,
  connector: 6400,
  lift: 2400,
  shift: 2400,
} as const;

/** Milliseconds, each unless said otherwise. */
export const SETTINGS = {
  cutPer100mm: 17000,
  cutUnknown: 60000,
  pull: 45000,
  snap: 2500,
  peel: 10000,
  debond: 60000,
  desolder: 60000,
  cut: 10000,
  heating: 120000,
  soft: 60000,
} as const;

export interface Timed {
  readonly ms: number;
  /** Said to the user where the time is neither recorded nor of set A. */
  readonly assumed?: string;
}

/** Work of one release, for the whole joint. */
export function releaseTime(joint: Joint, release: Release): Timed {
  if (release.seconds !== undefined) return { ms: milliseconds(release.seconds) };
  const count = joint.count ?? 1;
  const assumed = (ms: number, text: string): Timed => ({ ms, assumed: `${joint.id}: ${text}` });
  switch (release.action) {
    case "unscrew":
      return { ms: count * ((release.hard ? SET_A.hardScrew : SET_A.screw) + SET_A.aside) };
    case "unplug":
      return { ms: count * SET_A.connector };
    case "peel":
      return assumed(SETTINGS.peel, "peeling taken as 10 s (own setting, no source)");
    case "debond":
      return assumed(SETTINGS.debond, "debonding taken as 60 s (own setting, no source)");
    case "desolder":
      return assumed(SETTINGS.desolder, "desoldering taken as 60 s (own setting, no source)");
    case "cut":
      return assumed(SETTINGS.cut, "cutting off taken as 10 s (own setting, no source)");
    case "pry":
    case "slice":
    case "pull":
      if (joint.kind === "clip" || joint.kind === "press-fit" || joint.kind === "magnet") {
        return assumed(count * SETTINGS.snap, "each taken as 2.5 s (own setting, no source)");
      }
      if (release.action === "pull")
        return assumed(count * SETTINGS.pull, "pulling taken as 45 s each (common practice, no source)");
      if (joint.bond?.length !== undefined) {
        return assumed(
          Math.round((joint.bond.length * SETTINGS.cutPer100mm) / 100),
          "cutting taken as 17 s for 100 mm (common practice, no source)",
        );
      }
      return assumed(
        SETTINGS.cutUnknown,
        "bond length not recorded: cutting taken as 60 s (common practice, no source)",
      );
  }
}

/** Lifting a part and setting it aside. */
export function liftTime(part: Part): number {
  return part.seconds === undefined ? SET_A.lift + SET_A.aside : milliseconds(part.seconds);
}

/** Moving a part aside while it stays attached. */
export function shiftTime(part: Part): number {
  return part.shift?.seconds === undefined ? SET_A.shift : milliseconds(part.shift.seconds);
}

export interface ZoneTime extends Timed {
  /** null: no limit. */
  readonly soft: number | null;
  readonly passes: boolean;
}

/** Heating of a zone as one of its releases states it. */
export function zoneTime(heat: NonNullable<Release["heat"]>): ZoneTime {
  const passes = heat.passes === true;
  if (heat.seconds !== undefined) {
    return { ms: milliseconds(heat.seconds), soft: heat.soft === undefined ? null : milliseconds(heat.soft), passes };
  }
  return {
    ms: SETTINGS.heating,
    soft: heat.soft === undefined ? SETTINGS.soft : milliseconds(heat.soft),
    passes: true,
    assumed: `zone ${heat.zone}: heating taken as 120 s${heat.soft === undefined ? ", soft for 60 s" : ""}, in rounds where it must be (own setting, no source)`,
  };
}

/** Whole milliseconds, so that equal is equal. */
export function milliseconds(seconds: number): number {
  return Math.round(seconds * 1000);
}
