/**
 * Mass by part beside the sibling: a bar from zero with its interval, and the sibling's figure as a hollow ring on the
 * same row, so that the two can be told apart without colour.
 */
import { niceStep } from "../axis.ts";
import { circle, group, line, rect, type Scene, type Shape, text } from "../scene.ts";
import { fitText, textWidth } from "../text-width.ts";

export interface BarFigure {
  readonly value: number;
  /** Ends of the coverage interval; left out where no uncertainty is known. */
  readonly low?: number;
  readonly high?: number;
}

export interface BarRow {
  readonly part?: string;
  readonly name: string;
  readonly figure: BarFigure;
  readonly sibling?: BarFigure;
  /** As it is to be read, with its unit and uncertainty. */
  readonly words: string;
}

export interface BarOptions {
  readonly width: number;
  readonly unit: string;
  readonly quantity: string;
  /** Name of the device that the rings belong to. */
  readonly sibling?: string;
  readonly chosen?: string;
}

const ROW = 25;
const TOP = 26;

export function drawBars(rows: readonly BarRow[], { width, unit, quantity, sibling, chosen }: BarOptions): Scene {
  const size = 12;
  const nameRoom = Math.min(width * 0.34, Math.max(50, ...rows.map((row) => textWidth(row.name, size) + 4)));
  const wordsRoom = Math.max(60, ...rows.map((row) => textWidth(row.words, size) + 8));
  const left = nameRoom + 10;
  const right = Math.max(left + 60, width - wordsRoom - 6);
  const values = rows.flatMap((row) => [row.figure, ...(row.sibling ? [row.sibling] : [])]);
  const most = Math.max(1e-9, ...values.map((figure) => Math.max(figure.value, figure.high ?? 0)));
  const step = niceStep(most, Math.max(2, Math.floor((right - left) / 80)));
  const top = Math.ceil(most / step - 1e-9) * step;
  const x = (value: number) => left + (Math.max(0, value) / top) * (right - left);
  const bottom = TOP + rows.length * ROW;
  const shapes: Shape[] = [];
  for (let at = 0; at <= top + step * 1e-6; at += step) {
    const value = Math.round(at * 1e6) / 1e6;
    shapes.push(
      line(x(at), TOP - 4, x(at), bottom, { stroke: "hair" }),
      text(x(at), TOP - 9, `${value}${at === 0 ? ` ${unit}` : ""}`, { anchor: "middle", size: 11, tone: "soft" }),
    );
  }
  rows.forEach((row, index) => {
    const y = TOP + index * ROW + ROW / 2;
    const isChosen = row.part !== undefined && row.part === chosen;
    const tone = isChosen ? "accent" : "ink";
    const bold = isChosen ? ({ bold: true } as const) : {};
    const children: Shape[] = [
      text(nameRoom, y + 4, fitText(row.name, nameRoom, size, isChosen), { anchor: "end", size, tone, ...bold }),
      rect(left, y - 5, x(row.figure.value) - left, 10, {
        stroke: tone,
        weight: "thin",
        fill: isChosen ? "wash" : "sheet",
      }),
    ];
    if (row.figure.low !== undefined && row.figure.high !== undefined)
      children.push(...whisker(x(row.figure.low), x(row.figure.high), y, 4, tone));
    if (row.sibling) {
      const { value, low, high } = row.sibling;
      if (low !== undefined && high !== undefined) children.push(...whisker(x(low), x(high), y + 9, 2.5, "soft"));
      children.push(circle(x(value), y + 9, 3, { stroke: "ink", weight: "thin", fill: "paper" }));
    }
    children.push(text(width - 2, y + 4, row.words, { anchor: "end", size, tone, ...bold }));
    const beside = row.sibling && sibling ? `; ${sibling}: ${row.sibling.value} ${unit}` : "";
    shapes.push(
      group(children, row.part === undefined ? {} : { part: row.part }, `${row.name}: ${row.words}${beside}`),
    );
  });
  const legend = sibling === undefined ? "" : `, ring: ${sibling}`;
  shapes.push(text(left, bottom + 18, `${quantity} in ${unit}${legend}`, { size: 11, tone: "soft" }));
  const title = `${quantity} by part in ${unit}${sibling ? `, beside ${sibling}` : ""}`;
  return { width, height: bottom + 28, title, shapes };
}

/** An interval as a line with its ends marked. */
export function whisker(from: number, to: number, y: number, half: number, tone: "ink" | "accent" | "soft"): Shape[] {
  const look = { stroke: tone, weight: "thin" } as const;
  return [
    line(from, y, to, y, look),
    line(from, y - half, from, y + half, look),
    line(to, y - half, to, y + half, look),
  ];
}
