/**
 * Worked examples of the heat-transfer handbooks: closed forms against the printed figures, and the product's finite
 * volumes against the closed forms wherever the case is a stack of layers. Exact values tightly; figures that a book read
 * off a chart loosely, as said beside them.
 */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readStack, simulate } from "../src/core/heat/index.ts";
import { type Body, bisect, discCentre, erfcx, semiInfinite, term, theta } from "./heat-closed-forms.ts";

const INCROPERA = "Incropera/DeWitt, Fundamentals of Heat and Mass Transfer, ch. 5";
const CENGEL = "Cengel, Heat and Mass Transfer: A Practical Approach, ch. 3 and 4";
const HOLMAN = "Holman, Heat Transfer, ch. 4";

interface Coefficients {
  source: string;
  rows: { Bi: number; wall: [number, number]; cyl: [number, number]; sph: [number, number] }[];
}
const table = JSON.parse(
  readFileSync(new URL("./data/heat/one-term-coefficients.json", import.meta.url), "utf8"),
) as Coefficients;

/** A single layer with k and rho c; the product wants rho and cp apart. */
function slab(L: number, k: number, alpha: number) {
  const rc = k / alpha;
  return { name: "slab", material: { k, rho: rc / 1000, cp: 1000 }, thickness: L * 1000 };
}
type EndOf = { temperature: number; h: number | null };

function faces(
  layers: object[],
  start: number,
  hot: EndOf,
  cool: EndOf,
  seconds: number,
  watch: [string, "near" | "far"][],
) {
  const answer = simulate(
    readStack({
      format: "unseam-stack/1",
      start,
      layers,
      programme: [{ seconds, hot, cool }],
      watch: watch.map(([layer, face], i) => ({ name: `w${i}`, layer, face })),
      report: [seconds],
    }),
  );
  return answer.faces.map(({ degC }) => degC[0]);
}

describe(`one-term coefficients (${table.source})`, () => {
  test.each(table.rows)("Bi $Bi", ({ Bi, wall, cyl, sph }) => {
    const bodies: [Body, [number, number]][] = [
      ["wall", wall],
      ["cylinder", cyl],
      ["sphere", sph],
    ];
    for (const [body, [zeta, C]] of bodies) {
      const found = term(body, Bi);
      expect(Math.abs(found.zeta - zeta)).toBeLessThan(1e-4);
      expect(Math.abs(found.C - C)).toBeLessThan(1e-4);
    }
  });

  test("the wall's first eigenvalue is the decay rate of the product's slab", () => {
    for (const Bi of [0.1, 1, 10]) {
      // L 10 mm, k 1, alpha 1e-6: Fo = t/100.
      const layers = [slab(0.01, 1, 1e-6)];
      const hot = { temperature: 0, h: 0 };
      const cool = { temperature: 0, h: Bi * 100 };
      const [a] = faces(layers, 1000, hot, cool, 100, [["slab", "near"]]);
      const [b] = faces(layers, 1000, hot, cool, 150, [["slab", "near"]]);
      expect(Math.log(a / b) / 0.5).toBeCloseTo(term("wall", Bi).zeta ** 2, 3);
    }
  });
});

