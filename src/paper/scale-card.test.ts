import { describe, expect, it } from "vitest";
import { findCard, type GreyPicture, SPOTS } from "../core/photo/index.ts";
import type { PageItem } from "./page.ts";
import { writePdf } from "./pdf-writer.ts";
import { scaleCard } from "./scale-card.ts";

const rings = (items: readonly PageItem[]): (readonly (readonly [number, number])[])[][] =>
  items.flatMap((item) =>
    item.kind === "tagged"
      ? rings(item.items)
      : item.kind === "rings" && item.fill !== undefined
        ? [[...item.rings]]
        : [],
  );

/** The page's filled rings by the even-odd rule, `scale` pixels a mm. */
function painted(items: readonly PageItem[], width: number, height: number, scale: number): GreyPicture {
  const pixels = new Uint8Array(width * height * scale * scale).fill(230);
  const shapes = rings(items).map((shape) => {
    const xs = shape.flat().map((point) => point[0]);
    const ys = shape.flat().map((point) => point[1]);
    return { shape, box: [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)] as const };
  });
  for (let j = 0; j < height * scale; j++) {
    for (let i = 0; i < width * scale; i++) {
      const [x, y] = [(i + 0.5) / scale, (j + 0.5) / scale];
      const ink = shapes.some(({ shape, box }) => {
        if (x < box[0] || x > box[1] || y < box[2] || y > box[3]) return false;
        let within = false;
        for (const ring of shape) {
          ring.forEach((p, k) => {
            const q = ring[(k + 1) % ring.length]!;
            if (p[1] > y !== q[1] > y && x < p[0] + ((y - p[1]) / (q[1] - p[1])) * (q[0] - p[0])) within = !within;
          });
        }
        return within;
      });
      if (ink) pixels[j * width * scale + i] = 25;
    }
  }
  return { width: width * scale, height: height * scale, pixels };
}

describe("the printed scale card", () => {
  it("is the card that is found, at true scale", () => {
    const page = scaleCard({ page: "a4" }).pages[0]!;
    const found = findCard(painted(page.items, 210, 200, 5))!;
    expect(found.points).toHaveLength(SPOTS.length);
    const [first, last] = [found.points[0]!, found.points.at(-1)!];
    // Spots at (12, 12) and (72, 48): 60 mm and 36 mm apart.
    expect((last.at[0] - first.at[0]) / 5).toBeCloseTo(60, 2);
    expect((last.at[1] - first.at[1]) / 5).toBeCloseTo(36, 2);
    expect(found.rms).toBeLessThan(0.1);
  });

  it("makes up for a printer that shrinks", () => {
    const extent = (measured?: readonly [number, number]) => {
      const all = rings(scaleCard({ page: "letter", ...(measured ? { measured } : {}) }).pages[0]!.items)[0]!.flat();
      return Math.max(...all.map((point) => point[0])) - Math.min(...all.map((point) => point[0]));
    };
    expect(extent()).toBeCloseTo(84, 9);
    // What is printed at 97 % must be drawn 100/97 as large.
    expect(extent([97, 98]) * 0.97).toBeCloseTo(84, 9);
  });

  it("is a PDF, the same each time", async () => {
    const [one, two] = [await writePdf(scaleCard({ page: "a4" })), await writePdf(scaleCard({ page: "a4" }))];
    expect(Buffer.from(one.subarray(0, 5)).toString()).toBe("%PDF-");
    expect(Buffer.from(one).equals(Buffer.from(two))).toBe(true);
  });
});
