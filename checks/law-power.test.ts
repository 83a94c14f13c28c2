/**
 * Which count says what about isolating the cell. By hand, on this stack:
 *
 *     cover     four clips                                            off
 *     flex      plug, live                                            waits for the cell's own plug, if it can
 *     bracket   screws, over the cell's plug, undone with a conductive driver on a live part
 *     cell      plug (the power joint), under the bracket
 *
 * The bracket's screws are live work too, but every way to the cell's plug undoes them: they wait for nothing.
 */
import { describe, expect, test } from "vitest";
import { assessRecord } from "../src/core/law/index.ts";
import { checkRecord, type Entry, type TeardownRecord } from "../src/core/record/index.ts";
import { planner, record } from "./law-helpers.ts";

const phone: TeardownRecord = record({
  tools: [
    { id: "driver", name: "Driver", kind: "basic", conductive: true },
    { id: "spudger", name: "Spudger", kind: "basic" },
  ],
  parts: [
    { id: "frame", name: "Frame", role: "frame", base: true },
    { id: "cover", name: "Cover", role: "back-cover" },
    { id: "bracket", name: "Bracket", role: "bracket", under: [["cover"]] },
    { id: "board", name: "Board", role: "board", live: true, under: [["cover"]] },
    { id: "cell", name: "Cell", role: "battery", under: [["bracket"]] },
    { id: "camera", name: "Camera", role: "rear-camera", under: [["cover"]] },
  ],
  joints: [
    {
      id: "clips",
      kind: "clip",
      holds: ["cover", "frame"],
      releases: [{ action: "pry", tools: ["spudger"], leaves: "whole" }],
    },
    {
      id: "bolts",
      kind: "screw",
      count: 2,
      holds: ["bracket", "board"],
      reach: [["cover"]],
      releases: [{ action: "unscrew", tools: ["driver"], leaves: "whole" }],
    },
    {
      id: "cell-plug",
      kind: "connector",
      power: true,
      holds: ["cell", "board"],
      reach: [["bracket"]],
      releases: [{ action: "unplug", tools: ["spudger"], leaves: "whole" }],
    },
    {
      id: "camera-plug",
      kind: "connector",
      holds: ["camera", "board"],
      reach: [["cover"]],
      releases: [{ action: "unplug", tools: ["spudger"], leaves: "whole" }],
    },
  ],
});

const entry = (id: number, more: Partial<Entry> & Pick<Entry, "action">): Entry => ({
  id: `e${id}`,
  session: "s1",
  at: id,
  ...more,
});
const opened = [
  entry(1, { action: "pry", joints: ["clips"], tool: "spudger" }),
  entry(2, { action: "lift", parts: ["cover"] }),
];
const isolated = [
  entry(3, { action: "unscrew", joints: ["bolts"], tool: "driver" }),
  entry(4, { action: "lift", parts: ["bracket"] }),
  entry(5, { action: "unplug", joints: ["cell-plug"], tool: "spudger" }),
];
const camera = [
  entry(6, { action: "unplug", joints: ["camera-plug"], tool: "spudger" }),
  entry(7, { action: "lift", parts: ["camera"] }),
];

function doneSteps(log: readonly Entry[]): { steps: number | null | undefined; warnings: readonly string[] } {
  const made: TeardownRecord = {
    ...phone,
    sessions: [{ id: "s1", started: "2026-02-03", kind: "repair" }],
    log: [...log],
  };
  expect(checkRecord(made).faults).toEqual([]);
  const { answer } = assessRecord(made, { ...planner, basis: "done" });
  return { steps: answer.parts["rear-camera"]?.steps, warnings: answer.warnings };
}

describe("the rule of power", () => {
  test("isolating the cell is part of the way to a part whose plug is live", () => {
    // Spudger, cover off: 1. Driver, bracket off: 2. Spudger again, both plugs, camera off: 3. No work is open when a tool is
    // changed (I3). Without isolating it would be two: cover, camera.
    const least = assessRecord(phone, { ...planner, basis: "least" }).answer.parts["rear-camera"]?.steps;
    const { steps, warnings } = doneSteps([...opened, ...isolated, ...camera]);
    expect(steps).toBe(3);
    expect(least).toBe(3);
    expect(warnings.filter((text) => text.includes("fewer than"))).toEqual([]);
  });

  test("a log that undoes the live plug first is said to", () => {
    const { warnings } = doneSteps([...opened, ...camera]);
    expect(warnings.join("\n")).toContain(
      "nothing is said of cell-plug before release camera-plug, which is live work",
    );
  });

  test("a description may undo what lies on every way to the cell's plug, and is warned of other live work", () => {
    const described = (operations: readonly string[]): readonly string[] => {
      const made: TeardownRecord = {
        ...phone,
        described: [
          {
            id: "d1",
            by: "maker",
            parts: [{ part: "camera", steps: operations.map((one) => ({ does: one, operations: [one], tools: [] })) }],
          },
        ],
      };
      return assessRecord(made, { ...planner, basis: "described" }).answer.warnings;
    };
    const open = ["release clips", "lift cover"];
    const rest = ["release camera-plug", "lift camera"];
    const safe = described([...open, "release bolts", "lift bracket", "release cell-plug", ...rest]);
    expect(safe.filter((text) => text.includes("isolated"))).toEqual([]);
    const live = described([...open, ...rest]);
    expect(live.filter((text) => text.includes("camera-plug before the cell is isolated"))).toHaveLength(1);
  });
});
