/**
 * The work sheet on paper, landscape: a ledger across the page in four columns. The plan stands where its stage begins; a change
 * of tool is a rule across all columns. Type of 12 points for what is to be done: it is read from arm's length.
 */
import { caution, type Imprint, MARGIN, paragraph, recallLines, withFeet } from "./frame.ts";
import type { LedgerRow } from "./ledger-words.ts";
import { leading, type Measure, PAGES, type Page, type PageItem, type PageSize, type PaperDocument } from "./page.ts";
import type { Say } from "./words/index.ts";
import type { WorkSheet } from "./work-rows.ts";

const DO = 12;
const REST = 10;
const PLAN_HEIGHT = 50;
const PAD = 1.4;

interface Columns {
  readonly plan: readonly [number, number];
  readonly does: readonly [number, number];
  readonly hand: readonly [number, number];
  readonly true: readonly [number, number];
}

export function workSheetPdf(
  sheet: WorkSheet,
  imprint: Imprint,
  say: Say,
  measure: Measure,
  size: PageSize,
): PaperDocument {
  const { width: height, height: width } = PAGES[size];
  const pages = new Ledger(sheet, imprint, say, measure, width, height).pages();
  return {
    title: `${imprint.device}: ${sheet.title}`,
    subject: say("sheet.work"),
    language: say("language"),
    date: imprint.date,
    pages: withFeet(pages, imprint, say("sheet.work"), say),
  };
}

type Work = Extract<LedgerRow, { kind: "work" }>;

/** Fills pages row by row; a row is never cut. */
class Ledger {
  private readonly done: Page[] = [];
  private items: PageItem[] = [];
  private y = MARGIN;
  /** Down to where a plan reaches beside the rows of its stage. */
  private planEnd = 0;
  private readonly columns: Columns;
  private readonly bottom: number;

  private readonly sheet: WorkSheet;
  private readonly imprint: Imprint;
  private readonly say: Say;
  private readonly measure: Measure;
  private readonly width: number;
  private readonly height: number;

  constructor(sheet: WorkSheet, imprint: Imprint, say: Say, measure: Measure, width: number, height: number) {
    this.sheet = sheet;
    this.imprint = imprint;
    this.say = say;
    this.measure = measure;
    this.width = width;
    this.height = height;
    this.bottom = height - 13;
    const right = width - MARGIN;
    const [a, b, c] = [MARGIN + 52, right - 118, right - 76];
    this.columns = { plan: [MARGIN, a - 4], does: [a, b - 4], hand: [b, c - 4], true: [c, right] };
  }

  pages(): Page[] {
    this.head();
    for (const [index, row] of this.sheet.rows.entries()) this.row(row, this.sheet.rows[index + 1]);
    this.y = Math.max(this.y, this.planEnd);
    this.finish();
    return this.done;
  }

  /** Title, times and cautions: what is to be read before anything is opened. */
  private head(): void {
    const at = () => ({ x: MARGIN, y: this.y, width: this.width - 2 * MARGIN });
    const title = paragraph(this.measure, `${this.imprint.device}. ${this.sheet.title}`, at(), {
      size: 18,
      bold: true,
      tag: "H1",
    });
    this.items.push(...title.items);
    this.y += title.height;
    this.flow((place) => paragraph(this.measure, this.sheet.time, place, { size: REST, tone: "soft" }));
    this.y += 1.5;
    for (const text of recallLines(this.imprint, this.say))
      this.flow((place) => caution(this.measure, text, place, REST));
    this.flow((place) =>
      paragraph(this.measure, this.say("part.cautions"), place, { size: REST, bold: true, tag: "H2" }),
    );
    for (const text of this.sheet.cautions) this.flow((place) => caution(this.measure, text, place));
    this.y += 2;
    this.heads();
  }

  private flow(make: (at: { x: number; y: number; width: number }) => { items: PageItem[]; height: number }): void {
    const place = () => ({ x: MARGIN, y: this.y, width: this.width - 2 * MARGIN });
    let block = make(place());
    if (this.y + block.height > this.bottom) {
      this.next(false);
      block = make(place());
    }
    this.items.push(...block.items);
    this.y += block.height;
  }

  private heads(): void {
    const { columns, say } = this;
    const y = this.y + leading(8.5) * 0.8;
    const cell = (x: number, text: string): PageItem => ({
      kind: "tagged",
      tag: "TH",
      items: [{ kind: "text", x, y, text, size: 8.5, tone: "soft" }],
    });
    this.items.push({
      kind: "tagged",
      tag: "TR",
      items: [
        cell(columns.plan[0], say("head.bare")),
        cell(columns.does[0], say("head.do")),
        cell(columns.hand[0], say("head.hand")),
        cell(columns.true[0], say("head.true")),
      ],
    });
    this.y += leading(8.5) + 0.8;
    this.across("ink", 0.3);
  }

  private across(tone: "ink" | "hair" | "accent", width: number, from = MARGIN): void {
    this.items.push({
      kind: "line",
      x1: from,
      y1: this.y,
      x2: this.width - MARGIN,
      y2: this.y,
      stroke: { tone, width },
    });
  }

