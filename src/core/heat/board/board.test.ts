import { describe, expect, test } from "vitest";
import { InputFaults } from "../../errors.ts";
import { makeGrid } from "./grid.ts";
import { heatBoard } from "./heat-board.ts";
import { classification } from "./jstd.ts";
import { BoardSystem } from "./pcg.ts";
import { proposeProfile } from "./profile.ts";
import { readBoard } from "./read-board.ts";
import { remarksOf, targetOf } from "./remarks.ts";

// biome-ignore lint/suspicious/noExplicitAny: the point of some tests is what a file may hold
type Loose = any;

//  side view            from above, 60 x 40 mm
//      soc   n1         +--------------------+
//    =============      |     [soc]  [n1]    |
//       main            +--------------------+
const raw = (): Loose => ({
  format: "unseam-board/1",
  size: [60, 40],
  cell: 1,
  start: 23,
  h: 10,
  layers: [{ name: "main", material: "fr4", copper: 0.12, thickness: 0.8 }],
  parts: [
    { name: "soc", at: [30, 20], size: [14, 14, 1.2], material: "mould", limit: 260 },
    { name: "n1", at: [46, 20], size: [8, 8, 0.9], material: "mould", limit: 120 },
  ],
  heat: [
    { seconds: 60, below: { temperature: 150, h: 60 } },
    {
      seconds: 40,
      nozzle: { at: [30, 20], size: [16, 16], temperature: 340, h: 200 },
      below: { temperature: 150, h: 60 },
    },
  ],
  report: [60, 100],
});
const run = (value: Loose = raw()) => heatBoard(readBoard(value))!;

describe("the run", () => {
  const heat = run();
  const [soc, n1] = heat.parts;

  test("heat closes to 1e-9, the part under the jet is the hottest, the neighbour reaches its limit in between", () => {
    expect(heat.energyError).toBeLessThan(1e-9);
    expect(soc.peak).toBeGreaterThan(n1.peak);
    expect(soc.at).toBeCloseTo(100, 6);
    expect(n1.reached).toBeGreaterThan(60);
    expect(n1.reached).toBeLessThan(100);
    expect(soc.reached).toBeNull();
    expect(soc.degC[1]).toBeCloseTo(soc.peak, 6);
    expect(soc.joint).toBeGreaterThan(soc.coldestJoint);
  });

  test("time steps are fine enough: ten times tighter moves nothing by 0.1 K", () => {
    const tight = heatBoard(readBoard(raw()), { tolerance: 0.002 })!;
    for (const [i, part] of tight.parts.entries()) {
      expect(Math.abs(part.peak - heat.parts[i].peak)).toBeLessThan(0.1);
      expect(Math.abs(part.rampUp - heat.parts[i].rampUp)).toBeLessThan(0.05);
    }
  });

  test("a mirrored board has mirrored parts", () => {
    const mirrored = raw();
    for (const part of mirrored.parts) part.at[0] = 60 - part.at[0];
    for (const [i, part] of run(mirrored).parts.entries()) expect(part.peak).toBeCloseTo(heat.parts[i].peak, 3);
  });

  test("a part keeps its area whatever the grid does to it", () => {
    const board = readBoard({ ...raw(), cell: 1.7 });
    const grid = makeGrid(board);
    for (const [p, part] of board.parts.entries()) {
      const capacity = grid.cellsOf[p].reduce((sum, cell) => sum + grid.c[cell], 0);
      const { rho, cp } = part.material;
      expect(capacity).toBeCloseTo(part.size[0] * part.size[1] * part.size[2] * 1e-9 * rho * cp, 9);
    }
  });

  test("a low-melting alloy is liquid long before", () => {
    expect(heatBoard(readBoard(raw(), "tin-bismuth"))!.parts[0].aboveLiquidus).toBeGreaterThan(soc.aboveLiquidus + 10);
  });

  test("it tells how far it is, and ends when it is told to", () => {
    const shares: number[] = [];
    heatBoard(readBoard(raw()), { progress: (share) => void shares.push(share) });
    expect(shares[shares.length - 1]).toBeCloseTo(1, 9);
    expect([...shares].sort((a, b) => a - b)).toEqual(shares);
    expect(heatBoard(readBoard(raw()), { progress: (share) => share > 0.3 })).toBeUndefined();
  });
});

