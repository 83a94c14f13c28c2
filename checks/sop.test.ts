/**
 * Sequential ordering problems of TSPLIB 95 (Reinelt), values as listed by public collections of solvers; those here are
 * closed. And random small ones against all orders.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { solveSop } from "../src/core/route/sop/index.ts";
import { costOf, modelOf } from "../src/core/route/sop/model.ts";
import { isSopText, readSop } from "../src/core/route/sop/read.ts";
import { seeded } from "../test/helpers/random-record.ts";

const file = (name: string): string => readFileSync(new URL(`data/sop/${name}`, import.meta.url), "utf8");
const { values } = JSON.parse(file("optima.json")) as { values: Record<string, { optimum?: number }> };
const control = { now: () => 0 };

describe("TSPLIB", () => {
  it.each(["ESC07", "ESC11", "ESC12", "ESC25", "br17.10", "br17.12", "p43.4", "ry48p.4", "rbg048a"])(
    "%s is proved at its listed optimum",
    (name) => {
      const text = file(`${name}.sop`);
      expect(isSopText(text)).toBe(true);
      const answer = solveSop(text, control);
      expect(answer).toMatchObject({ seconds: values[name].optimum, lowerBound: values[name].optimum, proved: true });
      expect(
        costOf(
          modelOf(readSop(text)),
          answer.order.map((node) => Number(node) - 1),
        ),
      ).toBe(answer.seconds);
    },
  );

  it("stops when it is told to, with an order and a bound", () => {
    let calls = 0;
    const answer = solveSop(file("ft53.4.sop"), { now: () => (calls += 1), deadline: 3 });
    expect(answer.proved).toBe(false);
    expect(answer.lowerBound).toBeLessThanOrEqual(14425);
    expect(answer.seconds).toBeGreaterThanOrEqual(14425);
  });
});

/** A random problem of n nodes in TSPLIB form. */
function randomSop(seed: number): string {
  const random = seeded(seed);
  const n = 4 + Math.floor(random() * 4);
  const rows = Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (_, j) => {
      if (i === j) return 0;
      if (j === 0 || i === n - 1) return -1;
      if (i === 0 && j === n - 1) return 1_000_000;
      return j < i && random() < 0.25 ? -1 : Math.floor(random() * 50);
    }),
  );
  return `NAME: r${seed}\nTYPE: SOP\nDIMENSION: ${n}\nEDGE_WEIGHT_TYPE: EXPLICIT\nEDGE_WEIGHT_FORMAT: FULL_MATRIX\nEDGE_WEIGHT_SECTION\n${n}\n${rows.map((row) => row.join(" ")).join("\n")}\nEOF\n`;
}

function* orders(n: number, from: number[] = [0]): Generator<number[]> {
  if (from.length === n - 1) yield [...from, n - 1];
  for (let node = 1; node < n - 1; node += 1) if (!from.includes(node)) yield* orders(n, [...from, node]);
}

describe("random small problems", () => {
  it("come out as the best of all orders", () => {
    for (let seed = 1; seed <= 400; seed += 1) {
      const text = randomSop(seed);
      const model = modelOf(readSop(text));
      let least = Number.POSITIVE_INFINITY;
      for (const order of orders(model.n)) least = Math.min(least, costOf(model, order) ?? Number.POSITIVE_INFINITY);
      expect(solveSop(text, control), `seed ${seed}`).toMatchObject({ seconds: least, proved: true });
    }
  });
});

describe("a malformed file", () => {
  const good = randomSop(1);
  it.each<[string, string, RegExp]>([
    ["another type", good.replace("SOP", "ATSP"), /line 2.*ATSP.*expected SOP/],
    ["a matrix cut off", good.slice(0, good.length - 30), /cut off/],
    ["a word in the matrix", good.replace(/\n0 /, "\nzero "), /line 8.*"zero"/],
    ["a number too many", good.replace("EOF", "7\nEOF"), /complete/],
    ["another dimension", good.replace(/DIMENSION: \d+/, "DIMENSION: 99"), /DIMENSION/],
    ["no matrix", good.slice(0, good.indexOf("EDGE_WEIGHT_SECTION")), /EDGE_WEIGHT_SECTION/],
    ["a negative cost", good.replace(/\n0 \d+/, "\n0 -7"), /at least -1/],
  ])("with %s is refused in words", (_, text, words) => {
    expect(() => solveSop(text, control)).toThrow(words);
  });

  it("with a circle of orderings is refused", () => {
    const circle = "TYPE: SOP\nEDGE_WEIGHT_SECTION\n4\n0 1 1 9\n-1 0 -1 1\n-1 -1 0 1\n-1 -1 -1 0\n";
    expect(() => solveSop(circle, control)).toThrow(/circle/);
  });
});
