/** The section beside the plan: the device cut along one line, with the same scale along it and thickness stretched. */
import { insideAlong } from "../geometry.ts";
import { group, path, polygon, type Shape, text } from "../scene.ts";
import { reachesBelow } from "./bare.ts";
import type { DrawingInput } from "./drawing.ts";
import type { Layout } from "./layout.ts";
import type { PlacedDevice, PlacedPart } from "./placed.ts";
import { outlineLook } from "./plan.ts";

type Span = readonly [number, number];

function box(layout: Layout, [from, to]: Span, [top, bottom]: Span): (readonly [number, number])[] {
  return [layout.cut(from, top), layout.cut(to, top), layout.cut(to, bottom), layout.cut(from, bottom)];
}

export function drawSection(device: PlacedDevice, layout: Layout, input: DrawingInput, cutAt: number): Shape[] {
  const axis = layout.beside ? "x" : "y";
  const gone = (part: PlacedPart) => input.away.has(part.id) || !reachesBelow(part, input.depth, input.seen);
  const extent = (part: PlacedPart): Span =>
    layout.beside ? [part.bounds.y0, part.bounds.y1] : [part.bounds.x0, part.bounds.x1];
  const marked = (part: PlacedPart) => input.chosen.has(part.id) || input.way.has(part.id);
  const rank = (part: PlacedPart) => (part.base ? 0 : input.chosen.has(part.id) ? 3 : input.way.has(part.id) ? 2 : 1);
  const thick = (part: PlacedPart) => part.level[1] - part.level[0];
  const ordered = [...device.parts].sort(
    (a, b) => rank(a) - rank(b) || thick(b) - thick(a) || b.area - a.area || (a.id < b.id ? -1 : 1),
  );
  const shapes: Shape[] = [];
  for (const part of ordered) {
    const spans = insideAlong(part.rings, axis, cutAt);
    const away = gone(part);
    const rings = spans.map((span) => [box(layout, span, part.level)]);
    if (rings.length > 0) {
      const look = away
        ? ({ stroke: "soft", weight: "hair", dash: "away" } as const)
        : { ...outlineLook(input, part.id), fill: part.hatch ?? ("sheet" as const) };
      shapes.push(
        group(
          rings.map((ring) => polygon(ring, look)),
          { part: part.id },
        ),
      );
    } else if (marked(part) && !away) {
      // Off the cutting plane: shown as seen through, outline only.
      const look = outlineLook(input, part.id);
      shapes.push(group([polygon([box(layout, extent(part), part.level)], look)], { part: part.id }));
    }
  }
  return input.still ? shapes : [...shapes, ...depthMark(device, layout, input)];
}

/** The line down to which the plan has been opened, with its grip and its figure. */
function depthMark(device: PlacedDevice, layout: Layout, input: DrawingInput): Shape[] {
  const { x0, y0, x1, y1 } = device.bounds;
  const words = `${input.depth < 0 ? "−" : ""}${Math.abs(input.depth).toFixed(1)} mm deep`;
  if (layout.beside) {
    const [x, top] = layout.cut(y1, input.depth);
    const [, bottom] = layout.cut(y0, input.depth);
    const at = Math.min(x, layout.width - 34);
    return [
      path(
        [
          ["M", x, top - 12],
          ["L", x, bottom + 8],
        ],
        { stroke: "accent", weight: "thin" },
      ),
      path([["M", x, top - 8], ["L", x - 7, top - 18], ["L", x + 7, top - 18], ["Z"]], { fill: "accent" }),
      text(at, top - 23, words, { anchor: "middle", size: 11, tone: "accent" }),
    ];
  }
  const start = layout.cut(input.seen === "back" ? x0 : x1, input.depth);
  const end = layout.cut(input.seen === "back" ? x1 : x0, input.depth);
  return [
    path(
      [
        ["M", start[0] - 12, start[1]],
        ["L", end[0] + 8, end[1]],
      ],
      { stroke: "accent", weight: "thin" },
    ),
    path(
      [["M", start[0] - 8, start[1]], ["L", start[0] - 18, start[1] - 7], ["L", start[0] - 18, start[1] + 7], ["Z"]],
      {
        fill: "accent",
      },
    ),
    text(layout.section.x, layout.section.y - 10, words, { size: 11, tone: "accent" }),
  ];
}
