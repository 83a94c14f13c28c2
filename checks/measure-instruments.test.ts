/** Legal and makers' error limits of instruments against their tables. */
import { describe, expect, it } from "vitest";
import {
  caliperLimit,
  INSTRUMENT_PRESETS,
  instrumentFromPreset,
  micrometerLimit,
  SCALE_TABLE_3,
  scaleLimit,
} from "../src/core/measure/index.ts";
import { Instrument } from "../src/core/record/index.ts";

describe("scales, OIML R 76-1:2006 Table 6 (read in a secondary copy)", () => {
  it.each([
    ["III", 0.1, 30, 0.05],
    ["III", 0.1, 187.4, 0.1],
    ["III", 0.1, 400, 0.15],
    ["II", 0.1, 187.4, 0.05],
    ["III", 1, 187.4, 0.5],
    ["III", 0.1, 50.0, 0.05],
    ["III", 0.1, 50.1, 0.1],
    ["I", 0.001, 50, 0.0005],
    ["IIII", 5, 250, 2.5],
    ["IIII", 5, 1000, 5],
  ] as const)("class %s, e %f g, load %f g: ± %f g", (scaleClass, e, load, limit) => {
    expect(scaleLimit(scaleClass, e, load)).toBeCloseTo(limit, 12);
    // In service the limits are twice those on verification.
    expect(scaleLimit(scaleClass, e, load, true)).toBeCloseTo(2 * limit, 12);
  });

  it("refuses a load beyond the class", () => {
    expect(() => scaleLimit("III", 0.1, 1001)).toThrow(/at most 10000 e for class III/);
    expect(() => scaleLimit("III", 0, 1)).toThrow(/above 0/);
    expect(() => scaleLimit("III", 0.1, -1)).toThrow(/load/);
  });

  it("has the rows of Table 3 that a bench can meet", () => {
    const row = (name: string, e: number) =>
      SCALE_TABLE_3.find((one) => one.class === name && e >= one.from && e <= one.to);
    expect(row("II", 0.01)).toMatchObject({ least: 100, most: 100_000, minimum: 20 });
    expect(row("II", 0.1)).toMatchObject({ least: 5_000, minimum: 50 });
    expect(row("III", 0.5)).toMatchObject({ least: 100, most: 10_000, minimum: 20 });
    expect(row("III", 5)).toMatchObject({ least: 500 });
    expect(row("IIII", 5)).toMatchObject({ most: 1_000, minimum: 10 });
  });
});

describe("length, DIN 862 and DIN 863 (read in secondary copies)", () => {
  it("caliper: 20 um to 100 mm, 30 um to 600 mm, 20 um more inside or in depth", () => {
    expect([50, 100, 101, 600].map((length) => caliperLimit(length))).toEqual([0.02, 0.02, 0.03, 0.03]);
    expect(caliperLimit(50, "inside-or-depth")).toBeCloseTo(0.04, 12);
    expect(() => caliperLimit(601)).toThrow(/0 to 600 mm/);
  });
  it("micrometer: 4, 5 and 6 um", () => {
    expect([10, 25, 50, 75, 100, 125, 150].map((length) => micrometerLimit(length) * 1000)).toEqual([
      4, 4, 4, 5, 5, 6, 6,
    ]);
    expect(() => micrometerLimit(151)).toThrow(/0 to 150 mm/);
  });
});

describe("presets", () => {
  it.each(INSTRUMENT_PRESETS.map((preset) => [preset.id, preset] as const))(
    "%s is a valid instrument and names its source",
    (id, preset) => {
      const instrument = instrumentFromPreset(id, "mine");
      expect(Instrument.safeParse(instrument).success).toBe(true);
      expect(preset.source.length).toBeGreaterThan(10);
    },
  );
  it("an unknown one names those there are", () => {
    expect(() => instrumentFromPreset("ruler-1", "x")).toThrow(/one of scale-class-II/);
  });
  it("an uncertified pocket scale has no legal limit", () => {
    expect(instrumentFromPreset("pocket-scale-0.1", "x").maxError).toBeUndefined();
  });
});
