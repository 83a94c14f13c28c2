/** Errors that were made on the way, or that are easily made: each a small problem with its answer worked out by hand. */
import { describe, expect, it } from "vitest";
import { oracle } from "./oracle.ts";
import { DEFAULT_READINGS, type Move, type Objective, type Operation, type Problem } from "./problem.ts";
import { replay } from "./replay.ts";
import { solve } from "./solve.ts";

const seconds: Objective = { least: "seconds", readings: DEFAULT_READINGS };
const steps: Objective = { least: "steps", readings: DEFAULT_READINGS };

/** Tools: 0 driver, 1 pick, 2 gun. Sides: 0 back, 1 front. */
function op(change: Partial<Operation>): Operation {
  const rest = { zone: -1, passes: false, clean: false, tray: false, risk: 0, bundle: [], needs: [] };
  return { id: "x", kind: "release", ms: 10_000, tools: [0], side: 0, ...rest, ...change };
}

function problem(operations: readonly Operation[], targets: readonly number[], change: Partial<Problem> = {}): Problem {
  return {
    operations: operations.map((o, i) => ({ ...o, id: `o${i}` })),
    ...{ zones: [], tools: ["driver", "pick", "gun"], sides: ["back", "front"], fetch: 4000, turn: 5000 },
    ...{ start: { tools: [], side: 0 }, targets },
    ...change,
  };
}

/** Cost in the unit of `least`, after the oracle and the validator have agreed to it. */
function least(one: Problem, objective = seconds): number | null {
  const answer = solve(one, objective, { now: () => 0 });
  const truth = oracle(one, objective);
  if (answer.kind !== "solved") {
    expect(truth).toBeNull();
    return null;
  }
  const cost = { seconds: answer.ms, steps: answer.steps, risk: answer.risk }[objective.least];
  expect(cost).toBe(truth?.cost);
  expect(replay(one, objective, answer.moves).kind).toBe("replayed");
  return cost;
}

describe("alternatives", () => {
  it("an alternative taken in addition can spare set-ups: the bound of a set does not hold for larger ones", () => {
    // 2 (pick) needs 0 or 1; 3 (driver) needs 0 and 2. With 1 (pick) as well: pick, pick, driver, driver.
    const one = problem(
      [
        op({ ms: 1000, tools: [0] }),
        op({ ms: 1000, tools: [1] }),
        op({ ms: 1000, tools: [1], needs: [[[[0]], [[1]]]] }),
        op({ ms: 1000, tools: [0], needs: [[[[0], [2]]]] }),
      ],
      [3],
    );
    // 4 operations of 1 s and 2 fetches, against 3 operations and 3 fetches.
    expect(least(one)).toBe(12_000);
  });

  it("a group that asks for the operation itself is no way to it", () => {
    const one = problem([op({ ms: 9000 }), op({ ms: 1000, needs: [[[[1]], [[0]]]] })], [1]);
    expect(least(one)).toBe(14_000);
  });

  it("of an atom only the member that waits for the operation falls away, not the group", () => {
    // 0 needs (1 or 2); 1 needs (0 or 3).
    const one = problem(
      [op({ needs: [[[[1, 2]]]] }), op({ ms: 1000, needs: [[[[0, 3]]]] }), op({ ms: 90_000 }), op({ ms: 2000 })],
      [0],
    );
    expect(least(one)).toBe(4000 + 10_000 + 1000 + 2000);
  });

  it("a circle without a way out is no way, one with a way out is no fault", () => {
    const circle = [op({ needs: [[[[1]]]] }), op({ needs: [[[[0]]]] })];
    expect(least(problem(circle, [0]))).toBeNull();
    expect(least(problem([circle[0]!, op({ needs: [[[[0]], [[2]]]] }), op({})], [0]))).toBe(34_000);
  });
});

