import { describe, expect, it } from "vitest";
import { randomRecord } from "../../../../test/helpers/random-record.ts";
import type { TeardownRecord } from "../../record/index.ts";
import { Bench, type BenchOperation } from "../../structure/bench.ts";
import { compile, viewOf } from "../../structure/index.ts";
import { bruteForce } from "../../structure/oracle.ts";
import { CELL_CANNOT_BE_ISOLATED, findWayIn, type WayIn } from "./index.ts";
import type { Question, WayOperation } from "./types.ts";

const control = { now: () => 0 };

/** Replays an answer by the bench's own rules; the figures that they give. */
function replayOnBench(record: TeardownRecord, question: Question, way: WayIn): { seconds: number; steps: number } {
  const isolate = question.isolation !== false && !way.warnings.includes(CELL_CANNOT_BE_ISOLATED);
  const view = viewOf(record, question);
  const bench = new Bench(view, isolate);
  let state = bench.start();
  for (const operation of way.operations) {
    const outcome = bench.apply(state, asBench(operation));
    if (!outcome.ok) throw new Error(outcome.because);
    state = outcome.done.state;
  }
  for (const target of question.to) expect(state.lifted.has(target)).toBe(true);
  return { seconds: state.now / 1000, steps: state.steps };
}

function asBench({ kind, joint = "", part = "", zone = "", release = 0, passes }: WayOperation): BenchOperation {
  if (kind === "release") return { kind, joint, release, ...(passes === undefined ? {} : { passes }) };
  return kind === "heat" ? { kind, zone } : { kind, part };
}

describe("ways in on random records", () => {
  it("are as cheap as brute force finds, in seconds and in steps, and pass the bench's own rules", () => {
    let compared = 0;
    for (let seed = 1; seed <= 400; seed += 1) {
      const record = randomRecord(seed);
      const to = [record.parts.at(-1 - (seed % 2))?.id ?? ""];
      const damage = seed % 3 === 0;
      const accept = seed % 5 === 0 ? (["puncture"] as const) : [];
      for (const least of ["seconds", "steps"] as const) {
        const question: Question = { to, least, damage, accept: [...accept] };
        const way = findWayIn(record, question, control);
        const view = viewOf(record, question);
        let expected: ReturnType<typeof bruteForce>;
        try {
          const isolate = "operations" in way ? !way.warnings.includes(CELL_CANNOT_BE_ISOLATED) : false;
          expected = bruteForce(view, to, least, isolate, 30_000);
          // The rule of power may only be off where the cell cannot be isolated by it, or no way in results.
          if ("operations" in way && !isolate && compile(record, question, to, true).gated) {
            expect(bruteForce(view, to, least, true, 30_000)).toBeNull();
          }
        } catch (error) {
          if (error instanceof RangeError) continue;
          throw error;
        }
        compared += 1;
        if (!("operations" in way)) {
          expect(expected, `seed ${seed}`).toBeNull();
          continue;
        }
        expect(way.proved).toBe(true);
        expect(replayOnBench(record, question, way), `seed ${seed}`).toEqual({
          seconds: way.seconds,
          steps: way.steps,
        });
        expect(least === "seconds" ? way.seconds : way.steps, `seed ${seed} ${least}`).toBe(
          expected?.cost === undefined ? null : least === "seconds" ? expected.seconds : expected.steps,
        );
      }
    }
    expect(compared).toBeGreaterThan(600);
  }, 300_000);
});
