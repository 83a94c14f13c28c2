import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { InputError } from "../../../core/errors.ts";
import { applyEdits } from "../../../core/record/edits.ts";
import { checkRecord, type Entry, type TeardownRecord } from "../../../core/record/index.ts";
import { secondsOf } from "./player.tsx";
import { indexOf, isTaken, joinItems, readTalk, splitItem, takeEdits } from "./review.ts";

const read = (name: string) => readFileSync(new URL(`../../../../examples/${name}`, import.meta.url), "utf8");
const full = JSON.parse(read("halverim-11.json")) as TeardownRecord;
const record: TeardownRecord = { ...full, log: [], readings: [], claims: [], checks: undefined };
const text = read("halverim-11.vtt");
const asks = { text, record, session: "s1", starts: 0 };

describe("a talk under review", () => {
  const talk = readTalk(asks);
  it("reads every phrase once, in the order of the words, each tied to its cue", () => {
    expect(talk.items.length).toBeGreaterThan(60);
    for (const item of talk.items) {
      const cue = talk.cues[item.cue]!;
      if (item.at !== null) expect(cue.at).toBeCloseTo(item.at, 3);
    }
    expect(new Set(talk.items.map((one) => one.id)).size).toBe(talk.items.length);
  });
  it("drops nothing: what fits nothing is left over, with a doubt", () => {
    const left = talk.items.filter((one) => one.thing === null);
    for (const one of left) expect(one.doubts.length).toBeGreaterThan(0);
  });
  it("taken one by one in any order, or all at once, gives a valid record that has them all", () => {
    let step = record;
    for (const item of [...talk.items].reverse()) step = applyEdits(step, takeEdits(step, talk.made, [item]));
    const all = applyEdits(record, takeEdits(record, talk.made, talk.items));
    for (const after of [step, all]) {
      const check = checkRecord(after);
      expect(check.ok ? [] : check.faults).toEqual([]);
      const index = indexOf(after);
      for (const item of talk.items) expect(isTaken(index, item)).toBe(item.thing !== null);
    }
    // Read again over what was taken: nothing is new, also after a person has changed an entry.
    const changed = {
      ...all,
      log: all.log.map((one, nth): Entry => (nth === 3 ? { ...one, action: "note", lies: "cup 9" } : one)),
    };
    const again = readTalk({ ...asks, record: changed });
    const index = indexOf(changed);
    expect(again.items.filter((one) => one.thing !== null && !isTaken(index, one))).toEqual([]);
  });
  it("is placed on the session's clock with its recording", () => {
    const later = readTalk({ ...asks, starts: 100 });
    const first = talk.items.find((one) => one.at !== null)!;
    expect(later.items.find((one) => one.id === first.id)?.at).toBeCloseTo(first.at! + 100, 3);
  });
  it("names the marks of the hand and knows what the hand wrote already", () => {
    const lift = talk.items.find(
      (one) => one.thing?.list === "log" && one.thing.item.action === "lift" && one.thing.item.parts?.length === 1,
    )!;
    const done = (lift.thing as { item: Entry }).item;
    const other = talk.items.find(
      (one) =>
        one.thing?.list === "log" &&
        one.thing.item.action === "unscrew" &&
        one.at !== null &&
        Math.abs(one.at - lift.at!) > 60,
    )!;
    const log: Entry[] = [
      { id: "line-mark", session: "s1", at: other.at! + 1, action: "note", draft: true },
      { id: "line-lift", session: "s1", at: lift.at! + 3, action: "lift", parts: done.parts!, text: "off" },
    ].sort((a, b) => a.at - b.at) as Entry[];
    const held = { ...record, log };
    const over = readTalk({ ...asks, record: held });
    expect(over.matched).toBe(2);
    const index = indexOf(held);
    const known = over.items.find((one) => one.id === lift.id)!;
    expect([known.thing?.item.id, isTaken(index, known)]).toEqual(["line-lift", true]);
    const named = over.items.find((one) => one.thing?.item.id === "line-mark")!;
    expect(isTaken(index, named)).toBe(false);
    const after = applyEdits(held, takeEdits(held, over.made, [named]));
    expect(after.log.find((one) => one.id === "line-mark")?.action).not.toBe("note");
    expect(after.log).toHaveLength(2);
  });
  it("splits and joins, words and all", () => {
    const item = talk.items.find((one) => one.thing?.list === "log" && one.text.split(" ").length > 3)!;
    const [a, b] = splitItem(item)!;
    expect(`${a.text} ${b.text}`).toBe(item.text.split(/\s+/).join(" "));
    expect(joinItems(a, b)?.text).toBe(item.text.split(/\s+/).join(" "));
    expect(splitItem({ ...item, text: "off" })).toBeNull();
  });
  it("refuses what is no transcript", () => {
    expect(() => readTalk({ ...asks, text: "{}" })).toThrow(InputError);
  });
});

describe("a clock that was typed", () => {
  it.each([
    ["0:12:40", 760],
    ["12:40", 760],
    ["14:07:21.5", 50841.5],
    ["95", 95],
    ["half past", null],
  ])("%s", (typed, seconds) => expect(secondsOf(typed)).toBe(seconds));
});
