/** `warm` and `board` as a user meets them: JSON alone on stdout, text within 80 columns, exit codes. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { run } from "../src/cli/run.ts";

const folder = mkdtempSync(join(tmpdir(), "heat-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const put = (name: string, value: unknown) => {
  writeFileSync(join(folder, name), typeof value === "string" ? value : JSON.stringify(value));
  return name;
};

async function unseam(...words: string[]) {
  let stdout = "";
  let stderr = "";
  const code = await run(words, {
    cwd: folder,
    stdout: (text) => {
      stdout += text;
    },
    stderr: (text) => {
      stderr += text;
    },
  });
  return { code, stdout, stderr, json: () => JSON.parse(stdout) };
}

const glass = { name: "glass", material: "glass_aluminosilicate", thickness: 0.6 };
const bond = { name: "bond", material: { k: 0.15, rho: 1000, cp: 1800 }, thickness: 0.2 };
const stack = {
  format: "unseam-stack/1",
  start: 23,
  layers: [glass, bond, { name: "frame", material: "al6013", thickness: 2 }],
  programme: [{ seconds: 120, hot: { temperature: 80, h: 300 }, cool: { temperature: 23, h: 8 } }],
  watch: [{ name: "bond inner", layer: "bond", face: "far", soft: 65 }],
  report: [10, 20, 40],
  beside: [
    {
      name: "cell",
      layers: [
        glass,
        { name: "gap", material: "air", thickness: 0.3 },
        { name: "pouch", material: "li_pouch", thickness: 4.5 },
      ],
      watch: [{ name: "cell", layer: "pouch", face: "near", plan: 55, stop: 60, counted: { above: 45, seconds: 900 } }],
    },
  ],
};

describe("unseam warm", () => {
  it("answers with the keys of its help, and nothing else on stdout", async () => {
    const { code, json } = await unseam("warm", put("s.json", stack), "--json", "--cut", "60");
    expect(code).toBe(0);
    const answer = json();
    expect(answer.reached.map(({ watch, limit }: { watch: string; limit: string }) => `${watch} ${limit}`)).toEqual([
      "bond inner soft",
      "cell plan",
      "cell stop",
    ]);
    expect(answer.faces[0].at).toEqual([10, 20, 40]);
    expect(answer.faces[0].degC).toHaveLength(3);
    expect(Object.keys(answer.window)).toEqual(["from", "to", "after", "counted"]);
    expect(Object.keys(answer.rounds)).toEqual(["heatings", "elapsed", "peak", "counted", "pauses", "sequence"]);
    expect(answer.energyError).toBeLessThan(1e-9);
    expect(answer.steps).toBeGreaterThan(10);
    expect(answer.milliseconds).toBeGreaterThan(0);
    expect(answer.assumptions.length).toBeGreaterThan(1);
  });

  it("tells people the window with the cautions beside it, in 80 columns", async () => {
    const { stdout } = await unseam("warm", put("s.json", stack), "--cut", "200");
    for (const line of stdout.split("\n")) expect(line.length, line).toBeLessThanOrEqual(80);
    for (const word of [
      /^Warm window/,
      /Solvent off/,
      /bare skin/,
      /Charge at most 30 %/,
      /swells/,
      /Local rules/,
      /With what is not well known/,
    ])
      expect(stdout).toMatch(word);
  });

  it("no window: null, why, and what would help", async () => {
    const tight = { ...stack, beside: [{ ...stack.beside[0], watch: [{ ...stack.beside[0].watch[0], plan: 38 }] }] };
    const { code, json, stdout } = await unseam("warm", put("t.json", tight), "--json");
    expect(code).toBe(0);
    expect(json().window).toBeNull();
    expect(json().why).toMatch(/38 degC/);
    expect(Array.isArray(json().wouldHelp)).toBe(true);
    expect(stdout.startsWith("{")).toBe(true);
    expect((await unseam("warm", "t.json")).stdout).toMatch(/^There is no warm window/);
  });

  it("fits a log, and lists the property table", async () => {
    const rows = (
      await unseam("warm", put("r.json", { ...stack, report: Array.from({ length: 100 }, (_, i) => i) }), "--json")
    ).json();
    const log = rows.faces[0].degC.map((degC: number, i: number) => `${i},${degC.toFixed(3)}`).join("\n");
    const off = { ...stack, programme: [{ ...stack.programme[0], hot: { temperature: 80, h: 150 } }] };
    const fit = await unseam("warm", put("off.json", off), "--fit", put("log.csv", `s,degC\n${log}\n`), "--json");
    expect(fit.code).toBe(0);
    expect(fit.json().contact.value).toBeCloseTo(300, 0);
    expect((await unseam("warm", "off.json", "--fit", "log.csv")).stdout).toMatch(/Contact of the heat source: 300/);
    const table = await unseam("warm", "--materials");
    expect(table.stdout).toMatch(/psa_foam/);
    for (const line of table.stdout.split("\n")) expect(line.length, line).toBeLessThanOrEqual(80);
  });

  it("faults: 1 with JSON of every fault, 2 for the command line", async () => {
    const bad = { ...stack, layers: [{ ...glass, thickness: 0 }, bond], programme: [] };
    const answer = await unseam("warm", put("bad.json", bad), "--json");
    expect(answer.code).toBe(1);
    expect(answer.json().ok).toBe(false);
    expect(answer.json().faults.map(({ path }: { path: string }) => path)).toEqual(
      expect.arrayContaining(["layers[0].thickness", "programme"]),
    );
    expect((await unseam("warm", put("cut.json", '{"format": "unseam-stack/1", '), "--json")).code).toBe(1);
    expect((await unseam("warm")).code).toBe(2);
    expect((await unseam("warm", "s.json", "--cut", "-3")).code).toBe(2);
    expect((await unseam("warm", "s.json", "--zone", "back")).code).toBe(2);
    expect((await unseam("warm", "s.json", "--bond")).code).toBe(2);
    expect((await unseam("warm", "none.json", "--json")).code).toBe(1);
  });
});

describe("unseam board", () => {
  const board = {
    format: "unseam-board/1",
    size: [40, 30],
    cell: 1,
    start: 23,
    h: 10,
    layers: [{ name: "main", material: "fr4", copper: 0.1, thickness: 0.8 }],
    parts: [{ name: "chip", at: [20, 15], size: [10, 10, 1], material: "mould", limit: 245 }],
    heat: [{ seconds: 30, nozzle: { at: [20, 15], size: [12, 12], temperature: 300, h: 150 } }],
    report: [10, 30],
  };
  it("answers with the keys of its help", async () => {
    const { code, json } = await unseam("board", put("b.json", board), "--json");
    expect(code).toBe(0);
    const [chip] = json().parts;
    for (const key of ["name", "peak", "at", "reached", "rampUp", "aboveLiquidus"]) expect(chip).toHaveProperty(key);
    expect(json().energyError).toBeLessThan(1e-9);
  });
  it("tells people in 80 columns, cautions first", async () => {
    const { stdout } = await unseam("board", put("b.json", board), "--profile");
    for (const line of stdout.split("\n")) expect(line.length, line).toBeLessThanOrEqual(80);
    expect(stdout).toMatch(/^\| Cell out first/);
    expect(stdout).toMatch(/not a process qualification/);
  });
  it("refuses what is wrong", async () => {
    expect((await unseam("board", put("b2.json", { ...board, layers: [] }), "--json")).code).toBe(1);
    expect((await unseam("board", "b.json", "--alloy", "gold")).code).toBe(2);
  });
});

it("the stack of docs/core/heat.md is one that it reads", async () => {
  const page = readFileSync(new URL("../docs/core/heat.md", import.meta.url), "utf8");
  const example = /```json\n([\s\S]*?)```/.exec(page)?.[1] ?? "";
  const { code, json } = await unseam("warm", put("doc.json", example), "--json");
  expect(code).toBe(0);
  expect(json().window.from).toBeGreaterThan(0);
});
