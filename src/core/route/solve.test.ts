import { describe, expect, it } from "vitest";
import { oracle } from "./oracle.ts";
import { type Answer, DEFAULT_READINGS, type Objective, type Problem } from "./problem.ts";
import { replay } from "./replay.ts";
import { solve } from "./solve.ts";
import { type Flavour, randomObjective, randomProblem, seeded } from "./testing/random-problem.ts";

const control = { now: () => 0 };
const seconds: Objective = { least: "seconds", readings: DEFAULT_READINGS };

const FLAVOURS: readonly [string, Flavour, number][] = [
  ["alternatives, circles and set-ups", { most: 8, heated: 0, steps: false }, 1500],
  ["bonds that cool, held sources, interrupted releases", { most: 7, heated: 0.4, steps: false }, 2000],
  ["steps under every reading, lifts and shifts", { most: 8, heated: 0, steps: true }, 1500],
  ["all of it at once", { most: 7, heated: 0.35, steps: true }, 1500],
];

/** Cost, ms and moves; null where there is no way. */
function outcome(answer: Answer, objective: Objective) {
  if (answer.kind === "no-way") return null;
  if (answer.kind === "out-of-time") throw new Error("no time limit was set");
  expect(answer.proved).toBe(true);
  const cost = { seconds: answer.ms, steps: answer.steps, risk: answer.risk }[objective.least];
  expect(answer.lowerBound).toBe(cost);
  return { cost, ms: answer.ms, operations: answer.moves.length };
}

describe("the planner against exhaustion, superfluous operations included", () => {
  it.each(FLAVOURS)("%s", (_, flavour, cases) => {
    let reached = 0;
    for (let seed = 1; seed <= cases; seed += 1) {
      const random = seeded(seed * 31 + flavour.most);
      const problem = randomProblem(random, flavour);
      const objective = randomObjective(random, flavour.steps);
      const truth = oracle(problem, objective);
      const answer = solve(problem, objective, control);
      const expected = truth && { cost: truth.cost, ms: truth.ms, operations: truth.operations };
      expect(outcome(answer, objective), `seed ${seed}`).toEqual(expected);
      if (answer.kind !== "solved") continue;
      reached += 1;
      const again = replay(problem, objective, answer.moves);
      expect(again).toMatchObject({ kind: "replayed", ms: answer.ms, steps: answer.steps, risk: answer.risk });
    }
    expect(reached).toBeGreaterThan(cases / 2);
  });
});

describe("what must hold between problems", () => {
  const flavour: Flavour = { most: 14, heated: 0.2, steps: false };
  const problems = Array.from({ length: 120 }, (_, i) => randomProblem(seeded(9000 + i), flavour));
  const costOf = (problem: Problem, objective = seconds) => {
    const answer = solve(problem, objective, control);
    return answer.kind === "solved" ? answer.ms : Infinity;
  };
  const withNeeds = (
    problem: Problem,
    at: number,
    change: (needs: Problem["operations"][number]["needs"]) => unknown,
  ) => ({
    ...problem,
    operations: problem.operations.map((o, i) => (i === at ? { ...o, needs: change(o.needs) as typeof o.needs } : o)),
  });

  it("one alternative more never costs more, one obstacle more never less", () => {
    let easier = 0;
    let harder = 0;
    for (const [i, problem] of problems.entries()) {
      const random = seeded(i);
      const at = Math.floor(random() * problem.operations.length);
      const other = Math.floor(random() * problem.operations.length);
      const cost = costOf(problem);
      const more = costOf(withNeeds(problem, at, (needs) => needs.map((need) => [...need, [[other]]])));
      const less = costOf(withNeeds(problem, at, (needs) => [...needs, [[[other]]]]));
      expect(more).toBeLessThanOrEqual(cost);
      expect(less).toBeGreaterThanOrEqual(cost);
      if (more < cost) easier += 1;
      if (less > cost) harder += 1;
    }
    expect(easier).toBeGreaterThan(0);
    expect(harder).toBeGreaterThan(0);
  });

  it("the order in which operations stand and their names change no cost", () => {
    for (const problem of problems) {
      const n = problem.operations.length;
      const turned = (i: number) => n - 1 - i;
      const renamed: Problem = {
        ...problem,
        operations: problem.operations.map((_, i) => {
          const o = problem.operations[turned(i)]!;
          const needs = o.needs.map((need) => need.map((group) => group.map((atom) => atom.map(turned))));
          return { ...o, id: `renamed ${i}`, needs };
        }),
        targets: problem.targets.map(turned),
      };
      expect(costOf(renamed)).toBe(costOf(problem));
    }
  });

  it("the same input gives the same answer to the letter", () => {
    for (const problem of problems) {
      expect(JSON.stringify(solve(problem, seconds, control))).toBe(JSON.stringify(solve(problem, seconds, control)));
    }
  });
});

describe("stopping", () => {
  const wide = (n: number): Problem => {
    const random = seeded(n);
    const int = (below: number) => Math.floor(random() * below);
    return {
      ...randomProblem(seeded(1), { most: 3, heated: 0, steps: false }),
      operations: Array.from({ length: n }, (_, i) => ({
        ...{ id: `o${i}`, kind: "release" as const, ms: 1000 * (1 + int(20)), tools: [int(3)], side: int(2) },
        needs: i === 0 ? [] : [[0, 1].map(() => [[Math.max(0, i - 1 - int(Math.min(i, 30)))]])],
        ...{ zone: -1, passes: false, clean: false, tray: false, risk: 0, bundle: [] },
      })),
      zones: [],
      tools: ["a", "b", "c"],
      fetch: 4000,
      turn: 5000,
      targets: Array.from({ length: n }, (_, i) => i),
    };
  };

  it("answers with an order and a bound when the time is over at once", () => {
    let clock = 0;
    const answer = solve(wide(400), seconds, { now: () => (clock += 1), deadline: 5 });
    expect(answer).toMatchObject({ kind: "solved", proved: false, stopped: "time" });
    if (answer.kind !== "solved") return;
    expect(answer.lowerBound).toBeLessThanOrEqual(answer.ms);
    expect(replay(wide(400), seconds, answer.moves).kind).toBe("replayed");
  });

  it("stops when cancelled and tells how far it came", () => {
    let asked = 0;
    const told: (number | null)[] = [];
    let clock = 0;
    const answer = solve(wide(300), seconds, {
      now: () => (clock += 60),
      cancelled: () => (asked += 1) > 40,
      progress: (best) => told.push(best),
    });
    expect(answer).toMatchObject({ kind: "solved", proved: false, stopped: "cancelled" });
    expect(asked).toBeLessThan(60);
    expect(told.length).toBeGreaterThan(0);
  });
});
