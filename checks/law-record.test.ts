/**
 * The law from a record: steps of 2023/1669 Annex I (20) and Annex IV point 5 counted over ways in, described procedures
 * and logs; the worked counts of W1 (back cover 3, battery 6) from a small record.
 */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { assessRecord, countSteps, lawOperations, type RecordAssessment } from "../src/core/law/index.ts";
import { checkRecord, type TeardownRecord } from "../src/core/record/index.ts";
import { DEFAULT_READINGS, type StepReadings } from "../src/core/route/problem.ts";
import { findWayIn } from "../src/core/route/ways/index.ts";
import { paperPhone, planner, randomRecord, record, TOOLS } from "./law-helpers.ts";

const READINGS = Object.keys(DEFAULT_READINGS) as (keyof StepReadings)[];
const other = (...ids: (keyof StepReadings)[]): StepReadings => ({
  ...DEFAULT_READINGS,
  ...Object.fromEntries(ids.map((id) => [id, true])),
});
const assess = (record: TeardownRecord, more: object = {}): RecordAssessment =>
  assessRecord(record, { ...planner, ...more });

describe("W1 on a small record", () => {
  const phone = paperPhone();

  test("the record is valid", () => {
    expect(checkRecord(phone).faults).toEqual([]);
  });

  test("least: back cover 3 steps, battery 6", () => {
    const { answer } = assess(phone);
    expect(answer.basis).toBe("least");
    expect(answer.parts["back-cover"]).toMatchObject({ steps: 3, depth: 4, fastener: 3, tool: 1 });
    expect(answer.parts.battery).toMatchObject({ steps: 6, depth: 3, fastener: 3, tool: 4 });
    expect(answer.parts.display).toBeNull();
    expect(answer.warnings.some((text) => text.includes("display"))).toBe(true);
  });

  test("described, line by line", () => {
    const described = [
      {
        id: "d",
        by: "Invented",
        parts: [
          {
            part: "cell",
            steps: [
              { does: "Warm and open the rim.", operations: ["heat rim", "release rim", "lift cover"], tools: [] },
              { does: "Take the bracket off.", operations: ["release bolts/0", "lift bracket"], tools: ["ph000"] },
              { does: "Free the battery.", operations: ["release plug", "release strips", "lift cell"], tools: [] },
            ],
          },
          {
            part: "cover",
            steps: [{ does: "Open the rim.", operations: ["heat rim", "release rim", "lift cover"], tools: [] }],
          },
        ],
      },
    ];
    const { answer } = assess({ ...phone, described });
    expect(answer.basis).toBe("described");
    expect(answer.parts["back-cover"]).toMatchObject({ steps: 3 });
    expect(answer.parts.battery).toMatchObject({ steps: 6, fastener: 3, tool: 4 });
  });

  test("a described line that cannot be done as it stands is named, and its part cannot be told", () => {
    const part = (operations: string[]) => [
      { id: "d", by: "I", parts: [{ part: "cover", steps: [{ does: "x", operations, tools: [] }] }] },
    ];
    const cases: [string[], RegExp][] = [
      [["release rim", "lift cover"], /heat/],
      [["heat rim", "lift cover"], /rim/],
      [["heat rim", "release plug", "release rim", "lift cover"], /Battery bracket/],
      [["heat rim", "release rim"], /never lifts/],
      [["heat rim", "release rim", "release rim", "lift cover"], /already/],
    ];
    for (const [operations, text] of cases) {
      const { answer } = assess({ ...phone, described: part(operations) });
      expect(answer.parts["back-cover"], operations.join()).toMatchObject({ steps: null, depth: null });
      expect(answer.warnings.join("\n")).toMatch(text);
      expect(answer.unknown.length).toBeGreaterThan(0);
      expect(Number(answer.range?.low.index)).toBeLessThan(Number(answer.range?.high.index));
      expect(answer.index).toBe(answer.range?.low.index);
    }
  });

  test("a described line that names no operation is refused with its place", () => {
    const described = [
      { id: "d", by: "I", parts: [{ part: "cover", steps: [{ does: "Jiggle it.", operations: [], tools: [] }] }] },
    ];
    expect(() => assess({ ...phone, described })).toThrow(/described\[0\]\.parts\[0\]\.steps\[0\]\.operations/);
  });

  test("done, from the log; what was done for other targets does not count", () => {
    const log = [
      { id: "e1", action: "heat" as const, parts: ["cover"], tool: "plate" },
      { id: "e2", action: "slice" as const, joints: ["rim"], tool: "pick" },
      { id: "e3", action: "lift" as const, parts: ["cover"] },
      { id: "e4", action: "unscrew" as const, joints: ["bolts"], tool: "ph000" },
      { id: "e5", action: "lift" as const, parts: ["bracket"] },
      { id: "e6", action: "unplug" as const, joints: ["plug"], tool: "spudger" },
      { id: "e7", action: "pull" as const, joints: ["strips"], tool: "tweezers" },
      { id: "e8", action: "lift" as const, parts: ["cell"] },
    ];
    const done = assess({ ...phone, log }, { basis: "done" }).answer;
    expect(done.parts["back-cover"]).toMatchObject({ steps: 3, fastener: 3, tool: 1 });
    expect(done.parts.battery).toMatchObject({ steps: 6, fastener: 3, tool: 4 });
    // Heating and slicing in two rounds is the same step twice (I10); a camera taken out on the way is not needed (I8).
    const parts = [...phone.parts, { id: "cam", name: "Camera", role: "rear-camera" as const, under: [["cover"]] }];
    const rounds = [
      log[0],
      log[1],
      { id: "e1b", action: "heat" as const, parts: ["cover"], tool: "plate" },
      { id: "e2b", action: "slice" as const, joints: ["rim"], tool: "pick" },
      log[2],
      { id: "e3b", action: "lift" as const, parts: ["cam"] },
      ...log.slice(3),
    ].map((entry) => ({ ...(entry as (typeof log)[number]) }));
    const more = assess({ ...phone, parts, log: rounds }, { basis: "done" }).answer;
    expect(more.parts["back-cover"]).toMatchObject({ steps: 3 });
    expect(more.parts.battery).toMatchObject({ steps: 6 });
    expect(more.parts["rear-camera"]).toMatchObject({ steps: 4, fastener: 5, tool: 5 });
    expect(more.warnings.join("\n")).toMatch(/no fastener is met after cover is off/);
    const each = assess({ ...phone, parts, log: rounds }, { basis: "done", readings: other("I10") }).answer;
    // The other reading: the second heating is a step; handle and pick are still in hand.
    expect(each.parts["back-cover"]).toMatchObject({ steps: 4 });
  });

  test("remote steps: five each, part by part", () => {
    const parts = phone.parts.map((part) =>
      part.id === "cell" ? { ...part, pairing: { notification: true, authorisation: true } } : part,
    );
    const { answer } = assess({ ...phone, parts });
    expect(answer.parts.battery).toMatchObject({ steps: 16, remoteSteps: 10, depth: 1 });
    expect(answer.parts["back-cover"]).toMatchObject({ steps: 3, remoteSteps: 0 });
  });
});

