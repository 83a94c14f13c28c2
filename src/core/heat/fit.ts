/**
 * Calibration: the contact of the heat source, and if asked the conductivity of the bond, from a thermocouple log.
 *
 * Least squares over ln h (and ln k) by Levenberg and Marquardt (Press et al., Numerical Recipes, 3rd ed., 15.5), the
 * derivatives by central differences of the model; a scan over two decades finds the valley first. Uncertainty:
 * s2 (J'J)^-1 with Student's t for 95 %, symmetric in the logarithm. Where residuals follow one another the interval is
 * widened by sqrt((1 + r)/(1 - r)) (r: lag-one correlation), and the answer says that the stack does not describe the log.
 * Cost: about 30 runs of the programme.
 */
import { InputError } from "../errors.ts";
import { nearest } from "../record/nearest.ts";
import type { Log } from "./read-log.ts";
import { simulate } from "./simulate.ts";
import { type End, type HeatStage, programmeSeconds, type Stack } from "./stack.ts";
import { isBond, withLayers } from "./vary.ts";
import { heatingOf } from "./window.ts";

export interface FitQuestion {
  /** The watched face that the thermocouple is on; the first where left out. */
  readonly at?: string | undefined;
  readonly bond?: boolean;
}

/** A fitted value with the ends of its 95 % interval. */
export interface Fitted {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly unit: "W/(m2.K)" | "W/(m.K)";
}

export interface FitAnswer {
  readonly watch: string;
  /** Rows of the log that were used. */
  readonly rows: number;
  readonly contact: Fitted;
  readonly bond?: Fitted;
  /** K, root mean square of what the fit leaves, by degrees of freedom. */
  readonly residual: number;
  /** Correlation between the two fitted values (of their logarithms). */
  readonly correlation?: number;
  /** s, degC measured, degC fitted. */
  readonly points: readonly (readonly [number, number, number])[];
  readonly warnings: readonly string[];
}

const LEAST_H = 1;
const MOST_H = 1e6;

/** @throws InputError where the log says nothing about what is to be fitted */
export function fitStack(stack: Stack, log: Log, question: FitQuestion = {}): FitAnswer {
  const names = stack.lines.flatMap((line) => line.watch.map((watch) => watch.name));
  const watch = question.at ?? names[0];
  if (watch === undefined || !names.includes(watch)) {
    const near = nearest(watch ?? "", names);
    throw new InputError({
      path: "watch",
      found: watch === undefined ? "no watched face" : JSON.stringify(watch),
      expected: `the watched face that the thermocouple is on${names.length === 0 ? "" : `: ${names.join(", ")}`}`,
      ...(near === undefined ? {} : { nearest: near }),
    });
  }
  const warnings: string[] = [];
  const { time, degC } = inside(stack, log, warnings);
  const line = stack.lines.find((item) => item.watch.some(({ name }) => name === watch));
  const only: Stack = { ...stack, lines: stack.lines.filter((item) => item === line), report: time };
  const model = (p: readonly number[]): readonly number[] => {
    const faces = simulate(shifted(only, p)).faces.find((series) => series.watch === watch);
    return faces?.degC ?? [];
  };
  if (question.bond === true && !only.lines.some((item) => item.layers.some((layer) => isBond(layer, item))))
    throw new InputError({
      path: "watch",
      found: "no layer with a soft limit in this line",
      expected: "a bond whose conductivity is to be fitted: a watch with `soft` on it",
    });
  const hot = heatingOf(stack).held.hot;
  if (hot.h === 0)
    throw new InputError({
      path: "programme",
      found: "an insulated hot side",
      expected: "a heat source whose contact is to be fitted",
    });
  const p0 = [Math.log(hot.h ?? 1000), ...(question.bond === true ? [Math.log(bondOf(only))] : [])];
  const best = levenberg(model, degC, scan(model, degC, p0));
  const { p, jacobian, fitted } = best;
  const n = degC.length;
  const free = n - p.length;
  const s2 = best.sum / free;
  const cov = inverse(normal(jacobian));
  const values = p.map(Math.exp);
  if (
    cov === undefined ||
    cov.some((row, i) => !(row[i] > 0)) ||
    values[0] < LEAST_H * 1.01 ||
    values[0] > MOST_H / 1.01
  )
    throw new InputError({
      path: "log",
      found: "temperatures that do not depend on what is to be fitted",
      expected:
        "a log of a face whose temperature is decided by the contact (on the glass near the pad, from the first second on)",
    });
  const r = lagOne(degC.map((y, i) => y - fitted[i]));
  const inflate = r > 3 / Math.sqrt(n) ? Math.sqrt((1 + r) / (1 - r)) : 1;
  if (inflate > 1)
    warnings.push(
      `What the fit leaves is not noise (correlation ${r.toFixed(2)} from one reading to the next): the stack or the start does not describe this log well. The interval was widened by ${inflate.toFixed(1)}.`,
    );
  const t = student(free) * Math.sqrt(s2) * inflate;
  const interval = (i: number, unit: Fitted["unit"]): Fitted => ({
    value: values[i],
    low: Math.exp(p[i] - t * Math.sqrt(cov[i][i])),
    high: Math.exp(p[i] + t * Math.sqrt(cov[i][i])),
    unit,
  });
  const answer = { watch, rows: n, contact: interval(0, "W/(m2.K)") };
  return {
    ...answer,
    ...(p.length > 1
      ? { bond: interval(1, "W/(m.K)"), correlation: cov[0][1] / Math.sqrt(cov[0][0] * cov[1][1]) }
      : {}),
    residual: Math.sqrt(s2),
    points: time.map((at, i) => [at, degC[i], fitted[i]] as const),
    warnings,
  };
}

