/**
 * Which operations are done: best-first search over commitments. A node is a set C of operations that will be done; its
 * bound holds for every superset. Where C cannot be done by itself, the search branches on what opens an operation of C;
 * where it can, the best order of exactly C is found (order.ts) and the search goes on to sets with more, because an
 * alternative taken in addition can spare set-ups.
 *
 * Bound of C: the base costs of C, a landmark cut over what C still lacks, runs of tools and sides within C with all
 * else free and without class, and heatings of C. The landmarks of what is chosen are added to C at once.
 *
 * Complete: let F be the best set and C within F. If C cannot be done by itself, the first operation of C in F's order
 * that C alone does not open is opened in F by a group with a member outside C; one child contains that group's
 * landmarks and lies within F. If it can and C is not F, let the core of F be what serves the targets, one group chosen
 * for each need. While C is not the core, some operation of the core outside C serves one of C: one child lies within the
 * core. What F has beyond its core are helpers and what serves them: they are added to the core, one after the other.
 */
import { Bits } from "./bits.ts";
import { Bound, type Position } from "./bound.ts";
import { Heap } from "./heap.ts";
import { LandmarkCut } from "./lmcut.ts";
import type { Model } from "./model.ts";
import { type OrderResult, OrderSearch } from "./order.ts";
import type { Move } from "./problem.ts";

export interface CommitResult {
  /** Packed; Infinity: nothing under the cut-off was found. */
  readonly cost: number;
  readonly moves: readonly Move[];
  /** Packed bound over all that costs less than the cut-off. */
  readonly bound: number;
  readonly proved: boolean;
}

/** A set that can be done by itself, and what any way to do more than it costs at least without the base of what is added. */
interface Core {
  readonly set: Int32Array;
  readonly value: number;
  /** The same with all that is added in it. */
  readonly least: number;
  readonly key: string;
}

interface Node {
  readonly set: Int32Array;
  /** The core to which only helpers, and what they need, are added from here on. */
  readonly core: Core | null;
  /** Bound without the landmark cut: it may be carried down with the base costs of what is added. */
  readonly firm: number;
  readonly parent: Node | null;
  /** Bound on every larger set by an order in which all else is free, and whether that order has been asked for. */
  free: number;
  asked: boolean;
  bound: number;
}

/** Width of the beam that looks for a first order, once the proof has not come within so many labels. */
const BEAM = 8;
const LABELS_BEFORE_BEAM = 400;
/** An order in which all else is free may take so many labels: it is only a bound. */
const LABELS_OF_FREE = 600;
/** Where few sets have to be looked at it does not pay for those that cannot be done by themselves. */
const NODES_BEFORE_FREE = 16;

export class CommitSearch {
  private readonly model: Model;
  private readonly stop: () => boolean;
  private readonly report: (best: number, bound: number) => void;
  private readonly relaxed: boolean;
  private readonly order: OrderSearch;
  private lenient: OrderSearch | null = null;
  private readonly cut: LandmarkCut;
  private readonly setUps: Bound;
  private readonly start: Position;
  private readonly inside: Uint8Array;
  private readonly reached: Uint8Array;
  private readonly count: Int32Array;
  private readonly queue: Int32Array;
  private readonly seen = new Set<string>();
  private readonly heap = new Heap();
  private nodes: (Node | null)[] = [];
  private cost: number;
  /** Nothing costs less: found, the search is over. */
  private readonly floor: number;
  private moves: readonly Move[] = [];
  private halted = false;
  private popped = 0;
  private found = false;
  private openBound = 0;

  constructor(
    model: Model,
    relaxed: boolean,
    cutoff: number,
    floor: number,
    stop: () => boolean,
    report: (best: number, bound: number) => void,
  ) {
    this.floor = floor;
    this.model = model;
    this.stop = stop;
    this.report = report;
    this.cost = cutoff;
    this.relaxed = relaxed;
    this.order = new OrderSearch(model, relaxed, () => {
      this.report(
        Math.min(this.found ? this.cost : Infinity, this.order.found),
        Math.max(this.openBound, this.order.open),
      );
      return stop();
    });
    this.cut = new LandmarkCut(model);
    this.setUps = new Bound(model);
    this.inside = new Uint8Array(model.n);
    this.reached = new Uint8Array(model.n);
    this.count = new Int32Array(model.nodes);
    this.queue = new Int32Array(model.n);
    const available = Int32Array.from({ length: model.n }, (_, i) => i).filter((i) => model.count[i] === 0);
    this.start = {
      count: model.count,
      done: new Uint8Array(model.n),
      available,
      availableSize: available.length,
      mode: model.startMode,
      left: new Float64Array(model.zones.length).fill(-1),
    };
  }

