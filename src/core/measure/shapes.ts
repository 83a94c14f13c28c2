/**
 * Standard uncertainty from a half-width and the shape of what is known within it (GUM 4.3.7, 4.3.9, H.1.3.4), the
 * share of a digital display (F.2.2.1), and coverage factors where such a shape dominates (EA-4/02, S9 and S10).
 */
import { InputError } from "../errors.ts";
import type { Random } from "./random.ts";

export type Shape = "normal" | "rectangular" | "triangular" | "arcsine" | "trapezoid";
export const SHAPES = ["normal", "rectangular", "triangular", "arcsine", "trapezoid"] as const;

/**
 * Standard uncertainty of a shape of half-width `half`; a normal's half-width is taken at 95 % (k = 1.96).
 * `beta` is the ratio of a trapezoid's top to its base, 0 (triangle) to 1 (rectangle).
 */
export function shapeUncertainty(shape: Shape, half: number, beta?: number): number {
  checkBeta(shape, beta);
  switch (shape) {
    case "normal":
      return half / 1.959963984540054;
    case "rectangular":
      return half / Math.sqrt(3);
    case "triangular":
      return half / Math.sqrt(6);
    case "arcsine":
      return half / Math.SQRT2;
    case "trapezoid":
      return half * Math.sqrt((1 + beta! * beta!) / 6);
  }
}

/** A function that draws from the shape, centred on zero. */
export function shapeDraw(shape: Shape, half: number, beta: number | undefined, random: Random): () => number {
  checkBeta(shape, beta);
  const { uniform, normal } = random;
  switch (shape) {
    case "normal": {
      const u = half / 1.959963984540054;
      return () => u * normal();
    }
    case "rectangular":
      return () => half * (2 * uniform() - 1);
    case "triangular":
      return () => half * (uniform() - uniform());
    case "arcsine":
      return () => half * Math.sin(2 * Math.PI * uniform());
    case "trapezoid": {
      // Sum of two rectangles (JCGM 101:2008, 6.4.4.4).
      const a = (half * (1 + beta!)) / 2;
      const b = (half * (1 - beta!)) / 2;
      return () => a * (2 * uniform() - 1) + b * (2 * uniform() - 1);
    }
  }
}

function checkBeta(shape: Shape, beta: number | undefined): void {
  if (shape === "trapezoid" && !(beta !== undefined && beta >= 0 && beta <= 1)) {
    throw new InputError({
      path: "beta",
      found: beta === undefined ? "nothing" : String(beta),
      expected: "the trapezoid's top over its base, from 0 to 1",
    });
  }
}

/** Share of one rounding to a display step d: d/√12. A difference of two rounded readings has d/√6. */
export function stepUncertainty(step: number): number {
  return step / Math.sqrt(12);
}

/** k of a rectangle at a level p: p√3 (EA-4/02 S9, recalled). */
export function rectangularFactor(level: number): number {
  return level * Math.sqrt(3);
}

/** k of a trapezoid at a level p, for p/(2 - p) > beta (EA-4/02 S10.13, recalled). */
export function trapezoidFactor(level: number, beta: number): number {
  const base = Math.sqrt((1 + beta * beta) / 6);
  if (level / (2 - level) > beta) return (1 - Math.sqrt((1 - level) * (1 - beta * beta))) / base;
  return (level * (1 + beta)) / 2 / base;
}
