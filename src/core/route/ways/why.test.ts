import { describe, expect, it } from "vitest";
import { requireRecord } from "../../record/index.ts";
import { expectationOf } from "./expect.ts";
import { findWayIn } from "./index.ts";
import type { WayIn } from "./types.ts";
import { whyOf } from "./why.ts";

const control = { now: () => 0 };

/** A board under a lid: screws, then a clip that may snap and is pried, which may tear and is cut. */
const box = requireRecord({
  format: "unseam/1",
  id: "00000000-0000-4000-8000-0000000000c1",
  device: { name: "board under a lid", kind: "other", foldable: false },
  parts: [
    { id: "frame", name: "Frame", base: true },
    { id: "lid", name: "Lid" },
    { id: "board", name: "Board", under: [["lid"]] },
  ],
  joints: [
    {
      id: "lid-screws",
      kind: "screw",
      holds: ["lid", "frame"],
      count: 2,
      releases: [{ action: "unscrew", tools: ["driver"], leaves: "whole" }],
    },
    {
      id: "clip",
      kind: "clip",
      holds: ["board", "frame"],
      reach: [["lid"]],
      releases: [
        { action: "pry", tools: ["pick"], seconds: 3, leaves: "whole", fails: { chance: 0.2, then: 1, seconds: 10 } },
        { action: "pry", tools: ["pick"], seconds: 8, leaves: "spent", fails: { chance: 0.5, then: 2, seconds: 20 } },
        { action: "cut", tools: ["pick"], seconds: 30, leaves: "spent" },
      ],
    },
  ],
  tools: [
    { id: "driver", name: "driver", kind: "basic" },
    { id: "pick", name: "pick", kind: "basic" },
  ],
  instruments: [],
  log: [],
  readings: [],
  claims: [],
  media: [],
});
const question = { to: ["board"], least: "seconds" } as const;
const way = findWayIn(box, question, control) as WayIn;
const place = (id: string) => way.operations.findIndex(({ joint, part }) => joint === id || part === id);

describe("why an operation is there", () => {
  it("goes from need to need to the target", () => {
    const why = whyOf(box, question, way, place("lid-screws"), control);
    expect(why.chain).toEqual([place("lid-screws"), place("lid"), place("clip"), place("board")]);
    expect(why.needed).toBe(true);
    // Two screws with their setting aside and the driver: 2 x (8.0 + 1.4) + 4.2.
    expect(way.seconds - (why.without?.seconds ?? 0)).toBeCloseTo(23, 6);
  });

  it("says nothing would be saved for the target itself", () => {
    expect(whyOf(box, question, way, place("board"), control)).toEqual({
      chain: [place("board")],
      needed: true,
      without: null,
    });
  });
});

describe("a way in with its branches", () => {
  it("has the mean and the spread of what failures add, one failure after the other", () => {
    // By hand: + 10 s with 0.2 x 0.5, + 30 s with 0.2 x 0.5; mean 4, second moment 0.1 x 100 + 0.1 x 900 = 100.
    expect(expectationOf(box, way)).toEqual({
      smooth: way.seconds,
      mean: Math.round((way.seconds + 4) * 1000) / 1000,
      spread: Math.round(Math.sqrt(100 - 16) * 1000) / 1000,
      worst: Math.round((way.seconds + 30) * 1000) / 1000,
      chanceSmooth: 0.8,
    });
  });

  it("is nothing where nothing may fail", () => {
    const lid = findWayIn(box, { to: ["lid"], least: "seconds" }, control) as WayIn;
    expect(expectationOf(box, lid)).toBeNull();
  });
});
