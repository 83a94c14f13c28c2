/**
 * A reduced problem as numbers in flat arrays: what the searches run on.
 *
 * Costs. The order of preference (what is least, then milliseconds, then operations) is packed into one whole number
 * below 2^53, so that comparing two costs is comparing two numbers:
 * cost = steps * wStep + risk / riskUnit * wRisk + ms / tick * wMs + operations * wOp.
 * Where the numbers do not fit, the tie-break on operations is given up.
 *
 * Needs. A graph of operations (AND) and gates (OR, AND): every node has a count that falls by one when one below it
 * holds, and holds itself when its count comes to 0. Gates with one entry are gone.
 *
 * Modes. What is in hand, the side that is up and, where steps matter, whether work is open and whether the last set
 * was bare hands, as one number.
 */
import { InputError } from "../errors.ts";
import { missingTools, rounds } from "./advance.ts";
import { closesFree, heatingHelps, makesReady } from "./helpers.ts";
import type { Need, Objective, Operation, Problem, StepReadings } from "./problem.ts";
import type { Reduced } from "./reduce.ts";

export interface Model {
  readonly problem: Problem;
  readonly objective: Objective;
  readonly readings: StepReadings;
  /** Steps are part of what is minimised or capped: `open` and `bare` are kept. */
  readonly counted: boolean;
  /** Operations; where several ways are searched as one (`options`), the quickest stands for them. */
  readonly n: number;
  /** Original index of each operation, then of the other ways: `hand`, `side`, `ms`, `base` … are in the same order. */
  readonly kept: readonly number[];
  /** Ways of each operation as places in `kept`, itself first; and back again. */
  readonly options: readonly (readonly number[])[];
  readonly unit: Int32Array;
  readonly needs: readonly (readonly Need[])[];
  readonly dom: readonly Int32Array[];
  readonly targets: readonly number[];
  readonly helpers: readonly number[];
  /** Some helper is a lift that closes the work without a step: its help cannot be granted for nothing. */
  readonly closers: boolean;
  /** Helpers of the same tools and side that can always take a helper's place, at no greater cost. */
  readonly betterHelpers: readonly (readonly number[])[];

  /** Graph of needs: nodes 0..n-1 are operations, then gates. */
  readonly nodes: number;
  readonly count: Int32Array;
  readonly outStart: Int32Array;
  readonly out: Int32Array;
  readonly up: Int32Array;
  /** 1: AND gate (operations are AND), 0: OR gate. */
  readonly isAnd: Uint8Array;

  readonly wMs: number;
  readonly wStep: number;
  /** Of one `riskUnit`: a whole number, as a sum of shares of one would depend on its order. */
  readonly wRisk: number;
  /** Every risk is a multiple of this. */
  readonly riskUnit: number;
  /** 1, or 0 where the tie-break on operations was given up. */
  readonly wOp: number;
  /** Milliseconds in one unit of time. */
  readonly tick: number;
  readonly fetch: number;
  readonly turn: number;

  /** Distinct tool sets; 0 is what is in hand at the start. */
  readonly hands: readonly (readonly number[])[];
  readonly handSize: Int32Array;
  /** Missing tools from one set to another, row by row; empty when there are too many sets (see `missing`). */
  readonly missingTable: Int32Array;
  readonly sides: number;
  readonly startMode: number;

  readonly ms: Int32Array | Float64Array;
  readonly hand: Int32Array;
  readonly side: Int32Array;
  /** Packed cost that does not depend on the state, and the steps in it. */
  readonly base: Float64Array;
  readonly baseSteps: Int32Array;
  readonly risk: Float64Array;
  readonly isRelease: Uint8Array;
  readonly clean: Uint8Array;
  /** 1: a lift whose steps depend on what is off already (I4). */
  readonly bundled: Uint8Array;
  /** Per bundled lift: for each part the kept lifts that may have taken it off. */
  readonly bundles: readonly (readonly (readonly number[])[])[];
  readonly zone: Int32Array;
  readonly passes: Uint8Array;
  /** Rounds an interrupted release takes at least, 0 where it may fit without; units of set-ups in each round after the first. */
  readonly leastRounds: Int32Array;
  readonly roundSetUp: Float64Array;
  /** The operation just before it that is the same in all respects, -1: none. Done in this order. */
  readonly twin: Int32Array;
  /** Kept operations whose window this one may help to hold (see `makesReady`). */
  readonly helpsBonds: readonly (readonly number[])[];
  /** Kept operations that use the same set of tools, where having it in hand early can spare a step (see `keepsSet`). */
  readonly sameSet: readonly (readonly number[])[];
  /** Operations of which at most one is done: different ways to undo one joint that are not searched as one. */
  readonly rivals: readonly (readonly number[])[];
  /** Releases without tools, where `sameSet` matters. */
  readonly bareWork: readonly number[];

