/**
 * One shape as a tag with attributes: what the SVG writer and the React elements share, so that they cannot differ.
 * Attribute names are those of SVG; colours are classes (`drawing-style.ts`), hatching a paint server of the same SVG.
 */
import { HATCHES, type Hatch, type Look, type Reference, type Shape } from "../figures/scene.ts";

export interface Tag {
  readonly name: "line" | "rect" | "path" | "circle" | "text" | "g";
  readonly attributes: readonly (readonly [string, string])[];
  readonly text?: string;
  readonly children?: readonly Shape[];
  readonly of?: Reference;
  readonly label?: string;
}

/** Hundredths of a px are finer than any screen and keep stored pictures readable. */
export function number(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return String(Object.is(rounded, -0) ? 0 : rounded);
}

const isHatch = (fill: string): fill is Hatch => (HATCHES as readonly string[]).includes(fill);

/** Name of the paint server of a hatch in the SVG with this id. */
export const hatchId = (id: string, hatch: Hatch): string => `${id}-${hatch}`;

function lookAttributes(look: Look, id: string): [string, string][] {
  const classes: string[] = [];
  const out: [string, string][] = [];
  if (look.stroke !== undefined) classes.push(`s-${look.stroke}`, `w-${look.weight ?? "hair"}`);
  if (look.dash !== undefined) classes.push(`d-${look.dash}`);
  if (look.fill !== undefined && !isHatch(look.fill)) classes.push(`f-${look.fill}`);
  if (look.faint) classes.push("faint");
  if (classes.length > 0) out.push(["class", classes.join(" ")]);
  if (look.fill === undefined) out.push(["fill", "none"]);
  else if (isHatch(look.fill)) out.push(["fill", `url(#${hatchId(id, look.fill)})`]);
  return out;
}

export function tagOf(shape: Shape, id: string): Tag {
  switch (shape.kind) {
    case "line":
      return {
        name: "line",
        attributes: [
          ...lookAttributes(shape.look, id),
          ["x1", number(shape.x1)],
          ["y1", number(shape.y1)],
          ["x2", number(shape.x2)],
          ["y2", number(shape.y2)],
        ],
      };
    case "rect":
      return {
        name: "rect",
        attributes: [
          ...lookAttributes(shape.look, id),
          ["x", number(shape.x)],
          ["y", number(shape.y)],
          ["width", number(Math.max(0, shape.width))],
          ["height", number(Math.max(0, shape.height))],
          ...(shape.radius === undefined ? [] : [["rx", number(shape.radius)] as const]),
        ],
      };
    case "path":
      return {
        name: "path",
        attributes: [
          ...lookAttributes(shape.look, id),
          ["d", shape.commands.map(([letter, ...values]) => letter + values.map(number).join(" ")).join("")],
        ],
      };
    case "polygon":
      return {
        name: "path",
        attributes: [
          ...lookAttributes(shape.look, id),
          ["fill-rule", "evenodd"],
          ["d", shape.rings.map((ring) => `M${ring.map(([x, y]) => `${number(x)} ${number(y)}`).join("L")}Z`).join("")],
        ],
      };
    case "circle":
      return {
        name: "circle",
        attributes: [
          ...lookAttributes(shape.look, id),
          ["cx", number(shape.cx)],
          ["cy", number(shape.cy)],
          ["r", number(shape.r)],
        ],
      };
    case "text": {
      const classes = [`t-${shape.tone ?? "ink"}`, ...(shape.bold ? ["b"] : []), ...(shape.halo ? ["halo"] : [])];
      const [x, y] = [number(shape.x), number(shape.y)];
      return {
        name: "text",
        attributes: [
          ["class", classes.join(" ")],
          ["x", x],
          ["y", y],
          ["font-size", number(shape.size ?? 12)],
          ...(shape.anchor === undefined ? [] : [["text-anchor", shape.anchor] as const]),
          ...(shape.rotate === undefined ? [] : [["transform", `rotate(${number(shape.rotate)} ${x} ${y})`] as const]),
        ],
        text: shape.text,
      };
    }
    case "group":
      return {
        name: "g",
        attributes: referenceAttributes(shape.of),
        children: shape.children,
        ...(shape.of === undefined ? {} : { of: shape.of }),
        ...(shape.label === undefined ? {} : { label: shape.label }),
      };
  }
}

function referenceAttributes(of: Reference | undefined): (readonly [string, string])[] {
  if (of === undefined) return [];
  const out: (readonly [string, string])[] = [];
  if (of.part !== undefined) out.push(["data-part", of.part]);
  if (of.joint !== undefined) out.push(["data-joint", of.joint]);
  if (of.operation !== undefined) out.push(["data-operation", String(of.operation)]);
  return out;
}

/** One tile of a hatch: its size, turn, ground and strokes. Fixed geometry, no data. */
export interface HatchTile {
  readonly hatch: Hatch;
  readonly width: number;
  readonly height: number;
  readonly turn?: number;
  readonly ground: "sheet" | "wash";
  readonly strokes: string;
  readonly stroke: "soft" | "hair" | "accent";
}

/**
 * Sections of materials in the spirit of ISO 128-50 (general hatching at 45 degrees for metal) and of drawing-office
 * habit for the rest: broken strokes for glass, crossed for laminate, level for the cell. Common practice, no source.
 */
export const HATCH_TILES: readonly HatchTile[] = [
  { hatch: "metal", width: 5, height: 5, turn: 45, ground: "sheet", strokes: "M0 0V5", stroke: "soft" },
  { hatch: "glass", width: 14, height: 9, ground: "sheet", strokes: "M2 7L5 3M8 7L11 3", stroke: "hair" },
  { hatch: "cell", width: 8, height: 8, ground: "wash", strokes: "M0 4H8", stroke: "accent" },
  { hatch: "board", width: 6, height: 6, ground: "sheet", strokes: "M0 0L6 6M6 0L0 6", stroke: "hair" },
  { hatch: "polymer", width: 6, height: 6, turn: -45, ground: "sheet", strokes: "M0 0V3", stroke: "hair" },
  { hatch: "coil", width: 7, height: 7, ground: "sheet", strokes: "M1 3.5H6M3.5 1V6", stroke: "soft" },
];

/** The hatches that a scene uses, in the order of `HATCHES`. */
export function hatchesIn(shapes: readonly Shape[]): readonly Hatch[] {
  const found = new Set<string>();
  const walk = (list: readonly Shape[]) => {
    for (const shape of list)
      if (shape.kind === "group") walk(shape.children);
      else if (shape.kind !== "text" && shape.look.fill !== undefined) found.add(shape.look.fill);
  };
  walk(shapes);
  return HATCHES.filter((hatch) => found.has(hatch));
}
