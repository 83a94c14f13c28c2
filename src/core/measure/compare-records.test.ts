import { describe, expect, it } from "vitest";
import type { Joint, Part, Reading, TeardownRecord } from "../record/index.ts";
import { requireRecord } from "../record/index.ts";
import { compareRecords } from "./compare-records.ts";
import { matchParts } from "./match-parts.ts";

let next = 0;
const mass = (of: string | string[], value: number): Reading => ({
  id: `r${next++}`,
  of: Array.isArray(of) ? of : [of],
  quantity: "mass",
  values: [value],
  unit: "g",
  instrument: "scale",
});
const screws = (id: string, drive: string, count: number): Joint => ({
  id,
  kind: "screw",
  holds: ["frame", "board"],
  count,
  releases: [],
  screws: { drive },
});

function record(
  n: number,
  parts: readonly Part[],
  readings: readonly Reading[],
  joints: readonly Joint[] = [],
): TeardownRecord {
  return requireRecord({
    format: "unseam/1",
    id: `0b0b0b0b-0000-4000-8000-00000000000${n}`,
    device: { name: `Unit ${n}`, kind: "smartphone", foldable: false },
    parts: [{ id: "frame", name: "Frame", base: true }, { id: "board", name: "Main board", role: "board" }, ...parts],
    joints,
    tools: [],
    instruments: [{ id: "scale", kind: "scale", resolution: { value: 0.1, unit: "g" } }],
    log: [],
    readings,
    claims: [],
    media: [],
  });
}

const a = record(
  1,
  [
    { id: "cell", name: "Battery", role: "battery" },
    { id: "chamber", name: "Vapour chamber" },
    { id: "port", name: "Port board", serves: ["main-microphone"] },
  ],
  [mass("device", 150), mass(["frame", "board"], 70), mass("cell", 50), mass("chamber", 5), mass("port", 8)],
  [screws("j1", "cross recess 000", 8), screws("j2", "hexalobular T3", 4)],
);
const b = record(
  2,
  [
    { id: "pack", name: "Pack", role: "battery" },
    { id: "port", name: "Port board" },
    { id: "mic", name: "Microphone", role: "main-microphone" },
    { id: "jack", name: "Headphone socket", role: "audio-connector" },
  ],
  [
    mass("device", 160),
    mass("frame", 40),
    mass("board", 35),
    mass("pack", 60),
    mass("port", 8),
    mass("mic", 1),
    mass("jack", 9),
  ],
  [screws("j1", "cross recess 000", 12)],
);

describe("two devices beside each other", () => {
  const compared = compareRecords(a, b);

  it("matches by role before name, and names what is new and gone", () => {
    expect(compared.parts.find((part) => part.a === "cell")).toMatchObject({ b: "pack", by: "role" });
    expect(compared.parts.find((part) => part.a === "port")).toMatchObject({ b: "port", by: "name" });
    expect(compared.added).toEqual(["chamber"]);
    expect(compared.dropped).toEqual(["mic", "jack"]);
  });

  it("sees a part that does the work of two", () => {
    expect(compared.merged).toEqual([{ a: "port", from: ["port", "mic"] }]);
    expect(compareRecords(b, a).split).toEqual([{ b: "port", into: ["port", "mic"] }]);
  });

  it("explains the change in mass by groups that both benches can tell apart, to the last tenth", () => {
    const { mass: explained } = compared;
    expect(explained.total).toMatchObject({ difference: -10, told: true });
    const sum = explained.all.reduce((total, change) => total + change.difference, 0);
    expect(sum).toBeCloseTo(-10, 9);
    // Frame and board were weighed together on one side: one bar.
    expect(explained.all.find((change) => change.a.includes("frame"))).toMatchObject({
      a: ["frame", "board"],
      difference: -5,
    });
    expect(explained.all.find((change) => change.kind === "unaccounted")!.difference).toBeCloseTo(
      150 - 133 - (160 - 153),
      9,
    );
    expect(Math.abs(explained.changes[0]!.difference)).toBeCloseTo(10, 9);
    const named = explained.changes.reduce((total, change) => total + change.difference, 0);
    expect(named + explained.rest.difference).toBeCloseTo(-10, 9);
  });

  it("knows the rest as well as the total less what is named: the errors of those within it cancel", () => {
    const readings = b.readings.map((one) => (one.of.includes("device") ? { ...one, values: [170] } : one));
    const { total, changes, rest } = compareRecords(a, { ...b, readings }).mass;
    expect(changes.some((one) => one.kind === "unaccounted")).toBe(false);
    // Scales of two benches: no error is shared between the total and what is named.
    expect(rest.u).toBeCloseTo(Math.hypot(total!.u, ...changes.map((one) => one.u)), 12);
    expect(rest.U).toBeCloseTo(1.959963984540054 * rest.u, 9);
  });

  it("is the other way round with its signs turned", () => {
    const turned = compareRecords(b, a);
    expect(turned.mass.total!.difference).toBe(-compared.mass.total!.difference);
    expect(turned.added).toEqual(compared.dropped);
  });

  it("of a device with itself shows nothing", () => {
    const none = compareRecords(a, a);
    expect(none.added).toEqual([]);
    expect(none.mass.all.every((change) => change.difference === 0)).toBe(true);
    expect(none.fasteners.every((count) => count.difference === 0)).toBe(true);
  });

  it("counts fasteners by kind and drive", () => {
    expect(compared.fasteners).toEqual([
      { what: "screw, cross recess 000", a: 8, b: 12, difference: -4 },
      { what: "screw, hexalobular T3", a: 4, b: 0, difference: 4 },
    ]);
  });

  it("can be corrected by a person", () => {
    const { pairs, onlyA } = matchParts(a, b, { chamber: "jack", cell: null });
    expect(pairs).toContainEqual({ a: "chamber", b: "jack", by: "person" });
    expect(onlyA).toEqual(["cell"]);
    expect(() => matchParts(a, b, { nothing: "jack" })).toThrow(/a part of Unit 1/);
    expect(() => matchParts(a, b, { cell: "nothing" })).toThrow(/a part of Unit 2/);
  });

  it("puts the planner's and the law's facts side by side", () => {
    const way = (seconds: number, steps: number) => ({ seconds, steps, proved: true });
    const { ways, index } = compareRecords(a, b, {
      facts: {
        a: { ways: { battery: way(90, 5) }, index: "2.83", class: "C" },
        b: { ways: { battery: way(80, 7), display: null } },
      },
    });
    expect(ways).toEqual([
      { role: "battery", seconds: { a: 90, b: 80, difference: 10 }, steps: { a: 5, b: 7, difference: -2 } },
      {
        role: "display",
        seconds: { a: null, b: null, difference: null },
        steps: { a: null, b: null, difference: null },
      },
    ]);
    expect(index).toEqual({ a: "2.83", b: null, classA: "C", classB: null });
  });
});
