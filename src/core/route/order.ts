/**
 * The cheapest order of a fixed set of operations, all of which are done: best-first search over what has been done.
 *
 * A label is (done, mode, soft time left of each zone) with the packed cost g so far. From a label the search branches
 * over the modes it can enter next (and over single operations where more than the mode matters); what is free in the
 * new mode and safe to do at once is done with it (forced moves). One label replaces another where it can do all that
 * the other can at no greater cost (dominance). The rules and why they lose no optimum are argued in docs/core/route.md.
 *
 * Two semantics. `relaxed` true: what is fetched or turned by the first work after a heating that leaves hand or side
 * alone takes none of the soft time, as if it had been made ready before; a relaxation, in which no operation is worth
 * doing only to make ready. `relaxed` false: the bench's rules to the letter.
 *
 * Cost: a label costs time linear in the remaining needs times the number of tools and sides; the number of labels is
 * exponential in the worst case (it is a sequencing problem with set-ups) and a few hundred on devices.
 */
import { Bound, type Position } from "./bound.ts";
import { dominates } from "./dominance.ts";
import { Heap } from "./heap.ts";
import { hashBits, Labels } from "./labels.ts";
import type { Model } from "./model.ts";
import type { Move } from "./problem.ts";
import { ToGo } from "./to-go.ts";
import { Work } from "./work.ts";

/** How a label was made from its parent. */
const START = 0;
const DO = 1;
const HEAT_DO = 2;
const ROUNDS = 3;
const HEAT_ZONE = 4;
const HELP = 5;

export interface OrderResult {
  /** Packed cost of the best order found under the cut-off; Infinity: none. */
  readonly cost: number;
  readonly moves: readonly Move[];
  /** No order under the cut-off costs less than this. */
  readonly bound: number;
  readonly finished: boolean;
}

/** Memory for labels. */
const MOST_BYTES = 250_000_000;

/** Nodes of needs gone over between two looks at the clock: a few milliseconds. */
const WORK_UNWATCHED = 20_000;

export class OrderSearch extends Work {
  private readonly stop: () => boolean;
  private readonly bound: Bound;
  private readonly heap = new Heap();
  /** Where steps are counted: the exact time of the set-ups to come. */
  private readonly toGo: ToGo | null;
  private readonly labels: Labels;
  private readonly mostLabels: number;
  private readonly capSteps: number;
  private readonly capped: boolean;

  // The label being expanded.
  private readonly fromCount: Int32Array;
  private readonly fromDone: Uint8Array;
  private readonly fromAvailable: Int32Array;
  private fromAvailableSize = 0;
  private fromChanges = 0;
  private readonly fromBits: Int32Array;
  private readonly from: Position;

  private readonly modeStamp: Int32Array;
  private stamp = 0;
  /** Helpers by what they leave in hand, up and open, the cheapest first: their ways. */
  private readonly helpful: readonly (readonly number[])[];
  private readonly needless: Uint8Array;
  private barred = false;
  private sink: Int32Array = new Int32Array(256);
  private sinkSize = 0;
  private cutoff = Infinity;
  private work = 0;
  private halted = false;
  expanded = 0;
  /** For those who watch: no order of the set under the cut-off costs less; the best cost found of it. */
  open = 0;
  found = Infinity;

  constructor(model: Model, relaxed: boolean, stop: () => boolean) {
    super(model, relaxed);
    const { n, nodes } = model;
    this.stop = stop;
    this.bound = new Bound(model);
    this.toGo = model.counted ? new ToGo(model, new Bound(model), stop) : null;
    this.labels = new Labels(this.words, this.zoneCount);
    this.mostLabels = Math.floor(MOST_BYTES / Labels.bytes(this.words, this.zoneCount));
    this.capped = model.objective.capSteps !== undefined;
    this.capSteps = model.objective.capSteps ?? Infinity;
    this.fromCount = new Int32Array(nodes);
    this.fromDone = new Uint8Array(n);
    this.fromAvailable = new Int32Array(n);
    this.fromBits = new Int32Array(this.words);
    const self = this;
    this.from = {
      count: this.fromCount,
      done: this.fromDone,
      available: this.fromAvailable,
      get availableSize() {
        return self.fromAvailableSize;
      },
      get mode() {
        return self.mode;
      },
      left: this.left,
    };
    this.helpful = relaxed ? [] : helpfulWays(model);
    this.needless = new Uint8Array(n);
    this.modeStamp = new Int32Array(model.hands.length * model.sides * 4);
  }

