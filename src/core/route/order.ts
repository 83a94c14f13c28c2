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
import { rounds } from "./advance.ts";
import { Bound, type Position } from "./bound.ts";
import { Heap } from "./heap.ts";
import { type Model, missing } from "./model.ts";
import type { Move } from "./problem.ts";
import { HEAT, MOVE, RELEASE, SetUp } from "./setup.ts";

/** How a label was made from its parent. */
const START = 0;
const DO = 1;
const HEAT_DO = 2;
const ROUNDS = 3;
const HEAT_ZONE = 4;

const HAND_PENDING = 1;
const SIDE_PENDING = 2;

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

export class OrderSearch implements Position {
  private readonly model: Model;
  private readonly relaxed: boolean;
  private readonly stop: () => boolean;
  private readonly setUp: SetUp;
  private readonly bound: Bound;
  private readonly heap = new Heap();
  private readonly words: number;
  private readonly zoneCount: number;
  private readonly capSteps: number;
  private readonly capped: boolean;

  // The set.
  private readonly inside: Uint8Array;
  private size = 0;
  private total = 0;

  // Labels.
  private room = 1024;
  private labels = 0;
  private bits: Int32Array;
  private modes: Int32Array;
  private g: Float64Array;
  private f: Float64Array;
  private rest: Float64Array;
  private parent: Int32Array;
  private how: Int32Array;
  private what: Int32Array;
  private doneCount: Int32Array;
  private spent: Int32Array;
  private warm: Float64Array;
  private flags: Int32Array;
  /** f without what the parent's bound carried down; fetches and turns in it; 1: bounded by entries as well. */
  private plain: Float64Array;
  private events: Int32Array;
  private refined: Uint8Array;
  private dead: Uint8Array;
  private chain: Int32Array;
  private table: Int32Array;

  // The label being expanded.
  private readonly fromCount: Int32Array;
  private readonly fromDone: Uint8Array;
  private readonly fromAvailable: Int32Array;
  private fromAvailableSize = 0;
  private readonly fromBits: Int32Array;
  private readonly from: Position;

  // The child being made.
  readonly count: Int32Array;
  readonly done: Uint8Array;
  readonly available: Int32Array;
  availableSize = 0;
  mode = 0;
  readonly left: Float64Array;
  private readonly childBits: Int32Array;
  private readonly childFlags: Int32Array;
  private childG = 0;
  private childRest = 0;
  private childDone = 0;
  private childSpent = 0;
  private trace: Move[] | null = null;
  private readonly modeStamp: Int32Array;
  private stamp = 0;
  private sink: Int32Array = new Int32Array(256);
  private sinkSize = 0;
  private cutoff = Infinity;
  expanded = 0;
  /** For those who watch: no order of the set under the cut-off costs less; the best cost found of it. */
  open = 0;
  found = Infinity;
  private work = 0;
  private halted = false;
  private readonly mostLabels: number;

  constructor(model: Model, relaxed: boolean, stop: () => boolean) {
    this.model = model;
    this.relaxed = relaxed;
    this.stop = stop;
    this.setUp = new SetUp(model, relaxed);
    this.bound = new Bound(model);
    this.words = Math.max(1, (model.n + 31) >>> 5);
    this.zoneCount = model.zones.length;
    this.mostLabels = Math.floor(MOST_BYTES / (75 + 4 * this.words + 12 * this.zoneCount));
    this.capped = model.objective.capSteps !== undefined;
    this.capSteps = model.objective.capSteps ?? Infinity;
    const { n, nodes } = model;
    this.inside = new Uint8Array(n);
    this.bits = new Int32Array(this.room * this.words);
    this.modes = new Int32Array(this.room);
    this.g = new Float64Array(this.room);
    this.f = new Float64Array(this.room);
    this.rest = new Float64Array(this.room);
    this.parent = new Int32Array(this.room);
    this.how = new Int32Array(this.room);
    this.what = new Int32Array(this.room);
    this.doneCount = new Int32Array(this.room);
    this.spent = new Int32Array(this.room);
    this.warm = new Float64Array(this.room * this.zoneCount);
    this.flags = new Int32Array(this.room * this.zoneCount);
    this.dead = new Uint8Array(this.room);
    this.plain = new Float64Array(this.room);
    this.events = new Int32Array(this.room);
    this.refined = new Uint8Array(this.room);
    this.chain = new Int32Array(this.room);
    this.table = new Int32Array(2048).fill(-1);
    this.fromCount = new Int32Array(nodes);
    this.fromDone = new Uint8Array(n);
    this.fromAvailable = new Int32Array(n);
    this.fromBits = new Int32Array(this.words);
    this.count = new Int32Array(nodes);
    this.done = new Uint8Array(n);
    this.available = new Int32Array(n);
    this.left = new Float64Array(this.zoneCount);
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
    this.childBits = new Int32Array(this.words);
    this.childFlags = new Int32Array(this.zoneCount);
    const modes = model.hands.length * model.sides * 4;
    this.modeStamp = new Int32Array(modes);
  }

