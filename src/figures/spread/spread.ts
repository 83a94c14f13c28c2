/**
 * How long a job takes, as the share of jobs that are done by then: a curve through quantiles with the median and the time
 * that nine in ten stay within marked on it. A share rather than a density: it is read off without counting areas.
 */
import { spokenTime, timeStep } from "../axis.ts";
import { circle, line, polyline, type Scene, type Shape, text } from "../scene.ts";
import { fitText, textWidth } from "../text-width.ts";

export interface SpreadInput {
  /** Shares from 0 to 1, rising, and the seconds within which so many jobs stay. */
  readonly share: readonly number[];
  readonly seconds: readonly number[];
  /** Marked on the curve. */
  readonly p50: number;
  readonly p90: number;
  /** The planner's own time, as a rule across; left out where there is none. */
  readonly standard?: number;
}

const HEIGHT = 210;
const TOP = 22;
const BOTTOM = 40;
const LEFT = 46;

export function drawSpread({ share, seconds, p50, p90, standard }: SpreadInput, width: number): Scene {
  const longest = Math.max(p90, standard ?? 0, ...seconds);
  const step = timeStep(longest, Math.max(4, Math.floor((width - LEFT) / 90)));
  const end = Math.max(step, Math.ceil(longest / step - 1e-9) * step);
  const right = width - 26;
  const floor = HEIGHT - BOTTOM;
  const x = (value: number) => LEFT + (value / end) * (right - LEFT);
  const y = (part: number) => floor - part * (floor - TOP);
  const shapes: Shape[] = [];
  for (let at = 0; at <= end + step * 1e-6; at += step)
    shapes.push(
      line(x(at), TOP, x(at), floor, { stroke: "hair" }),
      text(at + step > end + step / 2 ? right + 22 : x(at), floor + 15, spokenTime(Math.round(at)), {
        anchor: at + step > end + step / 2 ? "end" : "middle",
        size: 11,
        tone: "soft",
      }),
    );
  for (const part of [0, 0.25, 0.5, 0.75, 1])
    shapes.push(
      line(LEFT, y(part), right, y(part), { stroke: "hair" }),
      text(LEFT - 6, y(part) + 4, `${part * 100} %`, { anchor: "end", size: 11, tone: "soft" }),
    );
  if (standard !== undefined)
    shapes.push(line(x(standard), TOP, x(standard), floor, { stroke: "soft", weight: "thin", dash: "chain" }));
  const points = share.map((part, i) => [x(seconds[i]!), y(part)] as const);
  shapes.push(polyline(points, { stroke: "ink", weight: "line" }));
  for (const [part, value, words] of [
    [0.5, p50, `half within ${spokenTime(p50)}`],
    [0.9, p90, `nine in ten within ${spokenTime(p90)}`],
  ] as const) {
    const [cx, cy] = [x(value), y(part)];
    const room = textWidth(words, 12, true) + 12;
    // To the right of its mark where there is room, else above and to the left of it.
    const beside = cx + room < right;
    shapes.push(
      line(cx, cy, cx, floor, { stroke: "accent", weight: "thin", dash: "way" }),
      circle(cx, cy, 4, { stroke: "accent", weight: "line", fill: "paper" }),
      text(beside ? cx + 9 : cx - 9, beside ? cy + 14 : cy - 4, words, {
        size: 12,
        bold: true,
        halo: true,
        ...(beside ? {} : { anchor: "end" as const }),
      }),
    );
  }
  const rule = standard === undefined ? "" : "; chain line: standard times";
  const caption = `share of jobs done by then, hands on${rule}`;
  shapes.push(text(LEFT, HEIGHT - 6, fitText(caption, width - LEFT, 11), { size: 11, tone: "soft" }));
  return {
    width,
    height: HEIGHT,
    title: `Share of jobs done by hands-on time: half within ${spokenTime(p50)}, nine in ten within ${spokenTime(p90)}`,
    shapes,
  };
}
