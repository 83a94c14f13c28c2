import { describe, expect, test } from "vitest";
import { InputFaults } from "../errors.ts";
import { requireRecord, type TeardownRecord } from "../record/index.ts";
import { covers, heatOfRelease, stackFromZone } from "./from-record.ts";
import { warmWindow } from "./window.ts";

//   plan, 70 x 140                      section
//   +--------------+ cover, frame ring  cover 0 .. 0.6
//   | +----------+ |                    rim (tape) under it at the ring; a gap of air over the cell
//   | |   cell   | |                    frame 0.8 .. 6, cell 1 .. 5.5
//   | +----------+ |                    display 6.2 .. 7.4, glued to the frame
//   +--------------+
const box = (x0: number, y0: number, x1: number, y1: number) => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

// biome-ignore lint/suspicious/noExplicitAny: records that are wrong on purpose
type Loose = any;
const raw = (): Loose => ({
  format: "unseam/1",
  id: "0c0c0c0c-0000-4000-8000-000000000001",
  device: { name: "Slab", kind: "smartphone", foldable: false },
  sessions: [{ id: "s1", started: "2026-03-01", kind: "first-look", room: { value: 71.6, unit: "degF" } }],
  parts: [
    {
      id: "frame",
      name: "Frame",
      role: "frame",
      base: true,
      material: "al6013",
      outline: [box(0, 0, 70, 140), box(5, 5, 65, 135)],
      level: [0.8, 6],
    },
    {
      id: "cover",
      name: "Back glass",
      role: "back-cover",
      material: "glass",
      outline: [box(0, 0, 70, 140)],
      level: [0, 0.6],
    },
    { id: "cell", name: "Battery", role: "battery", outline: [box(10, 20, 60, 120)], level: [1, 5.5] },
    {
      id: "display",
      name: "Display",
      role: "display",
      material: "kryptonite",
      outline: [box(0, 0, 70, 140)],
      level: [6.2, 7.4],
    },
  ],
  joints: [
    {
      id: "rim",
      kind: "tape",
      holds: ["cover", "frame"],
      bond: { thickness: 0.2, softensAt: 65 },
      releases: [
        {
          action: "slice",
          tools: ["blade"],
          seconds: 80,
          leaves: "spent",
          heat: { zone: "back", bond: 65, plate: 80, down: "back", seconds: 90, soft: 60, passes: true },
        },
      ],
    },
    { id: "panel-glue", kind: "adhesive", holds: ["display", "frame"], releases: [] },
  ],
  tools: [{ id: "blade", name: "Thin blade", kind: "commercially-available" }],
  instruments: [],
  log: [],
  readings: [],
  claims: [],
  media: [],
  zones: [
    {
      id: "back",
      lines: [
        { name: "rim", at: [2, 70] },
        { name: "cell", at: [35, 70] },
      ],
    },
  ],
});
const record = (change: (r: Loose) => void = () => {}): TeardownRecord => {
  const value = raw();
  change(value);
  return requireRecord(value);
};
const faultsOf = (change: (r: Loose) => void, zone = "back") => {
  try {
    stackFromZone(record(change), zone);
  } catch (error) {
    if (error instanceof InputFaults) return error.faults;
    throw error;
  }
  return [];
};

