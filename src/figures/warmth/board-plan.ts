/** The board from above: parts shaded by the hottest they get, the jet as a dashed outline, one scale in mm. */
import type { Board, BoardHeat } from "../../core/heat/index.ts";
import { circle, group, line, rect, type Scene, type Shape, text } from "../scene.ts";
import { fitText, textWidth } from "../text-width.ts";
import { BOARD_LEVELS, legend, shade, spread } from "./shade.ts";

export interface BoardPlanOptions {
  readonly width: number;
}

const MOST_HEIGHT = 320;

export function drawBoardPlan(board: Board, heat: BoardHeat, { width }: BoardPlanOptions): Scene {
  const [sx, sy] = board.size;
  const names = Math.min(190, width * 0.36);
  const scale = Math.min((width - names - 26) / sx, MOST_HEIGHT / sy);
  const [left, top] = [2, 4];
  const x = (mm: number) => left + mm * scale;
  const y = (mm: number) => top + (sy - mm) * scale;
  const right = x(sx);
  const bottom = y(0);
  const shapes: Shape[] = [rect(left, top, sx * scale, sy * scale, { stroke: "ink", weight: "line", fill: "sheet" })];
  const places = spread(
    board.parts.map((part) => y(part.at[1]) + 4),
    15,
    top + 9,
    Math.max(bottom, top + 15 * board.parts.length),
  );
  for (const [i, part] of board.parts.entries()) {
    const [px, py] = part.at;
    const [w, h] = part.size;
    const { peak } = heat.parts[i];
    const box = [x(px - w / 2), y(py + h / 2), w * scale, h * scale] as const;
    const over = part.limit !== undefined && peak >= part.limit;
    const words = `${Math.round(peak)} °C`;
    const room = names - textWidth(words, 11.5, true) - 14;
    shapes.push(
      group(
        [
          ...shade(...box, peak, BOARD_LEVELS),
          rect(...box, { stroke: over ? "accent" : "ink", weight: over ? "bold" : "thin" }),
          line(x(px + w / 2), y(py), right + 12, places[i] - 4, { stroke: "hair" }),
          text(right + 15, places[i], fitText(part.name, room, 11.5), { size: 11.5 }),
          text(right + 15 + names - 6, places[i], words, {
            anchor: "end",
            size: 11.5,
            bold: true,
            ...(over ? { tone: "accent" as const } : {}),
          }),
        ],
        {},
        `${part.name}: up to ${words}`,
      ),
    );
  }
  for (const { nozzle } of board.heat) {
    if (nozzle === undefined) continue;
    const look = { stroke: "accent", weight: "line", dash: "way" } as const;
    const [nx, ny] = nozzle.at;
    if (typeof nozzle.size === "number") shapes.push(circle(x(nx), y(ny), (nozzle.size / 2) * scale, look));
    else
      shapes.push(
        rect(
          x(nx - nozzle.size[0] / 2),
          y(ny + nozzle.size[1] / 2),
          nozzle.size[0] * scale,
          nozzle.size[1] * scale,
          look,
        ),
      );
  }
  const foot = Math.max(bottom, ...places) + 12;
  shapes.push(text(left, foot + 6, `${sx} mm wide; dashed: the jet`, { size: 11, tone: "soft" }));
  const key = legend(left, foot + 18, width - 4, BOARD_LEVELS);
  shapes.push(...key.shapes);
  return {
    width,
    height: foot + 18 + key.height,
    title: `Board from above, hottest of each part: ${heat.parts.map(({ name, peak }) => `${name} ${Math.round(peak)} °C`).join(", ")}`,
    shapes,
  };
}
