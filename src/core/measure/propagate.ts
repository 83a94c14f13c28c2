/**
 * Propagation of uncertainty through a formula (JCGM 100:2008, clauses 5 and 6, annex G).
 *
 * First order: u² = Σ cᵢcⱼ uᵢuⱼ rᵢⱼ with exact sensitivities cᵢ. Second order adds, for normal inputs, what the note to
 * 5.1.2 gives: ½ tr(HVHV) + Σ gᵢVᵢⱼVₖₗ f_jkl, taken along the columns of a factor of V, so that correlated
 * inputs need no case of their own. Inputs of 20 names at second order cost some 600 series; a millisecond or so.
 *
 * Degrees of freedom: Welch-Satterthwaite (G.4.1), which holds for independent inputs only. Inputs tied by correlations
 * count as one component with the fewest degrees of freedom among them (simultaneous repeats, H.2: n - 1).
 */
import { InputError } from "../errors.ts";
import { coverageFactor } from "./distributions.ts";
import type { Formula } from "./formula.ts";
import { alongLine, parseFormula } from "./formula.ts";
import { choleskySemidefinite } from "./linear.ts";
import { resultText } from "./report.ts";

/** Value and standard uncertainty; dof left out = known exactly (infinite). */
export interface Uncertain {
  readonly value: number;
  readonly u: number;
  readonly dof?: number;
}

/** A finished result. dof and, in JSON, null stand for infinitely many. */
export interface Result {
  readonly value: number;
  readonly u: number;
  readonly dof: number;
  readonly k: number;
  readonly U: number;
  readonly text: string;
}

export interface Propagation extends Result {
  /** Share of each input: |cᵢ|·uᵢ, in the unit of the result. */
  readonly contributions: Readonly<Record<string, number>>;
  /** Second order only: what curvature adds to the mean (½ Σ f_ii uᵢ²); not applied to the value. */
  readonly bias?: number;
  readonly warnings: readonly string[];
}

export type Correlation = readonly [string, string, number];

export interface PropagateOptions {
  readonly correlations?: readonly Correlation[];
  readonly order?: 1 | 2;
  readonly level?: number;
  readonly unit?: string;
}

/** Value, u, dof, k, U and text. */
export function finish(value: number, u: number, dof: number, level = 0.95, unit = ""): Result {
  const k = coverageFactor(level, dof);
  const U = k * u;
  return { value, u, dof, k, U, text: resultText(value, U, unit) };
}

/** Propagates the inputs through the formula. @throws InputError for a bad formula, input or correlation. */
export function propagate(
  model: string,
  inputs: Readonly<Record<string, Uncertain>>,
  options: PropagateOptions = {},
): Propagation {
  const names = Object.keys(inputs);
  const formula = parseFormula(model, names);
  const x = names.map((name) => inputs[name]!.value);
  const u = names.map((name) => checkU(inputs[name]!.u, `inputs.${name}.u`));
  const covariance = covarianceOf(names, u, options.correlations ?? []);
  const factor = choleskySemidefinite(covariance);
  if (factor === undefined) throw notPossible(options.correlations ?? []);

  const value = alongLine(
    formula,
    x,
    names.map(() => 0),
    1,
  )[0]!;
  if (!Number.isFinite(value)) {
    throw new InputError({
      path: "model",
      found: `${model} = ${value} at the values given`,
      expected: "a model that has a finite value there",
    });
  }
  const gradient = names.map((name, i) => {
    // Only inputs that are uncertain need a derivative: sqrt(x) at an exact zero is no fault.
    if (u[i] === 0) return 0;
    const slope = alongLine(formula, x, unitVector(names.length, i), 1)[1]!;
    if (!Number.isFinite(slope)) {
      throw new InputError({
        path: `inputs.${name}`,
        found: `no derivative of ${model} by ${name} at ${x[i]}`,
        expected: "a model that is smooth there; the monte-carlo kind needs no derivative",
      });
    }
    return slope;
  });

  const first = factor.map((_, m) => factor.reduce((sum, row, i) => sum + row[m]! * gradient[i]!, 0));
  let variance = first.reduce((sum, v) => sum + v * v, 0);
  let bias: number | undefined;
  let curvature = 0;
  if (options.order === 2) {
    const second = secondOrder(formula, x, factor, gradient, covariance);
    curvature = second.variance;
    variance += curvature;
    bias = second.bias;
  }
  if (!(variance >= 0)) {
    throw new InputError({
      path: "order",
      found: `a second-order variance of ${variance}`,
      expected: "a model near enough to straight for second order; use the monte-carlo kind",
    });
  }
  const total = Math.sqrt(variance);
  const warnings = formula.unused.map((name) => `the model does not use ${name}`);
  const dof = effectiveDof(names, inputs, gradient, covariance, curvature, warnings);
  return {
    ...finish(value, total, dof, options.level, options.unit),
    contributions: Object.fromEntries(names.map((name, i) => [name, Math.abs(gradient[i]! * u[i]!)])),
    ...(bias === undefined ? {} : { bias }),
    warnings,
  };
}