/** The stack with fitted values put in: what a bench uses from then on. */
export function calibrated(stack: Stack, fit: Pick<FitAnswer, "contact" | "bond">): Stack {
  return shifted(stack, [Math.log(fit.contact.value), ...(fit.bond === undefined ? [] : [Math.log(fit.bond.value)])]);
}

/** Rows within the programme, in order of time. */
function inside(stack: Stack, log: Log, warnings: string[]): Log {
  const length = programmeSeconds(stack.programme);
  const order = log.time.map((_, i) => i).filter((i) => log.time[i] <= length);
  const left = log.time.length - order.length;
  if (left > 0) warnings.push(`${left} rows lie after the end of the programme (${length} s) and were left out.`);
  if (order.length < 8)
    throw new InputError({
      path: "log",
      found: `${order.length} rows within the programme`,
      expected: `at least 8 rows from 0 to ${length} s`,
    });
  order.sort((i, j) => log.time[i] - log.time[j]);
  return { time: order.map((i) => log.time[i]), degC: order.map((i) => log.degC[i]) };
}

/** ln h into every stage that has the contact of the hottest, ln k into the bonds. */
function shifted(stack: Stack, p: readonly number[]): Stack {
  const { hot } = heatingOf(stack).held;
  const change = (end: End): End => (end.h === hot.h ? { ...end, h: Math.exp(p[0]) } : end);
  const programme = stack.programme.map((stage): HeatStage => ({ ...stage, hot: change(stage.hot) }));
  const contact = { ...stack, programme };
  if (p.length < 2) return contact;
  return withLayers(contact, (layer, line) =>
    isBond(layer, line) ? { ...layer, material: { ...layer.material, k: Math.exp(p[1]) } } : layer,
  );
}

function bondOf(stack: Stack): number {
  for (const line of stack.lines) for (const layer of line.layers) if (isBond(layer, line)) return layer.material.k;
  return 0.15;
}

type Model = (p: readonly number[]) => readonly number[];

/** The best of a row of contacts over two decades either way. */
function scan(model: Model, y: readonly number[], p0: readonly number[]): number[] {
  let best = [...p0];
  let least = Number.POSITIVE_INFINITY;
  for (const shift of [0, -1, 1, -2, 2, -3, 3, -4.5, 4.5]) {
    const p = [clamp(p0[0] + shift), ...p0.slice(1)];
    const sum = squares(model(p), y);
    if (sum < least) [best, least] = [p, sum];
  }
  return best;
}

