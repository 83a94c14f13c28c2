/**
 * How long measurement takes: 10 000 readings reduced to results (meant: under 200 ms), and a Monte Carlo of 10^5 trials
 * of a 20-term budget (meant: under 0.5 s). Run: node --import tsx bench/measure.ts
 */
import { performance } from "node:perf_hooks";
import { benchOf, monteCarlo, readingResult } from "../src/core/measure/index.ts";
import { requireRecord } from "../src/core/record/index.ts";

const READINGS = 10_000;
const record = requireRecord({
  format: "unseam/1",
  id: "0b0b0b0b-0000-4000-8000-000000000001",
  device: { name: "Bench", kind: "smartphone", foldable: false },
  parts: [{ id: "frame", name: "Frame", base: true }],
  joints: [],
  tools: [],
  instruments: [
    { id: "scale", kind: "scale", resolution: { value: 0.01, unit: "g" }, maxError: { value: 0.05, unit: "g" } },
  ],
  log: [],
  readings: [
    { id: "zero", of: ["zero"], quantity: "mass", values: [0, 0.01], unit: "g", instrument: "scale" },
    ...Array.from({ length: READINGS }, (_, i) => ({
      id: `r${i}`,
      of: ["frame"],
      quantity: "mass",
      values: [10 + i * 0.001, 10.01 + i * 0.001, 10 + ((i * 7) % 5) * 0.01],
      unit: "g",
      instrument: "scale",
    })),
  ],
  claims: [],
  media: [],
});

function time(what: string, work: () => void): void {
  for (const run of ["first", "second", "third"]) {
    const start = performance.now();
    work();
    process.stdout.write(`${what}, ${run} run: ${(performance.now() - start).toFixed(0)} ms\n`);
  }
}

time(`${READINGS} readings reduced`, () => void benchOf(record).all.map(readingResult));

const names = Array.from({ length: 20 }, (_, i) => `x${i}`);
const inputs = Object.fromEntries(names.map((name, i) => [name, { value: i, u: 0.1 }]));
time("Monte Carlo, 10^5 trials of 20 terms", () => void monteCarlo(names.join(" + "), inputs, { trials: 100_000 }));