  /** The best order of `set` that costs less than `cutoff`; a beam of `width` comes first (0: none); `most` labels opened. */
  best(set: Int32Array, cutoff: number, width: number, most = Infinity): OrderResult {
    this.outside = false;
    return this.search(set, cutoff, width, most);
  }

  /**
   * What doing all of `set` costs at least, whatever is done besides: the best order in which all else is done for nothing
   * as soon as it can be. By the letter, what could make ready may be done for its own cost and set-ups, any number of
   * times. The moves are an order of `set` alone only where they happen to need nothing from outside.
   */
  bestWithin(set: Int32Array, cutoff: number, most: number): OrderResult {
    this.outside = true;
    const result = this.search(set, cutoff, 0, most);
    this.outside = false;
    return result;
  }

  private search(set: Int32Array, cutoff: number, width: number, most: number): OrderResult {
    this.take(set);
    this.toGo?.take(this.inside, this.outside);
    this.cutoff = cutoff;
    this.open = 0;
    this.found = Infinity;
    let found = -1;
    let moves: readonly Move[] = [];
    let cost = Infinity;
    const until = this.expanded + most;
    if (width > 0) {
      const root = this.root();
      if (root < 0) return { cost, moves, bound: cutoff, finished: true };
      found = this.beam(root, width);
      if (found >= 0) {
        cost = this.labels.g[found]!;
        moves = this.moves(found);
        this.cutoff = cost;
        this.found = cost;
      }
    }
    const root = this.root();
    if (root < 0) return { cost, moves, bound: this.cutoff, finished: true };
    this.heap.clear();
    this.heap.push(root, this.labels.f[root]!, this.labels.g[root]!);
    while (this.heap.size > 0) {
      const least = this.heap.least();
      if (least >= this.cutoff) break;
      this.open = least;
      const label = this.heap.pop();
      if (this.labels.dead[label] === 1) continue;
      if (this.labels.doneCount[label] === this.size) {
        return { cost: this.labels.g[label]!, moves: this.moves(label), bound: this.labels.g[label]!, finished: true };
      }
      if (this.refine(label)) continue;
      this.expanded += 1;
      if (this.labels.size > this.mostLabels || this.expanded > until) {
        return { cost, moves, bound: least, finished: false };
      }
      this.expandLoaded(label);
      if (this.halted) return { cost, moves, bound: least, finished: false };
      for (let k = 0; k < this.sinkSize; k += 1) {
        const child = this.sink[k]!;
        this.heap.push(child, this.labels.f[child]!, this.labels.g[child]!);
      }
    }
    return { cost, moves, bound: this.cutoff, finished: true };
  }

  /** Only a beam: an order, good but not proved best. */
  quick(set: Int32Array, cutoff: number, width: number): OrderResult {
    this.outside = false;
    this.take(set);
    this.toGo?.take(this.inside, this.outside);
    this.cutoff = cutoff;
    const root = this.root();
    const found = root < 0 ? -1 : this.beam(root, width);
    if (found < 0) return { cost: Infinity, moves: [], bound: 0, finished: false };
    return { cost: this.labels.g[found]!, moves: this.moves(found), bound: 0, finished: false };
  }

  /** Breadth-first over decisions, the `width` best labels of each layer kept. */
  private beam(root: number, width: number): number {
    let layer = [root];
    let best = -1;
    while (layer.length > 0) {
      const next: number[] = [];
      for (const label of layer) {
        if (this.labels.dead[label] === 1 || this.labels.f[label]! >= this.cutoff) continue;
        if (this.labels.doneCount[label] === this.size) {
          if (best < 0 || this.labels.g[label]! < this.labels.g[best]!) best = label;
          this.cutoff = Math.min(this.cutoff, this.labels.g[label]!);
          continue;
        }
        this.expand(label);
        if (this.halted) return best;
        for (let k = 0; k < this.sinkSize; k += 1) next.push(this.sink[k]!);
      }
      if (this.labels.size > this.mostLabels) return best;
      next.sort((a, b) => this.labels.f[a]! - this.labels.f[b]! || this.labels.g[b]! - this.labels.g[a]! || a - b);
      layer = next.length > width ? next.slice(0, width) : next;
    }
    return best;
  }

