import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { TeardownRecord } from "../core/record/index.ts";
import { swapOf } from "../core/service/swap/index.ts";
import { Words } from "./ledger-words.ts";
import type { PageItem } from "./page.ts";
import { pageSvg } from "./page-svg.ts";
import { measurer } from "./pdf-writer.ts";
import { numberScrews } from "./screw-numbers.ts";
import { screwSheet } from "./screw-sheet.ts";
import { LANGUAGES, sayer } from "./words/index.ts";

const measure = measurer();
const svg = (items: readonly PageItem[]): string => pageSvg({ width: 210, height: 297, items }, "a <sheet>", measure);

describe("a page as a picture", () => {
  it("has the page's own millimetres as its units", () => {
    const text = svg([{ kind: "line", x1: 10, y1: 20, x2: 110, y2: 20, stroke: { tone: "ink", width: 0.5 } }]);
    expect(text).toContain('viewBox="0 0 210 297"');
    expect(text).toContain('d="M10 20L110 20"');
    expect(text).toContain("<title>a &lt;sheet&gt;</title>");
  });
  it("sets words as wide as they are printed, and says which signs the face has not", () => {
    const words = "Ω µ ± ł & <b>";
    const text = svg([{ kind: "text", x: 10, y: 20, text: words, size: 12 }]);
    expect(text).toContain(`textLength="${Math.round(measure.width(words, 12) * 1000) / 1000}"`);
    expect(text).toContain("Ω µ ± ł &amp; &lt;b&gt;</text>");
    expect(svg([{ kind: "text", x: 0, y: 0, text: "中", size: 9 }])).toContain("[U+4E2D]");
  });
  it("cuts clips, fills holes by the even-odd rule, and leaves every shape inside", () => {
    const ring = [
      [0, 0],
      [4, 0],
      [4, 4],
    ] as const;
    const text = svg([
      { kind: "clip", x: 1, y: 2, width: 3, height: 4, items: [{ kind: "rings", rings: [ring, ring], fill: "wash" }] },
      {
        kind: "tagged",
        tag: "P",
        items: [{ kind: "circle", cx: 5, cy: 6, r: 2, stroke: { tone: "hair", width: 0.1, dash: [1, 2] } }],
      },
    ]);
    expect(text).toContain('<clipPath id="c1"><rect x="1" y="2" width="3" height="4"/></clipPath>');
    expect(text).toContain('fill-rule="evenodd" fill="#f6e3d8"');
    expect(text).toContain(
      '<circle cx="5" cy="6" r="2" fill="none" stroke="#b9b4a8" stroke-width="0.1" stroke-dasharray="1 2"/>',
    );
  });
  it("shows a screw sheet's bars as long as they are printed", () => {
    const record: TeardownRecord = JSON.parse(
      readFileSync(new URL("../../examples/thrandle-5.json", import.meta.url), "utf8"),
    );
    let ticks = 0;
    const swap = swapOf(
      record,
      { replace: ["cell"], settings: { trials: 100 } },
      { now: () => ticks++, deadline: 1e6 },
    );
    if ("unreachable" in swap) throw new Error(JSON.stringify(swap));
    const say = sayer(LANGUAGES.en!);
    const imprint = { device: "x", revision: "y", edition: 1, date: "2026-03-02", replaces: null, recalls: [] };
    const { document } = screwSheet({
      record,
      screws: numberScrews(record, swap.wayIn),
      parts: "cell",
      imprint,
      say,
      words: new Words(record, say),
      measure,
      size: "a4",
    });
    const text = pageSvg(document.pages[0]!, "screws", measure);
    const bars = [
      ...text.matchAll(/<path d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)Z"/g),
    ]
      .map((match) => match.slice(1).map(Number))
      .map((n) => [
        Math.max(n[0]!, n[2]!, n[4]!) - Math.min(n[0]!, n[2]!, n[4]!),
        Math.max(n[1]!, n[3]!, n[5]!) - Math.min(n[1]!, n[3]!, n[5]!),
      ]);
    const long = (side: 0 | 1, length: number) =>
      bars.some((bar) => Math.abs(bar[side]! - length) < 0.002 && bar[1 - side]! < 3);
    for (const length of [50, 100]) {
      expect(long(0, length), `${length} mm across`).toBe(true);
      expect(long(1, length), `${length} mm down`).toBe(true);
    }
  });
});
