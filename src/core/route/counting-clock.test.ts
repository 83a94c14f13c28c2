import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import type { TeardownRecord } from "../record/index.ts";
import { countingClock } from "./counting-clock.ts";
import { findWayIn } from "./ways/index.ts";

const phone: TeardownRecord = JSON.parse(
  readFileSync(new URL("../../../examples/thrandle-5.json", import.meta.url), "utf8"),
);

it("goes on by the same amount at every look", () => {
  const now = countingClock(2);
  expect([now(), now(), now()]).toEqual([0, 2, 4]);
});

it("cuts a search at the same place every time", () => {
  const cut = () => {
    const now = countingClock(10);
    return findWayIn(phone, { to: ["finger-reader"], least: "steps" }, { now, deadline: 50 });
  };
  const first = cut();
  expect(first).toMatchObject({ targets: ["finger-reader"], proved: false });
  expect(cut()).toEqual(first);
});
