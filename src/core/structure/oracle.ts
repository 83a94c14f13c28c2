/**
 * Brute force over the bench: uniform-cost search through every state that the rules allow, operations that no rule forces
 * included. Exact and slow; a check on the planner for records of a dozen operations, and nothing else.
 */
import type { BenchOperation, BenchState } from "./bench.ts";
import { Bench } from "./bench.ts";
import type { View } from "./view.ts";
import { warmZone } from "./warm-zones.ts";

export interface OracleAnswer {
  readonly cost: number;
  readonly seconds: number;
  readonly steps: number;
  readonly operations: readonly BenchOperation[];
}

/**
 * @param isolate whether the rule of power is in force.
 * @param limit states after which the search gives up.
 * @returns null where no order of work reaches the targets.
 * @throws RangeError when the limit is passed.
 */
export function bruteForce(
  view: View,
  targets: readonly string[],
  least: "seconds" | "steps",
  isolate: boolean,
  limit = 400_000,
): OracleAnswer | null {
  const bench = new Bench(view, isolate);
  const choices = everyOperation(view);
  const soft = softTimes(view);
  const heap = new Heap();
  const settled = new Set<string>();
  heap.push({ state: bench.start(), cost: 0, tie: 0, path: null });
  for (let popped = 0; ; popped += 1) {
    const node = heap.pop();
    if (!node) return null;
    if (popped > limit) throw new RangeError("too many states for brute force");
    const key = keyOf(node.state, soft);
    if (settled.has(key)) continue;
    settled.add(key);
    if (targets.every((part) => node.state.lifted.has(part))) {
      return { cost: node.cost, seconds: node.state.now / 1000, steps: node.state.steps, operations: pathOf(node) };
    }
    for (const operation of choices) {
      const outcome = bench.apply(node.state, operation);
      if (!outcome.ok) continue;
      const { state } = outcome.done;
      const cost = least === "seconds" ? state.now : state.steps;
      heap.push({ state, cost, tie: state.now, path: { operation, before: node } });
    }
  }
}

function everyOperation(view: View): BenchOperation[] {
  const all: BenchOperation[] = [];
  const zones = new Set<string>();
  for (const joint of view.record.joints) {
    joint.releases.forEach((release, index) => {
      all.push({ kind: "release", joint: joint.id, release: index });
      if (!release.heat) return;
      zones.add(release.heat.zone);
      if (!warmZone(view.record, release.heat).once.passes) return;
      for (let passes = 2; passes <= 40; passes += 1)
        all.push({ kind: "release", joint: joint.id, release: index, passes });
    });
  }
  for (const zone of zones) all.push({ kind: "heat", zone });
  for (const part of view.record.parts) {
    all.push({ kind: "lift", part: part.id });
    if (part.shift) all.push({ kind: "shift", part: part.id });
  }
  return all;
}

function softTimes(view: View): Map<string, number | null> {
  const soft = new Map<string, number | null>();
  for (const joint of view.record.joints)
    for (const { heat } of joint.releases) if (heat) soft.set(heat.zone, warmZone(view.record, heat).once.soft);
  return soft;
}

function keyOf(state: BenchState, soft: ReadonlyMap<string, number | null>): string {
  const sorted = (set: ReadonlySet<string>): string => [...set].sort().join(",");
  const warm = [...soft].map(([zone, limit]) => {
    const last = state.heated.get(zone);
    if (last === undefined) return "cold";
    if (limit === null) return "warm";
    const age = state.now - last;
    return age > limit ? "cold" : String(age);
  });
  return [
    sorted(state.released),
    sorted(state.lifted),
    sorted(state.shifted),
    [...state.hand].sort().join(","),
    state.side,
    warm.join(","),
    state.open,
  ].join("|");
}

interface Node {
  readonly state: BenchState;
  readonly cost: number;
  readonly tie: number;
  readonly path: { readonly operation: BenchOperation; readonly before: Node } | null;
}

function pathOf(node: Node): BenchOperation[] {
  const operations: BenchOperation[] = [];
  for (let here = node.path; here; here = here.before.path) operations.unshift(here.operation);
  return operations;
}

class Heap {
  private readonly items: Node[] = [];

  push(node: Node): void {
    const { items } = this;
    items.push(node);
    let i = items.length - 1;
    while (i > 0) {
      const up = (i - 1) >> 1;
      if (!before(node, items[up])) break;
      items[i] = items[up];
      i = up;
    }
    items[i] = node;
  }

  pop(): Node | undefined {
    const { items } = this;
    const top = items[0];
    const last = items.pop();
    if (items.length === 0 || last === undefined) return top;
    let i = 0;
    for (;;) {
      let child = 2 * i + 1;
      if (child >= items.length) break;
      if (child + 1 < items.length && before(items[child + 1], items[child])) child += 1;
      if (!before(items[child], last)) break;
      items[i] = items[child];
      i = child;
    }
    items[i] = last;
    return top;
  }
}

function before(a: Node, b: Node): boolean {
  return a.cost < b.cost || (a.cost === b.cost && a.tie < b.tie);
}
