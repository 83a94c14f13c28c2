/** Labels of the search for an order, in flat arrays that grow, with a hash table from done sets to their labels. */
import type { Work } from "./work.ts";

export class Labels {
  private readonly words: number;
  private readonly zoneCount: number;
  private room = 1024;
  size = 0;
  bits: Int32Array;
  modes: Int32Array;
  g: Float64Array;
  f: Float64Array;
  rest: Float64Array;
  parent: Int32Array;
  /** How the label was made from its parent, and with what. */
  how: Int32Array;
  what: Int32Array;
  doneCount: Int32Array;
  spent: Int32Array;
  /** Soft time left of each zone, and what is pending since its heating. */
  warm: Float64Array;
  flags: Int32Array;
  /** f without what the parent's bound carried down; fetches and turns in it; 1: bounded by entries as well. */
  plain: Float64Array;
  events: Int32Array;
  refined: Uint8Array;
  /** 1: made by a lift while the work was closed, which changed nothing in the mode. */
  idle: Uint8Array;
  /** 1: another label can do all this one can at no greater cost. */
  dead: Uint8Array;
  /** Next label of the same place in the table, -1 the last. */
  chain: Int32Array;
  private table: Int32Array = new Int32Array(2048).fill(-1);

  constructor(words: number, zoneCount: number) {
    this.words = words;
    this.zoneCount = zoneCount;
    const { room } = this;
    this.bits = new Int32Array(room * words);
    this.modes = new Int32Array(room);
    this.g = new Float64Array(room);
    this.f = new Float64Array(room);
    this.rest = new Float64Array(room);
    this.parent = new Int32Array(room);
    this.how = new Int32Array(room);
    this.what = new Int32Array(room);
    this.doneCount = new Int32Array(room);
    this.spent = new Int32Array(room);
    this.warm = new Float64Array(room * zoneCount);
    this.flags = new Int32Array(room * zoneCount);
    this.plain = new Float64Array(room);
    this.events = new Int32Array(room);
    this.refined = new Uint8Array(room);
    this.idle = new Uint8Array(room);
    this.dead = new Uint8Array(room);
    this.chain = new Int32Array(room);
  }

  /** Bytes of one label, its places in the table and the heap included. */
  static bytes(words: number, zoneCount: number): number {
    return 100 + 4 * words + 12 * zoneCount;
  }

  clear(): void {
    this.size = 0;
    this.table.fill(-1);
  }

  /** The first label in the chain of the hash. */
  first(hash: number): number {
    return this.table[hash & (this.table.length - 1)]!;
  }

  /** Stores the state of the bench as a label. */
  add(work: Work, hash: number, parent: number, how: number, what: number): number {
    if (this.size === this.room) this.grow();
    if (this.size * 2 > this.table.length) this.rehash();
    const id = this.size++;
    this.bits.set(work.bits, id * this.words);
    this.modes[id] = work.mode;
    this.g[id] = work.g;
    this.rest[id] = work.rest;
    this.parent[id] = parent;
    this.how[id] = how;
    this.what[id] = what;
    this.doneCount[id] = work.doneCount;
    this.spent[id] = work.spent;
    this.warm.set(work.left, id * this.zoneCount);
    this.flags.set(work.flags, id * this.zoneCount);
    this.refined[id] = 0;
    this.idle[id] = 0;
    this.dead[id] = 0;
    const slot = hash & (this.table.length - 1);
    this.chain[id] = this.table[slot]!;
    this.table[slot] = id;
    return id;
  }

  sameBits(label: number, bits: Int32Array): boolean {
    const at = label * this.words;
    for (let w = 0; w < this.words; w += 1) if (this.bits[at + w] !== bits[w]) return false;
    return true;
  }

  private rehash(): void {
    this.table = new Int32Array(this.table.length * 4).fill(-1);
    for (let label = 0; label < this.size; label += 1) {
      if (this.dead[label] === 1) continue;
      const slot = hashBits(this.bits, label * this.words, this.words) & (this.table.length - 1);
      this.chain[label] = this.table[slot]!;
      this.table[slot] = label;
    }
  }

  private grow(): void {
    const { words, zoneCount } = this;
    this.room *= 2;
    this.bits = this.ints(this.bits, words);
    this.modes = this.ints(this.modes);
    this.g = this.doubles(this.g);
    this.f = this.doubles(this.f);
    this.rest = this.doubles(this.rest);
    this.parent = this.ints(this.parent);
    this.how = this.ints(this.how);
    this.what = this.ints(this.what);
    this.doneCount = this.ints(this.doneCount);
    this.spent = this.ints(this.spent);
    this.warm = this.doubles(this.warm, zoneCount);
    this.flags = this.ints(this.flags, zoneCount);
    this.plain = this.doubles(this.plain);
    this.events = this.ints(this.events);
    this.refined = this.bytes(this.refined);
    this.idle = this.bytes(this.idle);
    this.dead = this.bytes(this.dead);
    this.chain = this.ints(this.chain);
  }

  private ints(from: Int32Array, each = 1): Int32Array {
    const to = new Int32Array(this.room * each);
    to.set(from);
    return to;
  }

  private doubles(from: Float64Array, each = 1): Float64Array {
    const to = new Float64Array(this.room * each);
    to.set(from);
    return to;
  }

  private bytes(from: Uint8Array): Uint8Array {
    const to = new Uint8Array(this.room);
    to.set(from);
    return to;
  }
}

export function hashBits(bits: Int32Array, from: number, words: number): number {
  let hash = 0x9e3779b9 | 0;
  for (let w = 0; w < words; w += 1) {
    hash = Math.imul(hash ^ bits[from + w]!, 0x85ebca6b);
    hash ^= hash >>> 13;
  }
  hash = Math.imul(hash, 0xc2b2ae35);
  return (hash ^ (hash >>> 16)) >>> 0;
}