  /** The best order of `set` that costs less than `cutoff`; a beam of `width` comes first (0: none). */
  best(set: Int32Array, cutoff: number, width: number): OrderResult {
    this.take(set);
    this.cutoff = cutoff;
    this.open = 0;
    this.found = Infinity;
    let found = -1;
    let moves: readonly Move[] = [];
    let cost = Infinity;
    if (width > 0) {
      const root = this.root();
      if (root < 0) return { cost, moves, bound: cutoff, finished: true };
      found = this.beam(root, width);
      if (found >= 0) {
        cost = this.g[found]!;
        moves = this.moves(found);
        this.cutoff = cost;
        this.found = cost;
      }
    }
    const root = this.root();
    if (root < 0) return { cost, moves, bound: this.cutoff, finished: true };
    this.heap.clear();
    this.heap.push(root, this.f[root]!, this.g[root]!);
    while (this.heap.size > 0) {
      const least = this.heap.least();
      if (least >= this.cutoff) break;
      this.open = least;
      const label = this.heap.pop();
      if (this.dead[label] === 1) continue;
      if (this.doneCount[label] === this.size) {
        return { cost: this.g[label]!, moves: this.moves(label), bound: this.g[label]!, finished: true };
      }
      if (this.refine(label)) continue;
      this.expanded += 1;
      if (this.labels > this.mostLabels) return { cost, moves, bound: least, finished: false };
      this.expandLoaded(label);
      if (this.halted) return { cost, moves, bound: least, finished: false };
      for (let k = 0; k < this.sinkSize; k += 1) {
        const child = this.sink[k]!;
        this.heap.push(child, this.f[child]!, this.g[child]!);
      }
    }
    return { cost, moves, bound: this.cutoff, finished: true };
  }

  /** Only a beam: an order, good but not proved best. */
  quick(set: Int32Array, cutoff: number, width: number): OrderResult {
    this.take(set);
    this.cutoff = cutoff;
    const root = this.root();
    const found = root < 0 ? -1 : this.beam(root, width);
    if (found < 0) return { cost: Infinity, moves: [], bound: 0, finished: false };
    return { cost: this.g[found]!, moves: this.moves(found), bound: 0, finished: false };
  }

  private take(set: Int32Array): void {
    const { model, inside } = this;
    this.size = 0;
    this.total = 0;
    for (let i = 0; i < model.n; i += 1) {
      const is = (set[i >>> 5]! >>> (i & 31)) & 1;
      inside[i] = is;
      if (is === 1) {
        this.size += 1;
        this.total += model.base[i]!;
      }
    }
  }

  private root(): number {
    const { model } = this;
    this.labels = 0;
    this.table.fill(-1);
    this.count.set(model.count);
    this.done.fill(0);
    this.childBits.fill(0);
    this.availableSize = 0;
    for (let i = 0; i < model.n; i += 1) {
      if (model.count[i] === 0 && this.inside[i] === 1) this.available[this.availableSize++] = i;
    }
    this.mode = model.startMode;
    this.left.fill(-1);
    this.childFlags.fill(0);
    this.childG = 0;
    this.childRest = this.total;
    this.childDone = 0;
    this.childSpent = 0;
    this.close();
    return this.commit(-1, START, -1);
  }

  /** Breadth-first over decisions, the `width` best labels of each layer kept. */
  private beam(root: number, width: number): number {
    let layer = [root];
    let best = -1;
    while (layer.length > 0) {
      const next: number[] = [];
      for (const label of layer) {
        if (this.dead[label] === 1 || this.f[label]! >= this.cutoff) continue;
        if (this.doneCount[label] === this.size) {
          if (best < 0 || this.g[label]! < this.g[best]!) best = label;
          this.cutoff = Math.min(this.cutoff, this.g[label]!);
          continue;
        }
        this.expand(label);
        if (this.halted) return best;
        for (let k = 0; k < this.sinkSize; k += 1) next.push(this.sink[k]!);
      }
      if (this.labels > this.mostLabels) return best;
      next.sort((a, b) => this.f[a]! - this.f[b]! || this.g[b]! - this.g[a]! || a - b);
      layer = next.length > width ? next.slice(0, width) : next;
    }
    return best;
  }

