/**
 * Dynamic programming over sets, layer by layer: of all ways to have done a set and to stand at a node only the cheapest goes
 * on. Costs are reduced by the duals of the root assignment, so what a state has spent beyond the root bound is
 * compared at once with what the best known order spends beyond it. Exact as long as no layer is too wide; where the orderings are
 * dense the layers stay narrow at hundreds of nodes.
 *
 * Held and Karp, J. SIAM 10(1), 1962, on the ideals of the order, with the bounding of Christofides, Mingozzi and Toth 1981.
 */
import type { Incumbent } from "./branch.ts";
import { FORBIDDEN, type SopModel } from "./model.ts";

const WIDEST = 700_000;

interface Layer {
  readonly sets: Int32Array;
  readonly last: Int16Array;
  readonly spent: Float64Array;
  readonly parent: Int32Array;
  readonly size: number;
}

export class Layers {
  finished = false;
  /** A layer grew too wide: no proof from here. */
  failed = false;
  private readonly width: number;
  private readonly model: SopModel;
  private readonly incumbent: Incumbent;
  private readonly toForward: (order: Int32Array) => Int32Array;
  private readonly reduced: Float64Array;
  private readonly root: number;
  private readonly words: number;
  private readonly masks: Int32Array;
  private layer: Layer;
  private at = 0;
  private next: Growing;
  /** For the order at the end: parent and node of every state of each layer. */
  private readonly trail: { readonly parent: Int32Array; readonly last: Int16Array }[] = [];

  constructor(
    model: SopModel,
    root: { readonly bound: number; readonly u: Float64Array; readonly v: Float64Array },
    incumbent: Incumbent,
    toForward: (order: Int32Array) => Int32Array,
    width = Number.POSITIVE_INFINITY,
  ) {
    this.width = width;
    const { n, cost, preds } = model;
    this.model = model;
    this.incumbent = incumbent;
    this.toForward = toForward;
    this.root = root.bound;
    this.words = (n + 31) >> 5;
    this.reduced = new Float64Array(n * n);
    for (let i = 0; i < n; i += 1) {
      for (let j = 0; j < n; j += 1) {
        this.reduced[i * n + j] =
          cost[i * n + j] === FORBIDDEN ? Number.POSITIVE_INFINITY : cost[i * n + j] - root.u[i] - root.v[j];
      }
    }
    this.masks = new Int32Array(n * this.words);
    for (let i = 0; i < n; i += 1) for (const p of preds[i]) this.masks[i * this.words + (p >> 5)] |= 1 << (p & 31);
    const sets = new Int32Array(this.words);
    sets[0] = 1;
    this.layer = { sets, last: new Int16Array(1), spent: new Float64Array(1), parent: Int32Array.of(-1), size: 1 };
    this.next = new Growing(this.words, this.width);
  }

  /** Expands this many states at the most. */
  run(states: number): void {
    for (let k = 0; k < states && !this.finished && !this.failed; k += 1) {
      if (this.at >= this.layer.size) this.turn();
      else this.expand();
    }
  }

  private expand(): void {
    const { model, words, layer, reduced, masks, next } = this;
    const { n } = model;
    const state = this.at;
    this.at += 1;
    const from = state * words;
    const room = this.incumbent.cost - this.root;
    const spent = layer.spent[state];
    if (spent >= room) return;
    const line = layer.last[state] * n;
    const { sets } = layer;
    const lastLayer = this.trail.length === n - 2;
    for (let node = 1; node < n; node += 1) {
      if ((sets[from + (node >> 5)] >> (node & 31)) & 1) continue;
      if (node === n - 1 && !lastLayer) continue;
      const total = spent + reduced[line + node];
      if (total >= room) continue;
      const mask = node * words;
      let ready = true;
      for (let w = 0; w < words; w += 1) {
        if ((masks[mask + w] & ~sets[from + w]) !== 0) {
          ready = false;
          break;
        }
      }
      if (ready && !next.offer(sets, from, node, total, state) && this.width === Number.POSITIVE_INFINITY) {
        this.failed = true;
        return;
      }
    }
  }

  /** The next layer becomes this one. */
  private turn(): void {
    const { n } = this.model;
    this.trail.push({ parent: this.layer.parent, last: this.layer.last });
    const layer = this.next.done(this.width);
    if (layer.size === 0) {
      // Nothing is cheaper than the best order known.
      this.finished = true;
      return;
    }
    this.layer = layer;
    this.at = 0;
    this.next = new Growing(this.words, this.width);
    if (this.trail.length === n - 1) this.tell();
  }

  private tell(): void {
    const { n, cost } = this.model;
    this.finished = true;
    const order = new Int32Array(n);
    let state = 0;
    let { parent, last } = this.layer as { parent: Int32Array; last: Int16Array };
    for (let place = n - 1; place >= 0; place -= 1) {
      order[place] = last[state];
      state = parent[state];
      if (place > 0) ({ parent, last } = this.trail[place - 1]);
    }
    let total = 0;
    for (let i = 0; i + 1 < n; i += 1) total += cost[order[i] * n + order[i + 1]];
    if (total < this.incumbent.cost) {
      this.incumbent.cost = total;
      this.incumbent.order = this.toForward(order);
    }
  }
}

