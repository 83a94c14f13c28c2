import { describe, expect, test } from "vitest";
import { InputError, InputFaults } from "../errors.ts";
import { calibrated, fitStack, student } from "./fit.ts";
import { readLog } from "./read-log.ts";
import { readStack } from "./read-stack.ts";
import { simulate } from "./simulate.ts";

const report = Array.from({ length: 121 }, (_, i) => i);
const make = (h: number, k = 0.15, hotH: number | null = h) =>
  readStack({
    format: "unseam-stack/1",
    start: 23,
    layers: [
      { name: "glass", material: "glass_aluminosilicate", thickness: 0.6 },
      { name: "bond", material: { k, rho: 1000, cp: 1800 }, thickness: 0.2 },
      { name: "frame", material: "al6013", thickness: 2 },
    ],
    programme: [{ seconds: 120, hot: { temperature: 80, h: hotH }, cool: { temperature: 23, h: 8 } }],
    watch: [
      { name: "glass", layer: "glass", face: "far" },
      { name: "bond", layer: "bond", face: "far", soft: 65 },
    ],
    report,
  });

/** Seeded normal noise: mulberry32 and Box-Muller. */
function noise(seed: number): () => number {
  let a = seed;
  const uniform = () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

const logOf = (h: number, k: number, seed: number, face = 0) => {
  const random = noise(seed);
  return { time: report, degC: simulate(make(h, k)).faces[face].degC.map((degC) => degC + 0.3 * random()) };
};

test("100 logs of 1 Hz with noise of 0.3 K: within 5 % in at least 95, the 95 % interval covers in 90 to 99", () => {
  let within = 0;
  let covers = 0;
  for (let seed = 1; seed <= 100; seed += 1) {
    const h = [120, 240, 500][seed % 3];
    const { contact } = fitStack(make(300), logOf(h, 0.15, 7 * seed + 1));
    if (Math.abs(contact.value / h - 1) <= 0.05) within += 1;
    if (contact.low <= h && h <= contact.high) covers += 1;
  }
  expect(within).toBeGreaterThanOrEqual(95);
  expect(covers).toBeGreaterThanOrEqual(90);
  expect(covers).toBeLessThanOrEqual(99);
});

test("contact and bond together", () => {
  const fit = fitStack(make(300, 0.2), logOf(180, 0.12, 5), { bond: true });
  expect(Math.abs(fit.contact.value / 180 - 1)).toBeLessThan(0.05);
  expect(fit.bond!.low).toBeLessThan(0.12);
  expect(fit.bond!.high).toBeGreaterThan(0.12);
  expect(fit.residual).toBeGreaterThan(0.2);
  expect(fit.residual).toBeLessThan(0.4);
  expect(Math.abs(fit.correlation!)).toBeLessThan(1);
  const bench = calibrated(make(300, 0.2), fit);
  expect(bench.programme[0].hot.h).toBe(fit.contact.value);
  expect(bench.lines[0].layers[1].material.k).toBe(fit.bond!.value);
});

test("without noise the truth comes back, from a far guess and from a held face", () => {
  const log = { time: report, degC: simulate(make(240)).faces[0].degC };
  for (const start of [make(20), make(5000), make(0, 0.15, null)])
    expect(fitStack(start, log).contact.value).toBeCloseTo(240, 1);
});

test("a log that the stack does not describe: said, and the interval is wider", () => {
  const log = logOf(240, 0.15, 3);
  const late = { time: log.time, degC: log.degC.map((_, i) => log.degC[Math.max(0, i - 6)]) };
  const good = fitStack(make(300), log);
  const bad = fitStack(make(300), late);
  expect(good.warnings).toEqual([]);
  expect(bad.warnings[0]).toMatch(/not noise/);
  expect(Math.log(bad.contact.high / bad.contact.low)).toBeGreaterThan(
    3 * Math.log(good.contact.high / good.contact.low),
  );
});

describe("what cannot be fitted is refused", () => {
  test("an unknown face, with the nearest", () => {
    try {
      fitStack(make(300), logOf(240, 0.15, 1), { at: "glas" });
      throw new Error("not refused");
    } catch (error) {
      expect(error).toBeInstanceOf(InputError);
      expect((error as InputError).nearest).toBe("glass");
    }
  });
  test("a flat log", () => {
    const flat = { time: report, degC: report.map(() => 23) };
    expect(() => fitStack(make(300), flat)).toThrow(/do not depend/);
  });
  test("a log after the programme", () => {
    expect(() => fitStack(make(300), { time: report.map((t) => t + 500), degC: report })).toThrow(
      /within the programme/,
    );
  });
});

describe("reading a log", () => {
  const rows = (separator: string, decimal: string) =>
    Array.from({ length: 10 }, (_, i) => `${i}${separator}${23 + i}${decimal}5`).join("\n");
  test.each([
    ["commas and headings", `time_s,degC\n${rows(",", ".")}`],
    ["semicolons, decimal comma, carriage returns", rows(";", ",").replaceAll("\n", "\r\n")],
    ["tabs, a mark at the beginning and comments", `\uFEFF# pad 80\n${rows("\t", ".")}\n\n`],
    ["spaces", rows("  ", ".")],
  ])("%s", (_, text) => {
    const log = readLog(text);
    expect(log.time).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    expect(log.degC[9]).toBe(32.5);
  });
  test("each bad line is named", () => {
    expect(() => readLog(`${rows(",", ".")}\n11,warm\n-3,20\n12`)).toThrow(InputFaults);
    try {
      readLog(`${rows(",", ".")}\n11,warm\n-3,20\n12`);
    } catch (error) {
      expect((error as InputFaults).faults.map(({ path }) => path)).toEqual(["line 11", "line 12", "line 13"]);
    }
    expect(() => readLog("1,2\n2,3")).toThrow(/8 to/);
    expect(() => readLog("")).toThrow(/0 rows/);
  });
});

test("Student's t, two-sided 95 %, from the printed table (ISO/IEC Guide 98-3, Table G.2)", () => {
  expect(student(10)).toBeCloseTo(2.23, 2);
  expect(student(30)).toBeCloseTo(2.04, 2);
  expect(student(100)).toBeCloseTo(1.984, 3);
});