describe("heat", () => {
  const zone = { id: "z", ms: 60_000, soft: 20_000, tools: [], side: -1 };

  it("two operations of a chain with one bond in it are not one operation", () => {
    // The bond (16 s) fits its 20 s only without the 6 s that come before it with the same tool.
    const one = problem(
      [op({ ms: 6000, tools: [1] }), op({ ms: 16_000, tools: [1], zone: 0, needs: [[[[0]]]] })],
      [1],
      { zones: [zone] },
    );
    expect(least(one)).toBe(4000 + 6000 + 60_000 + 16_000);
  });

  it("the soft time may be used up exactly, not beyond", () => {
    const bond = (ms: number) => problem([op({ ms, tools: [1], zone: 0 })], [0], { zones: [zone] });
    expect(least(bond(16_000))).toBe(80_000);
    expect(least(bond(16_001))).toBeNull();
  });

  it("work that serves nothing is done where it has the tool in hand in time", () => {
    const one = problem([op({ ms: 18_000, tools: [1], zone: 0 }), op({ ms: 3000, tools: [1] })], [0], {
      zones: [zone],
    });
    expect(least(one)).toBe(4000 + 3000 + 60_000 + 18_000);
  });

  it("another zone's held source is taken up for the same end", () => {
    const held = { id: "y", ms: 30_000, soft: 5000, tools: [1], side: -1 };
    const one = problem([op({ ms: 18_000, tools: [1], zone: 0 })], [0], { zones: [zone, held] });
    expect(least(one)).toBe(4000 + 30_000 + 60_000 + 18_000);
  });

  it("a zone may be heated first so that its heating does not fall into another's window", () => {
    const first = { id: "a", ms: 3000, soft: 9000, tools: [], side: -1 };
    const second = { id: "b", ms: 8000, soft: null, tools: [], side: -1 };
    // Heat b, heat a, bond of b, bond of a: 8 + 3 + 2 + 4 s and the fetch, one heating of each.
    const one = problem(
      [
        op({ ms: 3000, tools: [0], zone: 0 }),
        op({ ms: 2000, tools: [0], zone: 1, needs: [[[[0]]]] }),
        op({ ms: 4000, zone: 0, needs: [[[[1]]]] }),
      ],
      [2],
      { zones: [{ ...first, soft: 13_000 }, second] },
    );
    expect(least(one)).toBe(8000 + 3000 + 4000 + 3000 + 2000 + 4000);
  });

  it("a bond that is warm for good can be what makes another one ready", () => {
    const good = { id: "y", ms: 11_000, soft: null, tools: [1], side: -1 };
    // Heat y, 1, 2 (driver), 0 (pick), heat z, 3 (pick): the pick is in hand in time only if 0 waits for it.
    const one = problem(
      [
        op({ ms: 1000, tools: [1], zone: 1 }),
        op({ ms: 2000, tools: [1], zone: 1 }),
        op({ ms: 1000, tools: [0], needs: [[[[1]]]] }),
        op({ ms: 18_000, tools: [1], zone: 0, needs: [[[[2]]]] }),
      ],
      [3],
      { zones: [zone, good] },
    );
    expect(least(one)).toBe(4000 + 11_000 + 2000 + 4000 + 1000 + 4000 + 1000 + 60_000 + 18_000);
  });

  it("heating again renews what was made ready even where no time has passed", () => {
    const held = { id: "z", ms: 11_000, soft: 4000, tools: [0], side: -1 };
    const one = problem(
      [op({ ms: 0, zone: 0, passes: true }), op({ ms: 2000, side: 1, zone: 0, passes: true, needs: [[[[0]]]] })],
      [1],
      { zones: [held], fetch: 3000, turn: 3000 },
    );
    expect(least(one)).toBe(3000 + 11_000 + 2 * 11_000 + 3000 + 2000);
  });

  it("an interrupted release: rounds from the set-up of its first round, cold afterwards", () => {
    const held = { ...zone, tools: [2] };
    const cut = op({ ms: 30_000, tools: [0, 1], zone: 0, passes: true });
    // o = 8 s; 8 + 30 / 3 <= 20: three rounds of 4 + 60 + 8 s.
    expect(least(problem([cut], [0], { zones: [held] }))).toBe(3 * 72_000 + 30_000);
    const again = op({ ms: 1000, tools: [1], zone: 0, needs: [[[[0]]]] });
    expect(least(problem([cut, again], [1], { zones: [held] }))).toBe(246_000 + 4000 + 60_000 + 4000 + 1000);
  });
});

