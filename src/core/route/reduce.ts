/**
 * Cuts a problem down to the operations that can matter, and finds for each the operations that every way to it needs.
 *
 * 1. Reach: what can be done at all (linear fixpoint over the needs; circles without a way out are left out).
 * 2. Relevance: what some need of a target asks for, at any depth, and the operations that may be worth doing though no
 *    need asks for them (helpers.ts), with what they need.
 * 3. Landmarks: Dom(y) = {y} u (over needs) (meet over groups) (union over atoms) (meet over operations) Dom, the
 *    greatest fixpoint, on bitsets. Möhring, Skutella, Stork, SIAM J. Comput. 33(2) 2004, give the complexity of AND/OR
 *    precedence; the landmarks are those of delete-free planning (Keyder, Richter, Helmert, ECAI 2010).
 * 4. A group whose member itself always needs the operation can never be the one that opens it and is dropped whole,
 *    as is a group that asks for more than another group of the same need.
 *
 * Cost: passes over all needs times the words of a bitset; few passes unless circles are nested.
 */
import { Bits } from "./bits.ts";
import { type Allowed, findHelpers } from "./helpers.ts";
import type { Atom, Group, Need, Problem, StepReadings } from "./problem.ts";

export interface Reduced {
  /** Kept operations, as indices into the problem, ascending; of ways that are searched as one the quickest. */
  readonly kept: readonly number[];
  /** The ways that stand behind each kept operation, itself first. */
  readonly options: readonly (readonly number[])[];
  /** Needs of the kept operations in terms of their places in `kept`; needs that always hold are gone. */
  readonly needs: readonly (readonly Need[])[];
  /** Landmarks of each kept operation, over places in `kept`. */
  readonly dom: readonly Int32Array[];
  readonly targets: readonly number[];
  /** Places of operations that may be worth doing though no need asks for them. */
  readonly helpers: readonly number[];
}

/** 1 where the operation can be done by some order of work; heat and caps aside. */
export function reachable(problem: Problem, without?: Uint8Array): Uint8Array {
  const n = problem.operations.length;
  const reached = new Uint8Array(n);
  const users: number[][] = Array.from({ length: n }, () => []);
  const parent: number[] = [];
  const count: number[] = new Array(n).fill(0);
  const gate = (up: number, needed: number): number => {
    parent.push(up);
    count.push(needed);
    return n + parent.length - 1;
  };
  const queue: number[] = [];
  for (const [i, operation] of problem.operations.entries()) {
    const open = operation.needs.filter((need) => !need.some((group) => group.length === 0));
    count[i] = open.length + (without?.[i] === 1 ? 1 : 0);
    if (count[i] === 0) queue.push(i);
    for (const need of open) {
      const either = gate(i, 1);
      for (const group of need) {
        const all = gate(either, group.length);
        for (const atom of group) {
          const any = gate(all, 1);
          for (const other of atom) users[other]!.push(any);
        }
      }
    }
  }
  for (let head = 0; head < queue.length; head += 1) {
    const i = queue[head]!;
    reached[i] = 1;
    for (const user of users[i]!) {
      let node = user;
      while (--count[node]! === 0) {
        if (node < n) {
          queue.push(node);
          break;
        }
        node = parent[node - n]!;
      }
    }
  }
  return reached;
}

/** Null: a target cannot be reached. */
export function reduce(problem: Problem, readings: StepReadings, allow: Allowed, without?: Uint8Array): Reduced | null {
  const reached = reachable(problem, without);
  if (problem.targets.some((target) => reached[target] !== 1)) return null;
  const needs = problem.operations.map((operation, i) => (reached[i] === 1 ? possible(operation.needs, reached) : []));
  const kept = new Uint8Array(needs.length);
  spread(needs, problem.targets, kept);
  for (;;) {
    const found = findHelpers(problem, readings, allow, kept).filter((i) => kept[i] !== 1 && reached[i] === 1);
    if (found.length === 0) break;
    spread(needs, found, kept);
  }
  const first = compact(needs, kept);
  const trimmed = trim(first.needs, landmarks(first.needs));
  // Dropping groups may have made operations irrelevant: go over the kept ones once more.
  const back = first.kept;
  const place = new Map(back.map((operation, at) => [operation, at]));
  const again = new Uint8Array(back.length);
  const goals = problem.targets.map((target) => place.get(target)!);
  const extra = usefulHelpers(problem, readings, allow, kept, back, trimmed);
  spread(trimmed, goals, again);
  const makesReady = new Set(extra);
  spread(trimmed, extra, again);
  const fit = compact(trimmed, again);
  const place1 = new Map(fit.kept.map((at, i) => [at, i]));
  const original = fit.kept.map((at) => back[at]!);
  const ends = new Set(goals.map((goal) => place1.get(goal)!));
  const merged = mergeWays(problem, allow.ready || (allow.counted && readings.I6), original, fit.needs, ends);
  const last = compact(merged.needs, merged.keep);
  const options = last.kept.map((i) => merged.options[i]!);
  return {
    kept: last.kept.map((i) => original[i]!),
    options: options.map((list) => list.map((i) => original[i]!)),
    needs: last.needs,
    dom: landmarks(last.needs),
    targets: [...ends].map((end) => last.kept.indexOf(end)),
    helpers: options.flatMap((list, i) => (list.some((one) => makesReady.has(fit.kept[one]!)) ? [i] : [])),
  };
}

