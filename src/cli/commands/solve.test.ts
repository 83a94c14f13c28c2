import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { run } from "../run.ts";

const folder = mkdtempSync(join(tmpdir(), "solve-"));
afterAll(() => rmSync(folder, { recursive: true }));

async function unseam(text: string, ...options: string[]) {
  writeFileSync(join(folder, "problem.json"), text);
  let stdout = "";
  let stderr = "";
  const code = await run(["solve", "problem.json", ...options], {
    cwd: folder,
    stdout: (more) => (stdout += more),
    stderr: (more) => (stderr += more),
  });
  return { code, stdout, stderr };
}

const operation = (id: string, needs: string[][], more: object = {}) => ({ id, seconds: 8, needs, ...more });
const document = (operations: object[], targets: string[], more: object = {}) =>
  JSON.stringify({
    ...{ format: "unseam-problem/1", operations, targets },
    ...{ setup: { fetch: 4.2, turn: 4.5 }, start: { tools: [], side: "back" } },
    ...more,
  });

describe("unseam solve", () => {
  it("prints the answer in the shape that is promised", async () => {
    const warm = { tools: ["pick"], side: "front", heat: "z1" };
    const text = document([operation("a", []), operation("b", [["a"]], warm)], ["b"], {
      zones: { z1: { seconds: 60, soft: 40, by: "gun" } },
    });
    const { code, stdout } = await unseam(text, "--json");
    expect(code).toBe(0);
    const answer = JSON.parse(stdout);
    expect(Object.keys(answer)).toEqual(["seconds", "lowerBound", "proved", "order", "milliseconds"]);
    expect(answer).toMatchObject({ seconds: 88.9, lowerBound: 88.9, proved: true, order: ["a", "heat:z1", "b"] });
  });

  it("names every target that cannot be reached", async () => {
    const operations = [
      operation("a", [["b"]]),
      operation("b", [["a"]]),
      operation("c", []),
      operation("d", [["a"], ["b"]]),
    ];
    const { code, stdout, stderr } = await unseam(document(operations, ["a", "c", "d"]), "--json");
    expect(code).toBe(1);
    const { unreachable } = JSON.parse(stdout);
    expect(unreachable.map(({ id }: { id: string }) => id)).toEqual(["a", "d"]);
    for (const { because } of unreachable) expect(because).toMatch(/circle/);
    expect(stderr).toMatch(/"a" cannot be reached/);
  });

  it("tells all faults of a file at once", async () => {
    const { code, stdout } = await unseam(document([{ id: "a", seconds: -1, need: [] }], ["b"]), "--json");
    expect(code).toBe(1);
    const { ok, faults } = JSON.parse(stdout);
    expect(ok).toBe(false);
    expect(faults.map(({ path }: { path: string }) => path)).toEqual([
      "operations[0].need",
      "operations[0].seconds",
      "targets[0]",
    ]);
  });

  it.each(["--limit=-1", "--limit=soon", "--limits=3"])("refuses %s", async (option) => {
    const { code } = await unseam(document([operation("a", [])], ["a"]), option);
    expect(code).toBe(2);
  });

  it("answers on ten thousand operations within a second of its limit", async () => {
    const chain = Array.from({ length: 10_000 }, (_, i) => {
      const needs = i === 0 ? [] : [[`o${i - 1}`], [`o${Math.max(0, i - 7)}`, `o${Math.max(0, i - 3)}`]];
      return operation(`o${i}`, needs, { tools: [`t${i % 5}`], side: i % 3 === 0 ? "back" : "front" });
    });
    const from = performance.now();
    const { code, stdout } = await unseam(document(chain, ["o9999"]), "--json", "--limit", "2");
    expect(code).toBe(0);
    const { seconds, lowerBound, order } = JSON.parse(stdout);
    expect(lowerBound).toBeLessThanOrEqual(seconds);
    expect(order.at(-1)).toBe("o9999");
    // Not a measurement: on a busy machine it may take several times as long, a hang never ends.
    expect(performance.now() - from).toBeLessThan(40_000);
  });

  it("takes a sequential ordering problem whatever its name", async () => {
    const text = `NAME: three\nTYPE: SOP\nDIMENSION: 3\nEDGE_WEIGHT_TYPE: EXPLICIT\nEDGE_WEIGHT_FORMAT: FULL_MATRIX
EDGE_WEIGHT_SECTION\n3\n0 4 1000000\n-1 0 5\n-1 -1 0\nEOF\n`;
    const { code, stdout } = await unseam(text, "--json");
    expect(code).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ seconds: 9, lowerBound: 9, proved: true, order: ["1", "2", "3"] });
  });
});
