/**
 * Sequential ordering: the cheapest order of nodes under orderings between them, where the cost depends on who follows whom.
 *
 * In: a TSPLIB file of type SOP. Out: an order from the first node to the last that keeps every ordering, its cost, a bound
 * that no order goes below, and whether the two have met. This is the planner's problem at its hardest, general costs of
 * changing over, kept apart from the planner so that its own rules stay provable. Practical limit: proofs at some 50 nodes, more
 * where the orderings are dense; good orders at some hundreds.
 *
 * An annealing for better orders and two branch and bounds, from the front and from the end, take turns in slices.
 */
import type { Control } from "../problem.ts";
import { Anneal } from "./anneal.ts";
import { Branch, type Incumbent } from "./branch.ts";
import { greedyOrder } from "./greedy.ts";
import { costOf, modelOf, reversed } from "./model.ts";
import { readSop } from "./read.ts";

export { isSopText } from "./read.ts";

/** As `unseam solve --json` prints it; costs in the file's unit. */
export interface SopAnswer {
  readonly seconds: number;
  readonly lowerBound: number;
  readonly proved: boolean;
  /** Node numbers from "1" to "n". */
  readonly order: readonly string[];
  readonly milliseconds: number;
}

const MOVES = 150_000;
const STATES = 3_000;
/** Slices without a better order after which annealing is given every eighth turn only. */
const PATIENCE = 60;

/** @throws InputFaults, InputError where the file is malformed or its orderings contradict one another */
export function solveSop(text: string, control: Control): SopAnswer {
  const started = control.now();
  const model = modelOf(readSop(text));
  const { n } = model;
  const over = (): boolean =>
    (control.cancelled?.() ?? false) || (control.deadline !== undefined && control.now() >= control.deadline);
  const first = greedyOrder(model);
  const incumbent: Incumbent = { cost: costOf(model, first) ?? Number.POSITIVE_INFINITY, order: first };
  const answer = (bound: number, proved: boolean): SopAnswer => {
    const cost = costOf(model, incumbent.order);
    if (cost === null || cost !== incumbent.cost) throw new Error("the order found breaks an ordering");
    return {
      seconds: cost,
      lowerBound: proved ? cost : Math.min(cost, bound),
      proved,
      order: Array.from(incumbent.order, (node) => String(node + 1)),
      milliseconds: control.now() - started,
    };
  };
  if (n <= 3) return answer(incumbent.cost, true);
  const anneal = new Anneal(model, first, 1);
  const back = (order: Int32Array): Int32Array => order.map((_, i) => n - 1 - order[n - 1 - i]);
  const branches = [new Branch(model, incumbent, (order) => order), new Branch(reversed(model), incumbent, back)];
  const bound = Math.max(...branches.map((branch) => branch.root));
  let idle = 0;
  for (let turn = 0; ; turn += 1) {
    if (idle < PATIENCE || turn % 8 === 0) {
      anneal.run(MOVES);
      idle += 1;
      if (anneal.bestCost < incumbent.cost) {
        incumbent.cost = anneal.bestCost;
        incumbent.order = anneal.best.slice();
        idle = 0;
      }
    }
    if (incumbent.cost <= bound) return answer(bound, true);
    for (const branch of branches) {
      branch.run(STATES);
      if (branch.finished) return answer(bound, true);
      if (over()) return answer(bound, false);
    }
    control.progress?.(incumbent.cost, bound);
  }
}