describe("steps", () => {
  it("a tool taken up while the work is closed is worth work that serves nothing", () => {
    // Bare-hand work opens; then the driver would be a change. With 0 first it is in hand already.
    const one = problem(
      [
        op({ tools: [0] }),
        op({ tools: [] }),
        op({ tools: [0], needs: [[[[1]]]] }),
        op({ kind: "lift", tools: [], needs: [[[[2]]]] }),
      ],
      [3],
    );
    expect(least(one, steps)).toBe(1);
  });

  it("a heating closes the work and may come earlier than its bond for that", () => {
    const zones = [{ id: "z", ms: 5000, soft: null, tools: [], side: -1 }];
    const one = problem(
      [op({ tools: [0] }), op({ tools: [1], needs: [[[[0]]]] }), op({ tools: [1], zone: 0, needs: [[[[1]]]] })],
      [2],
      { zones },
    );
    expect(least(one, steps)).toBe(1);
  });

  it("where a turn closes the work, one that is due may be worth making early (I6)", () => {
    // Pick on the front; 1 has the device turned, which closes the work: the driver is no change then.
    const turns: Objective = { least: "steps", readings: { ...DEFAULT_READINGS, I6: true } };
    const one = problem(
      [
        op({ tools: [1], side: 1 }),
        op({ tools: [0], side: 0 }),
        op({ tools: [0], side: -1, needs: [[[[0]]]] }),
        op({ kind: "lift", tools: [], side: 0, needs: [[[[2]]]] }),
      ],
      [3],
      { start: { tools: [], side: 1 } },
    );
    expect(least(one, turns)).toBe(2);
    expect(least(one, steps)).toBe(2);
  });

  it("of the ways to undo one joint only one is taken, even where the other would make ready", () => {
    const zone = { id: "z", ms: 60_000, soft: 20_000, tools: [], side: -1 };
    const ways = (group: number | undefined) => {
      const way = { ...(group === undefined ? {} : { group }), ms: 1000 };
      return problem(
        [
          op({ ...way, tools: [0] }),
          op({ ...way, tools: [1], needs: [[[[2]]]] }),
          op({ ms: 1000, tools: [0], needs: [[[[0]]]] }),
          op({ ms: 18_000, tools: [1], zone: 0, needs: [[[[0, 1]]], [[[2]]]] }),
        ],
        [3],
        { zones: [zone] },
      );
    };
    expect(least(ways(undefined))).toBe(4000 + 1000 + 1000 + 4000 + 1000 + 60_000 + 18_000);
    expect(least(ways(7))).toBeNull();
  });
});

describe("the validator", () => {
  const one = problem([op({}), op({ zone: 0, needs: [[[[0]]]] })], [1], {
    zones: [{ id: "z", ms: 1000, soft: 9000, tools: [], side: -1 }],
  });
  const go = (...moves: Move[]) => replay(one, seconds, moves);
  const first: Move = { kind: "do", operation: 0 };
  const second: Move = { kind: "do", operation: 1 };
  const heat: Move = { kind: "heat", zone: 0 };

  it.each([
    ["before its needs", [second], 0],
    ["twice", [first, first], 1],
    ["cold", [first, second], 1],
    ["too late", [first, heat, second], 2],
    ["interrupted without leave", [first, { ...second, passes: 2 }], 1],
    ["not at all", [first], 1],
    ["unknown", [{ kind: "do", operation: 7 } as Move], 0],
  ] as const)("refuses an operation done %s", (_, moves, index) => {
    expect(go(...moves)).toMatchObject({ kind: "violation", index });
  });
});
