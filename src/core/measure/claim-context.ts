/** What every judge of a claim is given, and what it answers. */
import type { Claim, QuantityName, UnitName } from "../record/schema.ts";
import { convert, UNITS } from "../units/index.ts";
import type { Side } from "./claim-sides.ts";
import type { Ruling } from "./claim-verdict.ts";
import { lastPlace } from "./claim-verdict.ts";
import type { Estimate } from "./estimate.ts";
import { degreesOfFreedom, standardUncertainty } from "./estimate.ts";
import type { Bench } from "./readings.ts";

/** What a judge of one relation found. */
export interface Judged {
  readonly ruling?: Ruling;
  readonly wording: string;
  readonly sides: readonly Side[];
  readonly smallest?: number;
  readonly unit: Estimate["unit"];
  readonly warnings?: readonly string[];
  /** A condition beyond the statistics that forbids a verdict. */
  readonly blocked?: string;
  /** A condition that only has to be said. */
  readonly said?: string;
}

export interface ClaimContext {
  readonly claim: Claim;
  readonly quantity: QuantityName;
  readonly bench: Bench;
  readonly sibling: Bench | undefined;
  readonly unit: UnitName;
}

/** Value, u and dof of a figure. */
export function measured(figure: Estimate): { value: number; u: number; dof: number } {
  return { value: figure.value, u: standardUncertainty(figure), dof: degreesOfFreedom(figure) };
}

export function cannot(context: Pick<ClaimContext, "unit">, because: string): Judged {
  return { wording: `It cannot be told: ${because}.`, sides: [], unit: context.unit };
}

/** The claimed figure in the base unit and the value of its last place; `relative`: a share, in per cent. */
export function claimed({
  claim,
  unit,
}: ClaimContext): { value: number; place: number; relative: boolean } | undefined {
  if (claim.value === undefined) return undefined;
  const place = lastPlace(claim.value);
  if (claim.unit === undefined) return { value: claim.value, place, relative: false };
  if (UNITS[claim.unit].dimension === UNITS[unit].dimension) {
    const inBase = (value: number) => convert(value, claim.unit!, unit, true);
    return { value: inBase(claim.value), place: Math.abs(inBase(place)), relative: false };
  }
  // A record's claims are in a unit of their quantity, in per cent, or in 1 ("a tenth lighter").
  const percent = claim.unit === "%" ? 1 : 100;
  return { value: claim.value * percent, place: place * percent, relative: true };
}
