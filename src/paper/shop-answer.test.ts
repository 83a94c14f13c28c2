import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { applyEdits } from "../core/record/edits.ts";
import { checkRecord, type TeardownRecord } from "../core/record/index.ts";
import { countingClock } from "../core/route/counting-clock.ts";
import { findWayIn, type WayIn } from "../core/route/ways/index.ts";
import { recallsOf, screwsOf } from "./edition.ts";
import { numberScrews } from "./screw-numbers.ts";
import { type Answered, readShopAnswer } from "./shop-answer.ts";

const phone: TeardownRecord = JSON.parse(
  readFileSync(new URL("../../examples/thrandle-5.json", import.meta.url), "utf8"),
);
const way = findWayIn(phone, { to: ["cell"], least: "seconds" }, { now: countingClock(), deadline: 2000 }) as WayIn;
let ids = 0;
const sheet: Answered = {
  replace: ["cell"],
  operations: way.operations,
  screws: numberScrews(phone, way),
  session: { id: "shop-1", started: "2026-11-02", kind: "repair", by: "a shop" },
  newId: () => `answer-${++ids}`,
};
const read = (text: string) => readShopAnswer(text, phone, sheet);
const first = sheet.screws[0]!;

describe("a shop's answer", () => {
  it("becomes proposals that leave a valid record", () => {
    const { proposals, notUnderstood } = read(
      `screw 1 is 9.9, not ${first.length}; 14 min; graphite sheet torn; all fine`,
    );
    expect(notUnderstood).toEqual([]);
    expect(proposals.map((one) => one.kind)).toEqual(["screw", "time", "damage", "fine"]);
    const after = proposals.reduce(
      (record, one) =>
        applyEdits(
          record,
          one.edits.filter(
            (edit) =>
              !(edit.kind === "put" && edit.list === "sessions" && record.sessions?.some((s) => s.id === "shop-1")),
          ),
        ),
      phone,
    );
    expect(checkRecord(after).faults).toEqual([]);
    expect(after.readings.at(-1)).toMatchObject({ quantity: "duration", values: [840], unit: "s", of: ["cell"] });
    expect(after.log.at(-2)).toMatchObject({ outcome: "damaged", parts: ["graphite"] });
  });
  it("names the editions to recall", () => {
    const { proposals } = read(`screw ${first.label} is 9,9`);
    const after = applyEdits(phone, proposals[0]!.edits);
    const earlier = { edition: 2, date: "2026-10-01", revision: "x", screws: { cell: screwsOf(sheet.screws) } };
    expect(recallsOf("cell", screwsOf(numberScrews(after, way)), [earlier])).toEqual([
      { editions: [2], number: first.label, before: first.length, now: 9.9 },
    ]);
  });
  it("doubts an answer about another edition", () => {
    expect(read("screw 1 is 2.8, not 7.7").proposals[0]!.doubt).toMatch(/7.7 mm/);
    expect(read("screw 1 is 2.8").proposals[0]!.doubt).toBeUndefined();
  });
  it.each([
    ["1 h 5 min", 3900],
    ["took 90 s", 90],
    ["12.5 minutes", 750],
  ])("%s is a time", (text, seconds) => {
    expect(read(text).proposals[0]!.edits.at(-1)).toMatchObject({ item: { values: [seconds] } });
  });
  it.each(["screw 999 is 2.8", "hello there", "0 min", "something torn", "screw 1 is long", "<script>"])(
    "%s is given back, not guessed",
    (text) => {
      expect(read(text)).toEqual({ proposals: [], notUnderstood: [text] });
    },
  );
});