  /** Loads a label and bounds it once more by entries of classes; true where it went back into the heap for that. */
  private refine(label: number): boolean {
    this.load(label);
    if (this.refined[label] === 1) return false;
    this.refined[label] = 1;
    this.mode = this.modes[label]!;
    const more = this.bound.entries(this.from, this.inside, false, this.events[label]!);
    const f = this.plain[label]! + more;
    if (f <= this.f[label]!) return false;
    this.f[label] = f;
    if (f < this.cutoff) this.heap.push(label, f, this.g[label]!);
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
    if (this.how[label] === HEAT_ZONE && model.zones[this.what[label]!]!.neutral) {
      this.heatOther(label, this.what[label]!);
      return;
    }
    const merge = !this.isWarm(label);
    for (let k = 0; k < this.fromAvailableSize; k += 1) {
      const x = this.fromAvailable[k]!;
      const twin = model.twin[x]!;
      if (twin >= 0 && this.inside[twin] === 1 && this.fromDone[twin] === 0) continue;
      if (model.zone[x]! >= 0) this.branchHeated(label, x);
      else {
        for (const way of model.options[x]!) {
          const slow = model.base[way]! > model.base[x]!;
          if (!merge || slow || this.single(x) || this.firstOfMode(label, way)) this.branch(label, DO, way);
        }
      }
    }
    for (let z = 0; z < this.zoneCount; z += 1) {
      const zone = model.zones[z]!;
      const left = this.warm[label * this.zoneCount + z]!;
      if (zone.neutral) {
        if (left < zone.soft && this.mayComeFirst(z)) this.branch(label, HEAT_ZONE, z);
        continue;
      }
      const own = left < zone.soft && this.pending(zone.bonds, this.fromDone);
      if (own || (!this.relaxed && this.pending(zone.helpsBonds, this.fromDone))) this.branch(label, HEAT_ZONE, z);
    }
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
    const left = this.warm[label * this.zoneCount + z]!;
    if (left === Infinity) {
      this.branch(label, DO, x);
      return;
    }
    if (left >= 0) {
      this.enterFor(this.modes[label]!, x);
      const counted = this.countedSetUp(this.flags[label * this.zoneCount + z]!, x);
      if (counted + model.ms[x]! <= left) {
        this.branch(label, DO, x);
        return;
      }
    }
    // Heatings that take no time are none of the operations of an interrupted release: fewer operations in all.
    if (this.relaxed && zone.ms === 0 && model.passes[x] === 1) this.branch(label, ROUNDS, x);
    if (zone.neutral && (zone.soft === Infinity || this.fitsAfterHeating(label, x))) this.branch(label, HEAT_DO, x);
    else if (model.passes[x] === 1 && (zone.neutral || !this.fitsAfterHeating(label, x))) this.branch(label, ROUNDS, x);
  }

  private fitsAfterHeating(label: number, x: number): boolean {
    return (
      this.setUpAfterHeating(this.modes[label]!, x) + this.model.ms[x]! <= this.model.zones[this.model.zone[x]!]!.soft
    );
  }

  /** Counted set-up between a heating done from `mode` and the work of x; leaves the mode after the heating in setUp. */
  private setUpAfterHeating(mode: number, x: number): number {
    const { model, setUp } = this;
    const zone = model.zones[model.zone[x]!]!;
    setUp.enter(mode, zone.hand, zone.side, HEAT, false);
    this.enterFor(setUp.mode, x);
    return this.countedSetUp(this.flagsOf(zone.hand, zone.side), x);
  }

  private flagsOf(hand: number, side: number): number {
    return this.relaxed ? (hand < 0 ? HAND_PENDING : 0) | (side < 0 ? SIDE_PENDING : 0) : 0;
  }

  private countedSetUp(flags: number, x: number): number {
    const { model, setUp } = this;
    const fetch = (flags & HAND_PENDING) !== 0 && model.hand[x]! >= 0 ? 0 : setUp.fetch;
    const turn = (flags & SIDE_PENDING) !== 0 && model.side[x]! >= 0 ? 0 : setUp.turn;
    return fetch + turn;
  }

