import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { FitAnswer } from "../../../core/heat/index.ts";
import { requireRecord } from "../../../core/record/index.ts";
import { readable } from "../../face/readable.ts";
import { contactFrom, keepContact, keptContact } from "./bench-contact.ts";
import { clockWords, onePiece, phasesOf } from "./phases.ts";
import { chosenZone, zonesOf } from "./zones.ts";

const record = requireRecord(
  JSON.parse(readFileSync(new URL("../../../../examples/thrandle-5.json", import.meta.url), "utf8")),
);

describe("the clock on the bench", () => {
  it("rounds to the safe side: heating and cutting down, cooling up", () => {
    const phases = phasesOf([
      { kind: "heat", from: 0, to: 141.9 },
      { kind: "cut", from: 141.9, to: 262.2 },
      { kind: "pause", from: 262.2, to: 300.1 },
      { kind: "heat", from: 300.1, to: 300.4 },
    ]);
    expect(phases.map(({ seconds }) => seconds)).toEqual([141, 120, 38, 1]);
    expect(phases[0].over).toBe("lift off now");
  });
  it("one heating has its cut only where the bond stays soft afterwards", () => {
    expect(onePiece(90, { from: 80, to: 90, after: 60 })).toHaveLength(2);
    expect(onePiece(90, { from: 80, to: 90, after: null })).toHaveLength(1);
    expect(onePiece(90, null)).toHaveLength(1);
  });
  it.each([
    [125, "2:05"],
    [0.2, "0:01"],
    [0, "0:00"],
    [-0.4, "+0:00"],
    [-67.9, "+1:07"],
  ])("%f s is %s", (seconds, words) => expect(clockWords(seconds)).toBe(words));
});

describe("the contact that is kept with a tool", () => {
  const fit: FitAnswer = {
    watch: "thermocouple",
    rows: 91,
    contact: { value: 235, low: 232, high: 238, unit: "W/(m2.K)" },
    residual: 0.3,
    points: [],
    warnings: [],
  };
  const store = () => {
    const held = new Map<string, string>();
    return {
      held,
      getItem: (key: string) => held.get(key) ?? null,
      setItem: (key: string, value: string) => void held.set(key, value),
      removeItem: (key: string) => void held.delete(key),
    };
  };

  it("comes back by the tool's name, whatever its capitals, and is forgotten when told", () => {
    const storage = store();
    const contact = contactFrom(fit, "on a spare glass of 0.55 mm", "2026-03-02");
    expect(keepContact(storage, "Heating plate", contact)).toBe(true);
    expect(keptContact(storage, "heating plate ")).toEqual(contact);
    expect(keptContact(storage, "warm bag")).toBeNull();
    expect(contact.source).toContain("91 readings");
    keepContact(storage, "Heating plate", null);
    expect(keptContact(storage, "Heating plate")).toBeNull();
  });
  it.each(["no json", "{}", '{"value":-3,"low":1,"high":2,"source":"","on":"","where":""}', "null"])(
    "what cannot be read is as if nothing had been kept: %s",
    (text) => {
      const storage = store();
      storage.held.set("unseam:contact:plate", text);
      expect(keptContact(storage, "plate")).toBeNull();
    },
  );
  it("a browser that keeps nothing is said to keep nothing", () => {
    const barred = () => {
      throw new Error("barred");
    };
    expect(keptContact({ getItem: barred }, "plate")).toBeNull();
    const contact = contactFrom(fit, "", "");
    expect(keepContact({ setItem: barred, removeItem: barred }, "plate", contact)).toBe(false);
  });
});

describe("zones of a record", () => {
  const zones = zonesOf(record);
  it("are told with what they free, by what, and the cut of the first way", () => {
    const back = zones.find(({ id }) => id === "back");
    expect(back).toMatchObject({ layers: true, frees: "Back glass from Side band", cut: 210, bond: 65 });
    expect(back?.source?.name).toBe("Heating plate");
    expect(zones.filter(({ layers }) => !layers).map(({ id }) => id)).toEqual(["trim", "lens", "chamber", "reader"]);
  });
  it("the one asked for is chosen, else that of the part, else the first with layers", () => {
    expect(chosenZone(zones, "front", null)?.id).toBe("front");
    expect(chosenZone(zones, "trim", "display")?.id).toBe("front");
    expect(chosenZone(zones, null, "cell")?.id).toBe("back");
    expect(chosenZone([], null, null)).toBeNull();
  });
});

it("units are written as they are read", () => {
  expect(readable("300 W/(m2.K), 0.15 W/(m.K) at 80 degC")).toBe("300 W/(m²·K), 0.15 W/(m·K) at 80 °C");
});
