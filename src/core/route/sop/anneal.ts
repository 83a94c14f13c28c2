/**
 * Simulated annealing on orders: a run of nodes is moved to another place within what must come before and after it. These are
 * the exchanges of two neighbouring segments that keep directions (the path-preserving 3-exchange of Gambardella and
 * Dorigo, INFORMS J. Computing 12(3), 2000), drawn at random; the barrier of a segment is found by growing it node by node.
 *
 * Runs are deterministic: seeded, and cut by moves, never by the clock.
 */
import { FORBIDDEN, type SopModel } from "./model.ts";

export class Anneal {
  readonly best: Int32Array;
  bestCost: number;
  private readonly model: SopModel;
  private readonly order: Int32Array;
  private readonly place: Int32Array;
  private readonly scratch: Int32Array;
  private cost: number;
  private seed: number;
  private done = 0;
  private length: number;
  private readonly hot: number;
  private readonly cold: number;

  /** @param start a legal order to begin from */
  constructor(model: SopModel, start: Int32Array, seed: number) {
    const { n } = model;
    this.model = model;
    this.order = start.slice();
    this.place = new Int32Array(n);
    this.scratch = new Int32Array(n);
    for (let i = 0; i < n; i += 1) this.place[this.order[i]] = i;
    this.cost = pathCost(model, this.order);
    this.best = start.slice();
    this.bestCost = this.cost;
    this.seed = seed | 0 || 1;
    const typical = typicalArc(model);
    this.hot = Math.max(0.4, 0.35 * typical);
    this.cold = Math.max(0.05, 0.004 * typical);
    this.length = 40_000 * Math.max(10, n);
  }

  /** Makes this many moves; begins again from the best, for twice as long, whenever it has cooled down. */
  run(moves: number): void {
    let temperature = this.temperature();
    for (let k = 0; k < moves; k += 1) {
      if ((this.done & 127) === 0) temperature = this.temperature();
      this.done += 1;
      if (this.done >= this.length) this.again();
      this.move(temperature);
    }
  }

  private temperature(): number {
    return this.hot * (this.cold / this.hot) ** (this.done / this.length);
  }

  private again(): void {
    this.done = 0;
    this.length = Math.min(this.length * 2, 4_000_000_000);
    this.order.set(this.best);
    this.cost = this.bestCost;
    for (let i = 0; i < this.order.length; i += 1) this.place[this.order[i]] = i;
  }

  private random(): number {
    let x = this.seed;
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    this.seed = x;
    return (x >>> 0) / 4294967296;
  }

  private move(temperature: number): void {
    const { order, place } = this;
    const { n, cost, preds, succs } = this.model;
    if (n < 4) return;
    const r = this.random();
    const longest = r < 0.5 ? 3 : r < 0.85 ? 10 : n;
    const wanted = 1 + Math.floor(this.random() * longest);
    let a = 1 + Math.floor(this.random() * (n - 2));
    let b = Math.min(n - 2, a + wanted - 1);
    let from: number;
    let to: number;
    if (this.random() < 0.5) {
      // To the right: behind t, at most up to the first node that must come after one of the segment.
      let barrier = n - 1;
      for (let i = a; i <= b; i += 1) {
        const next = succs[order[i]];
        for (let s = 0; s < next.length; s += 1) {
          const at = place[next[s]];
          if (at > b && at < barrier) barrier = at;
        }
      }
      const room = barrier - 1 - b;
      if (room <= 0) return;
      const shift = 1 + Math.floor(this.random() * (this.random() < 0.6 ? Math.min(room, 8) : room));
      from = b + 1;
      to = b + shift;
    } else {
      let barrier = 0;
      for (let i = a; i <= b; i += 1) {
        const last = preds[order[i]];
        for (let s = 0; s < last.length; s += 1) {
          const at = place[last[s]];
          if (at < a && at > barrier) barrier = at;
        }
      }
      const room = a - 1 - barrier;
      if (room <= 0) return;
      const shift = 1 + Math.floor(this.random() * (this.random() < 0.6 ? Math.min(room, 8) : room));
      // The nodes before it move to the right instead: the same exchange.
      from = a;
      to = b;
      b = a - 1;
      a -= shift;
    }
    // Segments [a..b] and [from..to] are neighbours and change places.
    const left = order[a - 1] * n;
    const right = order[to + 1];
    const gone = cost[left + order[a]] + cost[order[b] * n + order[from]] + cost[order[to] * n + right];
    const x = cost[left + order[from]];
    const y = cost[order[to] * n + order[a]];
    const z = cost[order[b] * n + right];
    if (x === FORBIDDEN || y === FORBIDDEN || z === FORBIDDEN) return;
    const change = x + y + z - gone;
    if (change > 0 && this.random() >= Math.exp(-change / temperature)) return;
    this.exchange(a, b, to);
    this.cost += change;
    if (this.cost < this.bestCost) {
      this.bestCost = this.cost;
      this.best.set(order);
    }
  }

  private exchange(a: number, b: number, to: number): void {
    const { order, place, scratch } = this;
    const first = b - a + 1;
    const second = to - b;
    if (first <= second) {
      for (let i = 0; i < first; i += 1) scratch[i] = order[a + i];
      order.copyWithin(a, b + 1, to + 1);
      for (let i = 0; i < first; i += 1) order[a + second + i] = scratch[i];
    } else {
      for (let i = 0; i < second; i += 1) scratch[i] = order[b + 1 + i];
      order.copyWithin(a + second, a, b + 1);
      for (let i = 0; i < second; i += 1) order[a + i] = scratch[i];
    }
    for (let i = a; i <= to; i += 1) place[order[i]] = i;
  }
}

function pathCost({ n, cost }: SopModel, order: Int32Array): number {
  let sum = 0;
  for (let i = 0; i + 1 < n; i += 1) sum += cost[order[i] * n + order[i + 1]];
  return sum;
}

/** Mean over nodes of the spread of the cheap arcs out of them: what a change of one arc costs, about. */
function typicalArc({ n, cost }: SopModel): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < n - 1; i += 1) {
    const arcs: number[] = [];
    for (let j = 1; j < n; j += 1) if (cost[i * n + j] < FORBIDDEN) arcs.push(cost[i * n + j]);
    if (arcs.length < 2) continue;
    arcs.sort((p, q) => p - q);
    sum += arcs[Math.min(arcs.length - 1, 8)] - arcs[0];
    count += 1;
  }
  return count === 0 ? 1 : sum / count;
}
