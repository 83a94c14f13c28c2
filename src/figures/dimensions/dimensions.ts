/**
 * The section with its dimensions: the device cut along its long axis through a named place, thickness drawn larger by the
 * stated factor, the layers under the place named with what was measured of each, the body's thickness as a dimension
 * line at the place. What the drawing shows are the recorded outlines and levels; the numbers are the readings.
 */
import type { ThicknessBudget } from "../../core/measure/index.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import { thicknessPicture } from "../budget/budget-rows.ts";
import { spread } from "../device/leaders.ts";
import { type PlacedDevice, type PlacedPart, placeDevice } from "../device/placed.ts";
import { insideAlong } from "../geometry.ts";
import { circle, group, line, path, polygon, polyline, type Scene, type Shape, text } from "../scene.ts";
import { textWidth, wrapText } from "../text-width.ts";

export interface DimensionOptions {
  readonly width: number;
  readonly chosen?: string;
}

const SIZE = 11;
const ROW = 13;
const TOP = 26;

/** A layer's figure on its leader. */
interface Label {
  readonly part?: string;
  readonly lines: readonly string[];
  /** Level of the middle of what it names, mm; null: it has none (a gap). */
  readonly level: number | null;
}

/** null where no part has both an outline and a level. */
export function drawDimensions(
  record: TeardownRecord,
  stack: ThicknessBudget,
  { width, chosen }: DimensionOptions,
): Scene | null {
  const device = placeDevice(record);
  if (device === null) return null;
  const { bounds, depth } = device;
  // The cut runs through the place along the longer side; y of the record is up, so it runs from the foot to the head.
  const upright = bounds.y1 - bounds.y0 >= bounds.x1 - bounds.x0;
  const [start, end] = upright ? [bounds.y0, bounds.y1] : [bounds.x0, bounds.x1];
  const [cutAt, along] = upright ? stack.place : [stack.place[1], stack.place[0]];
  const axis = upright ? "x" : "y";
  const budget = thicknessPicture(record, stack);
  const labelRoom = Math.min(width * 0.46, 250);
  const labels = labelsOf(device, budget.pieces, labelRoom - 26);
  const needed = labels.reduce((sum, one) => sum + one.lines.length * ROW + 3, 0);
  const left = 18;
  const right = width - labelRoom;
  const range = Math.max(depth[1] - depth[0], 0.1);
  const scale = (right - left) / Math.max(end - start, 1);
  const tall = Math.max(170, Math.min(needed, 420));
  const stretch = Math.max(1, Math.round((tall / range / scale) * 10) / 10);
  const x = (at: number) => left + (at - start) * scale;
  const y = (level: number) => TOP + (level - depth[0]) * scale * stretch;
  const bottom = y(depth[1]);
  const shapes: Shape[] = cutShapes(device, { axis, cutAt, x, y, chosen });
  // The place, as a chain line, and the body's thickness on it.
  shapes.push(
    line(x(along), TOP - 12, x(along), bottom + 10, { stroke: "accent", weight: "hair", dash: "chain" }),
    text(Math.max(x(along), left + textWidth(stack.name, SIZE) / 2), TOP - 15, stack.name, {
      anchor: x(along) + textWidth(stack.name, SIZE) / 2 > right ? "end" : "middle",
      size: SIZE,
      tone: "accent",
    }),
  );
  const body = budget.whole;
  const bodyWords = body === null ? "body not measured" : body.words;
  shapes.push(...upDimension(left - 9, y(0), bottom, bodyWords));
  const tops = spread(
    labels.map((one) => ({
      middle: one.level === null ? bottom + 1 : y(one.level),
      height: one.lines.length * ROW,
    })),
    TOP - 8,
    Math.max(bottom, TOP + needed) + 6,
  );
  labels.forEach((one, i) => {
    const isChosen = one.part !== undefined && one.part === chosen;
    const tone = isChosen ? "accent" : "ink";
    const middle = tops[i]! + (one.lines.length * ROW) / 2;
    const leader =
      one.level === null
        ? []
        : [
            circle(x(along), y(one.level), 1.7, { fill: tone }),
            polyline(
              [
                [x(along), y(one.level)],
                [right + 6, y(one.level)],
                [right + 18, middle],
                [right + 22, middle],
              ],
              { stroke: isChosen ? "accent" : "soft", weight: "hair" },
            ),
          ];
    const words = one.lines.map((said, row) =>
      text(right + 26, tops[i]! + row * ROW + SIZE - 1, said, {
        size: SIZE,
        tone: one.level === null ? "soft" : tone,
        ...(isChosen ? { bold: true as const } : {}),
      }),
    );
    shapes.push(group([...leader, ...words], one.part === undefined ? {} : { part: one.part }, one.lines.join(" ")));
  });
  const last = tops.at(-1) === undefined ? bottom : tops.at(-1)! + labels.at(-1)!.lines.length * ROW;
  const foot = Math.max(bottom + 16, last + 4);
  shapes.push(...footWords(foot + 14, width, { stretch, start, end }));
  return {
    width,
    height: foot + 36,
    title: `Section of ${record.device.name} ${stack.name}: ${labels.map((one) => one.lines.join(" ")).join("; ")}`,
    shapes,
  };
}

