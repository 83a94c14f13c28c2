/**
 * Temperature over time: each watched face with its band, the limits as rules, the time in which every bond is soft as
 * the warm wash, and the warm window as a bracket above.
 */
import type { Course, CourseFace, Window } from "../../core/heat/index.ts";
import { niceStep, spokenTime, timeStep } from "../axis.ts";
import {
  circle,
  type Dash,
  group,
  line,
  polygon,
  polyline,
  rect,
  type Scene,
  type Shape,
  type Tone,
  text,
} from "../scene.ts";
import { fitText, textWidth } from "../text-width.ts";
import { clockAxis, spread } from "./shade.ts";

export interface CourseOptions {
  readonly width: number;
  readonly window: Window | null;
  /** s at which the course is looked at. */
  readonly now: number;
}

interface Stroke {
  readonly stroke: Tone;
  readonly weight: "bold" | "line";
  readonly dash?: Dash;
}

const STROKES: readonly Stroke[] = [
  { stroke: "ink", weight: "bold" },
  { stroke: "accent", weight: "bold", dash: "way" },
  { stroke: "soft", weight: "bold", dash: "chain" },
  { stroke: "ink", weight: "line", dash: "dot" },
];

interface Limit {
  readonly degC: number;
  readonly words: string;
  readonly strong: boolean;
}

/** Limits of all faces, each once; `named`: with whose it is, where faces of several names have caps. */
export function limitsOf(faces: readonly CourseFace[], named = true): Limit[] {
  const nameOf = ({ watch, line: through }: CourseFace) => watch.name.replace(` (${through})`, "");
  const capped = faces.filter(({ watch }) => watch.plan !== undefined || watch.stop !== undefined);
  const several = named && new Set(capped.map(nameOf)).size > 1;
  const found = new Map<string, Limit>();
  const add = (degC: number | undefined, words: string, strong: boolean, whose = "") => {
    const said = `${words} ${degC}${whose === "" ? "" : ` ${fitText(whose, 62, 11)}`}`;
    if (degC !== undefined) found.set(said, { degC, words: said, strong });
  };
  for (const face of faces) {
    const { watch } = face;
    const whose = several ? nameOf(face) : "";
    add(watch.soft, "soft", false);
    add(watch.counted?.above, "counted from", false);
    add(watch.plan, "plan", true, whose);
    add(watch.stop, "stop", true, whose);
  }
  return [...found.values()].sort((a, b) => b.degC - a.degC);
}