function clamp(lnH: number): number {
  return Math.min(Math.log(MOST_H), Math.max(Math.log(LEAST_H), lnH));
}

interface Minimum {
  readonly p: readonly number[];
  readonly jacobian: readonly (readonly number[])[];
  readonly fitted: readonly number[];
  readonly sum: number;
}

function levenberg(model: Model, y: readonly number[], begin: readonly number[]): Minimum {
  let p = begin;
  let fitted = model(p);
  let sum = squares(fitted, y);
  let lambda = 1e-3;
  let jacobian = derivatives(model, p);
  for (let i = 0; i < 40; i += 1) {
    const a = normal(jacobian);
    const g = jacobian.map((column) => column.reduce((total, d, j) => total + d * (y[j] - fitted[j]), 0));
    const step = solve(
      a.map((row, k) => row.map((value, l) => (k === l ? value * (1 + lambda) + 1e-30 : value))),
      g,
    );
    if (step === undefined) break;
    const next = p.map((value, k) => value + Math.max(-1.5, Math.min(1.5, step[k])));
    next[0] = clamp(next[0]);
    const tried = model(next);
    const s = squares(tried, y);
    if (s > sum) {
      lambda *= 10;
      if (lambda > 1e8) break;
      continue;
    }
    const moved = Math.max(...next.map((value, k) => Math.abs(value - p[k])));
    [p, fitted, sum] = [next, tried, s];
    lambda = Math.max(lambda / 10, 1e-9);
    jacobian = derivatives(model, p);
    if (moved < 1e-6) break;
  }
  return { p, jacobian, fitted, sum };
}

/** Columns d model / d p, by central differences: far above the time steps' own error. */
function derivatives(model: Model, p: readonly number[]): number[][] {
  const step = 5e-3;
  return p.map((_, k) => {
    const up = model(p.map((value, l) => (l === k ? value + step : value)));
    const down = model(p.map((value, l) => (l === k ? value - step : value)));
    return up.map((value, j) => (value - down[j]) / (2 * step));
  });
}

function squares(a: readonly number[], b: readonly number[]): number {
  return a.reduce((total, value, i) => total + (value - b[i]) ** 2, 0);
}

function normal(columns: readonly (readonly number[])[]): number[][] {
  return columns.map((a) => columns.map((b) => a.reduce((total, value, i) => total + value * b[i], 0)));
}

function solve(a: readonly (readonly number[])[], b: readonly number[]): number[] | undefined {
  const inv = inverse(a);
  return inv?.map((row) => row.reduce((total, value, i) => total + value * b[i], 0));
}

/** Of a symmetric 1x1 or 2x2 matrix; undefined where it is singular. */
function inverse(a: readonly (readonly number[])[]): number[][] | undefined {
  if (a.length === 1) return a[0][0] > 1e-12 ? [[1 / a[0][0]]] : undefined;
  const det = a[0][0] * a[1][1] - a[0][1] * a[1][0];
  if (!(det > 1e-10 * a[0][0] * a[1][1]) || !(a[0][0] > 1e-12)) return undefined;
  return [
    [a[1][1] / det, -a[0][1] / det],
    [-a[1][0] / det, a[0][0] / det],
  ];
}

function lagOne(x: readonly number[]): number {
  let above = 0;
  let below = 0;
  for (let i = 0; i < x.length; i += 1) {
    if (i > 0) above += x[i] * x[i - 1];
    below += x[i] * x[i];
  }
  return below === 0 ? 0 : above / below;
}

/** Two-sided 95 % quantile of Student's t by the Cornish-Fisher expansion (Abramowitz and Stegun 26.7.5). */
export function student(free: number): number {
  const z = 1.959963984540054;
  const z3 = z ** 3;
  const z5 = z ** 5;
  const z7 = z ** 7;
  return (
    z +
    (z3 + z) / (4 * free) +
    (5 * z5 + 16 * z3 + 3 * z) / (96 * free ** 2) +
    (3 * z7 + 19 * z5 + 17 * z3 - 15 * z) / (384 * free ** 3)
  );
}
