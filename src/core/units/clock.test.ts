import { expect, it } from "vitest";
import { clock, sessionClock } from "./index.ts";

it("rounds before it splits, so that no clock shows sixty seconds", () => {
  expect([0, 59.6, 119.5, 246, 4504, -0.2, -61].map(clock)).toEqual([
    "0:00",
    "1:00",
    "2:00",
    "4:06",
    "75:04",
    "0:00",
    "-1:01",
  ]);
  expect([760, 3599.7, 4504, -5].map(sessionClock)).toEqual(["0:12:40", "1:00:00", "1:15:04", "-0:00:05"]);
});
