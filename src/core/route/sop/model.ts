/**
 * A sequential ordering problem as flat arrays: costs, the closure of what must come before what, and the arcs that some
 * order can use.
 */
import { InputError } from "../../errors.ts";
import type { SopFile } from "./read.ts";

export interface SopModel {
  readonly n: number;
  /** n x n costs; `FORBIDDEN` where no order uses the arc. */
  readonly cost: Int32Array;
  /** 1 where the row's node must come before the column's, closed under transitivity. */
  readonly before: Uint8Array;
  /** Nodes that must come directly before and after in the transitive reduction. */
  readonly preds: readonly Int32Array[];
  readonly succs: readonly Int32Array[];
}

/** Above every sum of costs that is told apart; two of them still add up exactly. */
export const FORBIDDEN = 1_000_000_000;

/** @throws InputError where the orderings contradict one another */
export function modelOf({ n, matrix }: SopFile): SopModel {
  const before = closure(n, matrix);
  const cost = new Int32Array(n * n).fill(FORBIDDEN);
  for (let i = 0; i < n - 1; i += 1) {
    for (let j = 1; j < n; j += 1) {
      if (i === j || before[j * n + i] === 1 || matrix[i * n + j] < 0) continue;
      if (between(before, n, i, j)) continue;
      cost[i * n + j] = matrix[i * n + j];
    }
  }
  return { n, cost, before, ...reduction(n, before) };
}

function closure(n: number, matrix: Int32Array): Uint8Array {
  const before = new Uint8Array(n * n);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j < n; j += 1) if (i !== j && matrix[i * n + j] === -1) before[j * n + i] = 1;
  }
  for (let j = 1; j < n; j += 1) before[j] = 1;
  for (let i = 0; i < n - 1; i += 1) before[i * n + n - 1] = 1;
  for (let k = 0; k < n; k += 1) {
    for (let i = 0; i < n; i += 1) {
      if (before[i * n + k] === 0) continue;
      for (let j = 0; j < n; j += 1) if (before[k * n + j] === 1) before[i * n + j] = 1;
    }
  }
  for (let i = 0; i < n; i += 1) {
    if (before[i * n + i] === 1) {
      throw new InputError({
        path: `node ${i + 1}`,
        found: "a circle: it would have to come before itself",
        expected: "orderings without circles, node 1 first and the last node last",
      });
    }
  }
  return before;
}

/** Some node lies between the two in every order, so the one never follows the other directly. */
function between(before: Uint8Array, n: number, i: number, j: number): boolean {
  if (before[i * n + j] === 0) return false;
  for (let k = 0; k < n; k += 1) if (before[i * n + k] === 1 && before[k * n + j] === 1) return true;
  return false;
}

function reduction(n: number, before: Uint8Array): Pick<SopModel, "preds" | "succs"> {
  const preds: Int32Array[] = [];
  const succs: Int32Array[] = [];
  const direct = (i: number, j: number): boolean => before[i * n + j] === 1 && !between(before, n, i, j);
  for (let i = 0; i < n; i += 1) {
    const p: number[] = [];
    const s: number[] = [];
    for (let j = 0; j < n; j += 1) {
      if (direct(j, i)) p.push(j);
      if (direct(i, j)) s.push(j);
    }
    preds.push(Int32Array.from(p));
    succs.push(Int32Array.from(s));
  }
  return { preds, succs };
}

/** The same problem read from its end to its beginning. */
export function reversed(model: SopModel): SopModel {
  const { n } = model;
  const cost = new Int32Array(n * n);
  const before = new Uint8Array(n * n);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j < n; j += 1) {
      cost[(n - 1 - j) * n + (n - 1 - i)] = model.cost[i * n + j];
      before[(n - 1 - j) * n + (n - 1 - i)] = model.before[i * n + j];
    }
  }
  return { n, cost, before, ...reduction(n, before) };
}

/** Cost of an order, or null where it is none: a node twice, an ordering broken, a forbidden arc. Checks every answer. */
export function costOf(model: SopModel, order: readonly number[] | Int32Array): number | null {
  const { n, cost, before } = model;
  if (order.length !== n || order[0] !== 0 || order[n - 1] !== n - 1) return null;
  const place = new Int32Array(n).fill(-1);
  for (let i = 0; i < n; i += 1) {
    if (!(order[i] >= 0 && order[i] < n) || place[order[i]] >= 0) return null;
    place[order[i]] = i;
  }
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j < n; j += 1) if (before[i * n + j] === 1 && place[i] > place[j]) return null;
  }
  let sum = 0;
  for (let i = 0; i + 1 < n; i += 1) {
    const arc = cost[order[i] * n + order[i + 1]];
    if (arc === FORBIDDEN) return null;
    sum += arc;
  }
  return sum;
}
