/**
 * The least weight of changes that fill a gap, as a lower bound.
 *
 * Each row adds at most min(cap, sum of the shares of what is made). For any a in [0, 1] that is at most a cap + (1 - a) sum,
 * so with one a for each row the changes have to fill gap - sum(a cap) with the shares that are left: a fractional knapsack
 * (Dantzig, "Discrete-variable extremum problems", Operations Research 5 (1957) 266-277). Every choice of a gives a bound;
 * good ones are looked for by raising a where the shares of what the knapsack took exceed the cap (Lagrangian relaxation,
 * subgradient steps: Held, Wolfe & Crowder, Mathematical Programming 6 (1974) 62-88).
 */
import type { Row } from "./role-rows.ts";

export type Open = (index: number) => { readonly weight: number; readonly copies: number } | undefined;

export interface Item {
  readonly index: number;
  readonly share: number;
  readonly weight: number;
  readonly copies: number;
}

export interface Bound {
  /** Infinity: all that is open does not fill the gap. */
  readonly weight: number;
  /** Open changes with a share, the greatest for their weight first. */
  readonly items: readonly Item[];
  /** How much of each the bound takes. */
  readonly taken: ReadonlyMap<number, number>;
  /** The least weight with the items from a place on alone. */
  readonly from: (at: number) => number;
}

/** Looks for better multipliers; more gain little. */
const ROUNDS = 16;

export function leastWeight(rows: readonly Row[], open: Open, gap: number): Bound {
  const lists = rows.map((row) => {
    const shares: { index: number; share: number; weight: number; copies: number }[] = [];
    for (const [index, share] of row.shares) {
      const item = open(index);
      if (item !== undefined && share > 0) shares.push({ index, share, ...item });
    }
    const sum = shares.reduce((total, { share, copies }) => total + share * copies, 0);
    return { cap: row.cap, shares, full: sum > row.cap };
  });
  const multipliers = lists.map(() => 0);
  let best: { weight: number; items: Item[]; gap: number; taken: ReadonlyMap<number, number> } | undefined;
  for (let round = 0; round < ROUNDS; round += 1) {
    const items = merged(lists, multipliers);
    const left = lists.reduce((missing, { cap }, row) => missing - multipliers[row] * cap, gap);
    const { weight, taken } = fractional(items, 0, left);
    if (best === undefined || weight > best.weight) best = { weight, items, gap: left, taken };
    if (weight === Number.POSITIVE_INFINITY) break;
    let moved = false;
    for (const [row, { cap, shares, full }] of lists.entries()) {
      if (!full) continue;
      const filled = shares.reduce((sum, { index, share }) => sum + share * (taken.get(index) ?? 0), 0);
      const step = ((filled - cap) / Math.max(filled, cap)) * (0.7 / (1 + round / 4));
      const next = Math.min(1, Math.max(0, multipliers[row] + step));
      if (next !== multipliers[row]) moved = true;
      multipliers[row] = next;
    }
    if (!moved) break;
  }
  if (best === undefined) throw new Error("a bound is looked for at least once");
  const { items, gap: missing, weight, taken } = best;
  return { weight, items, taken, from: (at) => fractional(items, at, missing).weight };
}

/** Every open change keeps its place among the items, though its share may have gone to zero: it may fill a capped row. */
function merged(lists: readonly { readonly shares: readonly Item[] }[], multipliers: readonly number[]): Item[] {
  const sums = new Map<number, Item>();
  for (const [row, { shares }] of lists.entries()) {
    const part = 1 - multipliers[row];
    for (const item of shares) {
      const before = sums.get(item.index);
      sums.set(item.index, { ...item, share: (before?.share ?? 0) + part * item.share });
    }
  }
  return [...sums.values()].sort((a, b) => b.share / b.weight - a.share / a.weight || a.index - b.index);
}

/** The least weight at which the shares from `from` on fill the gap when changes could be made in part, and what is taken. */
function fractional(
  items: readonly Item[],
  from: number,
  gap: number,
): { readonly weight: number; readonly taken: ReadonlyMap<number, number> } {
  const taken = new Map<number, number>();
  let missing = gap;
  let weight = 0;
  for (let at = from; at < items.length && missing > 0; at += 1) {
    const { index, share, weight: each, copies } = items[at];
    if (share <= 0) break;
    const part = Math.min(copies, missing / share);
    taken.set(index, part);
    weight += each * part;
    missing -= share * copies;
  }
  return { weight: missing > 0 ? Number.POSITIVE_INFINITY : weight, taken };
}