  readonly zones: readonly ModelZone[];
  /** Zones that cool. */
  readonly cooling: readonly number[];
}

export interface ModelZone {
  readonly ms: number;
  /** Units; Infinity: no limit. */
  readonly soft: number;
  /** Exact, in milliseconds: pieces of an interrupted release are no whole units. */
  readonly softMs: number;
  readonly hand: number;
  readonly side: number;
  /** Heating changes neither what is in hand nor the side that is up, and closes no work that is counted. */
  readonly neutral: boolean;
  readonly bonds: readonly number[];
  /** Bonds whose window this heating may help to hold, because of the source it takes up or the side it turns to. */
  readonly helpsBonds: readonly number[];
}

const TABLE_HANDS = 1024;

export function compile(problem: Problem, objective: Objective, reduced: Reduced): Model {
  const n = reduced.kept.length;
  const kept = [...reduced.kept, ...reduced.options.flatMap((ways) => ways.slice(1))];
  const operations = kept.map((i) => problem.operations[i]!);
  const place = new Map(kept.map((operation, at) => [operation, at]));
  const options = reduced.options.map((ways) => ways.map((way) => place.get(way)!));
  const unit = new Int32Array(kept.length);
  for (const [i, ways] of options.entries()) for (const way of ways) unit[way] = i;
  const anyWay = (i: number, test: (operation: number) => boolean) => options[i]!.some((way) => test(kept[way]!));
  const counted = objective.least === "steps" || objective.capSteps !== undefined;
  const tick = timeUnit(problem, operations);
  const hands: (readonly number[])[] = [problem.start.tools];
  const handOf = new Map<string, number>([[problem.start.tools.join(","), 0]]);
  const handId = (tools: readonly number[]): number => {
    if (tools.length === 0) return -1;
    const key = tools.join(",");
    const found = handOf.get(key);
    if (found !== undefined) return found;
    handOf.set(key, hands.length);
    return hands.push(tools) - 1;
  };
  const hand = Int32Array.from(operations, (operation) => handId(operation.tools));
  const zones = problem.zones.map((zone, z) => ({
    ms: zone.ms / tick,
    soft: zone.soft === null ? Infinity : Math.floor(zone.soft / tick),
    softMs: zone.soft ?? Infinity,
    hand: handId(zone.tools),
    side: zone.side,
    neutral: zone.tools.length === 0 && zone.side < 0 && !counted,
    bonds: operations.flatMap((operation, i) => (operation.zone === z ? [i] : [])),
    helpsBonds: kept.flatMap((i, at) => (heatingHelps(problem, z, i, counted) ? [at] : [])),
  }));
  const bonds = kept.flatMap((i, at) =>
    (problem.zones[problem.operations[i]!.zone]?.soft ?? null) === null ? [] : [at],
  );
  const weights = pack(problem, objective, operations, tick);
  const bundled = Uint8Array.from(operations, (o) =>
    objective.readings.I4 && o.kind === "lift" && o.bundle.length > 0 && !(objective.readings.I7 && o.tray) ? 1 : 0,
  );
  const baseSteps = Int32Array.from(operations, (o, i) => (bundled[i] === 1 ? 0 : ownSteps(o, objective.readings)));
  const base = Float64Array.from(
    operations,
    (o, i) =>
      (o.ms / tick) * weights.wMs +
      (o.risk / weights.riskUnit) * weights.wRisk +
      weights.wOp +
      baseSteps[i]! * weights.wStep,
  );
  const missingTable =
    hands.length <= TABLE_HANDS
      ? Int32Array.from(hands.flatMap((from) => hands.map((to) => missingTools(to, from).length)))
      : new Int32Array(0);
  const sides = Math.max(1, problem.sides.length);
  const interrupted = operations.map((o, i) => roundsOf(problem, o, zones[o.zone], hand[i]!, hands, tick));
  return {
    ...{ problem, objective, readings: objective.readings, counted, n, ...reduced, kept, options, unit },
    ...graph(reduced.needs),
    ...weights,
    tick,
    fetch: problem.fetch / tick,
    turn: problem.turn / tick,
    hands,
    handSize: Int32Array.from(hands, (set) => set.length),
    missingTable,
    sides,
    startMode: problem.start.side << 2,
    ms: Float64Array.from(operations, (o) => o.ms / tick),
    hand,
    side: Int32Array.from(operations, (o) => o.side),
    base,
    baseSteps,
    risk: Float64Array.from(operations, (o) => o.risk),
    isRelease: Uint8Array.from(operations, (o) => (o.kind === "release" ? 1 : 0)),
    clean: Uint8Array.from(operations, (o) => (o.clean ? 1 : 0)),
    bundled,
    bundles: operations.map((o, i) =>
      bundled[i] === 1 ? o.bundle.map((lifts) => lifts.flatMap((lift) => place.get(lift) ?? [])) : [],
    ),
    zone: Int32Array.from(operations, (o) => o.zone),
    passes: Uint8Array.from(operations, (o) => (o.passes ? 1 : 0)),
    leastRounds: Int32Array.from(interrupted, ({ rounds: n }) => n),
    roundSetUp: Float64Array.from(interrupted, ({ setUp }) => setUp),
    closers: counted && reduced.helpers.some((i) => closesFree(problem, objective.readings, kept[i]!)),
    twin: twins(problem, objective, reduced),
    helpsBonds: options.map((_, i) =>
      bonds.filter((at) => anyWay(i, (way) => makesReady(problem, problem.operations[way]!, kept[at]!, counted))),
    ),
    sameSet: counted ? sameSets(problem, objective.readings, kept, options) : options.map(() => []),
    bareWork: counted ? options.flatMap((_, i) => (anyWay(i, (way) => bare(problem, way)) ? [i] : [])) : [],
    betterHelpers: betterHelpers(problem, reduced, base),
    rivals: rivalsOf(problem, reduced.kept),
    zones,
    cooling: zones.flatMap((zone, z) => (zone.soft < Infinity && zone.bonds.length > 0 ? [z] : [])),
  };
}

