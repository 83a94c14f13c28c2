/**
 * Line drawings in place of photographs: what lies bare once some parts are away, drawn from the outlines, with the
 * tools of the moment sketched over it. One ink on white; millimetres times four.
 */
import type { Part } from "../../src/core/record/schema.ts";

interface Drawing {
  readonly title: string;
  readonly parts: readonly Part[];
  readonly away: readonly string[];
  readonly from?: "back" | "front";
  /** Sketched over the plan, in the coordinates of the record. */
  readonly over?: readonly Sketch[];
}

type Sketch =
  | { readonly kind: "cup"; readonly at: readonly [number, number]; readonly radius: number }
  | { readonly kind: "tool"; readonly tip: readonly [number, number]; readonly end: readonly [number, number] }
  | { readonly kind: "plate"; readonly margin: number }
  | { readonly kind: "note"; readonly at: readonly [number, number]; readonly text: string }
  | { readonly kind: "screws"; readonly at: readonly (readonly [number, number])[] };

const SCALE = 4;
const MARGIN = 14;
const fixed = (value: number): string => String(Math.round(value * 100) / 100);
const escaped = (text: string): string => text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");

export function drawing({ title, parts, away, from = "back", over = [] }: Drawing): string {
  const gone = new Set(away);
  const shown = parts.filter((part) => part.outline && part.level && !isAway(part, parts, gone));
  const all = parts.flatMap((part) => part.outline?.[0] ?? []);
  const width = Math.max(...all.map(([x]) => x));
  const height = Math.max(...all.map(([, y]) => y));
  const x = (value: number): string => fixed((MARGIN + (from === "back" ? value : width - value)) * SCALE);
  const y = (value: number): string => fixed((MARGIN + height - value) * SCALE);
  const nearer =
    from === "back" ? (a: Part, b: Part) => b.level![0] - a.level![0] : (a: Part, b: Part) => a.level![1] - b.level![1];
  const bodies = [...shown].sort(nearer).map((part) => {
    const rings = part.outline!.map((ring) => `M${ring.map(([px, py]) => `${x(px)} ${y(py)}`).join("L")}Z`).join("");
    return `<path d="${rings}"><title>${escaped(part.name)}</title></path>`;
  });
  const sketches = over.map((sketch) => draw(sketch, x, y, width, height));
  const size = [(width + 2 * MARGIN) * SCALE, (height + 2 * MARGIN) * SCALE];
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${fixed(size[0]!)}" height="${fixed(size[1]!)}" viewBox="0 0 ${fixed(size[0]!)} ${fixed(size[1]!)}" role="img">`,
    `<title>${escaped(title)}</title>`,
    '<rect width="100%" height="100%" fill="#fff"/>',
    ...sketches.filter((_, i) => over[i]!.kind === "plate"),
    `<g fill="#fff" fill-rule="evenodd" stroke="#222" stroke-width="1.6" stroke-linejoin="round">`,
    ...bodies,
    "</g>",
    `<g fill="none" stroke="#222" stroke-width="2.4" stroke-linecap="round" stroke-linejoin="round" font-family="sans-serif" font-size="16">`,
    ...sketches.filter((_, i) => over[i]!.kind !== "plate"),
    "</g>",
    "</svg>",
    "",
  ].join("\n");
}

function isAway(part: Part, parts: readonly Part[], gone: ReadonlySet<string>): boolean {
  if (gone.has(part.id)) return true;
  const above = parts.find(({ id }) => id === part.within);
  return above !== undefined && isAway(above, parts, gone);
}

type Place = (value: number) => string;

function draw(sketch: Sketch, x: Place, y: Place, width: number, height: number): string {
  switch (sketch.kind) {
    case "cup":
      return [1, 0.72, 0.24]
        .map(
          (part) =>
            `<circle cx="${x(sketch.at[0])}" cy="${y(sketch.at[1])}" r="${fixed(sketch.radius * part * SCALE)}"/>`,
        )
        .join("");
    case "tool": {
      const [tx, ty] = sketch.tip;
      const [ex, ey] = sketch.end;
      const length = Math.hypot(ex - tx, ey - ty);
      const [nx, ny] = [(-(ey - ty) / length) * 2.4, ((ex - tx) / length) * 2.4];
      return `<path fill="#fff" d="M${x(tx)} ${y(ty)}L${x(ex + nx)} ${y(ey + ny)}L${x(ex - nx)} ${y(ey - ny)}Z"/>`;
    }
    case "plate": {
      const { margin } = sketch;
      const hatch = Array.from({ length: Math.floor((width + 2 * margin) / 6) }, (_, i) => {
        const at = -margin + 6 * (i + 0.5);
        return `M${x(at)} ${y(-margin)}V${y(height + margin)}`;
      }).join("");
      return `<path d="${hatch}" stroke="#bbb" stroke-width="1"/><path fill="none" stroke="#222" stroke-width="1.6" d="M${x(-margin)} ${y(-margin)}H${x(width + margin)}V${y(height + margin)}H${x(-margin)}Z"/>`;
    }
    case "note":
      return `<text x="${x(sketch.at[0])}" y="${y(sketch.at[1])}" fill="#222" stroke="none" text-anchor="middle">${escaped(sketch.text)}</text>`;
    case "screws":
      return sketch.at
        .map(([sx, sy]) => {
          const [cx, cy] = [Number(x(sx)), Number(y(sy))];
          return `<path stroke-width="1.4" d="M${fixed(cx - 4)} ${fixed(cy)}h8M${fixed(cx)} ${fixed(cy - 4)}v8"/>`;
        })
        .join("");
  }
}
