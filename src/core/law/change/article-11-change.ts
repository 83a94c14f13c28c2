/**
 * The fewest design changes that make the checks of Article 11 of 2023/1542 pass, by the structure: some order of work to the
 * battery by tools that anybody can buy, without heat and solvent, software that does not hinder, and a spare part for end
 * users. Each of these only ever gains by a change, so a set can do no good that adds nothing to a largest set that fails:
 * the search branches on the changes that such a set leaves out. Cheap: a fixpoint over the structure for each look.
 */
import type { TeardownRecord } from "../../record/schema.ts";
import { millionths } from "../../structure/index.ts";
import { checkArticle11 } from "../article-11.ts";
import { assessView, defaultBasis, type LawOptions } from "../assess.ts";
import { CURRENT } from "../rules/index.ts";
import type { RuleSet } from "../rules/types.ts";
import { applyChange, type Change, changeKey, changesOf } from "./changes.ts";
import { type LeastChange, type LeastChangeOptions, MOST_SETS } from "./least-change.ts";
import { type Prices, priceOf } from "./prices.ts";

export function leastChangeForArticle11(record: TeardownRecord, options: LeastChangeOptions): LeastChange {
  const rules = options.rules ?? CURRENT;
  const started = options.control.now();
  const stopped = (): boolean => options.control.now() - started > options.searchLimit;
  const own: LawOptions = { ...options, basis: options.basis ?? defaultBasis(record) };
  const from = assessView(record, own, "written").low.letter;
  const changes = changesOf(rules, record).filter(
    (change) => matters(change) && weight(change, options.prices) !== undefined,
  );
  const search = new Monotone(
    changes.map((change) => weight(change, options.prices) ?? 1),
    (list) =>
      passes(
        rules,
        record,
        list.map((index) => changes[index]),
      ),
    stopped,
  );
  const { sets, proved, more } = search.run(Math.min(options.sets ?? MOST_SETS, MOST_SETS));
  const told = sets.map((list) =>
    list.map((index): Change => {
      const cost = options.prices === undefined ? undefined : priceOf(options.prices, changes[index]);
      return cost === undefined ? changes[index] : { ...changes[index], cost };
    }),
  );
  const key = (set: readonly Change[]): string => set.map(changeKey).join("\n");
  return {
    basis: own.basis ?? "least",
    from,
    to: "article-11",
    changes: told.sort((a, b) => (key(a) < key(b) ? -1 : 1)),
    proved,
    more,
  };
}

function weight(change: Change, prices: Prices | undefined): number | undefined {
  if (prices === undefined) return 1;
  const price = priceOf(prices, change);
  return price === undefined ? undefined : Math.max(1, millionths(price));
}

/** Fasteners, updates and information are not asked for. */
function matters({ change }: Change): boolean {
  return change !== "brings" && change !== "with-spare-part" && change !== "updates" && change !== "information";
}

function passes(rules: RuleSet, record: TeardownRecord, changes: readonly Change[]): boolean {
  const made = changes.reduce((now, change) => applyChange(rules, now, change), record);
  const untold = (part: TeardownRecord["parts"][number]) =>
    ({ kind: "cannot-tell", part, because: "", warnings: [] }) as const;
  return checkArticle11(made, "least", untold).verdict === "pass";
}

/** The lightest sets for which a property holds that no change ever takes away. */
class Monotone {
  private readonly weights: readonly number[];
  private readonly holds: (list: readonly number[]) => boolean;
  private readonly stopped: () => boolean;
  private best = Number.POSITIVE_INFINITY;
  private sets = new Map<string, readonly number[]>();
  private readonly known = new Map<string, boolean>();
  private readonly ruledOut = new Set<number>();
  private complete = true;

  constructor(weights: readonly number[], holds: (list: readonly number[]) => boolean, stopped: () => boolean) {
    this.weights = weights;
    this.holds = holds;
    this.stopped = stopped;
  }

  run(limit: number): { sets: (readonly number[])[]; proved: boolean; more: boolean } {
    const all = this.weights.map((_, index) => index);
    if (!this.is(all)) return { sets: [], proved: true, more: false };
    this.visit([], 0);
    const sets = [...this.sets.values()];
    return { sets: sets.slice(0, limit), proved: this.complete, more: sets.length > limit };
  }

  private visit(list: readonly number[], weight: number): void {
    if (this.stopped()) this.complete = false;
    if (!this.complete || weight > this.best) return;
    if (this.is(list)) {
      if (weight < this.best) this.sets.clear();
      this.best = weight;
      this.sets.set(
        [...list].sort((a, b) => a - b).join(),
        [...list].sort((a, b) => a - b),
      );
      return;
    }
    const mine: number[] = [];
    for (const index of this.leftOut(list)) {
      if (weight + this.weights[index] <= this.best) this.visit([...list, index], weight + this.weights[index]);
      this.ruledOut.add(index);
      mine.push(index);
    }
    for (const index of mine) this.ruledOut.delete(index);
  }

  /** Open changes outside a largest failing set around `list`: one of them is in every set that holds and contains `list`. */
  private leftOut(list: readonly number[]): number[] {
    const open = this.weights.map((_, index) => index).filter((one) => !list.includes(one) && !this.ruledOut.has(one));
    const failing = [...list];
    const decisive: number[] = [];
    const grow = (some: readonly number[]): void => {
      if (some.length === 0) return;
      if (!this.is([...failing, ...some])) failing.push(...some);
      else if (some.length === 1) decisive.push(some[0]);
      else {
        const half = some.length >> 1;
        grow(some.slice(0, half));
        grow(some.slice(half));
      }
    };
    grow(open);
    return decisive;
  }

  private is(list: readonly number[]): boolean {
    const key = [...list].sort((a, b) => a - b).join();
    const before = this.known.get(key) ?? this.holds(list);
    this.known.set(key, before);
    return before;
  }
}
