import { describe, expect, it } from "vitest";
import type { TeardownRecord } from "./schema.ts";
import { upgrade } from "./upgrade.ts";
import { canonical, writeRecord } from "./write.ts";

const record: TeardownRecord = {
  media: [],
  claims: [],
  readings: [],
  log: [],
  instruments: [],
  tools: [{ kind: "basic", name: "Driver", id: "driver" }],
  checks: [],
  zones: [{ id: "z", lines: [], programme: [{ b: 1, name: "on", a: 2 }] }],
  joints: [
    {
      releases: [{ leaves: "whole", tools: ["driver"], action: "unscrew", hazard: ["short", "puncture"] }],
      holds: ["b", "a"],
      kind: "screw",
      id: "s",
    },
  ],
  parts: [
    { name: "B", id: "b", base: true },
    {
      outline: [
        [
          [0, 0],
          [10, 0],
          [10, 5],
        ],
      ],
      id: "a",
      name: "A",
      under: undefined,
    },
  ],
  device: { foldable: false, kind: "smartphone", name: "Slab" },
  id: "00000000-0000-4000-8000-000000000001",
  format: "unseam/1",
};

describe("writeRecord", () => {
  it("orders keys by the schema and keeps the order of lists", () => {
    expect(writeRecord(record)).toBe(`{
  "format": "unseam/1",
  "id": "00000000-0000-4000-8000-000000000001",
  "device": { "name": "Slab", "kind": "smartphone", "foldable": false },
  "parts": [
    { "id": "b", "name": "B", "base": true },
    { "id": "a", "name": "A", "outline": [[[0, 0], [10, 0], [10, 5]]] }
  ],
  "joints": [
    {
      "id": "s",
      "kind": "screw",
      "holds": ["b", "a"],
      "releases": [{ "action": "unscrew", "tools": ["driver"], "leaves": "whole", "hazard": ["puncture", "short"] }]
    }
  ],
  "tools": [
    { "id": "driver", "name": "Driver", "kind": "basic" }
  ],
  "instruments": [],
  "log": [],
  "readings": [],
  "claims": [],
  "media": [],
  "zones": [
    { "id": "z", "lines": [], "programme": [{ "name": "on", "a": 2, "b": 1 }] }
  ]
}
`);
  });

  it("is a fixed point and loses nothing", () => {
    const text = writeRecord(record);
    expect(writeRecord(JSON.parse(text))).toBe(text);
    expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(canonical(record))));
  });

  it("keeps every line short where it can be broken", () => {
    const long = { ...record, parts: [{ id: "b", name: "x".repeat(90), note: "y".repeat(90), base: true as const }] };
    expect(writeRecord(long)).toContain(`\n      "note": "${"y".repeat(90)}"`);
  });
});

describe("upgrade", () => {
  const steps = {
    "unseam/0": { to: "unseam/1", change: (old: Readonly<Record<string, unknown>>) => ({ ...old, tools: [] }) },
  };

  it("takes older formats step by step", () => {
    expect(upgrade({ format: "unseam/0", id: "x" }, steps)).toEqual({ format: "unseam/1", id: "x", tools: [] });
  });

  it("leaves the present one and what is no record alone", () => {
    expect(upgrade(record)).toEqual(record);
    expect(upgrade(null)).toBeNull();
    expect(upgrade([1])).toEqual([1]);
    expect(upgrade({ format: "other/7" })).toEqual({ format: "other/7" });
  });

  it("refuses a newer one in words", () => {
    expect(() => upgrade({ format: "unseam/2" })).toThrow(/newer version/);
  });
});
