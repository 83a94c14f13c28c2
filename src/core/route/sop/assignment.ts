/**
 * The assignment bound along a path: each node that is left gets one node after it and one before it, circles allowed. Taking one
 * arc removes a row and a column and leaves a matching that is short of one pair, so a child costs one shortest augmenting
 * path (Jonker and Volgenant, Computing 38, 1987), O(m^2).
 *
 * States lie in flat arrays, one level for each node of the path.
 */
import { FORBIDDEN, type SopModel } from "./model.ts";

export class Assignment {
  private readonly n: number;
  private readonly cost: Int32Array;
  /** For each level: dual of a row, dual of a column, the row of a column, the column of a row. */
  private readonly u: Float64Array;
  private readonly v: Float64Array;
  private readonly rowOf: Int32Array;
  private readonly colOf: Int32Array;
  /** Rows and columns still in: the nodes not done, as lists. */
  private readonly distance: Float64Array;
  private readonly from: Int32Array;
  private readonly scanned: Uint8Array;

  constructor(model: SopModel) {
    const { n } = model;
    this.n = n;
    this.cost = model.cost;
    this.u = new Float64Array(n * (n + 1));
    this.v = new Float64Array(n * (n + 1));
    this.rowOf = new Int32Array(n * (n + 1)).fill(-1);
    this.colOf = new Int32Array(n * (n + 1)).fill(-1);
    this.distance = new Float64Array(n);
    this.from = new Int32Array(n);
    this.scanned = new Uint8Array(n);
  }

  /** Solves level 0: rows are all nodes but the last, columns all but the first. @returns its cost, Infinity where there is none */
  start(columns: Int32Array, count: number): number {
    const { n } = this;
    for (let row = 0; row < n - 1; row += 1) {
      if (!this.augment(0, row, columns, count)) return Number.POSITIVE_INFINITY;
    }
    return this.total(0, columns, count);
  }

  /** Duals of level 0. */
  duals(): { u: Float64Array; v: Float64Array } {
    return { u: this.u.slice(0, this.n), v: this.v.slice(0, this.n) };
  }

  /** Reduced cost of an arc at a level. */
  reduced(level: number, row: number, column: number): number {
    return this.cost[row * this.n + column] - this.u[level * this.n + row] - this.v[level * this.n + column];
  }

  /**
   * Goes from a level to the next by taking the arc row -> column.
   *
   * @param columns the columns that are left after it
   * @returns cost of the assignment of what is left, Infinity where there is none
   */
  take(level: number, row: number, column: number, columns: Int32Array, count: number): number {
    const { n } = this;
    const here = level * n;
    const next = here + n;
    this.u.copyWithin(next, here, here + n);
    this.v.copyWithin(next, here, here + n);
    this.rowOf.copyWithin(next, here, here + n);
    this.colOf.copyWithin(next, here, here + n);
    const mate = this.colOf[next + row];
    this.colOf[next + row] = -1;
    if (mate !== column) {
      const widow = this.rowOf[next + column];
      this.rowOf[next + mate] = -1;
      this.rowOf[next + column] = -1;
      this.colOf[next + widow] = -1;
      if (!this.augment(level + 1, widow, columns, count)) return Number.POSITIVE_INFINITY;
    } else this.rowOf[next + column] = -1;
    return this.total(level + 1, columns, count);
  }

  private total(level: number, columns: Int32Array, count: number): number {
    const base = level * this.n;
    let sum = 0;
    for (let k = 0; k < count; k += 1) {
      const column = columns[k];
      sum += this.cost[this.rowOf[base + column] * this.n + column];
    }
    return sum;
  }

  private augment(level: number, root: number, columns: Int32Array, count: number): boolean {
    const { n, cost, u, v, rowOf, colOf, distance, from, scanned } = this;
    const base = level * n;
    for (let k = 0; k < count; k += 1) {
      distance[columns[k]] = Number.POSITIVE_INFINITY;
      scanned[columns[k]] = 0;
    }
    let row = root;
    let reach = 0;
    let sink = -1;
    while (sink < 0) {
      const offset = reach - u[base + row];
      const line = row * n;
      let nearest = -1;
      let least = Number.POSITIVE_INFINITY;
      for (let k = 0; k < count; k += 1) {
        const column = columns[k];
        if (scanned[column] === 1) continue;
        const arc = cost[line + column];
        if (arc !== FORBIDDEN) {
          const through = offset + arc - v[base + column];
          if (through < distance[column]) {
            distance[column] = through;
            from[column] = row;
          }
        }
        if (distance[column] < least) {
          least = distance[column];
          nearest = column;
        }
      }
      if (nearest < 0) return false;
      reach = least;
      scanned[nearest] = 1;
      if (rowOf[base + nearest] < 0) sink = nearest;
      else row = rowOf[base + nearest];
    }
    u[base + root] += reach;
    for (let k = 0; k < count; k += 1) {
      const column = columns[k];
      if (scanned[column] === 0 || column === sink) continue;
      const change = reach - distance[column];
      v[base + column] -= change;
      u[base + rowOf[base + column]] += change;
    }
    for (let column = sink; ; ) {
      const above = from[column];
      const before = colOf[base + above];
      rowOf[base + column] = above;
      colOf[base + above] = column;
      if (above === root) return true;
      column = before;
    }
  }
}
