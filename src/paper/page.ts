/**
 * A sheet of paper as plain data: everything in mm from the upper left corner, type in points. `pdf-writer.ts` turns it into a
 * PDF; nothing here knows of one.
 */
import type { Scene } from "../figures/scene.ts";

export type PageTone = "ink" | "soft" | "hair" | "accent" | "paper";
export type PageFill = PageTone | "wash" | "warm" | "sheet";

export interface Stroke {
  readonly tone: PageTone;
  /** mm. */
  readonly width: number;
  readonly dash?: readonly number[];
}

/** Structure that a screen reader follows; `Figure` needs words for what it shows. */
export type Tag = "H1" | "H2" | "H3" | "P" | "Table" | "TR" | "TH" | "TD" | "Figure" | "Caption" | "L" | "LI";

export type PageItem =
  | {
      readonly kind: "text";
      readonly x: number;
      /** Of the baseline. */
      readonly y: number;
      readonly text: string;
      readonly size: number;
      readonly bold?: true;
      readonly tone?: PageTone;
      readonly anchor?: "middle" | "end";
      /** Degrees clockwise about the anchor. */
      readonly rotate?: number;
      /** A rim of paper round the letters. */
      readonly halo?: true;
    }
  | {
      readonly kind: "line";
      readonly x1: number;
      readonly y1: number;
      readonly x2: number;
      readonly y2: number;
      readonly stroke: Stroke;
    }
  | {
      readonly kind: "rings";
      /** Closed rings by the even-odd rule. */
      readonly rings: readonly (readonly (readonly [number, number])[])[];
      readonly fill?: PageFill;
      readonly stroke?: Stroke;
    }
  | {
      readonly kind: "circle";
      readonly cx: number;
      readonly cy: number;
      readonly r: number;
      readonly fill?: PageFill;
      readonly stroke?: Stroke;
    }
  | {
      readonly kind: "scene";
      readonly x: number;
      readonly y: number;
      /** mm for each px of the scene. */
      readonly scale: number;
      readonly scene: Scene;
    }
  | {
      readonly kind: "clip";
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
      readonly items: readonly PageItem[];
    }
  | { readonly kind: "tagged"; readonly tag: Tag; readonly alt?: string; readonly items: readonly PageItem[] };

export interface Page {
  readonly width: number;
  readonly height: number;
  readonly items: readonly PageItem[];
}

export interface PaperDocument {
  readonly title: string;
  readonly subject: string;
  /** BCP 47. */
  readonly language: string;
  /** ISO 8601; stands in the file as the moment of making. */
  readonly date: string;
  readonly pages: readonly Page[];
}

export const PAGES = {
  a4: { width: 210, height: 297 },
  letter: { width: 215.9, height: 279.4 },
} as const;
export type PageSize = keyof typeof PAGES;

export const rectangle = (x: number, y: number, width: number, height: number): (readonly [number, number])[] => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
];

/** How wide words are and how they break: by the face that they will be printed in. Sizes in points, widths in mm. */
export interface Measure {
  readonly width: (text: string, size: number, bold?: boolean) => number;
  /** Lines of at most this width; a word that is longer is cut where it has to be. */
  readonly lines: (text: string, width: number, size: number, bold?: boolean) => string[];
}

/** Height of a line in mm. */
export const leading = (size: number): number => (size * 1.3 * 25.4) / 72;