/**
 * A release that must be interrupted wherever it is done: what has to be fetched and turned between the heating and the work
 * is the same in every order where the source is held (or the device lies on it), and each later round begins with the way
 * back to the source.
 */
function roundsOf(
  problem: Problem,
  { ms, passes, side }: Operation,
  zone: ModelZone | undefined,
  hand: number,
  hands: readonly (readonly number[])[],
  tick: number,
): { rounds: number; setUp: number } {
  if (zone === undefined || zone.soft === Infinity || !passes) return { rounds: 0, setUp: 0 };
  const both = hand >= 0 && zone.hand >= 0;
  const there = both ? missingTools(hands[hand]!, hands[zone.hand]!).length * problem.fetch : 0;
  const back = both ? missingTools(hands[zone.hand]!, hands[hand]!).length * problem.fetch : 0;
  const turn = side >= 0 && zone.side >= 0 && side !== zone.side ? problem.turn : 0;
  if (there + turn + ms <= zone.softMs) return { rounds: 0, setUp: 0 };
  const n = rounds(there + turn, ms, zone.softMs);
  return n === null ? { rounds: 0, setUp: 0 } : { rounds: n, setUp: (there + back + 2 * turn) / tick };
}

function bare(problem: Problem, i: number): boolean {
  const { kind, tools } = problem.operations[i]!;
  return kind === "release" && tools.length === 0;
}

function betterHelpers(problem: Problem, reduced: Reduced, base: Float64Array): number[][] {
  const { kept, needs, options, helpers } = reduced;
  const like = (i: number) => {
    const { kind, tools, side, zone } = problem.operations[kept[i]!]!;
    return zone < 0 && options[i]!.length === 1 ? `${kind} ${tools} ${side}` : `only ${i}`;
  };
  const asks = needs.map((list) => new Set(list.map((need) => JSON.stringify(need))));
  const out: number[][] = kept.map(() => []);
  const rivals = new Set(rivalsOf(problem, kept).flat());
  const alike = new Map<string, number[]>();
  for (const i of helpers) {
    const list = alike.get(like(i));
    if (list === undefined) alike.set(like(i), [i]);
    else list.push(i);
  }
  for (const i of helpers) {
    for (const j of alike.get(like(i))!) {
      if (i === j || rivals.has(j) || ![...asks[j]!].every((need) => asks[i]!.has(need))) continue;
      const { risk } = problem.operations[kept[i]!]!;
      if (base[j]! > base[i]! || problem.operations[kept[j]!]!.risk > risk) continue;
      // Equals take turns by their place.
      const equal =
        asks[i]!.size === asks[j]!.size && base[i] === base[j] && problem.operations[kept[j]!]!.risk === risk;
      if (!equal || j < i) out[i]!.push(j);
    }
  }
  return out;
}

