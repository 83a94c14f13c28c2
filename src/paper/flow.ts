/** Text, lists, tables and pictures that flow over upright pages. */
import type { Scene } from "../figures/scene.ts";
import { caution, MARGIN, paragraph } from "./frame.ts";
import { leading, type Measure, PAGES, type PageItem, type PageSize, type Tag } from "./page.ts";

export interface Column {
  readonly head: string;
  /** Share of the width. */
  readonly share: number;
  readonly end?: true;
}

const SIDE = MARGIN + 5;

export class Flow {
  readonly pages: { width: number; height: number; items: PageItem[] }[] = [];
  private items: PageItem[] = [];
  private y = MARGIN + 4;
  private readonly width: number;
  private readonly height: number;
  private readonly measure: Measure;

  constructor(measure: Measure, size: PageSize) {
    this.measure = measure;
    ({ width: this.width, height: this.height } = PAGES[size]);
  }

  get inner(): number {
    return this.width - 2 * SIDE;
  }

  finish(): { width: number; height: number; items: PageItem[] }[] {
    if (this.items.length > 0) this.turn();
    return this.pages;
  }

  /** A new page, unless this one is still empty. */
  turn(): void {
    if (this.items.length === 0) return;
    this.pages.push({ width: this.width, height: this.height, items: this.items });
    this.items = [];
    this.y = MARGIN + 4;
  }

  private need(height: number): void {
    if (this.y + height > this.height - 14) this.turn();
  }

  private text(
    words: string,
    size: number,
    tag: Tag,
    look: { bold?: true; tone?: "soft" } = {},
    keep = 0,
    indent = 0,
  ): void {
    const make = () =>
      paragraph(
        this.measure,
        words,
        { x: SIDE + indent, y: this.y, width: this.inner - indent },
        { size, tag, ...look },
      );
    const block = make();
    this.need(block.height + keep);
    const placed = make();
    this.items.push(...placed.items);
    this.y += placed.height;
  }

  title(words: string): void {
    this.text(words, 20, "H1", { bold: true }, 20);
  }

  /** @param keep mm that must follow on the same page */
  head(words: string, keep = 24): void {
    this.y += this.items.length === 0 ? 0 : 4;
    this.need(keep);
    this.items.push({
      kind: "line",
      x1: SIDE,
      y1: this.y,
      x2: this.width - SIDE,
      y2: this.y,
      stroke: { tone: "ink", width: 0.3 },
    });
    this.y += 1.5;
    this.text(words, 14, "H2", { bold: true }, 16);
    this.y += 1;
  }

  small(words: string): void {
    this.y += 2;
    this.text(words, 10.5, "H3", { bold: true }, 12);
  }

  say(words: string, soft = false): void {
    this.text(words, 10, "P", soft ? { tone: "soft" } : {});
    this.y += 1;
  }

  list(lines: readonly string[], none: string): void {
    if (lines.length === 0) this.say(none);
    for (const line of lines) {
      this.need(this.measure.lines(line, this.inner - 4, 10).length * leading(10));
      const at = this.y + leading(10) * 0.78 - 1.1;
      this.items.push({ kind: "line", x1: SIDE, y1: at, x2: SIDE + 2, y2: at, stroke: { tone: "soft", width: 0.2 } });
      this.text(line, 10, "LI", {}, 0, 4);
      this.y += 0.6;
    }
  }

  caution(words: string): void {
    const make = () => caution(this.measure, words, { x: SIDE, y: this.y, width: this.inner }, 9.5);
    this.need(make().height);
    const block = make();
    this.items.push(...block.items);
    this.y += block.height + 0.4;
  }

  table(columns: readonly Column[], rows: readonly (readonly (string | number)[])[], size = 9): void {
    const whole = columns.reduce((sum, { share }) => sum + share, 0);
    const widths = columns.map(({ share }) => (share / whole) * this.inner);
    const lefts = widths.map((_, i) => SIDE + widths.slice(0, i).reduce((sum, one) => sum + one, 0));
    const row = (cells: readonly (string | number)[], tag: "TH" | "TD"): { items: PageItem[]; height: number } => {
      const blocks = columns.map((_, i) =>
        paragraph(
          this.measure,
          String(cells[i] ?? ""),
          { x: lefts[i]!, y: this.y + 0.7, width: widths[i]! - 3 },
          { size, ...(tag === "TH" ? { tone: "soft" as const } : {}) },
        ),
      );
      return {
        items: [
          {
            kind: "tagged",
            tag: "TR",
            items: blocks.map(
              (block): PageItem => ({
                kind: "tagged",
                tag,
                items: block.items.flatMap((one) => (one.kind === "tagged" ? one.items : [one])),
              }),
            ),
          },
        ],
        height: Math.max(...blocks.map(({ height }) => height)) + 1.4,
      };
    };
    const put = (cells: readonly (string | number)[], tag: "TH" | "TD"): void => {
      const made = row(cells, tag);
      this.items.push(...made.items);
      this.y += made.height;
      this.items.push({
        kind: "line",
        x1: SIDE,
        y1: this.y,
        x2: this.width - SIDE,
        y2: this.y,
        stroke: { tone: tag === "TH" ? "ink" : "hair", width: tag === "TH" ? 0.2 : 0.1 },
      });
    };
    const heads = columns.map(({ head }) => head);
    this.need(18);
    put(heads, "TH");
    for (const cells of rows) {
      if (this.y + row(cells, "TD").height > this.height - 14) {
        this.turn();
        put(heads, "TH");
      }
      put(cells, "TD");
    }
    this.y += 2;
  }

  figure(scene: Scene, caption: string, most = 120): void {
    const scale = Math.min(this.inner / scene.width, most / scene.height);
    const height = scene.height * scale;
    this.need(height + leading(8.5) + 3);
    this.items.push({
      kind: "tagged",
      tag: "Figure",
      alt: scene.title,
      items: [{ kind: "scene", x: SIDE, y: this.y, scale, scene }],
    });
    this.y += height + 1;
    this.text(caption, 8.5, "Caption", { tone: "soft" });
    this.y += 2;
  }
}