describe("readings, one by one, on the way to W1's battery", () => {
  const phone = paperPhone();
  const way = findWayIn(phone, { to: ["cell"], least: "steps" }, planner.control);
  if (!("operations" in way)) throw new Error("the battery cannot be reached");
  const operations = lawOperations(phone, way.operations);
  const steps = (...ids: (keyof StepReadings)[]): number => countSteps(phone, operations, other(...ids)).steps;
  // heat | handle+pick: rim | cover off | driver: screws | bracket off | spudger: plug | tweezers: strips | battery off
  const byHand: [string, number, (keyof StepReadings)[]][] = [
    ["defaults", 6, []],
    ["I1: four joints undone, each a step that closes the work; no change of tool is left over", 9, ["I1"]],
    ["I2: the first tools are no change of tool, the second at the same time is a step all the same", 6, ["I2"]],
    ["I3: every change of tool: handle and pick, driver, spudger besides the one counted", 9, ["I3"]],
    ["I6: the device lies on the plate, back down: the front is up; no turn back is forced", 7, ["I6"]],
  ];
  for (const [name, expected, ids] of byHand) test(name, () => expect(steps(...ids)).toBe(expected));
});

describe("the count agrees with the planner's own", () => {
  const folder = new URL("./data/records/", import.meta.url);
  const files = readdirSync(folder).filter((name) => name !== "expected.json" && name.endsWith(".json"));

  const agree = (record: TeardownRecord, readings: StepReadings, what: string): number => {
    let compared = 0;
    for (const part of record.parts) {
      if (part.base) continue;
      for (const least of readings === DEFAULT_READINGS ? (["seconds", "steps"] as const) : (["steps"] as const)) {
        const way = findWayIn(record, { to: [part.id], least, readings }, planner.control);
        if (!("operations" in way)) continue;
        const count = countSteps(record, lawOperations(record, way.operations), readings);
        expect(count.steps, `${what} ${part.id} ${least}`).toBe(way.steps - way.remoteSteps);
        expect(count.list).toHaveLength(count.steps);
        const perOperation = way.operations.map((_, i) => count.list.filter((step) => step.operation === i).length);
        expect(perOperation, `${what} ${part.id} ${least}`).toEqual(way.operations.map((operation) => operation.steps));
        compared += 1;
      }
    }
    return compared;
  };

  test("on the planner's own cases, under the defaults and under each other reading", () => {
    let compared = 0;
    for (const [index, file] of files.entries()) {
      const record = JSON.parse(readFileSync(new URL(file, folder), "utf8")) as TeardownRecord;
      // Every reading on a quarter of the cases: each case sees two or three.
      const some = READINGS.filter((_, at) => (at + index) % 4 === 0).map((id) => other(id));
      for (const readings of [DEFAULT_READINGS, ...some]) compared += agree(record, readings, file);
    }
    expect(compared).toBeGreaterThan(400);
  });

  test("on small devices drawn from a seed, under pairs of readings", () => {
    let compared = 0;
    for (let seed = 1; seed <= 60; seed += 1) {
      const record = randomRecord(seed, { parts: 5, heat: true });
      expect(checkRecord(record).faults).toEqual([]);
      const readings = other(READINGS[seed % READINGS.length], READINGS[(seed * 7) % READINGS.length]);
      compared += agree(record, seed % 3 === 0 ? DEFAULT_READINGS : readings, `seed ${seed}`);
    }
    expect(compared).toBeGreaterThan(200);
  });
});

