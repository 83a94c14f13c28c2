/** A first legal order: always the cheapest node whose predecessors are done, looked one arc ahead. */
import type { SopModel } from "./model.ts";

export function greedyOrder({ n, cost, preds, succs }: SopModel): Int32Array {
  const waiting = Int32Array.from(preds, (list) => list.length);
  const order = new Int32Array(n);
  const ready: number[] = [0];
  let last = -1;
  for (let place = 0; place < n; place += 1) {
    let pick = 0;
    for (let r = 1; r < ready.length; r += 1) {
      if (last >= 0 && cost[last * n + ready[r]] < cost[last * n + ready[pick]]) pick = r;
    }
    const node = ready[pick];
    ready[pick] = ready[ready.length - 1];
    ready.pop();
    order[place] = node;
    last = node;
    for (const next of succs[node]) {
      waiting[next] -= 1;
      if (waiting[next] === 0) ready.push(next);
    }
  }
  return order;
}
