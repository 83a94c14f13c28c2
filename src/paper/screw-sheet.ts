/**
 * The screw sheet: the device at true scale, a spot for each screw at its place, its silhouette in black beside it, number by
 * order and letter by stage. Check bars across and down tell whether the printer kept the scale; what it did instead can be typed
 * in, and the sheet is drawn so much larger or smaller.
 *
 * All places are kept as data (`spots`, `bars`), so that a test can hold the print against them.
 */
import type { Joint, Part, Side, TeardownRecord } from "../core/record/index.ts";
import { torqueWords } from "../core/service/torque.ts";
import { caution, type Imprint, MARGIN, paragraph, recallLines, withFeet } from "./frame.ts";
import { spans, type Words } from "./ledger-words.ts";
import {
  leading,
  type Measure,
  PAGES,
  type Page,
  type PageItem,
  type PageSize,
  type PaperDocument,
  rectangle,
} from "./page.ts";
import { confusable, type NumberedScrew } from "./screw-numbers.ts";
import { silhouette } from "./silhouette.ts";
import type { Say, WordKey } from "./words/index.ts";

export interface Measured {
  /** What the 100 mm bar measured on paper, mm. */
  readonly across: number;
  readonly down: number;
}

export interface Spot {
  readonly label: string;
  readonly joint: string;
  readonly index: number;
  /** From 1. */
  readonly page: number;
  /** mm from the upper left corner of the page. */
  readonly x: number;
  readonly y: number;
  readonly side: "back" | "front";
}

export interface Bar {
  readonly page: number;
  readonly length: 50 | 100;
  readonly direction: "across" | "down";
  readonly x: number;
  readonly y: number;
}

export interface ScrewSheet {
  readonly document: PaperDocument;
  readonly spots: readonly Spot[];
  readonly bars: readonly Bar[];
  /** What is missing or easy to get wrong, in words. */
  readonly warnings: readonly string[];
}

export interface ScrewSheetInput {
  readonly record: TeardownRecord;
  readonly screws: readonly NumberedScrew[];
  /** Names of the parts that the way leads to. */
  readonly parts: string;
  readonly imprint: Imprint;
  readonly say: Say;
  readonly words: Words;
  readonly measure: Measure;
  readonly size: PageSize;
  readonly measured?: Measured;
}

type Face = "back" | "front";

export function screwSheet(input: ScrewSheetInput): ScrewSheet {
  const { record, screws, say, imprint, parts } = input;
  const warnings = warningsOf(record, screws, say, input.words);
  const sheet = new Sheet(input, warnings);
  const { pages, spots, bars } = sheet.draw();
  return {
    document: {
      title: `${imprint.device}: ${say("title.screws", { parts })}`,
      subject: say("sheet.screws"),
      language: say("language"),
      date: imprint.date,
      pages: withFeet(pages, imprint, say("sheet.screws"), say),
    },
    spots,
    bars,
    warnings,
  };
}

/** What can be drawn: screws with a place that go in from the back or from the display. */
function placed(screws: readonly NumberedScrew[], face: Face): (NumberedScrew & { at: readonly [number, number] })[] {
  return screws.filter(
    (screw): screw is NumberedScrew & { at: readonly [number, number] } =>
      screw.at !== undefined && faceOf(screw.side) === face,
  );
}

/** Screws in the edges are drawn with the back, where their places are seen from above. */
function faceOf(side: Side): Face {
  return side === "front" ? "front" : "back";
}

