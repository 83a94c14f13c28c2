/**
 * One order for an uncertain demand: the best quantity is the smallest with F(Q) >= cu / (cu + co), where each unit too few
 * costs cu and each too many co (Arrow, Harris and Marschak 1951).
 */
import { normalCdf, normalDensity, normalQuantile } from "../../measure/distributions.ts";
import { backorders, type Counts, smallestStock } from "./counts.ts";

export interface Order {
  readonly ratio: number;
  readonly Q: number;
  /** P(demand <= Q). */
  readonly cdf: number;
  /** Expected units short and left over. */
  readonly short: number;
  readonly over: number;
  /** Expected cost of both. */
  readonly cost: number;
}

const order = (ratio: number, Q: number, cdf: number, short: number, over: number, cu: number, co: number): Order => ({
  ratio,
  Q,
  cdf,
  short,
  over,
  cost: cu * short + co * over,
});

export function orderNormal(mu: number, sd: number, cu: number, co: number): Order & { readonly z: number } {
  const ratio = cu / (cu + co);
  const z = normalQuantile(ratio);
  const short = sd * (normalDensity(z) - z * normalCdf(-z));
  return { ...order(ratio, mu + z * sd, ratio, short, short + z * sd, cu, co), z };
}

export function orderUniform(low: number, high: number, cu: number, co: number): Order {
  const ratio = cu / (cu + co);
  const span = high - low;
  return order(ratio, low + ratio * span, ratio, (span * (1 - ratio) ** 2) / 2, (span * ratio ** 2) / 2, cu, co);
}

export function orderCounts(counts: Counts, cu: number, co: number): Order & { readonly costs: readonly Priced[] } {
  const ratio = cu / (cu + co);
  const Q = smallestStock(counts, ratio);
  const at = (s: number): Order => {
    const short = backorders(counts, s);
    return order(ratio, s, counts.cdf(s), short, s - counts.mean + short, cu, co);
  };
  const costs = [Q - 1, Q, Q + 1].filter((s) => s >= 0).map((s) => ({ Q: s, cost: at(s).cost }));
  return { ...at(Q), costs };
}

export interface Priced {
  readonly Q: number;
  readonly cost: number;
}

/** Demand as values with their chances, which add up to 1. */
export function orderTable(table: readonly { value: number; chance: number }[], cu: number, co: number): Order {
  const ratio = cu / (cu + co);
  const sorted = [...table].sort((a, b) => a.value - b.value);
  let cdf = 0;
  let Q = sorted.at(-1)!.value;
  for (const { value, chance } of sorted) {
    cdf += chance;
    if (cdf >= ratio - 1e-12) {
      Q = value;
      break;
    }
  }
  const short = sorted.reduce((sum, { value, chance }) => sum + chance * Math.max(0, value - Q), 0);
  const over = sorted.reduce((sum, { value, chance }) => sum + chance * Math.max(0, Q - value), 0);
  return order(ratio, Q, Math.min(1, cdf), short, over, cu, co);
}
