/**
 * The bench while a label is being made: what is done, the mode, the soft time left, and the cost so far, changed in
 * place by one move after the other. The fast copy of `advance.ts`, with the moves that are forced (docs/core/route.md).
 */
import { rounds } from "./advance.ts";
import type { Position } from "./bound.ts";
import type { Model } from "./model.ts";
import type { Move } from "./problem.ts";
import { HEAT, MOVE, RELEASE, SetUp } from "./setup.ts";

/** Since the last heating of a zone nothing has used a tool, or a side: in the relaxation its set-up was made before. */
const HAND_PENDING = 1;
const SIDE_PENDING = 2;

export class Work implements Position {
  readonly model: Model;
  readonly relaxed: boolean;
  protected readonly setUp: SetUp;
  protected readonly words: number;
  protected readonly zoneCount: number;

  // The set that is done: 1 for its members, how many, their base costs.
  readonly inside: Uint8Array;
  protected size = 0;
  protected total = 0;
  private allChanges = 0;

  readonly count: Int32Array;
  readonly done: Uint8Array;
  readonly available: Int32Array;
  availableSize = 0;
  mode = 0;
  readonly left: Float64Array;
  readonly bits: Int32Array;
  readonly flags: Int32Array;
  g = 0;
  rest = 0;
  doneCount = 0;
  /** Work left that could be a change of tool or open the work: till then a lift that closes it may have a better moment. */
  changes = 0;
  /** Steps counted. */
  spent = 0;
  /** What is not in the set is done for nothing as soon as it can be, and hands and tools know nothing of it. */
  protected outside = false;
  private readonly stack: Int32Array;
  /** Where the moves are written down, if anywhere. */
  protected trace: Move[] | null = null;

  constructor(model: Model, relaxed: boolean) {
    const { n, nodes } = model;
    this.model = model;
    this.relaxed = relaxed;
    this.setUp = new SetUp(model, relaxed);
    this.words = Math.max(1, (n + 31) >>> 5);
    this.zoneCount = model.zones.length;
    this.inside = new Uint8Array(n);
    this.count = new Int32Array(nodes);
    this.done = new Uint8Array(n);
    this.available = new Int32Array(n);
    this.left = new Float64Array(this.zoneCount);
    this.bits = new Int32Array(this.words);
    this.flags = new Int32Array(this.zoneCount);
    this.stack = new Int32Array(n);
  }

  /** Puts the bench back to the start, with what is forced there. */
  protected begin(): void {
    const { model } = this;
    this.count.set(model.count);
    this.done.fill(0);
    this.bits.fill(0);
    this.availableSize = 0;
    for (let i = 0; i < model.n; i += 1) {
      if (model.count[i] === 0 && this.inside[i] === 1) this.available[this.availableSize++] = i;
    }
    this.mode = model.startMode;
    this.left.fill(-1);
    this.flags.fill(0);
    this.g = 0;
    this.rest = this.total;
    this.doneCount = 0;
    this.spent = 0;
    this.changes = this.allChanges;
    if (this.outside) {
      for (let i = 0; i < model.n; i += 1) {
        if (model.count[i] === 0 && this.inside[i] === 0 && this.done[i] === 0) {
          this.done[i] = 1;
          this.opens(i);
        }
      }
    }
    this.close();
  }

  protected take(set: Int32Array): void {
    const { model, inside } = this;
    this.size = 0;
    this.total = 0;
    this.allChanges = 0;
    for (let i = 0; i < model.n; i += 1) {
      const is = (set[i >>> 5]! >>> (i & 31)) & 1;
      inside[i] = is;
      if (is === 1) {
        this.size += 1;
        this.total += model.base[i]!;
        this.allChanges += this.isChange(i);
      }
    }
  }

  protected heat(z: number): void {
    const { model, setUp } = this;
    const zone = model.zones[z]!;
    setUp.enter(this.mode, zone.hand, zone.side, HEAT, false);
    this.pass(setUp.fetch, setUp.turn, zone.ms, zone.hand >= 0, zone.side >= 0);
    this.g += (setUp.fetch + setUp.turn + zone.ms) * model.wMs + model.wOp + (setUp.steps + 1) * model.wStep;
    this.spent += setUp.steps + 1;
    this.mode = setUp.mode;
    this.left[z] = zone.soft;
    this.flags[z] = this.flagsOf(zone.hand, zone.side);
    this.trace?.push({ kind: "heat", zone: z });
  }

