/** A thermocouple log with the fitted curve and the curves at both ends of the contact's interval. */
import { niceStep, timeStep } from "../axis.ts";
import { circle, line, polygon, polyline, type Scene, type Shape, text } from "../scene.ts";
import { textWidth } from "../text-width.ts";
import { clockAxis } from "./shade.ts";

export interface FitFigure {
  readonly width: number;
  /** s, degC measured, degC fitted. */
  readonly points: readonly (readonly [number, number, number])[];
  /** degC at the same times with the contact at either end of its 95 % interval. */
  readonly low: readonly number[];
  readonly high: readonly number[];
}

const MOST_DOTS = 160;

export function drawFit({ width, points, low, high }: FitFigure): Scene {
  const [left, right, top] = [34, width - 18, 34];
  const plot = width < 520 ? 150 : 180;
  const bottom = top + plot;
  const total = points[points.length - 1][0];
  const values = [...points.flatMap(([, y, f]) => [y, f]), ...low, ...high];
  const least = values.reduce((a, b) => Math.min(a, b));
  const most = values.reduce((a, b) => Math.max(a, b));
  const step = niceStep(Math.max(1, most - least), 4);
  const floor = Math.floor(least / step) * step;
  const ceiling = Math.ceil(most / step) * step;
  const x = (seconds: number) => left + (seconds / total) * (right - left);
  const y = (degC: number) => bottom - ((degC - floor) / (ceiling - floor)) * plot;
  const shapes: Shape[] = [];
  for (let degC = floor; degC <= ceiling + 1e-9; degC += step)
    shapes.push(
      line(left, y(degC), right, y(degC), { stroke: "hair" }),
      text(left - 6, y(degC) + 4, String(Math.round(degC * 100) / 100), { anchor: "end", size: 11, tone: "soft" }),
    );
  const upper = points.map(([t], i) => [x(t), y(high[i])] as const);
  const lower = points.map(([t], i) => [x(t), y(low[i])] as const);
  shapes.push(polygon([[...upper, ...lower.toReversed()]], { fill: "wash" }));
  const every = Math.max(1, Math.ceil(points.length / MOST_DOTS));
  for (let i = 0; i < points.length; i += every)
    shapes.push(circle(x(points[i][0]), y(points[i][1]), 2, { stroke: "ink", weight: "hair", fill: "sheet" }));
  shapes.push(
    polyline(
      points.map(([t, , fitted]) => [x(t), y(fitted)] as const),
      { stroke: "accent", weight: "bold" },
    ),
    line(left, bottom, right, bottom, { stroke: "ink", weight: "thin" }),
    ...clockAxis(total, timeStep(total, Math.max(2, Math.floor((right - left) / 70))), x, bottom),
  );
  let at = left;
  const put = (sample: Shape, words: string) => {
    shapes.push(sample, text(at + 30, 14, words, { size: 12 }));
    at += 30 + textWidth(words, 12) + 20;
  };
  shapes.push(text(left - 28, top - 12, "°C", { size: 11, tone: "soft" }));
  put(circle(at + 14, 10, 2, { stroke: "ink", weight: "hair", fill: "sheet" }), "measured");
  put(line(at, 10, at + 24, 10, { stroke: "accent", weight: "bold" }), "fitted, with its 95 %");
  return {
    width,
    height: bottom + 26,
    title: `Thermocouple log of ${points.length} readings and the fitted curve`,
    shapes,
  };
}
