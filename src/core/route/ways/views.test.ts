import { describe, expect, it } from "vitest";
import { randomRecord } from "../../../../test/helpers/random-record.ts";
import { requireRecord, type TeardownRecord } from "../../record/index.ts";
import { recordHolding, viewOf } from "../../structure/index.ts";
import { bruteForce } from "../../structure/oracle.ts";
import { alternativesOf } from "./alternatives.ts";
import { blocksOf, savingsOf } from "./blocks.ts";
import { weighDoubt } from "./doubt.ts";
import { frontOf } from "./front.ts";
import { findWayIn, type Question, type WayIn } from "./index.ts";
import { waysToAll } from "./table.ts";

const control = { now: () => 0 };
const setOf = (way: WayIn): string =>
  [...new Set(way.operations.flatMap(({ joint, part }) => joint ?? part ?? []))].sort().join(" ");

/** A cell that is reached past the lid or past the display, and a price on breaking either. */
const eitherWay: TeardownRecord = requireRecord({
  format: "unseam/1",
  id: "00000000-0000-4000-8000-0000000000b2",
  device: { name: "either way", kind: "other", foldable: false },
  parts: [
    { id: "frame", name: "Frame", base: true },
    { id: "lid", name: "Lid", spare: { price: { amount: "20.00", currency: "EUR" } } },
    { id: "display", name: "Display", spare: { price: { amount: "90.00", currency: "EUR" } } },
    { id: "cell", name: "Cell", under: [["lid"], ["display"]] },
    { id: "sensor", name: "Sensor", under: [["cell"]], basis: "inferred" },
  ],
  joints: [
    {
      id: "back-bond",
      kind: "adhesive",
      holds: ["lid", "frame"],
      releases: [
        { action: "slice", tools: ["pick"], seconds: 60, leaves: "spent", harm: [{ part: "lid", chance: 0.1 }] },
      ],
    },
    {
      id: "front-bond",
      kind: "adhesive",
      holds: ["display", "frame"],
      releases: [
        { action: "slice", tools: ["pick"], seconds: 90, leaves: "spent", harm: [{ part: "display", chance: 0.01 }] },
      ],
    },
    {
      id: "foam",
      kind: "tape",
      holds: ["cell", "frame"],
      releases: [{ action: "peel", tools: [], seconds: 5, leaves: "spent" }],
    },
  ],
  tools: [{ id: "pick", name: "pick", kind: "basic" }],
  instruments: [],
  log: [],
  readings: [],
  claims: [],
  media: [],
});
const toCell: Question = { to: ["cell"], least: "seconds" };

describe("alternatives", () => {
  it("differ in what is released or moved, the best first", () => {
    const found = alternativesOf(eitherWay, toCell, 5, control);
    if (!("alternatives" in found)) throw new Error("no way in");
    expect(found.alternatives.map(setOf)).toEqual(["back-bond cell foam lid", "cell display foam front-bond"]);
    expect(found.alternatives.map(({ seconds }) => seconds)).toEqual([76.8, 106.8]);
    expect(found.complete).toBe(true);
  });

  it("never cost less than the best, never repeat a set and never contain another's", () => {
    for (let seed = 1; seed <= 150; seed += 1) {
      const record = randomRecord(seed);
      const question: Question = { to: [record.parts.at(-1)?.id ?? ""], least: "seconds", damage: true };
      const found = alternativesOf(record, question, 4, control);
      if (!("alternatives" in found)) continue;
      const costs = found.alternatives.map(({ seconds }) => seconds);
      expect(costs).toEqual([...costs].sort((a, b) => a - b));
      expect(new Set(found.alternatives.map(setOf)).size).toBe(costs.length);
      const best = findWayIn(record, question, control);
      expect("operations" in best && best.seconds).toBe(costs[0]);
    }
  });
});

describe("time against risk", () => {
  it("is every way in that nothing beats in both", () => {
    const front = frontOf(eitherWay, toCell, control);
    if (!("front" in front)) throw new Error("no way in");
    expect(front.front.map(({ seconds, risk }) => [seconds, risk?.amount])).toEqual([
      [76.8, "2.00"],
      [106.8, "0.90"],
    ]);
    expect(front.complete).toBe(true);
  });

  it("keeps to caps, and says when none can be kept", () => {
    expect(findWayIn(eitherWay, { ...toCell, capRisk: "1.00" }, control)).toMatchObject({
      seconds: 106.8,
      proved: true,
    });
    expect(findWayIn(eitherWay, { ...toCell, capRisk: "0.10" }, control)).toMatchObject({
      unreachable: [{ part: "cell", because: "no order of work stays within an expected damage of 0.10" }],
    });
    expect(findWayIn(eitherWay, { ...toCell, least: "risk" }, control)).toMatchObject({
      seconds: 106.8,
      risk: { amount: "0.90" },
      lowerBound: 0.9,
    });
  });
});

