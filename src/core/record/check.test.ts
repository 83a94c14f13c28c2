import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkRecord } from "./check.ts";
import { recordJsonSchema } from "./json-schema.ts";
import { nearest } from "./nearest.ts";

type Loose = Record<string, unknown>;

/** A small valid record that each test spoils in one place. */
function valid(): Loose & { parts: Loose[]; joints: Loose[]; tools: Loose[]; readings: Loose[] } {
  return {
    format: "unseam/1",
    id: "00000000-0000-4000-8000-00000000000a",
    device: { name: "Zoo", kind: "other", foldable: false },
    parts: [
      { id: "frame", name: "Frame", base: true },
      { id: "lid", name: "Lid" },
      { id: "deck", name: "Deck", within: "lid" },
    ],
    joints: [
      {
        id: "s",
        kind: "screw",
        holds: ["lid", "frame"],
        releases: [{ action: "unscrew", tools: ["drv"], leaves: "whole" }],
      },
      {
        id: "g",
        kind: "adhesive",
        holds: ["deck", "lid"],
        releases: [
          { action: "peel", tools: [], leaves: "spent", heat: { zone: "z", bond: 65, seconds: 60, soft: 30 } },
          { action: "pull", tools: [], leaves: "spent", fails: { chance: 0.2, then: 0 } },
        ],
      },
    ],
    tools: [{ id: "drv", name: "driver", kind: "basic" }],
    instruments: [{ id: "scale", kind: "scale", resolution: { value: 0.01, unit: "g" } }],
    log: [{ id: "e1", action: "unscrew", joints: ["s"] }],
    readings: [{ id: "r1", of: ["lid"], quantity: "mass", values: [1.5], unit: "g", instrument: "scale" }],
    claims: [],
    media: [],
  };
}

function faultsOf(spoil: (record: ReturnType<typeof valid>) => void): { path: string; nearest?: string }[] {
  const record = valid();
  spoil(record);
  return checkRecord(record).faults.map(({ path, nearest }) => ({
    path,
    ...(nearest === undefined ? {} : { nearest }),
  }));
}

