import { describe, expect, test } from "vitest";
import { Marcher } from "./march.ts";
import { makeMesh } from "./mesh.ts";
import type { End, Layer } from "./stack.ts";
import { foldEnds, Stepper } from "./tr-bdf2.ts";

const layer = (name: string, thickness: number, k: number, rc: number, contactAfter?: number): Layer => ({
  name,
  thickness,
  material: { k, rho: rc / 1000, cp: 1000 },
  ...(contactAfter === undefined ? {} : { contactAfter }),
});
const insulated: End = { temperature: 0, h: 0 };

/** Middles of the cells of a mesh, m from the hot face. */
function middles(layers: readonly Layer[], c: Float64Array, first: Int32Array): number[] {
  const x: number[] = [];
  let before = 0;
  for (const [l, { material, thickness }] of layers.entries()) {
    let at = before;
    for (let i = first[l]; i < first[l + 1]; i += 1) {
      const width = c[i] / (material.rho * material.cp);
      x.push(at + width / 2);
      at += width;
    }
    before += thickness * 1e-3;
  }
  return x;
}

/** log2 of the ratio of neighbouring errors. */
function orders(errors: readonly number[]): number[] {
  return errors.slice(1).map((error, i) => Math.log2(errors[i] / error));
}

describe("a manufactured solution in two layers with a contact", () => {
  // exp(-lambda t) phi(x): phi = cos(b1 x) in the first layer, A cos(b2 x + p) in the second, b = sqrt(lambda/alpha). Flux
  // and the jump q/hc at the contact fix A and p; the h of the far face is whatever the solution asks for.
  const lambda = 0.02;
  const [k1, rc1, L1, k2, rc2, L2, hc] = [1.1, 2e6, 2e-3, 0.3, 1.8e6, 1.5e-3, 800];
  const b1 = Math.sqrt((lambda * rc1) / k1);
  const b2 = Math.sqrt((lambda * rc2) / k2);
  const q = k1 * b1 * Math.sin(b1 * L1);
  const value = Math.cos(b1 * L1) - q / hc;
  const slope = -q / k2;
  const amplitude = Math.hypot(value, slope / b2);
  const phase = Math.atan2(-slope / b2, value);
  const phi = (x: number) => (x <= L1 ? Math.cos(b1 * x) : amplitude * Math.cos(b2 * (x - L1) + phase));
  const end = phi(L1 + L2);
  const h = (k2 * amplitude * b2 * Math.sin(b2 * L2 + phase)) / end;
  const layers = [layer("a", L1 * 1e3, k1, rc1, hc), layer("b", L2 * 1e3, k2, rc2)];
  const cool: End = { temperature: 0, h };

  test("the h it asks for is a loss", () => expect(h).toBeGreaterThan(0));

  test("second order in space and time together, on a graded mesh", () => {
    const errors = [1, 2, 4, 8].map((refine) => {
      const mesh = makeMesh(layers, { resolve: 0.05, refine });
      const stepper = new Stepper(mesh);
      stepper.setEnds(foldEnds(mesh, insulated, cool));
      const x = middles(layers, mesh.c, mesh.first);
      const u = Float64Array.from(x, (at) => 100 * phi(at));
      const steps = 10 * refine;
      for (let i = 0; i < steps; i += 1) stepper.step(u, u, 20 / steps, 0);
      return Math.max(...x.map((at, i) => Math.abs(u[i] - 100 * Math.exp(-lambda * 20) * phi(at))));
    });
    for (const order of orders(errors)) expect(order).toBeGreaterThan(1.9);
    expect(errors[3]).toBeLessThan(5e-3);
  });

  test("the march with its error control: within 1 mK", () => {
    const marcher = new Marcher(layers, 0, [0, 1, 2, 3], { tolerance: 1e-4, resolve: 0.2, refine: 1 });
    const state = marcher.initial();
    for (const [mesh, u] of [
      [marcher.meshes[0], state.coarse],
      [marcher.meshes[1], state.fine],
    ] as const)
      for (const [i, at] of middles(layers, mesh.c, mesh.first).entries()) u[i] = 100 * phi(at);
    marcher.run(state, { hot: insulated, cool }, 20);
    const faces = marcher.profile(state, { hot: insulated, cool });
    const exact = [phi(0), phi(L1), value, end].map((x) => 100 * Math.exp(-lambda * 20) * x);
    for (const [i, degC] of exact.entries()) expect(Math.abs(faces[i] - degC)).toBeLessThan(1e-3);
  });
});