/**
 * Ways that need the same and serve the same, at the same damage and steps, differ only in time, tools and side: which
 * one is done is left to the search for the order. Doing two of them could only help (see helpers.ts), so that where help
 * counts they must exclude one another.
 */
function mergeWays(
  problem: Problem,
  exclusive: boolean,
  original: readonly number[],
  needs: readonly (readonly Need[])[],
  ends: ReadonlySet<number>,
) {
  const users: string[][] = original.map(() => []);
  for (const [y, list] of needs.entries()) {
    for (const [d, need] of list.entries()) {
      for (const [g, group] of need.entries()) {
        for (const [a, atom] of group.entries()) for (const i of atom) users[i]!.push(`${y}.${d}.${g}.${a}`);
      }
    }
  }
  const keep = new Uint8Array(original.length).fill(1);
  const options: number[][] = original.map((_, i) => [i]);
  const first = new Map<string, number[]>();
  for (const [i, at] of original.entries()) {
    const { kind, zone, group, clean, risk } = problem.operations[at]!;
    if (kind !== "release" || zone >= 0 || ends.has(i) || users[i]!.length === 0) continue;
    if (exclusive && group === undefined) continue;
    const key = JSON.stringify([needs[i], users[i], clean, risk, group]);
    const ways = first.get(key);
    if (ways === undefined) first.set(key, [i]);
    else ways.push(i);
  }
  const ms = (i: number) => problem.operations[original[i]!]!.ms;
  for (const ways of first.values()) {
    if (ways.length < 2) continue;
    ways.sort((a, b) => ms(a) - ms(b) || a - b);
    options[ways[0]!] = ways;
    for (const way of ways.slice(1)) keep[way] = 0;
  }
  const kept = (atom: Atom): Atom => atom.filter((i) => keep[i] === 1);
  return { keep, options, needs: needs.map((list) => list.map((need) => need.map((group) => group.map(kept)))) };
}

function possible(needs: readonly Need[], reached: Uint8Array): readonly Need[] {
  const out: Need[] = [];
  for (const need of needs) {
    const groups = need
      .map((group) => distinct(group.map((atom) => atom.filter((i) => reached[i] === 1))))
      .filter((group) => group.every((atom) => atom.length > 0));
    if (!groups.some((group) => group.length === 0)) out.push(smallest(groups));
  }
  return out;
}

function distinct(group: Group): Group {
  if (group.length < 2) return group;
  const seen = new Set<string>();
  return group.filter((atom) => {
    const key = [...atom].sort((a, b) => a - b).join(",");
    return !seen.has(key) && seen.add(key);
  });
}

const COMPARE_GROUPS = 64;

/** Drops groups that ask for all that another group asks for. Beyond `COMPARE_GROUPS` groups it is not worth it. */
function smallest(groups: readonly Group[]): Need {
  if (groups.length < 2 || groups.length > COMPARE_GROUPS) return groups;
  const asksAll = (more: Group, less: Group) =>
    less.every((weak) => more.some((strong) => strong.every((i) => weak.includes(i))));
  return groups.filter(
    (group, i) => !groups.some((other, j) => j !== i && asksAll(group, other) && (j < i || !asksAll(other, group))),
  );
}

