/**
 * Small random problems that use every rule of the bench: alternatives, circles, multi-tool sets, zones that cool and
 * zones that do not, held sources, sources the device lies on, interrupted releases, lifts and shifts, trays, bundles.
 * Times are small multiples of one another on purpose, so that windows are met exactly as often as they are missed.
 */
import {
  DEFAULT_READINGS,
  type Group,
  type Need,
  type Objective,
  type Operation,
  type Problem,
  type StepReadings,
} from "../problem.ts";

/** Mulberry32 (T. Ettinger, public domain): numbers in [0, 1) from a 32-bit seed. */
export function seeded(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export interface Flavour {
  readonly most: number;
  /** Probability that an operation is heated. */
  readonly heated: number;
  readonly steps: boolean;
}

export function randomProblem(random: () => number, flavour: Flavour): Problem {
  const int = (below: number) => Math.floor(random() * below);
  const chance = (p: number) => random() < p;
  const n = 3 + int(flavour.most - 2);
  const tools = ["driver", "pick", "tweezers"].slice(0, 1 + int(3));
  const sides = ["back", "front"];
  const someTools = (empty: number): number[] => {
    if (chance(empty)) return [];
    const first = int(tools.length);
    const second = int(tools.length);
    return chance(0.2) ? [...new Set([first, second])].sort((a, b) => a - b) : [first];
  };
  const zones =
    flavour.heated === 0
      ? []
      : Array.from({ length: 1 + int(2) }, (_, z) => ({
          id: `z${z}`,
          ms: chance(0.1) ? 0 : 1000 * (1 + int(12)),
          soft: chance(0.15) ? null : 1000 * (1 + int(9)),
          tools: chance(0.3) ? [int(tools.length)] : [],
          side: chance(0.25) ? int(2) : -1,
        }));
  const groupOf = (i: number): Group =>
    Array.from({ length: 1 + int(2) }, () => {
      const pick = () => (chance(0.15) ? int(n) : int(Math.max(1, i)));
      return chance(0.15) ? [pick(), pick()] : [pick()];
    });
  const operations = Array.from({ length: n }, (_, i): Operation => {
    const needs: Need[] = [];
    if (i > 0 && chance(0.7)) needs.push(Array.from({ length: chance(0.4) ? 2 : 1 }, () => groupOf(i)));
    if (i > 1 && chance(0.15)) needs.push([groupOf(i)]);
    const kind = flavour.steps ? (["release", "release", "lift", "shift"] as const)[int(4)]! : "release";
    const heated = kind === "release" && chance(flavour.heated);
    return {
      id: `o${i}`,
      kind,
      ms: chance(0.05) ? 0 : 1000 * (1 + int(6)),
      tools: kind === "release" ? someTools(flavour.steps ? 0.3 : 0.15) : chance(0.1) ? someTools(0.5) : [],
      side: chance(0.3) ? -1 : int(2),
      needs,
      zone: heated && zones.length > 0 ? int(zones.length) : -1,
      passes: heated && chance(0.4),
      clean: kind === "release" && chance(0.3),
      tray: kind === "lift" && chance(0.4),
      // Shares of prices, in millionths: what adds up without a remainder only when it is counted in whole units.
      risk: chance(0.5) ? 7_003 * int(400) : 0,
      bundle:
        kind === "lift" && chance(0.4) ? Array.from({ length: 1 + int(2) }, () => (chance(0.5) ? [int(n)] : [])) : [],
    };
  });
  // Now and then two releases are two ways to undo one joint, and need and serve the same.
  const twoWays = new Map<number, number>();
  for (let i = 1; i < n; i += 1) {
    const two = operations[i]!.kind === "release" && operations[i - 1]!.kind === "release" && !twoWays.has(i - 1);
    if (two && chance(0.2)) twoWays.set(i - 1, i - 1).set(i, i - 1);
  }
  const alike = chance(0.7);
  const asOne = (atom: readonly number[]) => [
    ...new Set(
      atom.flatMap((i) =>
        [...twoWays]
          .filter(([, g]) => g === twoWays.get(i))
          .map(([j]) => j)
          .concat(i),
      ),
    ),
  ];
  const lifts = (list: readonly number[], self: number) =>
    list.filter((i) => i !== self && operations[i]!.kind === "lift");
  return {
    operations: operations.map((o, i) => {
      const first = twoWays.get(i);
      const shared = first !== undefined && alike ? operations[first]!.needs : o.needs;
      const needs = alike ? shared.map((need) => need.map((group) => group.map(asOne))) : shared;
      const bundle = o.bundle.map((list) => lifts(list, i));
      return first === undefined ? { ...o, needs, bundle } : { ...o, needs, bundle, group: first };
    }),
    zones,
    tools,
    sides,
    fetch: 1000 * int(4),
    turn: 1000 * int(4),
    start: { tools: chance(0.2) ? [0] : [], side: int(2) },
    targets: [n - 1, ...(chance(0.25) ? [int(n)] : [])],
  };
}

export function randomReadings(random: () => number): StepReadings {
  if (random() < 0.3) return DEFAULT_READINGS;
  const readings: Record<string, boolean> = {};
  for (const name of Object.keys(DEFAULT_READINGS)) readings[name] = random() < 0.3;
  return readings as unknown as StepReadings;
}

export function randomObjective(random: () => number, steps: boolean): Objective {
  const least = (["seconds", "steps", "risk"] as const)[Math.floor(random() * 3)]!;
  const readings = randomReadings(random);
  return {
    least: steps ? least : least === "steps" ? "seconds" : least,
    readings,
    ...(steps && random() < 0.25 ? { capSteps: 1 + Math.floor(random() * 8) } : {}),
    ...(random() < 0.2 ? { capRisk: 10 * Math.floor(random() * 8) } : {}),
  };
}