describe("the layers under a place", () => {
  const { stack, notes } = stackFromZone(record(), "back");
  const shown = (line: number) =>
    stack.lines[line].layers.map(({ name, thickness }) => `${name} ${Math.round(thickness * 1000) / 1000}`);

  test("outlines with holes, levels, bonds and gaps, from the heated face on", () => {
    expect(shown(0)).toEqual(["cover 0.6", "rim 0.2", "frame 5.2", "panel-glue 0.2", "display 1.2"]);
    expect(shown(1)).toEqual(["cover 0.6", "air 1 0.4", "cell 4.5", "air 2 0.7", "display 1.2"]);
  });

  test("materials by id, by words, by role, and each assumption is said", () => {
    const id = (line: number, name: string) =>
      stack.lines[line].layers.find((layer) => layer.name === name)?.materialId;
    expect(id(0, "frame")).toBe("al6013");
    expect(id(0, "cover")).toBe("glass_aluminosilicate");
    expect(id(1, "cell")).toBe("li_pouch");
    expect(id(0, "rim")).toBe("psa_foam");
    const text = notes.join("\n");
    expect(text).toMatch(/"glass" was taken for glass_aluminosilicate/);
    expect(text).toMatch(/cell: no material is recorded; li_pouch was assumed/);
    expect(text).toMatch(/kryptonite" is not in the property table/);
    expect(text).toMatch(/thickness of panel-glue is not recorded; 0.2 mm/);
  });

  test("room in degF, the usual programme and watches, marked", () => {
    expect(stack.start).toBeCloseTo(22, 9);
    expect(stack.programme).toEqual([
      { seconds: 90, hot: { temperature: 80, h: 300 }, cool: { temperature: stack.start, h: 8 } },
    ]);
    expect(stack.lines[0].watch.map(({ layer, soft }) => [layer, soft])).toContainEqual(["rim", 65]);
    expect(stack.lines[1].watch.find(({ layer }) => layer === "cell")).toMatchObject({
      plan: 55,
      stop: 60,
      counted: { above: 45, seconds: 900 },
    });
    expect(notes.join("\n")).toMatch(/no programme; a pad of 80 degC/);
  });

  test("heated from the display's side the order turns", () => {
    const turned = stackFromZone(
      record((r) => {
        r.joints[0].releases[0].heat.down = "front";
      }),
      "back",
    );
    expect(turned.stack.lines[0].layers[0].name).toBe("display");
  });

  test("its own programme and watches are read as in a stack", () => {
    const own = stackFromZone(
      record((r) => {
        r.zones[0].programme = [{ seconds: 50, hot: { temperature: 85, h: 250 }, cool: { temperature: 22, h: 8 } }];
        r.zones[0].watch = [
          { name: "rim, inner", layer: "rim", face: "far", soft: 66 },
          { name: "cover", layer: "cover", face: "near", stop: 90 },
        ];
      }),
      "back",
    );
    expect(own.stack.programme[0].hot.temperature).toBe(85);
    // A face that lies in both lines is watched in both, under names of its own.
    expect(own.stack.lines.map((line) => line.watch.map(({ name }) => name))).toEqual([
      ["rim, inner", "cover"],
      ["cover (cell)"],
    ]);
  });

  test("inside and outside of a ring with a hole", () => {
    const outline = [box(0, 0, 10, 10), box(3, 3, 7, 7)] as [number, number][][];
    expect(covers(outline, [1, 1])).toBe(true);
    expect(covers(outline, [5, 5])).toBe(false);
    expect(covers(outline, [11, 5])).toBe(false);
    expect(covers(undefined, [1, 1])).toBe(false);
  });
});

describe("what cannot be built is refused with its path", () => {
  test("an unknown zone with the nearest, a place beside the device, a watch on nothing, a broken programme", () => {
    expect(faultsOf(() => {}, "bakc")[0].nearest).toBe("back");
    expect(faultsOf((r) => (r.zones[0].lines[1].at = [300, 0]))[0].path).toBe("zones[0].lines[1]");
    const watch = faultsOf((r) => (r.zones[0].watch = [{ name: "w", layer: "cel", face: "near", plan: 55 }]));
    expect(watch[0]).toMatchObject({ path: "zones[0].watch[0].layer", nearest: "cell" });
    expect(faultsOf((r) => (r.zones[0].programme = [{ seconds: -1 }])).map(({ path }) => path)).toContain(
      "zones[0].programme[0].seconds",
    );
  });
});

describe("what a release needs of heat", () => {
  test("heating, soft time and rounds agree with the window", () => {
    const slab = record((r) => {
      r.parts[0].outline[1] = box(2.5, 2.5, 67.5, 137.5);
    });
    const { stack } = stackFromZone(slab, "back");
    const window = warmWindow(stack);
    const heat = heatOfRelease(slab, "back", 80);
    expect(window.kind).toBe(heat.kind === "computed" ? "window" : "none");
    if (heat.kind !== "computed" || window.kind !== "window") return;
    expect(heat.seconds).toBeGreaterThanOrEqual(window.window.from - 0.01);
    expect(heat.rounds).toBeGreaterThanOrEqual(1);
    expect(heat.elapsed).toBeGreaterThanOrEqual(heat.seconds + 80 - 0.02);
    // The panel's stop is the highest cap; the cell's own is kept by the rounds.
    expect(heat.peak).toBeLessThanOrEqual(80);
    expect(heat.assumptions.length).toBeGreaterThan(0);
  });

  test("no bond under the places: refused", () => {
    expect(() =>
      heatOfRelease(
        record((r) => r.zones[0].lines.shift()),
        "back",
        80,
      ),
    ).toThrow(/no bond with a `soft` limit/);
  });
});
