/**
 * How the weights make the index: a row for each score, as high as it weighs, with a bar as long as its points. What is
 * filled is what is scored, so the index stands where the filled area would end if all rows were equally long. A score of parts
 * is made of strips, one for each part, as high as the part weighs in it.
 */
import { group, line, rect, type Scene, type Shape, text } from "../scene.ts";
import { fitText, textWidth } from "../text-width.ts";

export interface WeighedPart {
  /** Id of a part of the record, so that it can be chosen. */
  readonly part?: string;
  readonly name: string;
  /** Share of the score, in percent. */
  readonly weight: number;
  /** 1 to 5; null: the law has no points. */
  readonly points: number | null;
}

export interface WeighedScore {
  readonly name: string;
  /** Share of the index, in percent. */
  readonly weight: number;
  readonly points: number | null;
  /** Points times weight, as it is to be read. */
  readonly words: string;
  readonly parts?: readonly WeighedPart[];
}

export interface WeightOptions {
  readonly width: number;
  /** The index and how it is to be read; null: there is none. */
  readonly index: { readonly value: number; readonly words: string } | null;
  /** Another index to compare with: as it was found. */
  readonly before?: { readonly value: number; readonly words: string };
  /** Limits of the classes on the axis of points. */
  readonly limits: readonly number[];
  /** Part that is chosen. */
  readonly chosen?: string;
}

const TOP = 30;
const GAP = 5;
/** px for each percent of weight. */
const SCALE = 2.6;
const MOST = 5;

export function drawWeights(scores: readonly WeighedScore[], options: WeightOptions): Scene {
  const { width, index, before, limits, chosen } = options;
  const size = 12;
  const nameRoom = Math.min(width * 0.3, Math.max(40, ...scores.map(({ name }) => textWidth(name, size) + 2)));
  const wordsRoom = Math.min(width * 0.34, Math.max(40, ...scores.map(({ words }) => textWidth(words, size) + 8)));
  const left = nameRoom + 8;
  const right = Math.max(left + 60, width - wordsRoom);
  const x = (points: number): number => left + (points / MOST) * (right - left);
  const height = scores.reduce((sum, { weight }) => sum + weight * SCALE + GAP, 0);
  const bottom = TOP + height;
  const shapes: Shape[] = [];
  for (let points = 0; points <= MOST; points += 1)
    shapes.push(
      line(x(points), TOP - 4, x(points), bottom, { stroke: "hair" }),
      text(x(points), TOP - 9, points === 0 ? "0 points" : String(points), {
        anchor: "middle",
        size: 11,
        tone: "soft",
      }),
    );
  let y = TOP;
  for (const score of scores) {
    const tall = score.weight * SCALE;
    shapes.push(scoreRow(score, { y, tall, left, right, x, size, nameRoom, width, wordsRoom, chosen }));
    y += tall + GAP;
  }
  for (const limit of limits)
    shapes.push(
      line(x(limit), bottom - 2, x(limit), bottom + 6, { stroke: "ink", weight: "thin" }),
      text(x(limit), bottom + 18, limit.toFixed(2), { anchor: "middle", size: 11, tone: "soft" }),
    );
  shapes.push(text(nameRoom, bottom + 18, "limits", { anchor: "end", size: 11, tone: "soft" }));
  const mark = (value: number, words: string, tone: "accent" | "soft", row: number): Shape[] => {
    const at = x(value);
    const end = at + textWidth(words, size, tone === "accent") > width;
    return [
      line(at, TOP - 4, at, bottom + 24 + row * 16, {
        stroke: tone,
        weight: "line",
        dash: tone === "accent" ? "chain" : "dot",
      }),
      text(at + (end ? -5 : 5), bottom + 34 + row * 16, words, {
        size,
        tone,
        ...(end ? { anchor: "end" as const } : {}),
        ...(tone === "accent" ? { bold: true as const } : {}),
      }),
    ];
  };
  if (before !== undefined) shapes.push(...mark(before.value, before.words, "soft", 1));
  if (index !== null) shapes.push(...mark(index.value, index.words, "accent", 0));
  const title = `How the weights make the index: ${scores.map(({ name, words }) => `${name} ${words}`).join("; ")}${
    index === null ? "" : `; together ${index.words}`
  }`;
  return { width, height: bottom + (before === undefined ? 42 : 58), title, shapes };
}

interface Room {
  readonly y: number;
  readonly tall: number;
  readonly left: number;
  readonly right: number;
  readonly x: (points: number) => number;
  readonly size: number;
  readonly nameRoom: number;
  readonly width: number;
  readonly wordsRoom: number;
  readonly chosen: string | undefined;
}

function scoreRow(score: WeighedScore, room: Room): Shape {
  const { y, tall, left, right, x, size, nameRoom, width, wordsRoom, chosen } = room;
  const middle = y + tall / 2 + 4;
  const children: Shape[] = [
    text(nameRoom, middle, fitText(score.name, nameRoom, size), { anchor: "end", size }),
    text(width - 2, middle, fitText(score.words, wordsRoom - 4, size), { anchor: "end", size, tone: "soft" }),
    rect(left, y, right - left, tall, { stroke: "hair" }),
  ];
  if (score.parts === undefined) {
    if (score.points !== null) children.push(...bar(left, x(score.points), y, tall, false));
  } else {
    let at = y;
    for (const part of score.parts) {
      const own = (part.weight / 100) * tall;
      const isChosen = part.part !== undefined && part.part === chosen;
      const strip = bar(left, x(part.points ?? 0), at, own, isChosen);
      if (own >= 11 && part.points !== null)
        strip.push(text(left + 4, at + own / 2 + 3.5, part.name, { size: 10, ...(isChosen ? { bold: true } : {}) }));
      const points = part.points === null ? "no points" : `${part.points} points`;
      children.push(
        group(
          strip,
          part.part === undefined ? undefined : { part: part.part },
          `${score.name}, ${part.name}: ${points}, ${part.weight} % of the score`,
        ),
      );
      at += own;
    }
  }
  return group(children, undefined, `${score.name}: ${score.words}`);
}

/** Filled without an outline, so that thin strips stay apart by their ends alone. */
function bar(left: number, right: number, y: number, height: number, chosen: boolean): Shape[] {
  const gap = height >= 4 ? 0.6 : 0;
  const end = { stroke: chosen ? "accent" : "ink", weight: chosen ? "bold" : "line" } as const;
  return [
    rect(left, y, right - left, height - gap, { fill: chosen ? "wash" : "hair" }),
    line(right, y, right, y + height - gap, end),
  ];
}
