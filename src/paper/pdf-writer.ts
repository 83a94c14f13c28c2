/**
 * The one door to the PDF library: pages of plain data in, bytes out. The same pages give the same bytes: the date is the
 * caller's, and nothing else in the file depends on when or where it is made.
 *
 * Real text in an embedded face, tagged for screen readers, titled; the viewer is asked for 100 % and not to scale in print.
 */
import { readFileSync } from "node:fs";
import PDFDocument from "pdfkit";
import type { Measure, Page, PageFill, PageItem, PageTone, PaperDocument, Stroke } from "./page.ts";
import { sceneItems } from "./scene-page.ts";

type Doc = InstanceType<typeof PDFDocument>;
type Element = ReturnType<Doc["struct"]>;

const FACES = { regular: "DejaVuSansCondensed.ttf", bold: "DejaVuSansCondensed-Bold.ttf" } as const;
const bytes = new Map<string, Buffer>();
const POINTS = 72 / 25.4;
const shaped = new Map<keyof typeof FACES, object>();

const COLOURS: Readonly<Record<PageFill, string>> = {
  ink: "#000000",
  soft: "#55534c",
  hair: "#b9b4a8",
  accent: "#b0370d",
  paper: "#ffffff",
  sheet: "#ffffff",
  wash: "#f6e3d8",
  warm: "#f3ead2",
};
const colour = (tone: PageFill | PageTone): string => COLOURS[tone];

function face(name: keyof typeof FACES): Buffer {
  const file = FACES[name];
  const known = bytes.get(file) ?? readFileSync(new URL(`./fonts/${file}`, import.meta.url));
  bytes.set(file, known);
  return known;
}

function open(options: PDFKit.PDFDocumentOptions): Doc {
  const doc = new PDFDocument({ autoFirstPage: false, compress: true, ...options });
  for (const name of ["regular", "bold"] as const) {
    doc.registerFont(name, face(name));
    // Shaping is what costs most of a page, and sheets share most of their words: one store of shaped words a face.
    const own = (doc.font(name) as unknown as { _font: { layoutCache: object } })._font;
    const known = shaped.get(name);
    if (known === undefined) shaped.set(name, own.layoutCache);
    else own.layoutCache = known;
  }
  return doc;
}

/** The library measures each line again for rules and links that we have not: the width is told instead. */
const UNMEASURED = { textWidth: 0 } as object;

let measuring: Doc | undefined;
const font = (doc: Doc, bold: boolean | undefined): Doc => doc.font(bold ? "bold" : "regular");

/**
 * Words as the face can print them: signs that it has not are named by their code point, control characters are left out, so
 * that nothing silently becomes an empty box.
 */
export function printable(text: string): string {
  measuring ??= open({});
  font(measuring, false);
  const { font: shapes } = (
    measuring as unknown as { _font: { font: { hasGlyphForCodePoint(code: number): boolean } } }
  )._font;
  let out = "";
  for (const sign of text.normalize("NFC")) {
    const code = sign.codePointAt(0)!;
    if (code === 9 || code === 10 || code === 13 || code === 0x2028 || code === 0x2029) out += " ";
    else if (code < 32 || (code >= 0x7f && code < 0xa0) || code === 0x200b || code === 0xfeff) continue;
    // Right-to-left marks and the like would turn the rest of a line about.
    else if (
      (code >= 0x200e && code <= 0x200f) ||
      (code >= 0x202a && code <= 0x202e) ||
      (code >= 0x2066 && code <= 0x2069)
    )
      continue;
    else if (shapes.hasGlyphForCodePoint(code)) out += sign;
    else out += `[U+${code.toString(16).toUpperCase().padStart(4, "0")}]`;
  }
  return out;
}

export function measurer(): Measure {
  measuring ??= open({});
  const doc = measuring;
  const cache = new Map<string, number>();
  const width = (text: string, size: number, bold?: boolean): number => {
    const key = `${bold ? "b" : "r"}${text}`;
    let em = cache.get(key);
    if (em === undefined) {
      // First, because looking for signs changes the face.
      const words = printable(text);
      em = font(doc, bold).fontSize(1000).widthOfString(words) / 1000;
      cache.set(key, em);
    }
    return (em * size) / POINTS;
  };
  const lines = (text: string, most: number, size: number, bold?: boolean): string[] => {
    const out: string[] = [];
    let row = "";
    for (const word of printable(text)
      .split(/\s+/)
      .filter((one) => one !== "")) {
      let rest = word;
      if (row !== "" && width(`${row} ${rest}`, size, bold) <= most) {
        row = `${row} ${rest}`;
        continue;
      }
      if (row !== "") out.push(row);
      while (width(rest, size, bold) > most && [...rest].length > 1) {
        const signs = [...rest];
        let fit = signs.length - 1;
        while (fit > 1 && width(signs.slice(0, fit).join(""), size, bold) > most) fit -= 1;
        out.push(signs.slice(0, fit).join(""));
        rest = signs.slice(fit).join("");
      }
      row = rest;
    }
    if (row !== "" || out.length === 0) out.push(row);
    return out;
  };
  return { width, lines };
}

