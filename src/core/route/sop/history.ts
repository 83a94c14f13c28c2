/**
 * What is known of each state (set of nodes done, node done last): the least cost that it has been reached at, and a bound on
 * what it still takes to the end. Keys are compared in full, so a proof never rests on a hash.
 */
export class History {
  private readonly words: number;
  private slots = new Int32Array(8192);
  private keys: Int32Array;
  private reached: Float64Array;
  private rest: Float64Array;
  private size = 0;
  private readonly most: number;

  /** @param words 32-bit words of a set */
  constructor(words: number) {
    this.words = words;
    // About 250 MB in all at the most.
    this.most = Math.min(3_000_000, Math.floor(250_000_000 / (4 * (words + 1) + 16 + 8)));
    const first = Math.min(this.most, 4096);
    this.keys = new Int32Array(first * (words + 1));
    this.reached = new Float64Array(first);
    this.rest = new Float64Array(first);
  }

  /** Place of a state, -1 where it has not been seen. */
  find(set: Int32Array, from: number, last: number): number {
    const mask = this.slots.length - 1;
    let slot = this.hash(set, from, last) & mask;
    for (;;) {
      const entry = this.slots[slot] - 1;
      if (entry < 0) return -1;
      if (this.same(entry, set, from, last)) return entry;
      slot = (slot + 1) & mask;
    }
  }

  /** Keeps a state that is not kept yet; its place, or -1 when the table is full. */
  add(set: Int32Array, from: number, last: number, reached: number, rest: number): number {
    if (this.size >= this.most) return -1;
    if (this.size >= this.reached.length) this.grow();
    const entry = this.size;
    this.size += 1;
    const base = entry * (this.words + 1);
    for (let w = 0; w < this.words; w += 1) this.keys[base + w] = set[from + w];
    this.keys[base + this.words] = last;
    this.reached[entry] = reached;
    this.rest[entry] = rest;
    if (this.size * 2 > this.slots.length) {
      this.slots = new Int32Array(this.slots.length * 2);
      for (let one = 0; one < this.size; one += 1)
        this.put(one, this.keys, one * (this.words + 1), this.keys[one * (this.words + 1) + this.words]);
    } else this.put(entry, set, from, last);
    return entry;
  }

  private put(entry: number, set: Int32Array, from: number, last: number): void {
    const mask = this.slots.length - 1;
    let slot = this.hash(set, from, last) & mask;
    while (this.slots[slot] !== 0) slot = (slot + 1) & mask;
    this.slots[slot] = entry + 1;
  }

  reachedAt(entry: number): number {
    return this.reached[entry];
  }

  restOf(entry: number): number {
    return this.rest[entry];
  }

  reachedFor(entry: number, cost: number): void {
    this.reached[entry] = cost;
  }

  raiseRest(entry: number, rest: number): void {
    if (rest > this.rest[entry]) this.rest[entry] = rest;
  }

  private same(entry: number, set: Int32Array, from: number, last: number): boolean {
    const base = entry * (this.words + 1);
    if (this.keys[base + this.words] !== last) return false;
    for (let w = 0; w < this.words; w += 1) if (this.keys[base + w] !== set[from + w]) return false;
    return true;
  }

  private hash(set: Int32Array, from: number, last: number): number {
    let h = Math.imul(last + 1, 0x9e3779b1);
    for (let w = 0; w < this.words; w += 1) {
      h = Math.imul(h ^ set[from + w], 0x85ebca6b);
      h ^= h >>> 13;
    }
    h = Math.imul(h, 0xc2b2ae35);
    return (h ^ (h >>> 16)) & 0x7fffffff;
  }

  private grow(): void {
    const next = Math.min(this.most, this.reached.length * 2);
    const keys = new Int32Array(next * (this.words + 1));
    keys.set(this.keys);
    this.keys = keys;
    const reached = new Float64Array(next);
    reached.set(this.reached);
    this.reached = reached;
    const rest = new Float64Array(next);
    rest.set(this.rest);
    this.rest = rest;
  }
}