describe("a valid record", () => {
  it("passes", () => {
    expect(checkRecord(valid())).toMatchObject({ ok: true, faults: [], warnings: [] });
  });

  it.each<[string, (record: ReturnType<typeof valid>) => void, { path: string; nearest?: string }[]]>([
    [
      "an id used twice over parts, joints and tools",
      (r) => r.tools.push({ id: "lid", name: "lid", kind: "basic" }),
      [{ path: "tools[1].id" }],
    ],
    ["a reserved id", (r) => r.parts.push({ id: "glue", name: "Glue" }), [{ path: "parts[3].id" }]],
    ["no base", (r) => delete r.parts[0].base, [{ path: "parts" }]],
    [
      "two bases",
      (r) => (r.parts[1].base = true),
      [{ path: "parts[1].base" }, { path: "parts[2].within" }].slice(0, 1),
    ],
    [
      "an assembly inside itself",
      (r) => (r.parts[1].within = "deck"),
      [{ path: "parts[1].within" }, { path: "parts[2].within" }],
    ],
    ["a part within the base", (r) => (r.parts[1].within = "frame"), [{ path: "parts[1].within" }]],
    ["a part under itself", (r) => (r.parts[1].under = [["lid"]]), [{ path: "parts[1].under[0][0]" }]],
    [
      "a misspelt part",
      (r) => (r.joints[0].holds = ["lid", "fraem"]),
      [{ path: "joints[0].holds[1]", nearest: "frame" }],
    ],
    ["a joint that holds one part twice", (r) => (r.joints[0].holds = ["lid", "lid"]), [{ path: "joints[0].holds" }]],
    ["a joint that holds one part", (r) => (r.joints[0].holds = ["lid"]), [{ path: "joints[0].holds" }]],
    [
      "two power joints",
      (r) => {
        r.joints[0].power = true;
        r.joints[1].power = true;
      },
      [{ path: "joints[1].power" }],
    ],
    [
      "a shift freed by a joint that lets go by itself",
      (r) => {
        r.joints[0].releases = [];
        r.parts[1].shift = { freeing: ["s"] };
      },
      [{ path: "parts[1].shift.freeing[0]" }],
    ],
    [
      "a branch to itself",
      (r) => ((r.joints[1].releases as Loose[])[1].fails = { chance: 0.2, then: 1 }),
      [{ path: "joints[1].releases[1].fails.then" }],
    ],
    [
      "one zone heated in two ways",
      (r) => ((r.joints[1].releases as Loose[])[1].heat = { zone: "z", bond: 70, seconds: 60, soft: 30 }),
      [{ path: "joints[1].releases[1].heat.bond" }],
    ],
    ["a unit that does not fit", (r) => (r.readings[0].unit = "mm"), [{ path: "readings[0].unit" }]],
    ["a mass of nothing", (r) => (r.readings[0].values = [0]), [{ path: "readings[0].values[0]" }]],
    ["a value that is no number", (r) => (r.readings[0].values = [Number.NaN]), [{ path: "readings[0].values[0]" }]],
    ["a key that is not known", (r) => (r.parts[1].nmae = "x"), [{ path: "parts[1].nmae", nearest: "name" }]],
    ["a word that is not known", (r) => (r.joints[0].kind = "screws"), [{ path: "joints[0].kind", nearest: "screw" }]],
    [
      "a chance above 1",
      (r) => ((r.joints[1].releases as Loose[])[1].fails = { chance: 1.2, then: 0 }),
      [{ path: "joints[1].releases[1].fails.chance" }],
    ],
    [
      "a described line that names no operation",
      (r) =>
        (r.described = [
          {
            id: "d",
            by: "maker",
            parts: [{ part: "lid", steps: [{ does: "open", operations: ["open lid"], tools: [] }] }],
          },
        ]),
      [{ path: "described[0].parts[0].steps[0].operations[0]" }],
    ],
  ])("refuses %s", (_, spoil, expected) => {
    expect(faultsOf(spoil)).toEqual(expected);
  });

  it("lets a zero reading be zero, and a longer circle of `under` stand", () => {
    expect(
      faultsOf((r) => r.readings.push({ id: "r2", of: ["zero"], quantity: "mass", values: [0, -0.01], unit: "g" })),
    ).toEqual([]);
    expect(
      faultsOf((r) => {
        r.parts.push({ id: "a", name: "A", under: [["b"]] }, { id: "b", name: "B", under: [["a"]] });
      }),
    ).toEqual([]);
  });

  it("reports everything at once, whatever the value is", () => {
    expect(faultsOf((r) => Object.assign(r, { parts: "none", joints: [null, 3] })).length).toBeGreaterThan(2);
    for (const value of [null, 3, "text", [], {}, { parts: [null] }, { joints: [{ holds: 3 }] }])
      expect(checkRecord(value).ok).toBe(false);
  });
});

describe("the published schema", () => {
  it("is docs/record.schema.json, kept true", () => {
    const file = readFileSync(new URL("../../../docs/record.schema.json", import.meta.url), "utf8");
    expect(JSON.parse(file)).toEqual(JSON.parse(JSON.stringify(recordJsonSchema())));
  });

  it("is JSON Schema 2020-12", () => {
    expect(recordJsonSchema()).toMatchObject({
      $schema: "https://json-schema.org/draft/2020-12/schema",
      type: "object",
      additionalProperties: false,
    });
  });
});

describe("the nearest spelling", () => {
  it("is offered only where it can be meant", () => {
    expect(nearest("bracet", ["bracket", "battery"])).toBe("bracket");
    expect(nearest("Batery", ["bracket", "battery"])).toBe("battery");
    expect(nearest("xyzzy", ["bracket", "battery"])).toBeUndefined();
    expect(nearest("recieve", ["receive"])).toBe("receive");
  });
});
