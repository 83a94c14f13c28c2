/**
 * Landmark-cut lower bound on the cost of the operations that must still be committed to: while the goal has a positive
 * h-max value, a cut through the justification graph gives a set of operations one of which every way must do; its
 * least cost is added to the bound and taken off its members.
 *
 * Helmert & Domshlak, "Landmarks, critical paths and abstractions: what's the difference anyway?", ICAPS 2009; the
 * set-up-free core of the planning problem is a delete-free task. Each cut costs one pass over the needs with a heap.
 */
import { Heap } from "./heap.ts";
import type { Model } from "./model.ts";

export class LandmarkCut {
  private readonly model: Model;
  private readonly cost: Float64Array;
  private readonly count: Int32Array;
  private readonly value: Float64Array;
  private readonly heap = new Heap();
  /** The last node below each AND node to hold: what its value comes from. */
  private readonly support: Int32Array;
  private readonly inStart: Int32Array;
  private readonly into: Int32Array;
  private readonly seen: Int32Array;
  private stamp = 0;
  private readonly stack: number[] = [];

  constructor(model: Model) {
    const { nodes, n, out, outStart, up } = model;
    this.model = model;
    this.cost = new Float64Array(n);
    this.count = new Int32Array(nodes);
    this.value = new Float64Array(nodes);
    this.support = new Int32Array(nodes);
    this.seen = new Int32Array(nodes);
    const degree = new Int32Array(nodes + 1);
    const edges: [number, number][] = [];
    for (let i = 0; i < n; i += 1) for (let e = outStart[i]!; e < outStart[i + 1]!; e += 1) edges.push([i, out[e]!]);
    for (let gate = n; gate < nodes; gate += 1) edges.push([gate, up[gate]!]);
    for (const [, to] of edges) degree[to + 1]! += 1;
    for (let node = 0; node < nodes; node += 1) degree[node + 1]! += degree[node]!;
    this.inStart = degree;
    this.into = new Int32Array(edges.length);
    const at = degree.slice();
    for (const [from, to] of edges) this.into[at[to]!++] = from;
  }

  /** Packed bound on the base cost of operations outside `inside` that doing all of `inside` needs. */
  bound(inside: Uint8Array, stop: () => boolean = () => false): number {
    const { model, cost } = this;
    for (let i = 0; i < model.n; i += 1) cost[i] = inside[i] === 1 ? 0 : model.base[i]!;
    let total = 0;
    for (;;) {
      const goal = this.hmax(inside);
      if (goal < 0 || this.value[goal] === 0 || stop()) return total;
      const cut = this.cut(goal);
      if (cut === 0) return total;
      total += cut;
    }
  }

  /** Fills `value` and `support`; the operation of `inside` with the greatest value, -1 where there is none. */
  private hmax(inside: Uint8Array): number {
    const { model, cost, count, value, heap, support } = this;
    const { n, out, outStart, up } = model;
    count.set(model.count);
    value.fill(-1);
    heap.clear();
    let goal = -1;
    for (let i = 0; i < n; i += 1) {
      if (count[i] !== 0) continue;
      support[i] = -1;
      heap.push(i, cost[i]!, 0);
    }
    while (heap.size > 0) {
      const v = heap.least();
      const i = heap.pop();
      if (value[i]! >= 0) continue;
      value[i] = v;
      if (inside[i] === 1) goal = i;
      for (let e = outStart[i]!; e < outStart[i + 1]!; e += 1) {
        let below = i;
        let node = out[e]!;
        while (--count[node]! === 0) {
          support[node] = below;
          if (node < n) {
            heap.push(node, v + cost[node]!, 0);
            break;
          }
          value[node] = v;
          below = node;
          node = up[node]!;
        }
      }
    }
    return goal;
  }

  /** Cuts below the goal and lowers the costs; the cut's worth. */
  private cut(goal: number): number {
    const { model, cost, support, seen, stack, inStart, into, value } = this;
    const { n, isAnd } = model;
    this.stamp += 1;
    const members: number[] = [];
    let least = Infinity;
    stack.length = 0;
    stack.push(goal);
    while (stack.length > 0) {
      const node = stack.pop()!;
      if (seen[node] === this.stamp) continue;
      seen[node] = this.stamp;
      if (node < n && cost[node]! > 0) {
        members.push(node);
        least = Math.min(least, cost[node]!);
        continue;
      }
      if (isAnd[node] === 1) {
        if (support[node]! >= 0 && model.count[node]! > 0) stack.push(support[node]!);
      } else {
        for (let e = inStart[node]!; e < inStart[node + 1]!; e += 1) {
          const below = into[e]!;
          if (value[below]! >= 0) stack.push(below);
        }
      }
    }
    if (least === Infinity) return 0;
    for (const i of members) cost[i] = cost[i]! - least;
    return least;
  }
}
