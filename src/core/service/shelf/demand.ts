/**
 * Demand of one shelf item over a horizon. Each job it goes into has a rate known from counts, so a gamma; a job takes `amount`
 * of the item with some chance. Rates of several jobs are added by matching mean and variance, which is exact where all were
 * counted over the same days. Prior: Jeffreys, one for the item.
 *
 * Equal amounts: a negative binomial times the amount. Unequal ones: by simulation, seeded.
 */
import { seededRandom } from "../../measure/random.ts";
import { drawGamma, sampleQuantile } from "../draws.ts";
import { gammaPoisson, smallestStock } from "../reckon/counts.ts";

export interface DemandSource {
  readonly count: number;
  readonly days: number;
  /** Of the item, each job. */
  readonly amount: number;
  /** That a job takes it: 1, or the chance that a part is damaged. */
  readonly chance: number;
}

export interface Rate {
  /** Jobs a day: gamma. */
  readonly shape: number;
  readonly rate: number;
}

export function rateOf(sources: readonly DemandSource[]): Rate {
  const longest = Math.max(...sources.map(({ days }) => days));
  // The prior is one of jobs; an item that few jobs take has its share of it.
  const likeliest = Math.max(...sources.map(({ chance }) => chance));
  let mean = (0.5 * likeliest) / longest;
  let variance = 0.5 * (likeliest / longest) ** 2;
  for (const { count, days, chance } of sources) {
    mean += (chance * count) / days;
    variance += (chance ** 2 * count) / days ** 2;
  }
  return { shape: mean ** 2 / variance, rate: mean / variance };
}

export interface ItemDemand {
  readonly mean: number;
  readonly sd: number;
  /** The smallest stock that serves this share of cycles. */
  readonly keep: number;
  /** Share of cycles that it serves. */
  readonly served: number;
}

const TRIALS = 20_000;

export function itemDemand(sources: readonly DemandSource[], days: number, service: number, seed: number): ItemDemand {
  const amounts = new Set(sources.map(({ amount }) => amount));
  const [only] = amounts;
  if (amounts.size === 1 && only !== undefined) {
    const { shape, rate } = rateOf(sources);
    const counts = gammaPoisson(shape, rate, days);
    const jobs = smallestStock(counts, service);
    return {
      mean: counts.mean * only,
      sd: Math.sqrt(counts.variance) * only,
      keep: Number((jobs * only).toPrecision(12)),
      served: counts.cdf(jobs),
    };
  }
  return simulated(sources, days, service, seed);
}

function simulated(sources: readonly DemandSource[], days: number, service: number, seed: number): ItemDemand {
  const random = seededRandom(seed);
  const share = 0.5 / sources.length;
  const totals = new Float64Array(TRIALS);
  for (let trial = 0; trial < TRIALS; trial += 1) {
    let total = 0;
    for (const { count, days: counted, amount, chance } of sources) {
      const lambda = (drawGamma(random, count + share) / counted) * days * chance;
      total += amount * drawPoisson(lambda, random.uniform, random.normal);
    }
    totals[trial] = total;
  }
  const mean = totals.reduce((sum, one) => sum + one, 0) / TRIALS;
  const variance = totals.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (TRIALS - 1);
  totals.sort();
  const keep = sampleQuantile(totals, service);
  return {
    mean,
    sd: Math.sqrt(variance),
    keep: Number(keep.toPrecision(12)),
    served: totals.filter((one) => one <= keep + 1e-9).length / TRIALS,
  };
}

/** By multiplication of uniforms; above 500, where that would be slow, a rounded normal. */
function drawPoisson(mean: number, uniform: () => number, normal: () => number): number {
  if (mean > 500) return Math.max(0, Math.round(mean + Math.sqrt(mean) * normal()));
  let left = mean;
  let count = -1;
  while (left >= 0) {
    left += Math.log(uniform());
    count += 1;
  }
  return count;
}