  /** Loads a label and bounds it once more by entries of classes; true where it went back into the heap for that. */
  private refine(label: number): boolean {
    this.load(label);
    if (this.labels.refined[label] === 1 || this.toGo !== null) return false;
    this.labels.refined[label] = 1;
    this.mode = this.labels.modes[label]!;
    const more = this.bound.entries(this.from, this.inside, this.outside, this.labels.events[label]!);
    const f = this.labels.plain[label]! + more;
    if (f <= this.labels.f[label]!) return false;
    this.labels.f[label] = f;
    if (f < this.cutoff) this.heap.push(label, f, this.labels.g[label]!);
    return true;
  }

  private expand(label: number): void {
    this.load(label);
    this.expandLoaded(label);
  }

  private expandLoaded(label: number): void {
    const { model } = this;
    this.sinkSize = 0;
    this.stamp += 1;
    if (this.labels.how[label] === HEAT_ZONE && model.zones[this.labels.what[label]!]!.neutral) {
      this.heatOther(label, this.labels.what[label]!);
      return;
    }
    const merge = !this.isWarm(label);
    const chained = this.labels.idle[label] === 1;
    if (chained) this.findIdle(label);
    for (let k = 0; k < this.fromAvailableSize; k += 1) {
      const x = this.fromAvailable[k]!;
      const twin = model.twin[x]!;
      if (twin >= 0 && this.inside[twin] === 1 && this.fromDone[twin] === 0) continue;
      this.barred = chained && this.needless[x] === 1;
      if (model.zone[x]! >= 0) this.branchHeated(label, x);
      else if (!this.barred) {
        for (const way of model.options[x]!) {
          const slow = model.base[way]! > model.base[x]!;
          if (!merge || slow || this.single(x) || this.firstOfMode(label, way)) this.branch(label, DO, way);
        }
      }
    }
    for (let z = 0; z < this.zoneCount; z += 1) {
      const zone = model.zones[z]!;
      const left = this.labels.warm[label * this.zoneCount + z]!;
      if (zone.neutral) {
        if (this.mayHeat(left, zone.soft) && this.mayComeFirst(z)) this.branch(label, HEAT_ZONE, z);
        continue;
      }
      const own = this.mayHeat(left, zone.soft) && this.pending(zone.bonds, this.fromDone);
      if (own || (!this.relaxed && this.pending(zone.helpsBonds, this.fromDone))) this.branch(label, HEAT_ZONE, z);
    }
    if (this.outside && !this.relaxed) this.branchHelp(label);
  }

  /** The cheapest way that is there of each kind that could make ready, or keep a set in hand. */
  private branchHelp(label: number): void {
    const { model } = this;
    for (const ways of this.helpful) {
      for (const way of ways) {
        const x = model.unit[way]!;
        if (this.inside[x] === 1 || this.fromDone[x] !== 1) continue;
        if (!this.pending(model.helpsBonds[x]!, this.fromDone) && !this.keeps(x, this.fromDone)) continue;
        this.branch(label, HELP, way);
        break;
      }
    }
  }

  /**
   * What could have been done without one of the lifts that came last, all of which found the work closed: then that lift
   * is as well done afterwards, and closes the work. Only what needs them all is done next. Marks `needless`.
   */
  private findIdle(label: number): void {
    const { labels, model } = this;
    const chain: number[] = [];
    const side = (labels.modes[label]! >> 2) % model.sides;
    let root = label;
    for (; labels.idle[root] === 1; root = labels.parent[root]!) chain.push(labels.what[root]!);
    chain.reverse();
    this.needless.fill(0);
    const available = this.fromAvailable.slice(0, this.fromAvailableSize);
    for (let i = 0; i < chain.length; i += 1) {
      this.count.set(model.count);
      this.done.fill(0);
      this.availableSize = 0;
      this.replay(root);
      let stands = true;
      for (let j = 0; j < chain.length && stands; j += 1) {
        if (j === i) continue;
        if (this.count[chain[j]!] !== 0) stands = false;
        else {
          this.done[chain[j]!] = 1;
          this.opens(chain[j]!);
        }
      }
      if (!stands) continue;
      const anySide = model.side[chain[i]!]! < 0;
      for (const y of available) {
        if (model.isRelease[y] !== 1 || this.count[y] !== 0) continue;
        if (anySide || model.options[y]!.every((way) => model.side[way]! < 0 || model.side[way] === side)) {
          this.needless[y] = 1;
        }
      }
    }
  }