describe("against exact figures", () => {
  test("one lumped part on a board of no weight warms as exp(-t/tau)", () => {
    // 20 x 20 x 2 mm of copper, its top under the jet, the board below insulating: tau = rho c z/h.
    const value = {
      format: "unseam-board/1",
      size: [20, 20],
      cell: 2,
      start: 0,
      h: 0,
      layers: [{ name: "b", material: { k: 1e-4, rho: 1, cp: 1 }, thickness: 0.1 }],
      parts: [{ name: "p", at: [10, 10], size: [20, 20, 2], material: "cu", limit: 50 }],
      heat: [{ seconds: 60, nozzle: { at: [10, 10], size: [40, 40], temperature: 100, h: 100 } }],
      report: [20, 60],
    };
    const tau = (8933 * 385 * 2e-3) / 100;
    const [p] = heatBoard(readBoard(value), { tolerance: 1e-3 })!.parts;
    for (const [i, t] of [20, 60].entries()) expect(p.degC[i]).toBeCloseTo(100 * (1 - Math.exp(-t / tau)), 1);
    expect(p.reached!).toBeCloseTo(tau * Math.LN2, 1);
    expect(p.rampUp).toBeCloseTo(100 * (1 - Math.exp(-1 / tau)), 2);
  });

  test("preconditioned gradients solve the system they claim to", () => {
    const grid = makeGrid(readBoard(raw()));
    const system = new BoardSystem(grid);
    system.surround(new Float64Array(grid.n).fill(1e-4));
    system.prepare(0.7);
    const truth = Float64Array.from({ length: grid.n }, (_, i) => (grid.c[i] > 1e-8 ? Math.sin(i) : 0));
    const b = new Float64Array(grid.n);
    system.outflow(truth, b);
    for (let i = 0; i < grid.n; i += 1) b[i] = grid.c[i] * truth[i] + 0.7 * b[i];
    const x = new Float64Array(grid.n);
    system.solve(b, x, 1e-10);
    for (let i = 0; i < grid.n; i += 1) if (grid.c[i] > 1e-8) expect(Math.abs(x[i] - truth[i])).toBeLessThan(1e-6);
    expect(system.iterations).toBeLessThan(60);
  });

  test("copper in a laminate: eight 18 um foils of 50 % cover in 0.6 mm give 49 W/(m.K) along and 0.45 through", () => {
    // Parallel and series rules; FR-4 1.059 and 0.343 (Sarvar et al. 1990), copper 401.
    const value = raw();
    value.layers = [{ name: "m", material: "fr4", thickness: 0.6, copper: { count: 8, thickness: 0.018, cover: 0.5 } }];
    const { material } = readBoard(value).layers[0];
    expect(material.kInPlane).toBeCloseTo(49, 0);
    expect(material.k).toBeCloseTo(0.451, 3);
  });
});

describe("J-STD-020", () => {
  test.each([
    ["020D", "lead-free", 0.9, 57.6, 260],
    ["020D", "lead-free", 1.6, 349, 260],
    ["020D", "lead-free", 1.6, 350, 250],
    ["020D", "lead-free", 2.0, 2001, 245],
    ["020D", "lead-free", 2.5, 100, 250],
    ["020C", "tin-lead", 1.0, 100, 240],
    ["020D", "tin-lead", 1.0, 100, 235],
    ["020C", "tin-lead", 1.0, 400, 225],
    ["020D", "tin-lead", 3.0, 100, 220],
  ] as const)("%s %s, %f mm, %f mm3: %i degC", (revision, finish, thickness, volume, degC) => {
    expect(classification(revision, finish, thickness, volume)).toBe(degC);
  });
});

describe("remarks and profile", () => {
  test("the part under the jet is the target, and what stands against the plan is said", () => {
    const board = readBoard(raw());
    expect(targetOf(board)?.name).toBe("soc");
    const text = remarksOf(board, run()).join("\n");
    expect(text).toMatch(/not a process qualification/);
    expect(text).toMatch(/n1 reaches its limit/);
    expect(text).toMatch(/K\/s/);
    expect(text).toMatch(/Ask which alloy/);
  });

  test("a proposed profile melts the part's joints and spares the neighbour when it is run", () => {
    const value = raw();
    value.layers[0].copper = 0.02;
    value.parts[0].limit = 300;
    value.parts[1].limit = 200;
    const board = readBoard(value);
    const proposal = proposeProfile(board);
    if (proposal.kind === "none") throw new Error(proposal.why);
    const played = heatBoard({ ...board, heat: proposal.heat, report: [] })!;
    expect(played.parts[0].coldestJoint).toBeGreaterThan(board.liquidus);
    expect(played.parts[1].reached).toBeNull();
  });

  test("no nozzle, no profile", () => {
    const value = raw();
    value.heat = [value.heat[0]];
    value.report = [];
    const answer = proposeProfile(readBoard(value));
    expect(answer.kind === "none" && answer.why).toMatch(/no nozzle/);
  });
});

describe("what is refused", () => {
  test.each<[string, (board: Loose) => void, string, RegExp]>([
    ["another format", (b) => (b.format = "unseam-stack/1"), "format", /unseam-board/],
    ["no layers", (b) => (b.layers = []), "layers", /1 to 40/],
    ["zero thickness", (b) => (b.layers[0].thickness = 0), "layers[0].thickness", /above zero/],
    ["unknown material", (b) => (b.parts[0].material = "mold"), "parts[0].material", /property table/],
    ["too many cells", (b) => (b.cell = 0.05), "cell", /at most 400000/],
    ["a part off the board", (b) => (b.parts[0].at = [58, 20]), "parts[0]", /its middle/],
    ["parts in each other", (b) => (b.parts[1].at = [32, 20]), "parts[1]", /side by side/],
    ["two of one name", (b) => (b.parts[1].name = "soc"), "parts[1].name", /name of its own/],
    ["a stage of no length", (b) => (b.heat[0].seconds = 0), "heat[0].seconds", /above zero/],
    ["copper beyond one", (b) => (b.layers[0].copper = 1.2), "layers[0].copper", /share/],
    ["report too late", (b) => (b.report = [500]), "report[0]", /length of 100/],
    ["misspelt key", (b) => (b.heat[1].nozle = b.heat[1].nozzle), "heat[1].nozle", /one of/],
  ])("%s", (_, change, path, expected) => {
    const value = raw();
    change(value);
    try {
      readBoard(value);
    } catch (error) {
      if (!(error instanceof InputFaults)) throw error;
      expect(error.faults.find((fault) => fault.path === path)?.expected).toMatch(expected);
      return;
    }
    throw new Error("not refused");
  });

  test("a part that the cells swallow", () => {
    const value = raw();
    value.cell = 10;
    value.parts.push({ name: "speck", at: [37.5, 20], size: [0.5, 0.5, 0.3], material: "si" });
    expect(() => run(value)).toThrow(/speck would vanish/);
  });
});