/** Correlation of two results of the same inputs, to first order (GUM F.1.2.3, H.2). */
export function correlationOf(
  models: readonly [string, string],
  inputs: Readonly<Record<string, Uncertain>>,
  correlations: readonly Correlation[] = [],
): number {
  const names = Object.keys(inputs);
  const x = names.map((name) => inputs[name]!.value);
  const covariance = covarianceOf(
    names,
    names.map((name) => inputs[name]!.u),
    correlations,
  );
  const [a, b] = models.map((model) => {
    const formula = parseFormula(model, names);
    return names.map((_, i) => alongLine(formula, x, unitVector(names.length, i), 1)[1]!);
  });
  const form = (p: readonly number[], q: readonly number[]) =>
    p.reduce((sum, v, i) => sum + v * q.reduce((inner, w, j) => inner + covariance[i]![j]! * w, 0), 0);
  return form(a!, b!) / Math.sqrt(form(a!, a!) * form(b!, b!));
}

function unitVector(n: number, i: number): number[] {
  return Array.from({ length: n }, (_, j) => (i === j ? 1 : 0));
}

function secondOrder(
  formula: Formula,
  x: readonly number[],
  factor: readonly (readonly number[])[],
  gradient: readonly number[],
  covariance: readonly (readonly number[])[],
): { variance: number; bias: number } {
  const n = x.length;
  const columns = factor.map((_, m) => factor.map((row) => row[m]!)).filter((column) => column.some((v) => v !== 0));
  const sum = (a: readonly number[], b: readonly number[], s: number) => a.map((v, i) => v + s * b[i]!);
  // Second derivatives along the columns, mixed ones by polarisation.
  const h = (d: readonly number[]) => 2 * alongLine(formula, x, d, 2)[2]!;
  const own = columns.map(h);
  let quadratic = 0;
  for (let a = 0; a < columns.length; a++) {
    quadratic += own[a]! ** 2;
    for (let b = a + 1; b < columns.length; b++) {
      const mixed = (h(sum(columns[a]!, columns[b]!, 1)) - own[a]! - own[b]!) / 2;
      quadratic += 2 * mixed * mixed;
    }
  }
  // w = V g, so that Σ gᵢVᵢⱼVₖₗ f_jkl is the sum of third derivatives once along w and twice along each column.
  const w = Array.from({ length: n }, (_, i) => covariance[i]!.reduce((s, v, j) => s + v * gradient[j]!, 0));
  const size = Math.sqrt(w.reduce((s, v, i) => s + (covariance[i]![i]! > 0 ? (v * v) / covariance[i]![i]! : 0), 0));
  let third = 0;
  if (size > 0) {
    const along = w.map((v) => v / size);
    const t = (d: readonly number[]) => 6 * alongLine(formula, x, d, 3)[3]!;
    const alone = t(along);
    for (const column of columns) third += (t(sum(column, along, 1)) - t(sum(column, along, -1)) - 2 * alone) / 6;
    third *= size;
  }
  const variance = quadratic / 2 + third;
  if (!Number.isFinite(variance)) {
    throw new InputError({
      path: "order",
      found: "a model without second and third derivatives at the values given",
      expected: "order 1, or the monte-carlo kind",
    });
  }
  return { variance, bias: own.reduce((s, v) => s + v, 0) / 2 };
}

