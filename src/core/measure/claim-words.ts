/** What may honestly be said instead of a claim: short sentences with the figure, its interval and what limits it. */
import type { Claim } from "../record/schema.ts";
import type { Ruling } from "./claim-verdict.ts";
import type { Estimate } from "./estimate.ts";
import { fixed, probabilityText, resultText, roundUncertainty } from "./report.ts";

/** Comparative and its opposite. */
const OPPOSITE: Partial<Record<Claim["relation"], Claim["relation"]>> = {
  lighter: "heavier",
  heavier: "lighter",
  thinner: "thicker",
  thicker: "thinner",
  smaller: "larger",
  larger: "smaller",
  shorter: "longer",
  longer: "shorter",
  more: "fewer",
  fewer: "more",
};

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

const half = (ruling: Ruling) => (ruling.interval[1] - ruling.interval[0]) / 2;

/** "0.24 ± 0.05 g", with the sign taken off. */
export function size(ruling: Ruling, unit: Estimate["unit"], scale = 1): string {
  return resultText(Math.abs(ruling.value) * scale, half(ruling) * scale, unit);
}

/** A difference that can be told, to the digits of its uncertainty, rounded up. */
export function leastText(least: number, unit: Estimate["unit"]): string {
  if (!(least > 0)) return "any";
  const { place, value } = roundUncertainty(least, "up");
  return `${fixed(value, place)}${unit === "1" || unit === "" ? "" : ` ${unit}`}`;
}

export function directionWords(
  relation: Claim["relation"],
  own: string,
  other: string,
  ruling: Ruling,
  unit: Estimate["unit"],
  least: number,
): string {
  const isCount = relation === "more" || relation === "fewer";
  const by = size(ruling, unit);
  // A count has nothing to be added to the comparative: "28 fewer".
  if (ruling.verdict === "supported") return `${capital(own)}: ${by} ${relation} than ${other}.`;
  if (ruling.verdict === "not-supported") {
    const opposite = OPPOSITE[relation] ?? relation;
    if (ruling.value === 0) return `${capital(own)} and ${other} are equal.`;
    return ruling.value < 0
      ? `${capital(own)}: not ${relation} but ${by} ${opposite} than ${other}.`
      : `${capital(own)}: ${by} ${relation} than ${other}, not the figure claimed.`;
  }
  const which = isCount ? `has ${relation}` : `is ${relation}`;
  if (ruling.because !== undefined) return `${capital(own)}: ${by} ${relation} than ${other} (${ruling.because}).`;
  const signed = ruling.value < 0 ? "the other way " : "";
  return `It cannot be told whether ${own} ${which} than ${other}: they differ by ${signed}${by}; from ${leastText(least, unit)} on it could be told with these instruments.`;
}

/** Bands as they are spoken; "about half" for 0.5. */
export function fractionWords(own: string, other: string, ruling: Ruling, q: number): string {
  const share = resultText(ruling.value * 100, half(ruling) * 100, "%");
  const where =
    ruling.verdict === "cannot-tell"
      ? `; whether that is ${saidFraction(q, ruling)} cannot be told`
      : ruling.verdict === "not-supported"
        ? `, which is not ${saidFraction(q, ruling)}`
        : "";
  return `${capital(own)}: ${share} of ${other}${where}.`;
}

function saidFraction(q: number, ruling: Ruling): string {
  const percent = (x: number) => `${Number((x * 100).toPrecision(3))} %`;
  const { threshold } = ruling;
  return typeof threshold === "number"
    ? `past ${percent(q)}`
    : `within ${percent(threshold[0])} to ${percent(threshold[1])}`;
}

export function sameWords(own: string, other: string, ruling: Ruling, unit: Estimate["unit"], delta: number): string {
  const to = `${Number(delta.toPrecision(6))}${unit === "1" ? "" : ` ${unit}`}`;
  const by = size(ruling, unit);
  if (ruling.verdict === "supported")
    return `${capital(own)} and ${other} are the same to within ${to} (difference ${by}).`;
  if (ruling.verdict === "not-supported") return `${capital(own)} and ${other} differ by ${by}, more than ${to}.`;
  return `Whether ${own} and ${other} are the same to within ${to} cannot be told: they differ by ${by}.`;
}

export function valueWords(
  own: string,
  quantity: string,
  ruling: Ruling,
  unit: Estimate["unit"],
  stated: string,
): string {
  const measured = `${capital(own)}: ${quantity} ${resultText(ruling.value, half(ruling), unit)}`;
  if (ruling.verdict === "supported") return `${measured}.`;
  if (ruling.verdict === "not-supported") return `${measured}, not ${stated}.`;
  return `${measured}; ${ruling.because ?? `whether that is ${stated} cannot be told`}.`;
}

export function probabilityWords(ruling: Ruling): string {
  return `P ${probabilityText(ruling.probability)}`;
}
