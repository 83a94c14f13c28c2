/**
 * The course of one heating for people: what each watched face does over time, the band of what is not well known, and
 * the temperatures through the whole section.
 *
 * The hottest stage is held until a chosen lift-off, then the stages that follow it run (air where there are none). The
 * band is the least and the most of each face over every variation of `unsureOf`, each with the same lift-off: what may
 * happen to somebody who follows the clock. Layers are cut into slices of the same material for the section, which
 * changes nothing in the equations. Cost: one run for each end of each variation, and one for the section.
 */
import { type KnownContact, unsureOf } from "./sensitivity.ts";
import { simulate } from "./simulate.ts";
import type { HeatStage, Layer, Line, Stack, Watch } from "./stack.ts";
import { HOUR, heatingOf } from "./window.ts";

export interface CourseFace {
  readonly line: string;
  readonly watch: Watch;
  /** degC at the course's times: as computed, and the ends of the band. */
  readonly degC: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** Seconds above `counted.above` up to each time; only where the face has one. */
  readonly counted?: readonly number[];
}

export interface CourseLayer {
  readonly name: string;
  /** mm */
  readonly thickness: number;
  /** degC by time, from the hot side: at the layer's own faces and between its slices. */
  readonly profile: readonly (readonly number[])[];
}

export interface Course {
  /** s from the beginning of the programme; even steps, beginning at 0. */
  readonly at: readonly number[];
  /** s at which the hottest stage begins, and at which it is lifted off. */
  readonly begins: number;
  readonly liftOff: number;
  readonly faces: readonly CourseFace[];
  readonly lines: readonly { readonly name: string; readonly layers: readonly CourseLayer[] }[];
  /** What the band is made of. */
  readonly unsure: readonly {
    readonly what: string;
    readonly low: string;
    readonly high: string;
    readonly source: string;
  }[];
}

export interface CourseOptions {
  /** s from the beginning at which the hottest stage ends; later than it begins. */
  readonly liftOff: number;
  /** s that are followed after it. */
  readonly afterwards: number;
  readonly contact?: KnownContact;
  /** Points in time; 181 where left out. */
  readonly points?: number;
}

/** Slices are about this thick, mm, and at most so many a layer. */
const SLICE = 0.4;
const MOST_SLICES = 8;

export function courseOf(stack: Stack, { liftOff, afterwards, contact, points = 181 }: CourseOptions): Course {
  const begins = heatingOf(stack).before.reduce((sum, stage) => sum + stage.seconds, 0);
  const end = liftOff + afterwards;
  const at = Array.from({ length: points }, (_, i) => (end * i) / (points - 1));
  const held = (one: Stack): Stack => ({ ...one, programme: programmeOf(one, liftOff, afterwards), report: at });
  const nominal = simulate(held(stack)).faces;
  const unsure = unsureOf(stack, contact);
  const others = unsure.flatMap((one) => [one.atLow, one.atHigh]).map((one) => simulate(held(one)).faces);
  const sliced = simulate(held({ ...stack, lines: stack.lines.map(slicedLine) })).faces;
  let face = 0;
  let slice = 0;
  const faces: CourseFace[] = [];
  const lines = stack.lines.map((line) => {
    for (const watch of line.watch) {
      const index = face++;
      const { degC } = nominal[index];
      const all = [degC, ...others.map((series) => series[index].degC)];
      faces.push({
        line: line.name,
        watch,
        degC,
        low: at.map((_, i) => Math.min(...all.map((values) => values[i]))),
        high: at.map((_, i) => Math.max(...all.map((values) => values[i]))),
        ...(watch.counted === undefined ? {} : { counted: secondsAbove(at, degC, watch.counted.above) }),
      });
    }
    const layers = line.layers.map((layer): CourseLayer => {
      const series = sliced.slice(slice, (slice += slicesOf(layer) + 1));
      return {
        name: layer.name,
        thickness: layer.thickness,
        profile: at.map((_, i) => series.map(({ degC }) => degC[i])),
      };
    });
    return { name: line.name, layers };
  });
  return {
    at,
    begins,
    liftOff,
    faces,
    lines,
    unsure: unsure.map(({ what, low, high, source }) => ({ what, low, high, source })),
  };
}

function programmeOf(stack: Stack, liftOff: number, afterwards: number): HeatStage[] {
  const { before, held, after } = heatingOf(stack);
  const begins = before.reduce((sum, stage) => sum + stage.seconds, 0);
  const programme: HeatStage[] = [...before, { ...held, seconds: Math.max(liftOff - begins, 1e-3) }];
  let left = Math.min(afterwards, HOUR);
  for (const [i, phase] of after.entries()) {
    const seconds = i === after.length - 1 ? left : Math.min(left, phase.seconds);
    if (seconds <= 0) break;
    programme.push({ hot: phase.hot, cool: phase.cool, seconds });
    left -= seconds;
  }
  return programme;
}

const slicesOf = (layer: Layer): number =>
  Math.min(MOST_SLICES, Math.max(1, Math.ceil(layer.thickness / SLICE - 1e-6)));

/** The same line in slices, the near face of each watched and the far face of a layer's last. */
function slicedLine(line: Line, l: number): Line {
  const layers: Layer[] = [];
  const watch: Watch[] = [];
  for (const [i, layer] of line.layers.entries()) {
    const n = slicesOf(layer);
    const { contactAfter, ...rest } = layer;
    for (let k = 0; k < n; k += 1) {
      const name = `${l}.${i}.${k}`;
      const last = k === n - 1;
      layers.push({
        ...rest,
        name,
        thickness: layer.thickness / n,
        ...(last && contactAfter !== undefined ? { contactAfter } : {}),
      });
      watch.push({ name: `${name} near`, layer: name, face: "near" });
      if (last) watch.push({ name: `${name} far`, layer: name, face: "far" });
    }
  }
  return { name: line.name, layers, watch };
}

/** Seconds above a level up to each time, along straight lines between the points. */
export function secondsAbove(at: readonly number[], degC: readonly number[], level: number): number[] {
  let sum = 0;
  return at.map((t, i) => {
    if (i === 0) return 0;
    const [a, b] = [degC[i - 1] - level, degC[i] - level];
    const share = a > 0 && b > 0 ? 1 : a <= 0 && b <= 0 ? 0 : Math.max(a, b) / Math.abs(a - b);
    sum += share * (t - at[i - 1]);
    return sum;
  });
}
