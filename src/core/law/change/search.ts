/**
 * The lightest sets of changes that lift a value to a target, proved, with all ties.
 *
 * Depth-first branch and bound over sets: at a set that falls short, some further change has a share in what is missing; each
 * such change in turn is made, and then ruled out for its later siblings, so that every set is met once. A branch is left
 * when what may still be made cannot fill the gap within the best weight known (bound.ts). The value need not rise with every
 * change; the rows bound it all the same.
 */
import { type Bound, leastWeight, type Open } from "./bound.ts";
import type { Bases, Look } from "./goal.ts";

export interface SearchProblem {
  /** What is reached with these changes (indices, as often as each is made). */
  readonly value: (list: readonly number[]) => number;
  /** A bound on the value, and rows on what is added by more. `all`: the value is exact. */
  readonly look: (list: readonly number[], bases: Bases, all?: boolean) => Look;
  /** Asks for a closer look at rows. */
  readonly refine: (rows: readonly string[]) => void;
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
    this.visit([], 0, []);
  }

  private visit(list: readonly number[], weight: number, before: Bases): void {
    const { problem } = this;
    if (this.more) return;
    if (problem.stopped()) {
      this.complete = false;
      return;
    }
    let look = problem.look(list, before);
    for (;;) {
      if (problem.stopped()) {
        this.complete = false;
        return;
      }
      const gap = problem.target - look.value;
      if (gap <= 0 && look.paying.length === 0) {
        if (problem.value(list) >= problem.target) {
          this.keep(list, weight);
          return;
        }
        look = problem.look(list, look.bases, true);
        continue;
      }
      const bound = leastWeight(look.rows, this.open(list), gap);
      if (this.tooHeavy(weight + bound.weight)) return;
      const rough = gap <= 0 ? look.paying : this.decisive(look, bound);
      if (rough.length === 0) {
        this.branch(list, weight, bound, look);
        return;
      }
      problem.refine(rough);
      look = problem.look(list, look.bases);
    }
  }

  /** The rows that were not looked at closely and on which the bound rests most. */
  private decisive({ rows }: Look, { taken }: Bound): string[] {
    const filled = rows.map((row) => {
      if (row.loose === undefined) return 0;
      let sum = 0;
      for (const [index, copies] of taken) sum += copies * (row.shares.get(index) ?? 0);
      return Math.min(row.cap, sum);
    });
    const most = Math.max(0, ...filled);
    return rows.flatMap(({ loose }, at) =>
      loose !== undefined && filled[at] > 0 && filled[at] >= most / 2 ? [loose] : [],
    );
  }

  private branch(list: readonly number[], weight: number, bound: Bound, look: Look): void {
    const { problem, ruledOut } = this;
    const gap = problem.target - look.value;
    const mine: number[] = [];
    for (let at = 0; at < bound.items.length; at += 1) {
      if (this.tooHeavy(weight + bound.from(at))) break;
      const { index, weight: own } = bound.items[at];
      ruledOut.add(index);
      mine.push(index);
      // After the last change that fits nothing can be added: it has to fill the gap by itself.
      if (!this.fits(weight + own + this.lightest(bound)) && alone(look, index) < gap) continue;
      ruledOut.delete(index);
      this.visit([...list, index], weight + own, look.bases);
      ruledOut.add(index);
      if (this.more || !this.complete) break;
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

  private fits(weight: number): boolean {
    return weight < this.best || (this.ties && weight === this.best);
  }

  private tooHeavy(weight: number): boolean {
    return !this.fits(Math.ceil(weight - 1e-9));
  }

  private lightest(bound: Bound): number {
    return bound.items.reduce((least, item) => Math.min(least, item.weight), Number.POSITIVE_INFINITY);
  }

  private open(list: readonly number[]): Open {
    const { problem, ruledOut } = this;
    const made = new Map<number, number>();
    for (const index of list) made.set(index, (made.get(index) ?? 0) + 1);
    return (index) => {
      const weight = problem.weight(index);
      const copies = problem.capacity(index) - (made.get(index) ?? 0);
      return weight === undefined || copies <= 0 || ruledOut.has(index) ? undefined : { weight, copies };
    };
  }
}

/** What one change adds by itself at most. */
function alone(look: Look, index: number): number {
  return look.rows.reduce((sum, row) => sum + Math.min(row.cap, row.shares.get(index) ?? 0), 0);
}
