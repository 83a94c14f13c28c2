/**
 * Sequential ordering: the cheapest order of nodes under orderings between them, where the cost depends on who follows whom.
 *
 * In: a TSPLIB file of type SOP. Out: an order from the first node to the last that keeps every ordering, its cost, a bound
 * that no order goes below, and whether the two have met. This is the planner's problem at its hardest, general costs of
 * changing over, kept apart from the planner so that its own rules stay provable. Practical limit: proofs at some 50 nodes, more
 * where the orderings are dense; good orders at some hundreds.
 *
 * An annealing and beams for better orders, and for the proof a dynamic programme over sets and a branch and bound, each from the front and
 * from the end, take turns in slices.
 */
import type { Control } from "../problem.ts";
import { Anneal } from "./anneal.ts";
import { Branch, type Incumbent } from "./branch.ts";
import { greedyOrder } from "./greedy.ts";
import { Layers } from "./layers.ts";
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

const MOVES = 600_000;
/** Widths of the beams that look for better orders, front and end in turn. */
const WIDTHS = [100, 1000, 4000, 16_000, 64_000];
const BEAM_STATES = 6_000;
const LAYER_STATES = 8_000;
/** Work of a branch and bound in a slice; a state takes about n^2. */
const WORK = 400_000;
/** Slices of annealing before the first of proof. */
const WARM_UP = 2;
/** Where many nodes and a wide gap leave no hope of a proof, annealing has so many slices a turn. */
const MANY = 60;
const WIDE = 1.1;
const SHARE = 8;
/** Slices without a better order after which annealing is given every eighth turn only. */
const PATIENCE = 100;

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
  const back = (order: Int32Array): Int32Array => order.map((_, i) => n - 1 - order[n - 1 - i]);
  const same = (order: Int32Array): Int32Array => order;
  const mirror = reversed(model);
  const branches = [new Branch(model, incumbent, same), new Branch(mirror, incumbent, back)];
  const anneal = new Anneal(model, first, 1, branches[0].duals);
  const bound = Math.max(...branches.map((branch) => branch.root));
  const layers = [model, mirror].map(
    (side, i) => new Layers(side, { bound: branches[i].root, ...branches[i].duals }, incumbent, i === 0 ? same : back),
  );
  const beams = WIDTHS.flatMap((width) =>
    [model, mirror].map(
      (side, i) => (): Layers =>
        new Layers(side, { bound: branches[i].root, ...branches[i].duals }, incumbent, i === 0 ? same : back, width),
    ),
  );
  // Small problems are done before any search for better orders has begun.
  for (const layer of layers) {
    layer.run(LAYER_STATES);
    if (layer.finished) return answer(bound, true);
  }
  let beam: Layers | undefined;
  let idle = 0;
  for (let turn = 0; ; turn += 1) {
    if (turn < WARM_UP || idle < PATIENCE || turn % 8 === 0) {
      if (incumbent.cost < anneal.bestCost) anneal.adopt(incumbent.order, incumbent.cost);
      const share = n > MANY && incumbent.cost > bound * WIDE ? SHARE : 1;
      for (let k = 0; k < share && !(k > 0 && over()); k += 1) anneal.run(MOVES);
      idle += 1;
      if (anneal.bestCost < incumbent.cost) {
        incumbent.cost = anneal.bestCost;
        incumbent.order = anneal.best.slice();
        idle = 0;
      }
    }
    if (turn < WARM_UP && !over()) continue;
    if (incumbent.cost <= bound) return answer(bound, true);
    beam ??= beams.shift()?.();
    if (beam !== undefined) {
      beam.run(BEAM_STATES);
      if (beam.finished || beam.failed) beam = undefined;
    }
    const searches = [...layers.filter((one) => !one.failed), ...branches];
    for (const search of searches) {
      search.run(search instanceof Layers ? LAYER_STATES : Math.ceil(WORK / (n * n)));
      if (search.finished) return answer(bound, true);
      if (over()) return answer(bound, false);
    }
    control.progress?.(incumbent.cost, bound);
  }
}
