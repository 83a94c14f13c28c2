/**
 * The section at one moment: each line through the device as a pile of layers, the heat source above, shaded by
 * temperature. Thin layers are drawn thicker than they are, and it is said so.
 */
import type { Course, CourseLayer } from "../../core/heat/index.ts";
import { spokenTime } from "../axis.ts";
import { group, line, rect, type Scene, type Shape, text } from "../scene.ts";
import { fitText } from "../text-width.ts";
import { DEVICE_LEVELS, legend, shade, spread } from "./shade.ts";

export interface SectionOptions {
  readonly width: number;
  /** s */
  readonly now: number;
  /** What is called by name: layer id to words. */
  readonly names?: ReadonlyMap<string, string>;
  /** The source while it touches, and what surrounds it afterwards. */
  readonly source: string;
  /** Layers that are watched, by line: outlined. */
  readonly watched?: ReadonlySet<string>;
}

const LEAST = 13;
const MOST = 92;
const PER_MM = 17;

/** Heights in px: true to scale between a least and a most. */
function heightOf({ thickness }: CourseLayer): number {
  return Math.min(MOST, LEAST + thickness * PER_MM);
}

export function drawWarmSection(course: Course, options: SectionOptions): Scene {
  const { width, now, source } = options;
  const many = course.lines.length;
  const beside = width / many >= 240;
  const column = beside ? (width - (many - 1) * 18) / many : width;
  const index = nearestIndex(course.at, now);
  const touching = now >= course.begins && now < course.liftOff;
  const shapes: Shape[] = [];
  let [x, y, bottom] = [0, 0, 0];
  for (const through of course.lines) {
    const drawn = pile(through, index, x, y, column, touching ? source : "air", options);
    shapes.push(...drawn.shapes);
    bottom = Math.max(bottom, drawn.bottom);
    if (beside) x += column + 18;
    else y = drawn.bottom + 18;
  }
  const words = legend(0, bottom + 14, width, DEVICE_LEVELS, ["", "", "counted", "", "bond soft", ""]);
  shapes.push(...words.shapes);
  const said = course.faces.map(({ watch, degC }) => `${watch.name} ${degC[index].toFixed(0)} °C`).join(", ");
  return {
    width,
    height: bottom + 14 + words.height,
    title: `Section after ${spokenTime(course.at[index])}: ${said}`,
    shapes,
  };
}

function pile(
  through: Course["lines"][number],
  index: number,
  x: number,
  y: number,
  column: number,
  source: string,
  { names, watched }: SectionOptions,
): { shapes: Shape[]; bottom: number } {
  const body = Math.min(120, column * 0.36);
  const shapes: Shape[] = [
    text(x, y + 13, fitText(`at the ${through.name}`, column, 12, true), { size: 12, bold: true }),
  ];
  const top = y + 42;
  shapes.push(
    rect(x, top - 18, body, 14, { stroke: "ink", weight: "thin", fill: source === "air" ? "paper" : "wash" }),
    text(x + body / 2, top - 7.5, fitText(source, body - 4, 10.5), { anchor: "middle", size: 10.5 }),
  );
  const tops: number[] = [];
  let at = top;
  for (const layer of through.layers) {
    tops.push(at);
    at += heightOf(layer);
  }
  const places = spread(
    through.layers.map((layer, i) => tops[i] + heightOf(layer) / 2 + 4),
    13.5,
    top + 6,
    at + 6,
  );
  for (const [i, layer] of through.layers.entries()) {
    const height = heightOf(layer);
    const profile = layer.profile[index];
    const n = profile.length - 1;
    const children: Shape[] = [];
    for (let k = 0; k < n; k += 1)
      children.push(
        ...shade(x, tops[i] + (height * k) / n, body, height / n, (profile[k] + profile[k + 1]) / 2, DEVICE_LEVELS),
      );
    const isWatched = watched?.has(`${through.name} ${layer.name}`) === true;
    children.push(rect(x, tops[i], body, height, { stroke: "ink", weight: isWatched ? "bold" : "hair" }));
    const middle = tops[i] + height / 2;
    const room = column - body - 16;
    const degC = rangeWords(profile);
    const name = names?.get(layer.name) ?? layer.name;
    const words = `${name}, ${Number(layer.thickness.toPrecision(2))} mm`;
    children.push(
      line(x + body, middle, x + body + 12, places[i] - 4, { stroke: "hair" }),
      text(x + column, places[i], degC, { anchor: "end", size: 11.5, ...(isWatched ? { bold: true } : {}) }),
      text(x + body + 15, places[i], fitText(words, room - 58, 11.5), { size: 11.5, tone: isWatched ? "ink" : "soft" }),
    );
    shapes.push(group(children, {}, `${name}: ${degC}`));
  }
  return { shapes, bottom: Math.max(at, ...places) + 4 };
}

function rangeWords(profile: readonly number[]): string {
  const low = Math.round(Math.min(...profile));
  const high = Math.round(Math.max(...profile));
  return low === high ? `${low} °C` : `${low} to ${high} °C`;
}

function nearestIndex(at: readonly number[], now: number): number {
  let best = 0;
  for (const [i, t] of at.entries()) if (Math.abs(t - now) < Math.abs(at[best] - now)) best = i;
  return best;
}
