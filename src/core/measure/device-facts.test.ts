import { expect, it } from "vitest";
import { smallPhone } from "../../../test/fixtures/small-phone.ts";
import { countingClock } from "../route/counting-clock.ts";
import { deviceFacts } from "./device-facts.ts";

it("a part that serves a role counts as it", () => {
  const serving = smallPhone.parts.find((part) => part.serves?.includes("main-microphone"))!;
  expect(serving.role).toBe("charging-port");
  const { ways } = deviceFacts(smallPhone, { now: countingClock(), limit: 1000 });
  expect(ways?.["charging-port"]?.steps).toBeGreaterThan(0);
  expect(ways?.["main-microphone"]).toEqual(ways?.["charging-port"]);
});
