/**
 * A budget as lengths: the whole above, its parts laid end to end below, and under their end what is left over, drawn
 * as many times larger as it takes to see it, as a band with zero beside it. The sum closes where the band holds zero.
 */
import { niceStep } from "../axis.ts";
import { group, line, polyline, rect, type Scene, type Shape, text } from "../scene.ts";
import { fitText, textWidth, wrapText } from "../text-width.ts";
import type { BudgetPicture } from "./budget-rows.ts";

export interface BudgetOptions {
  readonly width: number;
  readonly quantity: string;
  readonly chosen?: string;
  /** What is left over and whether it closes stands beside the picture: not said in it again. */
  readonly quiet?: boolean;
}

const SIZE = 11;
const BAR = 26;
const TOP = 18;
/** Pieces narrower than this, px, are drawn as one block of small ones. */
const LEAST = 4;

export function drawBudget(budget: BudgetPicture, { width, quantity, chosen, quiet = false }: BudgetOptions): Scene {
  const { unit, whole, pieces, residual } = budget;
  const sum = pieces.reduce((total, one) => total + one.value, 0);
  const most = Math.max(whole?.value ?? 0, sum, 1e-9);
  const [left, right] = [1, width - 1];
  const x = (value: number) => left + (value / most) * (right - left);
  const shapes: Shape[] = [];
  const head = whole === null ? `${quantity}: the whole was not measured` : `${whole.name}, whole`;
  const figure = whole?.words ?? "";
  shapes.push(
    text(left, TOP - 6, fitText(head, width - textWidth(figure, SIZE, true) - 12, SIZE), { size: SIZE, tone: "soft" }),
    text(right, TOP - 6, figure, { size: SIZE, anchor: "end", bold: true }),
  );
  if (whole !== null)
    shapes.push(rect(left, TOP, x(whole.value) - left, 9, { stroke: "ink", weight: "thin", fill: "hair" }));
  const row = TOP + 15;
  shapes.push(...laidOut(pieces, x, row, chosen, unit));
  const under = row + BAR;
  const words = `${pieces.length} measured${pieces.some((one) => one.stated) ? " or stated" : ""}, laid end to end: ${Number(sum.toPrecision(5))} ${unit}`;
  const caption = text(left, under + 14, fitText(words, width, SIZE), { size: SIZE, tone: "soft", halo: true });
  if (residual === null || whole === null) {
    return { width, height: under + 24, title: `${quantity} budget: ${words}`, shapes: [...shapes, caption] };
  }
  return {
    width,
    height: under + (width < 480 && !quiet ? 134 : 120),
    title: `${quantity} budget of ${whole.name}: ${words}; ${residual.words}`,
    shapes: [
      ...shapes,
      ...residualBand(budget, residual, { from: x(sum), under, left, right, scale: (right - left) / most, quiet }),
      caption,
    ],
  };
}

function laidOut(
  pieces: BudgetPicture["pieces"],
  x: (value: number) => number,
  row: number,
  chosen: string | undefined,
  unit: string,
): Shape[] {
  const shapes: Shape[] = [];
  let at = 0;
  let small = 0;
  const block = (width: number, from: number) =>
    rect(from, row, width, BAR, { stroke: "soft", weight: "hair", fill: "hair" });
  const flush = (to: number) => {
    if (small > 0) shapes.push(block(x(to) - x(to - small), x(to - small)));
    small = 0;
  };
  for (const piece of pieces) {
    const [from, to] = [x(at), x(at + piece.value)];
    at += piece.value;
    const isChosen = piece.part !== undefined && piece.part === chosen;
    if (to - from < LEAST && !isChosen) {
      small += piece.value;
      continue;
    }
    flush(at - piece.value);
    const tone = isChosen ? "accent" : "ink";
    const bold = isChosen ? ({ bold: true } as const) : {};
    const lines = to - from < 30 ? [] : wrapText(piece.name, to - from - 8, SIZE, 2, isChosen);
    const fits = !lines.some((one) => one.endsWith("…"));
    shapes.push(
      group(
        [
          rect(from, row, to - from, BAR, {
            stroke: tone,
            weight: isChosen ? "line" : "thin",
            fill: isChosen ? "wash" : "sheet",
            ...(piece.stated ? { dash: "way" as const } : {}),
          }),
          ...(fits
            ? lines.map((one, i) =>
                text((from + to) / 2, row + BAR / 2 + 4 + (i - (lines.length - 1) / 2) * 11.5, one, {
                  size: SIZE,
                  anchor: "middle",
                  tone,
                  ...bold,
                }),
              )
            : []),
        ],
        piece.part === undefined ? {} : { part: piece.part },
        `${piece.name}: ${piece.words || `${piece.value} ${unit}`}`,
      ),
    );
  }
  flush(at);
  return shapes;
}

