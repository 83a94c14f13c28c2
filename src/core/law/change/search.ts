/**
 * The lightest sets of changes that lift a value to a target, proved, with all ties.
 *
 * Depth-first branch and bound over sets: at a set that falls short, some further change has a share in what is missing; each
 * such change in turn is made, and then ruled out for its later siblings, so that every set is met once. A branch is left
 * when the shares of what may still be made cannot fill the gap within the best weight known (the fractional knapsack bound
 * of Dantzig, "Discrete-variable extremum problems", Operations Research 5 (1957) 266-277). The value need not rise with
 * every change; the shares bound it all the same.
 */
export interface SearchProblem {
  /** What is reached with these changes (indices, as often as each is made). */
  readonly value: (list: readonly number[]) => number;
  /** For each open change with a share its share: no set of open changes adds more than the sum of its shares. */
  readonly shares: (list: readonly number[], open: (index: number) => boolean) => ReadonlyMap<number, number>;
  /** Greater shares that are quick to come by: looked at first. */
  readonly quick?: SearchProblem["shares"];
  readonly capacity: (index: number) => number;
  /** Whole and positive; undefined: the change may not be made. */
  readonly weight: (index: number) => number | undefined;
  readonly target: number;
  readonly stopped: () => boolean;
}

export interface Found {
  /** Infinity where no set was found. */
  readonly weight: number;
  readonly sets: readonly (readonly number[])[];
  /** There are more than were asked for, or there may be: time ran out. */
  readonly more: boolean;
  /** No lighter set is enough. */
  readonly proved: boolean;
}

export const NOTHING: Found = { weight: Number.POSITIVE_INFINITY, sets: [], more: false, proved: false };

/**
 * @param known sets that are enough, of one weight: lighter ones are looked for first, then all of the least weight
 * @param limit how many ties are wanted
 */
export function lightestSets(problem: SearchProblem, known: Found, limit: number): Found {
  const lighter = new Search(problem, known.weight, 1, false);
  lighter.run();
  const best = lighter.sets.length > 0 ? { ...known, weight: lighter.best, sets: lighter.sets } : known;
  if (!lighter.complete || best.weight === Number.POSITIVE_INFINITY)
    return { ...best, more: best.sets.length > 0, proved: lighter.complete };
  const ties = new Search(problem, best.weight, limit, true);
  ties.run();
  if (ties.complete) return { ...best, sets: ties.sets, more: ties.more, proved: true };
  return { ...best, sets: united(best.sets, ties.sets).slice(0, limit), more: true, proved: true };
}

function united(a: Found["sets"], b: Found["sets"]): Found["sets"] {
  return [...new Map([...a, ...b].map((list) => [[...list].sort((x, y) => x - y).join(), list])).values()];
}

/**
 * A set that is enough, though not the lightest: all changes, less what can go, in ever smaller handfuls; the first of the
 * list are kept longest. Undefined where all together are not enough, or time runs out.
 */
export function someSet(problem: SearchProblem, all: readonly number[]): readonly number[] | undefined {
  const enough = (list: readonly number[]): boolean => problem.value(list) >= problem.target;
  if (!enough(all)) return undefined;
  let kept = all;
  for (let size = Math.ceil(kept.length / 2); size >= 1; size = size === 1 ? 0 : Math.ceil(size / 2)) {
    for (let end = kept.length; end > 0; end -= size) {
      if (problem.stopped()) return kept;
      const without = [...kept.slice(0, Math.max(0, end - size)), ...kept.slice(end)];
      if (enough(without)) kept = without;
    }
  }
  return kept;
}

interface Item {
  readonly index: number;
  readonly share: number;
  readonly weight: number;
  readonly copies: number;
}

class Search {
  best: number;
  sets: (readonly number[])[] = [];
  more = false;
  complete = true;
  private readonly problem: SearchProblem;
  private readonly limit: number;
  private readonly ties: boolean;
  private readonly ruledOut = new Set<number>();

  constructor(problem: SearchProblem, best: number, limit: number, ties: boolean) {
    this.problem = problem;
    this.best = best;
    this.limit = limit;
    this.ties = ties;
  }

  run(): void {
    this.visit([], 0);
  }

  private visit(list: readonly number[], weight: number): void {
    const { problem, ruledOut } = this;
    if (this.more) return;
    if (problem.stopped()) {
      this.complete = false;
      return;
    }
    const gap = problem.target - problem.value(list);
    if (gap <= 0) {
      this.keep(list, weight);
      return;
    }
    if (problem.quick !== undefined && this.tooFar(this.items(list, problem.quick), 0, gap, weight)) return;
    const items = this.items(list, problem.shares);
    const mine: number[] = [];
    for (let at = 0; at < items.length; at += 1) {
      if (this.tooFar(items, at, gap, weight)) break;
      const { index } = items[at];
      this.visit([...list, index], weight + items[at].weight);
      if (this.more || !this.complete) break;
      ruledOut.add(index);
      mine.push(index);
    }
    for (const index of mine) ruledOut.delete(index);
  }

  private keep(list: readonly number[], weight: number): void {
    if (weight > this.best || (!this.ties && weight === this.best)) return;
    if (!this.ties) {
      this.best = weight;
      this.sets = [list];
    } else if (this.sets.length === this.limit) this.more = true;
    else this.sets.push(list);
  }

  /** The shares from `at` on cannot fill the gap within the best weight. */
  private tooFar(items: readonly Item[], at: number, gap: number, weight: number): boolean {
    const least = weight + Math.ceil(fractional(items, at, gap) - 1e-9);
    return least > this.best || (!this.ties && least === this.best);
  }

  private items(list: readonly number[], shares: SearchProblem["shares"]): Item[] {
    const { problem, ruledOut } = this;
    const made = (index: number): number => list.filter((one) => one === index).length;
    const open = (index: number): boolean => {
      return !ruledOut.has(index) && made(index) < problem.capacity(index) && problem.weight(index) !== undefined;
    };
    const items: Item[] = [];
    for (const [index, share] of shares(list, open)) {
      const copies = problem.capacity(index) - made(index);
      items.push({ index, share, weight: problem.weight(index) ?? Number.POSITIVE_INFINITY, copies });
    }
    return items.sort((a, b) => b.share / b.weight - a.share / a.weight || a.index - b.index);
  }
}

/** The least weight at which the shares from `from` on fill the gap when changes could be made in part. */
function fractional(items: readonly Item[], from: number, gap: number): number {
  let missing = gap;
  let weight = 0;
  for (let at = from; at < items.length; at += 1) {
    const { share, weight: each, copies } = items[at];
    if (share * copies >= missing) return weight + (each * missing) / share;
    missing -= share * copies;
    weight += each * copies;
  }
  return Number.POSITIVE_INFINITY;
}