  run(): CommitResult {
    const { model } = this;
    const root = new Int32Array(Bits.words(model.n));
    for (const target of model.targets) Bits.or(root, model.dom[target]!);
    this.add(root, null, null);
    if (this.halted) return this.result(this.heap.size > 0 ? this.heap.least() : 0, false);
    while (this.heap.size > 0) {
      const bound = this.heap.least();
      if (bound >= this.cost) break;
      this.openBound = bound;
      this.report(this.found ? this.cost : Infinity, bound);
      if (this.stop()) return this.result(bound, false);
      const at = this.heap.pop();
      const node = this.nodes[at]!;
      this.popped += 1;
      if (this.found && this.popped > NODES_BEFORE_FREE && this.isCovered(node.parent)) continue;
      this.nodes[at] = null;
      if (!this.closes(node.set)) {
        if (!node.asked && this.popped > NODES_BEFORE_FREE && this.isEnough(node)) continue;
        if (node.free > node.bound) {
          node.bound = node.free;
          this.nodes[at] = node;
          this.heap.push(at, node.bound, 0);
          continue;
        }
        this.closes(node.set);
        this.branch(node);
        if (this.halted) return this.result(bound, false);
        continue;
      }
      const answer = this.bestOrder(node.set);
      if (answer.cost < this.cost) {
        this.cost = answer.cost;
        this.moves = answer.moves;
        this.found = true;
        if (this.cost <= this.floor) return this.result(this.cost, true);
      }
      if (answer.finished && this.isEnough(node)) continue;
      this.closes(node.set);
      this.extend(node);
      if (this.halted) return this.result(bound, false);
      if (answer.finished) this.help(node);
      if (!answer.finished || this.halted) {
        const open = this.halted ? bound : Math.max(bound, answer.bound);
        return this.result(Math.min(open, this.heap.least()), false);
      }
    }
    return this.result(this.cost, true);
  }

  /** Whether what the set was made from has turned out not to be worth while, so that its sisters need not be ordered. */
  private isCovered(parent: Node | null): boolean {
    if (parent === null) return false;
    return parent.asked ? parent.free >= this.cost : this.isEnough(parent);
  }

  /** Whether no larger set can be under the best cost; raises the bound that larger sets inherit. */
  private isEnough(node: Node): boolean {
    const { model } = this;
    node.asked = true;
    if (model.closers || (!model.counted && (node.core !== null || model.helpers.length === 0))) return false;
    const granted = this.order.bestWithin(node.set, this.cost, LABELS_OF_FREE);
    node.free = Math.max(node.free, granted.finished && granted.cost < Infinity ? granted.cost : granted.bound);
    return node.free >= this.cost;
  }

  private bestOrder(set: Int32Array): OrderResult {
    if (this.found) return this.order.best(set, this.cost, 0);
    const soon = this.order.best(set, this.cost, 0, LABELS_BEFORE_BEAM);
    return soon.finished ? soon : this.order.best(set, this.cost, BEAM);
  }

  private readonly halts = (): boolean => {
    if (this.stop()) this.halted = true;
    return this.halted;
  };

  private result(bound: number, proved: boolean): CommitResult {
    return { cost: this.found ? this.cost : Infinity, moves: this.moves, bound: Math.min(bound, this.cost), proved };
  }