describe("plane walls", () => {
  test(`wall of 40 mm in oil, ${INCROPERA}, Ex. 5.4 (book 42.92 degC with interpolated coefficients)`, () => {
    const [L, h, k, alpha, t] = [0.04, 500, 63.9, 1.88e-5, 480];
    const Bi = (h * L) / k;
    const Fo = (alpha * t) / L ** 2;
    expect(Bi).toBeCloseTo(0.313, 3);
    const inner = 60 - 80 * theta("wall", Bi, Fo, 0);
    const surface = 60 - 80 * theta("wall", Bi, Fo, 1);
    expect(inner).toBeCloseTo(43.017, 2);
    expect(surface).toBeCloseTo(45.364, 2);
    expect(Math.abs(inner - 42.92)).toBeLessThan(0.2);
    const found = faces([slab(L, k, alpha)], -20, { temperature: 0, h: 0 }, { temperature: 60, h }, t, [
      ["slab", "near"],
      ["slab", "far"],
    ]);
    expect(found[0]).toBeCloseTo(inner, 2);
    expect(found[1]).toBeCloseTo(surface, 2);
    expect(h * (found[1] - 60)).toBeCloseTo(-7318.2, -1);
  });

  test(`brass plate in an oven, ${CENGEL}, Ex. 4.4 (book 282 degC from a chart)`, () => {
    const [L, h, k, alpha, t] = [0.02, 120, 110, 3.39e-5, 420];
    const found = faces([slab(L, k, alpha)], 20, { temperature: 0, h: 0 }, { temperature: 500, h }, t, [
      ["slab", "near"],
      ["slab", "far"],
    ]);
    expect(found[0]).toBeCloseTo(277.175, 2);
    expect(found[1]).toBeCloseTo(279.584, 2);
    expect(Math.abs(found[1] - 282)).toBeLessThan(3);
  });

  test(`a steel wall of two thicknesses, ${CENGEL}, Ex. 3.3: double pane, steady (69.2 W, 14.2 degC)`, () => {
    const pane = (name: string) => ({ name, material: { k: 0.78, rho: 2500, cp: 750 }, thickness: 4 });
    const still = { name: "air", material: { k: 0.026, rho: 1.2, cp: 1005 }, thickness: 10 };
    const [inner, outer] = faces(
      [pane("in"), still, pane("out")],
      5,
      { temperature: 20, h: 10 },
      { temperature: -10, h: 40 },
      40_000,
      [
        ["in", "near"],
        ["out", "far"],
      ],
    );
    expect(inner).toBeCloseTo(14.229, 2);
    expect(1.2 * 10 * (20 - inner)).toBeCloseTo(69.248, 1);
    expect(1.2 * 40 * (outer + 10)).toBeCloseTo(69.248, 1);
  });
});

describe("spheres and cylinders (closed forms only: the product heats layers)", () => {
  test(`sphere in air, then water, ${INCROPERA}, Ex. 5.5 (book 93.7 and 3.08 s, table interpolated)`, () => {
    const [r, k, rc, alpha] = [0.005, 20, 3000 * 1000, 6.66e-6];
    expect(((rc * r) / 3 / 10) * Math.log((400 - 20) / (335 - 20))).toBeCloseTo(93.8, 1);
    const Bi = (6000 * r) / k;
    const first = term("sphere", Bi);
    expect(first.zeta).toBeCloseTo(1.8366, 4);
    const t = bisect((x) => 20 + 315 * theta("sphere", Bi, (alpha * x) / r ** 2, 0) - 50, 0.5, 10);
    expect(t).toBeCloseTo(2.979, 2);
    expect(Math.abs(t - 3.08)).toBeLessThan(0.15);
  });

  test(`boiled egg, ${CENGEL}, Ex. 4.3 (book 14.4 min)`, () => {
    const Bi = (1200 * 0.025) / 0.627;
    const { zeta, C } = term("sphere", Bi);
    expect(zeta).toBeCloseTo(3.0754, 2);
    expect(C).toBeCloseTo(1.9959, 3);
    const Fo = -Math.log((95 - 70) / (95 - 5) / C) / zeta ** 2;
    expect((Fo * 0.025 ** 2) / 1.51e-7).toBeCloseTo(862.6, 0);
    expect(Math.abs((Fo * 0.025 ** 2) / 1.51e-7 / 60 - 14.4)).toBeLessThan(0.1);
  });

  test(`long cylinders, ${HOLMAN}, Ex. 4.7 (118.4 from a chart); ${CENGEL}, Ex. 4.5 (360 from a chart)`, () => {
    const a = theta("cylinder", (525 * 0.025) / 215, (8.4e-5 * 60) / 0.025 ** 2, 0.5);
    expect(70 + 130 * a).toBeCloseTo(119.666, 2);
    expect(Math.abs(70 + 130 * a - 118.4)).toBeLessThan(2);
    const b = theta("cylinder", (80 * 0.1) / 14.9, (3.95e-6 * 2700) / 0.1 ** 2, 0);
    expect(200 + 400 * b).toBeCloseTo(364.298, 1);
    expect(Math.abs(200 + 400 * b - 360)).toBeLessThan(5);
  });

  test(`short brass cylinder as a product, ${CENGEL}, Ex. 4.8 and 4.9 (63 and 62 degC)`, () => {
    const wall = (x: number) => theta("wall", (60 * 0.06) / 110, (3.39e-5 * 900) / 0.06 ** 2, x);
    const cylinder = theta("cylinder", (60 * 0.05) / 110, (3.39e-5 * 900) / 0.05 ** 2, 0);
    expect(wall(0)).toBeCloseTo(0.76415, 4);
    expect(cylinder).toBeCloseTo(0.51976, 4);
    expect(25 + 95 * wall(0) * cylinder).toBeCloseTo(62.732, 2);
    expect(25 + 95 * wall(1) * cylinder).toBeCloseTo(62.123, 2);
    // The wall factor from the product itself.
    const [middle, top] = faces(
      [slab(0.06, 110, 3.39e-5)],
      1000,
      { temperature: 0, h: 0 },
      { temperature: 0, h: 60 },
      900,
      [
        ["slab", "near"],
        ["slab", "far"],
      ],
    );
    expect(middle / 1000).toBeCloseTo(wall(0), 5);
    expect(top / 1000).toBeCloseTo(wall(1), 5);
  });

  test("r-z product with all numbers one: 0.827223991 at Fo 0.2 (computed from both series)", () => {
    expect(theta("wall", 1, 0.2, 0) * theta("cylinder", 1, 0.2, 0)).toBeCloseTo(0.827223990862, 6);
  });
});

