import fc from "fast-check";
import jstat from "jstat";
import { describe, expect, it } from "vitest";
import {
  chiSquared,
  chiSquaredQuantile,
  coverageFactor,
  fisher,
  fisherQuantile,
  normalCdf,
  normalQuantile,
  studentCdf,
  studentQuantile,
} from "./distributions.ts";

const relative = (found: number, wanted: number) => Math.abs(found - wanted) / Math.max(Math.abs(wanted), 1e-300);

describe("quantiles", () => {
  it("agree with digits computed by SciPy 1.17.1", () => {
    const wanted: [number, number][] = [
      [studentQuantile(0.975, 1), 12.7062047361747],
      [studentQuantile(0.975, 5), 2.57058183563631],
      [studentQuantile(0.995, 16), 2.9207816224251],
      [studentQuantile(0.975, 16.7), 2.11270642066],
      [studentQuantile(0.995, 2.5), 7.16372813895],
      [normalQuantile(0.95), 1.64485362695147],
      [normalQuantile(0.975), 1.95996398454005],
      [normalQuantile(0.999), 3.09023230616781],
      [chiSquaredQuantile(0.95, 1), 3.84145882069412],
      [chiSquaredQuantile(0.95, 3), 7.81472790325118],
      [chiSquaredQuantile(0.05, 29), 17.7083661828],
      [chiSquaredQuantile(0.025, 5), 0.831211613487],
      [fisherQuantile(0.95, 3, 10), 3.70826481905],
    ];
    for (const [found, value] of wanted) expect(relative(found, value)).toBeLessThan(1e-11);
  });

  it("give the printed t table (two decimals; GUM Table G.2, recalled)", () => {
    expect([1, 2, 3, 5, 10, 20, 50].map((dof) => coverageFactor(0.95, dof).toFixed(2))).toEqual([
      "12.71",
      "4.30",
      "3.18",
      "2.57",
      "2.23",
      "2.09",
      "2.01",
    ]);
    expect(coverageFactor(0.95, Number.POSITIVE_INFINITY)).toBeCloseTo(1.959963984540054, 13);
  });

  it("agree with an independent library over the range in use", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 0.999, noNaN: true }), fc.integer({ min: 1, max: 200 }), (p, dof) => {
        expect(Math.abs(normalQuantile(p) - jstat.normal.inv(p, 0, 1))).toBeLessThan(1e-7);
        // That library's t is good to about 3e-8, its F to 5e-9.
        if (Math.abs(p - 0.5) > 0.01)
          expect(relative(studentQuantile(p, dof), jstat.studentt.inv(p, dof))).toBeLessThan(1e-6);
        expect(relative(chiSquaredQuantile(p, dof), jstat.chisquare.inv(p, dof))).toBeLessThan(1e-7);
        expect(relative(fisherQuantile(p, dof, 7), jstat.centralF.inv(p, dof, 7))).toBeLessThan(1e-6);
      }),
      { numRuns: 200 },
    );
  });

  it("undo their distribution functions, far into the tails and for odd degrees of freedom", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -30, max: -0.0001, noNaN: true }),
        fc.double({ min: 0.3, max: 1e5, noNaN: true }),
        (logTail, dof) => {
          const p = Math.exp(logTail);
          expect(relative(normalCdf(normalQuantile(p)), p)).toBeLessThan(1e-12);
          expect(relative(studentCdf(studentQuantile(p, dof), dof), p)).toBeLessThan(1e-9);
          if (dof > 1) expect(relative(chiSquared(chiSquaredQuantile(p, dof), dof).p, p)).toBeLessThan(1e-9);
          if (dof > 1) expect(relative(fisher(fisherQuantile(p, dof, 4.5), dof, 4.5).p, p)).toBeLessThan(1e-9);
        },
      ),
      { numRuns: 300 },
    );
  });

  it("go over into the normal without a jump", () => {
    for (const dof of [0.99e6, 1.01e6, 1e9, 1e11]) {
      // First term of the expansion: (z^3 + z) / (4 dof), Abramowitz & Stegun 26.7.5.
      const z = normalQuantile(0.975);
      expect(studentQuantile(0.975, dof) - z).toBeCloseTo((z ** 3 + z) / (4 * dof), 9);
    }
  });

  it("refuse what is no probability and no number of degrees of freedom", () => {
    expect(() => normalQuantile(1.2)).toThrow(/found 1.2, expected a probability/);
    expect(() => studentQuantile(0.9, 0)).toThrow(/degrees of freedom above 0/);
    expect(() => coverageFactor(95, 3)).toThrow(/a level between 0 and 1/);
  });
});