describe("what blocks what", () => {
  it("names what every way releases and the smallest sets that are enough", () => {
    expect(blocksOf(eitherWay, toCell, "cell")).toEqual({
      part: "cell",
      always: ["foam"],
      enough: [
        ["back-bond", "foam"],
        ["foam", "front-bond"],
      ],
      complete: true,
    });
  });

  it("agrees with trying all sets of joints on small records", () => {
    for (let seed = 1; seed <= 60; seed += 1) {
      const record = randomRecord(seed);
      const part = record.parts.at(-1)?.id ?? "";
      const joints = record.joints.filter((joint) => joint.releases.length > 0).map((joint) => joint.id);
      const terms = { damage: true, accept: ["puncture"] as const, isolation: false };
      const enough: string[][] = [];
      for (let mask = 0; mask < 1 << joints.length; mask += 1) {
        const set = joints.filter((_, i) => mask & (1 << i)).sort();
        if (enough.some((small) => small.every((one) => set.includes(one)))) continue;
        const cold = record.joints.map((joint) => ({
          ...joint,
          releases:
            set.includes(joint.id) || joint.releases.length === 0
              ? joint.releases.map(({ heat: _, ...rest }) => rest)
              : joint.releases.map((one) => ({ ...one, onlyWhen: [] })),
        }));
        // Masks in ascending order do not visit sets by size: a superset found first is thrown out below.
        if (bruteForce(viewOf({ ...record, joints: cold }, terms), [part], "steps", false)) enough.push(set);
      }
      const smallest = enough.filter(
        (set) => !enough.some((other) => other !== set && other.every((one) => set.includes(one))),
      );
      const blocks = blocksOf(record, { to: [part], least: "seconds", ...terms, accept: [...terms.accept] }, part, 500);
      const order = (sets: readonly (readonly string[])[]): string[] => sets.map((set) => set.join(" ")).sort();
      expect(order(blocks.enough), `seed ${seed}`).toEqual(order(smallest));
      expect([...blocks.always].sort()).toEqual(
        smallest.length === 0 ? [] : smallest.reduce((all, set) => all.filter((one) => set.includes(one))).sort(),
      );
    }
  });

  it("says what would be saved", () => {
    const way = findWayIn(eitherWay, toCell, control);
    if (!("operations" in way)) throw new Error("no way in");
    expect(savingsOf(eitherWay, toCell, way, control)).toEqual([
      { gone: "lid", saves: 68 },
      { gone: "back-bond", saves: 64.2 },
      { gone: "foam", saves: 5 },
    ]);
  });
});

describe("doubt", () => {
  it("gives both cases and the answers that decide", () => {
    const doubt = weighDoubt(eitherWay, { to: ["sensor"], least: "seconds" }, control);
    expect(doubt).toEqual({
      best: 3.8,
      worst: 80.6,
      robust: 80.6,
      decides: [{ relation: "sensor", then: 80.6, else: 3.8 }],
      open: 1,
    });
  });

  it("is the planner's answer on the record with the relations settled", () => {
    for (let seed = 1; seed <= 100; seed += 1) {
      const record = randomRecord(seed);
      const question: Question = { to: [record.parts.at(-1)?.id ?? ""], least: "seconds", damage: true };
      const none = findWayIn(recordHolding(record, []), question, control);
      const doubt = weighDoubt(record, question, control);
      expect(doubt.best).toBe("operations" in none ? none.seconds : null);
    }
  });
});

describe("the table of all parts", () => {
  it("has each part's own answer", () => {
    const table = waysToAll(eitherWay, { least: "steps" }, control);
    expect(table.parts.map((row) => ("because" in row ? row.because : [row.part, row.steps, row.proved]))).toEqual([
      ["lid", 1, true],
      ["display", 1, true],
      ["cell", 2, true],
      ["sensor", 3, true],
    ]);
  });
});