function spread(needs: readonly (readonly Need[])[], from: readonly number[], into: Uint8Array): void {
  const stack = from.filter((i) => into[i] !== 1);
  for (const i of stack) into[i] = 1;
  while (stack.length > 0) {
    for (const need of needs[stack.pop()!]!) {
      for (const group of need) {
        for (const atom of group) {
          for (const i of atom) {
            if (into[i] === 1) continue;
            into[i] = 1;
            stack.push(i);
          }
        }
      }
    }
  }
}

function compact(needs: readonly (readonly Need[])[], keep: Uint8Array) {
  const kept: number[] = [];
  const place = new Int32Array(keep.length).fill(-1);
  for (let i = 0; i < keep.length; i += 1) if (keep[i] === 1) place[i] = kept.push(i) - 1;
  const renamed = kept.map((i) =>
    needs[i]!.map((need) => need.map((group) => group.map((atom): Atom => atom.map((other) => place[other]!)))),
  );
  return { kept, needs: renamed };
}

/** Places of the helpers that can come before what they help. */
function usefulHelpers(
  problem: Problem,
  readings: StepReadings,
  allow: Allowed,
  kept: Uint8Array,
  back: readonly number[],
  needs: readonly (readonly Need[])[],
): number[] {
  if (findHelpers(problem, readings, allow, kept).length === 0) return [];
  const place = new Map(back.map((operation, at) => [operation, at]));
  const dom = landmarks(needs);
  const inTime = (helper: number, helped: number) => !Bits.has(dom[place.get(helper)!]!, place.get(helped)!);
  const all = new Set(findHelpers(problem, readings, allow, kept, inTime));
  return back.flatMap((operation, at) => (all.has(operation) ? [at] : []));
}

/** Greatest fixpoint of the landmark equation; all operations must be reachable. */
export function landmarks(needs: readonly (readonly Need[])[]): Int32Array[] {
  const n = needs.length;
  const words = Bits.words(n);
  const full = Bits.full(n);
  const dom = needs.map(() => full.slice());
  const order = forwardOrder(needs);
  const own = new Int32Array(words);
  const meet = new Int32Array(words);
  const join = new Int32Array(words);
  const inner = new Int32Array(words);
  const joinGroup = (group: Group) => {
    join.fill(0);
    for (const atom of group) {
      if (atom.length === 1) Bits.or(join, dom[atom[0]!]!);
      else {
        inner.fill(-1);
        for (const i of atom) Bits.and(inner, dom[i]!);
        Bits.or(join, inner);
      }
    }
  };
  for (let changed = true; changed; ) {
    changed = false;
    for (const y of order) {
      own.fill(0);
      Bits.add(own, y);
      for (const need of needs[y]!) {
        meet.fill(-1);
        for (const group of need) {
          joinGroup(group);
          Bits.and(meet, join);
        }
        Bits.or(own, meet);
      }
      Bits.and(own, dom[y]!);
      if (Bits.equal(own, dom[y]!)) continue;
      dom[y]!.set(own);
      changed = true;
    }
  }
  return dom;
}

/** An order in which every operation comes after enough of its needs. */
function forwardOrder(needs: readonly (readonly Need[])[]): number[] {
  const n = needs.length;
  const users: Set<number>[] = Array.from({ length: n }, () => new Set());
  for (const [i, list] of needs.entries()) {
    for (const need of list) for (const group of need) for (const atom of group) for (const o of atom) users[o]!.add(i);
  }
  const done = new Uint8Array(n);
  const order: number[] = [];
  const holds = (need: Need) => need.some((group) => group.every((atom) => atom.some((o) => done[o] === 1)));
  const take = (i: number) => {
    if (done[i] === 1 || !needs[i]!.every(holds)) return;
    done[i] = 1;
    order.push(i);
  };
  for (let i = 0; i < n; i += 1) if (needs[i]!.length === 0) take(i);
  for (let head = 0; head < order.length; head += 1) for (const user of users[order[head]!]!) take(user);
  for (let i = 0; i < n; i += 1) if (done[i] !== 1) order.push(i);
  return order;
}

/** Takes out of each need what can never be what opens the operation. */
function trim(needs: readonly (readonly Need[])[], dom: readonly Int32Array[]): readonly (readonly Need[])[] {
  return needs.map((list, y) =>
    list.map((need) => {
      const groups = need
        .map((group) => group.map((atom) => atom.filter((i) => !Bits.has(dom[i]!, y))))
        .filter((group) => group.every((atom) => atom.length > 0));
      return groups.length === 0 ? need : smallest(groups.map(distinct));
    }),
  );
}
