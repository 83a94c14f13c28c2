/**
 * A network of tasks with three-point times: critical path by expected times, normal approximation along it (PERT), and the
 * finish by simulation. The approximation looks at one path only and so understates the finish where paths compete; the
 * simulation (PERT betas, seeded) does not. Cost: tasks times trials.
 */
import { InputError } from "../../errors.ts";
import { normalCdf } from "../../measure/distributions.ts";
import { seededRandom } from "../../measure/random.ts";
import { drawPert, sampleQuantile } from "../draws.ts";
import { pert, type ThreePoint } from "./three-point.ts";

export interface Network {
  readonly te: Readonly<Record<string, number>>;
  readonly variance: Readonly<Record<string, number>>;
  /** Task names along the longest path by expected times; of equal ones the first in the order of the input. */
  readonly criticalPath: readonly string[];
  readonly T: number;
  readonly pathVariance: number;
  readonly sd: number;
  /** Time by which each task may slip without moving the end. */
  readonly slack: Readonly<Record<string, number>>;
  /** P(finish <= due) along the critical path; left out without a due time. */
  readonly probability?: number;
  readonly simulated: {
    readonly mean: number;
    readonly p50: number;
    readonly p90: number;
    readonly probability?: number;
    readonly trials: number;
    readonly seed: number;
  };
}

export interface NetworkOptions {
  readonly due?: number;
  readonly trials?: number;
  readonly seed?: number;
}

export function network(
  tasks: Readonly<Record<string, ThreePoint>>,
  before: Readonly<Record<string, readonly string[]>>,
  { due, trials = 20_000, seed = 1 }: NetworkOptions = {},
): Network {
  const order = inOrder(Object.keys(tasks), before);
  const expected = new Map(order.map((name) => [name, pert(tasks[name]!)]));
  const end = new Map<string, number>();
  const via = new Map<string, string>();
  for (const name of order) {
    let start = 0;
    for (const earlier of before[name] ?? []) {
      const at = end.get(earlier) ?? 0;
      if (at > start) {
        start = at;
        via.set(name, earlier);
      }
    }
    end.set(name, start + expected.get(name)!.mean);
  }
  const T = Math.max(...end.values());
  let last = order.find((name) => end.get(name) === T);
  const criticalPath: string[] = [];
  for (; last !== undefined; last = via.get(last)) criticalPath.unshift(last);
  const pathVariance = criticalPath.reduce((sum, name) => sum + expected.get(name)!.variance, 0);
  const sd = Math.sqrt(pathVariance);
  const named = (value: (name: string) => number): Record<string, number> =>
    Object.fromEntries(Object.keys(tasks).map((name) => [name, value(name)]));
  return {
    te: named((name) => expected.get(name)!.mean),
    variance: named((name) => expected.get(name)!.variance),
    criticalPath,
    T,
    pathVariance,
    sd,
    slack: slackOf(order, before, expected, end, T, named),
    ...(due === undefined ? {} : { probability: sd > 0 ? normalCdf((due - T) / sd) : due >= T ? 1 : 0 }),
    simulated: simulate(order, tasks, before, { ...(due === undefined ? {} : { due }), trials, seed }),
  };
}

function slackOf(
  order: readonly string[],
  before: Readonly<Record<string, readonly string[]>>,
  expected: ReadonlyMap<string, { readonly mean: number }>,
  end: ReadonlyMap<string, number>,
  T: number,
  named: (value: (name: string) => number) => Record<string, number>,
): Record<string, number> {
  const latest = new Map(order.map((name) => [name, T]));
  for (const name of [...order].reverse()) {
    const start = latest.get(name)! - expected.get(name)!.mean;
    for (const earlier of before[name] ?? []) latest.set(earlier, Math.min(latest.get(earlier)!, start));
  }
  return named((name) => Math.max(0, latest.get(name)! - end.get(name)!));
}

function simulate(
  order: readonly string[],
  tasks: Readonly<Record<string, ThreePoint>>,
  before: Readonly<Record<string, readonly string[]>>,
  { due, trials, seed }: Required<Pick<NetworkOptions, "trials" | "seed">> & { due?: number },
): Network["simulated"] {
  const random = seededRandom(seed);
  const place = new Map(order.map((name, index) => [name, index]));
  const earlier = order.map((name) => (before[name] ?? []).map((one) => place.get(one)!));
  const points = order.map((name) => tasks[name]!);
  const ends = new Float64Array(order.length);
  const finishes = new Float64Array(trials);
  let sum = 0;
  let inTime = 0;
  for (let trial = 0; trial < trials; trial += 1) {
    let finish = 0;
    for (let i = 0; i < order.length; i += 1) {
      let start = 0;
      for (const one of earlier[i]!) if (ends[one]! > start) start = ends[one]!;
      ends[i] = start + drawPert(random, points[i]!.a, points[i]!.m, points[i]!.b);
      if (ends[i]! > finish) finish = ends[i]!;
    }
    finishes[trial] = finish;
    sum += finish;
    if (due !== undefined && finish <= due) inTime += 1;
  }
  finishes.sort();
  return {
    mean: sum / trials,
    p50: sampleQuantile(finishes, 0.5),
    p90: sampleQuantile(finishes, 0.9),
    ...(due === undefined ? {} : { probability: inTime / trials }),
    trials,
    seed,
  };
}

/** Tasks so that what comes before a task stands before it. @throws InputError for a circle or an unknown name */
function inOrder(names: readonly string[], before: Readonly<Record<string, readonly string[]>>): string[] {
  const known = new Set(names);
  for (const [name, list] of Object.entries(before)) {
    for (const [index, one] of [name, ...list].entries())
      if (!known.has(one))
        throw new InputError({
          path: index === 0 ? "pred" : `pred.${name}[${index - 1}]`,
          found: JSON.stringify(one),
          expected: `the name of a task: ${names.join(", ")}`,
        });
  }
  const order: string[] = [];
  const waiting = new Set(names);
  while (waiting.size > 0) {
    const ready = [...waiting].filter((name) => (before[name] ?? []).every((one) => !waiting.has(one)));
    if (ready.length === 0)
      throw new InputError({
        path: "pred",
        found: `a circle through ${[...waiting].join(", ")}`,
        expected: "tasks that can be put in an order",
      });
    for (const name of ready) {
      waiting.delete(name);
      order.push(name);
    }
  }
  return order;
}
