/** The codes are read back by a reader that shares nothing with their writer, from the page as it would be printed. */
import jsQR from "jsqr";
import { describe, expect, it } from "vitest";
import { PAGES, type PageItem, type PaperDocument } from "./page.ts";
import { writePdf } from "./pdf-writer.ts";
import { placeLabels } from "./place-labels.ts";

/** The package says its type for one way of loading and is loaded by another. */
const readCode = jsQR as unknown as typeof jsQR.default;
const DOTS = 8;

interface Drawn {
  readonly alt: string;
  readonly rings: readonly (readonly (readonly [number, number])[])[];
}

const drawn = (document: PaperDocument): Drawn[] =>
  document.pages.flatMap((page) =>
    page.items.flatMap((item) =>
      item.kind === "tagged" && item.alt !== undefined
        ? item.items.flatMap((one) =>
            one.kind === "rings" && one.fill === "ink" ? { alt: item.alt!, rings: one.rings } : [],
          )
        : [],
    ),
  );

/** A code as a camera sees it: DOTS pixels a mm, white about it; what is covered is white. */
function seen({ rings }: Drawn, covered: (x: number, y: number) => boolean = () => false): string | null {
  const xs = rings.flat().map((point) => point[0]);
  const ys = rings.flat().map((point) => point[1]);
  const rim = 4;
  const [left, top] = [Math.min(...xs) - rim, Math.min(...ys) - rim];
  const size = Math.ceil(DOTS * (Math.max(...xs) - left + rim));
  const pixels = new Uint8ClampedArray(4 * size * size).fill(255);
  for (const ring of rings) {
    const [x0, x1] = [Math.min(...ring.map((p) => p[0])), Math.max(...ring.map((p) => p[0]))];
    const [y0, y1] = [Math.min(...ring.map((p) => p[1])), Math.max(...ring.map((p) => p[1]))];
    for (let j = Math.round(DOTS * (y0 - top)); j < Math.round(DOTS * (y1 - top)); j += 1)
      for (let i = Math.round(DOTS * (x0 - left)); i < Math.round(DOTS * (x1 - left)); i += 1)
        if (!covered(i / DOTS - rim, j / DOTS - rim)) pixels.fill(0, 4 * (j * size + i), 4 * (j * size + i) + 3);
  }
  return readCode(pixels, size, size)?.data ?? null;
}

describe("labels", () => {
  const places = [...Array.from({ length: 30 }, (_, i) => `cup ${i + 1}`), "mat A", "mat Z"];
  const document = placeLabels({ page: "a4", places });
  it("say in their code what they say in words", () => {
    const all = drawn(document);
    expect(all.map((one) => seen(one))).toEqual(places);
    expect(all.map((one) => one.alt.slice(6, one.alt.indexOf(",")))).toEqual(places);
  });
  it("are read with a thumb's edge over a corner that holds no finder", () => {
    const [one] = drawn(document);
    expect(seen(one!, (x, y) => x > 15 && y > 15)).toBe("cup 1");
    expect(seen(one!, () => true)).toBeNull();
  });
  it.each(["a4", "letter"] as const)("stay on the page: %s", (page) => {
    const { width, height } = PAGES[page];
    for (const { items } of placeLabels({ page, places }).pages)
      for (const item of items.flatMap((one: PageItem) => (one.kind === "tagged" ? [...one.items] : [one])))
        if (item.kind === "rings")
          for (const [x, y] of item.rings.flat()) expect(x > 5 && x < width - 5 && y > 5 && y < height - 5).toBe(true);
  });
  it("are the same file every time", async () => {
    const some = { page: "a4", places: places.slice(0, 3) } as const;
    expect(await writePdf(placeLabels(some))).toEqual(await writePdf(placeLabels(some)));
  });
});
