/**
 * From one device to the other, change by change: each bar begins where the one before it ended and points the way it
 * goes, so that the picture reads without colour. The ends of the axis are those of the changes, not zero: both devices
 * stand as marks, not as bars.
 *
 * In: a change explained by the measuring room (differences are device less sibling). Out: a scene, one row a change.
 */
import { type Change, type Explained, fixed, plain, resultText, roundUncertainty } from "../../core/measure/index.ts";
import { niceStep } from "../axis.ts";
import { whisker } from "../bars/mass-bars.ts";
import { group, line, polygon, type Scene, type Shape, type Text, type Tone, text } from "../scene.ts";
import { fitText, textWidth } from "../text-width.ts";

export interface WaterfallOptions {
  readonly width: number;
  /** Name of the device that the changes lead to, and of the one that they start from. */
  readonly device: string;
  readonly sibling: string;
  /** "Mass", "Thickness over the cell". */
  readonly quantity: string;
  readonly chosen?: string;
  /** Every change instead of the few that explain most. */
  readonly whole?: boolean;
}

const TOP = 28;
const SIZE = 12;
/** px below which a row has no room for name, bar and figure beside each other. */
const NARROW = 480;

/** A step of the picture: where the running sum stood before and after. */
export interface Fall {
  readonly change: Pick<Change, "what" | "difference" | "U"> & { readonly a: readonly string[] };
  readonly from: number;
  readonly to: number;
}

/** The steps from the sibling's total to the device's; the last of them is all the rest in one. */
export function fallsOf(explained: Explained, whole = false): readonly Fall[] {
  if (explained.total === null) return [];
  const { rest } = explained;
  const few =
    rest.count === 0
      ? explained.changes
      : [...explained.changes, { ...rest, what: `all the rest (${rest.count})`, a: [] as readonly string[] }];
  let at = explained.total.b;
  return (whole ? explained.all.filter((one) => one.difference !== 0) : few).map((change) => {
    const from = at;
    at += change.difference;
    const what = change.what.charAt(0).toUpperCase() + change.what.slice(1);
    return { change: { ...change, what }, from, to: at };
  });
}

/** null where either device was not measured whole. */
export function drawWaterfall(explained: Explained, options: WaterfallOptions): Scene | null {
  const { total, unit } = explained;
  if (total === null) return null;
  const { width, device, sibling, quantity, chosen } = options;
  const falls = fallsOf(explained, options.whole);
  const words = (change: Fall["change"]) => signed(resultText(change.difference, change.U, unit), change.difference);
  const sheet = sheetOf(
    width,
    [sibling, device, ...falls.map(({ change }) => change.what)],
    [...falls.map(({ change }) => words(change))],
  );
  const { left, right, row: rowHeight } = sheet;
  const reach = falls.flatMap(({ change, from, to }) => [from, to - change.U, to + change.U]);
  const [low, high] = [Math.min(total.a, total.b, ...reach), Math.max(total.a, total.b, ...reach)];
  const step = niceStep(Math.max(high - low, 1e-9), Math.max(2, Math.floor((right - left) / 80)));
  const first = Math.floor(low / step + 1e-9) * step;
  const last = Math.max(first + step, Math.ceil(high / step - 1e-9) * step);
  const x = (value: number) => left + ((value - first) / (last - first)) * (right - left);
  const bottom = TOP + (falls.length + 2) * rowHeight;
  const shapes: Shape[] = [];
  for (let n = 0; n <= Math.round((last - first) / step); n++) {
    const value = Number((first + n * step).toPrecision(12));
    shapes.push(
      line(x(value), TOP - 4, x(value), bottom, { stroke: "hair" }),
      text(x(value), TOP - 10, n === 0 ? `${value} ${unit}` : String(value), {
        anchor: "middle",
        size: 11,
        tone: "soft",
      }),
    );
  }
  const middle = (row: number) => TOP + row * rowHeight + sheet.bar;
  const mark = (name: string, value: number, row: number): Shape => {
    const said = `${total.U > 0 ? fixed(value, roundUncertainty(total.U).place) : plain(value)} ${unit}`;
    return group(
      [
        ...sheet.label(row, name, said, "ink", true),
        line(x(value), middle(row) - 9, x(value), middle(row) + 9, { stroke: "ink", weight: "bold" }),
      ],
      {},
      `${name}: ${said}`,
    );
  };
  shapes.push(mark(sibling, total.b, 0), mark(device, total.a, falls.length + 1));
  falls.forEach(({ change, from, to }, index) => {
    const y = middle(index + 1);
    const isChosen = chosen !== undefined && change.a.includes(chosen);
    const tone = isChosen ? "accent" : "ink";
    shapes.push(
      // What the bar before handed on.
      line(x(from), y - rowHeight, x(from), y, { stroke: "soft", dash: "dot" }),
      group(
        [
          ...sheet.label(index + 1, change.what, words(change), tone, isChosen),
          polygon([pointed(x(from), x(to), y)], {
            stroke: tone,
            weight: "thin",
            fill: isChosen ? "wash" : change.difference > 0 ? "hair" : "sheet",
          }),
          ...(change.U > 0 ? whisker(x(to - change.U), x(to + change.U), y, 4, tone) : []),
        ],
        change.a.length === 1 ? { part: change.a[0]! } : {},
        `${change.what}: ${words(change)}`,
      ),
    );
  });
  const end = middle(falls.length + 1);
  shapes.push(
    line(x(total.a), end - rowHeight, x(total.a), end, { stroke: "soft", dash: "dot" }),
    text(left, bottom + 18, fitText(`${quantity} in ${unit}; the axis does not begin at zero`, width - left, 11), {
      size: 11,
      tone: "soft",
    }),
  );
  return {
    width,
    height: bottom + 28,
    title: `${quantity} from ${sibling} to ${device} in ${unit}: ${falls.map(({ change }) => `${change.what} ${words(change)}`).join("; ")}`,
    shapes,
  };
}

