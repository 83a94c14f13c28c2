/**
 * Simulated annealing on orders: a run of nodes is moved to another place within what must come before and after it. These are
 * the exchanges of two neighbouring segments that keep directions (the path-preserving 3-exchange of Gambardella and
 * Dorigo, INFORMS J. Computing 12(3), 2000), drawn at random; the barrier of a segment is found by growing it node by node.
 *
 * Where costs are the same both ways, runs of nodes are turned round as well (the 2-exchange of Croes, Operations Research
 * 6(6), 1958, kept to runs in which nothing must come before anything).
 *
 * Runs are deterministic: seeded, and cut by moves, never by the clock.
 */
import { FORBIDDEN, type SopModel } from "./model.ts";

/** Temperatures in terms of what a change of one arc costs; the length of the first run. Found by trial. */
const HOT = 1;
const COLD = 0.04;
const MOVES_PER_NODE = 100_000;
/** Share of moves that bring a cheap follower behind its node, and how many followers are near. */
const GUIDED = 0.7;
const NEAR = 6;
/** The same where costs are symmetric: cooler and slower, since turning runs round mends much by itself. Found by trial. */
const HOT_SYMMETRIC = 0.35;
const MOVES_PER_NODE_SYMMETRIC = 300_000;
/** Share of guided moves that turn a run of nodes round where costs are symmetric. */
const TURNED = 0.7;

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
  private runs = 1;
  private length: number;
  private readonly hot: number;
  private readonly cold: number;
  /** For each node the nodes that follow it most cheaply, by reduced cost. */
  private readonly followers: Int32Array;
  private readonly near: number;
  /** Costs are the same both ways: then a run of nodes may be turned round at the cost of its ends. */
  private readonly symmetric: boolean;

  /**
   * @param start a legal order to begin from
   * @param duals of the assignment bound: they tell which cheap arcs are cheap because everybody's are
   */
  constructor(
    model: SopModel,
    start: Int32Array,
    seed: number,
    duals: { readonly u: Float64Array; readonly v: Float64Array },
  ) {
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
    this.symmetric = isSymmetric(model);
    this.hot = Math.max(0.4, (this.symmetric ? HOT_SYMMETRIC : HOT) * typical);
    this.cold = Math.max(0.05, COLD * typical);
    this.length = (this.symmetric ? MOVES_PER_NODE_SYMMETRIC : MOVES_PER_NODE) * Math.max(10, n);
    this.near = Math.min(NEAR, n - 1);
    this.followers = followersOf(model, duals.v, this.near);
  }

  /** Makes this many moves; begins again from the best whenever it has cooled down. */
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

  /** Takes over a better order that somebody else has found, and goes on from it at a middling temperature. */
  adopt(order: Int32Array, cost: number): void {
    this.best.set(order);
    this.bestCost = cost;
    this.runs = 1;
    this.again();
  }

  /** Turn about hot from the start, and warm: the best is changed in places only. */
  private again(): void {
    this.runs += 1;
    const warm = this.runs % 2 === 0;
    if (!warm) this.length = Math.min(this.length * 1.5, 4_000_000_000);
    this.done = warm ? Math.floor(this.length / 2) : 0;
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

  /** One move: mostly one that brings a cheap follower behind its node, else any segment to any place. */
  private move(temperature: number): void {
    if (this.model.n < 4) return;
    if (this.random() < GUIDED) this.guided(temperature);
    else this.anywhere(temperature);
  }

  /** Makes j follow i by an exchange of neighbouring segments, if what must come before what allows it. */
  private guided(temperature: number): void {
    const { order, place, near } = this;
    const { n } = this.model;
    const at = Math.floor(this.random() * (n - 2));
    const node = order[at];
    const follower = this.followers[node * near + Math.floor(this.random() * near)];
    if (follower < 0 || follower === n - 1) return;
    const there = place[follower];
    if (there === at + 1) return;
    if (this.symmetric && this.random() < TURNED) {
      if (there > at) this.turn(at + 1, there, temperature);
      else if (there > 0 && there < at - 1) this.turn(there, at - 1, temperature);
      return;
    }
    const run = this.random() < 0.7 ? 4 : n;
    if (there > at) {
      const b = there - 1;
      const room = this.barrier(at + 1, b) - there;
      if (room <= 0) return;
      const to = there + Math.floor(this.random() * Math.min(room, run));
      this.attempt(at + 1, b, to, temperature);
    } else {
      if (there === 0) return;
      const b = there + Math.floor(this.random() * Math.min(at - there, run));
      if (this.barrier(there, b) <= at) return;
      this.attempt(there, b, at, temperature);
    }
  }

  /** Turns [a..b] round, so that its last node comes first, if what must come before what and the temperature allow it. */
  private turn(a: number, b: number, temperature: number): void {
    const { order, place } = this;
    const { n, cost, succs } = this.model;
    const left = order[a - 1] * n;
    const right = order[b + 1];
    const x = cost[left + order[b]];
    const y = cost[order[a] * n + right];
    if (x === FORBIDDEN || y === FORBIDDEN) return;
    const change = x + y - cost[left + order[a]] - cost[order[b] * n + right];
    if (change > 0 && this.random() >= Math.exp(-change / temperature)) return;
    for (let i = a; i < b; i += 1) {
      const next = succs[order[i]];
      for (let s = 0; s < next.length; s += 1) if (place[next[s]] <= b) return;
    }
    for (let i = a, j = b; i < j; i += 1, j -= 1) {
      const node = order[i];
      order[i] = order[j];
      order[j] = node;
    }
    for (let i = a; i <= b; i += 1) place[order[i]] = i;
    this.cost += change;
    if (this.cost < this.bestCost) {
      this.bestCost = this.cost;
      this.best.set(order);
    }
  }

  /** The first place behind the segment [a..b] of a node that must come after one of it. */
  private barrier(a: number, b: number): number {
    const { order, place } = this;
    const { n, succs } = this.model;
    let barrier = n - 1;
    for (let i = a; i <= b; i += 1) {
      const next = succs[order[i]];
      for (let s = 0; s < next.length; s += 1) {
        const at = place[next[s]];
        if (at > b && at < barrier) barrier = at;
      }
    }
    return barrier;
  }

  private anywhere(temperature: number): void {
    const { order, place } = this;
    const { n, preds } = this.model;
    const r = this.random();
    const longest = r < 0.5 ? 3 : r < 0.85 ? 10 : n;
    const a = 1 + Math.floor(this.random() * (n - 2));
    const b = Math.min(n - 2, a + Math.floor(this.random() * longest));
    if (this.random() < 0.5) {
      const room = this.barrier(a, b) - 1 - b;
      if (room > 0) this.attempt(a, b, b + this.shift(room), temperature);
      return;
    }
    let barrier = 0;
    for (let i = a; i <= b; i += 1) {
      const last = preds[order[i]];
      for (let s = 0; s < last.length; s += 1) {
        const at = place[last[s]];
        if (at < a && at > barrier) barrier = at;
      }
    }
    const room = a - 1 - barrier;
    // The nodes before it move to the right instead: the same exchange.
    if (room > 0) this.attempt(a - this.shift(room), a - 1, b, temperature);
  }

  private shift(room: number): number {
    return 1 + Math.floor(this.random() * (this.random() < 0.6 ? Math.min(room, 8) : room));
  }

  /** Exchanges the segments [a..b] and [b+1..to], which what must come before what allows, if the temperature does. */
  private attempt(a: number, b: number, to: number, temperature: number): void {
    const { order } = this;
    const { n, cost } = this.model;
    const left = order[a - 1] * n;
    const right = order[to + 1];
    const gone = cost[left + order[a]] + cost[order[b] * n + order[b + 1]] + cost[order[to] * n + right];
    const x = cost[left + order[b + 1]];
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

/** Between nodes that can follow each other both ways, the two ends aside. */
function isSymmetric({ n, cost }: SopModel): boolean {
  for (let i = 1; i < n - 1; i += 1) {
    for (let j = i + 1; j < n - 1; j += 1) {
      const [there, back] = [cost[i * n + j], cost[j * n + i]];
      if (there !== back && there !== FORBIDDEN && back !== FORBIDDEN) return false;
    }
  }
  return true;
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

function followersOf({ n, cost }: SopModel, v: Float64Array, near: number): Int32Array {
  const lists = new Int32Array(n * near).fill(-1);
  for (let i = 0; i < n; i += 1) {
    const arcs: number[] = [];
    for (let j = 1; j < n; j += 1) if (cost[i * n + j] < FORBIDDEN) arcs.push(j);
    arcs.sort((a, b) => cost[i * n + a] - v[a] - (cost[i * n + b] - v[b]) || a - b);
    for (let k = 0; k < near && k < arcs.length; k += 1) lists[i * near + k] = arcs[k];
  }
  return lists;
}