/** Two layers meet at the depth asked for; together they are far deeper than heat gets. */
function deep(k: number, alpha: number, x: number, depth: number) {
  return x === 0
    ? [slab(depth, k, alpha)]
    : [
        { ...slab(x, k, alpha), name: "above" },
        { ...slab(depth - x, k, alpha), name: "below" },
      ];
}

describe("semi-infinite solids", () => {
  const insulated = { temperature: 0, h: 0 };

  test(`steel slab at a step, ${HOLMAN}, Ex. 4.2 (118.5, 79.3, 199.4 degC)`, () => {
    const [k, alpha, x, t] = [45, 1.4e-5, 0.025, 30];
    expect(250 - 215 * (1 - semiInfinite.step(x, alpha, t))).toBeCloseTo(118.499, 2);
    expect(35 + semiInfinite.flux(x, alpha, t, 3.2e5, k)).toBeCloseTo(79.3142, 3);
    expect(35 + semiInfinite.flux(0, alpha, t, 3.2e5, k)).toBeCloseTo(199.4437, 3);
    const [found] = faces(deep(k, alpha, x, 0.4), 35, { temperature: 250, h: null }, insulated, t, [["above", "far"]]);
    expect(found).toBeCloseTo(118.499, 2);
  });

  test(`pulse of 1e7 J/m2, ${HOLMAN}, Ex. 4.3 (570, 513 degC)`, () => {
    expect(40 + semiInfinite.pulse(0, 4.4e-6, 2, 1e7, 7800 * 460)).toBeCloseTo(570.07, 1);
    expect(40 + semiInfinite.pulse(0.002, 4.4e-6, 2, 1e7, 7800 * 460)).toBeCloseTo(513.13, 1);
  });

  test(`aluminium slab, ${HOLMAN}, Ex. 4.4 (37.77 s) and 4.5 (3000 s from a chart, exact 3561 s)`, () => {
    const [k, alpha, x] = [215, 8.4e-5, 0.04];
    const t4 = bisect((t) => 70 + 130 * (1 - semiInfinite.step(x, alpha, t)) - 120, 1, 1000);
    expect(t4).toBeCloseTo(37.7318, 2);
    const [found] = faces(deep(k, alpha, x, 1), 200, { temperature: 70, h: null }, insulated, t4, [["above", "far"]]);
    expect(found).toBeCloseTo(120, 2);
    const t5 = bisect((t) => 200 - 130 * semiInfinite.convection(x, alpha, t, 525, k) - 120, 100, 10_000);
    expect(t5).toBeCloseTo(3561.1, 0);
    const [cooled] = faces(deep(k, alpha, x, 8), 200, { temperature: 70, h: 525 }, insulated, t5, [["above", "far"]]);
    expect(cooled).toBeCloseTo(120, 2);
  });

  test("semiinf3 of the EES heat-transfer library (Nellis and Klein, Table 3-2): 389.5 K", () => {
    const [k, alpha, x, t] = [10, 4.029e-6, 0.003, 100];
    const exact = 393 - 38 * semiInfinite.convection(x, alpha, t, 50, k);
    expect(exact).toBeCloseTo(389.5428, 3);
    const [found] = faces(deep(k, alpha, x, 0.4), 393, { temperature: 355, h: 50 }, insulated, t, [["above", "far"]]);
    expect(found).toBeCloseTo(389.5428, 2);
  });

  test(`copper under a flux, ${INCROPERA}, Ex. 5.10 (120.0 and 45.4 degC)`, () => {
    expect(20 + semiInfinite.flux(0, 1.17e-4, 120, 3e5, 401)).toBeCloseTo(120.027, 2);
    expect(20 + semiInfinite.flux(0.15, 1.17e-4, 120, 3e5, 401)).toBeCloseTo(45.406, 2);
    // A constant flux is a very hot surrounding behind a very poor contact: off by the rise over the excess.
    const far = 1e6;
    const layers = [{ name: "a", material: { k: 401, rho: 401 / 1.17e-4 / 1000, cp: 1000 }, thickness: 2000 }];
    const answer = simulate({
      kind: "stack",
      start: 20,
      lines: [{ name: "s", layers, watch: [{ name: "w", layer: "a", face: "near" }] }],
      programme: [{ seconds: 120, hot: { temperature: far, h: 3e5 / (far - 20) }, cool: { temperature: 0, h: 0 } }],
      report: [120],
    });
    expect(Math.abs(answer.faces[0].degC[0] - 120.027)).toBeLessThan(0.02);
  });

  test(`wood and aluminium under the same flux, ${CENGEL}, Ex. 4.7 (149 and 22 degC)`, () => {
    expect(20 + semiInfinite.flux(0, 1.1e-5, 1200, 1250, 1.26)).toBeCloseTo(148.61, 1);
    expect(20 + semiInfinite.flux(0, 9.71e-5, 1200, 1250, 237)).toBeCloseTo(22.032, 2);
  });

  test(`frost depth: ${INCROPERA}, Ex. 5.6 (0.68 m); ${CENGEL}, Ex. 4.6 (0.78 m with eta read off a chart)`, () => {
    const alpha = 0.52 / (2050 * 1840);
    const x = bisect((d) => -15 + 35 * (1 - semiInfinite.step(d, alpha, 5_184_000)), 0.01, 3);
    expect(x).toBeCloseTo(0.67661, 4);
    expect(x).toBeCloseTo(0.68, 2);
    const y = bisect((d) => -10 + 25 * (1 - semiInfinite.step(d, 1.5e-7, 7_776_000)), 0.01, 3);
    expect(y).toBeCloseTo(0.80094, 4);
    expect(Math.abs(y - 0.78)).toBeLessThan(0.03);
  });
});