/** Where names, bars and figures of a row stand; on a narrow sheet the words stand above their bar. */
export interface RowSheet {
  readonly left: number;
  readonly right: number;
  readonly row: number;
  /** Middle of the bar, from the top of its row. */
  readonly bar: number;
  readonly label: (row: number, name: string, words: string, tone: Tone, bold: boolean) => Shape[];
}

function sheetOf(width: number, names: readonly string[], words: readonly string[]): RowSheet {
  const narrow = width < NARROW;
  const wordsRoom = Math.max(70, ...words.map((one) => textWidth(one, SIZE, true) + 8));
  const nameRoom = narrow
    ? width - wordsRoom
    : Math.min(width * 0.34, Math.max(60, ...names.map((name) => textWidth(name, SIZE, true) + 4)));
  const row = narrow ? 40 : 26;
  const left = narrow ? 24 : nameRoom + 10;
  const right = narrow ? width - 20 : Math.max(left + 60, width - wordsRoom - 8);
  return {
    left,
    right,
    row,
    bar: narrow ? 28 : 13,
    label: (index, name, said, tone, isBold) => {
      const y = TOP + index * row + (narrow ? 14 : 17);
      const look: Omit<Text, "kind" | "x" | "y" | "text"> = {
        size: SIZE,
        tone,
        halo: true,
        ...(isBold ? { bold: true } : {}),
      };
      return [
        narrow
          ? text(0, y, fitText(name, nameRoom, SIZE, isBold), look)
          : text(nameRoom, y, fitText(name, nameRoom, SIZE, isBold), { anchor: "end", ...look }),
        text(width - 2, y, said, { anchor: "end", ...look }),
      ];
    },
  };
}

/** A bar with its far end pointed; too short for a body, it is the point alone. */
function pointed(from: number, to: number, y: number): readonly (readonly [number, number])[] {
  const half = 6;
  const way = to < from ? -1 : 1;
  const head = Math.min(6, Math.abs(to - from));
  return [
    [from, y - half],
    [to - way * head, y - half],
    [to, y],
    [to - way * head, y + half],
    [from, y + half],
  ];
}

const signed = (words: string, value: number): string => (value > 0 ? `+${words}` : words.replace("-", "−"));
