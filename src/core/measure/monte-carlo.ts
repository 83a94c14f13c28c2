/**
 * Propagation of distributions (JCGM 101:2008): draws of the inputs through the formula, sorted.
 *
 * Answers the mean and standard deviation of the draws, the probabilistically symmetric and the shortest interval (7.7).
 * Cost: trials × formula + one sort; 10^5 trials of a 20-term budget take about 0.1 s. The same seed gives the same answer.
 */
import { InputError } from "../errors.ts";
import { compileFormula, parseFormula } from "./formula.ts";
import { choleskySemidefinite } from "./linear.ts";
import type { Correlation } from "./propagate.ts";
import { checkU, covarianceOf, notPossible } from "./propagate.ts";
import type { Random } from "./random.ts";
import { seededRandom } from "./random.ts";
import type { Shape } from "./shapes.ts";
import { shapeDraw, shapeUncertainty } from "./shapes.ts";

export interface Drawn {
  readonly value: number;
  /** Standard uncertainty; or a shape with its half-width. */
  readonly u?: number;
  readonly dof?: number;
  readonly distribution?: Shape | "t";
  readonly half?: number;
  readonly beta?: number;
}

export interface MonteCarloOptions {
  readonly correlations?: readonly Correlation[];
  readonly trials?: number;
  readonly seed?: number;
  readonly level?: number;
  /** Also answer the probability that the result lies above it. */
  readonly threshold?: number;
}

export interface MonteCarloResult {
  readonly value: number;
  readonly u: number;
  readonly interval: readonly [number, number];
  readonly shortest: readonly [number, number];
  readonly trials: number;
  readonly seed: number;
  readonly probability?: number;
}

export const DEFAULT_TRIALS = 1_000_000;
/** Memory: eight bytes a trial. */
const MOST_TRIALS = 10_000_000;
/** Interval ends need some draws beyond them. */
const LEAST_TRIALS = 100;

export function monteCarlo(
  model: string,
  inputs: Readonly<Record<string, Drawn>>,
  options: MonteCarloOptions = {},
): MonteCarloResult {
  const { trials = DEFAULT_TRIALS, seed = 1, level = 0.95, threshold } = options;
  if (!(Number.isInteger(trials) && trials >= LEAST_TRIALS && trials <= MOST_TRIALS)) {
    throw new InputError({
      path: "trials",
      found: String(trials),
      expected: `a whole number from ${LEAST_TRIALS} to ${MOST_TRIALS}`,
    });
  }
  if (!(level > 0 && level < 1)) {
    throw new InputError({ path: "level", found: String(level), expected: "a level between 0 and 1, such as 0.95" });
  }
  const names = Object.keys(inputs);
  const formula = parseFormula(model, names);
  const random = seededRandom(seed);
  const correlated = new Set((options.correlations ?? []).flatMap(([a, b, r]) => (r === 0 ? [] : [a, b])));
  const x = new Float64Array(names.length);

  const draws: { index: number; centre: number; draw: () => number }[] = [];
  names.forEach((name, index) => {
    const input = inputs[name]!;
    if (correlated.has(name)) return;
    draws.push({ index, centre: input.value, draw: drawOf(name, input, random) });
  });
  const together = names.map((_, i) => i).filter((i) => correlated.has(names[i]!));
  const u = names.map((name) => standardOf(`inputs.${name}`, inputs[name]!));
  const factor = choleskySemidefinite(
    covarianceOf(names, u, options.correlations ?? [])
      .filter((_, i) => together.includes(i))
      .map((row) => together.map((j) => row[j]!)),
  );
  if (factor === undefined) throw notPossible(options.correlations ?? []);
  const z = new Float64Array(together.length);
  const jointDof = dofTogether(together.map((i) => [names[i]!, inputs[names[i]!]!]));

  const f = compileFormula(formula);
  const y = new Float64Array(trials);
  for (let trial = 0; trial < trials; trial++) {
    for (let i = 0; i < draws.length; i++) {
      const d = draws[i]!;
      x[d.index] = d.centre + d.draw();
    }
    if (together.length > 0) {
      // One divisor for all of them: a multivariate t, as of simultaneous repeats.
      const spread = Number.isFinite(jointDof) ? random.studentScale(jointDof) : 1;
      for (let i = 0; i < z.length; i++) z[i] = spread * random.normal();
      for (let i = 0; i < z.length; i++) {
        let sum = inputs[names[together[i]!]!]!.value;
        for (let k = 0; k <= i; k++) sum += factor[i]![k]! * z[k]!;
        x[together[i]!] = sum;
      }
    }
    const value = f(x);
    if (!Number.isFinite(value)) {
      const at = names.map((name, i) => `${name} = ${x[i]}`).join(", ");
      throw new InputError({
        path: "model",
        found: `${model} = ${value} at ${at} (trial ${trial + 1})`,
        expected: "a model that is finite wherever its inputs may lie",
      });
    }
    y[trial] = value;
  }
  return {
    ...intervals(y, level),
    trials,
    seed,
    ...(threshold === undefined ? {} : { probability: share(y, threshold) }),
  };
}