export async function writePdf(document: PaperDocument): Promise<Uint8Array> {
  const date = new Date(document.date);
  const doc = open({
    pdfVersion: "1.7",
    tagged: true,
    displayTitle: true,
    lang: document.language,
    info: {
      Title: printable(document.title),
      Subject: printable(document.subject),
      Creator: "unseam",
      Producer: "unseam",
      CreationDate: date,
      ModDate: date,
    },
  });
  const preferences = (doc as unknown as { _root: { data: { ViewerPreferences?: { data: Record<string, unknown> } } } })
    ._root.data.ViewerPreferences;
  // True scale dies of "fit to page": the viewer is asked to leave the size alone.
  if (preferences) preferences.data.PrintScaling = "None";
  const chunks: Buffer[] = [];
  const done = new Promise<void>((resolve, reject) => {
    doc.on("data", (chunk: Buffer) => chunks.push(chunk));
    doc.on("end", resolve);
    doc.on("error", reject);
  });
  const whole = doc.struct("Document");
  doc.addStructure(whole);
  for (const page of document.pages) drawPage(doc, page, whole);
  whole.end();
  doc.end();
  await done;
  return new Uint8Array(Buffer.concat(chunks));
}

function drawPage(doc: Doc, page: Page, whole: Element): void {
  doc.addPage({ size: [page.width * POINTS, page.height * POINTS], margin: 0 });
  for (const item of page.items) {
    if (item.kind === "tagged") {
      whole.add(structure(doc, item));
      continue;
    }
    doc.markContent("Artifact", { type: "Layout" });
    draw(doc, item);
    doc.endMarkedContent();
  }
}

type Tagged = Extract<PageItem, { kind: "tagged" }>;

/** A tagged item holds either tagged items or what is drawn, never both beside each other. */
function structure(doc: Doc, item: Tagged): Element {
  const options = item.alt === undefined ? {} : { alt: printable(item.alt) };
  const tagged = item.items.filter((one): one is Tagged => one.kind === "tagged");
  if (tagged.length === 0)
    return doc.struct(item.tag, options, () => {
      for (const one of item.items) draw(doc, one);
    });
  const element = doc.struct(item.tag, options);
  for (const one of item.items) {
    if (one.kind === "tagged") element.add(structure(doc, one));
    else
      element.add(
        doc.struct("Span", {}, () => {
          draw(doc, one);
        }),
      );
  }
  element.end();
  return element;
}

function draw(doc: Doc, item: PageItem): void {
  switch (item.kind) {
    case "text":
      drawText(doc, item);
      return;
    case "line":
      stroke(doc, item.stroke);
      doc
        .moveTo(item.x1 * POINTS, item.y1 * POINTS)
        .lineTo(item.x2 * POINTS, item.y2 * POINTS)
        .stroke();
      return;
    case "rings": {
      for (const ring of item.rings) {
        ring.forEach(([x, y], i) =>
          i === 0 ? doc.moveTo(x * POINTS, y * POINTS) : doc.lineTo(x * POINTS, y * POINTS),
        );
        doc.closePath();
      }
      paint(doc, item.fill, item.stroke);
      return;
    }
    case "circle":
      doc.circle(item.cx * POINTS, item.cy * POINTS, item.r * POINTS);
      paint(doc, item.fill, item.stroke);
      return;
    case "scene":
      for (const one of sceneItems(item.scene, item.x, item.y, item.scale)) draw(doc, one);
      return;
    case "clip":
      doc.save();
      doc.rect(item.x * POINTS, item.y * POINTS, item.width * POINTS, item.height * POINTS).clip();
      for (const one of item.items) draw(doc, one);
      doc.restore();
      return;
    case "tagged":
      for (const one of item.items) draw(doc, one);
  }
}

function stroke(doc: Doc, { tone, width, dash }: Stroke): void {
  doc.strokeColor(colour(tone)).lineWidth(width * POINTS);
  if (dash === undefined) doc.undash();
  else doc.dash(dash[0]! * POINTS, { space: (dash[1] ?? dash[0]!) * POINTS });
}

function paint(doc: Doc, fill: PageFill | undefined, line: Stroke | undefined): void {
  if (line) stroke(doc, line);
  if (fill && line) doc.fillAndStroke(colour(fill), colour(line.tone), "even-odd");
  else if (fill) doc.fill(colour(fill), "even-odd");
  else doc.stroke();
}

function drawText(doc: Doc, item: Extract<PageItem, { kind: "text" }>): void {
  const words = printable(item.text);
  if (words.trim() === "") return;
  font(doc, item.bold).fontSize(item.size);
  // Shaping is what costs most of a page: it is asked for only where the width matters.
  const width = item.anchor === undefined && !item.halo ? 0 : doc.widthOfString(words);
  const shift = item.anchor === "middle" ? width / 2 : item.anchor === "end" ? width : 0;
  const [x, y] = [item.x * POINTS, item.y * POINTS];
  doc.save();
  if (item.rotate) doc.rotate(item.rotate, { origin: [x, y] });
  if (item.halo) {
    const height = item.size * 0.9;
    doc
      .rect(x - shift - 0.6, y - height * 0.82, width + 1.2, height)
      .fillOpacity(0.8)
      .fill(colour("paper"))
      .fillOpacity(1);
  }
  doc.fillColor(colour(item.tone ?? "ink"));
  doc.text(words, x - shift, y, { lineBreak: false, baseline: "alphabetic", ...UNMEASURED });
  doc.restore();
}