  /** Puts what a label has done into `done` and `count`, with what is done for nothing outside. */
  private replay(label: number): void {
    const { model, labels, words, done, inside } = this;
    for (let i = 0; i < model.n; i += 1) {
      if (inside[i] === 1) done[i] = (labels.bits[label * words + (i >>> 5)]! >>> (i & 31)) & 1;
      else if (this.outside && model.count[i] === 0) done[i] = 1;
    }
    const first = done.slice();
    for (let i = 0; i < model.n; i += 1) if (first[i] === 1) this.opens(i);
  }

  /** In the relaxation a heating renews what may have been made ready, even where no time has passed since the last. */
  private mayHeat(left: number, soft: number): boolean {
    return left < soft || (this.relaxed && left < Infinity);
  }

  /**
   * A heating that changes neither hand nor side is best just before its first bond, unless another zone is heated in
   * between: then its own time would fall into the other's window.
   */
  private mayComeFirst(z: number): boolean {
    const { model } = this;
    const zone = model.zones[z]!;
    if (model.cooling.length === 0 || !this.pending(zone.bonds, this.fromDone)) return false;
    return model.cooling.some(
      (other) =>
        other !== z && model.zones[other]!.ms <= zone.soft && this.pending(model.zones[other]!.bonds, this.fromDone),
    );
  }

  private heatOther(label: number, but: number): void {
    const { model } = this;
    for (let k = 0; k < this.fromAvailableSize; k += 1) {
      const x = this.fromAvailable[k]!;
      const z = model.zone[x]!;
      if (z < 0 || z === but || !model.zones[z]!.neutral) continue;
      const { soft } = model.zones[z]!;
      if (soft < Infinity && this.fitsAfterHeating(label, x)) this.branch(label, HEAT_DO, x);
    }
    for (let z = 0; z < this.zoneCount; z += 1) {
      const zone = model.zones[z]!;
      if (z === but) continue;
      if (zone.neutral ? this.mayComeFirst(z) : this.pending(zone.bonds, this.fromDone)) {
        this.branch(label, HEAT_ZONE, z);
      }
    }
  }

  private branchHeated(label: number, x: number): void {
    const { model } = this;
    const z = model.zone[x]!;
    const zone = model.zones[z]!;
    const left = this.labels.warm[label * this.zoneCount + z]!;
    if (left === Infinity) {
      if (!this.barred) this.branch(label, DO, x);
      return;
    }
    if (left >= 0) {
      this.enterFor(this.labels.modes[label]!, x);
      const counted = this.countedSetUp(this.labels.flags[label * this.zoneCount + z]!, x);
      if (counted + model.ms[x]! <= left) {
        this.branch(label, DO, x);
        return;
      }
    }
    // Heatings that take no time are none of the operations of an interrupted release: fewer operations in all.
    if (this.relaxed && zone.ms === 0 && model.passes[x] === 1) this.branch(label, ROUNDS, x);
    if (zone.neutral && (zone.soft === Infinity || this.fitsAfterHeating(label, x))) this.branch(label, HEAT_DO, x);
    else if (!this.barred && model.passes[x] === 1 && (zone.neutral || !this.fitsAfterHeating(label, x))) {
      this.branch(label, ROUNDS, x);
    }
  }

  private fitsAfterHeating(label: number, x: number): boolean {
    return (
      this.setUpAfterHeating(this.labels.modes[label]!, x) + this.model.ms[x]! <=
      this.model.zones[this.model.zone[x]!]!.soft
    );
  }