function intervals(y: Float64Array, level: number): Pick<MonteCarloResult, "value" | "u" | "interval" | "shortest"> {
  const n = y.length;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += y[i]!;
  const mean = sum / n;
  let squares = 0;
  for (let i = 0; i < n; i++) squares += (y[i]! - mean) ** 2;
  y.sort();
  const q = Math.min(n - 1, Math.round(level * n));
  const r = Math.floor((n - q) / 2);
  const low = Math.max(0, r - 1);
  let best = 0;
  for (let i = 1; i + q < n; i++) if (y[i + q]! - y[i]! < y[best + q]! - y[best]!) best = i;
  return {
    value: mean,
    u: Math.sqrt(squares / (n - 1)),
    interval: [y[low]!, y[low + q]!],
    shortest: [y[best]!, y[best + q]!],
  };
}

/** Share of the draws above the threshold; y is sorted by then. */
function share(y: Float64Array, threshold: number): number {
  let low = 0;
  let high = y.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (y[middle]! > threshold) high = middle;
    else low = middle + 1;
  }
  return (y.length - low) / y.length;
}

/** Degrees of freedom of inputs that are drawn together. @throws InputError where they cannot be. */
function dofTogether(inputs: readonly (readonly [string, Drawn])[]): number {
  let joint: number | undefined;
  for (const [name, { distribution, dof = Number.POSITIVE_INFINITY }] of inputs) {
    if (distribution !== undefined && distribution !== "normal" && distribution !== "t") {
      throw new InputError({
        path: `inputs.${name}.distribution`,
        found: distribution,
        expected: "normal or t: correlated inputs are drawn together",
      });
    }
    const own = distribution === "normal" ? Number.POSITIVE_INFINITY : dof;
    if (joint !== undefined && own !== joint) {
      throw new InputError({
        path: `inputs.${name}.dof`,
        found: String(own),
        expected: `the same degrees of freedom for all correlated inputs (${joint}), as of simultaneous repeats`,
      });
    }
    joint = own;
  }
  return joint ?? Number.POSITIVE_INFINITY;
}

/** Standard uncertainty of an input given either way; `path` leads to it in messages. */
export function standardOf(path: string, input: Drawn): number {
  if (input.u !== undefined && input.half !== undefined) {
    throw new InputError({ path, found: "both u and half", expected: "one of the two" });
  }
  if (input.u !== undefined) return checkU(input.u, `${path}.u`);
  if (input.half === undefined) {
    throw new InputError({ path, found: "neither u nor half", expected: "u, or a distribution with its half-width" });
  }
  if (!(input.half >= 0 && Number.isFinite(input.half))) {
    throw new InputError({ path: `${path}.half`, found: String(input.half), expected: "a half-width of 0 or more" });
  }
  return shapeUncertainty(shapeOf(path, input), input.half, input.beta);
}

function shapeOf(path: string, input: Drawn): Shape {
  if (input.distribution === "t") {
    throw new InputError({
      path: `${path}.half`,
      found: "a half-width for t",
      expected: "u and dof: Student's t has no half-width",
    });
  }
  return input.distribution ?? (input.beta === undefined ? "rectangular" : "trapezoid");
}

function drawOf(name: string, input: Drawn, random: Random): () => number {
  const path = `inputs.${name}`;
  const u = standardOf(path, input);
  const shape = input.distribution;
  if (input.half !== undefined) return shapeDraw(shapeOf(path, input), input.half, input.beta, random);
  if (shape === "t" || (shape === undefined && input.dof !== undefined && Number.isFinite(input.dof))) {
    // Repeats: u is s/√n, the distribution a scaled and shifted t (JCGM 101, 6.4.9).
    const { dof } = input;
    if (!(dof !== undefined && dof > 0)) {
      throw new InputError({
        path: `${path}.dof`,
        found: dof === undefined ? "nothing" : String(dof),
        expected: "degrees of freedom above 0 for t",
      });
    }
    return Number.isFinite(dof) ? () => u * random.student(dof) : () => u * random.normal();
  }
  if (shape === undefined || shape === "normal") return () => u * random.normal();
  const half = u / shapeUncertainty(shape, 1, input.beta);
  return shapeDraw(shape, half, input.beta, random);
}