  /** Lets time go by in all zones that cool. */
  protected pass(fetch: number, turn: number, ms: number, handUsed: boolean, sideUsed: boolean): void {
    for (let z = 0; z < this.zoneCount; z += 1) {
      if (this.left[z]! < 0) continue;
      const flags = this.flags[z]!;
      let time = ms;
      if (!handUsed || (flags & HAND_PENDING) === 0) time += fetch;
      if (!sideUsed || (flags & SIDE_PENDING) === 0) time += turn;
      this.left[z] = this.left[z]! - time;
      if (this.left[z]! < 0) this.left[z] = -1;
      this.flags[z] = flags & ~((handUsed ? HAND_PENDING : 0) | (sideUsed ? SIDE_PENDING : 0));
    }
  }

  /** Does an operation in one of its ways. */
  protected perform(way: number): void {
    const { model, setUp } = this;
    const x = model.unit[way]!;
    this.enterFor(this.mode, way);
    this.pass(setUp.fetch, setUp.turn, model.ms[way]!, model.hand[way]! >= 0, model.side[way]! >= 0);
    let steps = setUp.steps;
    if (model.bundled[x] === 1) steps += this.partsStillOn(x);
    this.g += (setUp.fetch + setUp.turn) * model.wMs + steps * model.wStep;
    this.mode = setUp.mode;
    this.finish(x, way, steps);
  }

  protected partsStillOn(x: number): number {
    let parts = 0;
    for (const lifts of this.model.bundles[x]!) if (!lifts.some((lift) => this.done[lift] === 1)) parts += 1;
    return parts;
  }

  protected isChange(x: number): number {
    const { isRelease, hand, bundled } = this.model;
    return isRelease[x] === 1 || hand[x]! >= 0 || bundled[x] === 1 ? 1 : 0;
  }

  /** Marks x done, with its base cost. */
  protected finish(x: number, way: number, steps: number, passes?: number): void {
    const { model, available } = this;
    this.g += model.base[way]!;
    this.rest -= model.base[x]!;
    this.spent += steps + model.baseSteps[way]!;
    this.doneCount += 1;
    this.changes -= this.isChange(x);
    this.done[x] = 1;
    this.bits[x >>> 5]! |= 1 << (x & 31);
    let k = 0;
    while (available[k] !== x) k += 1;
    this.availableSize -= 1;
    for (; k < this.availableSize; k += 1) available[k] = available[k + 1]!;
    this.opens(x);
    const operation = model.kept[way]!;
    this.trace?.push(passes === undefined ? { kind: "do", operation } : { kind: "do", operation, passes });
  }

  /** Goes through the needs that `x` serves; what is outside is done at once where that costs nothing. */
  protected opens(x: number): void {
    const { model, count, available, inside, done, stack } = this;
    const { out, outStart, up, n } = model;
    let size = 0;
    stack[size++] = x;
    while (size > 0) {
      const i = stack[--size]!;
      for (let e = outStart[i]!; e < outStart[i + 1]!; e += 1) {
        let node = out[e]!;
        while (--count[node]! === 0) {
          if (node < n) {
            if (done[node] === 1) break;
            if (inside[node] === 1) available[this.availableSize++] = node;
            else if (this.outside) {
              done[node] = 1;
              stack[size++] = node;
            }
            break;
          }
          node = up[node]!;
        }
      }
    }
  }

  /** Something outside the set is done for what it leaves in hand, up or open: its cost counts, its place in the needs does not. */
  protected use(way: number): void {
    const { model, setUp } = this;
    this.enterFor(this.mode, way);
    this.pass(setUp.fetch, setUp.turn, model.ms[way]!, model.hand[way]! >= 0, model.side[way]! >= 0);
    this.g += (setUp.fetch + setUp.turn) * model.wMs + setUp.steps * model.wStep + model.base[way]!;
    this.spent += setUp.steps + model.baseSteps[way]!;
    this.mode = setUp.mode;
    this.trace?.push({ kind: "do", operation: model.kept[way]! });
  }

