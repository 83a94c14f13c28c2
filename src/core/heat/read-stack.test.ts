import { describe, expect, test } from "vitest";
import { type Fault, InputFaults } from "../errors.ts";
import { materialEntry, materialFromWords, nearestMaterials } from "./materials.ts";
import { readStack } from "./read-stack.ts";

const good = () => ({
  format: "unseam-stack/1",
  start: 23,
  layers: [
    { name: "glass", material: "glass_aluminosilicate", thickness: 0.6, contactAfter: 5000 },
    { name: "bond", material: { k: 0.15, rho: 1000, cp: 1800 }, thickness: 0.2 },
    { name: "pouch", material: "li_pouch", thickness: 4.5 },
  ],
  programme: [{ seconds: 120, hot: { temperature: 80, h: 300 }, cool: { temperature: 23, h: 8 } }],
  watch: [
    { name: "bond inner", layer: "bond", face: "far", soft: 65 },
    { name: "cell", layer: "pouch", face: "near", plan: 55, stop: 60, counted: { above: 45, seconds: 900 } },
  ],
  report: [10, 20, 40],
});

// biome-ignore lint/suspicious/noExplicitAny: the point of these tests is what a file may hold
type Loose = any;

function faultsOf(change: (stack: Loose) => void): readonly Fault[] {
  const stack: Loose = good();
  change(stack);
  try {
    readStack(stack);
  } catch (error) {
    if (error instanceof InputFaults) return error.faults;
    throw error;
  }
  return [];
}

test("a stack is read, material ids resolved through the layer", () => {
  const stack = readStack(good());
  expect(stack.lines).toHaveLength(1);
  expect(stack.lines[0].layers[2].material.k).toBe(materialEntry("li_pouch")?.k.value);
  expect(stack.lines[0].layers[1].materialId).toBeUndefined();
});

test("h null holds, h 0 insulates and needs no temperature", () => {
  const stack = readStack({
    ...good(),
    report: [],
    programme: [{ seconds: 10, hot: { temperature: 80, h: null }, cool: { h: 0 } }],
  });
  expect(stack.programme[0].hot.h).toBeNull();
  expect(stack.programme[0].cool.h).toBe(0);
});

describe("what is refused, with path, found, expected", () => {
  test.each<[string, (stack: Loose) => void, string, RegExp]>([
    ["no thickness", (s) => (s.layers[0].thickness = 0), "layers[0].thickness", /above zero/],
    ["negative thickness", (s) => (s.layers[1].thickness = -0.2), "layers[1].thickness", /above zero/],
    ["thickness as text", (s) => (s.layers[1].thickness = "0.2"), "layers[1].thickness", /mm/],
    ["not a number", (s) => (s.start = Number.NaN), "start", /Celsius/],
    ["no material", (s) => delete s.layers[0].material, "layers[0].material", /required/],
    ["conductivity of nothing", (s) => (s.layers[1].material.k = 0), "layers[1].material.k", /W\/\(m\.K\)/],
    ["a stop below the start", (s) => (s.watch[1].stop = 20), "watch[1].stop", /at or above the start of 23/],
    ["a plan above the stop", (s) => (s.watch[1].plan = 70), "watch[1].plan", /at or below the stop of 60/],
    ["a programme of no stages", (s) => (s.programme = []), "programme", /at least one stage/],
    ["a stage of no length", (s) => (s.programme[0].seconds = 0), "programme[0].seconds", /above zero/],
    ["ten thousand layers", (s) => (s.layers = Array(10_000).fill(s.layers[0])), "layers", /1 to 200 layers/],
    ["no layers", (s) => (s.layers = []), "layers", /1 to 200/],
    ["a report after the end", (s) => (s.report = [130]), "report[0]", /programme's length of 120 s/],
    ["a face that is none", (s) => (s.watch[0].face = "inner"), "watch[0].face", /near/],
    ["a negative h", (s) => (s.programme[0].hot.h = -1), "programme[0].hot.h", /insulated/],
    ["another format", (s) => (s.format = "unseam-stack/2"), "format", /unseam-stack\/1/],
    ["two watches of one name", (s) => (s.watch[1].name = "bond inner"), "watch[1].name", /name of its own/],
    ["contact of nothing", (s) => (s.layers[0].contactAfter = 0), "layers[0].contactAfter", /perfect contact/],
    ["colder than cold", (s) => (s.start = -300), "start", /-273.15/],
  ])("%s", (_, change, path, expected) => {
    const fault = faultsOf(change).find((item) => item.path === path);
    expect(fault?.expected).toMatch(expected);
    expect(fault?.found.length).toBeGreaterThan(0);
  });

  test("nearest names", () => {
    expect(faultsOf((s) => (s.layers[2].material = "li_puch"))[0].nearest).toContain("li_pouch");
    expect(faultsOf((s) => (s.layers[0].material = "aluminium"))[0].nearest).toContain("al6013");
    expect(faultsOf((s) => (s.watch[0].layer = "bnod"))[0].nearest).toBe("bond");
    expect(faultsOf((s) => (s.layers[0].thicknes = 1))[0].nearest).toBe("thickness");
  });

  test("every fault at once, and of anything at all", () => {
    const faults = faultsOf((s) => {
      s.layers[0].thickness = -1;
      s.layers[2].material = "unobtainium";
      s.watch[1].stop = 1;
      s.programme = [];
    });
    expect(faults.map(({ path }) => path)).toEqual(
      expect.arrayContaining(["layers[0].thickness", "layers[2].material", "watch[1].stop", "programme"]),
    );
    for (const value of [
      null,
      3,
      "x",
      [],
      {},
      { format: "unseam-stack/1" },
      { ...good(), layers: {}, watch: 3, beside: [1, null] },
    ])
      expect(() => readStack(value)).toThrow(InputFaults);
  });
});

test("words of the trade find a material", () => {
  expect(materialFromWords("glass")?.id).toBe("glass_aluminosilicate");
  expect(materialFromWords("Aluminium 7003")?.id).toBe("al7003");
  expect(materialFromWords("titanium grade 5")?.id).toBe("ti64");
  expect(materialFromWords("stainless steel")?.id).toBe("ss304");
  expect(materialFromWords("cheese")).toBeUndefined();
  expect(nearestMaterials("polycarbonat")).toContain("pc");
});