function warningsOf(record: TeardownRecord, screws: readonly NumberedScrew[], say: Say, words: Words): string[] {
  const list = (some: readonly NumberedScrew[]): string => {
    const joints = [...new Set(some.map(({ joint }) => joint))];
    return joints
      .map((id) => {
        const own = some.filter(({ joint }) => joint === id);
        const joint = record.joints.find((one) => one.id === id);
        return `${spans(own)} (${joint ? words.of(joint) : id})`;
      })
      .join(", ");
  };
  const out: string[] = [];
  if (screws.length === 0) return [say("screws.none")];
  const same = confusable(screws);
  if (same.length > 0)
    out.push(
      say("screws.confusable", {
        list: same.map(({ drive, a, b }) => `${a} / ${b} mm${drive === "" ? "" : ` (${drive})`}`).join(", "),
      }),
    );
  const nowhere = screws.filter(({ at }) => at === undefined);
  if (nowhere.length > 0) out.push(say("screws.noPlace", { list: list(nowhere), n: nowhere.length }));
  const unknown = screws.filter(({ length }) => length === undefined);
  if (unknown.length > 0) out.push(say("screws.noLength", { list: list(unknown) }));
  for (const side of ["top", "bottom", "left", "right"] as const) {
    const edge = screws.filter((screw) => screw.side === side && screw.at !== undefined);
    if (edge.length > 0) out.push(say("screws.edge", { side: say(`side.${side}` as WordKey), list: list(edge) }));
  }
  const base = record.parts.find((part) => part.base);
  if (base && base.outline === undefined && screws.some(({ at }) => at !== undefined))
    out.push(say("screws.noOutline", { parts: base.name }));
  return out;
}

/** 1200 to the inch: bars begin on it, so that no raster blurs their ends. */
const GRID = 25.4 / 1200;
const snap = (mm: number): number => Math.round(mm / GRID) * GRID;
const BAR = 1.2;
/** Room that bars take at the left and at the foot of a drawing page. */
const STRIP = 8;
const FOOT = 12;
const OVERLAP = 10;

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

class Sheet {
  private readonly input: ScrewSheetInput;
  private readonly warnings: readonly string[];
  private readonly pages: Page[] = [];
  private readonly spots: Spot[] = [];
  private readonly bars: Bar[] = [];
  private readonly width: number;
  private readonly height: number;
  /** On paper one mm becomes so many: the correction. */
  private readonly kx: number;
  private readonly ky: number;

  constructor(input: ScrewSheetInput, warnings: readonly string[]) {
    this.input = input;
    this.warnings = warnings;
    ({ width: this.width, height: this.height } = PAGES[input.size]);
    this.kx = input.measured === undefined ? 1 : 100 / input.measured.across;
    this.ky = input.measured === undefined ? 1 : 100 / input.measured.down;
  }

  draw(): { pages: Page[]; spots: Spot[]; bars: Bar[] } {
    const faces = (["back", "front"] as const).filter((face) => placed(this.input.screws, face).length > 0);
    if (faces.length === 0) {
      const items: PageItem[] = [];
      const y = this.head(items, undefined);
      this.table(items, y + 4);
    }
    faces.forEach((face, index) => this.face(face, index === faces.length - 1));
    return { pages: this.pages, spots: this.spots, bars: this.bars };
  }

  /** Title and what has to be known; returns where it ends. */
  private head(items: PageItem[], face: Face | undefined): number {
    const { say, measure, imprint, parts, measured } = this.input;
    let y = MARGIN - 2;
    const at = () => ({ x: MARGIN, y, width: this.width - 2 * MARGIN });
    const add = (block: { items: PageItem[]; height: number }): void => {
      items.push(...block.items);
      y += block.height;
    };
    add(
      paragraph(measure, `${imprint.device}. ${say("title.screws", { parts })}`, at(), {
        size: 14,
        bold: true,
        tag: "H1",
      }),
    );
    for (const text of recallLines(imprint, say)) add(caution(measure, text, at(), 9));
    if (face !== undefined) {
      add(
        paragraph(measure, `${say("screws.seen", { side: say(`side.${face}`) })} ${say("screws.scale")}`, at(), {
          size: 9,
          bold: true,
        }),
      );
      if (measured !== undefined)
        add(
          paragraph(measure, say("screws.corrected", { across: measured.across, down: measured.down }), at(), {
            size: 9,
          }),
        );
      add(paragraph(measure, `${say("screws.where")} ${say("screws.lengths")}`, at(), { size: 9.5, tone: "soft" }));
    }
    for (const text of this.warnings) add(caution(measure, text, at(), 9.5));
    return y;
  }

