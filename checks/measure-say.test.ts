/** A plain figure of a script against a reading that names no instrument: its own digits are all that tells how sure it is. */
import { describe, expect, it } from "vitest";
import { readTranscript, trySay } from "../src/core/narration/index.ts";
import { requireRecord } from "../src/core/record/index.ts";
import { smallPhone } from "../test/fixtures/small-phone.ts";

const tried = (words: string, values: readonly number[], more = {}) => {
  const record = requireRecord({
    ...smallPhone,
    claims: [],
    readings: [{ id: "m", of: ["battery"], quantity: "mass", values, unit: "g", ...more }],
  });
  return trySay(readTranscript(new TextEncoder().encode(words)), record).filter((one) => one.restsOn.includes("m"));
};

describe("a figure of a script", () => {
  it("may be said as it was noted, without an uncertainty that nobody knows", () => {
    const [said] = tried("The battery weighs 44.1 grams.", [44.1, 44.11, 44.1]);
    expect(said).toMatchObject({
      verdict: "supported",
      wording: expect.stringMatching(/mass 44\.10 g, as noted; no instrument/),
    });
    expect(said!.wording).not.toContain("±");
  });
  it("is refused where the digits that were noted differ", () => {
    expect(tried("The battery weighs 44.5 grams.", [44.1])[0]!.verdict).toBe("not-supported");
    expect(tried("The battery weighs 44 grams.", [44.4])[0]!.verdict).toBe("supported");
  });
});
