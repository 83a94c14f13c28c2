/**
 * What changes cost, from a list of our own format: an entry holds for every change that has all the keys it names, the entry
 * with the most keys first. Changes that no entry prices are not made.
 *
 *     { "format": "unseam-costs/1", "costs": [
 *       { "change": "whole", "cost": { "amount": "0.40", "currency": "EUR" } },
 *       { "change": "whole", "joint": "rim", "cost": { "amount": "1.10", "currency": "EUR" } } ] }
 */
import type { Fault } from "../../errors.ts";
import { nearest } from "../../record/nearest.ts";
import type { Money } from "../../record/schema.ts";
import { foundText } from "../../record/schema-faults.ts";
import type { Change } from "./changes.ts";

export const CHANGE_WORDS = [
  "whole",
  "brings",
  "basic",
  "with-spare-part",
  "leaves-reach",
  "leaves-under",
  "no-heat",
  "no-notification",
  "no-authorisation",
  "offer",
  "updates",
  "information",
] as const satisfies Change["change"][];
const KEYS = ["change", "joint", "release", "part", "of", "tool", "role", "to", "cost"] as const;

export interface Prices {
  readonly entries: readonly { readonly keys: Readonly<Record<string, unknown>>; readonly cost: Money }[];
}

export type PricesCheck =
  | { readonly ok: true; readonly prices: Prices }
  | { readonly ok: false; readonly faults: readonly Fault[] };

export function priceOf(prices: Prices, change: Change): Money | undefined {
  const facts = change as unknown as Readonly<Record<string, unknown>>;
  let best: (typeof prices.entries)[number] | undefined;
  for (const entry of prices.entries) {
    if (!Object.entries(entry.keys).every(([key, value]) => facts[key] === value)) continue;
    if (best === undefined || Object.keys(entry.keys).length > Object.keys(best.keys).length) best = entry;
  }
  return best?.cost;
}

/** Reads a list of prices; all faults at once. */
export function parsePrices(value: unknown): PricesCheck {
  const faults: Fault[] = [];
  const fault = (path: string, found: unknown, expected: string, near?: string): void => {
    faults.push({ path, found: foundText(found), expected, ...(near === undefined ? {} : { nearest: near }) });
  };
  const root = object(value);
  if (root === undefined) fault("", value, 'an object with "format" and "costs"');
  else if (root.format !== "unseam-costs/1") fault("format", root.format, '"unseam-costs/1"');
  const list = root?.costs;
  if (root !== undefined && !Array.isArray(list)) fault("costs", list, "a list of prices");
  const currencies = new Set<string>();
  const entries: { keys: Record<string, unknown>; cost: Money }[] = [];
  (Array.isArray(list) ? list : []).forEach((item: unknown, index) => {
    const path = `costs[${index}]`;
    const entry = object(item);
    if (entry === undefined) return fault(path, item, "an object with change and cost");
    for (const key of Object.keys(entry))
      if (!(KEYS as readonly string[]).includes(key))
        fault(`${path}.${key}`, key, `one of the keys ${KEYS.join(", ")}`, nearest(key, KEYS));
    const { cost, ...keys } = entry;
    if (!(CHANGE_WORDS as readonly unknown[]).includes(keys.change)) {
      const near = typeof keys.change === "string" ? nearest(keys.change, CHANGE_WORDS) : undefined;
      fault(`${path}.change`, keys.change, `one of ${CHANGE_WORDS.join(", ")}`, near);
    }
    const money = object(cost);
    if (money === undefined || !isAmount(money.amount) || !isCurrency(money.currency))
      return fault(`${path}.cost`, cost, '{ "amount": "12.50", "currency": "EUR" }');
    currencies.add(money.currency);
    entries.push({ keys, cost: { amount: money.amount, currency: money.currency } });
  });
  if (currencies.size > 1) fault("costs", [...currencies].join(" and "), "prices in one currency");
  return faults.length > 0 ? { ok: false, faults } : { ok: true, prices: { entries } };
}

function isAmount(value: unknown): value is string {
  return typeof value === "string" && /^\d{1,9}(\.\d{1,6})?$/.test(value);
}

function isCurrency(value: unknown): value is string {
  return typeof value === "string" && /^[A-Z]{3}$/.test(value);
}

function object(value: unknown): Record<string, unknown> | undefined {
  return value !== null && typeof value === "object" && !Array.isArray(value)
    ? (value as Record<string, unknown>)
    : undefined;
}
