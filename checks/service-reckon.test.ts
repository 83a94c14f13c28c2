/**
 * The workshop's methods against published cases; the source stands beside each. What a source prints is checked to the digits
 * printed; what was recomputed here from its inputs says so.
 */
import { readFileSync } from "node:fs";
import fc from "fast-check";
import oracle from "jstat";
import { describe, expect, it } from "vitest";
import { InputError, InputFaults } from "../src/core/errors.ts";
import { KINDS, reckonCase } from "../src/core/service/reckon/case.ts";
import { backorders, binomial, gammaPoisson, poisson, smallestStock } from "../src/core/service/reckon/counts.ts";

interface Discrete {
  readonly poisson: { cdf(s: number, mean: number): number };
  readonly binomial: { cdf(s: number, n: number, p: number): number };
  readonly negbin: { cdf(s: number, shape: number, p: number): number };
}
const jstat = oracle as unknown as Discrete;
const published = JSON.parse(readFileSync(new URL("./data/service/published.json", import.meta.url), "utf8"));
// biome-ignore lint/suspicious/noExplicitAny: answers of every kind
const ask = (kind: string, inputs: object): any => reckonCase({ format: "unseam-reckon/1", kind, ...inputs });
const near = (found: number, wanted: number, tolerance: number): void =>
  expect(Math.abs(found - wanted), `${found} for ${wanted}`).toBeLessThanOrEqual(tolerance);

describe("docs/core/service.md", () => {
  const page = readFileSync(new URL("../docs/core/service.md", import.meta.url), "utf8");
  const examples = [...page.matchAll(/```json case\n(.*?)\n```\s+```json answer\n(.*?)\n```/gs)].map((match) => ({
    question: JSON.parse(match[1]!) as { kind: string },
    answer: JSON.parse(match[2]!) as Record<string, unknown>,
  }));
  const close = (found: unknown, printed: unknown, path: string): void => {
    if (typeof printed === "number") near(found as number, printed, 1e-5 * Math.abs(printed) + 1e-12);
    else if (printed !== null && typeof printed === "object") {
      for (const [key, one] of Object.entries(printed))
        close((found as Record<string, unknown>)[key], one, `${path}.${key}`);
    } else expect(found, path).toEqual(printed);
  };
  it("has an example for every kind", () => {
    expect(examples.map(({ question }) => question.kind).sort()).toEqual(Object.keys(KINDS).sort());
  });
  it.each(examples)("$question.kind answers as printed", ({ question, answer }) => {
    close(reckonCase(question), answer, question.kind);
  });
});

describe("worksheet", () => {
  it("Yang and El-Haik 2003, Table 10.5: every row, 104.3 s, 86.92 cents", () => {
    const { rows, cents, rate } = published.recorder;
    const answer = ask("worksheet", { rows, rate });
    expect(answer.seconds).toBe(104.3);
    expect(answer.cents.toFixed(2)).toBe("86.92");
    expect(answer.necessary).toBe(1);
    expect(answer.misprints).toEqual([]);
    answer.rows.forEach((row: { seconds: number; cents: number }, index: number) => {
      expect(row.seconds).toBe(rows[index].printed);
      near(row.cents, cents[index], 0.005);
    });
  });
  it("a published total for the way back of the same device is 1.255 of it (p. 373)", () => {
    const { rows } = published.recorder;
    expect((130.9 / ask("worksheet", { rows }).seconds).toFixed(3)).toBe("1.255");
  });
  it("dry irons: printed sums, sums by formula, misprinted rows, efficiencies", () => {
    const [a, b] = [published.irons.A, published.irons.B].map(({ rows }) => ask("worksheet", { rows }));
    expect([a.printedSeconds, a.seconds]).toEqual([204.14, 207.14]);
    expect([b.printedSeconds, b.seconds]).toEqual([174.08, 176.08]);
    expect(a.misprints.map((row: { task: string }) => row.task)).toEqual(["Handle", "Back cover"]);
    expect(b.misprints.map((row: { task: string }) => row.task)).toEqual(["Handle"]);
    expect([a, b].map(({ efficiency }) => efficiency.toFixed(4))).toEqual(["0.0869", "0.1022"]);
    expect((18 / a.printedSeconds).toFixed(4)).toBe("0.0882");
    expect((18 / b.printedSeconds).toFixed(4)).toBe("0.1034");
  });
});

