/** Binary heap of labels by two keys: least `f` first, then greatest `g` (deepest), then first come. */
export class Heap {
  private f = new Float64Array(256);
  private g = new Float64Array(256);
  private ids = new Int32Array(256);
  size = 0;

  clear(): void {
    this.size = 0;
  }

  least(): number {
    return this.size > 0 ? this.f[0]! : Infinity;
  }

  push(id: number, f: number, g: number): void {
    if (this.size === this.ids.length) this.grow();
    let i = this.size++;
    while (i > 0) {
      const up = (i - 1) >> 1;
      if (!(f < this.f[up]! || (f === this.f[up]! && g > this.g[up]!))) break;
      this.f[i] = this.f[up]!;
      this.g[i] = this.g[up]!;
      this.ids[i] = this.ids[up]!;
      i = up;
    }
    this.f[i] = f;
    this.g[i] = g;
    this.ids[i] = id;
  }

  pop(): number {
    const top = this.ids[0]!;
    const last = --this.size;
    if (last === 0) return top;
    const f = this.f[last]!;
    const g = this.g[last]!;
    const id = this.ids[last]!;
    let i = 0;
    for (;;) {
      let child = 2 * i + 1;
      if (child >= last) break;
      if (child + 1 < last && this.before(child + 1, child)) child += 1;
      if (!(this.f[child]! < f || (this.f[child]! === f && this.g[child]! > g))) break;
      this.f[i] = this.f[child]!;
      this.g[i] = this.g[child]!;
      this.ids[i] = this.ids[child]!;
      i = child;
    }
    this.f[i] = f;
    this.g[i] = g;
    this.ids[i] = id;
    return top;
  }

  private before(a: number, b: number): boolean {
    return this.f[a]! < this.f[b]! || (this.f[a]! === this.f[b]! && this.g[a]! > this.g[b]!);
  }

  private grow(): void {
    const size = this.ids.length * 2;
    const f = new Float64Array(size);
    const g = new Float64Array(size);
    const ids = new Int32Array(size);
    f.set(this.f);
    g.set(this.g);
    ids.set(this.ids);
    this.f = f;
    this.g = g;
    this.ids = ids;
  }
}
