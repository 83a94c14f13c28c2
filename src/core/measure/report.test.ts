import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { probabilityText, resultText, roundTo, roundUncertainty } from "./report.ts";

describe("reporting", () => {
  it.each([
    [27.3204, 0.0506, "g", "27.320 ± 0.051 g"],
    [27.3, 0.16, "g", "27.30 ± 0.16 g"],
    [10.05762, 0.027, "ohm", "10.058 ± 0.027 ohm"],
    [50000838, 93.4, "nm", "50000838 ± 93 nm"],
    [50000838, 934, "nm", "50000840 ± 930 nm"],
    [0.1234, 0.0995, "", "0.12 ± 0.10"],
    [-0.0004, 0.01, "mm", "0.000 ± 0.010 mm"],
    [1.7266e-5, 3.44e-6, "", "(1.73 ± 0.34) × 10^-5"],
    [12, 0, "1", "12"],
    [0.3, 0.1 + 0.2, "g", "0.30 ± 0.30 g"],
  ])("%f with U %f %s is written %s", (value, U, unit, text) => {
    expect(resultText(value, U, unit)).toBe(text);
  });

  it("rounds halves as they are written, not as they are stored", () => {
    expect(roundTo(1.005, -2)).toBe(1.01);
    expect(roundTo(-2.5, 0)).toBe(-3);
    expect(roundTo(0.285, -2)).toBe(0.29);
  });

  it("rounds to the number that its decimal text means", () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e12, max: 1e12 }), fc.integer({ min: -15, max: 6 }), (n, place) => {
        const meant = Number(`${n}e${place}`);
        expect(roundTo(meant, place)).toBe(meant === 0 ? 0 : meant);
      }),
    );
  });

  it("keeps two digits of an uncertainty, within five per cent of it, and never makes it smaller when rounding up", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (u) => {
        const near = roundUncertainty(u);
        expect(Math.abs(near.value / u - 1)).toBeLessThanOrEqual(0.0501);
        const digits = Math.round(near.value / 10 ** near.place);
        expect(digits).toBeGreaterThanOrEqual(10);
        expect(digits).toBeLessThanOrEqual(99);
        const up = roundUncertainty(u, "up");
        expect(up.value).toBeGreaterThanOrEqual(u * (1 - 1e-11));
        expect(up.value / u).toBeLessThanOrEqual(1.1001);
      }),
    );
  });

  it("never says that something is certain", () => {
    expect(probabilityText(1)).toBe("more than 99.9 %");
    expect(probabilityText(0)).toBe("less than 0.1 %");
    expect(probabilityText(0.767)).toBe("77 %");
  });
});
