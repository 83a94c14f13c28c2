/**
 * Stacks against the exact solution of the same equations, by methods that share nothing with the product:
 * thermal quadrupoles with Talbot's inversion, and Chebyshev collocation where the surfaces' h changes (heat-oracle.ts).
 */
import { describe, expect, test } from "vitest";
import { readStack, type Stack, simulate, warmWindow } from "../src/core/heat/index.ts";
import { Collocation, type OracleLayer, Quadrupoles } from "./heat-oracle.ts";

interface RawLayer {
  name: string;
  material: { k: number; rho: number; cp: number };
  thickness: number;
  contactAfter?: number;
}

function oracleLayers(layers: readonly RawLayer[]): OracleLayer[] {
  return layers.map(({ thickness, material: { k, rho, cp }, contactAfter }, i) => ({
    L: thickness * 1e-3,
    k,
    rc: rho * cp,
    R: contactAfter === undefined || i === layers.length - 1 ? 0 : 1 / contactAfter,
  }));
}

/** Numerical Recipes' quick generator (ranqd1): the same cases each time. */
function generator(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

function randomCase(random: () => number) {
  const log = (a: number, b: number) => Math.exp(Math.log(a) + random() * Math.log(b / a));
  const h = () => {
    const x = random();
    return x < 0.2 ? null : x < 0.35 ? 0 : log(5, 5000);
  };
  const layers: RawLayer[] = Array.from({ length: 1 + Math.floor(random() * 6) }, (_, i) => ({
    name: `l${i}`,
    material: { k: log(0.02, 400), rho: log(1, 9000), cp: log(400, 4000) },
    thickness: log(0.01, 20),
    ...(random() < 0.3 ? { contactAfter: log(20, 50_000) } : {}),
  }));
  const hot = { temperature: 60 + random() * 50, h: h() };
  const cool = { temperature: 10 + random() * 30, h: h() };
  const later = { temperature: 20 + random() * 50, h: hot.h };
  const seconds = log(3, 1000);
  const change = seconds * (0.05 + 0.9 * random());
  const report = [seconds * log(0.003, 0.1), seconds * 0.2, seconds * 0.6, seconds];
  const watch = layers.flatMap(({ name }) =>
    (["near", "far"] as const).map((face) => ({ name: `${name} ${face}`, layer: name, face, soft: 45, plan: 55 })),
  );
  const stack = readStack({
    format: "unseam-stack/1",
    start: 23,
    layers,
    programme: [
      { seconds: change, hot, cool },
      { seconds: seconds - change, hot: later, cool },
    ],
    watch,
    report,
  });
  const jumps = [
    [0, hot.temperature, cool.temperature],
    [change, later.temperature, cool.temperature],
  ] as const;
  return { stack, watch, report, jumps, oracle: new Quadrupoles(oracleLayers(layers), hot.h, cool.h) };
}

describe("random stacks against quadrupoles and Talbot's inversion", () => {
  test.each([1, 2, 3, 4])("seed %i: 40 stacks within 0.002 K and 0.02 s", (seed) => {
    const random = generator(seed * 7919);
    for (let n = 0; n < 40; n += 1) {
      const { stack, watch, report, jumps, oracle } = randomCase(random);
      const answer = simulate(stack);
      expect(answer.energyError).toBeLessThan(1e-9);
      for (const [t, time] of report.entries()) {
        const exact = oracle.at(time, 23, jumps);
        for (const [i, degC] of exact.entries())
          expect(
            Math.abs(answer.faces[i].degC[t] - degC),
            `seed ${seed} stack ${n} face ${i} at ${time} s`,
          ).toBeLessThan(2e-3);
      }
      for (const { watch: name, limit, at } of answer.reached) {
        // Within the first 20 ms there is no 'before' to look at; the faces above cover it.
        if (at === null || at < 0.02) continue;
        const i = watch.findIndex((item) => item.name === name);
        const value = watch[i][limit as "soft" | "plan"];
        // The exact solution crosses within 20 ms of the time found.
        const before = oracle.at(Math.max(1e-4, at - 0.02), 23, jumps)[i];
        const after = oracle.at(at + 0.02, 23, jumps)[i];
        expect(before, `seed ${seed} stack ${n} ${name}`).toBeLessThan(value + 1e-6);
        // A later stage may begin within those 20 ms and cool the face: then the value itself is looked at.
        if (after < value) expect(Math.abs(oracle.at(at, 23, jumps)[i] - value)).toBeLessThan(2e-3);
      }
    }
  });

  test("the two references agree with each other", () => {
    const layers: OracleLayer[] = [
      { L: 0.0006, k: 1.1, rc: 1.96e6 },
      { L: 0.0002, k: 0.15, rc: 1.8e6, R: 1e-4 },
      { L: 0.001, k: 160, rc: 2.439e6, R: 1 / 90 },
      { L: 0.004, k: 0.6, rc: 2.31e6 },
    ];
    const quadrupoles = new Quadrupoles(layers, 300, 8);
    for (const t of [2, 20, 200]) {
      const a = quadrupoles.at(t, 0, [[0, 1, 0]]);
      const b = new Collocation(layers, 0).advance(t, { h: 300, T: 1 }, { h: 8, T: 0 });
      for (const [i, value] of a.entries()) expect(b[i]).toBeCloseTo(value, 6);
    }
  });
});

const glass = { name: "glass", material: { k: 1.1, rho: 2450, cp: 800 }, thickness: 0.6 };
const bond = { name: "bond", material: { k: 0.15, rho: 1000, cp: 1800 }, thickness: 0.2 };
const frame = { name: "frame", material: { k: 160, rho: 2710, cp: 900 }, thickness: 2 };
const air = { name: "gap", material: { k: 0.0276, rho: 1.09, cp: 1007 }, thickness: 0.3 };
const pouch = { name: "pouch", material: { k: 0.6, rho: 2200, cp: 1050 }, thickness: 4.5 };

describe("programmes whose surfaces change, against collocation", () => {
  const layers = [glass, { ...bond, contactAfter: 4000 }, air, pouch];
  const stages = [
    { seconds: 50, hot: { temperature: 70, h: 150 }, cool: { temperature: 23, h: 8 } },
    { seconds: 70, hot: { temperature: 90, h: 600 }, cool: { temperature: 15, h: 120 } },
    { seconds: 90, hot: { temperature: 23, h: 10 }, cool: { temperature: 23, h: 0 } },
    { seconds: 60, hot: { temperature: 60, h: null }, cool: { temperature: 20, h: null } },
  ];
  const watch = layers.flatMap(({ name }) =>
    (["near", "far"] as const).map((face) => ({ name: `${name} ${face}`, layer: name, face })),
  );
  const report = [10, 50, 60, 90, 120, 125, 160, 210, 215, 270];
  const stack = readStack({ format: "unseam-stack/1", start: 23, layers, programme: stages, watch, report });

  test("faces of four stages within 2 mK", () => {
    const answer = simulate(stack);
    const oracle = new Collocation(oracleLayers(layers), 23, 26);
    let begin = 0;
    for (const { seconds, hot, cool } of stages) {
      const [a, b] = [hot, cool].map(({ temperature, h }) => ({ h, T: temperature }));
      for (const [t, time] of report.entries()) {
        if (time <= begin || time > begin + seconds) continue;
        const exact = oracle.advance(time - begin, a, b, false);
        for (const [i, degC] of exact.entries())
          expect(Math.abs(answer.faces[i].degC[t] - degC), `face ${i} at ${time} s`).toBeLessThan(2e-3);
      }
      oracle.advance(seconds, a, b);
      begin += seconds;
    }
  });
});

describe("the warm window against collocation", () => {
  /** Highest near face of the pouch after a lift-off at `lift`, and when the bond falls below `soft`, step by step. */
  function after(
    layers: readonly RawLayer[],
    heated: { T: number; h: number },
    lift: number,
    face: number,
    until: number,
    step: number,
  ) {
    const oracle = new Collocation(oracleLayers(layers), 23, 22);
    oracle.advance(lift, { h: heated.h, T: heated.T }, { h: 8, T: 23 });
    const values: number[] = [];
    for (let t = step; t <= until; t += step)
      values.push(oracle.advance(t, { h: 10, T: 23 }, { h: 8, T: 23 }, false)[face]);
    return values;
  }

  const make = (line: readonly RawLayer[], watch: object[], beside: object[] = []): Stack =>
    readStack({
      format: "unseam-stack/1",
      start: 23,
      layers: line,
      programme: [{ seconds: 60, hot: { temperature: 80, h: 300 }, cool: { temperature: 23, h: 8 } }],
      watch,
      ...(beside.length === 0 ? {} : { beside }),
    });
  const rim = [glass, bond, frame];
  const cell = [glass, air, pouch];
  const stack = make(
    rim,
    [{ name: "bond", layer: "bond", face: "far", soft: 65 }],
    [{ name: "cell", layers: cell, watch: [{ name: "cell", layer: "pouch", face: "near", plan: 55 }] }],
  );
  const answer = warmWindow(stack);

  test("from, to and after", () => {
    expect(answer.kind).toBe("window");
    if (answer.kind !== "window") return;
    const { from, to, after: stays } = answer.window;
    const bondAt = (t: number) => new Quadrupoles(oracleLayers(rim), 300, 8).at(t, 23, [[0, 80, 23]])[3];
    expect(bondAt(from - 0.05)).toBeLessThan(65);
    expect(bondAt(from + 0.05)).toBeGreaterThan(65);
    expect(to).not.toBeNull();
    const peak = (lift: number) => Math.max(...after(cell, { T: 80, h: 300 }, lift, 4, 40, 1));
    expect(peak(to! - 0.1)).toBeLessThan(55);
    expect(peak(to! + 0.1)).toBeGreaterThan(55);
    const oracle = new Collocation(oracleLayers(rim), 23, 22);
    oracle.advance(to!, { h: 300, T: 80 }, { h: 8, T: 23 });
    const cooled = (t: number) => oracle.advance(t, { h: 10, T: 23 }, { h: 8, T: 23 }, false)[3];
    expect(cooled(stays! - 0.1)).toBeGreaterThan(65);
    expect(cooled(stays! + 0.1)).toBeLessThan(65);
  });
});
