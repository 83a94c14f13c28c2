/**
 * A picture as plain data: seven kinds of shape, in px with y downwards, coloured by role and never by colour.
 *
 * `figures/` makes scenes; `draw/` turns one into SVG text, React elements or paper. Because every back-end reads the
 * same list, the pictures of the command line, the app and the sheets cannot disagree.
 */

/** What a stroke or a letter is for. Back-ends hold the colours. */
export type Tone = "ink" | "soft" | "hair" | "accent" | "paper";
/** Stroke widths, from a guide line to a chosen outline. */
export type Weight = "hair" | "thin" | "line" | "bold";
/** `way`: on its way in. `away`: already off. `chain`: a cutting plane. `dot`: a rule that numbers a step. */
export type Dash = "way" | "away" | "chain" | "dot";
/** Hatching by class of material. */
export const HATCHES = ["metal", "glass", "cell", "board", "polymer", "coil"] as const;
export type Hatch = (typeof HATCHES)[number];
export type Fill = "paper" | "sheet" | "wash" | "warm" | "ink" | "accent" | "hair" | Hatch;

export interface Look {
  readonly stroke?: Tone;
  readonly weight?: Weight;
  readonly dash?: Dash;
  readonly fill?: Fill;
  /** Drawn weakly: what is no longer there. */
  readonly faint?: true;
}

/** What a group stands for, so that the app can act on it. */
export interface Reference {
  readonly part?: string;
  readonly joint?: string;
  /** Index into the operations of a way in. */
  readonly operation?: number;
}

export type Command =
  | readonly ["M" | "L", number, number]
  | readonly ["C", number, number, number, number, number, number]
  | readonly ["Z"];

export interface Line {
  readonly kind: "line";
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
  readonly look: Look;
}
export interface Rect {
  readonly kind: "rect";
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly radius?: number;
  readonly look: Look;
}
export interface Path {
  readonly kind: "path";
  readonly commands: readonly Command[];
  readonly look: Look;
}
/** Rings by the even-odd rule: the first is the outer one, the others are holes. */
export interface Polygon {
  readonly kind: "polygon";
  readonly rings: readonly (readonly (readonly [number, number])[])[];
  readonly look: Look;
}
export interface Circle {
  readonly kind: "circle";
  readonly cx: number;
  readonly cy: number;
  readonly r: number;
  readonly look: Look;
}
export interface Text {
  readonly kind: "text";
  /** Anchor point on the baseline. */
  readonly x: number;
  readonly y: number;
  readonly text: string;
  /** px; 12 where left out. */
  readonly size?: number;
  readonly anchor?: "middle" | "end";
  readonly bold?: true;
  readonly tone?: Tone;
  /** Degrees about the anchor point, clockwise. */
  readonly rotate?: number;
  /** A rim of paper round the letters, where they stand on hatching. */
  readonly halo?: true;
}
export interface Group {
  readonly kind: "group";
  readonly of?: Reference;
  /** What a screen reader says for it. */
  readonly label?: string;
  readonly children: readonly Shape[];
}
export type Shape = Line | Rect | Path | Polygon | Circle | Text | Group;

export interface Scene {
  readonly width: number;
  readonly height: number;
  /** One sentence: what the picture shows. */
  readonly title: string;
  readonly shapes: readonly Shape[];
}

export const line = (x1: number, y1: number, x2: number, y2: number, look: Look): Line => ({
  kind: "line",
  x1,
  y1,
  x2,
  y2,
  look,
});

export const rect = (x: number, y: number, width: number, height: number, look: Look, radius?: number): Rect =>
  radius === undefined
    ? { kind: "rect", x, y, width, height, look }
    : { kind: "rect", x, y, width, height, look, radius };

export const path = (commands: readonly Command[], look: Look): Path => ({ kind: "path", commands, look });

export const polygon = (rings: Polygon["rings"], look: Look): Polygon => ({ kind: "polygon", rings, look });

export const circle = (cx: number, cy: number, r: number, look: Look): Circle => ({ kind: "circle", cx, cy, r, look });

export const text = (
  x: number,
  y: number,
  words: string,
  more: Omit<Text, "kind" | "x" | "y" | "text"> = {},
): Text => ({
  kind: "text",
  x,
  y,
  text: words,
  ...more,
});

export const group = (children: readonly Shape[], of?: Reference, label?: string): Group => ({
  kind: "group",
  children,
  ...(of === undefined ? {} : { of }),
  ...(label === undefined ? {} : { label }),
});

/** An open line through points. */
export function polyline(points: readonly (readonly [number, number])[], look: Look): Path {
  return path(
    points.map(([x, y], i) => [i === 0 ? "M" : "L", x, y] as const),
    look,
  );
}
