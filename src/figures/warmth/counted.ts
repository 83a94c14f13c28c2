/** The cell's counted time as a bar that fills: what is used so far, what one heating and the whole cut would use. */
import { spokenTime, timeStep } from "../axis.ts";
import { line, rect, type Scene, type Shape, text } from "../scene.ts";
import { fitText, textWidth } from "../text-width.ts";
import { spread } from "./shade.ts";

export interface CountedFigure {
  readonly width: number;
  /** s that are allowed in all. */
  readonly allowed: number;
  /** degC from which they count. */
  readonly above: number;
  /** s used so far. */
  readonly used: number;
  /** Marks on the bar, s. */
  readonly marks: readonly { readonly at: number; readonly words: string }[];
}

const BAR = 24;

export function drawCounted({ width, allowed, above, used, marks }: CountedFigure): Scene {
  const most = Math.max(allowed * 1.04, used, ...marks.map(({ at }) => at));
  const [left, right, top] = [1, width - 6, 26];
  const x = (seconds: number) => left + (seconds / most) * (right - left);
  const bottom = top + BAR;
  const over = used > allowed;
  const shapes: Shape[] = [
    rect(left, top, x(allowed) - left, BAR, { stroke: "ink", weight: "thin", fill: "sheet" }),
    rect(left, top, Math.max(0, x(used) - left), BAR, { fill: over ? "accent" : "ink" }),
    line(x(allowed), top - 6, x(allowed), bottom + 5, { stroke: "accent", weight: "bold" }),
  ];
  const step = timeStep(allowed, Math.max(3, Math.floor((right - left) / 60)));
  for (let at = step; at < allowed - 1e-9; at += step)
    shapes.push(line(x(at), bottom - 6, x(at), bottom, { stroke: x(at) < x(used) ? "paper" : "soft" }));
  const allowedWords = `${spokenTime(allowed)} allowed`;
  shapes.push(
    text(left, top - 8, `${spokenTime(used)} counted so far, cell above ${above} °C`, { size: 12, bold: true }),
    text(width - 2, bottom + 17, allowedWords, { anchor: "end", size: 11, tone: "accent" }),
  );
  // Names of the marks below, one row each where they would lie on each other.
  const rows = spread(
    marks.map((_, i) => bottom + 17 + i * 15),
    15,
    bottom + 17,
    bottom + 17 + marks.length * 15,
  );
  const names: Shape[] = [];
  for (const [i, { at, words }] of marks.entries()) {
    const said = fitText(`${words} ${spokenTime(at)}`, width - textWidth(allowedWords, 11) - 16, 11);
    const start = Math.max(
      left,
      Math.min(x(at) + 5, right - textWidth(said, 11) - (i === 0 ? textWidth(allowedWords, 11) + 12 : 0)),
    );
    shapes.push(line(x(at), top, x(at), rows[i] + 2, { stroke: "ink", weight: "thin", dash: "dot" }));
    names.push(text(start, rows[i], said, { size: 11, tone: "soft", halo: true }));
  }
  // Over the rules, so that none of them goes through a name.
  shapes.push(...names);
  return {
    width,
    height: bottom + 22 + Math.max(1, marks.length) * 15,
    title: `${spokenTime(used)} of ${spokenTime(allowed)} counted above ${above} °C${marks.map(({ at, words }) => `; ${words} ${spokenTime(at)}`).join("")}`,
    shapes,
  };
}
