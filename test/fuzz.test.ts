/** Records broken at random: every command has to say what is wrong or to answer, and never to break itself. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { inFolder, unseam } from "./helpers/cli.ts";

const text = readFileSync(new URL("../examples/plicarn-1.json", import.meta.url), "utf8");
/** Rounds kept short for every run; the same code with other seeds can be left running for an hour. */
const ROUNDS = 120;

type Random = () => number;
type Node = Record<string, unknown>;

/** A row of numbers from 0 to 1 that is the same for the same seed (linear congruence modulo 2^32). */
function randomOf(seed: number): Random {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

const pick = <T>(random: Random, from: readonly T[]): T => from[Math.floor(random() * from.length)];
const WEIRD: unknown[] = [
  null,
  true,
  0,
  -1,
  1e308,
  1e-320,
  "",
  "<b>",
  "__proto__",
  "constructor",
  [],
  {},
  [[]],
  [null],
];

/** One value somewhere in a record taken away, doubled, changed or replaced by something odd. */
function breakOnce(random: Random, record: Node): void {
  let at = record;
  for (let depth = 0; depth < 8; depth += 1) {
    const keys = Object.keys(at);
    if (keys.length === 0) return;
    const key = pick(random, keys);
    const value = at[key];
    if (value !== null && typeof value === "object" && random() < 0.8) {
      at = value as Node;
      continue;
    }
    const how = random();
    if (how < 0.3 && Array.isArray(at)) at.splice(Number(key), 1);
    else if (how < 0.3) delete at[key];
    else if (how < 0.45 && Array.isArray(at)) at.push(structuredClone(value));
    else if (how < 0.7 && typeof value === "number")
      at[key] = pick(random, [0, -value, value * 1e6, value / 1e6, 1e300]);
    else if (how < 0.8) at[key] = pick(random, ["battery", "frame", "device", "none"]);
    else at[key] = structuredClone(pick(random, WEIRD));
    return;
  }
}

describe("a record broken at random", () => {
  it("as a text is refused in words or read", () =>
    inFolder(async (folder) => {
      const random = randomOf(1);
      for (let round = 0; round < ROUNDS; round += 1) {
        const start = Math.floor(random() * text.length);
        const end = start + Math.floor(random() * 20);
        const put = pick(random, ["", '"', "{", "]", ",", "NaN", "\\u12", "\u0000", "1e999", "é"]);
        const name = round % 30 === 0 ? "a.yaml" : "a.json";
        writeFileSync(join(folder, name), text.slice(0, start) + put + text.slice(end));
        const { code, stdout } = await unseam(folder, "check", name, "--json");
        expect([0, 1], `round ${round}`).toContain(code);
        expect(JSON.parse(stdout).ok, `round ${round}`).toBe(code === 0);
      }
    }));

  it("as a value is refused by every command in the same words, or answered", () =>
    inFolder(async (folder) => {
      const random = randomOf(2);
      let valid = 0;
      for (let round = 0; round < ROUNDS; round += 1) {
        const record = JSON.parse(text) as Node;
        for (let breaks = 1 + Math.floor(random() * 3); breaks > 0; breaks -= 1) breakOnce(random, record);
        writeFileSync(join(folder, "a.json"), JSON.stringify(record));
        const check = await unseam(folder, "check", "a.json", "--json");
        expect([0, 1], `round ${round}`).toContain(check.code);
        const figures = await unseam(folder, "figures", "a.json", "--json");
        expect([0, 1], `round ${round}: ${figures.stderr}`).toContain(figures.code);
        if (check.code === 1) expect(JSON.parse(figures.stdout)).toEqual(JSON.parse(check.stdout));
        else valid += 1;
      }
      expect(valid).toBeGreaterThan(ROUNDS / 20);
    }));
});