describe("an equally short way in with other points", () => {
  const base = { id: "frame", name: "Frame", base: true as const };
  const cell = { id: "cell", name: "Battery", role: "battery" as const };
  const release = (tool: string, seconds: number) => ({
    action: "pry" as const,
    tools: [tool],
    seconds,
    leaves: "whole" as const,
  });

  test("by another release", () => {
    const joints = [
      {
        id: "j",
        kind: "clip" as const,
        holds: ["cell", "frame"],
        releases: [release("pick", 5), release("handle", 9)],
      },
    ];
    const { answer } = assess(record({ parts: [base, cell], joints, tools: TOOLS }));
    expect(answer.parts.battery).toMatchObject({ steps: 1, tool: 4 });
    expect(answer.warnings.join("\n")).toMatch(
      /battery \(cell\): another way in with as few steps has other points \(fasteners 5, tools 1\)/,
    );
  });

  test("by another order: before or after another priority part", () => {
    const parts = [base, { ...cell, under: [["cover"]] }, { id: "cover", name: "Cover", role: "back-cover" as const }];
    const joints = [
      { id: "c", kind: "clip" as const, holds: ["cover", "frame"], releases: [release("handle", 5)] },
      { id: "j", kind: "clip" as const, holds: ["cell", "frame"], releases: [release("handle", 5)] },
    ];
    const { answer } = assess(record({ parts, joints, tools: TOOLS }));
    expect(answer.warnings.join("\n")).toMatch(/battery \(cell\): another way in with as few steps/);
  });

  test("nothing is said where there is none", () => {
    const joints = [
      {
        id: "j",
        kind: "clip" as const,
        holds: ["cell", "frame"],
        releases: [release("pick", 5), release("handle", 9)],
      },
    ];
    const tools = TOOLS.map((tool) => ({ ...tool, kind: "basic" as const }));
    expect(assess(record({ parts: [base, cell], joints, tools })).answer.warnings.join("\n")).not.toMatch(
      /another way in/,
    );
  });
});

