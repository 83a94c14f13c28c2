/**
 * Labels for cups and for the fields of a mat: large words for the eye, the same words as a code for a scanner that types them
 * into the line. No number of ours stands in the code: what is scanned is what one would say.
 */
import { codeOf } from "./code.ts";
import { PAGES, type Page, type PageItem, type PageSize, type PaperDocument } from "./page.ts";

export interface PlaceLabelsOptions {
  readonly page: PageSize;
  /** "cup 1", "mat A": as the line reads them. */
  readonly places: readonly string[];
}

const ACROSS = 3;
const MARGIN = { side: 12, top: 22, bottom: 12 };
const LABEL = { height: 30, code: 24 };
const BIG = 20;

export function placeLabels({ page, places }: PlaceLabelsOptions): PaperDocument {
  const { width, height } = PAGES[page];
  const wide = (width - 2 * MARGIN.side) / ACROSS;
  const down = Math.floor((height - MARGIN.top - MARGIN.bottom) / LABEL.height);
  const each = ACROSS * down;
  const pages = Array.from({ length: Math.ceil(places.length / each) }, (_, sheet): Page => {
    const some = places.slice(sheet * each, (sheet + 1) * each);
    return {
      width,
      height,
      items: [
        {
          kind: "tagged",
          tag: "H1",
          items: [
            {
              kind: "text",
              x: MARGIN.side,
              y: 15,
              text: "Labels for cups and fields: cut along the lines, scan one after the work that goes into it",
              size: 10,
              bold: true,
            },
          ],
        },
        ...some.map((place, index) =>
          label(
            place,
            MARGIN.side + wide * (index % ACROSS),
            MARGIN.top + LABEL.height * Math.floor(index / ACROSS),
            wide,
          ),
        ),
      ],
    };
  });
  return {
    title: "Labels for cups and fields",
    subject: `${places.length} labels with codes`,
    language: "en",
    // Labels have no edition: the same labels are the same file.
    date: "2026-01-01T00:00:00Z",
    pages,
  };
}

function label(place: string, x: number, y: number, wide: number): PageItem {
  const rim = (LABEL.height - LABEL.code) / 2;
  return {
    kind: "tagged",
    tag: "Figure",
    alt: `Label ${place}, with a code that says the same.`,
    items: [
      {
        kind: "rings",
        rings: [
          [
            [x, y],
            [x + wide, y],
            [x + wide, y + LABEL.height],
            [x, y + LABEL.height],
          ],
        ],
        stroke: { tone: "hair", width: 0.1 },
      },
      codeOf(place, x + rim, y + rim, LABEL.code),
      { kind: "text", x: x + LABEL.code + rim + 3, y: y + LABEL.height / 2 + 2.5, text: place, size: BIG, bold: true },
    ],
  };
}