  /** Adds a set unless it was seen, breaks a cap, or its bound is not under the best cost. */
  private add(set: Int32Array, parent: Node | null, core: Core | null): void {
    const { model, inside } = this;
    const key = core === null ? Bits.key(set) : `${Bits.key(set)}|${core.key}`;
    if (this.seen.has(key)) return;
    this.seen.add(key);
    let base = 0;
    let risk = 0;
    let steps = 0;
    let carried = parent?.firm ?? 0;
    let floor = core?.value ?? 0;
    let free = parent?.free ?? 0;
    for (let i = 0; i < model.n; i += 1) {
      const is = Bits.has(set, i);
      inside[i] = is ? 1 : 0;
      if (!is) continue;
      base += model.base[i]!;
      risk += model.risk[i]!;
      steps += model.baseSteps[i]!;
      if (parent !== null && !Bits.has(parent.set, i)) {
        carried += model.base[i]!;
        if (this.relaxed || model.helpers.length === 0) free += model.base[i]! - model.baseSteps[i]! * model.wStep;
      }
      if (core !== null && !Bits.has(core.set, i)) floor += model.base[i]!;
    }
    free = Math.max(free, core?.least ?? 0);
    carried = Math.max(carried, floor);
    if (model.rivals.some((list) => list.filter((i) => inside[i] === 1).length > 1)) return;
    const { capRisk, capSteps } = model.objective;
    if (Math.max(carried, free) >= this.cost || (capRisk !== undefined && risk > capRisk)) return;
    const own = base + this.setUps.setUps(this.start, inside, true);
    if (own >= this.cost || (capSteps !== undefined && steps + this.setUps.steps > capSteps)) return;
    const firm = Math.max(carried, own + this.setUps.entries(this.start, inside, true, this.setUps.events));
    if (firm >= this.cost) return;
    let bound = Math.max(firm, free, parent?.bound ?? 0);
    if (!this.closes(set)) {
      for (let i = 0; i < model.n; i += 1) inside[i] = Bits.has(set, i) ? 1 : 0;
      bound = Math.max(bound, firm + this.cut.bound(inside, this.halts));
    }
    if (bound >= this.cost) return;
    this.nodes.push({ set, core, firm, parent, free, asked: false, bound });
    this.heap.push(this.nodes.length - 1, bound, base);
  }

  /** Whether the set can be done by itself; fills `reached` and `inside`. */
  private closes(set: Int32Array): boolean {
    const { model, count, queue, reached, inside } = this;
    const { out, outStart, up, n } = model;
    count.set(model.count);
    let size = 0;
    let members = 0;
    for (let i = 0; i < n; i += 1) {
      reached[i] = 0;
      inside[i] = Bits.has(set, i) ? 1 : 0;
      if (inside[i] === 0) continue;
      members += 1;
      if (count[i] === 0) queue[size++] = i;
    }
    for (let head = 0; head < size; head += 1) {
      const i = queue[head]!;
      reached[i] = 1;
      for (let e = outStart[i]!; e < outStart[i + 1]!; e += 1) {
        let node = out[e]!;
        while (--count[node]! === 0) {
          if (node < n) {
            if (inside[node] === 1) queue[size++] = node;
            break;
          }
          node = up[node]!;
        }
      }
    }
    return size === members;
  }

  /** Children of a set that cannot be done by itself; `closes` has just been called for it. */
  private branch(node: Node): void {
    const { model, reached } = this;
    let best: Int32Array[] | null = null;
    const union: Int32Array[] = [];
    for (let y = 0; y < model.n; y += 1) {
      if (!Bits.has(node.set, y) || reached[y] === 1) continue;
      for (const need of model.needs[y]!) {
        if (need.some((group) => group.every((atom) => atom.some((i) => reached[i] === 1)))) continue;
        const children: Int32Array[] = [];
        let hit = false;
        for (const group of need) {
          const open = group.find((atom) => !atom.some((i) => Bits.has(node.set, i)));
          const all = this.withGroup(node.set, group);
          if (open === undefined && Bits.within(all, node.set)) hit = true;
          else if (open === undefined) children.push(all);
          else for (const i of open) children.push(this.withOperation(all, i));
          for (const atom of group) {
            if (atom.some((i) => reached[i] === 1)) continue;
            for (const i of atom) if (!Bits.has(node.set, i)) union.push(this.withOperation(all, i));
          }
        }
        if (!hit && (best === null || children.length < best.length)) best = children;
      }
    }
    for (const set of best ?? union) {
      if (this.halts()) return;
      this.add(set, node, node.core);
    }
  }