describe("fasteners and tools of a part (Annex IV point 5)", () => {
  const frame = { id: "frame", name: "Frame", base: true as const };
  const undo = (tool: string, leaves: "whole" | "spent" | "broken" | "unknown" = "whole") => ({
    action: "pry" as const,
    tools: tool === "" ? [] : [tool],
    seconds: 5,
    leaves,
  });
  const one = (part: object, release: object, more: object = {}) =>
    assess(
      record({
        parts: [frame, { id: "x", name: "X", role: "battery", ...part }],
        joints: [
          { id: "j", kind: "tape", holds: ["x", "frame"], releases: [release as ReturnType<typeof undo>], ...more },
        ],
        tools: TOOLS,
      }),
    ).answer;

  const kinds: [string, object, ReturnType<typeof undo>, number | null, [string, string] | undefined][] = [
    ["whole is reusable", {}, undo(""), 5, undefined],
    ["spent and brought is resupplied", { spare: { brings: ["j"] } }, undo("", "spent"), 3, undefined],
    [
      "spent, and what the spare brings is stated without it: removable",
      { spare: { brings: [] } },
      undo("", "spent"),
      1,
      undefined,
    ],
    ["spent, nothing stated: either", {}, undo("", "spent"), 1, ["removable", "resupplied"]],
    ["unknown: any of the three", {}, undo("", "unknown"), 1, ["removable", "reusable"]],
  ];
  for (const [name, part, release, points, between] of kinds) {
    test(name, () => {
      const answer = one(part, release);
      expect(answer.parts.battery?.fastener).toBe(points);
      expect(answer.unknown.some((unknown) => unknown.scores.includes("SF"))).toBe(between !== undefined);
    });
  }

  test("broken: no way in without damage, so no index, and why is told", () => {
    const answer = one({}, undo("", "broken"));
    expect(answer).toMatchObject({ index: null, unrounded: null, class: null });
    expect(answer.parts.battery).toMatchObject({ steps: null, fastener: null });
    expect(answer.why).toMatch(/without damage/);
  });

  test("a tool that comes with the spare part counts as such; a basic one stays basic", () => {
    expect(one({ spare: { brings: ["handle"] } }, undo("handle")).parts.battery?.tool).toBe(3);
    expect(one({ spare: { brings: ["pick"] } }, undo("pick")).parts.battery?.tool).toBe(4);
    expect(one({}, undo("")).parts.battery?.tool).toBe(5);
  });

  test("a source of heat counts as a tool; one that is not named is taken as commercially available", () => {
    const heated = (by?: string) => ({
      ...undo(""),
      heat: { zone: "z", bond: 60, seconds: 60, ...(by === undefined ? {} : { by }) },
    });
    expect(one({}, heated("plate")).parts.battery).toMatchObject({ tool: 1, steps: 2 });
    const unnamed = one({}, heated());
    expect(unnamed.parts.battery?.tool).toBe(1);
    expect(unnamed.warnings.join("\n")).toMatch(/taken as commercially available/);
  });

  test("a joint that lets go by itself is a fastener of the segment; without any 5 points and a warning", () => {
    const loose = one({}, undo(""), { releases: [] });
    expect(loose.parts.battery).toMatchObject({ steps: 1, fastener: 5 });
    expect(loose.warnings.join("\n")).not.toMatch(/no fastener/);
    const none = assess(
      record({ parts: [frame, { id: "x", name: "X", role: "battery" }], joints: [], tools: [] }),
    ).answer;
    expect(none.parts.battery).toMatchObject({ steps: 1, fastener: 5, tool: 5 });
    expect(none.warnings.join("\n")).toMatch(/no fastener is met/);
  });

  test("several parts of a role: each score takes its own minimum; a part may serve a role", () => {
    const parts = [
      frame,
      { id: "a", name: "Earpiece", role: "speaker" as const, pairing: { notification: true } },
      { id: "b", name: "Port board", role: "charging-port" as const, serves: ["speaker" as const] },
    ];
    const joints = [
      { id: "ja", kind: "screw" as const, holds: ["a", "frame"], releases: [undo("pick")] },
      { id: "jb", kind: "tape" as const, holds: ["b", "frame"], releases: [undo("handle", "spent")] },
    ];
    const { answer } = assess(record({ parts, joints, tools: TOOLS }));
    expect(answer.parts.speaker).toMatchObject({ steps: 6, remoteSteps: 5, depth: 3, fastener: 1, tool: 1 });
    expect(answer.parts.speaker?.decidedBy).toMatchObject({
      depth: { instance: "a" },
      fastener: { instance: "b", joint: "jb" },
      tool: { instance: "b", tool: "handle" },
    });
    expect(answer.parts["charging-port"]).toMatchObject({ steps: 1, remoteSteps: 0, tool: 1 });
  });

  test("the segment begins after the last lift or shift of a part with another priority role", () => {
    const parts = [
      frame,
      { id: "cover", name: "Cover", role: "back-cover" as const },
      { id: "shield", name: "Shield", role: "shield" as const, under: [["cover"]] },
      { id: "cam", name: "Camera", role: "rear-camera" as const, under: [["shield"]] },
    ];
    const joints = [
      { id: "jc", kind: "tape" as const, holds: ["cover", "frame"], releases: [undo("handle", "spent")] },
      { id: "js", kind: "screw" as const, holds: ["shield", "frame"], reach: [["cover"]], releases: [undo("pick")] },
    ];
    const { answer } = assess(record({ parts, joints, tools: TOOLS }));
    // The cover's tape and suction handle lie before; the shield is no priority part, so its screw and pick count.
    expect(answer.parts["rear-camera"]).toMatchObject({ fastener: 5, tool: 4 });
    expect(answer.parts["back-cover"]).toMatchObject({ fastener: 1, tool: 1 });
  });
});

