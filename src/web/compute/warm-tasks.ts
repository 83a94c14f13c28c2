/** What the page Warmth asks of the worker: pure functions of a record and what was set on the page. */
import { InputFaults } from "../../core/errors.ts";
import {
  type Alloy,
  type Board,
  type BoardHeat,
  type Course,
  calibrated,
  courseOf,
  type End,
  type FitAnswer,
  fitStack,
  heatBoard,
  heatingOf,
  type KnownContact,
  materialEntry,
  materialOf,
  type ProfileAnswer,
  planRounds,
  proposeProfile,
  type RoundsAnswer,
  readBoard,
  readLog,
  remarksOf,
  type Stack,
  simulate,
  stackFromZone,
  type WarmAnswer,
  warmAnswer,
  withHot,
} from "../../core/heat/index.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import { readJson } from "../../core/record/json-text.ts";

/** A contact that was fitted on this bench, with the bond's conductivity where that was fitted too. */
export interface BenchContact extends KnownContact {
  readonly value: number;
  readonly bond?: { readonly value: number; readonly low: number; readonly high: number };
}

export interface WarmAsks {
  readonly zone: string;
  readonly contact?: BenchContact;
  /** degC of the plate, where it is not the programme's. */
  readonly plate?: number;
  /** s from the beginning, where it is not the latest. */
  readonly liftOff?: number;
  /** s that were counted on this unit before: they are taken from what is allowed. */
  readonly used?: number;
}

export interface RoundsAsks extends WarmAsks {
  /** s of cutting in all. */
  readonly cut: number;
}

export interface WarmShown {
  readonly answer: WarmAnswer;
  readonly course: Course;
  /** The hot side of the hottest stage. */
  readonly hot: End;
  /** degC of the room. */
  readonly start: number;
  readonly notes: readonly string[];
}

/** The zone's stack as it is set on the page. */
function stackOf(record: TeardownRecord, asks: WarmAsks): { stack: Stack; notes: string[] } {
  const { zone, contact, plate, used = 0 } = asks;
  const { stack: recorded, notes } = stackFromZone(record, zone);
  const stack = used === 0 ? recorded : withUsed(recorded, used);
  const set = plate === undefined ? stack : withHot(stack, (end) => ({ ...end, temperature: plate }));
  if (contact === undefined) return { stack: set, notes };
  const unit = { low: contact.low, high: contact.high } as const;
  const fit = {
    contact: { value: contact.value, ...unit, unit: "W/(m2.K)" as const },
    ...(contact.bond === undefined ? {} : { bond: { ...contact.bond, unit: "W/(m.K)" as const } }),
  };
  return { stack: calibrated(set, fit), notes };
}

function withUsed(stack: Stack, used: number): Stack {
  const lines = stack.lines.map((line) => ({
    ...line,
    watch: line.watch.map((watch) => {
      if (watch.counted === undefined) return watch;
      return { ...watch, counted: { ...watch.counted, seconds: Math.max(0, watch.counted.seconds - used) } };
    }),
  }));
  return { ...stack, lines };
}

/** s followed after a lift-off beyond the time for which the bond stays soft, at least, and the most in all. */
const AFTERWARDS = 120;
const LEAST_AFTERWARDS = 240;
const MOST_AFTERWARDS = 1800;

export function warmShown(record: TeardownRecord, asks: WarmAsks): WarmShown {
  const { stack, notes } = stackOf(record, asks);
  const { held, before } = heatingOf(stack);
  const begins = before.reduce((sum, stage) => sum + stage.seconds, 0);
  const answer = warmAnswer(stack, {
    band: true,
    ...(asks.contact === undefined ? {} : { contact: asks.contact }),
  });
  const { window } = answer;
  const usual = window === null ? begins + held.seconds : (window.to ?? window.from + 60);
  const course = courseOf(stack, {
    liftOff: Math.max(begins + 1, asks.liftOff ?? usual),
    afterwards: Math.min(MOST_AFTERWARDS, Math.max(LEAST_AFTERWARDS, (window?.after ?? 0) + AFTERWARDS)),
    ...(asks.contact === undefined ? {} : { contact: asks.contact }),
  });
  return { answer, course, hot: held.hot, start: stack.start, notes };
}