  private face(face: Face, last: boolean): void {
    const screws = placed(this.input.screws, face);
    const drawn = this.drawing(face, screws);
    const { width, height } = drawn.box;
    const items: PageItem[] = [];
    const top = this.head(items, face) + 2;
    const room = { width: this.width - 2 * MARGIN - STRIP, height: this.height - FOOT - STRIP - top };
    if (width <= room.width && height <= room.height) {
      const x = MARGIN + STRIP;
      const free = this.width - MARGIN - (x + width + 4);
      const legend = last ? this.legend(x + width + 4, top, free) : undefined;
      const beside = legend !== undefined && top + legend.height <= this.height - FOOT - STRIP;
      this.place(items, drawn, x - drawn.box.x, top - drawn.box.y, face);
      this.barsOn(items, this.pages.length + 1, top);
      if (beside) items.push(...legend.items);
      this.finish(items);
      if (last && !beside) this.table([], MARGIN);
      return;
    }
    // Larger than what the words leave: words and table get pages of their own, the drawing as many as it needs.
    if (last) this.table(items, top + 2);
    else this.finish(items);
    this.tiles(drawn, face);
  }

  private tiles(drawn: Drawing, face: Face): void {
    const { say, measure } = this.input;
    const top = MARGIN + 2;
    const room = { width: this.width - 2 * MARGIN - STRIP, height: this.height - FOOT - STRIP - top };
    const steps = (size: number, most: number): number =>
      size <= most ? 1 : Math.ceil((size - OVERLAP) / (most - OVERLAP));
    const [columns, rows] = [steps(drawn.box.width, room.width), steps(drawn.box.height, room.height)];
    for (let row = 0; row < rows; row += 1)
      for (let column = 0; column < columns; column += 1) {
        const items: PageItem[] = [];
        const part = row * columns + column + 1;
        const seen = say("screws.seen", { side: say(`side.${face}`) });
        const more = columns * rows > 1 ? ` ${say("screws.tile", { part, parts: columns * rows })}` : "";
        items.push(
          ...paragraph(
            measure,
            seen + more,
            { x: MARGIN, y: 5, width: this.width - 2 * MARGIN },
            { size: 9, bold: true },
          ).items,
        );
        const x = MARGIN + STRIP - column * (room.width - OVERLAP) - drawn.box.x;
        const y = top - row * (room.height - OVERLAP) - drawn.box.y;
        const inner: PageItem[] = [];
        this.place(inner, drawn, x, y, face, { x: MARGIN + STRIP, y: top, ...room });
        items.push({ kind: "clip", x: MARGIN + STRIP, y: top, ...room, items: untagged(inner) });
        this.barsOn(items, this.pages.length + 1, top);
        this.finish(items);
      }
  }

  private finish(items: PageItem[]): void {
    this.pages.push({ width: this.width, height: this.height, items });
  }

  /** Outline, spots, labels and silhouettes in mm of the drawing, its upper left corner at the box's. */
  private drawing(face: Face, screws: readonly (NumberedScrew & { at: readonly [number, number] })[]): Drawing {
    const { record } = this.input;
    const outline = outlineOf(record);
    const held = new Set(screws.flatMap(({ holds }) => holds));
    const others = record.parts.filter((part) => !part.base && held.has(part.id) && part.outline !== undefined);
    const points = [
      ...outline.flat(),
      ...others.flatMap(({ outline: rings }) => rings!.flat()),
      ...screws.map(({ at }) => at),
    ];
    const xs = points.map(([x]) => x);
    const ys = points.map(([, y]) => y);
    const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    const to = ([x, y]: readonly [number, number]): [number, number] => [
      (face === "back" ? x - x0 : x1 - x) * this.kx,
      (y1 - y) * this.ky,
    ];
    const rings = outline.map((ring) => ring.map(to));
    const items: PageItem[] = [
      ...others.map(
        (part): PageItem => ({
          kind: "rings",
          rings: part.outline!.map((ring) => ring.map(to)),
          stroke: { tone: "hair", width: 0.12 },
        }),
      ),
      ...(rings.length > 0 ? [{ kind: "rings" as const, rings, stroke: { tone: "ink" as const, width: 0.3 } }] : []),
    ];
    const spots = screws.map((screw) => ({ screw, at: to(screw.at) }));
    const marks = arrange(spots, this.kx, this.ky, this.input.measure);
    items.push(...marks.items);
    const boxes = [{ x: 0, y: 0, width: (x1 - x0) * this.kx, height: (y1 - y0) * this.ky }, ...marks.boxes];
    return { items, spots, box: around(boxes, 1) };
  }