export function drawCourse(course: Course, { width, window, now }: CourseOptions): Scene {
  const { at, faces, liftOff } = course;
  const narrow = width < 520;
  const limits = limitsOf(faces, !narrow);
  const right = width - Math.max(...limits.map(({ words }) => textWidth(words, 11) + 10), 16);
  const left = 34;
  const shapes: Shape[] = [];
  const key = legendOf(faces, left, right);
  const top = key.height + 34;
  const plot = narrow ? 210 : 260;
  const bottom = top + plot;
  const total = at[at.length - 1];
  const values = faces.flatMap(({ low, high }) => [Math.min(...low), Math.max(...high)]);
  const step = niceStep(Math.max(10, Math.max(...values) - Math.min(...values)), 4);
  const floor = Math.floor(Math.min(...values, 100) / step) * step;
  const ceiling = Math.ceil((Math.max(...values, ...limits.map(({ degC }) => degC)) + 2) / step) * step;
  const x = (seconds: number) => left + (seconds / total) * (right - left);
  const y = (degC: number) => bottom - ((degC - floor) / (ceiling - floor)) * plot;

  const soft = softSpan(faces, at);
  if (soft !== null) {
    shapes.push(rect(x(soft[0]), top, x(soft[1]) - x(soft[0]), plot, { fill: "warm" }));
    const words = fitText("every bond soft", x(soft[1]) - x(soft[0]) - 8, 11);
    shapes.push(text(x(soft[1]) - 5, bottom - 7, words, { size: 11, anchor: "end", tone: "soft", halo: true }));
  }
  for (let degC = floor; degC <= ceiling + 1e-9; degC += step)
    shapes.push(
      line(left, y(degC), right, y(degC), { stroke: "hair" }),
      text(left - 6, y(degC) + 4, String(Math.round(degC)), { anchor: "end", size: 11, tone: "soft" }),
    );
  shapes.push(text(left - 28, top - 14, "°C", { size: 11, tone: "soft" }));
  const places = spread(
    limits.map(({ degC }) => y(degC) + 4),
    12.5,
    top,
    bottom,
  );
  for (const [i, { degC, words, strong }] of limits.entries())
    shapes.push(
      line(left, y(degC), right, y(degC), { stroke: strong ? "accent" : "soft", weight: "thin", dash: "dot" }),
      line(right, y(degC), right + 5, places[i] - 4, { stroke: "hair" }),
      text(right + 7, places[i], words, { size: 11, tone: strong ? "accent" : "soft" }),
    );
  shapes.push(...windowMark(window, liftOff, x, top, bottom, left, right));
  for (const [i, face] of faces.entries()) {
    if (!banded(face, faces)) continue;
    const look = STROKES[i % STROKES.length];
    const upper = at.map((t, j) => [x(t), y(face.high[j])] as const);
    const lower = at.map((t, j) => [x(t), y(face.low[j])] as const);
    const edge = { stroke: look.stroke, weight: "hair", dash: "away" } as const;
    shapes.push(
      group(
        [
          polygon([[...upper, ...lower.toReversed()]], { fill: "hair", faint: true }),
          polyline(upper, edge),
          polyline(lower, edge),
        ],
        {},
        `Band of ${face.watch.name}: highest between ${degrees(Math.max(...face.low))} and ${degrees(Math.max(...face.high))}`,
      ),
    );
  }
  for (const [i, face] of faces.entries())
    shapes.push(
      polyline(
        at.map((t, j) => [x(t), y(face.degC[j])] as const),
        STROKES[i % STROKES.length],
      ),
    );
  shapes.push(line(left, bottom, right, bottom, { stroke: "ink", weight: "thin" }));
  shapes.push(...clockAxis(total, timeStep(total, Math.max(2, Math.floor((right - left) / 70))), x, bottom));
  shapes.push(text(right, bottom + 33, "time from the first contact", { anchor: "end", size: 11, tone: "soft" }));
  shapes.push(...cursor(course, now, x, y, top, bottom, right));
  shapes.push(...key.shapes);
  const title = `Temperature over time: ${faces
    .map(
      ({ watch, degC, high }) =>
        `${watch.name} up to ${degrees(Math.max(...degC))}, at most ${degrees(Math.max(...high))}`,
    )
    .join("; ")}; lifted off at ${spokenTime(liftOff)}`;
  return { width, height: bottom + 40, title, shapes };
}

/** Bands of more than two faces hide each other: then only those of the bonds and of what is counted are drawn. */
export function banded({ watch }: CourseFace, faces: readonly CourseFace[]): boolean {
  return faces.length <= 2 || watch.soft !== undefined || watch.counted !== undefined;
}

/** A row of line samples with names, wrapped. */
function legendOf(faces: readonly CourseFace[], left: number, right: number): { shapes: Shape[]; height: number } {
  const shapes: Shape[] = [];
  let [x, y] = [left, 12];
  for (const [i, { watch, line: through }] of faces.entries()) {
    const words = fitText(
      watch.name.includes(through) ? watch.name : `${watch.name} (${through})`,
      right - left - 40,
      12,
    );
    const room = 36 + textWidth(words, 12) + 18;
    if (x + room > right + 60 && x > left) [x, y] = [left, y + 18];
    shapes.push(line(x, y - 4, x + 30, y - 4, STROKES[i % STROKES.length]), text(x + 36, y, words, { size: 12 }));
    x += room;
  }
  return { shapes, height: y };
}

