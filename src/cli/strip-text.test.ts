import { describe, expect, it } from "vitest";
import { earlierPhone, measuredPhone } from "../../test/fixtures/small-figures.ts";
import { compareRecords, figuresOf } from "../core/measure/index.ts";
import { fallsOf } from "../figures/index.ts";
import { fallTexts, stripText } from "./strip-text.ts";

const { claims } = figuresOf(measuredPhone, earlierPhone);

describe("a claim in letters", () => {
  it("has the measured value on the ground where it holds just where the claim is supported", () => {
    for (const claim of claims) {
      const strip = stripText(claim, 61)!;
      expect(strip).toHaveLength(61);
      // An interval narrower than a sign is the value's sign alone.
      if (strip.includes("(")) expect(strip.indexOf("(")).toBeLessThan(strip.indexOf("o"));
      if (strip.includes(")")) expect(strip.indexOf("o")).toBeLessThan(strip.indexOf(")"));
      const beside = [...strip.slice(strip.indexOf("o") + 1)].find((sign) => sign === ":" || sign === ".");
      expect(beside, claim.id).toBe(claim.verdict === "supported" ? ":" : ".");
    }
  });
  it("keeps its distances: the threshold lies where it is on the axis", () => {
    const strip = stripText(
      { ...claims[0]!, value: 5, interval: [4, 6], threshold: 0, holds: "above", verdict: "supported" },
      131,
    )!;
    const [edge, low, middle, high] = ["|", "(", "o", ")"].map((sign) => strip.indexOf(sign)) as [
      number,
      number,
      number,
      number,
    ];
    expect((middle - edge) / (high - low)).toBeCloseTo(5 / 2, 1);
  });
  it("is none where nothing was measured, or all falls on one place", () => {
    expect(stripText({ ...claims[0]!, value: null }, 61)).toBeNull();
    expect(stripText({ ...claims[0]!, value: 3, interval: [3, 3], threshold: 3 }, 61)).toBeNull();
  });
});

describe("a change in letters", () => {
  it("has each bar where the last one ended, its head pointing the way", () => {
    const falls = fallsOf(compareRecords(measuredPhone, earlierPhone).mass);
    const rows = fallTexts(falls, 40);
    expect(rows).toHaveLength(falls.length);
    rows.forEach((row, i) => {
      expect(row.trim().startsWith("<")).toBe(falls[i]!.to < falls[i]!.from);
      expect(row.length).toBeLessThanOrEqual(41);
    });
    const begin = (row: string) => row.length - row.trimStart().length;
    for (let i = 1; i < rows.length; i++)
      if (falls[i]!.to < falls[i]!.from && falls[i - 1]!.to < falls[i - 1]!.from)
        expect(rows[i]!.length - 1).toBe(begin(rows[i - 1]!));
  });
});