  private enterFor(mode: number, x: number): void {
    const { model } = this;
    this.setUp.enter(
      mode,
      model.hand[x]!,
      model.side[x]!,
      model.isRelease[x] === 1 ? RELEASE : MOVE,
      model.clean[x] === 1,
    );
  }

  private load(label: number): void {
    const { model, words } = this;
    this.fromCount.set(model.count);
    this.fromBits.set(this.bits.subarray(label * words, (label + 1) * words));
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
    this.fromAvailableSize = 0;
    for (let i = 0; i < n; i += 1) {
      if (this.inside[i] === 1 && fromDone[i] === 0 && fromCount[i] === 0) {
        this.fromAvailable[this.fromAvailableSize++] = i;
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
    this.childBits.set(this.fromBits);
    for (let k = 0; k < this.fromAvailableSize; k += 1) this.available[k] = this.fromAvailable[k]!;
    this.availableSize = this.fromAvailableSize;
    this.mode = this.modes[label]!;
    for (let z = 0; z < zoneCount; z += 1) {
      this.left[z] = this.warm[label * zoneCount + z]!;
      this.childFlags[z] = this.flags[label * zoneCount + z]!;
    }
    this.childG = this.g[label]!;
    this.childRest = this.rest[label]!;
    this.childDone = this.doneCount[label]!;
    this.childSpent = this.spent[label]!;
    if (how === HEAT_ZONE) this.heat(what);
    else if (how === ROUNDS) {
      if (!this.interrupted(what)) return false;
    } else {
      if (how === HEAT_DO) this.heat(model.zone[what]!);
      this.perform(what);
    }
    this.close();
    return true;
  }

  private heat(z: number): void {
    const { model, setUp } = this;
    const zone = model.zones[z]!;
    setUp.enter(this.mode, zone.hand, zone.side, HEAT, false);
    this.pass(setUp.fetch, setUp.turn, zone.ms, zone.hand >= 0, zone.side >= 0);
    this.childG += (setUp.fetch + setUp.turn + zone.ms) * model.wMs + model.wOp + (setUp.steps + 1) * model.wStep;
    this.childSpent += setUp.steps + 1;
    this.mode = setUp.mode;
    this.left[z] = zone.soft;
    this.childFlags[z] = this.flagsOf(zone.hand, zone.side);
    this.trace?.push({ kind: "heat", zone: z });
  }

  /** Lets time go by in all zones that cool. */
  private pass(fetch: number, turn: number, ms: number, handUsed: boolean, sideUsed: boolean): void {
    for (let z = 0; z < this.zoneCount; z += 1) {
      if (this.left[z]! < 0) continue;
      const flags = this.childFlags[z]!;
      let time = ms;
      if (!handUsed || (flags & HAND_PENDING) === 0) time += fetch;
      if (!sideUsed || (flags & SIDE_PENDING) === 0) time += turn;
      this.left[z] = this.left[z]! - time;
      if (this.left[z]! < 0) this.left[z] = -1;
      this.childFlags[z] = flags & ~((handUsed ? HAND_PENDING : 0) | (sideUsed ? SIDE_PENDING : 0));
    }
  }

  /** Does an operation in one of its ways. */
  private perform(way: number): void {
    const { model, setUp } = this;
    const x = model.unit[way]!;
    this.enterFor(this.mode, way);
    this.pass(setUp.fetch, setUp.turn, model.ms[way]!, model.hand[way]! >= 0, model.side[way]! >= 0);
    let steps = setUp.steps;
    if (model.bundled[x] === 1) steps += this.partsStillOn(x);
    this.childG += (setUp.fetch + setUp.turn) * model.wMs + steps * model.wStep;
    this.mode = setUp.mode;
    this.finish(x, way, steps);
  }

  private partsStillOn(x: number): number {
    let parts = 0;
    for (const lifts of this.model.bundles[x]!) if (!lifts.some((lift) => this.done[lift] === 1)) parts += 1;
    return parts;
  }

  /** Marks x done, with its base cost. */
  private finish(x: number, way: number, steps: number, passes?: number): void {
    const { model, count, available, inside, done } = this;
    const { out, outStart, up, n } = model;
    this.childG += model.base[way]!;
    this.childRest -= model.base[x]!;
    this.childSpent += steps + model.baseSteps[way]!;
    this.childDone += 1;
    done[x] = 1;
    this.childBits[x >>> 5]! |= 1 << (x & 31);
    let k = 0;
    while (available[k] !== x) k += 1;
    this.availableSize -= 1;
    for (; k < this.availableSize; k += 1) available[k] = available[k + 1]!;
    for (let e = outStart[x]!; e < outStart[x + 1]!; e += 1) {
      let node = out[e]!;
      while (--count[node]! === 0) {
        if (node < n) {
          if (inside[node] === 1 && done[node] === 0) available[this.availableSize++] = node;
          break;
        }
        node = up[node]!;
      }
    }
    const operation = model.kept[way]!;
    this.trace?.push(passes === undefined ? { kind: "do", operation } : { kind: "do", operation, passes });
  }

  private interrupted(x: number): boolean {
    const { model, setUp } = this;
    const z = model.zone[x]!;
    const zone = model.zones[z]!;
    const first = this.setUpAfterHeating(this.mode, x);
    const second = this.setUpAfterHeating(setUp.mode, x);
    const o = Math.max(first, second);
    const exact = model.problem.zones[z]!.soft!;
    const n = rounds(o * model.tick, model.ms[x]! * model.tick, exact);
    if (n === null) return false;
    let time = 0;
    let steps = 0;
    let each = 0;
    let eachSteps = 0;
    let afterFirst = 0;
    // The first round, then one like all the later ones.
    for (let round = 1; round <= 2; round += 1) {
      setUp.enter(this.mode, zone.hand, zone.side, HEAT, false);
      if (round === 1) this.pass(setUp.fetch, setUp.turn, zone.ms, zone.hand >= 0, zone.side >= 0);
      each = setUp.fetch + setUp.turn + zone.ms;
      eachSteps = setUp.steps + 1;
      this.enterFor(setUp.mode, x);
      if (round === 1) this.pass(setUp.fetch, setUp.turn, 0, model.hand[x]! >= 0, model.side[x]! >= 0);
      each += setUp.fetch + setUp.turn;
      eachSteps += setUp.steps;
      this.mode = setUp.mode;
      if (round === 2) break;
      time += each;
      steps += eachSteps;
      afterFirst = setUp.mode;
    }
    time += (n - 1) * each;
    if (model.readings.I10) steps += (n - 1) * (eachSteps + (model.readings.I1 ? 1 : 0));
    else this.mode = afterFirst;
    this.pass(0, 0, (n - 1) * each + model.ms[x]!, false, false);
    this.left[z] = -1;
    this.childG += time * model.wMs + steps * model.wStep;
    this.finish(x, x, steps, n);
    return true;
  }

  /** Does all that is free in the mode and safe to do at once. */
  private close(): void {
    this.cool();
    const { available } = this;
    for (;;) {
      const alone = this.lonelyWarmBond();
      if (alone === -2) return;
      if (alone >= 0) {
        if (!this.isAvailable(alone) || !this.free(alone) || !this.ownOnly(alone)) return;
        if (this.model.ms[alone]! > this.left[this.model.zone[alone]!]!) return;
        this.perform(alone);
        this.cool();
        continue;
      }
      for (let k = 0; k < this.availableSize; ) {
        const y = available[k]!;
        const way = this.freeWay(y);
        if (way >= 0 && this.safe(y)) this.perform(way);
        else k += 1;
      }
      this.cool();
      return;
    }
  }

  /** The bond makes no other bond ready that is still to be done. */
  private ownOnly(x: number): boolean {
    if (this.relaxed) return true;
    for (const bond of this.model.helpsBonds[x]!) {
      if (bond !== x && this.inside[bond] === 1 && this.done[bond] === 0) return false;
    }
    return true;
  }

  private isAvailable(x: number): boolean {
    for (let k = 0; k < this.availableSize; k += 1) if (this.available[k] === x) return true;
    return false;
  }

  /** Zones in which nothing more can be done before they cool count as cold. */
  private cool(): void {
    const { model, left } = this;
    for (let z = 0; z < this.zoneCount; z += 1) {
      if (left[z]! < 0) continue;
      let least = Infinity;
      for (const i of model.zones[z]!.bonds) {
        if (this.inside[i] === 1 && this.done[i] === 0 && model.ms[i]! < least) least = model.ms[i]!;
      }
      if (least > left[z]! || least === Infinity) {
        left[z] = -1;
        this.childFlags[z] = 0;
      }
    }
  }

  /** -1: no cooling zone is warm; -2: some are, with more than one bond to do; else the only bond. */
  private lonelyWarmBond(): number {
    const { model } = this;
    let only = -1;
    for (const z of model.cooling) {
      if (this.left[z]! < 0) continue;
      for (const i of model.zones[z]!.bonds) {
        if (this.inside[i] !== 1 || this.done[i] === 1) continue;
        if (only >= 0) return -2;
        only = i;
      }
    }
    return only;
  }

  private isWarm(label: number): boolean {
    for (const z of this.model.cooling) if (this.warm[label * this.zoneCount + z]! >= 0) return true;
    return false;
  }

  /** A way to do it at its least cost that is free, -1: none. */
  private freeWay(y: number): number {
    const { options, base } = this.model;
    for (const way of options[y]!) if (base[way] === base[y] && this.free(way)) return way;
    return -1;
  }

  /** No set-up, and the mode stays as it is. */
  private free(y: number): boolean {
    const { model, mode } = this;
    const place = mode >> 2;
    const hand = (place / model.sides) | 0;
    const side = place - hand * model.sides;
    if (model.side[y]! >= 0 && model.side[y] !== side) return false;
    if (model.hand[y]! >= 0 && model.hand[y] !== hand) return false;
    if (!model.counted) return true;
    if (model.bundled[y] === 1) return false;
    const bare = (mode & 2) === 2;
    if (model.readings.I5 && (model.hand[y]! >= 0 ? bare : model.isRelease[y] === 1 && !bare)) return false;
    if (model.readings.I1) return true;
    if (model.isRelease[y] === 1) {
      if (model.readings.I9 && model.clean[y] === 1) return false;
      return (mode & 1) === 1 || (this.relaxed && model.hand[y]! < 0 && !model.readings.I5);
    }
    return !this.changeAhead();
  }

  /** Work left that could be a change of tool, or open the work: then a lift that closes it has its best moment. */
  private changeAhead(): boolean {
    const { model } = this;
    for (let i = 0; i < model.n; i += 1) {
      if (this.inside[i] === 1 && this.done[i] === 0 && (model.isRelease[i] === 1 || model.hand[i]! >= 0)) return true;
      if (this.inside[i] === 1 && this.done[i] === 0 && model.bundled[i] === 1) return true;
    }
    return false;
  }

  /** A free operation that need not be saved for making ready a bond that is still to be heated. */
  private safe(y: number): boolean {
    const { model } = this;
    const z = model.zone[y]!;
    if (z >= 0) return this.left[z] === Infinity;
    if (this.keeps(y, this.done)) return false;
    return this.relaxed || !this.pending(model.helpsBonds[y]!, this.done);
  }

  /** Its set of tools may be worth taking up later, while the work is closed, for others that use it. */
  private keeps(x: number, done: Uint8Array): boolean {
    const { sameSet, bareWork } = this.model;
    return !this.relaxed && sameSet[x]!.length > 0 && this.pending(bareWork, done) && this.pending(sameSet[x]!, done);
  }

  /** Operations that are branched on one by one. */
  private single(x: number): boolean {
    const { model } = this;
    if (model.counted && model.isRelease[x] === 0 && !model.readings.I1) return true;
    if (model.bundled[x] === 1 || (model.counted && model.readings.I9 && model.clean[x] === 1)) return true;
    if (this.keeps(x, this.fromDone)) return true;
    return !this.relaxed && this.pending(model.helpsBonds[x]!, this.fromDone);
  }

  private firstOfMode(label: number, x: number): boolean {
    this.enterFor(this.modes[label]!, x);
    const { mode } = this.setUp;
    if (this.modeStamp[mode] === this.stamp) return false;
    this.modeStamp[mode] = this.stamp;
    return true;
  }

  private pending(operations: readonly number[], done: Uint8Array): boolean {
    for (const i of operations) if (this.inside[i] === 1 && done[i] === 0) return true;
    return false;
  }

  /** Stores the child unless it is bounded or dominated; -1 where it is. */
  private commit(parent: number, how: number, what: number): number {
    const { words, zoneCount } = this;
    if (this.capped && this.childSpent > this.capSteps) return -1;
    const h = this.childRest + this.bound.setUps(this, this.inside, false);
    if (this.capped && this.childSpent + this.bound.steps + this.restSteps() > this.capSteps) return -1;
    const plain = this.childG + h;
    const f = Math.max(plain, parent >= 0 ? this.f[parent]! : 0);
    if (f >= this.cutoff) return -1;
    const { events } = this.bound;
    const hash = this.hash();
    let slot = hash & (this.table.length - 1);
    for (let other = this.table[slot]!; other >= 0; other = this.chain[other]!) {
      if (this.dead[other] === 1 || !this.sameBits(other)) continue;
      if (this.dominatesChild(other)) return -1;
      if (this.childDominates(other)) this.dead[other] = 1;
    }
    if (this.labels === this.room) this.grow();
    if (this.labels * 2 > this.table.length) {
      this.rehash();
      slot = hash & (this.table.length - 1);
    }
    const id = this.labels++;
    this.bits.set(this.childBits, id * words);
    this.modes[id] = this.mode;
    this.g[id] = this.childG;
    this.f[id] = f;
    this.plain[id] = plain;
    this.events[id] = events;
    this.refined[id] = 0;
    this.rest[id] = this.childRest;
    this.parent[id] = parent;
    this.how[id] = how;
    this.what[id] = what;
    this.doneCount[id] = this.childDone;
    this.spent[id] = this.childSpent;
    for (let z = 0; z < zoneCount; z += 1) {
      this.warm[id * zoneCount + z] = this.left[z]!;
      this.flags[id * zoneCount + z] = this.childFlags[z]!;
    }
    this.dead[id] = 0;
    this.chain[id] = this.table[slot]!;
    this.table[slot] = id;
    return id;
  }

  private restSteps(): number {
    let steps = 0;
    const { model } = this;
    for (let i = 0; i < model.n; i += 1) if (this.inside[i] === 1 && this.done[i] === 0) steps += model.baseSteps[i]!;
    return steps;
  }

  private hash(): number {
    let hash = 0x9e3779b9 | 0;
    for (let w = 0; w < this.words; w += 1) {
      hash = Math.imul(hash ^ this.childBits[w]!, 0x85ebca6b);
      hash ^= hash >>> 13;
    }
    hash = Math.imul(hash, 0xc2b2ae35);
    return (hash ^ (hash >>> 16)) >>> 0;
  }

  private hashOf(label: number): number {
    this.childBits.set(this.bits.subarray(label * this.words, (label + 1) * this.words));
    return this.hash();
  }

  private sameBits(label: number): boolean {
    const at = label * this.words;
    for (let w = 0; w < this.words; w += 1) if (this.bits[at + w] !== this.childBits[w]) return false;
    return true;
  }

  private dominatesChild(other: number): boolean {
    const at = other * this.zoneCount;
    return this.dominates(
      ...([this.modes[other]!, this.g[other]!, this.spent[other]!, this.warm, this.flags, at] as const),
      ...([this.mode, this.childG, this.childSpent, this.left, this.childFlags, 0] as const),
    );
  }

  private childDominates(other: number): boolean {
    const at = other * this.zoneCount;
    return this.dominates(
      ...([this.mode, this.childG, this.childSpent, this.left, this.childFlags, 0] as const),
      ...([this.modes[other]!, this.g[other]!, this.spent[other]!, this.warm, this.flags, at] as const),
    );
  }

  /** Whether the first label, of the same done set (that of the child), can do all the second can at no greater cost. */
  private dominates(
    mode1: number,
    g1: number,
    spent1: number,
    warm1: Float64Array,
    flags1: Int32Array,
    at1: number,
    mode2: number,
    g2: number,
    spent2: number,
    warm2: Float64Array,
    flags2: Int32Array,
    at2: number,
  ): boolean {
    if (g1 > g2) return false;
    const { model } = this;
    let time = 0;
    let steps = 0;
    const place1 = mode1 >> 2;
    const place2 = mode2 >> 2;
    const hand1 = (place1 / model.sides) | 0;
    const hand2 = (place2 / model.sides) | 0;
    const side1 = place1 - hand1 * model.sides;
    const side2 = place2 - hand2 * model.sides;
    if (mode1 !== mode2) {
      time = missing(model, hand1, hand2) * model.fetch + (side1 !== side2 ? model.turn : 0);
      if (model.counted) {
        if (hand1 !== hand2) steps += Math.max(1, model.handSize[hand2]!);
        if (hand1 === hand2 && (mode1 & 1) > (mode2 & 1)) steps += 1;
        if (side1 !== side2 && model.readings.I6) steps += 1;
        if (model.readings.I5 && ((mode1 & 2) !== (mode2 & 2) || hand1 !== hand2)) return false;
      }
      if (g1 + time * model.wMs + steps * model.wStep > g2) return false;
    }
    if (this.capped && spent1 + steps > spent2) return false;
    for (let z = 0; z < this.zoneCount; z += 1) {
      const left2 = warm2[at2 + z]!;
      if (left2 >= 0) {
        if (warm1[at1 + z]! - time < left2) return false;
        if ((flags2[at2 + z]! & ~flags1[at1 + z]!) !== 0) return false;
      }
      if (mode1 !== mode2 && !this.relaxed && !this.asReady(z, hand1, side1, hand2, side2)) return false;
    }
    return true;
  }

  /** Bonds still to be heated find the first mode at least as ready as the second. */
  private asReady(z: number, hand1: number, side1: number, hand2: number, side2: number): boolean {
    const { model } = this;
    const zone = model.zones[z]!;
    if (zone.soft === Infinity || (zone.hand >= 0 && zone.side >= 0)) return true;
    for (const r of zone.bonds) {
      if (this.inside[r] !== 1 || this.done[r] === 1) continue;
      const hand = model.hand[r]!;
      const side = model.side[r]!;
      if (zone.hand < 0 && hand1 !== hand2) {
        if (!zone.neutral || hand < 0 || missing(model, hand1, hand) > missing(model, hand2, hand)) return false;
      }
      if (zone.side < 0 && side1 !== side2) {
        if (!zone.neutral || side < 0 || side2 === side) return false;
      }
    }
    return true;
  }

  private moves(label: number): readonly Move[] {
    const path: number[] = [];
    for (let at = label; this.parent[at]! >= 0; at = this.parent[at]!) path.push(at);
    path.push(-1);
    const moves: Move[] = [];
    this.trace = moves;
    const keep = this.labels;
    // The start may have forced moves of its own: take it again from the beginning.
    this.retraceStart();
    for (let k = path.length - 2; k >= 0; k -= 1) {
      const at = path[k]!;
      const parent = this.parent[at]!;
      this.trace = null;
      this.load(parent);
      this.trace = moves;
      this.build(parent, this.how[at]!, this.what[at]!);
    }
    this.trace = null;
    this.labels = keep;
    return moves;
  }

  private retraceStart(): void {
    const { model } = this;
    this.count.set(model.count);
    this.done.fill(0);
    this.childBits.fill(0);
    this.availableSize = 0;
    for (let i = 0; i < model.n; i += 1) {
      if (model.count[i] === 0 && this.inside[i] === 1) this.available[this.availableSize++] = i;
    }
    this.mode = model.startMode;
    this.left.fill(-1);
    this.childFlags.fill(0);
    this.close();
  }

  private rehash(): void {
    this.table = new Int32Array(this.table.length * 4).fill(-1);
    const saved = this.childBits.slice();
    for (let label = 0; label < this.labels; label += 1) {
      if (this.dead[label] === 1) continue;
      const slot = this.hashOf(label) & (this.table.length - 1);
      this.chain[label] = this.table[slot]!;
      this.table[slot] = label;
    }
    this.childBits.set(saved);
  }

  private grow(): void {
    const room = this.room * 2;
    const ints = (from: Int32Array, each: number) => {
      const to = new Int32Array(room * each);
      to.set(from);
      return to;
    };
    const doubles = (from: Float64Array, each: number) => {
      const to = new Float64Array(room * each);
      to.set(from);
      return to;
    };
    this.bits = ints(this.bits, this.words);
    this.modes = ints(this.modes, 1);
    this.g = doubles(this.g, 1);
    this.f = doubles(this.f, 1);
    this.rest = doubles(this.rest, 1);
    this.parent = ints(this.parent, 1);
    this.how = ints(this.how, 1);
    this.what = ints(this.what, 1);
    this.doneCount = ints(this.doneCount, 1);
    this.spent = ints(this.spent, 1);
    this.warm = doubles(this.warm, this.zoneCount);
    this.flags = ints(this.flags, this.zoneCount);
    const dead = new Uint8Array(room);
    dead.set(this.dead);
    this.dead = dead;
    const refined = new Uint8Array(room);
    refined.set(this.refined);
    this.refined = refined;
    this.plain = doubles(this.plain, 1);
    this.events = ints(this.events, 1);
    this.chain = ints(this.chain, 1);
    this.room = room;
  }
}