describe("lumped bodies", () => {
  /** A plate so thin and conducting that it has one temperature: V/A of the body is its thickness. */
  const thin = (VoverA: number, rc: number) => ({
    name: "body",
    material: { k: 1e5, rho: rc / 1000, cp: 1000 },
    thickness: VoverA * 1000,
  });

  test(`thermocouple, ${INCROPERA}, Ex. 5.1 (0.706 mm, 5.2 s) and ${CENGEL}, Ex. 4.1 (10 s)`, () => {
    const D = (6 * 400 * 1) / (8500 * 400);
    expect(D * 1000).toBeCloseTo(0.70588, 4);
    const t = Math.log((200 - 25) / (200 - 199));
    expect(t).toBeCloseTo(5.16479, 4);
    const [found] = faces([thin(D / 6, 8500 * 400)], 25, { temperature: 200, h: 400 }, { temperature: 0, h: 0 }, t, [
      ["body", "far"],
    ]);
    expect(found).toBeCloseTo(199, 2);
    const tau = (8500 * 320 * 0.001) / 6 / 210;
    expect(tau * Math.log(100)).toBeCloseTo(9.9413, 3);
    const [quick] = faces(
      [thin(0.001 / 6, 8500 * 320)],
      0,
      { temperature: 100, h: 210 },
      { temperature: 0, h: 0 },
      9.9413,
      [["body", "near"]],
    );
    expect(quick).toBeCloseTo(99, 2);
  });

  test(`with radiation, ${INCROPERA}, Ex. 5.2 and 5.3 (closed equations, integrated here: 4.98 s; 123, 423, 987 s)`, () => {
    const SIGMA = 5.67e-8;
    const run = (rate: (T: number) => number, T0: number, done: (T: number, t: number) => boolean) => {
      let [T, t] = [T0, 0];
      const dt = 1e-3;
      while (!done(T, t)) {
        const a = rate(T);
        const b = rate(T + (dt / 2) * a);
        T += dt * b;
        t += dt;
      }
      return { T, t };
    };
    const c2 = (8500 * 400 * 0.00070588) / 6;
    const rate2 = (T: number) => (400 * (473 - T) + 0.9 * SIGMA * (673 ** 4 - T ** 4)) / c2;
    const steady = bisect(rate2, 473, 673);
    expect(steady - 273).toBeCloseTo(218.713, 0);
    expect(run(rate2, 298, (T) => T >= steady - 1).t).toBeCloseTo(4.993, 1);
    const c3 = 0.0015 * 2770 * 875;
    const heat = (T: number) => (40 * (448 - T) + 0.8 * SIGMA * (448 ** 4 - T ** 4)) / c3;
    const cure = run(heat, 298, (T) => T >= 423);
    expect(Math.abs(cure.t - 123.08)).toBeLessThan(0.3);
    const end = run(heat, 298, (_, t) => t >= cure.t + 300);
    expect(Math.abs(end.T - 273 - 174.754)).toBeLessThan(0.2);
    const cool = run(
      (T) => (10 * (298 - T) + 0.8 * SIGMA * (298 ** 4 - T ** 4)) / c3,
      end.T,
      (T) => T <= 310,
    );
    expect(Math.abs(cool.t + end.t - 986.3)).toBeLessThan(2);
  });
});

