/**
 * Which readings make up a whole: disjoint sets of parts that together cover it, none counted twice.
 *
 * Exact cover by depth-first search: always the part with the fewest readings left, readings with small own variance
 * first. Least number of parts left out, then least variance of the sum. The own variances of the readings chosen are a
 * lower bound of the variance (shared errors only add), and prune. Limits: 20 000 nodes, then the best found is
 * answered and `proved` is false; benches have some 60 parts and 100 readings, and need a few hundred.
 */
import type { Estimate } from "./estimate.ts";
import { add, standardUncertainty } from "./estimate.ts";

export interface Weighed {
  /** Members of the whole that the reading holds; at least one. */
  readonly set: ReadonlySet<string>;
  readonly figure: Estimate;
}

export interface Cover<T extends Weighed> {
  readonly chosen: readonly T[];
  /** Members that no chosen reading holds. */
  readonly left: readonly string[];
  readonly proved: boolean;
}

const MOST_NODES = 20_000;

export function coverOf<T extends Weighed>(
  whole: readonly string[],
  weighed: readonly T[],
  variance: (chosen: readonly T[]) => number = (chosen) =>
    standardUncertainty(add(...chosen.map((one) => one.figure))) ** 2,
): Cover<T> {
  const members = new Set(whole);
  // A reading that holds something from outside the whole cannot stand in its sum.
  const usable = weighed.filter((one) => one.set.size > 0 && [...one.set].every((id) => members.has(id)));
  const own = new Map(usable.map((one) => [one, ownVariance(one.figure)]));
  const holding = new Map(
    whole.map((id) => [id, usable.filter((one) => one.set.has(id)).sort((a, b) => own.get(a)! - own.get(b)!)]),
  );
  let best: { chosen: T[]; left: string[]; cost: number } | undefined;
  let nodes = 0;

  const search = (open: ReadonlySet<string>, chosen: readonly T[], left: readonly string[], cost: number) => {
    if (++nodes > MOST_NODES) return;
    if (best !== undefined) {
      if (left.length > best.left.length) return;
      if (left.length === best.left.length && cost >= best.cost) return;
    }
    let pick: string | undefined;
    let choices: T[] = [];
    for (const id of open) {
      const fitting = holding.get(id)!.filter((one) => [...one.set].every((member) => open.has(member)));
      if (pick === undefined || fitting.length < choices.length) {
        pick = id;
        choices = fitting;
        if (fitting.length <= 1) break;
      }
    }
    if (pick === undefined) {
      const total = chosen.length === 0 ? 0 : variance(chosen);
      if (best === undefined || left.length < best.left.length || total < best.cost) {
        best = { chosen: [...chosen], left: [...left], cost: total };
      }
      return;
    }
    for (const one of choices) {
      const rest = new Set(open);
      for (const id of one.set) rest.delete(id);
      search(rest, [...chosen, one], left, cost + own.get(one)!);
    }
    // To leave the part out is a last resort, but where readings overlap it can be the only way.
    const rest = new Set(open);
    rest.delete(pick);
    search(rest, chosen, [...left, pick], cost);
  };
  search(members, [], [], 0);
  const found = best!;
  return {
    chosen: found.chosen,
    left: whole.filter((id) => found.left.includes(id)),
    proved: nodes <= MOST_NODES,
  };
}

/** Variance from the sources that no other reading has. */
function ownVariance(figure: Estimate): number {
  let sum = 0;
  for (const [source, term] of figure.terms) if (/^(reading|step|limit):/.test(source)) sum += term.u * term.u;
  return sum;
}
