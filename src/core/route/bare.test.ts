import { describe, expect, it } from "vitest";
import type { InputFaults } from "../errors.ts";
import { BARE_OBJECTIVE, bareOrder, readBare } from "./bare.ts";
import { blockedTargets } from "./because.ts";
import { solve } from "./solve.ts";

const document = () => ({
  format: "unseam-problem/1",
  operations: [
    { id: "lid", seconds: 8, tools: ["driver"], side: "back", needs: [] },
    { id: "cut", seconds: 12.5, tools: ["pick"], needs: [["lid"]], heat: "rim" },
  ] as { [key: string]: unknown }[],
  setup: { fetch: 4.2, turn: 4.5 } as { [key: string]: unknown },
  start: { tools: [], side: "front" },
  targets: ["cut"],
  zones: { rim: { seconds: 60, soft: 20, by: "gun" } } as { [key: string]: unknown },
});

function faults(spoil: (one: ReturnType<typeof document>) => unknown) {
  const one = document();
  spoil(one);
  try {
    readBare(one);
  } catch (error) {
    return (error as InputFaults).faults.map(({ path, nearest }) => ({
      path,
      ...(nearest === undefined ? {} : { nearest }),
    }));
  }
  return [];
}

describe("a bare problem", () => {
  it("is read in whole milliseconds and solved by the bench's rules", () => {
    const problem = readBare(document());
    const answer = solve(problem, BARE_OBJECTIVE, { now: () => 0 });
    // Turn, driver, 8; gun, 60; pick, 12.5.
    expect(answer).toMatchObject({
      kind: "solved",
      ms: 4500 + 4200 + 8000 + 4200 + 60_000 + 4200 + 12_500,
      proved: true,
    });
    if (answer.kind === "solved") expect(bareOrder(problem, answer.moves)).toEqual(["lid", "heat:rim", "cut"]);
  });

  it.each<[string, (one: ReturnType<typeof document>) => unknown, { path: string; nearest?: string }[]]>([
    ["another format", (one) => (one.format = "unseam-problem/2"), [{ path: "format", nearest: "unseam-problem/1" }]],
    ["a misspelt key", (one) => (one.operations[0]!.secs = 1), [{ path: "operations[0].secs" }]],
    ["a key nearly right", (one) => (one.operations[0]!.need = []), [{ path: "operations[0].need", nearest: "needs" }]],
    ["a negative time", (one) => (one.operations[1]!.seconds = -1), [{ path: "operations[1].seconds" }]],
    ["a time that is no number", (one) => (one.setup.fetch = Number.NaN), [{ path: "setup.fetch" }]],
    ["an endless time", (one) => (one.zones.rim = { seconds: Infinity }), [{ path: "zones.rim.seconds" }]],
    ["an id twice", (one) => (one.operations[1]!.id = "lid"), [{ path: "operations[1].id" }, { path: "targets[0]" }]],
    [
      "an unknown need",
      (one) => (one.operations[1]!.needs = [["lit"]]),
      [{ path: "operations[1].needs[0][0]", nearest: "lid" }],
    ],
    ["an unknown zone", (one) => (one.operations[1]!.heat = "rin"), [{ path: "operations[1].heat", nearest: "rim" }]],
    ["an unknown target", (one) => (one.targets = ["cat"]), [{ path: "targets[0]", nearest: "cut" }]],
    ["no target", (one) => (one.targets = []), [{ path: "targets" }]],
    ["a tool twice", (one) => (one.operations[0]!.tools = ["a", "a"]), [{ path: "operations[0].tools[1]" }]],
    ["needs that are no lists", (one) => (one.operations[1]!.needs = ["lid"]), [{ path: "operations[1].needs[0]" }]],
    [
      "a name taken by a heating",
      (one) => (one.operations[0]!.id = "heat:rim"),
      [{ path: "operations[0].id" }, { path: "operations[1].needs[0][0]" }],
    ],
  ])("refuses %s", (_, spoil, expected) => {
    expect(faults(spoil)).toEqual(expected);
  });

  it("tells all faults at once", () => {
    const found = faults((one) => {
      one.setup = { fetch: "4", turn: -1, spin: 2 };
      one.operations[0] = { id: "" };
    });
    expect(found.map(({ path }) => path)).toEqual(
      expect.arrayContaining(["setup.spin", "setup.fetch", "setup.turn", "operations[0].id", "operations[0].seconds"]),
    );
    expect(() => readBare(null)).toThrow(/an object/);
    expect(() => readBare([])).toThrow(/a list of 0/);
  });
});

describe("why a target cannot be reached", () => {
  const because = (needs: { [id: string]: string[][] }, more: object = {}) => {
    const operations = Object.entries(needs).map(([id, one]) => ({ id, seconds: 1, needs: one, ...more }));
    const problem = readBare({ ...document(), operations, targets: [operations[0]!.id] });
    return blockedTargets(problem, BARE_OBJECTIVE, { now: () => 0 })[0]?.because;
  };

  it("names the circle", () => {
    expect(because({ x: [["a"]], a: [["b"]], b: [["a"]] })).toMatch(/circle of needs.*"a" -> "b" -> "a"/);
    expect(because({ x: [["x"]] })).toMatch(/"x" -> "x"/);
  });

  it("names the bond that never stays soft long enough", () => {
    expect(because({ x: [] }, { heat: "rim", seconds: 30 })).toMatch(/"x" takes up to 30 s.*soft for 20 s/);
  });

  it("says nothing where there is a way", () => {
    expect(because({ x: [["a"], ["b"]], a: [["x"]], b: [] })).toBeUndefined();
  });
});