/** `keepsSet` for every pair, by the sets of tools. */
function sameSets(
  problem: Problem,
  readings: StepReadings,
  kept: readonly number[],
  options: readonly (readonly number[])[],
): number[][] {
  if (readings.I1 || readings.I5) return options.map(() => []);
  const users = new Map<string, number[]>();
  for (const [y, ways] of options.entries()) {
    const sets = ways.flatMap((way) => {
      const { tools, zone } = problem.operations[kept[way]!]!;
      return [tools, problem.zones[zone]?.tools ?? []];
    });
    for (const key of new Set(sets.map((tools) => tools.join()))) {
      const list = users.get(key);
      if (list === undefined) users.set(key, [y]);
      else list.push(y);
    }
  }
  return options.map((ways, x) => {
    const same = new Set<number>();
    for (const way of ways) {
      const { kind, tools } = problem.operations[kept[way]!]!;
      if (kind !== "release" || tools.length === 0) continue;
      for (const y of users.get(tools.join()) ?? []) if (y !== x) same.add(y);
    }
    return [...same].sort((a, b) => a - b);
  });
}

function rivalsOf(problem: Problem, kept: readonly number[]): number[][] {
  const groups = new Map<number, number[]>();
  for (const [i, operation] of kept.entries()) {
    const { group } = problem.operations[operation]!;
    if (group === undefined) continue;
    const list = groups.get(group);
    if (list === undefined) groups.set(group, [i]);
    else list.push(i);
  }
  return [...groups.values()].filter((list) => list.length > 1);
}

/** Tools to fetch from set `from` to set `to`. */
export function missing(model: Model, from: number, to: number): number {
  if (from === to) return 0;
  const { missingTable, hands } = model;
  if (missingTable.length > 0) return missingTable[from * hands.length + to]!;
  return missingTools(hands[to]!, hands[from]!).length;
}

function ownSteps(operation: Operation, readings: StepReadings): number {
  if (operation.kind === "release") return (readings.I1 ? 1 : 0) + (readings.I9 && operation.clean ? 1 : 0);
  return operation.kind === "lift" && readings.I7 && operation.tray ? 0 : 1;
}

function timeUnit(problem: Problem, operations: readonly Operation[]): number {
  let unit = gcd(problem.fetch, problem.turn);
  for (const operation of operations) unit = gcd(unit, operation.ms);
  for (const zone of problem.zones) unit = gcd(unit, zone.ms);
  return Math.max(1, unit);
}

function gcd(a: number, b: number): number {
  let [x, y] = [a, b];
  while (y > 0) [x, y] = [y, x % y];
  return x;
}

/**
 * The most rounds a release can need: the set-up that comes nearest to the soft time decides. Only set-ups made of the
 * fetches of its own tools and a turn can come between heating and work.
 */
function mostRounds(problem: Problem, operation: Operation): number {
  const zone = problem.zones[operation.zone];
  if (zone === undefined || zone.soft === null || !operation.passes) return 1;
  let most = 2;
  for (let tools = 0; tools <= operation.tools.length; tools += 1) {
    for (const turn of [0, problem.turn]) {
      most = Math.max(most, rounds(tools * problem.fetch + turn, operation.ms, zone.soft) ?? 0);
    }
  }
  return most;
}

