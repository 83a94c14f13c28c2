import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { InputError } from "../../errors.ts";
import type { Entry, TeardownRecord } from "../../record/index.ts";
import { screwsTold } from "./counted.ts";
import { closingOf } from "./index.ts";

const phone: TeardownRecord = JSON.parse(
  readFileSync(new URL("../../../../examples/thrandle-5.json", import.meta.url), "utf8"),
);
const without = (wrong: (entry: Entry) => boolean): TeardownRecord => ({
  ...phone,
  log: phone.log.filter((entry) => !wrong(entry)),
});
const changed = (id: (entry: Entry) => boolean, more: Partial<Entry>): TeardownRecord => ({
  ...phone,
  log: phone.log.map((entry) => (id(entry) ? { ...entry, ...more } : entry)),
});
const fastened = (joint: string) => (entry: Entry) =>
  entry.action === "fasten" && entry.joints?.includes(joint) === true;

describe("the slim phone's afternoon", () => {
  const whole = closingOf(phone, "s2");
  it("comes out whole but for what could not be proved", () => {
    const left = whole.differences.filter((one) => !["proof", "failed"].includes(one.kind));
    expect(left.map((one) => one.text)).toEqual([]);
    expect(whole.cups).toEqual([]);
    expect(whole.covered).toEqual([]);
    expect(whole.differences.map((one) => one.of)).toContain("fingerprint");
  });
  it("names a screw that was left out, its length and its cup", () => {
    const [one] = closingOf(
      changed(fastened("port-screws"), { text: "One of the screws in, the other is on the mat." }),
      "s2",
    ).differences;
    expect(one).toMatchObject({ kind: "screws", of: "port-screws", back: 1 });
    expect(one!.cup).toBeDefined();
    expect(one!.text).toContain(one!.cup!);
  });
  it("names the cup that is not empty", () => {
    const closing = closingOf(without(fastened("port-screws")), "s2");
    expect(closing.state).toBe("unexplained");
    expect(closing.cups.flatMap((cup) => cup.holds.map((one) => one.of))).toEqual(["port-screws"]);
  });
  it("names a connection left open, and what was sealed over it, with the moment", () => {
    const closing = closingOf(
      without((entry) => ["plug", "wake"].includes(entry.action) && entry.joints?.includes("cell-plug") === true),
      "s2",
    );
    expect(closing.differences.filter((one) => one.kind === "connection").map((one) => one.of)).toEqual(["cell-plug"]);
    expect(closing.covered[0]).toMatchObject({ joint: "cell-plug", by: "back-rim", session: "s2" });
    expect(closing.covered[0]!.at).toBeGreaterThan(0);
  });
  it("names a part kept out and a bond not made again, until a note says why", () => {
    const record = without((entry) => entry.session === "s2" && entry.parts?.includes("coil") === true);
    const closing = closingOf(record, "s2");
    expect(closing.differences.filter((one) => one.kind === "part").map((one) => one.of)).toContain("coil");
    const named = new Set(closing.differences.map((one) => one.of));
    const noted: TeardownRecord = {
      ...record,
      log: [
        ...record.log.filter((entry) => entry.session !== "s3"),
        ...[...named].map(
          (of, index): Entry => ({
            id: `why-${index}`,
            session: "s2",
            action: "note",
            text: `${of}: kept out, a new one is ordered`,
            ...(record.joints.some((joint) => joint.id === of) ? { joints: [of] } : {}),
            ...(record.parts.some((part) => part.id === of) ? { parts: [of] } : {}),
          }),
        ),
      ],
    };
    expect(closing.state).toBe("unexplained");
    expect(closingOf(noted, "s2").state).toBe("open");
  });
  it("asks for what was disturbed and no other", () => {
    const some: TeardownRecord = {
      ...phone,
      log: phone.log.filter((entry) => entry.parts?.includes("sim-tray") || entry.joints?.includes("sim-latch")),
    };
    const tray = phone.parts.find((part) => part.id === "sim-tray")!;
    expect(closingOf(some, "s1").prove).toEqual(tray.gives ?? []);
    const gives = new Set(phone.parts.flatMap((part) => part.gives ?? []));
    expect(whole.prove.every((name) => gives.has(name))).toBe(true);
    const tried = new Set(
      phone.checks!.filter((one) => one.when === "before" && one.result !== "not-tried").map((one) => one.what),
    );
    expect(whole.noBaseline).toEqual(whole.prove.filter((name) => !tried.has(name)));
  });
  it("closes when everything is back and proved", () => {
    const checks = whole.prove.map((what, index) => ({
      id: `after-all-${index}`,
      session: "s2",
      what,
      when: "after" as const,
      result: "works" as const,
    }));
    expect(closingOf({ ...phone, checks }, "s2").differences.map((one) => one.text)).toEqual([]);
    expect(closingOf({ ...phone, checks }, "s2").state).toBe("closed");
  });
});

describe("what is odd", () => {
  it("a clock that jumps is said, and the order of the log kept", () => {
    const log = phone.log.map((entry, index) => (index === 5 ? { ...entry, at: 1 } : entry));
    expect(closingOf({ ...phone, log }, "s2").warnings[0]).toMatch(/jumped/);
  });
  it("a session that is not there is refused in words", () => {
    expect(() => closingOf(phone, "s9")).toThrow(InputError);
    expect(() => closingOf({ ...phone, sessions: [] }, "s1")).toThrow(/sessions/);
  });
  it("an empty log is closed", () => {
    expect(closingOf({ ...phone, log: [] }).state).toBe("closed");
  });
});

describe("screws told in words", () => {
  it.each([
    ["Undo the two five-lobe screws in the bottom edge.", 2],
    ["5 screws in", 5],
    ["three of the four screws are back", 3],
    ["two short screws and one long screw", 3],
    ["No screws here", 0],
    ["screws in", null],
    ["Cup two.", null],
    ["four clips. The screw is out", null],
  ])("%s", (text, count) => expect(screwsTold(text)).toBe(count));
});
