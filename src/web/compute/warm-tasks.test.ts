import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { InputFaults } from "../../core/errors.ts";
import { requireRecord } from "../../core/record/index.ts";
import { boardShown, fitShown, outerFace, roundsShown, warmShown } from "./warm-tasks.ts";

const example = (name: string) => readFileSync(new URL(`../../../examples/${name}`, import.meta.url), "utf8");
const record = requireRecord(JSON.parse(example("thrandle-5.json")));

describe("the warm window of a zone, as the page shows it", () => {
  const shown = warmShown(record, { zone: "back" });

  test("lifts off at the latest unless told otherwise, and goes on until the bond is hard", () => {
    const { window } = shown.answer;
    if (window === null || window.to === null) throw new Error("a window was expected");
    expect(shown.course.liftOff).toBe(window.to);
    expect(shown.course.at.at(-1)).toBeGreaterThan(window.to + (window.after ?? 0));
    expect(warmShown(record, { zone: "back", liftOff: 110 }).course.liftOff).toBe(110);
  });

  test("a fitted contact replaces the programme's, and its interval the factor of two", () => {
    const contact = { value: 236, low: 230, high: 242, source: "fitted" };
    const fitted = warmShown(record, { zone: "back", contact });
    expect(fitted.hot.h).toBeCloseTo(236, 9);
    expect(fitted.course.unsure[0]).toMatchObject({ low: "230 W/(m2.K)", high: "242 W/(m2.K)", source: "fitted" });
    expect(fitted.answer.window!.from).toBeGreaterThan(shown.answer.window!.from);
  });

  test("another plate is another heating; a cooler one takes longer", () => {
    const cooler = warmShown(record, { zone: "back", plate: 75 });
    expect(cooler.hot.temperature).toBe(75);
    expect(cooler.answer.window === null || cooler.answer.window.from > shown.answer.window!.from).toBe(true);
  });

  test("rounds say how far they are", () => {
    const shares: number[] = [];
    const rounds = roundsShown(record, { zone: "back", cut: 210 }, (share) => void shares.push(share));
    expect(rounds.kind).toBe("rounds");
    expect(shares.length).toBeGreaterThan(3);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(Math.max(...shares)).toBeLessThanOrEqual(1);
  });

  test("what was counted on the unit before is taken from what is allowed", () => {
    const used = warmShown(record, { zone: "back", used: 600 });
    const cell = used.course.faces.find(({ watch }) => watch.counted !== undefined);
    expect(cell?.watch.counted?.seconds).toBe(300);
    // 210 s of cutting use more than 300 counted seconds where nothing presses, and are planned otherwise here.
    const free = roundsShown(record, { zone: "back", cut: 210 }, () => {});
    const pressed = roundsShown(record, { zone: "back", cut: 210, used: 600 }, () => {});
    if (free.kind === "none") throw new Error(free.why);
    expect(free.rounds.counted).toBeGreaterThan(300);
    expect(pressed.kind === "none" || pressed.rounds.counted <= 300).toBe(true);
  });

  test("a zone that is not there is refused with the nearest", () => {
    expect(() => warmShown(record, { zone: "bak" })).toThrow(InputFaults);
  });
});

describe("calibration on the page", () => {
  const log = example("heat/spare-glass-on-plate.csv");
  const on = { kind: "glass", material: "glass_aluminosilicate", thickness: 0.55 } as const;

  test("finds the contact that the example log was drawn with, and the curves of its interval hold the fit", () => {
    const { fit, low, high } = fitShown(record, { log, on, plate: 80, start: 22.5, bond: false });
    expect(fit.contact.low).toBeLessThan(236);
    expect(fit.contact.high).toBeGreaterThan(236);
    fit.points.forEach(([, , fitted], i) => {
      expect(low[i]).toBeLessThanOrEqual(fitted + 1e-9);
      expect(high[i]).toBeGreaterThanOrEqual(fitted - 1e-9);
    });
  });

  test("on a face in the zone, the outer one included", () => {
    const seconds = Array.from({ length: 120 }, (_, i) => i);
    const face = outerFace("rim");
    // A log that the zone itself would give at 200 W/(m2.K).
    const contact = { value: 200, low: 199, high: 201, source: "known" };
    const told = warmShown(record, { zone: "back", contact, liftOff: 119 });
    const rim = told.course.lines.find(({ name }) => name === "rim")!;
    const outer = rim.layers.at(-1)!.profile.map((profile) => profile.at(-1)!);
    const at = (t: number) => {
      const i = told.course.at.findIndex((time) => time >= t);
      const share = i === 0 ? 0 : (t - told.course.at[i - 1]) / (told.course.at[i] - told.course.at[i - 1]);
      return i === 0 ? outer[0] : outer[i - 1] + share * (outer[i] - outer[i - 1]);
    };
    const text = seconds.map((t) => `${t},${at(t).toFixed(3)}`).join("\n");
    const { fit } = fitShown(record, {
      log: text,
      on: { kind: "zone", zone: "back", at: face },
      plate: 80,
      start: 22.5,
      bond: false,
    });
    expect(fit.watch).toBe(face);
    expect(fit.contact.value / 200).toBeCloseTo(1, 2);
  });

  test("bad glass and bad logs are refused in words", () => {
    expect(() => fitShown(record, { log, on: { ...on, thickness: 0 }, plate: 80, start: 22, bond: false })).toThrow(
      /thickness/,
    );
    expect(() => fitShown(record, { log, on: { ...on, material: "gold" }, plate: 80, start: 22, bond: false })).toThrow(
      /property table/,
    );
    expect(() => fitShown(record, { log: "a,b\n1,x", on, plate: 80, start: 22, bond: false })).toThrow(InputFaults);
  });
});

describe("board heating on the page", () => {
  const board = {
    format: "unseam-board/1",
    size: [30, 30],
    cell: 1.5,
    start: 23,
    h: 12,
    layers: [{ name: "laminate", material: "fr4", thickness: 0.8, copper: 0.2 }],
    parts: [{ name: "chip", at: [15, 15], size: [8, 8, 1], material: "si" }],
    heat: [{ seconds: 20, nozzle: { at: [15, 15], size: 12, temperature: 300, h: 150 } }],
    report: [],
  };

  test("gives temperatures, remarks and a profile, and says how far it is", () => {
    const shares: number[] = [];
    const text = JSON.stringify(board);
    const shown = boardShown({ text, alloy: "tin-bismuth" }, (share) => void shares.push(share));
    expect(shown.heat.parts[0].peak).toBeGreaterThan(60);
    expect(shown.board.alloy).toBe("tin-bismuth");
    expect(shown.remarks.join(" ")).toContain("tin-bismuth");
    expect(shares.length).toBeGreaterThan(2);
  });

  test("text that is no JSON, and a board that is none, are refused", () => {
    expect(() => boardShown({ text: "{", alloy: "sac305" }, () => {})).toThrow(InputFaults);
    expect(() => boardShown({ text: "{}", alloy: "sac305" }, () => {})).toThrow(InputFaults);
  });
});
