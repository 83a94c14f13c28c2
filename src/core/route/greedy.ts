/**
 * An order of work without search, so that there is always an answer: a set that is likely to be cheap (each alternative
 * by the sum of what it needs, the additive heuristic of Bonet & Geffner, Artificial Intelligence 129, 2001), in an order
 * that stays with a tool and side while it can and then goes where most work lies ready. Linear in the needs but for the
 * choice of the next class.
 */
import { advance, type BenchState, roundsFromHere, startState } from "./advance.ts";
import { Heap } from "./heap.ts";
import type { Model } from "./model.ts";
import type { Move } from "./problem.ts";

/** Places of operations that can be done by themselves and reach the targets. */
export function greedySet(model: Model): number[] {
  const { n, nodes, out, outStart, up, isAnd, base } = model;
  const count = model.count.slice();
  const sum = new Float64Array(nodes);
  const settled = new Uint8Array(nodes);
  const choice = new Int32Array(nodes).fill(-1);
  const below: number[][] = Array.from({ length: nodes }, () => []);
  const heap = new Heap();
  for (let i = 0; i < n; i += 1) if (count[i] === 0) heap.push(i, base[i]!, 0);
  while (heap.size > 0) {
    const value = heap.least();
    const i = heap.pop();
    if (settled[i] === 1) continue;
    settled[i] = 1;
    for (let e = outStart[i]!; e < outStart[i + 1]!; e += 1) {
      let from = i;
      let worth = value;
      let node = out[e]!;
      for (;;) {
        if (isAnd[node] === 1) {
          sum[node]! += worth;
          below[node]!.push(from);
        }
        if (--count[node]! !== 0) break;
        if (node < n) {
          heap.push(node, sum[node]! + base[node]!, 0);
          break;
        }
        if (isAnd[node] === 0) choice[node] = from;
        else worth = sum[node]!;
        from = node;
        node = up[node]!;
      }
    }
  }
  const wanted = new Uint8Array(nodes);
  const stack = [...model.targets];
  while (stack.length > 0) {
    const node = stack.pop()!;
    if (wanted[node] === 1) continue;
    wanted[node] = 1;
    if (isAnd[node] === 1) stack.push(...below[node]!);
    else if (choice[node]! >= 0) stack.push(choice[node]!);
  }
  return Array.from({ length: n }, (_, i) => i).filter((i) => wanted[i] === 1);
}

/** Classes looked through for the best next one. */
const LOOK_AT = 64;

/** Moves that do all of `set`, by the bench's rules; null where some bond never fits along this way. */
export function greedyOrder(model: Model, set: readonly number[]): Move[] | null {
  const { problem, objective, n, hand, side, out, outStart, up, kept, sides } = model;
  const inside = new Uint8Array(n);
  for (const i of set) inside[i] = 1;
  const count = model.count.slice();
  const classes = new Map<number, number[]>();
  const put = (i: number) => {
    const key = (hand[i]! + 1) * (sides + 1) + side[i]! + 1;
    const list = classes.get(key);
    if (list === undefined) classes.set(key, [i]);
    else list.push(i);
  };
  for (const i of set) if (count[i] === 0) put(i);
  const state = startState(problem);
  const moves: Move[] = [];
  let handNow = 0;
  let sideNow = problem.start.side;
  let stuck: number[] = [];
  for (let left = set.length; left > 0; ) {
    const key = nextClass(model, classes, handNow, sideNow);
    if (key < 0) return null;
    const list = classes.get(key)!;
    const i = list.pop()!;
    if (list.length === 0) classes.delete(key);
    const made = doIt(model, state, kept[i]!);
    if (made === null) {
      stuck.push(i);
      if (classes.size === 0) return null;
      continue;
    }
    moves.push(...made);
    left -= 1;
    if (hand[i]! >= 0) handNow = hand[i]!;
    if (side[i]! >= 0) sideNow = side[i]!;
    for (const waiting of stuck) put(waiting);
    stuck = [];
    for (let e = outStart[i]!; e < outStart[i + 1]!; e += 1) {
      let node = out[e]!;
      while (--count[node]! === 0) {
        if (node < n) {
          if (inside[node] === 1) put(node);
          break;
        }
        node = up[node]!;
      }
    }
  }
  return objective.capSteps === undefined && objective.capRisk === undefined ? moves : null;
}

function nextClass(model: Model, classes: Map<number, number[]>, handNow: number, sideNow: number): number {
  let best = -1;
  let most = -1;
  let looked = 0;
  const wide = model.sides + 1;
  const free = [0, sideNow + 1, (handNow + 1) * wide, (handNow + 1) * wide + sideNow + 1];
  for (const key of free) if (classes.has(key)) return key;
  for (const [key, list] of classes) {
    const side = (key % wide) - 1;
    const turn = side >= 0 && side !== sideNow ? model.turn : 0;
    const worth = list.length / (model.fetch + turn + 1);
    if (worth > most) {
      most = worth;
      best = key;
    }
    if (++looked >= LOOK_AT) break;
  }
  return best;
}

/** The operation with what heating it takes; null where it does not fit even so. */
function doIt(model: Model, state: BenchState, operation: number): Move[] | null {
  const { problem, readings } = model;
  const move: Move = { kind: "do", operation };
  if (typeof advance(problem, readings, state, move) !== "string") return [move];
  const { zone, passes } = problem.operations[operation]!;
  if (zone < 0) return null;
  if (passes) {
    const n = roundsFromHere(problem, state, problem.operations[operation]!);
    if (typeof n === "number") {
      const interrupted: Move = { ...move, passes: n };
      if (typeof advance(problem, readings, state, interrupted) !== "string") return [interrupted];
    }
  }
  const heating: Move = { kind: "heat", zone };
  const before = { ...state, heated: state.heated.slice() };
  advance(problem, readings, state, heating);
  if (typeof advance(problem, readings, state, move) !== "string") return [heating, move];
  Object.assign(state, before);
  return null;
}