/** What is left over, much larger: the band is its interval, the rule is zero. */
function residualBand(
  { unit, closes }: BudgetPicture,
  { value, U, words }: NonNullable<BudgetPicture["residual"]>,
  place: { from: number; under: number; left: number; right: number; scale: number; quiet: boolean },
): Shape[] {
  const { from, under, left, right, scale, quiet } = place;
  const [low, high] = [Math.min(0, value - U), Math.max(0, value + U)];
  const span = Math.max((high - low) * 1.25, 1e-9);
  const step = niceStep(span, Math.max(2, Math.floor((right - left) / 110)));
  const [first, last] = [Math.floor(low / step - 0.05) * step, Math.ceil(high / step + 0.05) * step];
  const width = Math.min(right - left - 44, 520);
  const start = Math.max(left + 24, Math.min(right - 20 - width, from - width / 2));
  const x = (one: number) => start + ((one - first) / (last - first)) * width;
  const times = width / (last - first) / scale;
  const top = under + 44;
  const bottom = top + 26;
  const larger = times >= 10 ? String(Math.round(times)) : times.toFixed(1);
  const verdict =
    closes === null
      ? "it cannot be told whether it closes"
      : closes
        ? "it closes"
        : "more than the instruments explain";
  const shapes: Shape[] = [
    // The place that is looked at more closely.
    polyline(
      [
        [start, top - 6],
        [from - 2, under + 1],
        [from + 2, under + 1],
        [start + width, top - 6],
      ],
      {
        stroke: "hair",
      },
    ),
    rect(x(value - U), top, Math.max(x(value + U) - x(value - U), 1.5), 26, { stroke: "accent", fill: "wash" }),
    line(x(value), top - 4, x(value), bottom + 4, { stroke: "accent", weight: "bold" }),
    line(x(0), top - 10, x(0), bottom + 4, { stroke: "ink", weight: "line" }),
    line(start, bottom, start + width, bottom, { stroke: "soft" }),
  ];
  for (let n = 0; n <= Math.round((last - first) / step); n++) {
    const one = Number((first + n * step).toPrecision(6));
    shapes.push(
      line(x(one), bottom, x(one), bottom + 5, { stroke: "soft" }),
      text(x(one), bottom + 17, `${one < 0 ? "−" : ""}${Math.abs(one)}${n === 0 ? ` ${unit}` : ""}`, {
        size: SIZE,
        tone: "soft",
        anchor: "middle",
      }),
    );
  }
  const said = quiet
    ? `what is left over, drawn ${larger} times larger`
    : `${words}: ${verdict} (drawn ${larger} times larger)`;
  shapes.push(
    ...wrapText(said, right - left, SIZE + 1, 2).map((one, i) =>
      text(left, bottom + 36 + i * 15, one, {
        size: quiet ? SIZE : SIZE + 1,
        ...(quiet ? { tone: "soft" as const } : {}),
      }),
    ),
  );
  return shapes;
}
