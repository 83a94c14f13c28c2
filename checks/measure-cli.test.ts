/** `measure`, `figures` and `compare` as a user meets them: JSON alone on stdout, text within 80 columns, exit codes. */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { run } from "../src/cli/run.ts";

const folder = mkdtempSync(join(tmpdir(), "measure-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const record = (n: number, cell: number) => ({
  format: "unseam/1",
  id: `0b0b0b0b-0000-4000-8000-00000000000${n}`,
  ...(n === 1 ? { sibling: "0b0b0b0b-0000-4000-8000-000000000002" } : {}),
  device: {
    name: `Unit ${n}`,
    kind: "smartphone",
    foldable: false,
    cell: { capacity: { value: 4000, unit: "mAh" }, voltage: { value: 3.85, unit: "V" } },
  },
  parts: [
    { id: "frame", name: "Frame", base: true },
    { id: "cell", name: "Battery", role: "battery" },
  ],
  joints: [],
  tools: [],
  instruments: [{ id: "scale", kind: "scale", resolution: { value: 0.1, unit: "g" } }],
  log: [],
  readings: [
    { id: "d", of: ["device"], quantity: "mass", values: [100], unit: "g", instrument: "scale" },
    { id: "f", of: ["frame"], quantity: "mass", values: [100 - cell], unit: "g", instrument: "scale" },
    { id: "c", of: ["cell"], quantity: "mass", values: [cell], unit: "g", instrument: "scale" },
  ],
  claims:
    n === 1
      ? [
          {
            id: "k",
            text: "5 g lighter than the one before",
            subject: ["cell"],
            relation: "lighter",
            value: 5,
            unit: "g",
            than: "sibling",
          },
        ]
      : [],
  media: [],
});
writeFileSync(join(folder, "a.json"), JSON.stringify(record(1, 55)));
writeFileSync(join(folder, "b.json"), JSON.stringify(record(2, 60)));
writeFileSync(
  join(folder, "case.json"),
  JSON.stringify({ format: "unseam-measure/1", kind: "summary", values: [1, 2, 4] }),
);
writeFileSync(join(folder, "bad.json"), JSON.stringify({ format: "unseam-measure/1", kind: "summary", values: [] }));
writeFileSync(join(folder, "cut.json"), '{ "format": "unseam-measure/1", "kind"');

async function unseam(...words: string[]) {
  const out: string[] = [];
  const err: string[] = [];
  const code = await run(words, { cwd: folder, stdout: (text) => out.push(text), stderr: (text) => err.push(text) });
  return { code, out: out.join(""), err: err.join("") };
}

describe("unseam measure", () => {
  it("answers in JSON and in words", async () => {
    const { code, out, err } = await unseam("measure", "case.json", "--json");
    expect({ code, err }).toEqual({ code: 0, err: "" });
    expect(JSON.parse(out)).toMatchObject({ mean: expect.closeTo(7 / 3, 12) });
    expect((await unseam("measure", "case.json")).out).toMatch(/^n +3\nmean +2\.33333333\n/);
  });
  it("names the fault, in JSON too, with exit code 1", async () => {
    const { code, out, err } = await unseam("measure", "bad.json", "--json");
    expect(code).toBe(1);
    expect(JSON.parse(out).faults[0]).toMatchObject({ path: "values", found: "no values" });
    expect(err).toMatch(/values: found no values/);
    expect((await unseam("measure", "cut.json")).code).toBe(1);
    expect((await unseam("measure", "none.json")).code).toBe(1);
    expect((await unseam("measure")).code).toBe(2);
  });
});

