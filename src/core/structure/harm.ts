/**
 * Expected damage of a release in one currency: chance times price of what it may break, plus the full price of what it
 * destroys. Counted in whole millionths, so that sums are exact.
 */
import { InputError } from "../errors.ts";
import type { Money, Release } from "../record/index.ts";
import { allowed, type View } from "./view.ts";

export interface Harm {
  /** Millionths of the currency for each release, in the order of the record (joint by joint). */
  of(release: Release): number;
  readonly currency: string | null;
  /** More than one currency stands behind the releases that may be used. */
  readonly mixed: readonly string[];
  readonly unpriced: readonly string[];
}

/** Prices everything that the usable releases may harm. */
export function harmOf(view: View): Harm {
  const currencies = new Set<string>();
  const unpriced = new Set<string>();
  const price = (id: string): number => {
    const money = view.parts.get(id)?.spare?.price;
    if (money === undefined) {
      unpriced.add(id);
      return 0;
    }
    currencies.add(money.currency);
    return millionths(money);
  };
  const harms = new Map<Release, number>();
  for (const joint of view.record.joints) {
    for (const release of joint.releases) {
      if (!allowed(release, view.terms)) continue;
      let sum = 0;
      for (const harm of release.harm ?? []) sum += Math.round(price(harm.part) * harm.chance);
      for (const part of release.destroys ?? []) sum += price(part);
      harms.set(release, sum);
    }
  }
  if (currencies.size === 0)
    for (const part of view.record.parts) if (part.spare?.price) currencies.add(part.spare.price.currency);
  const sorted = [...currencies].sort();
  return {
    of: (release) => harms.get(release) ?? 0,
    currency: sorted.length === 1 ? sorted[0] : null,
    mixed: sorted.length > 1 ? sorted : [],
    unpriced: [...unpriced],
  };
}

/** Refuses a question about risk where prices stand in more than one currency. @throws InputError */
export function requireOneCurrency(harm: Harm): void {
  if (harm.mixed.length === 0) return;
  throw new InputError({
    path: "parts[].spare.price.currency",
    found: `prices in ${harm.mixed.join(" and ")}`,
    expected: "prices in one currency, to add up what may be damaged",
  });
}

/** Millionths of an exact decimal amount. */
export function millionths(money: Money): number {
  const [whole, fraction = ""] = money.amount.split(".");
  return Number(whole) * 1_000_000 + Number(fraction.padEnd(6, "0"));
}

/** An exact decimal amount, with two digits after the point, or more where they are needed. */
export function moneyOf(amount: number, currency: string): Money {
  const whole = Math.floor(amount / 1_000_000);
  const fraction = String(amount % 1_000_000)
    .padStart(6, "0")
    .replace(/0{1,4}$/, "");
  return { amount: `${whole}.${fraction}`, currency };
}
