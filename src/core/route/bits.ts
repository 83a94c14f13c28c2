/** Sets of small whole numbers as words of 32 bits. */
export const Bits = {
  words(n: number): number {
    return Math.max(1, (n + 31) >>> 5);
  },
  full(n: number): Int32Array {
    const set = new Int32Array(Bits.words(n));
    for (let i = 0; i < n; i += 1) Bits.add(set, i);
    return set;
  },
  has(set: Int32Array, i: number): boolean {
    return ((set[i >>> 5]! >>> (i & 31)) & 1) === 1;
  },
  add(set: Int32Array, i: number): void {
    set[i >>> 5]! |= 1 << (i & 31);
  },
  or(into: Int32Array, other: Int32Array): void {
    for (let w = 0; w < into.length; w += 1) into[w]! |= other[w]!;
  },
  and(into: Int32Array, other: Int32Array): void {
    for (let w = 0; w < into.length; w += 1) into[w]! &= other[w]!;
  },
  equal(a: Int32Array, b: Int32Array): boolean {
    for (let w = 0; w < a.length; w += 1) if (a[w] !== b[w]) return false;
    return true;
  },
  within(a: Int32Array, b: Int32Array): boolean {
    for (let w = 0; w < a.length; w += 1) if ((a[w]! & ~b[w]!) !== 0) return false;
    return true;
  },
  key(set: Int32Array): string {
    let key = "";
    for (let w = 0; w < set.length; w += 1) key += String.fromCharCode(set[w]! & 0xffff, set[w]! >>> 16);
    return key;
  },
  list(set: Int32Array): number[] {
    const out: number[] = [];
    for (let w = 0; w < set.length; w += 1) {
      for (let word = set[w]!; word !== 0; word &= word - 1) out.push((w << 5) + 31 - Math.clz32(word & -word));
    }
    return out;
  },
};
