/**
 * Small records with the least seconds and steps to one part, worked out apart from this code.
 * The planner and the brute force over the bench must both come to the same figures.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { requireRecord } from "../src/core/record/index.ts";
import { findWayIn } from "../src/core/route/ways/index.ts";
import { viewOf } from "../src/core/structure/index.ts";
import { bruteForce } from "../src/core/structure/oracle.ts";

interface Expected {
  readonly name: string;
  readonly target: string;
  readonly seconds: number;
  readonly steps: number;
  /** Least seconds with damage allowed. */
  readonly damage: number;
}

const data = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`data/records/${name}.json`, import.meta.url), "utf8"));
const cases = data("expected") as Expected[];

describe("brute force over the bench", () => {
  // The larger ones take seconds each; the planner answers all of them (below).
  const small = cases.filter((one) => !["case-2", "case-4", "case-8", "case-22", "case-14"].includes(one.name));
  it.each(small)("$name", ({ name, target, seconds, steps, damage }) => {
    const record = requireRecord(data(name));
    expect(bruteForce(viewOf(record, {}), [target], "seconds", true)?.seconds).toBe(seconds);
    expect(bruteForce(viewOf(record, {}), [target], "steps", true)?.steps).toBe(steps);
    expect(bruteForce(viewOf(record, { damage: true }), [target], "seconds", true)?.seconds).toBe(damage);
  });
});

describe("the planner", () => {
  const control = { now: () => 0 };
  it.each(cases)("$name", ({ name, target, seconds, steps, damage }) => {
    const record = requireRecord(data(name));
    const ways = [
      findWayIn(record, { to: [target], least: "seconds" }, control),
      findWayIn(record, { to: [target], least: "steps" }, control),
      findWayIn(record, { to: [target], least: "seconds", damage: true }, control),
    ];
    expect(ways).toMatchObject([
      { seconds, lowerBound: seconds, proved: true },
      { steps, lowerBound: steps, proved: true },
      { seconds: damage, lowerBound: damage, proved: true },
    ]);
  });
});
