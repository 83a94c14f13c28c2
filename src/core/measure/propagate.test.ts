import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { monteCarlo } from "./monte-carlo.ts";
import { correlationOf, propagate } from "./propagate.ts";
import { seededRandom } from "./random.ts";
import { difference } from "./two-values.ts";

const u = fc.double({ min: 0.001, max: 2, noNaN: true });
const x = fc.double({ min: -50, max: 50, noNaN: true });

describe("propagation", () => {
  it("never gets surer by adding a part", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(x, u), { minLength: 1, maxLength: 12 }), (parts) => {
        const names = parts.map((_, i) => `m${i}`);
        const inputs = Object.fromEntries(parts.map(([value, spread], i) => [`m${i}`, { value, u: spread }]));
        const all = propagate(names.join(" + "), inputs).u;
        const fewer = propagate(names.slice(1).join(" + ") || "0*m0", inputs).u;
        expect(all).toBeGreaterThanOrEqual(fewer);
      }),
    );
  });

  it("lets a shared offset cancel in a difference and add in a sum", () => {
    fc.assert(
      fc.property(x, x, u, u, u, (a, b, ua, ub, offset) => {
        const inputs = { a: { value: a, u: ua }, b: { value: b, u: ub }, o: { value: 0, u: offset } };
        expect(propagate("(a + o) - (b + o)", inputs).u).toBeCloseTo(Math.hypot(ua, ub), 12);
        expect(propagate("(a + o) + (b + o)", inputs).u).toBeCloseTo(Math.hypot(ua, ub, 2 * offset), 12);
        const [va, vb] = [Math.hypot(ua, offset), Math.hypot(ub, offset)];
        const apart = difference({ value: a, u: va }, { value: b, u: vb }, { covariance: offset ** 2 });
        expect(apart.u).toBeCloseTo(Math.hypot(ua, ub), 9);
      }),
    );
  });

  it("gives the exact variance of a product of correlated normals at second order", () => {
    // Var(xy) = μy²σx² + μx²σy² + 2μxμyρσxσy + σx²σy²(1 + ρ²), Goodman (1960) and later texts; recalled, and checked by draws.
    fc.assert(
      fc.property(x, x, u, u, fc.double({ min: -0.95, max: 0.95, noNaN: true }), (mx, my, sx, sy, r) => {
        const inputs = { x: { value: mx, u: sx }, y: { value: my, u: sy } };
        const exact =
          my ** 2 * sx ** 2 + mx ** 2 * sy ** 2 + 2 * mx * my * r * sx * sy + sx ** 2 * sy ** 2 * (1 + r ** 2);
        const found = propagate("x*y", inputs, { correlations: [["x", "y", r]], order: 2 });
        expect(found.u ** 2 / exact).toBeCloseTo(1, 6);
        expect(found.bias).toBeCloseTo(r * sx * sy, 6);
      }),
    );
    const drawn = monteCarlo(
      "x*y",
      { x: { value: 2, u: 0.5 }, y: { value: -1, u: 0.8 } },
      { correlations: [["x", "y", 0.6]], trials: 200_000, seed: 7 },
    );
    const exact = propagate(
      "x*y",
      { x: { value: 2, u: 0.5 }, y: { value: -1, u: 0.8 } },
      { correlations: [["x", "y", 0.6]], order: 2 },
    );
    expect(Math.abs(drawn.u / exact.u - 1)).toBeLessThan(0.01);
  });

  it("adds third derivatives at second order: Var(x³) = 9μ⁴σ² + 36μ²σ⁴ to that order (15σ⁶ is beyond it)", () => {
    const found = propagate("x^3", { x: { value: 2, u: 0.1 } }, { order: 2 });
    expect(found.u ** 2).toBeCloseTo(9 * 16 * 0.01 + 36 * 4 * 1e-4, 10);
  });

  it("does not depend on units", () => {
    const grams = propagate("(a - b)/b", { a: { value: 41.2, u: 0.05, dof: 4 }, b: { value: 48.8, u: 0.07, dof: 9 } });
    const kilos = propagate("(a - b)/b", {
      a: { value: 0.0412, u: 0.00005, dof: 4 },
      b: { value: 0.0488, u: 0.00007, dof: 9 },
    });
    expect(kilos.u).toBeCloseTo(grams.u, 14);
    expect(kilos.dof).toBeCloseTo(grams.dof, 8);
  });

  it("counts correlated repeats as one component, and says so", () => {
    const inputs = { a: { value: 1, u: 0.1, dof: 4 }, b: { value: 1, u: 0.1, dof: 4 } };
    expect(propagate("a + b", inputs).dof).toBeCloseTo(8, 10);
    const tied = propagate("a + b", inputs, { correlations: [["a", "b", 0.5]] });
    expect(tied.dof).toBeCloseTo(4, 10);
    expect(tied.warnings.join()).toMatch(/correlated/);
  });

  it("gives the correlation of two results (GUM H.2: r(R,X) -0.588, r(X,Z) 0.993)", () => {
    const inputs = {
      V: { value: 4.999, u: 0.00320936 },
      I: { value: 0.019661, u: 0.00947101e-3 },
      phi: { value: 1.04446, u: 0.000752064 },
    };
    const given = [
      ["V", "I", -0.355311],
      ["V", "phi", 0.857624],
      ["I", "phi", -0.645111],
    ] as const;
    expect(correlationOf(["V/I*cos(phi)", "V/I*sin(phi)"], inputs, given)).toBeCloseTo(-0.58843, 5);
    expect(correlationOf(["V/I*cos(phi)", "V/I"], inputs, given)).toBeCloseTo(-0.485259, 5);
    expect(correlationOf(["V/I*sin(phi)", "V/I"], inputs, given)).toBeCloseTo(0.992512, 5);
  });

  it.each([
    ["1/a", { a: { value: 0, u: 1 } }, /finite value/],
    ["sqrt(a)", { a: { value: 0, u: 1 } }, /no derivative of sqrt\(a\) by a/],
    ["abs(a)", { a: { value: 0, u: 1 } }, /no derivative/],
    ["a", { a: { value: 0, u: -1 } }, /inputs\.a\.u: found -1/],
  ])("refuses %s where it cannot be", (model, inputs, message) => {
    expect(() => propagate(model, inputs)).toThrow(message);
  });

  it("refuses correlations that cannot hold together", () => {
    const inputs = { a: { value: 1, u: 1 }, b: { value: 1, u: 1 }, c: { value: 1, u: 1 } };
    const impossible = [
      ["a", "b", 0.9],
      ["b", "c", 0.9],
      ["a", "c", -0.9],
    ] as const;
    expect(() => propagate("a+b+c", inputs, { correlations: impossible })).toThrow(/can hold together/);
    expect(() => propagate("a", inputs, { correlations: [["a", "b", 1.2]] })).toThrow(/from -1 to 1/);
    expect(() => propagate("a", inputs, { correlations: [["a", "z", 0.2]] })).toThrow(/two different inputs/);
  });
});

