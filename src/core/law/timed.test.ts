import { expect, it } from "vitest";
import { smallPhone } from "../../../test/fixtures/small-phone.ts";
import { findWayIn } from "../route/ways/index.ts";
import { lawReport } from "./index.ts";

it("the least sequence of a part has the planner's own times and steps", () => {
  const control = { now: () => 0 };
  const report = lawReport(smallPhone, { basis: "least", findWayIn, control });
  const parts = Object.values(report.evidence).flat();
  expect(parts.length).toBeGreaterThan(3);
  for (const { part, timed } of parts) {
    const way = findWayIn(smallPhone, { to: [part], least: "steps" }, control);
    if (!("operations" in way) || timed === undefined) throw new Error(`no way in to ${part}`);
    expect(timed.steps).toBe(way.steps);
    const plain = way.operations.every((one) => one.passes === undefined);
    if (plain) expect(timed.seconds).toBeCloseTo(way.seconds, 6);
    // What later rounds of an interrupted release fetch is left out.
    const told = ({ kind, at, fetch, turn, steps, passes }: (typeof way.operations)[number]) =>
      passes === undefined ? { kind, steps, fetch, turn, ...(plain ? { at } : {}) } : { kind, steps };
    expect(timed.operations.map(told)).toEqual(way.operations.map(told));
  }
});