  private finish(): void {
    this.done.push({ width: this.width, height: this.height, items: this.items });
    this.items = [];
  }

  private next(heads = true): void {
    this.finish();
    this.y = MARGIN;
    this.planEnd = 0;
    if (heads) this.heads();
  }

  private row(row: LedgerRow, following: LedgerRow | undefined): void {
    if (row.kind === "part") this.part(row.title, 14, following);
    else if (row.kind === "rule") this.rule(row.text, following);
    else this.work(row);
  }

  /** A heading is never left alone at the foot of a page. */
  private part(title: string, size: number, following: LedgerRow | undefined): void {
    this.y = Math.max(this.y, this.planEnd) + 2;
    const block = paragraph(this.measure, title, { x: MARGIN, y: this.y, width: 200 }, { size, bold: true, tag: "H2" });
    // Between a heading and its first row of work a rule may stand.
    const first = following?.kind === "work" ? this.heightOf(following) : PLAN_HEIGHT + 20;
    if (this.y + block.height + first > this.bottom && this.y > MARGIN + 20) {
      this.next();
      this.part(title, size, following);
      return;
    }
    this.items.push(...block.items);
    this.y += block.height + 1;
    this.across("ink", 0.3);
  }

  /** Across all columns, the words standing on the rule. */
  private rule(text: string, following: LedgerRow | undefined): void {
    const starts = following?.kind === "work" && following.plan !== undefined;
    if (starts) this.y = Math.max(this.y, this.planEnd);
    const block = paragraph(
      this.measure,
      text,
      { x: this.columns.does[0], y: this.y + 1, width: this.width - MARGIN - this.columns.does[0] },
      { size: REST, bold: true, tone: "accent" },
    );
    const need = block.height + (following?.kind === "work" ? this.heightOf(following) : 0) + 4;
    if (this.y + need > this.bottom) {
      this.next();
      this.rule(text, following);
      return;
    }
    this.items.push(...block.items);
    this.y += block.height + 1.6;
    // Beside a plan the rule begins at the second column: it must not strike the drawing through.
    this.across("accent", 0.35, this.planEnd > this.y ? this.columns.does[0] : MARGIN);
  }

  private cells(row: Work): { items: PageItem[][]; heights: number[] } {
    const { columns, measure } = this;
    const width = ([from, to]: readonly [number, number]): number => to - from;
    const column = (texts: readonly string[], place: readonly [number, number], size: number, first?: true) => {
      let y = this.y + PAD;
      const items: PageItem[] = [];
      texts.forEach((text, i) => {
        const block = paragraph(
          measure,
          text,
          { x: place[0], y, width: width(place) },
          { size: i === 0 ? size : Math.min(size, REST), ...(first && i === 0 ? { bold: true } : {}) },
        );
        items.push(...block.items);
        y += block.height;
      });
      return { items, height: y - this.y + PAD };
    };
    const parts = [
      column(row.does, columns.does, DO, true),
      column([row.hand], columns.hand, REST),
      column(row.true, columns.true, REST),
    ];
    return { items: parts.map(({ items }) => items), heights: parts.map(({ height }) => height) };
  }

  private heightOf(row: Work): number {
    const rows = Math.max(...this.cells(row).heights);
    return row.plan?.scene ? Math.max(rows, PLAN_HEIGHT + 8) : rows;
  }

  private work(row: Work): void {
    if (row.plan !== undefined) this.y = Math.max(this.y, this.planEnd);
    if (this.y + this.heightOf(row) > this.bottom) this.next();
    const { items, heights } = this.cells(row);
    const height = Math.max(...heights);
    if (row.warm)
      this.items.push({
        kind: "rings",
        rings: [
          [
            [this.columns.does[0] - 2, this.y],
            [this.width - MARGIN, this.y],
            [this.width - MARGIN, this.y + height],
            [this.columns.does[0] - 2, this.y + height],
          ],
        ],
        fill: "warm",
      });
    const cells = items.map((cell): PageItem => ({ kind: "tagged", tag: "TD", items: cell }));
    const plan = row.plan ? this.plan(row.plan) : [];
    this.items.push({ kind: "tagged", tag: "TR", items: [...plan, ...cells] });
    this.y += height;
    this.across("hair", 0.12, this.columns.does[0]);
  }

  private plan({ scene, caption }: NonNullable<Work["plan"]>): PageItem[] {
    const [from, to] = this.columns.plan;
    const items: PageItem[] = [];
    let y = this.y + PAD;
    if (scene) {
      const scale = Math.min((to - from) / scene.width, PLAN_HEIGHT / scene.height);
      items.push({
        kind: "tagged",
        tag: "Figure",
        alt: `${this.say("head.bare")}: ${caption}`,
        items: [{ kind: "scene", x: from, y, scale, scene }],
      });
      y += scene.height * scale + 0.5;
    }
    items.push({
      kind: "tagged",
      tag: "Caption",
      items: [{ kind: "text", x: from, y: y + leading(8.5) * 0.8, text: caption, size: 8.5, tone: "soft" }],
    });
    this.planEnd = y + leading(8.5) + 2;
    return [{ kind: "tagged", tag: "TD", items }];
  }
}
