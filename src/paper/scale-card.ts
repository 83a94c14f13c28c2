/**
 * The scale card as a page at true scale: frame and spots of `core/photo`, a white margin to cut along, and bars of 100 mm
 * across and down to hold calipers to. A printer that keeps no scale is answered by drawing it so much larger or smaller.
 */
import { CARD, FRAME, SPOTS } from "../core/photo/card/index.ts";
import { PAGES, type Page, type PageItem, type PageSize, type PaperDocument } from "./page.ts";

export interface ScaleCardOptions {
  readonly page: PageSize;
  /** What the 100 mm bars measured on paper, across and down, mm. */
  readonly measured?: readonly [number, number];
}

/** White about the frame, so that it stands out on a dark bench. */
const RIM = 6;
const LEFT = 30;
const TOP = 62;
const WORDS = [
  "Print at 100 %, on dull paper, and hold calipers to both bars: 100 mm. Where they measure otherwise, print",
  "again with --measured ACROSS,DOWN. Cut along the thin line, glue it to something flat, and lay it beside the",
  "device, level with the plane that is photographed, the whole black frame in the picture.",
];

export function scaleCard({ page, measured = [100, 100] }: ScaleCardOptions): PaperDocument {
  const { width, height } = PAGES[page];
  const [kx, ky] = [100 / measured[0], 100 / measured[1]];
  const at = (x: number, y: number): [number, number] => [LEFT + kx * x, TOP + ky * y];
  const ring = (corners: readonly (readonly [number, number])[]) => corners.map(([x, y]) => at(x, y));
  const box = (from: number, to: number, right: number, bottom: number) =>
    ring([
      [from, to],
      [right, to],
      [right, bottom],
      [from, bottom],
    ]);
  const circle = ([x, y]: readonly [number, number], r: number) =>
    // Drawn as rings, because a scale that differs across and down makes no circles.
    Array.from({ length: 72 }, (_, i) =>
      at(x + r * Math.cos((i * Math.PI) / 36), y + r * Math.sin((i * Math.PI) / 36)),
    );
  const { width: w, height: h, band } = CARD;
  const drawn: PageItem[] = [
    { kind: "rings", rings: [ring(FRAME), box(band, band, w - band, h - band)], fill: "ink" },
    ...SPOTS.map(
      (spot): PageItem => ({
        kind: "rings",
        rings: [circle(spot.at, CARD.radius), ...(spot.hollow ? [circle(spot.at, CARD.hollow)] : [])],
        fill: "ink",
      }),
    ),
    { kind: "rings", rings: [box(-RIM, -RIM, w + RIM, h + RIM)], stroke: { tone: "hair", width: 0.1 } },
  ];
  const bars: PageItem[] = [
    { kind: "rings", rings: [box(0, 78, 100, 80)], fill: "ink" },
    { kind: "text", x: at(0, 0)[0], y: at(0, 84)[1], text: "100 mm across, from end to end", size: 8 },
    { kind: "rings", rings: [box(112, 0, 114, 100)], fill: "ink" },
    { kind: "text", x: at(118, 0)[0], y: at(0, 100)[1], text: "100 mm down, from end to end", size: 8, rotate: -90 },
  ];
  const items: PageItem[] = [
    {
      kind: "tagged",
      tag: "H1",
      items: [{ kind: "text", x: 20, y: 24, text: "Scale card for photographs", size: 15, bold: true }],
    },
    {
      kind: "tagged",
      tag: "P",
      items: WORDS.map((text, i): PageItem => ({ kind: "text", x: 20, y: 32 + 5 * i, text, size: 9.5 })),
    },
    {
      kind: "tagged",
      tag: "Figure",
      alt: "The scale card: a black frame round six by four spots, 12 mm apart.",
      items: drawn,
    },
    { kind: "tagged", tag: "Figure", alt: "Two bars of 100 mm, across and down.", items: bars },
  ];
  const only: Page = { width, height, items };
  return {
    title: "Scale card",
    subject: `A card ${w} x ${h} mm with spots 12 mm apart, for photographs that measure`,
    language: "en",
    // The card has no edition: the same card is the same file.
    date: "2026-01-01T00:00:00Z",
    pages: [only],
  };
}
