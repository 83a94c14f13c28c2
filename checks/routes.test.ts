/**
 * Eighteen device-like problems whose least seconds two independent programs agreed on (a prototype of this method in
 * another code base and, up to 30 operations, general solvers on a mixed-integer and a logic model).
 */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { BARE_OBJECTIVE, readBare } from "../src/core/route/bare.ts";
import { replay } from "../src/core/route/replay.ts";
import { solve } from "../src/core/route/solve.ts";

const folder = new URL("./data/routes/", import.meta.url);
const read = (name: string): unknown => JSON.parse(readFileSync(new URL(name, folder), "utf8"));
const optima = read("optima.json") as { name: string; seconds: number }[];

describe("published optima", () => {
  it("holds an optimum for every file", () => {
    const files = readdirSync(folder).filter((name) => name.startsWith("h"));
    expect(files.sort()).toEqual(optima.map(({ name }) => `${name}.json`).sort());
  });

  it.each(optima)("$name: $seconds s, proved", ({ name, seconds }) => {
    const problem = readBare(read(`${name}.json`));
    const answer = solve(problem, BARE_OBJECTIVE, { now: () => performance.now() });
    expect(answer).toMatchObject({ kind: "solved", proved: true, ms: seconds * 1000, lowerBound: seconds * 1000 });
    if (answer.kind === "solved")
      expect(replay(problem, BARE_OBJECTIVE, answer.moves)).toMatchObject({ ms: seconds * 1000 });
  });
});
