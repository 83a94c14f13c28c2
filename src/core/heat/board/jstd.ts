/**
 * Classification temperatures of packages and the profile they are classified with, J-STD-020, both revisions as data.
 *
 * 020C: tables 4-1 and 4-2 and the profile as reprinted in a component maker's data sheet. 020D and later: tables as
 * reprinted in an I2C expander's data sheet (PCA9557, section 15.4) and in a second reprint. They classify packages; they
 * are no recipe for a board. At exactly 2.5 mm reprints disagree: the lower temperature is taken. The volume excludes
 * balls, bumps, lands and leads.
 */
export type Revision = "020C" | "020D";
export type Finish = "tin-lead" | "lead-free";

interface Row {
  /** Thickness below which the row holds, mm. */
  readonly below: number;
  /** degC for volumes under 350, from 350 to 2000, and over 2000 mm3. */
  readonly degC: readonly [number, number, number];
}

const LEAD_FREE: readonly Row[] = [
  { below: 1.6, degC: [260, 260, 260] },
  { below: 2.5, degC: [260, 250, 245] },
  { below: Number.POSITIVE_INFINITY, degC: [250, 245, 245] },
];

export const CLASSIFICATION: Readonly<Record<Revision, Readonly<Record<Finish, readonly Row[]>>>> = {
  "020C": {
    "tin-lead": [
      { below: 2.5, degC: [240, 225, 225] },
      { below: Number.POSITIVE_INFINITY, degC: [225, 225, 225] },
    ],
    "lead-free": LEAD_FREE,
  },
  "020D": {
    "tin-lead": [
      { below: 2.5, degC: [235, 220, 220] },
      { below: Number.POSITIVE_INFINITY, degC: [220, 220, 220] },
    ],
    "lead-free": LEAD_FREE,
  },
};

/** degC that a package of that size is classified for. Thickness in mm, volume in mm3. */
export function classification(revision: Revision, finish: Finish, thickness: number, volume: number): number {
  const row = CLASSIFICATION[revision][finish].find(({ below }) => thickness < below)!;
  return row.degC[volume < 350 ? 0 : volume <= 2000 ? 1 : 2];
}

export interface Profile {
  /** degC */
  readonly preheat: readonly [number, number];
  /** s */
  readonly preheatTime: readonly [number, number];
  /** K/s */
  readonly rampUp: number;
  readonly rampDown: number;
  /** degC, and s above it. */
  readonly liquidus: number;
  readonly above: readonly [number, number];
  /** s within 5 K of the peak: from the least to the most that a package is classified for, or the most alone. */
  readonly atPeak: readonly [number, number];
  /** s from 25 degC to the peak. */
  readonly toPeak: number;
}

export const PROFILE: Readonly<Record<Revision, Readonly<Record<Finish, Profile>>>> = {
  "020C": {
    "tin-lead": {
      preheat: [100, 150],
      preheatTime: [60, 120],
      rampUp: 3,
      rampDown: 6,
      liquidus: 183,
      above: [60, 150],
      atPeak: [10, 30],
      toPeak: 360,
    },
    "lead-free": {
      preheat: [150, 200],
      preheatTime: [60, 180],
      rampUp: 3,
      rampDown: 6,
      liquidus: 217,
      above: [60, 150],
      atPeak: [20, 40],
      toPeak: 480,
    },
  },
  "020D": {
    "tin-lead": {
      preheat: [100, 150],
      preheatTime: [60, 120],
      rampUp: 3,
      rampDown: 6,
      liquidus: 183,
      above: [60, 150],
      atPeak: [0, 20],
      toPeak: 360,
    },
    "lead-free": {
      preheat: [150, 200],
      preheatTime: [60, 120],
      rampUp: 3,
      rampDown: 6,
      liquidus: 217,
      above: [60, 150],
      atPeak: [0, 30],
      toPeak: 480,
    },
  },
};

/** Alloys that a joint may be made of: solidus and liquidus in degC. */
export const ALLOYS = {
  sac305: {
    solidus: 217,
    liquidus: 217,
    source: "counted from 217 as J-STD-020 does; makers' sheets give 217 to 220",
    finish: "lead-free",
  },
  "tin-lead": {
    solidus: 183,
    liquidus: 183,
    source: "eutectic, from memory; J-STD-020 classifies at 183",
    finish: "tin-lead",
  },
  "tin-bismuth": {
    solidus: 138,
    liquidus: 138,
    source: "eutectic Sn42Bi58, about 138: common practice, no source; stacked boards may be joined with it",
    finish: "lead-free",
  },
} as const satisfies Readonly<Record<string, { solidus: number; liquidus: number; source: string; finish: Finish }>>;
export type Alloy = keyof typeof ALLOYS;