function labelsOf(device: PlacedDevice, pieces: ReturnType<typeof thicknessPicture>["pieces"], room: number): Label[] {
  const byName = new Map(device.parts.map((part) => [part.id, part]));
  const labels = pieces.map((piece): Label => {
    const part = piece.part === undefined ? undefined : byName.get(piece.part);
    const whole = `${piece.name} ${piece.words}`;
    const lines = textWidth(whole, SIZE) <= room ? [whole] : [...wrapText(piece.name, room, SIZE, 1), piece.words];
    return {
      ...(piece.part === undefined ? {} : { part: piece.part }),
      lines,
      level: part === undefined ? null : (part.level[0] + part.level[1]) / 2,
    };
  });
  // By level, so that no leader crosses another; what has none stands below.
  return labels.sort((a, b) => (a.level ?? 1e9) - (b.level ?? 1e9));
}

interface Cut {
  readonly axis: "x" | "y";
  readonly cutAt: number;
  readonly x: (along: number) => number;
  readonly y: (level: number) => number;
  readonly chosen: string | undefined;
}

function cutShapes(device: PlacedDevice, { axis, cutAt, x, y, chosen }: Cut): Shape[] {
  const thick = (part: PlacedPart) => part.level[1] - part.level[0];
  const rank = (part: PlacedPart) => (part.base ? 0 : part.id === chosen ? 2 : 1);
  const ordered = [...device.parts].sort(
    (a, b) => rank(a) - rank(b) || thick(b) - thick(a) || b.area - a.area || (a.id < b.id ? -1 : 1),
  );
  return ordered.flatMap((part) => {
    const spans = insideAlong(part.rings, axis, cutAt);
    if (spans.length === 0) return [];
    const look = {
      stroke: part.id === chosen ? ("accent" as const) : ("ink" as const),
      weight: part.id === chosen ? ("bold" as const) : ("hair" as const),
      fill: part.hatch ?? ("sheet" as const),
    };
    const [top, bottom] = part.level;
    const boxes = spans.map(([from, to]) =>
      polygon(
        [
          [
            [x(from), y(top)],
            [x(to), y(top)],
            [x(to), y(bottom)],
            [x(from), y(bottom)],
          ],
        ],
        look,
      ),
    );
    return [group(boxes, { part: part.id }, part.name)];
  });
}

/** A dimension line with its figure read from the right (ISO 129-1: figures along the line, arrowheads at its ends). */
function upDimension(x: number, top: number, bottom: number, words: string): Shape[] {
  const look = { stroke: "ink", weight: "hair" } as const;
  const head = (y: number, way: 1 | -1) =>
    path([["M", x, y], ["L", x - 2.6, y + way * 7], ["L", x + 2.6, y + way * 7], ["Z"]], { fill: "ink" });
  return [
    line(x, top, x, bottom, look),
    line(x - 4, top, x + 8, top, look),
    line(x - 4, bottom, x + 8, bottom, look),
    head(top, 1),
    head(bottom, -1),
    text(x - 1, (top + bottom) / 2, words, { size: SIZE, anchor: "middle", rotate: -90, halo: true }),
  ];
}

function footWords(
  y: number,
  width: number,
  { stretch, start, end }: { stretch: number; start: number; end: number },
): Shape[] {
  const drawn = `${Number((end - start).toFixed(1))} mm long; thickness drawn ${stretch} times larger; back face on top`;
  return wrapText(drawn, width - 4, SIZE, 2).map((words, i) =>
    text(2, y + i * ROW, words, { size: SIZE, tone: "soft" }),
  );
}
