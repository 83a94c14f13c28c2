/**
 * Heat as engravers shade: the hotter, the closer the rules, over the one warm wash. Every class keeps the rules of the
 * cooler ones, so that neighbours line up, and nothing depends on colour.
 */
import { type Command, type Fill, line, path, rect, type Shape, text } from "../scene.ts";
import { textWidth } from "../text-width.ts";

/** px between rules, by class from the coolest; 0: none. */
const SPACING = [0, 24, 12, 6, 3, 1.5] as const;
const FILLS: readonly Fill[] = ["sheet", "sheet", "warm", "warm", "wash", "wash"];

/** degC at which the next class begins: five of them. */
export type Levels = readonly [number, number, number, number, number];

/** A device on a pad: 45 counted, 55 plan, 65 soft, 80 panel (settings of the bench). */
export const DEVICE_LEVELS: Levels = [30, 45, 55, 65, 80];
/** A board under a jet: 183 and 217 are the liquidus of tin-lead and of the lead-free alloy. */
export const BOARD_LEVELS: Levels = [60, 120, 183, 217, 245];

export function classOf(degC: number, levels: Levels): number {
  return levels.filter((level) => degC >= level).length;
}

/** A rectangle shaded for a temperature, without an outline. */
export function shade(x: number, y: number, width: number, height: number, degC: number, levels: Levels): Shape[] {
  const kind = classOf(degC, levels);
  const spacing = SPACING[kind];
  const shapes: Shape[] = [rect(x, y, width, height, { fill: FILLS[kind] })];
  if (spacing === 0) return shapes;
  const commands: Command[] = [];
  // Counted from the picture's own edge: rules of neighbours meet.
  for (let at = Math.ceil(x / spacing) * spacing; at < x + width; at += spacing)
    commands.push(["M", at, y], ["L", at, y + height]);
  if (commands.length > 0) shapes.push(path(commands, { stroke: "soft", weight: "hair" }));
  return shapes;
}

/** The legend in as many rows as the width needs; `height`: what it takes. */
export function legend(
  x: number,
  y: number,
  width: number,
  levels: Levels,
  words: readonly string[] = [],
): { readonly shapes: Shape[]; readonly height: number } {
  const shapes: Shape[] = [];
  let [left, top] = [x, y];
  for (let kind = 0; kind < SPACING.length; kind += 1) {
    const range =
      kind === 0
        ? `below ${levels[0]} °C`
        : kind === levels.length
          ? `${levels[kind - 1]} and above`
          : `${levels[kind - 1]} to ${levels[kind]}`;
    const said = words[kind] === undefined || words[kind] === "" ? range : `${range}, ${words[kind]}`;
    const room = 34 + textWidth(said, 11) + 14;
    if (left + room > x + width && left > x) [left, top] = [x, top + 22];
    const degC = kind === 0 ? levels[0] - 1 : levels[kind - 1];
    shapes.push(
      ...shade(left, top, 28, 14, degC, levels),
      rect(left, top, 28, 14, { stroke: "ink", weight: "hair" }),
      text(left + 34, top + 11, said, { size: 11, tone: "soft" }),
    );
    left += room;
  }
  return { shapes, height: top - y + 20 };
}

/** Labels that would lie on each other are moved apart, in order; the first stays where it can. */
export function spread(wanted: readonly number[], apart: number, low: number, high: number): number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => wanted[a] - wanted[b]);
  const placed = [...wanted];
  let floor = low;
  for (const i of order) {
    placed[i] = Math.max(wanted[i], floor);
    floor = placed[i] + apart;
  }
  let ceiling = high;
  for (const i of order.toReversed()) {
    placed[i] = Math.min(placed[i], ceiling);
    ceiling = placed[i] - apart;
  }
  return placed;
}

/** A time axis in s, min or h below a picture. */
export function clockAxis(total: number, step: number, x: (seconds: number) => number, y: number): Shape[] {
  const unit = total <= 180 ? "s" : total < 7200 ? "min" : "h";
  const per = unit === "s" ? 1 : unit === "min" ? 60 : 3600;
  const shapes: Shape[] = [];
  for (let at = 0; at <= total * (1 + 1e-9); at += step)
    shapes.push(
      line(x(at), y, x(at), y + 5, { stroke: "soft" }),
      text(x(at), y + 18, `${Math.round((at / per) * 100) / 100} ${unit}`, {
        anchor: "middle",
        size: 11,
        tone: "soft",
      }),
    );
  return shapes;
}