  private load(label: number): void {
    const { model, words } = this;
    this.fromCount.set(model.count);
    this.fromBits.set(this.labels.bits.subarray(label * words, (label + 1) * words));
    const { fromBits, fromDone, fromCount } = this;
    const { out, outStart, up, n } = model;
    for (let i = 0; i < n; i += 1) {
      const is = (fromBits[i >>> 5]! >>> (i & 31)) & 1;
      fromDone[i] = is;
      if (is === 0) continue;
      for (let e = outStart[i]!; e < outStart[i + 1]!; e += 1) {
        let node = out[e]!;
        while (--fromCount[node]! === 0 && node >= n) node = up[node]!;
      }
    }
    if (this.outside) this.loadOutside();
    this.fromAvailableSize = 0;
    this.fromChanges = 0;
    for (let i = 0; i < n; i += 1) {
      if (this.inside[i] === 0 || fromDone[i] === 1) continue;
      this.fromChanges += this.isChange(i);
      if (fromCount[i] === 0) this.fromAvailable[this.fromAvailableSize++] = i;
    }
  }

  private loadOutside(): void {
    const { fromDone, fromCount, inside } = this;
    const { out, outStart, up, n } = this.model;
    const stack: number[] = [];
    for (let i = 0; i < n; i += 1) if (inside[i] === 0 && fromCount[i] === 0) stack.push(i);
    for (const i of stack) fromDone[i] = 1;
    while (stack.length > 0) {
      const i = stack.pop()!;
      for (let e = outStart[i]!; e < outStart[i + 1]!; e += 1) {
        let node = out[e]!;
        while (--fromCount[node]! === 0) {
          if (node < n) {
            if (inside[node] === 0 && fromDone[node] === 0) {
              fromDone[node] = 1;
              stack.push(node);
            }
            break;
          }
          node = up[node]!;
        }
      }
    }
  }

  private branch(label: number, how: number, what: number): void {
    this.work += this.model.nodes;
    if (this.work > WORK_UNWATCHED) {
      this.work = 0;
      if (this.stop()) this.halted = true;
    }
    if (this.halted) return;
    if (!this.build(label, how, what)) return;
    const child = this.commit(label, how, what);
    if (child < 0) return;
    if (this.sinkSize === this.sink.length) {
      const bigger = new Int32Array(this.sinkSize * 2);
      bigger.set(this.sink);
      this.sink = bigger;
    }
    this.sink[this.sinkSize++] = child;
  }

  /** Makes the child in the working fields; false: the decision cannot be taken. */
  private build(label: number, how: number, what: number): boolean {
    const { model, zoneCount } = this;
    this.count.set(this.fromCount);
    this.done.set(this.fromDone);
    this.bits.set(this.fromBits);
    for (let k = 0; k < this.fromAvailableSize; k += 1) this.available[k] = this.fromAvailable[k]!;
    this.availableSize = this.fromAvailableSize;
    this.changes = this.fromChanges;
    this.mode = this.labels.modes[label]!;
    for (let z = 0; z < zoneCount; z += 1) {
      this.left[z] = this.labels.warm[label * zoneCount + z]!;
      this.flags[z] = this.labels.flags[label * zoneCount + z]!;
    }
    this.g = this.labels.g[label]!;
    this.rest = this.labels.rest[label]!;
    this.doneCount = this.labels.doneCount[label]!;
    this.spent = this.labels.spent[label]!;
    if (how === HEAT_ZONE) this.heat(what);
    else if (how === HELP) this.use(what);
    else if (how === ROUNDS) {
      if (!this.interrupted(what)) return false;
    } else {
      if (how === HEAT_DO) this.heat(model.zone[what]!);
      this.perform(what);
    }
    this.close();
    return true;
  }

  private isWarm(label: number): boolean {
    for (const z of this.model.cooling) if (this.labels.warm[label * this.zoneCount + z]! >= 0) return true;
    return false;
  }

  /** Operations that are branched on one by one. */
  private single(x: number): boolean {
    const { model } = this;
    if (model.counted && model.isRelease[x] === 0 && !model.readings.I1) return true;
    if (model.bundled[x] === 1 || (model.counted && model.readings.I9 && model.clean[x] === 1)) return true;
    if (this.keeps(x, this.fromDone) || this.turnsForSteps(x)) return true;
    return !this.relaxed && this.pending(model.helpsBonds[x]!, this.fromDone);
  }

  private firstOfMode(label: number, x: number): boolean {
    this.enterFor(this.labels.modes[label]!, x);
    const { mode } = this.setUp;
    if (this.modeStamp[mode] === this.stamp) return false;
    this.modeStamp[mode] = this.stamp;
    return true;
  }

