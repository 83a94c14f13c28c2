/**
 * Heat: accuracy and time of the stack solver beside a general-purpose one on the same stacks, and of the board solver.
 *
 * `node --import tsx bench/heat.ts`. Errors are against thermal quadrupoles (checks/heat-oracle.ts). The peer is SciPy's LSODA
 * on a method-of-lines grid (Debian: python3-scipy); where it is not installed its rows are left out and said so. Times of
 * both are of the solving alone, by the clock, best of three after a first run.
 */
import { spawnSync } from "node:child_process";
import { Quadrupoles } from "../checks/heat-oracle.ts";
import { heatBoard, planRounds, readBoard, readStack, simulate, warmWindow } from "../src/core/heat/index.ts";

interface Case {
  readonly name: string;
  readonly layers: readonly { L: number; k: number; rc: number; R: number }[];
  readonly hot: number;
  readonly cool: number;
  readonly tHot: number;
  readonly tCool: number;
  readonly start: number;
  readonly report: readonly number[];
  /** The far face of the layer before this one is compared. */
  readonly face: number;
}

const glass = { L: 0.0006, k: 1.1, rc: 1.96e6, R: 0 };
const bond = { L: 0.0002, k: 0.15, rc: 1.8e6, R: 1e-4 };
const pad = { hot: 300, cool: 8, tHot: 80, tCool: 23, start: 23, report: [1, 5, 20, 60, 180, 300] };
const CASES: readonly Case[] = [
  {
    name: "glass, bond, frame, cell",
    layers: [glass, bond, { L: 0.001, k: 160, rc: 2.439e6, R: 1 / 90 }, { L: 0.004, k: 0.6, rc: 2.31e6, R: 0 }],
    ...pad,
    face: 2,
  },
  {
    name: "glass, bond, pouch",
    layers: [glass, { ...bond, R: 0 }, { L: 0.0045, k: 0.52, rc: 2.41e6, R: 0 }],
    ...pad,
    face: 2,
  },
  {
    name: "foil before a thick insulator",
    layers: [
      { L: 0.00002, k: 400, rc: 3.4e6, R: 0 },
      { L: 0.03, k: 0.2, rc: 1.6e6, R: 0 },
    ],
    ...pad,
    hot: 3000,
    face: 1,
  },
];

function best<T>(work: () => T): { ms: number; value: T } {
  let value = work();
  let ms = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 3; i += 1) {
    const begin = performance.now();
    value = work();
    ms = Math.min(ms, performance.now() - begin);
  }
  return { ms, value };
}

function stackOf(item: Case) {
  return readStack({
    format: "unseam-stack/1",
    start: item.start,
    layers: item.layers.map(({ L, k, rc, R }, i) => ({
      name: `l${i}`,
      material: { k, rho: rc / 1000, cp: 1000 },
      thickness: L * 1000,
      ...(R > 0 ? { contactAfter: 1 / R } : {}),
    })),
    programme: [
      { seconds: 300, hot: { temperature: item.tHot, h: item.hot }, cool: { temperature: item.tCool, h: item.cool } },
    ],
    watch: [{ name: "face", layer: `l${item.face - 1}`, face: "far" }],
    report: item.report,
  });
}

const peer = spawnSync("python3", [new URL("./heat-peer.py", import.meta.url).pathname], {
  input: JSON.stringify(CASES),
  encoding: "utf8",
  timeout: 300_000,
});
const others: { ms: number; cells: number; degC: number[] }[][] | undefined =
  peer.status === 0 ? JSON.parse(peer.stdout) : undefined;
if (others === undefined) console.log("The peer was left out: python3 with SciPy is not installed here.\n");

console.log("| stack, 300 s | solver | cells | largest error, K | ms |");
console.log("| --- | --- | --- | --- | --- |");
for (const [i, item] of CASES.entries()) {
  const oracle = new Quadrupoles(item.layers, item.hot, item.cool);
  const exact = item.report.map((t) => oracle.at(t, item.start, [[0, item.tHot, item.tCool]])[2 * item.face - 1]);
  const error = (degC: readonly number[]) => Math.max(...degC.map((value, t) => Math.abs(value - exact[t])));
  const { ms, value } = best(() => simulate(stackOf(item)));
  console.log(
    `| ${item.name} | this one | ${value.cells} | ${error(value.faces[0].degC).toExponential(1)} | ${ms.toFixed(2)} |`,
  );
  for (const other of others?.[i] ?? [])
    console.log(
      `| ${item.name} | SciPy LSODA | ${other.cells} | ${error(other.degC).toExponential(1)} | ${other.ms.toFixed(2)} |`,
    );
}

const rim = [
  { name: "glass", material: "glass_aluminosilicate", thickness: 0.6 },
  { name: "bond", material: { k: 0.15, rho: 1000, cp: 1800 }, thickness: 0.2 },
  { name: "frame", material: "al6013", thickness: 2 },
];
const phone = readStack({
  format: "unseam-stack/1",
  start: 23,
  layers: rim,
  programme: [{ seconds: 120, hot: { temperature: 80, h: 300 }, cool: { temperature: 23, h: 8 } }],
  watch: [{ name: "bond", layer: "bond", face: "far", soft: 65 }],
  beside: [
    {
      name: "cell",
      layers: [
        rim[0],
        { name: "gap", material: "air", thickness: 0.3 },
        { name: "pouch", material: "li_pouch", thickness: 4.5 },
      ],
      watch: [{ name: "cell", layer: "pouch", face: "near", plan: 55, stop: 60, counted: { above: 45, seconds: 900 } }],
    },
  ],
});
console.log("\n| question | ms |\n| --- | --- |");
console.log(`| warm window of rim and cell | ${best(() => warmWindow(phone)).ms.toFixed(1)} |`);
for (const cut of [73, 258, 500])
  console.log(`| rounds of a cut of ${cut} s | ${best(() => planRounds(phone, cut)).ms.toFixed(0)} |`);

const board = (cell: number) =>
  readBoard({
    format: "unseam-board/1",
    size: [120, 80],
    cell,
    start: 23,
    h: 10,
    layers: [
      { name: "upper", material: "fr4", copper: 0.12, thickness: 0.6 },
      { name: "frame", material: "fr4", thickness: 0.8, ring: 4 },
      { name: "lower", material: "fr4", copper: 0.12, thickness: 0.6 },
      { name: "plate", material: "fr4", copper: 0.12, thickness: 0.6 },
    ],
    parts: [
      { name: "chip", at: [60, 40], size: [14, 14, 1.2], material: "mould" },
      { name: "beside", at: [80, 40], size: [8, 8, 0.9], material: "mould", limit: 200 },
    ],
    heat: [
      { seconds: 60, below: { temperature: 150, h: 60 } },
      {
        seconds: 40,
        nozzle: { at: [60, 40], size: [16, 16], temperature: 380, h: 200 },
        below: { temperature: 150, h: 60 },
      },
    ],
  });
console.log("\n| board, 100 s | cells | steps | iterations | chip, degC | s |\n| --- | --- | --- | --- | --- | --- |");
for (const cell of [2, 1, 0.5]) {
  const begin = performance.now();
  const heat = heatBoard(board(cell));
  const s = (performance.now() - begin) / 1000;
  if (heat === undefined) continue;
  console.log(
    `| cell ${cell} mm | ${heat.cells} | ${heat.steps} | ${heat.iterations} | ${heat.parts[0].peak.toFixed(1)} | ${s.toFixed(2)} |`,
  );
}
