/**
 * The fewest design changes that lift a device to a class, proved, with all ties; the cheapest where prices are given.
 *
 * First the changes that leave the ways in as they are, which is quick and gives a set; then all, under the weight of that
 * set. Every set is made on the record and assessed anew before it is told. Limit: time. A search that runs out of it says so
 * (`proved` false) and gives the best sets met.
 */
import { InputError } from "../../errors.ts";
import type { Money, TeardownRecord } from "../../record/schema.ts";
import { millionths, moneyOf } from "../../structure/index.ts";
import { assessView, defaultBasis, type LawOptions, type RecordBasis } from "../assess.ts";
import type { FindWayIn } from "../least.ts";
import { CURRENT } from "../rules/index.ts";
import type { ClassLetter, RuleSet } from "../rules/types.ts";
import { leastFor } from "../score.ts";
import { type Change, changeKey, changesOf } from "./changes.ts";
import { Goal } from "./goal.ts";
import { type Prices, priceOf } from "./prices.ts";
import { type Found, lightestSets, NOTHING, type SearchProblem, someSet } from "./search.ts";

export interface LeastChange {
  readonly basis: RecordBasis;
  /** null: there is no index. */
  readonly from: ClassLetter | null;
  readonly to: ClassLetter | "article-11";
  /** Each set by itself is enough. One empty set: nothing need be changed. None: no set of such changes is. */
  readonly changes: readonly (readonly Change[])[];
  readonly proved: boolean;
  /** There are more sets of the same size, or the same cost. */
  readonly more: boolean;
}

export interface LeastChangeOptions extends LawOptions {
  /** Milliseconds for the whole search. */
  readonly searchLimit: number;
  /** At most this many sets. */
  readonly sets?: number;
  readonly prices?: Prices;
}

export const MOST_SETS = 100;

/** @throws as `assessRecord` */
export function leastChange(record: TeardownRecord, to: ClassLetter, options: LeastChangeOptions): LeastChange {
  const rules = options.rules ?? CURRENT;
  const basis = options.basis ?? defaultBasis(record);
  const started = options.control.now();
  const stopped = (): boolean => options.control.now() - started > options.searchLimit;
  const own: LawOptions = { ...options, basis };
  const from = assessView(record, own, "written").low.letter;
  const changes = changesOf(rules, record);
  const weights = changes.map((change) => weightOf(change, options.prices));
  const goal = new Goal(rules, record, basis, own, changes, stopped);
  const problem = (structural: boolean): SearchProblem => ({
    value: (list) => goal.value(goal.set(list)),
    look: (list, bases, all) => goal.look(list, bases, !structural, all),
    refine: (rows) => goal.refine(rows),
    capacity: (index) => goal.capacity(index),
    weight: (index) => (structural || !goal.structural.has(index) ? weights[index] : undefined),
    target: leastFor(rules, to),
    stopped,
  });
  const limit = Math.min(options.sets ?? MOST_SETS, MOST_SETS);
  const simple = lightestSets(problem(false), NOTHING, limit);
  const known = simple.sets.length > 0 ? simple : anySet(goal, problem(true), weights, options);
  const whole = lightestSets(problem(true), known, limit);
  const good = whole.sets.filter((list) => reaches(rules, goal, list, to, own, stopped));
  return {
    basis,
    from,
    to,
    changes: inOrder(good.map((list) => toldChanges(goal, list, options.prices))),
    // Nothing is smaller than no change at all, whatever else was not proved.
    proved: whole.weight === 0 || (whole.proved && !goal.unproved && good.length === whole.sets.length),
    more: whole.more,
  };
}

/** Where no set leaves the ways in as they are: one that is enough, found in a third of the time, so that there is an answer. */
function anySet(
  goal: Goal,
  problem: SearchProblem,
  weights: readonly (number | undefined)[],
  options: LeastChangeOptions,
): Found {
  const { now } = options.control;
  const until = now() + options.searchLimit / 3;
  const free = goal.changes.flatMap((_, index) => (weights[index] === undefined ? [] : [index]));
  const copies = free.flatMap((index) => Array<number>(goal.capacity(index)).fill(index));
  const plain = copies.filter((index) => !goal.structural.has(index));
  const all = [...plain, ...copies.filter((index) => goal.structural.has(index))];
  const set = someSet({ ...problem, stopped: () => problem.stopped() || now() > until }, all);
  if (set === undefined) return NOTHING;
  const weight = set.reduce((sum, index) => sum + (weights[index] ?? 0), 0);
  return { ...NOTHING, weight, sets: [set] };
}

function weightOf(change: Change, prices: Prices | undefined): number | undefined {
  if (prices === undefined) return 1;
  const price = priceOf(prices, change);
  return price === undefined ? undefined : Math.max(1, millionths(price));
}

function toldChanges(goal: Goal, list: readonly number[], prices: Prices | undefined): Change[] {
  return [...list]
    .sort((a, b) => a - b)
    .map((index) => {
      const change = goal.changes[index];
      const cost = prices === undefined ? undefined : priceOf(prices, change);
      return cost === undefined ? change : { ...change, cost };
    });
}

function inOrder(sets: readonly Change[][]): Change[][] {
  const key = (set: readonly Change[]): string => set.map(changeKey).join("\n");
  return [...sets].sort((a, b) => (key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : 0));
}

/** Made on the record and assessed anew; ways in are planned again only where the changes can alter them. */
function reaches(
  rules: RuleSet,
  goal: Goal,
  list: readonly number[],
  to: ClassLetter,
  options: LawOptions,
  stopped: () => boolean,
): boolean {
  // The model that found the set is exact; without time the second look is left out.
  if (stopped()) return true;
  const structural = list.filter((index) => goal.structural.has(index)).sort((a, b) => a - b);
  const findWayIn = remembered(options.findWayIn, goal, structural.join());
  const after = assessView(goal.made(list), { ...options, findWayIn }, "written").low;
  return after.exact !== null && after.exact >= leastFor(rules, to);
}

const planned = new WeakMap<Goal, Map<string, ReturnType<FindWayIn>>>();

function remembered(findWayIn: FindWayIn, goal: Goal, structural: string): FindWayIn {
  const known = planned.get(goal) ?? new Map<string, ReturnType<FindWayIn>>();
  planned.set(goal, known);
  return (record, question, control) => {
    const key = `${structural} ${question.to.join()}`;
    const way = known.get(key) ?? findWayIn(record, question, control);
    known.set(key, way);
    return way;
  };
}

/** The sum of the costs of a set; null where none are given. */
export function costOf(set: readonly Change[]): Money | null {
  let sum = 0;
  let currency: string | undefined;
  for (const { cost } of set) {
    if (cost === undefined) return null;
    if (currency !== undefined && cost.currency !== currency)
      throw new InputError({ path: "costs", found: `${currency} and ${cost.currency}`, expected: "one currency" });
    currency = cost.currency;
    sum += millionths(cost);
  }
  return currency === undefined ? null : moneyOf(sum, currency);
}
