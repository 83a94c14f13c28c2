/**
 * Price of a swap: parts and consumables exactly, labour by the simulated hours, what breaks on the way by the chance drawn
 * from its Beta, a reserve for warranty repeats, margin as a share of the net price and tax on it.
 *
 * cost = parts + consumables + labour (1 + overhead) + damage; net = cost (1 + warranty) / (1 - margin); price = net (1 + tax).
 */

import { seededRandom } from "../../measure/random.ts";
import type { Money, TeardownRecord } from "../../record/index.ts";
import type { Branch } from "../../route/ways/index.ts";
import { drawBeta, drawPert, sampleQuantile } from "../draws.ts";
import { currenciesOf, microsOf, moneyFrom, toHundredths } from "../money.ts";
import type { Needs } from "./needs.ts";
import { type SwapSettings, USUAL_LABOUR } from "./question.ts";
import type { RiskItem } from "./risk.ts";
import { DAY, type Timed } from "./times.ts";

export interface SwapPrice {
  readonly p10: string;
  readonly p50: string;
  readonly p90: string;
  readonly currency: string;
}

/** Distributions as quantiles: at `share[i]` of jobs it takes at most `seconds[i]` hands on and costs at most `price[i]`. */
export interface Spread {
  readonly share: readonly number[];
  readonly seconds: readonly number[];
  /** null where no price can be told. */
  readonly price: readonly number[] | null;
}

/** 1 %, every 5 % and 99 %. */
const SHARES: readonly number[] = [0.01, ...Array.from({ length: 19 }, (_, i) => (i + 1) / 20), 0.99];

export interface PriceParts {
  readonly parts: Money;
  readonly consumables: Money;
  readonly labourAnHour: Money;
}

export interface Simulated {
  /** Hands-on seconds. */
  readonly p50: number;
  readonly p90: number;
  readonly mean: number;
  readonly spread: Spread;
  readonly price: SwapPrice | null;
  readonly why?: string;
  readonly made?: PriceParts;
}

export interface ToSimulate {
  readonly times: readonly Timed[];
  readonly branches: readonly Branch[];
  readonly items: readonly RiskItem[];
  readonly learning: number;
}

export function simulateSwap(
  record: TeardownRecord,
  needs: Needs,
  work: ToSimulate,
  settings: SwapSettings,
): Simulated {
  const { seconds, harmed } = draw(work, settings);
  const sorted = Float64Array.from(seconds).sort();
  const times = {
    p50: toMs(sampleQuantile(sorted, 0.5)),
    p90: toMs(sampleQuantile(sorted, 0.9)),
    mean: toMs(seconds.reduce((sum, one) => sum + one, 0) / seconds.length),
  };
  const share = SHARES;
  const quantiles = share.map((p) => toMs(sampleQuantile(sorted, p)));
  const known = priced(record, needs, work, settings);
  if (!("made" in known))
    return { ...times, spread: { share, seconds: quantiles, price: null }, price: null, why: known.why };
  const { currency, fixed, labour, harms } = known;
  const prices = Float64Array.from(seconds, (time, trial) => {
    const damage = harmed[trial]!.reduce((sum, item) => sum + harms[item]!, 0);
    const cost = fixed + (time / 3600) * labour * (1 + settings.overhead) + damage;
    return ((cost * (1 + settings.warranty)) / (1 - settings.margin)) * (1 + settings.tax);
  }).sort();
  const at = (p: number): string =>
    moneyFrom(toHundredths(BigInt(Math.round(sampleQuantile(prices, p)))), currency).amount;
  return {
    ...times,
    spread: { share, seconds: quantiles, price: share.map((p) => Number(at(p))) },
    price: { p10: at(0.1), p50: at(0.5), p90: at(0.9), currency },
    made: known.made,
  };
}

const toMs = (seconds: number): number => Math.round(seconds * 1000) / 1000;

/** Hands-on seconds of each trial, and which harms came true in it. */
function draw({ times, branches, items, learning }: ToSimulate, { seed, trials }: SwapSettings) {
  const random = seededRandom(seed);
  // Streams of their own, so that a branch or a harm more leaves the other draws as they were.
  const chances = seededRandom(seed + 2 ** 33);
  const harms = seededRandom(seed + 2 ** 34);
  const seconds = new Float64Array(trials);
  const harmed: number[][] = [];
  for (let trial = 0; trial < trials; trial += 1) {
    const day = Math.exp(DAY * random.normal());
    let work = 0;
    let fixed = 0;
    for (const timed of times) {
      if (timed.kind === "fixed") fixed += timed.seconds;
      else if (timed.kind === "lognormal") work += Math.exp(timed.m + timed.s * random.normal());
      else work += drawPert(random, timed.low, timed.usual, timed.high);
    }
    for (const branch of branches)
      if (chances.uniform() < branch.chance)
        work += drawPert(chances, branch.seconds * 0.7, branch.seconds, branch.seconds * 1.6);
    seconds[trial] = work * day * learning + fixed;
    const hit: number[] = [];
    items.forEach((item, index) => {
      const chance = item.a > 0 && item.b > 0 ? drawBeta(harms, item.a, item.b) : item.chance;
      if (harms.uniform() < chance && !item.replaced) hit.push(index);
    });
    harmed.push(hit);
  }
  return { seconds, harmed };
}

interface Priced {
  readonly currency: string;
  readonly fixed: number;
  /** Millionths an hour. */
  readonly labour: number;
  /** Millionths by risk item. */
  readonly harms: readonly number[];
  readonly made: PriceParts;
}

/** What the price rests on, or why it cannot be told. */
function priced(
  record: TeardownRecord,
  needs: Needs,
  { items }: ToSimulate,
  settings: SwapSettings,
): Priced | { why: string } {
  const missing = [
    ...needs.parts.filter(({ price }) => price === null).map(({ name }) => name),
    ...needs.consumables.filter(({ price }) => price === null).map(({ name }) => name),
  ];
  if (missing.length > 0) return { why: `No price is known for ${missing.join(", ")}.` };
  const harmPrices = items.map((item) =>
    item.replaced ? undefined : record.parts.find(({ id }) => id === item.part)?.spare?.price,
  );
  const amounts = [
    ...needs.parts.map(({ price }) => price),
    ...needs.consumables.map(({ price }) => price),
    ...harmPrices,
  ];
  const currencies = currenciesOf(amounts);
  if (currencies.length > 1) return { why: `Prices stand in ${currencies.join(" and ")}: they are not added up.` };
  const currency = settings.currency ?? currencies[0] ?? USUAL_LABOUR.currency;
  if (currencies.length === 1 && currency !== currencies[0])
    return { why: `Prices stand in ${currencies[0]} and the labour rate in ${currency}: they are not added up.` };
  if (settings.labour === null && currency !== USUAL_LABOUR.currency)
    return { why: `No labour rate in ${currency} is given (setting labour, --labour).` };
  const labour = { amount: settings.labour ?? USUAL_LABOUR.amount, currency };
  const sum = (prices: readonly (Money | null | undefined)[]): bigint =>
    prices.reduce((all, one) => all + (one ? microsOf(one) : 0n), 0n);
  const parts = sum(needs.parts.map(({ price }) => price));
  const consumables = sum(needs.consumables.map(({ price }) => price));
  return {
    currency,
    fixed: Number(parts + consumables),
    labour: Number(microsOf(labour)),
    harms: harmPrices.map((price) => (price ? Number(microsOf(price)) : 0)),
    made: { parts: moneyFrom(parts, currency), consumables: moneyFrom(consumables, currency), labourAnHour: labour },
  };
}
