/**
 * Exact money: whole millionths of one currency as BigInt, so that sums and shares of packs have no binary tails. Currencies
 * are never mixed: whatever adds up amounts takes them through `sumOf`.
 */
import { InputError } from "../errors.ts";
import type { Money } from "../record/index.ts";

const MILLION = 1_000_000n;

export function microsOf(money: Money): bigint {
  const [whole = "0", fraction = ""] = money.amount.split(".");
  return BigInt(whole) * MILLION + BigInt(fraction.padEnd(6, "0"));
}

/** An exact decimal, with two digits after the point, or more where they are needed. */
export function moneyFrom(micros: bigint, currency: string): Money {
  const fraction = String(micros % MILLION)
    .padStart(6, "0")
    .replace(/0{1,4}$/, "");
  return { amount: `${micros / MILLION}.${fraction}`, currency };
}

/** Rounded half up to hundredths, as prices are asked. */
export function toHundredths(micros: bigint): bigint {
  return ((micros + 5_000n) / 10_000n) * 10_000n;
}

/** micros * factor, rounded half up; the factor is a decimal number such as 0.25 and is taken as it is written. */
export function times(micros: bigint, factor: number): bigint {
  const [numerator, denominator] = fractionOf(factor);
  return (2n * micros * numerator + denominator) / (2n * denominator);
}

/** A finite number of 0 or more as a fraction of whole numbers, exact as written in decimal. */
export function fractionOf(value: number): [bigint, bigint] {
  if (!(value >= 0 && Number.isFinite(value)))
    throw new InputError({ path: "", found: String(value), expected: "a finite number of 0 or more" });
  const [digits = "0", exponent = "0"] = value.toExponential().split("e");
  const [whole = "0", fraction = ""] = digits.split(".");
  const power = Number(exponent) - fraction.length;
  const numerator = BigInt(whole + fraction);
  return power >= 0 ? [numerator * 10n ** BigInt(power), 1n] : [numerator, 10n ** BigInt(-power)];
}

/** The one currency of several amounts; undefined where there is none at all. */
export function currenciesOf(amounts: readonly (Money | null | undefined)[]): string[] {
  return [...new Set(amounts.flatMap((money) => (money ? [money.currency] : [])))].sort();
}
