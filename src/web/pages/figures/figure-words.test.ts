import { describe, expect, it } from "vitest";
import { measuredPhone } from "../../../../test/fixtures/small-figures.ts";
import { figuresOf } from "../../../core/measure/index.ts";
import { closureWords, intervalWords, nameIn } from "./figure-words.ts";

const { mass, thickness, readings } = figuresOf({ ...measuredPhone, claims: [] });

describe("words of figures", () => {
  it("say what is left over with its interval, and what to do where it is too much", () => {
    expect(closureWords(mass, "g")).toBe(
      "0.30 ± 0.19 g unaccounted for: more than the instruments explain. Look for what was not measured, or measured twice.",
    );
    expect(closureWords({ ...thickness[0]!, residual: -0.1, closes: true }, "mm")).toBe(
      "0.100 ± 0.087 mm too much: it closes within what the instruments can tell.",
    );
    expect(closureWords({ residual: 0.1, U: 0.2, closes: null }, "g")).toMatch(/parts are missing/);
    expect(closureWords({ residual: null, U: null, closes: null }, "g")).toMatch(/cannot be closed/);
  });
  it("say how an interval came about", () => {
    const device = readings.find((one) => one.id === "m-device")!;
    expect(intervalWords(device)).toBe(
      "standard uncertainty 0.031 g, degrees of freedom infinite, coverage factor 1.96 for 95 %",
    );
    expect(intervalWords({ u: 0, dof: Number.POSITIVE_INFINITY, k: 1.96, unit: "mAh" })).toBe("taken as exact");
  });
  it("name parts and the device", () => {
    expect(["battery", "device", "zero"].map(nameIn(measuredPhone))).toEqual(["Battery", "Study phone", "zero"]);
  });
});