  protected interrupted(x: number): boolean {
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
    // The first round, then one like all the later ones; what is to be cleaned is cleaned after the last.
    for (let round = 1; round <= 2; round += 1) {
      setUp.enter(this.mode, zone.hand, zone.side, HEAT, false);
      if (round === 1) this.pass(setUp.fetch, setUp.turn, zone.ms, zone.hand >= 0, zone.side >= 0);
      each = setUp.fetch + setUp.turn + zone.ms;
      eachSteps = setUp.steps + 1;
      setUp.enter(setUp.mode, model.hand[x]!, model.side[x]!, RELEASE, false);
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
    if (model.readings.I9 && model.clean[x] === 1) this.mode &= ~1;
    this.pass(0, 0, (n - 1) * each + model.ms[x]!, false, false);
    this.left[z] = -1;
    this.g += time * model.wMs + steps * model.wStep;
    this.finish(x, x, steps, n);
    return true;
  }

  /** Does all that is free in the mode and safe to do at once. */
  protected close(): void {
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
  protected ownOnly(x: number): boolean {
    if (this.relaxed) return true;
    for (const bond of this.model.helpsBonds[x]!) {
      if (bond !== x && this.inside[bond] === 1 && this.done[bond] === 0) return false;
    }
    return true;
  }

  protected isAvailable(x: number): boolean {
    for (let k = 0; k < this.availableSize; k += 1) if (this.available[k] === x) return true;
    return false;
  }

  /** Zones in which nothing more can be done before they cool count as cold. */
  protected cool(): void {
    const { model, left } = this;
    for (let z = 0; z < this.zoneCount; z += 1) {
      if (left[z]! < 0) continue;
      let least = Infinity;
      for (const i of model.zones[z]!.bonds) {
        if (this.inside[i] === 1 && this.done[i] === 0 && model.ms[i]! < least) least = model.ms[i]!;
      }
      if (least > left[z]! || least === Infinity) {
        left[z] = -1;
        this.flags[z] = 0;
      }
    }
  }

  /** -1: no cooling zone is warm; -2: some are, with more than one bond to do; else the only bond. */
  protected lonelyWarmBond(): number {
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

  /** A way to do it at its least cost that is free, -1: none. */
  protected freeWay(y: number): number {
    const { options, base } = this.model;
    for (const way of options[y]!) if (base[way] === base[y] && this.free(way)) return way;
    return -1;
  }

  /** No set-up, and the mode stays as it is. */
  protected free(y: number): boolean {
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
    return this.changes === 0;
  }

  /** A free operation that need not be saved for making ready a bond that is still to be heated. */
  protected safe(y: number): boolean {
    const { model } = this;
    const z = model.zone[y]!;
    if (z >= 0 && this.left[z] !== Infinity) return false;
    if (this.keeps(y, this.done) || (this.changes > 0 && this.turnsForSteps(y))) return false;
    return this.relaxed || !this.pending(model.helpsBonds[y]!, this.done);
  }

  /** Having the device turned for it may close the work at a better moment (I6). */
  protected turnsForSteps(x: number): boolean {
    const { counted, readings, options, side } = this.model;
    return counted && readings.I6 && options[x]!.some((way) => side[way]! >= 0);
  }

  /** Its set of tools may be worth taking up later, while the work is closed, for others that use it. */
  protected keeps(x: number, done: Uint8Array): boolean {
    const { sameSet, bareWork } = this.model;
    return !this.relaxed && sameSet[x]!.length > 0 && this.pending(bareWork, done) && this.pending(sameSet[x]!, done);
  }

  protected pending(operations: readonly number[], done: Uint8Array): boolean {
    for (const i of operations) if (this.inside[i] === 1 && done[i] === 0) return true;
    return false;
  }

  /** Counted set-up between a heating done from `mode` and the work of x; leaves the mode after the heating in setUp. */
  protected setUpAfterHeating(mode: number, x: number): number {
    const { model, setUp } = this;
    const zone = model.zones[model.zone[x]!]!;
    setUp.enter(mode, zone.hand, zone.side, HEAT, false);
    this.enterFor(setUp.mode, x);
    return this.countedSetUp(this.flagsOf(zone.hand, zone.side), x);
  }

  protected flagsOf(hand: number, side: number): number {
    return this.relaxed ? (hand < 0 ? HAND_PENDING : 0) | (side < 0 ? SIDE_PENDING : 0) : 0;
  }

  protected countedSetUp(flags: number, x: number): number {
    const { model, setUp } = this;
    const fetch = (flags & HAND_PENDING) !== 0 && model.hand[x]! >= 0 ? 0 : setUp.fetch;
    const turn = (flags & SIDE_PENDING) !== 0 && model.side[x]! >= 0 ? 0 : setUp.turn;
    return fetch + turn;
  }

  protected enterFor(mode: number, x: number): void {
    const { model } = this;
    this.setUp.enter(
      mode,
      model.hand[x]!,
      model.side[x]!,
      model.isRelease[x] === 1 ? RELEASE : MOVE,
      model.clean[x] === 1,
    );
  }

  protected restSteps(): number {
    let steps = 0;
    const { model } = this;
    for (let i = 0; i < model.n; i += 1) if (this.inside[i] === 1 && this.done[i] === 0) steps += model.baseSteps[i]!;
    return steps;
  }
}
