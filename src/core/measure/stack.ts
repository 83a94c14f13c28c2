/**
 * Tolerance stack: what production may vary. Not to be mixed with how well one unit was measured (closure.ts).
 *
 * Gap G = Σ aᵢxᵢ. Worst case Σ|aᵢ|tᵢ; root sum of squares; that times 1.5 (Bender 1962, recalled); capability:
 * σᵢ = tᵢ/(3·Cpᵢ), mean shift tᵢ(1 - Cpk/Cp) all against the gap. Methods surveyed by F. Scholz, Tolerance Stack Analysis Methods (1995).
 */
import { InputError } from "../errors.ts";
import { normalCdf } from "./distributions.ts";

export interface StackTerm {
  /** How the gap changes with the dimension: 1 or -1 in a straight stack. */
  readonly a: number;
  readonly value: number;
  /** Symmetric tolerance, ± t. */
  readonly t: number;
  readonly cp?: number;
  readonly cpk?: number;
  readonly name?: string;
}

export interface Stack {
  readonly gap: number;
  readonly worst: number;
  readonly rss: number;
  readonly inflated: number;
  /** Standard deviation of the gap by the capabilities (Cp 1 where none is given: t = 3σ). */
  readonly sigma: number;
  /** Mean shifts added up against the gap. */
  readonly shift: number;
  /** P(gap < minimum), normal, with the shifts all against it (cautious). */
  readonly probability: number;
  /** The same with shifts combined as root sum of squares. */
  readonly probabilityShiftRss: number;
  readonly minimum: number;
  /** The verdict of each method: does the gap stay at the minimum or above? */
  readonly clears: { readonly worst: boolean; readonly rss: boolean; readonly inflated: boolean };
  readonly assumption: string;
}

/** Bender's factor. */
export const INFLATION = 1.5;

export function toleranceStack(terms: readonly StackTerm[], minimum = 0): Stack {
  if (terms.length === 0)
    throw new InputError({ path: "terms", found: "no terms", expected: "at least one dimension" });
  terms.forEach((term, i) => {
    const path = `terms[${i}]`;
    if (!(term.t >= 0))
      throw new InputError({ path: `${path}.t`, found: String(term.t), expected: "a tolerance of 0 or more" });
    for (const key of ["cp", "cpk"] as const) {
      const c = term[key];
      if (c !== undefined && !(c > 0)) {
        throw new InputError({ path: `${path}.${key}`, found: String(c), expected: "a capability above 0" });
      }
    }
    if ((term.cpk ?? 0) > (term.cp ?? term.cpk ?? 0)) {
      throw new InputError({ path: `${path}.cpk`, found: String(term.cpk), expected: `at most cp (${term.cp})` });
    }
  });
  const sum = (of: (term: StackTerm) => number) => terms.reduce((total, term) => total + of(term), 0);
  const root = (of: (term: StackTerm) => number) => Math.sqrt(sum((term) => of(term) ** 2));
  // Cpk alone: a centred process, so that Cp equals it.
  const cp = (term: StackTerm) => term.cp ?? term.cpk ?? 1;
  const moved = (term: StackTerm) => term.t * (1 - (term.cpk ?? cp(term)) / cp(term));
  const gap = sum((term) => term.a * term.value);
  const worst = sum((term) => Math.abs(term.a) * term.t);
  const rss = root((term) => term.a * term.t);
  const sigma = root((term) => (term.a * term.t) / (3 * cp(term)));
  const shift = sum((term) => Math.abs(term.a) * moved(term));
  const shiftRss = root((term) => term.a * moved(term));
  const below = (mean: number) => (sigma === 0 ? (mean < minimum ? 1 : 0) : normalCdf((minimum - mean) / sigma));
  const capable = terms.some((term) => term.cp !== undefined || term.cpk !== undefined);
  return {
    gap,
    worst,
    rss,
    inflated: INFLATION * rss,
    sigma,
    shift,
    probability: below(gap - shift),
    probabilityShiftRss: below(gap - shiftRss),
    minimum,
    clears: {
      worst: gap - worst >= minimum,
      rss: gap - rss >= minimum,
      inflated: gap - INFLATION * rss >= minimum,
    },
    assumption: `independent, normal, ${capable ? "capabilities as given" : "t = 3 sigma (Cp 1)"}, mean shifts ${shift > 0 ? "all against the gap" : "none"}`,
  };
}