/** A layer that is being filled: states by set and last node, the cheapest kept. */
class Growing {
  private readonly words: number;
  private slots = new Int32Array(4096);
  private sets: Int32Array;
  private last = new Int16Array(2048);
  private spent = new Float64Array(2048);
  private parent = new Int32Array(2048);
  private size = 0;
  /** A beam drops what costs more than this. */
  private limit = Number.POSITIVE_INFINITY;
  private readonly width: number;

  constructor(words: number, width: number) {
    this.words = words;
    this.width = width;
    this.sets = new Int32Array(2048 * words);
  }

  /** @returns false when the layer is full */
  offer(sets: Int32Array, from: number, node: number, spent: number, parent: number): boolean {
    const { words } = this;
    if (spent >= this.limit) return true;
    const mask = this.slots.length - 1;
    const word = node >> 5;
    const bit = 1 << (node & 31);
    let slot = hash(sets, from, words, word, bit, node) & mask;
    for (;;) {
      const entry = this.slots[slot] - 1;
      if (entry < 0) break;
      if (this.last[entry] === node && this.same(entry, sets, from, word, bit)) {
        if (spent < this.spent[entry]) {
          this.spent[entry] = spent;
          this.parent[entry] = parent;
        }
        return true;
      }
      slot = (slot + 1) & mask;
    }
    if (this.size >= this.width * 3) {
      this.compact();
      return this.offer(sets, from, node, spent, parent);
    }
    if (this.size >= WIDEST) return false;
    if (this.size >= this.last.length) this.grow();
    const entry = this.size;
    this.size += 1;
    const base = entry * words;
    for (let w = 0; w < words; w += 1) this.sets[base + w] = sets[from + w];
    this.sets[base + word] |= bit;
    this.last[entry] = node;
    this.spent[entry] = spent;
    this.parent[entry] = parent;
    if (this.size * 2 > this.slots.length) this.rehash();
    else this.slots[slot] = entry + 1;
    return true;
  }

  /** The finished layer, or the cheapest of it where it is wider than asked for. */
  done(width: number): Layer {
    const { size, words } = this;
    if (size > width) return this.cheapest(width);
    return {
      sets: this.sets.slice(0, size * words),
      last: this.last.slice(0, size),
      spent: this.spent.slice(0, size),
      parent: this.parent.slice(0, size),
      size,
    };
  }

  /** Keeps the cheapest of a beam, so that it never grows much beyond its width. */
  private compact(): void {
    const { sets, last, spent, parent, size } = this.cheapest(this.width);
    this.sets.set(sets);
    this.last.set(last);
    this.spent.set(spent);
    this.parent.set(parent);
    this.size = size;
    this.limit = spent.reduce((most, one) => Math.max(most, one), 0);
    this.slots.fill(0);
    this.place();
  }

  private cheapest(width: number): Layer {
    const { words, spent } = this;
    const sorted = spent.slice(0, this.size).sort();
    const limit = sorted[width - 1];
    let room = width - sorted.indexOf(limit);
    const kept: number[] = [];
    for (let entry = 0; entry < this.size; entry += 1) {
      if (spent[entry] < limit) kept.push(entry);
      else if (spent[entry] === limit && room > 0) {
        room -= 1;
        kept.push(entry);
      }
    }
    const sets = new Int32Array(kept.length * words);
    kept.forEach((entry, i) => sets.set(this.sets.subarray(entry * words, (entry + 1) * words), i * words));
    return {
      sets,
      last: Int16Array.from(kept, (entry) => this.last[entry]),
      spent: Float64Array.from(kept, (entry) => spent[entry]),
      parent: Int32Array.from(kept, (entry) => this.parent[entry]),
      size: kept.length,
    };
  }

  private same(entry: number, sets: Int32Array, from: number, word: number, bit: number): boolean {
    const base = entry * this.words;
    for (let w = 0; w < this.words; w += 1) {
      if (this.sets[base + w] !== (w === word ? sets[from + w] | bit : sets[from + w])) return false;
    }
    return true;
  }

  private grow(): void {
    const more = this.last.length * 2;
    const sets = new Int32Array(more * this.words);
    sets.set(this.sets);
    this.sets = sets;
    const last = new Int16Array(more);
    last.set(this.last);
    this.last = last;
    const spent = new Float64Array(more);
    spent.set(this.spent);
    this.spent = spent;
    const parent = new Int32Array(more);
    parent.set(this.parent);
    this.parent = parent;
  }

  private rehash(): void {
    this.slots = new Int32Array(this.slots.length * 2);
    this.place();
  }

  private place(): void {
    const { slots } = this;
    const mask = slots.length - 1;
    for (let entry = 0; entry < this.size; entry += 1) {
      let slot = hash(this.sets, entry * this.words, this.words, 0, 0, this.last[entry]) & mask;
      while (slots[slot] !== 0) slot = (slot + 1) & mask;
      slots[slot] = entry + 1;
    }
  }
}

function hash(sets: Int32Array, from: number, words: number, word: number, bit: number, node: number): number {
  let h = Math.imul(node + 1, 0x9e3779b1);
  for (let w = 0; w < words; w += 1) {
    h = Math.imul(h ^ (w === word ? sets[from + w] | bit : sets[from + w]), 0x85ebca6b);
    h ^= h >>> 13;
  }
  h = Math.imul(h, 0xc2b2ae35);
  return (h ^ (h >>> 16)) & 0x7fffffff;
}
