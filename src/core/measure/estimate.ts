/**
 * A figure that remembers where its uncertainty comes from.
 *
 * value ± Σ termₖ, where every term belongs to a named source (the scatter of one reading, the offset of one
 * instrument, one zero reading) and sources are independent of one another. Adding and subtracting figures adds the
 * terms of each source with their signs, so that what is shared cancels in a difference and piles up in a sum without any
 * covariance being written down. Non-linear results are linearised (GUM 5.1).
 */
import type { UnitName } from "../record/schema.ts";
import { coverageFactor } from "./distributions.ts";
import type { Result, Uncertain } from "./propagate.ts";
import { finish, welchSatterthwaite } from "./propagate.ts";

export interface Term {
  /** Signed: sensitivity times standard uncertainty of the source, in the unit of the figure. */
  readonly u: number;
  readonly dof: number;
}

export interface Estimate {
  readonly kind: "estimate";
  readonly value: number;
  readonly unit: UnitName | "Wh/kg" | "Wh/L" | "";
  readonly terms: ReadonlyMap<string, Term>;
  /** Ids of the readings that it is made of. */
  readonly readings: readonly string[];
}

export function estimate(
  value: number,
  unit: Estimate["unit"],
  terms: Iterable<readonly [string, Term]> = [],
  readings: readonly string[] = [],
): Estimate {
  return { kind: "estimate", value, unit, terms: new Map([...terms].filter(([, term]) => term.u !== 0)), readings };
}

/** Σ weightᵢ·figureᵢ. */
export function combine(
  parts: readonly (readonly [Estimate, number])[],
  unit: Estimate["unit"] = parts[0]?.[0].unit ?? "",
  value = parts.reduce((sum, [part, weight]) => sum + weight * part.value, 0),
): Estimate {
  const terms = new Map<string, Term>();
  for (const [part, weight] of parts) {
    for (const [source, term] of part.terms) {
      terms.set(source, { u: (terms.get(source)?.u ?? 0) + weight * term.u, dof: term.dof });
    }
  }
  return estimate(value, unit, terms, [...new Set(parts.flatMap(([part]) => part.readings))]);
}

export const add = (...parts: readonly Estimate[]): Estimate => combine(parts.map((part) => [part, 1] as const));
export const subtract = (a: Estimate, b: Estimate): Estimate =>
  combine([
    [a, 1],
    [b, -1],
  ]);

/** a·b·factor, linearised. */
export function multiply(a: Estimate, b: Estimate, unit: Estimate["unit"], factor = 1): Estimate {
  return combine(
    [
      [a, b.value * factor],
      [b, a.value * factor],
    ],
    unit,
    a.value * b.value * factor,
  );
}

/** a/b·factor, linearised. */
export function divide(a: Estimate, b: Estimate, unit: Estimate["unit"], factor = 1): Estimate {
  return combine(
    [
      [a, factor / b.value],
      [b, (-a.value * factor) / b.value ** 2],
    ],
    unit,
    (a.value / b.value) * factor,
  );
}

export function standardUncertainty(figure: Estimate): number {
  let sum = 0;
  for (const term of figure.terms.values()) sum += term.u * term.u;
  return Math.sqrt(sum);
}

/** Welch-Satterthwaite; exact in its premise here, since sources are independent. */
export function degreesOfFreedom(figure: Estimate): number {
  return welchSatterthwaite([...figure.terms.values()].map((term) => [term.u, term.dof] as const));
}

/** Half of the interval at a level: t·u; 0 of a figure known exactly. */
export function expandedUncertainty(figure: Estimate, level = 0.95): number {
  const u = standardUncertainty(figure);
  return u === 0 ? 0 : coverageFactor(level, degreesOfFreedom(figure)) * u;
}

export function covariance(a: Estimate, b: Estimate): number {
  let sum = 0;
  for (const [source, term] of a.terms) sum += term.u * (b.terms.get(source)?.u ?? 0);
  return sum;
}

export function uncertain(figure: Estimate): Uncertain {
  const dof = degreesOfFreedom(figure);
  return { value: figure.value, u: standardUncertainty(figure), ...(Number.isFinite(dof) ? { dof } : {}) };
}

/** Value, u, dof, k, U and text. */
export function result(figure: Estimate, level = 0.95): Result {
  return finish(figure.value, standardUncertainty(figure), degreesOfFreedom(figure), level, figure.unit);
}

/** Sources whose errors two figures have in common, most important first. */
export function sharedSources(a: Estimate, b: Estimate): string[] {
  return [...a.terms.keys()]
    .filter((source) => b.terms.has(source) && /^(offset|gain|zero)/.test(source))
    .sort((s, t) => Math.abs(b.terms.get(t)!.u) - Math.abs(b.terms.get(s)!.u));
}