describe("facts of the product", () => {
  const bare = record({
    parts: [
      { id: "frame", name: "Frame", base: true },
      { id: "x", name: "X", role: "display" },
    ],
    joints: [],
    tools: [],
  });
  const scores = (over: Partial<TeardownRecord>) => assess({ ...bare, ...over }).answer;

  test("unknown: the lowest level that has points, and the range to the highest", () => {
    const battery = { id: "y", name: "Y", role: "battery" as const };
    const answer = scores({ parts: [...bare.parts, battery] });
    expect(answer.scores).toMatchObject({ SSP: 1, SSU: 1, SRI: 1 });
    expect(answer.range?.high.index).toBe("5.00");
    expect(answer.unknown.map((one) => one.path)).toEqual(
      expect.arrayContaining([
        "parts[1].spare.to",
        "parts[2].spare.to",
        "market.updateYears",
        "market.repairInformation",
      ]),
    );
  });

  test("years from the dates: full years only", () => {
    const years = (endOfMarket: string, securityUpdatesUntil: string) =>
      scores({ market: { endOfMarket, securityUpdatesUntil } }).scores.SSU;
    expect(years("2026-03-01", "2033-03-01")).toBe(5);
    expect(years("2026-03-01", "2033-02-28")).toBe(3);
    expect(years("2026", "2031-01-01")).toBe(1);
    expect(years("2026-03-01", "2031-02-28")).toBeNull();
  });

  test("nobody is given information, or end users no display: no index, and why", () => {
    expect(scores({ market: { updateYears: 6, repairInformation: "none" } })).toMatchObject({
      index: null,
      why: expect.stringContaining("information"),
    });
    const parts = [
      bare.parts[0],
      { id: "x", name: "X", role: "display" as const, spare: { to: "professionals" as const } },
    ] as TeardownRecord["parts"];
    expect(scores({ parts })).toMatchObject({ index: null, why: expect.stringContaining("spare parts") });
  });

  test("spare parts: the highest level fully met, absent parts met", () => {
    const roles = ["display", "battery", "back-cover", "front-camera", "rear-camera", "speaker"] as const;
    const offered = (endUsers: number) =>
      scores({
        parts: [
          bare.parts[0] as TeardownRecord["parts"][number],
          ...roles.map((role, index) => ({
            id: role,
            name: role,
            role,
            spare: { to: index < endUsers ? ("end-users" as const) : ("professionals" as const) },
          })),
        ],
      }).scores.SSP;
    expect([1, 2, 3, 4, 5, 6].map(offered)).toEqual([1, 2, 3, 3, 4, 5]);
  });
});
