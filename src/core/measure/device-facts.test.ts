import { expect, it } from "vitest";
import { smallPhone } from "../../../test/fixtures/small-phone.ts";
import { countingClock } from "../route/counting-clock.ts";
import { deviceFacts } from "./device-facts.ts";

it("a part that serves a role counts as it", () => {
  expect(smallPhone.parts.find((part) => part.role === "speaker")?.serves).toEqual(["main-microphone"]);
  const { ways } = deviceFacts(smallPhone, { now: countingClock(), limit: 1000 });
  expect(ways?.speaker?.steps).toBeGreaterThan(0);
  expect(ways?.["main-microphone"]).toEqual(ways?.speaker);
});
