/**
 * A page as an SVG picture, for a preview on screen: the same items at the same places as `pdf-writer.ts` prints. Letters are
 * set in what the screen has and stretched to the width that they have on paper, so that nothing moves.
 */
import { escapeMarkup } from "../draw/svg.ts";
import type { Measure, Page, PageFill, PageItem, Stroke } from "./page.ts";
import { printable } from "./pdf-writer.ts";
import { sceneItems } from "./scene-page.ts";

/** As printed. */
const COLOURS: Readonly<Record<PageFill, string>> = {
  ink: "#000",
  soft: "#55534c",
  hair: "#b9b4a8",
  accent: "#b0370d",
  paper: "#fff",
  sheet: "#fff",
  wash: "#f6e3d8",
  warm: "#f3ead2",
};
const POINT = 25.4 / 72;

export function pageSvg({ width, height, items }: Page, title: string, measure: Measure): string {
  const drawing = new Drawing(measure);
  const body = items.map((item) => drawing.item(item)).join("");
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${n(width)} ${n(height)}" width="${n(width * 4)}" height="${n(height * 4)}" font-family="'DejaVu Sans Condensed','DejaVu Sans',sans-serif"><title>${escapeMarkup(title)}</title><rect width="100%" height="100%" fill="#fff"/>${body}</svg>`;
}

class Drawing {
  private clips = 0;
  private readonly measure: Measure;

  constructor(measure: Measure) {
    this.measure = measure;
  }

  item(item: PageItem): string {
    switch (item.kind) {
      case "text":
        return this.text(item);
      case "line":
        return `<path d="M${n(item.x1)} ${n(item.y1)}L${n(item.x2)} ${n(item.y2)}"${stroked(item.stroke)}/>`;
      case "rings": {
        const d = item.rings.map((ring) => `M${ring.map(([x, y]) => `${n(x)} ${n(y)}`).join("L")}Z`).join("");
        return `<path d="${d}" fill-rule="evenodd"${filled(item.fill)}${stroked(item.stroke)}/>`;
      }
      case "circle":
        return `<circle cx="${n(item.cx)}" cy="${n(item.cy)}" r="${n(item.r)}"${filled(item.fill)}${stroked(item.stroke)}/>`;
      case "scene":
        return sceneItems(item.scene, item.x, item.y, item.scale)
          .map((one) => this.item(one))
          .join("");
      case "clip": {
        this.clips += 1;
        const id = `c${this.clips}`;
        const inside = item.items.map((one) => this.item(one)).join("");
        return `<clipPath id="${id}"><rect x="${n(item.x)}" y="${n(item.y)}" width="${n(item.width)}" height="${n(item.height)}"/></clipPath><g clip-path="url(#${id})">${inside}</g>`;
      }
      case "tagged":
        return item.items.map((one) => this.item(one)).join("");
    }
  }

  private text(item: Extract<PageItem, { kind: "text" }>): string {
    if (item.text.trim() === "") return "";
    const words = printable(item.text);
    const width = this.measure.width(item.text, item.size, item.bold);
    const anchor = item.anchor === undefined ? "" : ` text-anchor="${item.anchor}"`;
    const turn = item.rotate ? ` transform="rotate(${n(item.rotate)} ${n(item.x)} ${n(item.y)})"` : "";
    const halo = item.halo ? ' paint-order="stroke" stroke="#fff" stroke-opacity=".8" stroke-width=".8"' : "";
    const bold = item.bold ? ' font-weight="700"' : "";
    return `<text x="${n(item.x)}" y="${n(item.y)}" font-size="${n(item.size * POINT)}" textLength="${n(width)}" lengthAdjust="spacingAndGlyphs" fill="${COLOURS[item.tone ?? "ink"]}"${anchor}${bold}${halo}${turn}>${escapeMarkup(words)}</text>`;
  }
}

const n = (value: number): string => String(Math.round(value * 1000) / 1000);
const filled = (fill: PageFill | undefined): string => ` fill="${fill === undefined ? "none" : COLOURS[fill]}"`;

function stroked(stroke: Stroke | undefined): string {
  if (stroke === undefined) return "";
  const dash = stroke.dash === undefined ? "" : ` stroke-dasharray="${stroke.dash.map(n).join(" ")}"`;
  return ` stroke="${COLOURS[stroke.tone]}" stroke-width="${n(stroke.width)}"${dash}`;
}
