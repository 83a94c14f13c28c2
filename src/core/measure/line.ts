/**
 * Straight line through calibration readings by least squares, with the correlation of its two constants
 * (JCGM 100:2008, H.3): y = y1 + y2·x, residual standard deviation s with n - 2 degrees of freedom.
 */
import { InputError } from "../errors.ts";
import { summarise } from "./summary.ts";

export interface Line {
  readonly intercept: number;
  readonly slope: number;
  readonly uIntercept: number;
  readonly uSlope: number;
  /** Correlation of intercept and slope. */
  readonly r: number;
  readonly s: number;
  readonly dof: number;
  /** The line at `at` with its standard uncertainty. */
  readonly value?: number;
  readonly u?: number;
}

export function straightLine(x: readonly number[], y: readonly number[], at?: number): Line {
  const n = x.length;
  if (n !== y.length || n < 3) {
    throw new InputError({ path: "x", found: `${n} x and ${y.length} y`, expected: "as many x as y, at least three" });
  }
  const mx = summarise(x, "x").mean;
  const my = summarise(y, "y").mean;
  const sxx = x.reduce((sum, v) => sum + (v - mx) ** 2, 0);
  if (!(sxx > 0)) throw new InputError({ path: "x", found: "equal values", expected: "readings at different x" });
  const slope = x.reduce((sum, v, i) => sum + (v - mx) * (y[i]! - my), 0) / sxx;
  const dof = n - 2;
  const ssr = x.reduce((sum, v, i) => sum + (y[i]! - my - slope * (v - mx)) ** 2, 0);
  const s = Math.sqrt(ssr / dof);
  const spread = (point: number) => s * Math.sqrt(1 / n + (point - mx) ** 2 / sxx);
  const uIntercept = spread(0);
  const uSlope = s / Math.sqrt(sxx);
  const line = {
    intercept: my - slope * mx,
    slope,
    uIntercept,
    uSlope,
    r: s > 0 ? (-mx * uSlope) / uIntercept : 0,
    s,
    dof,
  };
  return at === undefined ? line : { ...line, value: my + slope * (at - mx), u: spread(at) };
}