  private moves(label: number): readonly Move[] {
    const path: number[] = [];
    for (let at = label; this.labels.parent[at]! >= 0; at = this.labels.parent[at]!) path.push(at);
    path.push(-1);
    const moves: Move[] = [];
    this.trace = moves;
    // The start may have forced moves of its own: take it again from the beginning.
    this.begin();
    for (let k = path.length - 2; k >= 0; k -= 1) {
      const at = path[k]!;
      const parent = this.labels.parent[at]!;
      this.trace = null;
      this.load(parent);
      this.trace = moves;
      this.build(parent, this.labels.how[at]!, this.labels.what[at]!);
    }
    this.trace = null;
    return moves;
  }

  /** The start as a label; -1: it is bounded already. */
  private root(): number {
    this.labels.clear();
    this.begin();
    return this.commit(-1, START, -1);
  }

  /** Stores the child unless it is bounded or dominated; -1 where it is. */
  private commit(parent: number, how: number, what: number): number {
    const { labels } = this;
    if (this.capped && this.spent > this.capSteps) return -1;
    let plain = this.g + this.rest + this.bound.setUps(this, this.inside, this.outside);
    if (this.toGo !== null && plain < this.cutoff) {
      const { time } = this.bound;
      const { wMs } = this.model;
      const limit = time + (this.cutoff - plain) / wMs;
      plain += Math.max(0, this.toGo.least(this, this.bits, limit) - time) * wMs;
    }
    if (this.capped && this.spent + this.bound.steps + this.restSteps() > this.capSteps) return -1;
    const f = Math.max(plain, parent >= 0 ? labels.f[parent]! : 0);
    if (f >= this.cutoff) return -1;
    const { events } = this.bound;
    const hash = hashBits(this.bits, 0, this.words);
    for (let other = labels.first(hash); other >= 0; other = labels.chain[other]!) {
      if (labels.dead[other] === 1 || !labels.sameBits(other, this.bits)) continue;
      if (this.dominatesChild(other)) return -1;
      if (this.childDominates(other)) labels.dead[other] = 1;
    }
    const id = labels.add(this, hash, parent, how, what);
    labels.f[id] = f;
    labels.plain[id] = plain;
    labels.events[id] = events;
    if (how === DO && this.isIdleLift(parent, what)) labels.idle[id] = 1;
    return id;
  }

  /** Just one lift, with the work closed before, nothing warm, and the mode as it was. */
  private isIdleLift(parent: number, x: number): boolean {
    const { model, labels } = this;
    if (!model.counted || model.readings.I1 || model.isRelease[x] === 1 || model.bundled[x] === 1) return false;
    if (model.hand[x]! >= 0) return false;
    if (this.mode !== labels.modes[parent] || (this.mode & 1) === 1) return false;
    return this.doneCount === labels.doneCount[parent]! + 1 && !this.isWarm(parent);
  }

  private dominatesChild(other: number): boolean {
    const { modes, g, spent, warm, flags } = this.labels;
    const at = other * this.zoneCount;
    const [m, c, s] = [modes[other]!, g[other]!, spent[other]!];
    return dominates(this, m, c, s, warm, flags, at, this.mode, this.g, this.spent, this.left, this.flags, 0);
  }

  private childDominates(other: number): boolean {
    const { modes, g, spent, warm, flags } = this.labels;
    const at = other * this.zoneCount;
    const [m, c, s] = [modes[other]!, g[other]!, spent[other]!];
    return dominates(this, this.mode, this.g, this.spent, this.left, this.flags, 0, m, c, s, warm, flags, at);
  }
}

function helpfulWays(model: Model): number[][] {
  const kinds = new Map<string, number[]>();
  for (const x of model.helpers) {
    for (const way of model.options[x]!) {
      const key = [model.hand, model.side, model.isRelease, model.clean, model.baseSteps].map((of) => of[way]).join();
      const list = kinds.get(key);
      if (list === undefined) kinds.set(key, [way]);
      else list.push(way);
    }
  }
  return [...kinds.values()].map((ways) => ways.sort((a, b) => model.base[a]! - model.base[b]! || a - b));
}