describe("contact", () => {
  test(`contact conductance as thickness, ${CENGEL}, Ex. 3.4 (2.15 cm), and a chain, Ex. 3.5 (12.4 W, 0.37 K)`, () => {
    expect((237 / 11_000) * 100).toBeCloseTo(2.1545, 3);
    // Ex. 3.5: half of the symmetrical chain, its contact spread over the plate's area.
    const plate = { name: "plate", material: { k: 386, rho: 8933, cp: 385 }, thickness: 10 };
    const case_ = {
      name: "case",
      material: { k: 1e5, rho: 1, cp: 10 },
      thickness: 0.001,
      contactAfter: (42_000 * 0.0008) / 0.01,
    };
    const found = faces([case_, plate], 20, { temperature: 70, h: null }, { temperature: 20, h: 25 }, 20_000, [
      ["case", "far"],
      ["plate", "near"],
      ["plate", "far"],
    ]);
    expect(25 * 0.01 * (found[2] - 20)).toBeCloseTo(12.4, 1);
    expect(found[0] - found[1]).toBeCloseTo(0.369, 3);
  });

  test("two equal half-spaces with contact conductance 500 (antisymmetry: convection with h = 2 hc): 0.713792, 0.286208", () => {
    const cold = (1 - erfcx((2 * 500 * Math.sqrt(5e-7 * 2)) / 1)) / 2;
    expect(cold).toBeCloseTo(0.286208, 5);
    // One side of it in the product: a surrounding at 0.5 with h = 1000.
    const [face] = faces([slab(0.05, 1, 5e-7)], 0, { temperature: 500, h: 1000 }, { temperature: 0, h: 0 }, 2, [
      ["slab", "near"],
    ]);
    expect(face / 1000).toBeCloseTo(cold, 5);
  });
});

test("disc of uniform flux on a half-space, centre (Carslaw and Jaeger, 10.5, recalled)", () => {
  const values: [number, number][] = [
    [1, 39.8942],
    [10, 118.4737],
    [60, 187.7666],
    [600, 229.712],
  ];
  for (const [t, rise] of values) expect(Math.abs(discCentre(5e4, 0.005, 1, 5e-7, t) / rise - 1)).toBeLessThan(1e-4);
  expect(discCentre(5e4, 0.005, 1, 5e-7, 1e9)).toBeCloseTo((5e4 * 0.005) / 1, 0);
});