/** Covariance matrix of the inputs. @throws InputError for an unknown name or a coefficient beyond ±1. */
export function covarianceOf(
  names: readonly string[],
  u: readonly number[],
  correlations: readonly Correlation[],
): number[][] {
  const v = u.map((ui, i) => u.map((_, j) => (i === j ? ui * ui : 0)));
  correlations.forEach(([a, b, r], index) => {
    const i = names.indexOf(a);
    const j = names.indexOf(b);
    const path = `correlations[${index}]`;
    if (i < 0 || j < 0 || i === j) {
      throw new InputError({ path, found: `${a}, ${b}`, expected: `two different inputs of ${names.join(", ")}` });
    }
    if (!(r >= -1 && r <= 1)) {
      throw new InputError({ path: `${path}[2]`, found: String(r), expected: "a correlation from -1 to 1" });
    }
    v[i]![j] = r * u[i]! * u[j]!;
    v[j]![i] = v[i]![j]!;
  });
  return v;
}

export function notPossible(correlations: readonly Correlation[]): InputError {
  return new InputError({
    path: "correlations",
    found: correlations.map(([a, b, r]) => `${a}-${b} ${r}`).join(", "),
    expected: "correlations that can hold together (a positive semidefinite matrix)",
  });
}

export function checkU(u: number, path: string): number {
  if (!(u >= 0 && Number.isFinite(u))) {
    throw new InputError({ path, found: String(u), expected: "a standard uncertainty of 0 or more" });
  }
  return u;
}

/** Welch-Satterthwaite over independent components given as (u, dof). Infinity where nothing has finite dof. */
export function welchSatterthwaite(components: Iterable<readonly [number, number]>): number {
  let variance = 0;
  let sum = 0;
  for (const [u, dof] of components) {
    variance += u * u;
    if (Number.isFinite(dof)) sum += u ** 4 / dof;
  }
  return sum > 0 ? variance ** 2 / sum : Number.POSITIVE_INFINITY;
}

function effectiveDof(
  names: readonly string[],
  inputs: Readonly<Record<string, Uncertain>>,
  gradient: readonly number[],
  covariance: readonly (readonly number[])[],
  curvature: number,
  warnings: string[],
): number {
  const group = names.map((_, i) => i);
  const root = (i: number): number => (group[i] === i ? i : root(group[i]!));
  for (let i = 0; i < names.length; i++)
    for (let j = 0; j < i; j++) if (covariance[i]![j] !== 0) group[root(i)] = root(j);
  const components = new Map<number, { variance: number; dof: number; members: string[] }>();
  names.forEach((name, i) => {
    const key = root(i);
    const component = components.get(key) ?? { variance: 0, dof: Number.POSITIVE_INFINITY, members: [] };
    for (let j = 0; j < names.length; j++) component.variance += gradient[i]! * gradient[j]! * covariance[i]![j]!;
    component.dof = Math.min(component.dof, inputs[name]!.dof ?? Number.POSITIVE_INFINITY);
    component.members.push(name);
    components.set(key, component);
  });
  for (const { members, dof } of components.values()) {
    if (members.length > 1 && Number.isFinite(dof)) {
      warnings.push(
        `${members.join(", ")} are correlated: taken as one component with ${dof} degrees of freedom (the formula of G.4.1 needs independent inputs)`,
      );
    }
  }
  return welchSatterthwaite([
    ...[...components.values()].map(({ variance, dof }) => [Math.sqrt(Math.max(0, variance)), dof] as const),
    [Math.sqrt(Math.max(0, curvature)), Number.POSITIVE_INFINITY],
  ]);
}
