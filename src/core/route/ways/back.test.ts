import { describe, expect, it } from "vitest";
import { randomRecord } from "../../../../test/helpers/random-record.ts";
import { requireRecord, type TeardownRecord } from "../../record/index.ts";
import { findWayInAndBack, type WayInAndBack } from "./in-and-back.ts";
import type { Question } from "./types.ts";
import { validateWayBack } from "./validate-back.ts";

const control = { now: () => 0 };

/**
 * A cell under a lid: two screws, a plug of the cell under the lid, the lid's own lead plugged to the board, a bond under the cell.
 *
 *   lid ==lid-screws== frame, lid --lead-- board     cell --plug (power)-- board, reached past the lid      cell ~bond~ frame
 */
const phone = requireRecord({
  format: "unseam/1",
  id: "00000000-0000-4000-8000-0000000000b1",
  device: { name: "cell under a lid", kind: "other", foldable: false },
  parts: [
    { id: "frame", name: "Frame", base: true },
    { id: "lid", name: "Lid" },
    { id: "board", name: "Board", under: [["cell"]] },
    { id: "lead", name: "Lead", beneath: ["cell"] },
    { id: "cell", name: "Cell", under: [["lid"]] },
  ],
  joints: [
    {
      id: "lid-screws",
      kind: "screw",
      holds: ["lid", "frame"],
      count: 2,
      releases: [{ action: "unscrew", tools: ["drv"], leaves: "whole" }],
    },
    {
      id: "plug",
      kind: "connector",
      holds: ["cell", "board"],
      reach: [["lid"]],
      power: true,
      releases: [{ action: "unplug", tools: ["spudger"], leaves: "whole" }],
    },
    {
      id: "lead-plug",
      kind: "connector",
      holds: ["lead", "board"],
      reach: [["lid"]],
      releases: [{ action: "unplug", tools: ["spudger"], leaves: "whole" }],
    },
    {
      id: "bond",
      kind: "adhesive",
      holds: ["cell", "frame"],
      releases: [{ action: "pull", tools: [], leaves: "spent" }],
      remake: { clean: 20, lay: 30, press: 60, cure: 3600 },
    },
  ],
  tools: [
    { id: "drv", name: "driver", kind: "basic" },
    { id: "spudger", name: "spudger", kind: "basic" },
  ],
  instruments: [],
  log: [],
  readings: [],
  claims: [],
  media: [],
});
const question: Question = { to: ["board", "lead"], least: "seconds" };

function inAndBack(
  record: TeardownRecord,
  asked: Question,
): WayInAndBack & { back: NonNullable<WayInAndBack["back"]> } {
  const answer = findWayInAndBack(record, asked, control);
  if (!("operations" in answer) || answer.back === null) throw new Error("no way in or back");
  return { ...answer, back: answer.back };
}

describe("the way back", () => {
  const way = inAndBack(phone, question);
  const { back } = way;

  it("is proved, lays the lead before the cell and connects the cell last", () => {
    expect(back.proved).toBe(true);
    expect(validateWayBack(phone, question, way, back.operations)).toEqual([]);
    const order = back.operations.map(({ joint, part }) => joint ?? part);
    expect(order.indexOf("lead")).toBeLessThan(order.indexOf("cell"));
    expect(order.indexOf("lead-plug")).toBeLessThan(order.indexOf("plug"));
  });

  it("counts cleaning, laying and pressing, keeps the pressing apart, and lets curing run by itself", () => {
    // Board 3.8, lead 3.8, bond 20 + 30 + 60, cell 3.8, spudger 4.2 and two plugs 12.8, lid 3.8, driver 4.2 and two screws 18.8.
    expect(back.seconds).toBeCloseTo(3.8 + 3.8 + 110 + 3.8 + 4.2 + 12.8 + 3.8 + 4.2 + 18.8, 6);
    expect(back.handsOn).toBeCloseTo(back.seconds - 60, 6);
    expect(back.operations.find(({ joint }) => joint === "bond")).toMatchObject({ cure: 3600, renew: true, tools: [] });
  });

  it.each<[string, (operations: typeof back.operations) => typeof back.operations, RegExp]>([
    ["a connector left open", (all) => all.filter(({ joint }) => joint !== "lead-plug"), /lead-plug is left out/],
    ["a cable laid too late", (all) => moveAfter(all, "lead", "cell"), /lead is laid after cell/],
    [
      "the cell connected too early",
      (all) => moveAfter(all, "lead-plug", "plug"),
      /closed after the cell is connected/,
    ],
    ["a lid closed over an open plug", (all) => moveAfter(all, "plug", "lid"), /closed over what is still open/],
    [
      "a spent bond not renewed",
      (all) => all.map(({ renew: _, ...rest }) => rest),
      /came off spent and is not renewed/,
    ],
    ["something done twice", (all) => [...all, all[0]], /not the opposite of anything/],
  ])("is refused with %s", (_, spoil, because) => {
    const faults = validateWayBack(phone, question, way, spoil(back.operations));
    expect(faults.map((fault) => fault.because).join("\n")).toMatch(because);
  });

  it("is legal for random records", () => {
    let checked = 0;
    for (let seed = 1; seed <= 300; seed += 1) {
      const record = randomRecord(seed);
      const asked: Question = { to: [record.parts.at(-1)?.id ?? ""], least: "seconds", damage: true };
      const answer = findWayInAndBack(record, asked, control);
      if (!("operations" in answer)) continue;
      checked += 1;
      expect(answer.back, `seed ${seed}`).not.toBeNull();
      expect(validateWayBack(record, asked, answer, answer.back?.operations ?? []), `seed ${seed}`).toEqual([]);
    }
    expect(checked).toBeGreaterThan(100);
  });
});

function moveAfter<T extends { readonly joint?: string; readonly part?: string }>(
  all: readonly T[],
  moved: string,
  after: string,
): T[] {
  const is = (id: string) => (one: T) => one.joint === id || one.part === id;
  const one = all.find(is(moved)) as T;
  const rest = all.filter((other) => other !== one);
  return rest.toSpliced(rest.findIndex(is(after)) + 1, 0, one);
}