function pack(problem: Problem, objective: Objective, operations: readonly Operation[], unit: number) {
  let ms = 0;
  let steps = 0;
  let riskSum = 0;
  let riskUnit = 0;
  for (const operation of operations) {
    const zone = problem.zones[operation.zone];
    const n = mostRounds(problem, operation);
    const setUp = operation.tools.length * problem.fetch + problem.turn;
    ms += operation.ms + n * setUp;
    steps += n * (operation.tools.length + 4) + operation.bundle.length;
    if (zone !== undefined) {
      ms += n * (zone.ms + zone.tools.length * problem.fetch + problem.turn);
      steps += n * (zone.tools.length + 4);
    }
    riskSum += operation.risk;
    riskUnit = gcd(riskUnit, operation.risk);
  }
  const scale = { operations: above(2 * operations.length + 1), ms: above(ms / unit), steps: above(steps) };
  const risk = above(riskSum / Math.max(1, riskUnit));
  const second = objective.least === "steps" ? scale.steps : objective.least === "risk" ? risk : 1;
  const fits = (k: number) => k * scale.ms * second < 2 ** 53;
  const k = fits(scale.operations) ? scale.operations : 1;
  if (!fits(k)) {
    throw new InputError({
      path: "operations",
      found: `times that add up to ${ms} ms`,
      expected: "times, steps and expected damage whose sums stay small enough to be compared exactly",
    });
  }
  return {
    wMs: k,
    wOp: k === 1 ? 0 : 1,
    wStep: objective.least === "steps" ? k * scale.ms : 0,
    wRisk: objective.least === "risk" ? k * scale.ms : 0,
    riskUnit: Math.max(1, riskUnit),
  };
}

/** Least power of two above. */
function above(value: number): number {
  let power = 1;
  while (power <= value) power *= 2;
  return power;
}

function graph(needs: readonly (readonly Need[])[]) {
  const n = needs.length;
  const count: number[] = new Array(n).fill(0);
  const up: number[] = new Array(n).fill(-1);
  const isAnd: number[] = new Array(n).fill(1);
  const users: number[][] = Array.from({ length: n }, () => []);
  const gate = (parent: number, needed: number, and: number): number => {
    count.push(needed);
    up.push(parent);
    isAnd.push(and);
    return count.length - 1;
  };
  for (const [y, list] of needs.entries()) {
    for (const need of list) {
      if (need.length === 1) {
        for (const atom of need[0]!) {
          count[y]! += 1;
          if (atom.length === 1) users[atom[0]!]!.push(y);
          else {
            const any = gate(y, 1, 0);
            for (const i of atom) users[i]!.push(any);
          }
        }
        continue;
      }
      count[y]! += 1;
      const either = gate(y, 1, 0);
      for (const group of need) {
        if (group.length === 1) {
          for (const i of group[0]!) users[i]!.push(either);
          continue;
        }
        const all = gate(either, group.length, 1);
        for (const atom of group) {
          if (atom.length === 1) users[atom[0]!]!.push(all);
          else {
            const any = gate(all, 1, 0);
            for (const i of atom) users[i]!.push(any);
          }
        }
      }
    }
  }
  const outStart = new Int32Array(n + 1);
  for (let i = 0; i < n; i += 1) outStart[i + 1] = outStart[i]! + users[i]!.length;
  return {
    nodes: count.length,
    count: Int32Array.from(count),
    up: Int32Array.from(up),
    isAnd: Uint8Array.from(isAnd),
    outStart,
    out: Int32Array.from(users.flat()),
  };
}

/** Operations with the same class, cost, needs and users: which is done first makes no difference. */
function twins(problem: Problem, objective: Objective, reduced: Reduced): Int32Array {
  const users: string[][] = reduced.kept.map(() => []);
  for (const [y, list] of reduced.needs.entries()) {
    for (const [d, need] of list.entries()) {
      for (const [g, group] of need.entries()) {
        for (const [a, atom] of group.entries()) {
          // In a group alone each member is asked for: which atom it stands in makes no difference.
          for (const i of atom) users[i]!.push(atom.length === 1 ? `${y}.${d}.${g}` : `${y}.${d}.${g}.${a}`);
        }
      }
    }
  }
  const last = new Map<string, number>();
  const twin = new Int32Array(reduced.kept.length).fill(-1);
  const targets = new Set(reduced.targets);
  for (const [i, original] of reduced.kept.entries()) {
    const o = problem.operations[original]!;
    if (closesFree(problem, objective.readings, original)) continue;
    const key = JSON.stringify([
      ...[o.kind, o.ms, o.tools, o.side, o.zone, o.passes, o.clean, o.tray, o.risk, targets.has(i)],
      ...[reduced.needs[i], users[i], o.group],
      reduced.options[i]!.slice(1).map((way) => [
        problem.operations[way]!.tools,
        problem.operations[way]!.side,
        problem.operations[way]!.ms,
      ]),
    ]);
    twin[i] = last.get(key) ?? -1;
    last.set(key, i);
  }
  return twin;
}