  private place(items: PageItem[], drawn: Drawing, dx: number, dy: number, face: Face, window?: Box): void {
    const moved = drawn.items.map((item) => shifted(item, dx, dy));
    const page = this.pages.length + 1;
    const { say } = this.input;
    items.push({ kind: "tagged", tag: "Figure", alt: say("screws.seen", { side: say(`side.${face}`) }), items: moved });
    for (const { screw, at } of drawn.spots) {
      const [x, y] = [at[0] + dx, at[1] + dy];
      if (window && (x < window.x || x > window.x + window.width || y < window.y || y > window.y + window.height))
        continue;
      if (this.spots.some((spot) => spot.joint === screw.joint && spot.index === screw.index)) continue;
      this.spots.push({ label: screw.label, joint: screw.joint, index: screw.index, page, x, y, side: face });
    }
  }

  /** Solid bars whose outer edges are 50 and 100 mm apart: nothing of their length lies in a stroke's width. */
  private barsOn(items: PageItem[], page: number, top: number): void {
    const { say } = this.input;
    const y = this.height - FOOT - STRIP + 2.6;
    const left = MARGIN - 4;
    const under = (text: string, x: number, at: number, rotate?: number): PageItem => ({
      kind: "text",
      x,
      y: at,
      text,
      size: 7.5,
      ...(rotate === undefined ? {} : { rotate }),
    });
    const drawn: PageItem[] = [];
    let x = MARGIN + STRIP;
    for (const length of [100, 50] as const) {
      const [from, down] = [snap(x), snap(y)];
      drawn.push({ kind: "rings", rings: [rectangle(from, down, length * this.kx, BAR)], fill: "ink" });
      drawn.push(under(`${length} mm`, from, down + BAR + 3));
      this.bars.push({ page, length, direction: "across", x: from, y: down });
      x += length * this.kx + 8;
    }
    let from = top;
    for (const length of [100, 50] as const) {
      const [across, down] = [snap(left), snap(from)];
      drawn.push({ kind: "rings", rings: [rectangle(across, down, BAR, length * this.ky)], fill: "ink" });
      drawn.push(under(`${length} mm`, across + BAR + 2.8, down + length * this.ky, -90));
      this.bars.push({ page, length, direction: "down", x: across, y: down });
      from += length * this.ky + 6;
    }
    items.push({ kind: "tagged", tag: "Figure", alt: say("screws.scale"), items: drawn });
  }

  /** Groups of equal screws with their silhouette, beside the drawing. */
  private legend(x: number, y: number, width: number): { items: PageItem[]; height: number } | undefined {
    if (width < 62) return undefined;
    const { measure } = this.input;
    const items: PageItem[] = [];
    let down = y;
    for (const group of groupsOf(this.input.screws)) {
      const first = group[0]!;
      const [shape, wide, tall] = silhouette(first, x + 1, down + 2.6, this.kx, this.ky);
      const text = this.groupWords(group);
      const head = paragraph(
        measure,
        spans(group),
        { x: x + Math.max(8, wide + 3), y: down, width: width - Math.max(8, wide + 3) },
        { size: 10, bold: true },
      );
      const rest = paragraph(
        measure,
        text,
        { x: x + Math.max(8, wide + 3), y: down + head.height, width: width - Math.max(8, wide + 3) },
        { size: 9.5 },
      );
      items.push({
        kind: "tagged",
        tag: "LI",
        items: [...untagged(shape), ...untagged(head.items), ...untagged(rest.items)],
      });
      down += Math.max(tall + 2, head.height + rest.height) + 1.6;
    }
    return { items: [{ kind: "tagged", tag: "L", items }], height: down - y };
  }

  private groupWords(group: readonly NumberedScrew[]): string {
    const { say, words, record } = this.input;
    const first = group[0]!;
    const joint = record.joints.find(({ id }) => id === first.joint);
    const how = first.lengthIs === "overall" ? say("screws.overall") : say("screws.underHead");
    const length = first.length === undefined ? "" : `${first.length} mm ${how}`;
    return [joint ? words.of(joint) : first.joint, first.thread, length, first.drive, this.torque(joint)]
      .filter((one) => one !== undefined && one !== "")
      .join(" · ");
  }