  /** Sets with one alternative more than one that can be done by itself; above a core, with one helper more. */
  private extend(node: Node): void {
    const { model } = this;
    const more: Int32Array[] = [];
    for (let y = 0; y < model.n; y += 1) {
      if (!Bits.has(node.set, y) || (node.core !== null && Bits.has(node.core.set, y))) continue;
      for (const need of model.needs[y]!) {
        if (need.length === 1 && need[0]!.every((atom) => atom.length === 1)) continue;
        for (const group of need) {
          for (const atom of group) {
            for (const i of atom) {
              if (Bits.has(node.set, i)) continue;
              more.push(this.withOperation(this.withGroup(node.set, group), i));
            }
          }
        }
      }
    }
    for (const set of more) {
      if (this.halts()) return;
      this.add(set, node, node.core);
    }
    if (node.core !== null) this.addHelpers(node, node.core);
  }

  /**
   * Takes a set as a core for helpers. Leaving out what only helps never costs anything where its help is granted for
   * nothing, so the relaxed cost of the core, with the base costs of what is added, bounds every set above it.
   */
  private help(node: Node): void {
    const { model } = this;
    if (node.core !== null || model.helpers.length === 0) return;
    const key = Bits.key(node.set);
    if (model.closers) {
      this.addHelpers(node, { set: node.set, value: 0, least: 0, key });
      return;
    }
    if (this.relaxed || !this.canBeHelped(node.set)) return;
    this.lenient ??= new OrderSearch(model, true, this.stop);
    const granted = this.lenient.best(node.set, this.cost, 0);
    if (!granted.finished) this.halted = true;
    else if (granted.cost < this.cost)
      this.addHelpers(node, { set: node.set, value: granted.cost, least: node.free, key });
  }

  private canBeHelped(set: Int32Array): boolean {
    const { cooling, zones, bareWork } = this.model;
    if (bareWork.some((i) => Bits.has(set, i))) return true;
    return cooling.some((z) => zones[z]!.bonds.some((i) => Bits.has(set, i)));
  }

  /**
   * One helper more. Of two that have the same tools and side, where the one can be done whenever the other can and costs
   * no more, the better is taken first: exchanging them costs nothing. And no more are taken than can be of use: each
   * warm window is made ready by at most two (hand and side), each release without tools by one before it.
   */
  private addHelpers(node: Node, core: Core): void {
    const { model } = this;
    if (!model.closers && this.helpersIn(node.set, core.set) >= this.mostHelpers(node.set)) return;
    for (const helper of model.helpers) {
      if (this.halts()) return;
      if (Bits.has(node.set, helper)) continue;
      if (model.betterHelpers[helper]!.some((better) => !Bits.has(node.set, better))) continue;
      this.add(this.withOperation(node.set, helper), node, core);
    }
  }

  /** Operations beyond the core that serve nothing in the set. */
  private helpersIn(set: Int32Array, core: Int32Array): number {
    const { model } = this;
    const serves = new Uint8Array(model.n);
    for (let y = 0; y < model.n; y += 1) {
      if (!Bits.has(set, y)) continue;
      for (const need of model.needs[y]!) {
        for (const group of need) for (const atom of group) for (const i of atom) serves[i] = 1;
      }
    }
    let count = 0;
    for (let i = 0; i < model.n; i += 1) if (Bits.has(set, i) && !Bits.has(core, i) && serves[i] === 0) count += 1;
    return count;
  }

  private mostHelpers(set: Int32Array): number {
    const { cooling, zones, bareWork } = this.model;
    let most = bareWork.filter((i) => Bits.has(set, i)).length;
    for (const z of cooling) most += 2 * zones[z]!.bonds.filter((i) => Bits.has(set, i)).length;
    return most;
  }

  private withGroup(set: Int32Array, group: readonly (readonly number[])[]): Int32Array {
    const { dom } = this.model;
    const all = set.slice();
    for (const atom of group) {
      const common = dom[atom[0]!]!.slice();
      for (let k = 1; k < atom.length; k += 1) Bits.and(common, dom[atom[k]!]!);
      Bits.or(all, common);
    }
    return all;
  }

  private withOperation(set: Int32Array, i: number): Int32Array {
    const all = set.slice();
    Bits.or(all, this.model.dom[i]!);
    return all;
  }
}
