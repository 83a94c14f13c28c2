/**
 * The zoo: small structures shared by the tests of structure and route.
 *
 *   two screws and a lid        tilt: a board that is shifted with its cables on       an assembly that comes out whole
 *     lid                         y under [board]                                        cover( cam )
 *     ||  two screws              board --cable-- frame, screws                          cam under [shield] (within cover)
 *    frame
 */
import { describe, expect, it } from "vitest";
import { requireRecord, type TeardownRecord } from "../record/index.ts";
import { Bench } from "./bench.ts";
import { compile } from "./compile.ts";
import { examineRecord } from "./examine.ts";
import { harmOf, moneyOf, requireOneCurrency } from "./harm.ts";
import { reachable } from "./reach.ts";
import { viewOf } from "./view.ts";

function record(parts: object[], joints: object[], more: object = {}): TeardownRecord {
  return requireRecord({
    format: "unseam/1",
    id: "00000000-0000-4000-8000-000000000001",
    device: { name: "zoo", kind: "other", foldable: false },
    parts: [{ id: "frame", name: "Frame", base: true }, ...parts],
    joints,
    tools: [
      { id: "driver", name: "driver", kind: "basic" },
      { id: "pick", name: "pick", kind: "basic" },
    ],
    instruments: [],
    log: [],
    readings: [],
    claims: [],
    media: [],
    ...more,
  });
}
const screw = (id: string, holds: string[], more: object = {}): object => ({
  id,
  kind: "screw",
  holds,
  releases: [{ action: "unscrew", tools: ["driver"], leaves: "whole" }],
  ...more,
});

describe("what can be reached", () => {
  it("gets a lid off its screws", () => {
    const zoo = record([{ id: "lid", name: "Lid" }], [screw("s", ["lid", "frame"], { count: 2 })]);
    expect([...reachable(viewOf(zoo, {})).lifted]).toEqual(["lid"]);
  });

  it("takes a part inside an assembly as away for what is outside once the assembly is off", () => {
    const zoo = record(
      [
        { id: "cover", name: "Cover" },
        { id: "cam", name: "Camera", within: "cover" },
        { id: "cell", name: "Cell", under: [["cam"]] },
      ],
      [screw("c", ["cam", "cover"], { releases: [] }), screw("s", ["cover", "frame"])],
    );
    expect([...reachable(viewOf(zoo, {})).lifted].sort()).toEqual(["cam", "cell", "cover"]);
    expect(
      new Bench(viewOf(zoo, {}), true).apply(new Bench(viewOf(zoo, {}), true).start(), { kind: "lift", part: "cell" }),
    ).toEqual({
      ok: false,
      because: "cell lies under something",
    });
  });

  it("warns of a circle that locks parts in, and names it", () => {
    const zoo = record(
      [
        { id: "a", name: "Plate A", under: [["b"]] },
        { id: "b", name: "Plate B", under: [["a"]] },
      ],
      [],
    );
    const check = examineRecord(zoo);
    expect(check.ok).toBe(true);
    expect(check.warnings.map((warning) => warning.text)).toEqual([
      "Plate A cannot be got out: it lies under Plate B",
      "Plate B cannot be got out: it lies under Plate A",
    ]);
  });

  it("does not use a release that does damage, or a hazard that was not accepted", () => {
    const zoo = record(
      [{ id: "lid", name: "Lid" }],
      [
        screw("s", ["lid", "frame"], {
          releases: [{ action: "cut", tools: [], leaves: "broken", hazard: ["puncture"] }],
        }),
      ],
    );
    expect(reachable(viewOf(zoo, {})).lifted.size).toBe(0);
    expect(reachable(viewOf(zoo, { damage: true })).lifted.size).toBe(0);
    expect(reachable(viewOf(zoo, { damage: true, accept: ["puncture"] })).lifted.size).toBe(1);
  });

  it("reads doubted relations both ways", () => {
    const zoo = record(
      [
        { id: "a", name: "A", under: [["b"]], basis: "inferred" },
        { id: "b", name: "B" },
      ],
      [screw("s", ["b", "frame"], { releases: [{ action: "cut", tools: [], leaves: "broken" }] })],
    );
    expect(reachable(viewOf(zoo, {})).lifted.has("a")).toBe(false);
    expect(reachable(viewOf(zoo, { doubt: "none" })).lifted.has("a")).toBe(true);
    expect(reachable(viewOf(zoo, { doubt: ["a"] })).lifted.has("a")).toBe(false);
  });
});

describe("compiling", () => {
  it("turns a source on which the device lies into the side that must be up", () => {
    const zoo = record(
      [{ id: "glass", name: "Glass" }],
      [
        {
          id: "rim",
          kind: "adhesive",
          holds: ["glass", "frame"],
          releases: [
            {
              action: "slice",
              tools: ["pick"],
              leaves: "spent",
              seconds: 30,
              heat: { zone: "z", bond: 65, by: "driver", down: "back", seconds: 60, soft: 40 },
            },
          ],
        },
      ],
    );
    const { problem } = compile(zoo, {}, ["glass"], true);
    expect(problem.zones).toEqual([
      { id: "z", ms: 60_000, soft: 40_000, tools: [], side: problem.sides.indexOf("front") },
    ]);
  });

  it("leaves a part's own lift out of what clears its way", () => {
    const zoo = record(
      [
        { id: "deck", name: "Deck", under: [["lid"]] },
        { id: "lid", name: "Lid", within: "deck" },
        { id: "side", name: "Side", under: [["lid"]] },
      ],
      [],
    );
    const { problem, meanings } = compile(zoo, {}, ["side"], true);
    const lift = (id: string): number => meanings.findIndex((one) => one.kind === "lift" && one.part.id === id);
    expect(problem.operations[lift("deck")].needs).toEqual([]);
    expect(problem.operations[lift("side")].needs).toEqual([[[[lift("deck"), lift("lid")].sort((a, b) => a - b)]]]);
  });
});

describe("expected damage", () => {
  it("adds up exactly, and refuses two currencies", () => {
    const parts = [
      { id: "glass", name: "Glass", spare: { price: { amount: "0.10", currency: "EUR" } } },
      { id: "cell", name: "Cell", spare: { price: { amount: "0.20", currency: "EUR" } } },
    ];
    const joint = screw("s", ["glass", "frame"], {
      releases: [
        {
          action: "pry",
          tools: [],
          leaves: "whole",
          harm: [
            { part: "glass", chance: 1 },
            { part: "cell", chance: 1 },
          ],
        },
      ],
    });
    const zoo = record(parts, [joint]);
    expect(moneyOf(harmOf(viewOf(zoo, {})).of(zoo.joints[0].releases[0]), "EUR")).toEqual({
      amount: "0.30",
      currency: "EUR",
    });
    const mixed = [parts[0], { ...parts[1], spare: { price: { amount: "1", currency: "USD" } } }];
    expect(() => requireOneCurrency(harmOf(viewOf(record(mixed, [joint]), {})))).toThrow(/EUR and USD/);
  });

  it("writes money with two digits, or more where they are needed", () => {
    expect([2_100_000, 12_500_000, 627_500, 1].map((amount) => moneyOf(amount, "EUR").amount)).toEqual([
      "2.10",
      "12.50",
      "0.6275",
      "0.000001",
    ]);
  });
});