/** The bracket from when every bond is soft to the latest lift-off, and the lift-off of this course. */
function windowMark(
  window: Window | null,
  liftOff: number,
  x: (seconds: number) => number,
  top: number,
  bottom: number,
  left: number,
  right: number,
): Shape[] {
  const shapes: Shape[] = [
    line(x(liftOff), top - 4, x(liftOff), bottom, { stroke: "ink", weight: "thin", dash: "chain" }),
  ];
  const put = (words: string, at: number, size: number, bold: boolean): Shape => {
    const half = textWidth(words, size, bold) / 2;
    const middle = Math.min(right + 20 - half, Math.max(left + half, at));
    return text(middle, top - 12, words, { anchor: "middle", size, ...(bold ? { bold: true } : {}) });
  };
  if (window === null) return [...shapes, put("lift off", x(liftOff), 11, false)];
  const to = Math.min(window.to ?? liftOff, liftOff > window.from ? Math.max(liftOff, window.to ?? 0) : Infinity);
  const [a, b] = [x(window.from), Math.min(right, x(to))];
  const look = { stroke: "ink", weight: "line" } as const;
  shapes.push(
    line(a, top - 5, b, top - 5, look),
    line(a, top - 9, a, top - 1, look),
    line(b, top - 9, b, top - 1, look),
  );
  const words =
    window.to === null
      ? `warm window from ${spokenTime(window.from)}`
      : `warm window ${spokenTime(window.from)} to ${spokenTime(window.to)}`;
  shapes.push(put(words, (a + b) / 2, 12, true));
  return shapes;
}

function cursor(
  { at, faces }: Course,
  now: number,
  x: (seconds: number) => number,
  y: (degC: number) => number,
  top: number,
  bottom: number,
  right: number,
): Shape[] {
  const shapes: Shape[] = [line(x(now), top, x(now), bottom, { stroke: "accent", weight: "line" })];
  const values = faces.map(({ degC }) => valueAt(at, degC, now));
  const places = spread(
    values.map((value) => y(value) - 6),
    14,
    top + 8,
    bottom - 2,
  );
  const flip = x(now) > right - 60;
  for (const [i, value] of values.entries())
    shapes.push(
      circle(x(now), y(value), 3.2, { stroke: "accent", weight: "line", fill: "paper" }),
      text(x(now) + (flip ? -7 : 7), places[i], degrees(value), {
        size: 12,
        bold: true,
        tone: "accent",
        halo: true,
        ...(flip ? { anchor: "end" as const } : {}),
      }),
    );
  return shapes;
}

/** From when to when every face that has a `soft` is at or above it; null: never, or none has one. */
export function softSpan(faces: readonly CourseFace[], at: readonly number[]): readonly [number, number] | null {
  const bonds = faces.filter(({ watch }) => watch.soft !== undefined);
  if (bonds.length === 0) return null;
  const margin = at.map((_, i) => Math.min(...bonds.map(({ watch, degC }) => degC[i] - (watch.soft ?? 0))));
  const first = margin.findIndex((value) => value >= 0);
  if (first < 0) return null;
  const last = margin.findLastIndex((value) => value >= 0);
  const cross = (i: number) => at[i] + ((0 - margin[i]) / (margin[i + 1] - margin[i])) * (at[i + 1] - at[i]);
  return [first === 0 ? at[0] : cross(first - 1), last === at.length - 1 ? at[last] : cross(last)];
}

/** A series at any time, along straight lines. */
export function valueAt(at: readonly number[], values: readonly number[], now: number): number {
  const after = at.findIndex((t) => t >= now);
  if (after < 0) return values[values.length - 1];
  if (after === 0) return values[0];
  const share = (now - at[after - 1]) / (at[after] - at[after - 1]);
  return values[after - 1] + share * (values[after] - values[after - 1]);
}

export function degrees(value: number): string {
  return `${value.toFixed(1)} °C`;
}