describe("whole stacks, computed beforehand by thermal quadrupoles and Talbot's inversion", () => {
  const layer = (name: string, L: number, k: number, rc: number, Rafter?: number) => ({
    name,
    material: { k, rho: rc / 1000, cp: 1000 },
    thickness: L * 1000,
    ...(Rafter === undefined ? {} : { contactAfter: 1 / Rafter }),
  });
  const run = (layers: object[], start: number, hot: EndOf, cool: EndOf, report: number[], watch: object[]) =>
    simulate(
      readStack({
        format: "unseam-stack/1",
        start,
        layers,
        programme: [{ seconds: Math.max(...report), hot, cool }],
        watch,
        report,
      }),
    );

  test("four layers with two contacts, unit step", () => {
    const answer = run(
      [
        layer("glass", 0.0006, 1.1, 1_960_000),
        layer("bond", 0.0002, 0.15, 1_800_000, 0.0001),
        layer("frame", 0.001, 160, 2_439_000, 1 / 90),
        layer("cell", 0.004, 0.6, 2_310_000),
      ],
      0,
      { temperature: 100, h: 300 },
      { temperature: 0, h: 8 },
      [5, 20, 60, 180],
      [
        { name: "bond", layer: "bond", face: "far" },
        { name: "cell", layer: "cell", face: "near" },
      ],
    );
    const bond = [0.1925804, 0.561707, 0.7625965, 0.8753776];
    const cell = [0.019301, 0.1260486, 0.3179011, 0.6288695];
    for (const [i, value] of bond.entries()) expect(Math.abs(answer.faces[0].degC[i] / 100 - value)).toBeLessThan(1e-5);
    for (const [i, value] of cell.entries()) expect(Math.abs(answer.faces[1].degC[i] / 100 - value)).toBeLessThan(1e-5);
  });

  const glass = layer("glass", 0.0006, 1.1, 1_960_000);
  const bond = layer("bond", 0.0002, 0.15, 1_800_000);
  const hot = { temperature: 80, h: 300 };
  const cool = { temperature: 23, h: 8 };

  test("pad of 80 degC on glass, bond and 2 mm of aluminium: 65 degC at 43.35 s", () => {
    const layers = [glass, bond, layer("frame", 0.002, 160, 2_439_000)];
    const answer = run(
      layers,
      23,
      hot,
      cool,
      [10, 30, 60, 120],
      [{ name: "bond", layer: "bond", face: "far", soft: 65 }],
    );
    const share = answer.faces[0].degC.map((T) => (T - 23) / 57);
    for (const [i, value] of [0.24944, 0.605224, 0.834827, 0.944401].entries()) expect(share[i]).toBeCloseTo(value, 4);
    expect(Math.abs(answer.reached[0].at! - 43.35)).toBeLessThan(0.01);
  });

  test("the cell behind 0.3 mm of air and graphite", () => {
    const layers = [
      glass,
      layer("air", 0.0003, 0.0276, 1097.63),
      layer("graphite", 0.00005, 5, 1_420_000),
      layer("cell", 0.0045, 0.6, 2_310_000),
    ];
    const answer = run(layers, 23, hot, cool, [60, 120, 180, 300], [{ name: "cell", layer: "cell", face: "near" }]);
    for (const [i, value] of [0.375599, 0.541827, 0.65532, 0.785763].entries())
      expect(Math.abs((answer.faces[0].degC[i] - 23) / 57 - value)).toBeLessThan(1e-4);
  });

  test("nothing behind the bond: 0.951 s with perfect contact, 7.732 s with 300 W/(m2.K)", () => {
    const at = (h: number | null) =>
      run(
        [glass, bond],
        23,
        { temperature: 80, h },
        { temperature: 0, h: 0 },
        [10],
        [{ name: "b", layer: "bond", face: "far", soft: 65 }],
      ).reached[0].at!;
    expect(Math.abs(at(null) - 0.9513)).toBeLessThan(0.002);
    expect(Math.abs(at(300) - 7.732)).toBeLessThan(0.01);
  });
});