  /** In cN.m, and whether it is one to tighten to. */
  private torque(joint: Joint | undefined): string | undefined {
    const { say } = this.input;
    if (joint?.screws?.torque === undefined) return undefined;
    const { torque, torqueIs } = torqueWords(joint.screws.thread, joint.screws.torque, joint.screws.torqueIs);
    return say(torqueIs === "stated" ? "true.torque" : "true.torque.backoff", { torque: torque ?? "" });
  }

  /** The same groups as a table on pages of their own. */
  private table(start: PageItem[], from: number): void {
    const { say, measure, words, record } = this.input;
    let items = start;
    let y = from;
    const columns = [MARGIN, MARGIN + 24, MARGIN + 42, MARGIN + 90, MARGIN + 134, MARGIN + 154];
    const heads = ["number", "stage", "of", "screw", "length", "torque"] as const;
    const row = (cells: readonly string[], tag: "TH" | "TD", size: number, extra: PageItem[] = [], least = 0): void => {
      const blocks = cells.map((text, i) =>
        paragraph(
          measure,
          text,
          { x: columns[i]!, y, width: (columns[i + 1] ?? this.width - MARGIN) - columns[i]! - 3 },
          {
            size,
            ...(i === 0 && tag === "TD" ? { bold: true as const } : {}),
            ...(tag === "TH" ? { tone: "soft" as const } : {}),
          },
        ),
      );
      items.push({
        kind: "tagged",
        tag: "TR",
        items: blocks.map((block): PageItem => ({ kind: "tagged", tag, items: untagged(block.items) })),
      });
      items.push(...extra);
      y += Math.max(least, ...blocks.map(({ height }) => height)) + 1;
      items.push({
        kind: "line",
        x1: MARGIN,
        y1: y,
        x2: this.width - MARGIN,
        y2: y,
        stroke: { tone: "hair", width: 0.12 },
      });
      y += 1;
    };
    const begin = (): void =>
      row(
        heads.map((head) => say(`screws.head.${head}`)),
        "TH",
        8.5,
      );
    if (this.input.screws.length > 0) begin();
    for (const group of groupsOf(this.input.screws)) {
      if (y > this.height - FOOT - 22) {
        this.finish(items);
        items = [];
        y = MARGIN;
        begin();
      }
      const first = group[0]!;
      const joint = record.joints.find(({ id }) => id === first.joint);
      const [shape, , tall] = silhouette(first, columns[3]! + 1, y + leading(10) + 2.6, this.kx, this.ky);
      row(
        [
          spans(group),
          first.stage,
          joint ? words.of(joint) : first.joint,
          [first.thread, first.drive].filter((one) => one !== undefined && one !== "").join(" · "),
          first.length === undefined ? "?" : String(first.length),
          this.torque(joint) ?? "",
        ],
        "TD",
        10,
        [{ kind: "tagged", tag: "Figure", alt: first.length === undefined ? "?" : `${first.length} mm`, items: shape }],
        leading(10) + tall + 3,
      );
    }
    this.finish(items);
  }
}

interface Drawing {
  readonly items: readonly PageItem[];
  readonly spots: readonly { readonly screw: NumberedScrew; readonly at: readonly [number, number] }[];
  readonly box: Box;
}

/** Runs of screws of one joint and length. */
function groupsOf(screws: readonly NumberedScrew[]): NumberedScrew[][] {
  const groups = new Map<string, NumberedScrew[]>();
  for (const screw of screws) {
    const key = `${screw.joint} ${screw.length}`;
    groups.set(key, [...(groups.get(key) ?? []), screw]);
  }
  return [...groups.values()];
}

function outlineOf(record: TeardownRecord): (readonly (readonly [number, number])[])[] {
  const base: Part | undefined = record.parts.find((part) => part.base && part.outline !== undefined);
  return base?.outline ?? [];
}

type At = { readonly screw: NumberedScrew; readonly at: readonly [number, number] };

