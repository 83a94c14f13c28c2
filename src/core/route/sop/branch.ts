/**
 * Depth-first branch and bound: a path is grown from its first node, the assignment bound cuts, and a table of states
 * (set done, node done last) cuts what has been reached more cheaply before. A state left for good keeps how much it still
 * takes at least, so a cheaper second arrival is cut without looking again (Shobaki and Jamal, Comput. Optim. Appl. 61, 2015).
 *
 * Runs in slices, so that it can take turns with a search for better orders.
 */
import { Assignment } from "./assignment.ts";
import { History } from "./history.ts";
import type { SopModel } from "./model.ts";

/** The best order known to everybody who is searching. */
export interface Incumbent {
  cost: number;
  order: Int32Array;
}

export class Branch {
  finished = false;
  /** Bound of the whole problem, and the duals that give it. */
  readonly root: number;
  readonly duals: { readonly u: Float64Array; readonly v: Float64Array };
  private readonly model: SopModel;
  private readonly incumbent: Incumbent;
  private readonly toForward: (order: Int32Array) => Int32Array;
  private readonly assignment: Assignment;
  private readonly history: History;
  private readonly words: number;
  private readonly path: Int32Array;
  private readonly waiting: Int32Array;
  private readonly sets: Int32Array;
  private readonly spent: Float64Array;
  /** Cost of the assignment of what is left. */
  private readonly rest: Float64Array;
  private readonly entry: Int32Array;
  private readonly columns: Int32Array;
  private readonly columnCount: Int32Array;
  private readonly children: { node: number; bound: number }[][];
  private readonly cursor: Int32Array;
  private depth = 0;

  constructor(model: SopModel, incumbent: Incumbent, toForward: (order: Int32Array) => Int32Array) {
    const { n } = model;
    this.model = model;
    this.incumbent = incumbent;
    this.toForward = toForward;
    this.words = (n + 31) >> 5;
    this.assignment = new Assignment(model);
    this.history = new History(this.words);
    this.path = new Int32Array(n);
    this.waiting = Int32Array.from(model.preds, (list) => list.length);
    this.sets = new Int32Array(this.words * (n + 1));
    this.spent = new Float64Array(n + 1);
    this.rest = new Float64Array(n + 1);
    this.entry = new Int32Array(n + 1).fill(-1);
    this.columns = new Int32Array(n * (n + 1));
    this.columnCount = new Int32Array(n + 1);
    this.children = Array.from({ length: n + 1 }, () => []);
    this.cursor = new Int32Array(n + 1);
    this.path[0] = 0;
    this.sets[0] = 1;
    for (const next of model.succs[0]) this.waiting[next] -= 1;
    for (let j = 1; j < n; j += 1) this.columns[j - 1] = j;
    this.columnCount[0] = n - 1;
    this.root = this.assignment.start(this.columns, n - 1);
    this.duals = this.assignment.duals();
    this.rest[0] = this.root;
    this.expand(0, this.root);
  }

  /** Looks at this many states at the most. */
  run(states: number): void {
    for (let k = 0; k < states && !this.finished; k += 1) this.step();
  }

  private step(): void {
    const { depth } = this;
    const list = this.children[depth];
    const at = this.cursor[depth];
    if (at >= list.length || list[at].bound >= this.incumbent.cost) {
      this.leave();
      return;
    }
    this.cursor[depth] = at + 1;
    this.enter(list[at].node, list[at].bound);
  }

  private enter(node: number, bound: number): void {
    const { model, depth, words } = this;
    const { n, cost, succs } = model;
    const last = this.path[depth];
    const spent = this.spent[depth] + cost[last * n + node];
    const next = depth + 1;
    const from = next * words;
    this.sets.copyWithin(from, depth * words, depth * words + words);
    this.sets[from + (node >> 5)] |= 1 << (node & 31);
    this.without(depth, node);
    const left = this.assignment.take(depth, last, node, this.columnsOf(next), this.columnCount[next]);
    if (spent + left >= this.incumbent.cost) return;
    let entry = this.history.find(this.sets, from, node);
    if (entry >= 0) {
      // A sibling's subtree may have reached the state since the child was listed.
      if (this.history.reachedAt(entry) <= spent) return;
      this.history.reachedFor(entry, spent);
    } else entry = this.history.add(this.sets, from, node, spent, left);
    this.path[next] = node;
    this.spent[next] = spent;
    this.rest[next] = left;
    this.entry[next] = entry;
    for (const later of succs[node]) this.waiting[later] -= 1;
    this.depth = next;
    if (next === n - 2) {
      const total = spent + cost[node * n + n - 1];
      if (total < this.incumbent.cost) {
        const order = this.path.slice();
        order[n - 1] = n - 1;
        this.incumbent.cost = total;
        this.incumbent.order = this.toForward(order);
      }
      this.children[next].length = 0;
      this.cursor[next] = 0;
      return;
    }
    this.expand(next, Math.max(bound, spent + left));
  }

  /** Lists the children of the state at a depth, cheapest bound first. */
  private expand(depth: number, bound: number): void {
    const { model, words } = this;
    const { n, cost } = model;
    const last = this.path[depth];
    const list = this.children[depth];
    list.length = 0;
    this.cursor[depth] = 0;
    const columns = this.columnsOf(depth);
    const count = this.columnCount[depth];
    const from = (depth + 1) * words;
    for (let k = 0; k < count; k += 1) {
      const node = columns[k];
      if (this.waiting[node] !== 0 || (node === n - 1 && depth < n - 2)) continue;
      const spent = this.spent[depth] + cost[last * n + node];
      let low = Math.max(bound, this.spent[depth] + this.rest[depth] + this.assignment.reduced(depth, last, node));
      if (low >= this.incumbent.cost) continue;
      this.sets.copyWithin(from, depth * words, depth * words + words);
      this.sets[from + (node >> 5)] |= 1 << (node & 31);
      const entry = this.history.find(this.sets, from, node);
      if (entry >= 0) {
        if (this.history.reachedAt(entry) <= spent) continue;
        low = Math.max(low, spent + this.history.restOf(entry));
      } else {
        this.without(depth, node);
        low = Math.max(
          low,
          spent + this.assignment.take(depth, last, node, this.columnsOf(depth + 1), this.columnCount[depth + 1]),
        );
      }
      if (low < this.incumbent.cost) list.push({ node, bound: low });
    }
    list.sort((a, b) => a.bound - b.bound || cost[last * n + a.node] - cost[last * n + b.node] || a.node - b.node);
  }

  private leave(): void {
    const { depth } = this;
    if (depth === 0) {
      this.finished = true;
      return;
    }
    if (this.entry[depth] >= 0) this.history.raiseRest(this.entry[depth], this.incumbent.cost - this.spent[depth]);
    for (const later of this.model.succs[this.path[depth]]) this.waiting[later] += 1;
    this.depth = depth - 1;
  }

  /** Columns of the next depth: those of this one but for a node. */
  private without(depth: number, node: number): void {
    const { n } = this.model;
    const from = depth * n;
    const to = from + n;
    let count = 0;
    for (let k = 0; k < this.columnCount[depth]; k += 1) {
      const column = this.columns[from + k];
      if (column !== node) {
        this.columns[to + count] = column;
        count += 1;
      }
    }
    this.columnCount[depth + 1] = count;
  }

  private columnsOf(depth: number): Int32Array {
    const { n } = this.model;
    return this.columns.subarray(depth * n, depth * n + n);
  }
}