describe("Monte Carlo", () => {
  it("is the same for the same seed and another for another", () => {
    const run = (seed: number) => monteCarlo("a", { a: { value: 1, u: 1 } }, { trials: 1000, seed });
    expect(run(5)).toEqual(run(5));
    expect(run(5).value).not.toBe(run(6).value);
    expect(run(5).value).not.toBe(run(5 + 2 ** 32).value);
  });

  it("agrees with the law of propagation where the model is straight", () => {
    fc.assert(
      fc.property(x, u, u, fc.integer({ min: 0, max: 2 ** 31 }), (value, ua, ub, seed) => {
        const inputs = { a: { value, u: ua }, b: { value: 0, distribution: "triangular" as const, u: ub } };
        const drawn = monteCarlo("a - 2*b", inputs, { trials: 20_000, seed });
        const exact = Math.hypot(ua, 2 * ub);
        expect(Math.abs(drawn.u / exact - 1)).toBeLessThan(0.04);
        expect(Math.abs(drawn.value - value)).toBeLessThan((6 * exact) / Math.sqrt(20_000));
        expect(drawn.shortest[1] - drawn.shortest[0]).toBeLessThanOrEqual(drawn.interval[1] - drawn.interval[0]);
      }),
      { numRuns: 20 },
    );
  });

  it("draws t where an input has degrees of freedom: sd √(ν/(ν-2)) (JCGM 101, 6.4.9)", () => {
    const drawn = monteCarlo("a", { a: { value: 0, u: 1, dof: 8 } }, { trials: 400_000, seed: 3 });
    expect(drawn.u).toBeCloseTo(Math.sqrt(8 / 6), 1);
    expect(drawn.interval[1]).toBeCloseTo(2.306, 1);
  });

  it("draws correlated repeats as one t, and refuses what cannot be drawn together", () => {
    const pair = { a: { value: 0, u: 1, dof: 6 }, b: { value: 0, u: 1, dof: 6 } };
    const drawn = monteCarlo("a - b", pair, { correlations: [["a", "b", 0.5]], trials: 300_000, seed: 4 });
    expect(Math.abs(drawn.u / Math.sqrt(6 / 4) - 1)).toBeLessThan(0.02);
    const uneven = { ...pair, b: { value: 0, u: 1, dof: 9 } };
    expect(() => monteCarlo("a - b", uneven, { correlations: [["a", "b", 0.5]] })).toThrow(
      /the same degrees of freedom/,
    );
    const flat = { ...pair, b: { value: 0, half: 1, distribution: "rectangular" as const } };
    expect(() => monteCarlo("a - b", flat, { correlations: [["a", "b", 0.5]] })).toThrow(/normal or t/);
  });

  it.each([
    [{ a: { value: 0, distribution: "trapezoid" as const, half: 1 } }, {}, /trapezoid's top/],
    [{ a: { value: 0, distribution: "rectangular" as const, half: -1 } }, {}, /half: found -1/],
    [{ a: { value: 0 } }, {}, /neither u nor half/],
    [{ a: { value: 0, u: 1 } }, { trials: 3 }, /trials: found 3/],
  ])("refuses %j %j", (inputs, options, message) => {
    expect(() => monteCarlo("a", inputs, options)).toThrow(message);
  });

  it("names the inputs at which the model breaks down", () => {
    expect(() => monteCarlo("log(a)", { a: { value: 0.1, u: 1 } }, { trials: 1000 })).toThrow(/at a = -/);
  });

  it("has uniform draws without pattern: mean, variance and lag-1 of 10^5 within five sigma", () => {
    const { uniform } = seededRandom(11);
    const draws = Array.from({ length: 100_000 }, uniform);
    const mean = draws.reduce((a, b) => a + b, 0) / draws.length;
    expect(Math.abs(mean - 0.5)).toBeLessThan(5 / Math.sqrt(12 * draws.length));
    const lag = draws.slice(1).reduce((s, d, i) => s + (d - 0.5) * (draws[i]! - 0.5), 0) / draws.length;
    expect(Math.abs(lag * 12)).toBeLessThan(5 / Math.sqrt(draws.length));
  });
});
