/**
 * The least time for fetches and turns that what is left of a set can do with, heat and steps aside: exact, kept from one
 * question to the next.
 *
 * Where steps are counted, many orders tie in steps and the search has to tell them apart by time, while the rules that
 * make the search for time short (do at once what is free) do not hold for steps. Here they do: a state is what is done with
 * everything that is free in hand and side, and the only decisions are changes of class; each zone with work left that is cold
 * has to be heated once more before that work, with what its source takes up or turns. So there are few states, and
 * most are asked for again and again.
 *
 * A* from the state asked for; afterwards every state it closed keeps the better bound C* - g (Koenig & Likhachev,
 * "Adaptive A*", AAMAS 2005), those on the best way the exact value. Stops at `MOST` states with the bound reached.
 */
import type { Bound, Position } from "./bound.ts";
import { Heap } from "./heap.ts";
import { type Model, missing } from "./model.ts";

const MOST = 400;
/** Beyond so many zones what a heating takes up is not looked at. */
const MOST_ZONES = 30;
/** States closed between two looks at the clock. */
const LOOK = 16;

interface Known {
  least: number;
  exact: boolean;
}

interface State {
  readonly bits: Int32Array;
  /** Zones still to be heated, as bits. */
  readonly cold: number;
  readonly place: number;
  readonly key: string;
  readonly parent: number;
  g: number;
}

export class ToGo implements Position {
  private readonly model: Model;
  private readonly bound: Bound;
  private readonly heap = new Heap();
  private readonly known = new Map<string, Known>();
  private inside: Uint8Array = new Uint8Array(0);
  private outside = false;
  private size = 0;

  readonly count: Int32Array;
  readonly done: Uint8Array;
  readonly available: Int32Array;
  availableSize = 0;
  mode = 0;
  readonly left: Float64Array;
  private readonly bits: Int32Array;
  private doneCount = 0;
  private cold = 0;
  private readonly stack: Int32Array;
  // The state that is being expanded.
  private readonly keptCount: Int32Array;
  private readonly keptDone: Uint8Array;
  private readonly keptAvailable: Int32Array;
  private keptSize = 0;
  private keptDoneCount = 0;

  private readonly stop: () => boolean;

  constructor(model: Model, bound: Bound, stop: () => boolean) {
    this.model = model;
    this.bound = bound;
    this.stop = stop;
    this.count = new Int32Array(model.nodes);
    this.done = new Uint8Array(model.n);
    this.available = new Int32Array(model.n);
    this.left = new Float64Array(model.zones.length).fill(-1);
    this.bits = new Int32Array(Math.max(1, (model.n + 31) >>> 5));
    this.stack = new Int32Array(model.n);
    this.keptCount = new Int32Array(model.nodes);
    this.keptDone = new Uint8Array(model.n);
    this.keptAvailable = new Int32Array(model.n);
  }

  /** Another set, with all else for nothing where `outside` is true; what is known of the last one is forgotten. */
  take(inside: Uint8Array, outside: boolean): void {
    this.inside = inside;
    this.outside = outside;
    this.known.clear();
    this.size = 0;
    for (let i = 0; i < this.model.n; i += 1) this.size += inside[i]!;
  }

  /** Units of time, exact where it is below `limit` and was found soon enough, else a bound. */
  least(position: Position, bits: Int32Array, limit: number): number {
    this.count.set(position.count);
    this.done.set(position.done);
    this.bits.set(bits);
    this.availableSize = position.availableSize;
    for (let k = 0; k < position.availableSize; k += 1) this.available[k] = position.available[k]!;
    this.doneCount = 0;
    for (let i = 0; i < this.model.n; i += 1) if (this.inside[i] === 1) this.doneCount += this.done[i]!;
    this.mode = position.mode & ~3;
    this.cold = 0;
    for (let z = 0; z < this.model.zones.length && z < MOST_ZONES; z += 1) {
      const { hand, side } = this.model.zones[z]!;
      if ((hand >= 0 || side >= 0) && position.left[z]! < 0 && this.pending(z)) this.cold |= 1 << z;
    }
    this.close();
    return this.search(limit);
  }

  private search(limit: number): number {
    const { heap, known } = this;
    const states: State[] = [];
    const best = new Map<string, number>();
    const closed: number[] = [];
    heap.clear();
    this.push(states, best, 0, -1);
    let reached = -1;
    let least = 0;
    while (heap.size > 0) {
      const f = heap.least();
      const at = heap.pop();
      const state = states[at]!;
      if (best.get(state.key)! < state.g) continue;
      least = Math.max(least, f);
      if (known.get(state.key)!.exact) {
        reached = at;
        break;
      }
      // One of these searches can take seconds: whatever it has come to by then is a bound.
      if (least >= limit || closed.length >= MOST || (closed.length % LOOK === LOOK - 1 && this.stop())) break;
      closed.push(at);
      this.expand(states, best, at);
    }
    for (const at of closed) {
      const state = states[at]!;
      const entry = known.get(state.key)!;
      entry.least = Math.max(entry.least, least - state.g);
    }
    for (let at = reached; at >= 0; at = states[at]!.parent) {
      const state = states[at]!;
      if (best.get(state.key)! < state.g) continue;
      const entry = known.get(state.key)!;
      entry.least = Math.max(entry.least, least - state.g);
      entry.exact = true;
    }
    return least;
  }