describe("a record that cannot be worked with", () => {
  const scale = { id: "scale", kind: "scale", resolution: { value: 0.1, unit: "g" } };
  const weighed = { id: "weighed-cell", of: ["cell"], quantity: "mass", values: [55], unit: "g", instrument: "scale" };
  const crossing = [
    [0, 0],
    [10, 10],
    [10, 0],
    [0, 10],
  ];
  it.each<[string, object, RegExp]>([
    ["zero repeats", { readings: [{ ...weighed, values: [] }] }, /readings\[0\].*\(reading weighed-cell\)/],
    ["a unit that does not fit", { readings: [{ ...weighed, unit: "mm" }] }, /"mm" \(reading weighed-cell\).*of mass/],
    [
      "an instrument for other things",
      { readings: [{ ...weighed, quantity: "thickness", unit: "mm" }] },
      /\(weighed-cell\): instrument scale, resolution: found g/,
    ],
    ["an instrument that is not there", { readings: [{ ...weighed, instrument: "scales" }] }, /reading weighed-cell/],
    [
      "a negative display step",
      { instruments: [{ ...scale, resolution: { value: -0.1, unit: "g" } }] },
      /instruments\[0\]\.resolution\.value: found -0\.1/,
    ],
    [
      "an outline that crosses itself",
      {
        parts: [
          { id: "frame", name: "Frame", base: true },
          { id: "cell", name: "Battery", role: "battery", outline: [crossing] },
        ],
      },
      /the outline of cell: found edge 1/,
    ],
  ])("is refused by name: %s", async (name, more, message) => {
    const file = `${name.replaceAll(" ", "-")}.json`;
    writeFileSync(join(folder, file), JSON.stringify({ ...record(3, 55), claims: [], ...more }));
    const { code, err } = await unseam("figures", file);
    expect(code).toBe(1);
    expect(err).toMatch(message);
  });
});

describe("unseam figures", () => {
  it("gives the shape that is promised, the sibling found beside it", async () => {
    const { code, out } = await unseam("figures", "a.json", "--json");
    expect(code).toBe(0);
    const answer = JSON.parse(out);
    expect(answer.mass).toMatchObject({ device: 100, sum: 100, residual: 0, closes: true, missing: [] });
    expect(answer.battery).toMatchObject({
      energyWh: expect.closeTo(15.4, 9),
      whPerKg: expect.closeTo(280, 9),
      whPerL: null,
    });
    expect(answer.thickness).toEqual([]);
    expect(Object.keys(answer.readings[0])).toEqual(
      expect.arrayContaining(["of", "quantity", "value", "unit", "u", "dof", "k", "U", "text"]),
    );
    expect(answer.claims[0]).toMatchObject({ id: "k", verdict: "supported", restsOn: ["c", "sibling:c"] });
  });
  it("reads well at 80 columns", async () => {
    for (const words of [
      ["figures", "a.json", "--readings"],
      ["compare", "a.json", "b.json"],
      ["figures", "--help"],
      ["compare", "--help"],
      ["measure", "--help"],
    ]) {
      const { code, out } = await unseam(...words);
      expect(code).toBe(0);
      for (const line of out.split("\n")) expect(line.length, line).toBeLessThanOrEqual(80);
    }
  });
});

describe("unseam compare", () => {
  it("gives differences with their uncertainty, ways in and the index", async () => {
    const { code, out } = await unseam("compare", "a.json", "b.json", "--json", "--limit", "0.5");
    expect(code).toBe(0);
    const answer = JSON.parse(out);
    expect(answer.mass.total).toMatchObject({ difference: 0, told: false });
    expect(answer.parts.find((part: { a: string }) => part.a === "cell").mass).toMatchObject({
      difference: -5,
      told: true,
    });
    expect(answer.ways.find((way: { role: string }) => way.role === "battery").seconds.a).toBeGreaterThan(0);
  });
  it("takes corrections, and refuses words that are none", async () => {
    const { out } = await unseam("compare", "a.json", "b.json", "--json", "--no-ways", "--match", "cell=-");
    expect(JSON.parse(out).added).toEqual(["cell"]);
    expect((await unseam("compare", "a.json", "b.json", "--match", "cell")).code).toBe(2);
    expect((await unseam("compare", "a.json", "b.json", "--match", "x=y", "--no-ways")).code).toBe(1);
  });
});