describe("orders of the plain scheme", () => {
  // Wall with Bi 1 from a uniform start: plain TR-BDF2 and cell-centred volumes, without extrapolation.
  const layers = [layer("wall", 10, 1, 1e6)];
  const cool: End = { temperature: 0, h: 100 };
  const exact = 0.860333589019; // zeta tan zeta = 1
  const first = (x: number, t: number) => {
    let sum = 0;
    let zeta = exact;
    for (let n = 0; n < 12; n += 1) {
      if (n > 0) {
        zeta = n * Math.PI;
        for (let i = 0; i < 100; i += 1) zeta = n * Math.PI + Math.atan(1 / zeta);
      }
      sum += ((4 * Math.sin(zeta)) / (2 * zeta + Math.sin(2 * zeta))) * Math.exp(-zeta * zeta * t) * Math.cos(zeta * x);
    }
    return sum;
  };

  const run = (refine: number, steps: number) => {
    const mesh = makeMesh(layers, { resolve: 20, refine });
    const stepper = new Stepper(mesh);
    stepper.setEnds(foldEnds(mesh, insulated, cool));
    const u = new Float64Array(mesh.c.length).fill(1);
    for (let i = 0; i < steps; i += 1) stepper.step(u, u, 100 / steps, 0);
    const x = middles(layers, mesh.c, mesh.first);
    return Math.max(...x.map((at, i) => Math.abs(u[i] - first(at / 0.01, 1))));
  };

  test("space: at least 1.9", () => {
    for (const order of orders([1, 2, 4, 8].map((refine) => run(refine, 4000)))) expect(order).toBeGreaterThan(1.9);
  });

  test("time: at least 1.9", () => {
    const errors = [10, 20, 40, 80].map((steps) => {
      const fine = runAt(steps);
      return Math.abs(fine - runAt(1280));
    });
    for (const order of orders(errors)) expect(order).toBeGreaterThan(1.9);
    function runAt(steps: number): number {
      const mesh = makeMesh(layers, { resolve: 20, refine: 4 });
      const stepper = new Stepper(mesh);
      stepper.setEnds(foldEnds(mesh, insulated, cool));
      const u = new Float64Array(mesh.c.length).fill(1);
      for (let i = 0; i < steps; i += 1) stepper.step(u, u, 100 / steps, 0);
      return u[0];
    }
  });

  test("no ringing on a step: the first cell after 4 steps at cell Fourier number 200 is 0.9900 of the step", () => {
    // erfc(1/(4 sqrt(800))) = 0.99003 in a half-space; the Crank-Nicolson rule gives 0.149 here.
    const mesh = makeMesh([layer("wall", 512, 1, 1e6)], { resolve: 1e9, refine: 128 });
    const stepper = new Stepper(mesh);
    stepper.setEnds(foldEnds(mesh, { temperature: 1, h: null }, insulated));
    const u = new Float64Array(mesh.c.length);
    expect(u.length).toBe(512);
    for (let i = 0; i < 4; i += 1) stepper.step(u, u, 200, 0);
    expect(Math.abs(u[0] - 0.99003)).toBeLessThan(2e-4);
    for (const value of u) expect(value).toBeLessThan(1.001);
  });
});

describe("two half-spaces brought together", () => {
  const run = (contact: number | undefined, kHot: number, rcHot: number, kCold: number, rcCold: number, t: number) => {
    const layers = [layer("hot", 60, kHot, rcHot, contact), layer("cold", 60, kCold, rcCold)];
    const marcher = new Marcher(layers, 0, [1, 2], { tolerance: 1e-5, resolve: 0.05, refine: 1 });
    const state = marcher.initial();
    state.coarse.fill(1, 0, marcher.meshes[0].first[1]);
    state.fine.fill(1, 0, marcher.meshes[1].first[1]);
    marcher.run(state, { hot: insulated, cool: insulated }, t);
    return marcher.profile(state, { hot: insulated, cool: insulated });
  };

  test("perfect contact: the effusivities decide (80 degC glass on 33 degC skin: 58.611 degC)", () => {
    // Formula: Tc = (e1 T1 + e2 T2)/(e1 + e2), e = sqrt(k rho c).
    const faces = run(undefined, 1, 2e6, 0.37, 3.77e6, 2);
    expect(33 + 47 * faces[1]).toBeCloseTo(58.611, 2);
    expect(faces[1]).toBeCloseTo(faces[2], 9);
  });

  test("contact conductance 500 W/(m2.K): 0.713792 and 0.286208 after 2 s", () => {
    // By antisymmetry each side is a convection case with h = 2 hc: (1 - erfcx(2 hc sqrt(alpha t)/k))/2.
    const faces = run(500, 1, 2e6, 1, 2e6, 2);
    expect(faces[1]).toBeCloseTo(0.713792, 5);
    expect(faces[2]).toBeCloseTo(0.286208, 5);
  });
});

test("stored heat is the summed flux to 1e-12 on a stack of extremes", () => {
  const layers = [layer("foil", 0.01, 400, 3.4e6, 50), layer("foam", 10, 0.03, 1e5), layer("plate", 20, 200, 2.5e6)];
  const marcher = new Marcher(layers, 23, [0], { tolerance: 1e-4, resolve: 0.1, refine: 1 });
  const state = marcher.initial();
  marcher.run(state, { hot: { temperature: 90, h: 2000 }, cool: { temperature: 10, h: null } }, 500);
  marcher.run(state, { hot: { temperature: 23, h: 10 }, cool: insulated }, 500);
  expect(Math.abs(marcher.stored(state) - state.heat) / state.exchanged).toBeLessThan(1e-12);
});