  /** The working fields as a state. */
  private push(states: State[], best: Map<string, number>, g: number, parent: number): void {
    const place = this.mode >> 2;
    let key = String.fromCharCode(place & 0xffff, place >>> 16, this.cold & 0xffff, this.cold >>> 16);
    for (const word of this.bits) key += String.fromCharCode(word & 0xffff, word >>> 16);
    const before = best.get(key);
    if (before !== undefined && before <= g) return;
    best.set(key, g);
    let entry = this.known.get(key);
    if (entry === undefined) {
      const exact = this.doneCount === this.size;
      entry = { least: exact ? 0 : this.bound.times(this, this.inside, this.outside), exact };
      this.known.set(key, entry);
    }
    states.push({ bits: this.bits.slice(), cold: this.cold, place, key, parent, g });
    this.heap.push(states.length - 1, g + entry.least, g);
  }

  private expand(states: State[], best: Map<string, number>, at: number): void {
    const { model } = this;
    const from = states[at]!;
    const hand = (from.place / model.sides) | 0;
    const side = from.place - hand * model.sides;
    this.load(from);
    this.keep();
    for (let z = 0; z < model.zones.length && z < MOST_ZONES; z += 1) {
      if ((from.cold & (1 << z)) === 0) continue;
      const zone = model.zones[z]!;
      const newHand = zone.hand >= 0 ? zone.hand : hand;
      const newSide = zone.side >= 0 ? zone.side : side;
      this.mode = (newHand * model.sides + newSide) << 2;
      this.cold &= ~(1 << z);
      this.close();
      const cost = missing(model, hand, newHand) * model.fetch + (newSide === side ? 0 : model.turn);
      this.push(states, best, from.g + cost, at);
      this.again(from);
    }
    const places = new Map<number, number>();
    const slow: number[] = [];
    for (let k = 0; k < this.availableSize; k += 1) {
      const y = this.available[k]!;
      if (this.isCold(y)) continue;
      for (const way of model.options[y]!) {
        if (model.ms[way]! > model.ms[y]!) slow.push(way);
        else {
          const place = this.placeFor(way, hand, side);
          places.set(place, this.setUp(place, hand, side));
        }
      }
    }
    let first = true;
    for (const [place, cost] of places) {
      if (!first) this.again(from);
      first = false;
      this.mode = place << 2;
      this.close();
      this.push(states, best, from.g + cost, at);
    }
    for (const way of slow) {
      this.again(from);
      const place = this.placeFor(way, hand, side);
      this.mode = place << 2;
      const y = model.unit[way]!;
      this.perform(this.available.indexOf(y), y);
      this.close();
      const more = model.ms[way]! - model.ms[y]!;
      this.push(states, best, from.g + this.setUp(place, hand, side) + more, at);
    }
  }

  private placeFor(way: number, hand: number, side: number): number {
    const { model } = this;
    const newHand = model.hand[way]! >= 0 ? model.hand[way]! : hand;
    const newSide = model.side[way]! >= 0 ? model.side[way]! : side;
    return newHand * model.sides + newSide;
  }

  private setUp(place: number, hand: number, side: number): number {
    const { model } = this;
    const newHand = (place / model.sides) | 0;
    const turned = place - newHand * model.sides !== side;
    return missing(model, hand, newHand) * model.fetch + (turned ? model.turn : 0);
  }

  private keep(): void {
    this.keptCount.set(this.count);
    this.keptDone.set(this.done);
    this.keptAvailable.set(this.available);
    this.keptSize = this.availableSize;
    this.keptDoneCount = this.doneCount;
  }

  /** Back to the state that was kept. */
  private again(state: State): void {
    this.count.set(this.keptCount);
    this.done.set(this.keptDone);
    this.available.set(this.keptAvailable);
    this.availableSize = this.keptSize;
    this.doneCount = this.keptDoneCount;
    this.bits.set(state.bits);
    this.cold = state.cold;
    this.mode = state.place << 2;
  }

  private load(state: State): void {
    const { model, count, done, bits, inside } = this;
    count.set(model.count);
    bits.set(state.bits);
    this.cold = state.cold;
    this.mode = state.place << 2;
    this.availableSize = 0;
    this.doneCount = 0;
    for (let i = 0; i < model.n; i += 1) {
      done[i] = inside[i] === 1 ? (bits[i >>> 5]! >>> (i & 31)) & 1 : this.outside && model.count[i] === 0 ? 1 : 0;
      if (inside[i] === 1) this.doneCount += done[i]!;
    }
    const first = done.slice();
    for (let i = 0; i < model.n; i += 1) {
      if (first[i] === 1) this.opens(i);
      else if (inside[i] === 1 && model.count[i] === 0) this.available[this.availableSize++] = i;
    }
  }

  private pending(z: number): boolean {
    for (const i of this.model.zones[z]!.bonds) if (this.inside[i] === 1 && this.done[i] === 0) return true;
    return false;
  }

  private isCold(y: number): boolean {
    const z = this.model.zone[y]!;
    return z >= 0 && (this.cold & (1 << z)) !== 0;
  }

  /** Does all that is free in hand and side. */
  private close(): void {
    const { model, available } = this;
    const place = this.mode >> 2;
    const hand = (place / model.sides) | 0;
    const side = place - hand * model.sides;
    for (let k = 0; k < this.availableSize; ) {
      const y = available[k]!;
      const free =
        !this.isCold(y) &&
        model.options[y]!.some(
          (way) =>
            model.ms[way] === model.ms[y] &&
            (model.hand[way]! < 0 || model.hand[way] === hand) &&
            (model.side[way]! < 0 || model.side[way] === side),
        );
      if (!free) {
        k += 1;
        continue;
      }
      this.perform(k, y);
      k = 0;
    }
  }

  private perform(k: number, y: number): void {
    this.available[k] = this.available[--this.availableSize]!;
    this.done[y] = 1;
    this.bits[y >>> 5]! |= 1 << (y & 31);
    this.doneCount += 1;
    this.opens(y);
  }

  private opens(x: number): void {
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
}