describe("learning", () => {
  it("solutions of an operations management textbook, ch. 13 (13.1 to 13.5)", () => {
    const cases = [
      [300, 0.8, 5, 178.7, 0.05],
      [9, 0.7, 3, 5.114, 0.0005],
      [9, 0.7, 5, 3.932, 0.0005],
      [75, 0.85, 2, 63.75, 0.005],
      [75, 0.85, 8, 46.05, 0.02],
      [60, 0.95, 4, 54.15, 0.005],
    ] as const;
    for (const [T1, r, n, printed, digits] of cases)
      near(ask("learning", { model: "unit", T1, r, n }).T, printed, digits);
    const both = ask("learning", { model: "unit", T1: 300, r: 0.8, n: [5, 18] }).each;
    near(both[0].total, 1121.4, 0.1);
    near(both[1].total, 2914.8, 0.1);
  });
  it("Wright 80 %: mean of two 0.80, second 0.60, mean of four 0.64 (Wideman's glossary of project terms)", () => {
    const two = ask("learning", { model: "cumulative", T1: 1, r: 0.8, n: 2 });
    near(two.average, 0.8, 1e-12);
    near(two.T, 0.6, 1e-12);
    near(ask("learning", { model: "cumulative", T1: 1, r: 0.8, n: 4 }).average, 0.64, 1e-12);
  });
  it("Crawford 90 %: 0.634 at the twentieth; a printed 0.583 at the tenth of an 80 % curve is a slip", () => {
    near(ask("learning", { model: "unit", T1: 1, r: 0.9, n: 20 }).T, 0.634, 0.0005);
    const tenth = ask("learning", { model: "unit", T1: 1, r: 0.8, n: 10 }).T;
    near(tenth, 0.4765, 0.00005);
    expect(Math.abs(tenth - 0.583)).toBeGreaterThan(0.1);
    near(ask("learning", { model: "unit", T1: 1, r: 0.85, n: 10 }).T, 0.583, 0.0005);
  });
  it("30 then 25 min: r 0.8333, and 18 min from the seventh on", () => {
    const answer = ask("learning", { model: "unit", T1: 30, known: { n: 2, T: 25 }, standard: 18 });
    near(answer.r, 0.8333, 0.00005);
    near(answer.until.exact, 6.97, 0.005);
    expect(answer.until.n).toBe(7);
  });
  it("the rate is found again from any later time, in both models", () => {
    fc.assert(
      fc.property(
        fc.constantFrom("unit", "cumulative"),
        fc.double({ min: 0.55, max: 0.99, noNaN: true }),
        fc.integer({ min: 2, max: 500 }),
        (model, r, n) => {
          const { T } = ask("learning", { model, T1: 40, r, n });
          near(ask("learning", { model, T1: 40, known: { n, T } }).r, r, 1e-6);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe("lognormal", () => {
  it("46 repair times (Chhikara and Folks 1989); moments by MIL-HDBK-338B 5.6.2.1, recomputed with SciPy", () => {
    const answer = ask("lognormal", { x: published.repairTimes.x });
    expect(answer.n).toBe(46);
    near(answer.m, 0.658392378, 1e-8);
    near(answer.s, 1.113965814, 1e-8);
    near(answer.sMle, 1.101790959, 1e-8);
    near(answer.median, 1.93168442, 1e-7);
    near(answer.mean, 3.59251421, 1e-7);
    near(answer.p80, 4.93291288, 1e-7);
    near(answer.p95, 12.0697592, 1e-6);
    near(answer.cv, Math.sqrt(Math.expm1(answer.s ** 2)), 1e-12);
    near(answer.sample.mean, 3.60652174, 1e-7);
    near(answer.sample.sd, 4.94419535, 1e-7);
    expect(answer.sample.median).toBe(1.75);
  });
});

describe("three points", () => {
  it("5, 8, 14: PERT 8.5 and 1.5 as published, triangle 9.0 and 1.871 by its formula", () => {
    const answer = ask("three-point", { a: 5, m: 8, b: 14 });
    expect([answer.pert.mean, answer.pert.sd, answer.triangular.mean]).toEqual([8.5, 1.5, 9]);
    near(answer.triangular.sd, 1.870829, 1e-6);
    near(answer.betaPert.sd, 1.6583124, 1e-6);
  });
  it("six tasks of the PM Knowledge Center's PERT page: A-B-E-F, 15, P(by 17) 0.77", () => {
    const answer = ask("three-point", {
      tasks: { A: [2, 5, 8], B: [1, 2, 9], C: [0.25, 0.5, 3.75], D: [1, 1, 7], E: [1, 2, 9], F: [1, 3, 11] },
      pred: { B: ["A"], C: ["A"], D: ["B"], E: ["B", "C"], F: ["D", "E"] },
      due: 17,
    });
    expect(answer.criticalPath).toEqual(["A", "B", "E", "F"]);
    expect(answer.T).toBe(15);
    near(answer.pathVariance, 7.33333333, 1e-8);
    near(answer.probability, 0.769909532, 1e-8);
    expect(answer.te).toEqual({ A: 5, B: 3, C: 1, D: 2, E: 3, F: 4 });
    // D competes with E, so the finish by simulation is later than along the one path.
    expect(answer.simulated.mean).toBeGreaterThan(15);
    expect(answer.slack.D).toBeCloseTo(1, 12);
  });
  it("one task alone: the simulated mean is PERT's", () => {
    const { simulated } = ask("three-point", { tasks: { A: [2, 5, 14] }, trials: 200_000 });
    near(simulated.mean, 6, 0.02);
  });
});

describe("stock", () => {
  it("Poisson: about 73.6 % at 1 and 99.63 % at 4 for mean 1; 64.7 % at 3 for mean 3 (published spares examples)", () => {
    near(ask("poisson-stock", { lambda: 1, s: 1 }).cdf, 0.735758882, 1e-9);
    near(ask("poisson-stock", { lambda: 1, s: 4 }).cdf, 0.996340153, 1e-9);
    near(ask("poisson-stock", { lambda: 3, s: 3 }).cdf, 0.647231889, 1e-9);
    const { least } = ask("poisson-stock", { lambda: 3, service: [0.8, 0.9, 0.95, 0.99] });
    expect(least.map((one: { s: number }) => one.s)).toEqual([4, 5, 6, 8]);
  });
  it("(S-1, S) with mean 1: backorders 1, 0.368, 0.104, 0.0233", () => {
    const { given } = ask("poisson-stock", { lambda: 1, s: [0, 1, 2, 3] });
    [1, 0.368, 0.104, 0.0233].forEach((printed, s) => {
      near(given[s].backorders, printed, 0.0005);
    });
  });
  it("order up to: 1.5 a day, lead 3, daily review (textbook problem; answers recomputed)", () => {
    const answer = ask("poisson-stock", { rate: 1.5, lead: 3, review: 1, s: [8, 9, 10], h: 0.01, b: 6 });
    expect([answer.mean, answer.onOrder]).toEqual([6, 4.5]);
    near(answer.given[0].short, 0.152762506, 1e-8);
    near(answer.given[0].backorders, 0.314021389, 1e-8);
    near(answer.given[2].backorders, 0.0773348661, 1e-8);
    near(answer.ratio, 0.998336106, 1e-8);
    expect(answer.best.s).toBe(14);
    near(answer.best.cdf, 0.998599646, 1e-8);
  });
  it("40 devices of which each needs the part with 8 %: six (binomial, recomputed)", () => {
    const answer = ask("poisson-stock", { n: 40, p: 0.08, service: 0.95 });
    expect([answer.model, answer.s]).toEqual(["binomial", 6]);
    near(answer.cdf, 0.962357788, 1e-8);
  });
  it("no demand: nothing to keep, and said so", () => {
    expect(ask("poisson-stock", { lambda: 0, service: 0.95 })).toMatchObject({ s: 0, cdf: 1, backorders: 0 });
    expect(ask("poisson-stock", { lambda: 0, service: 0.95 }).warnings[0]).toMatch(/No demand/);
  });
  it("newsvendor: Cachon and Terwiesch ch. 12, Q12.1: 234.5, by rounded table 235.2", () => {
    const answer = ask("newsvendor", { mu: 200, sd: 80, cu: 8, co: 4 });
    near(answer.Q, 234.458184, 1e-5);
    near(answer.z, 0.4307273, 1e-6);
    near(answer.Q, 235.2, 1);
  });
  it("newsvendor for a part: Poisson 4, 18 against 5 (recomputed)", () => {
    const answer = ask("newsvendor", { lambda: 4, cu: 18, co: 5 });
    near(answer.ratio, 0.782608696, 1e-8);
    expect(answer.S).toBe(5);
    expect(answer.costs.map((one: { Q: number }) => one.Q)).toEqual([4, 5, 6]);
    [17.973747, 14.4369965, 14.4949954].forEach((cost, index) => {
      near(answer.costs[index].cost, cost, 1e-6);
    });
  });
  it("agrees with sums and with another library over many means", () => {
    for (const mean of [0.01, 0.4, 1, 3.3, 12, 47]) {
      const one = poisson(mean);
      for (const s of [0, 1, 3, 10, 50]) near(one.cdf(s), jstat.poisson.cdf(s, mean), 1e-10);
      // E[(X - s)+] straight from its definition.
      for (const s of [0, 1, 4, 20]) {
        let sum = 0;
        let term = Math.exp(-mean);
        for (let k = 0; k < 400; k += 1) {
          if (k > s) sum += (k - s) * term;
          term *= mean / (k + 1);
        }
        near(backorders(one, s), sum, 1e-9);
      }
    }
    for (const [n, p] of [
      [1, 0.3],
      [40, 0.08],
      [300, 0.5],
    ] as const)
      for (const s of [0, 1, 5, 150]) near(binomial(n, p).cdf(s), s >= n ? 1 : jstat.binomial.cdf(s, n, p), 1e-9);
    for (const s of [0, 2, 7]) near(gammaPoisson(3, 2, 4).cdf(s), jstat.negbin.cdf(s, 3, 2 / 6), 1e-10);
  });
  it("the stock found keeps the level and one less does not", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 5000, noNaN: true }),
        fc.double({ min: 0.5, max: 0.9999, noNaN: true }),
        (mean, level) => {
          const counts = poisson(mean);
          const s = smallestStock(counts, level);
          expect(counts.cdf(s)).toBeGreaterThanOrEqual(level - 1e-9);
          if (s > 0) expect(counts.cdf(s - 1)).toBeLessThan(level + 1e-9);
        },
      ),
      { numRuns: 100 },
    );
  });
});

describe("demand", () => {
  it("is a negative binomial, wider than the Poisson of the point rate, and near it with many events", () => {
    const few = ask("demand", { events: 3, exposure: 6, horizon: 2, service: 0.95 });
    expect(few.variance).toBeGreaterThan(few.mean);
    expect(few.s).toBeGreaterThan(few.pointRate.s);
    const many = ask("demand", { events: 300_000, exposure: 100_000, horizon: 2, service: 0.95 });
    expect(many.s).toBe(many.pointRate.s);
  });
  it("a prior that counts: gamma(2, 1) and 3 events in 4 months (conjugate rule, by hand)", () => {
    const answer = ask("demand", { shape: 2, rate: 1, events: 3, exposure: 4, horizon: 5 });
    expect([answer.shape, answer.rate, answer.mean, answer.variance]).toEqual([5, 5, 5, 10]);
  });
});

describe("repair or replace", () => {
  it("82.2 with damage, 83.33 with retries, 275.08 at most (recomputed)", () => {
    const answer = ask("replace-limit", {
      part: 45,
      labour: 30,
      p_damage: 0.06,
      damage_cost: 120,
      p_fail_retry: 0.1,
      replace: 299,
      p_success: 0.92,
    });
    near(answer.expected, 82.2, 1e-9);
    near(answer.withRetries, 83.3333333, 1e-6);
    near(answer.limit, 275.08, 1e-9);
    expect(answer.repair).toBe(true);
  });
  it("unequal lives by the capital recovery factor: 299 new for four years, two more at 5 %: 156.79", () => {
    near(ask("replace-limit", { replace: 299, lifeNew: 4, lifeRepaired: 2, rate: 0.05 }).limit, 156.79, 0.005);
    // Without interest the price is shared evenly over the years.
    near(ask("replace-limit", { replace: 300, lifeNew: 4, lifeRepaired: 1, rate: 0 }).limit, 75, 1e-9);
  });
  it("few jobs give a wide interval, many a narrow one around the same limit", () => {
    const width = (successes: number, trials: number) => {
      const { interval, limit } = ask("replace-limit", { replace: 300, successes, trials });
      expect(interval[0]).toBeLessThan(limit);
      expect(interval[1]).toBeGreaterThan(limit);
      return interval[1] - interval[0];
    };
    expect(width(9, 10)).toBeGreaterThan(5 * width(900, 1000));
  });
});

describe("bad cases are refused in words", () => {
  it.each([
    ["worksheet", { rows: [] }, "rows"],
    ["worksheet", { rows: [{ operatoin: 3 }] }, "operatoin"],
    ["worksheet", { rows: [{ operation: -1 }] }, "operation"],
    ["learning", { T1: 30, r: 0.8, n: 2 }, "model"],
    ["learning", { model: "unit", T1: 30, r: 1.2, n: 2 }, "r"],
    ["learning", { model: "unit", T1: 30, r: 0.8, n: 0 }, "n"],
    ["learning", { model: "cumulative", T1: 30, r: 0.3, n: 2 }, "0.5"],
    ["lognormal", { x: [1, -2] }, "x[1]"],
    ["lognormal", {}, "times x"],
    ["three-point", { a: 5, m: 3, b: 9 }, "order"],
    ["three-point", { tasks: { A: [1, 2, 3] }, pred: { A: ["A"] } }, "circle"],
    ["three-point", { tasks: { A: [1, 2, 3] }, pred: { A: ["Q"] } }, "name of a task"],
    ["poisson-stock", { service: 0.95 }, "no demand"],
    ["poisson-stock", { lambda: -1, service: 0.95 }, "lambda"],
    ["poisson-stock", { lambda: 1, service: 1 }, "service"],
    ["poisson-stock", { rate: 1, service: 0.9 }, "lead"],
    ["newsvendor", { mu: 1, sd: 1, price: 4, cost: 5 }, "margin is negative"],
    ["newsvendor", { demand: [{ value: 1, chance: 0.4 }], cu: 1, co: 1 }, "add up to 1"],
    ["demand", { events: 3, horizon: 1 }, "exposure"],
    ["replace-limit", { replace: 300, lifeNew: 4 }, "lifeRepaired"],
    ["replace-limit", { replace: 300, successes: 9, trials: 8 }, "trials"],
  ])("%s %j", (kind, inputs, words) => {
    let text = "";
    try {
      ask(kind, inputs);
    } catch (error) {
      expect(error instanceof InputError || error instanceof InputFaults).toBe(true);
      text = (error as Error).message;
    }
    expect(text).toContain(words);
  });
  it("other formats and kinds", () => {
    expect(() => reckonCase({ format: "unseam-measure/1", kind: "worksheet" })).toThrow(/unseam-reckon\/1/);
    expect(() => ask("poison-stock", {})).toThrow(/nearest: poisson-stock/);
    expect(() => reckonCase([])).toThrow(/an object/);
  });
});