export function roundsShown(record: TeardownRecord, asks: RoundsAsks, progress: (share: number) => void): RoundsAnswer {
  const { stack } = stackOf(record, asks);
  return planRounds(stack, asks.cut, simulate(stack).refine, { progress });
}

export interface FitAsks {
  /** The log as text: seconds and degC. */
  readonly log: string;
  /** Where the thermocouple was: on the free face of a spare glass, or on a face in the zone. */
  readonly on:
    | { readonly kind: "glass"; readonly material: string; readonly thickness: number }
    | { readonly kind: "zone"; readonly zone: string; readonly at: string };
  /** degC of the plate and of everything at the beginning. */
  readonly plate: number;
  readonly start: number;
  readonly bond: boolean;
}

export interface FitShown {
  readonly fit: FitAnswer;
  /** degC at the log's times with the contact at either end of its interval. */
  readonly low: readonly number[];
  readonly high: readonly number[];
}

/** Name of the free face of a line's last layer, which a thermocouple reaches without opening anything. */
export const outerFace = (line: string): string => `outer face at the ${line}`;

export function fitShown(record: TeardownRecord, asks: FitAsks): FitShown {
  const log = readLog(asks.log);
  const seconds = log.time.reduce((most, t) => Math.max(most, t), 1);
  const stack = fitStackOf(record, asks, seconds);
  const fit = fitStack(stack, log, {
    ...(asks.on.kind === "zone" ? { at: asks.on.at } : {}),
    bond: asks.bond && asks.on.kind === "zone",
  });
  const report = fit.points.map(([t]) => t);
  const curve = (value: number) => {
    const at = calibrated(stack, { ...fit, contact: { ...fit.contact, value } });
    const only = { ...at, lines: at.lines.filter((line) => line.watch.some(({ name }) => name === fit.watch)), report };
    return simulate(only).faces.find(({ watch }) => watch === fit.watch)!.degC;
  };
  return { fit, low: curve(fit.contact.low), high: curve(fit.contact.high) };
}

function fitStackOf(record: TeardownRecord, { on, plate, start }: FitAsks, seconds: number): Stack {
  const air = { temperature: start, h: 8 };
  if (on.kind === "zone") {
    const { stack } = stackFromZone(record, on.zone);
    const { held } = heatingOf(stack);
    const lines = stack.lines.map((line) => ({
      ...line,
      watch: [...line.watch, { name: outerFace(line.name), layer: line.layers.at(-1)!.name, face: "far" as const }],
    }));
    const programme = [
      { seconds, hot: { ...held.hot, temperature: plate }, cool: { ...held.cool, temperature: start } },
    ];
    return { ...stack, start, lines, programme, report: [] };
  }
  const entry = materialEntry(on.material);
  if (entry === undefined || !(on.thickness > 0))
    throw new InputFaults([
      {
        path: "glass",
        found: entry === undefined ? JSON.stringify(on.material) : `a thickness of ${on.thickness} mm`,
        expected: entry === undefined ? "a material of the property table" : "a thickness above zero",
      },
    ]);
  const glass = { name: "glass", material: materialOf(entry), materialId: entry.id, thickness: on.thickness };
  const watch = [{ name: "thermocouple", layer: "glass", face: "far" as const }];
  return {
    kind: "stack",
    start,
    lines: [{ name: "glass", layers: [glass], watch }],
    programme: [{ seconds, hot: { temperature: plate, h: 300 }, cool: air }],
    report: [],
  };
}

export interface BoardAsks {
  /** A board (unseam-board/1) as text. */
  readonly text: string;
  readonly alloy: Alloy;
}

export interface BoardShown {
  readonly board: Board;
  readonly heat: BoardHeat;
  readonly remarks: readonly string[];
  readonly profile: ProfileAnswer;
}

export function boardShown({ text, alloy }: BoardAsks, progress: (share: number) => void): BoardShown {
  const { value, faults } = readJson(text);
  if (faults.length > 0) throw new InputFaults(faults);
  const board = readBoard(value, alloy);
  const heat = heatBoard(board, {
    // The profile is tried afterwards: it runs the board again.
    progress: (share) => {
      progress(share * 0.6);
      return undefined;
    },
  });
  if (heat === undefined) throw new Error("the run ended though nobody ended it");
  return { board, heat, remarks: remarksOf(board, heat), profile: proposeProfile(board) };
}