/** Spots where they are, labels and silhouettes around them where they cover least. */
function arrange(spots: readonly At[], kx: number, ky: number, measure: Measure): { items: PageItem[]; boxes: Box[] } {
  const items: PageItem[] = [];
  const taken: Box[] = spots.map(({ screw, at }) => {
    const r = radiusOf(screw);
    return { x: at[0] - r * kx, y: at[1] - r * ky, width: 2 * r * kx, height: 2 * r * ky };
  });
  for (const { screw, at } of spots) {
    const r = radiusOf(screw);
    // A dot marks the very place; the ring is where the screw is laid.
    items.push({ kind: "circle", cx: at[0], cy: at[1], r: r * kx, stroke: { tone: "ink", width: 0.2 } });
    items.push({ kind: "circle", cx: at[0], cy: at[1], r: 0.25, fill: "ink" });
    const text = { width: measure.width(screw.label, 8, true), height: 2.6 };
    const [, wide, tall] = silhouette(screw, 0, 0, kx, ky);
    let best: { cost: number; label: Box; shape: Box } | undefined;
    for (const label of around4(at, r * kx, text.width, text.height))
      for (const shape of around4(at, r * kx, wide, tall)) {
        const cost =
          overlap(label, shape) * 10 + taken.reduce((sum, box) => sum + overlap(box, label) + overlap(box, shape), 0);
        if (best === undefined || cost < best.cost - 1e-9) best = { cost, label, shape };
      }
    if (!best) continue;
    taken.push(best.label, best.shape);
    items.push({
      kind: "text",
      x: best.label.x,
      y: best.label.y + best.label.height - 0.3,
      text: screw.label,
      size: 8,
      bold: true,
      halo: true,
    });
    items.push(...silhouette(screw, best.shape.x, best.shape.y + tall / 2, kx, ky)[0]);
  }
  return { items, boxes: taken };
}

const radiusOf = (screw: NumberedScrew): number => Math.max(screw.head ?? 2, 1.6) / 2 + 0.5;

/** Boxes right, left, above, below and at the corners of a circle. */
function around4([x, y]: readonly [number, number], r: number, width: number, height: number): Box[] {
  const gap = 0.5;
  const box = (left: number, top: number): Box => ({ x: left, y: top, width, height });
  return [
    box(x + r + gap, y - height / 2),
    box(x - r - gap - width, y - height / 2),
    box(x - width / 2, y + r + gap),
    box(x - width / 2, y - r - gap - height),
    box(x + r * 0.7 + gap, y + r * 0.7 + gap),
    box(x + r * 0.7 + gap, y - r * 0.7 - gap - height),
    box(x - r * 0.7 - gap - width, y + r * 0.7 + gap),
    box(x - r * 0.7 - gap - width, y - r * 0.7 - gap - height),
  ];
}

function overlap(a: Box, b: Box): number {
  const wide = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
  const tall = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
  return wide > 0 && tall > 0 ? wide * tall : 0;
}

function around(boxes: readonly Box[], rim: number): Box {
  const x = Math.min(...boxes.map((box) => box.x)) - rim;
  const y = Math.min(...boxes.map((box) => box.y)) - rim;
  return {
    x,
    y,
    width: Math.max(...boxes.map((box) => box.x + box.width)) + rim - x,
    height: Math.max(...boxes.map((box) => box.y + box.height)) + rim - y,
  };
}

/** What a clip or a figure draws needs no tags of its own. */
function untagged(items: readonly PageItem[]): PageItem[] {
  return items.flatMap((item) => (item.kind === "tagged" ? untagged(item.items) : [item]));
}

function shifted(item: PageItem, dx: number, dy: number): PageItem {
  switch (item.kind) {
    case "text":
    case "scene":
      return { ...item, x: item.x + dx, y: item.y + dy };
    case "line":
      return { ...item, x1: item.x1 + dx, y1: item.y1 + dy, x2: item.x2 + dx, y2: item.y2 + dy };
    case "rings":
      return { ...item, rings: item.rings.map((ring) => ring.map(([x, y]): [number, number] => [x + dx, y + dy])) };
    case "circle":
      return { ...item, cx: item.cx + dx, cy: item.cy + dy };
    case "clip":
      return { ...item, x: item.x + dx, y: item.y + dy, items: item.items.map((one) => shifted(one, dx, dy)) };
    case "tagged":
      return { ...item, items: item.items.map((one) => shifted(one, dx, dy)) };
  }
}
