import { describe, expect, it } from "vitest";
import { smallPhone } from "../../../test/fixtures/small-phone.ts";
import { swapOf } from "../../core/service/swap/index.ts";
import { settingsOf } from "../../core/service/swap/question.ts";
import { LANGUAGES, sayer } from "../../paper/words/index.ts";
import { workSheet } from "../../paper/work-rows.ts";
import { EMPTY_SHEET, sheetFrom, shelfSettings } from "../pages/shelf/use-shelf-sheet.ts";
import { stagesIn } from "../pages/swaps/ledger.tsx";
import { swapQuestion } from "../pages/swaps/question.ts";
import { NEW_SHOP, settingsFrom, shopFrom } from "./use-shop.ts";

describe("the shop's settings", () => {
  it("what is left empty stands at its default", () => {
    expect(settingsOf(settingsFrom(NEW_SHOP))).toEqual(settingsOf());
  });
  it("percents become shares, a decimal comma is read, codes are set in capitals", () => {
    const shop = {
      ...NEW_SHOP,
      labour: "62,50",
      currency: "eur",
      margin: "12,5",
      tax: "19",
      learningRate: "85",
      repeat: "4",
    };
    expect(settingsFrom(shop)).toMatchObject({
      labour: "62.50",
      currency: "EUR",
      margin: 0.125,
      tax: 0.19,
      learningRate: 0.85,
      repeat: 4,
    });
    expect(() => settingsOf(settingsFrom(shop))).not.toThrow();
  });
  it.each([
    [{ margin: "-5" }, /margin.*-0\.05.*never negative/],
    [{ overhead: "a lot" }, /overhead.*a lot/],
    [{ labour: "-3" }, /labour/],
    [{ currency: "euro" }, /currency/],
    [{ lifeNew: "0" }, /lifeNew/],
  ] as const)("%o is refused by name", (change, words) => {
    expect(() => settingsOf(settingsFrom({ ...NEW_SHOP, ...change }))).toThrow(words);
  });
  it("what another version has left is taken as far as it fits", () => {
    expect(shopFrom('{"labour":"60","margin":5,"unknown":"x"}')).toEqual({ ...NEW_SHOP, labour: "60" });
    for (const text of [null, "{", "null", "7"]) expect(shopFrom(text)).toEqual(NEW_SHOP);
    expect(sheetFrom('{"forecast":"a","service":1}')).toEqual({ ...EMPTY_SHEET, forecast: "a" });
    for (const text of [null, "{", "null"]) expect(sheetFrom(text)).toEqual(EMPTY_SHEET);
  });
});

describe("terms of the shelf", () => {
  it("are shares and days; what is no number goes on to be refused", () => {
    expect(shelfSettings({ ...EMPTY_SHEET, service: "97,5", lastBuy: "700", cells: "12", lost: "1" })).toMatchObject({
      service: 0.975,
      lastBuy: 700,
      cells: 12,
      lost: 0.01,
    });
    expect(shelfSettings({ ...EMPTY_SHEET, service: "most" }).service).toBe("most");
  });
});

describe("what is asked of a swap", () => {
  const parts = new Set(["battery", "speaker", "display"]);
  it("stands in the address; what is no part of the record is passed over", () => {
    const search = new URLSearchParams(
      "with=speaker,battery,ghost&condition=wet,damp&accept=short&damage=allowed&cap-risk=1.5",
    );
    expect(swapQuestion(search, "battery", parts, {})).toMatchObject({
      replace: ["battery", "speaker"],
      conditions: ["wet"],
      accept: ["short"],
      damage: true,
      capRisk: "1.5",
    });
    expect(swapQuestion(new URLSearchParams("cap-risk=much"), "battery", parts, {})).not.toHaveProperty("capRisk");
  });
});

describe("the ledger in stages", () => {
  it("holds every row once, in order; rules belong to the stage that follows", () => {
    let ticks = 0;
    const swap = swapOf(
      smallPhone,
      { replace: ["battery"], settings: { trials: 100 } },
      { now: () => ticks++, deadline: 1e6 },
    );
    if ("unreachable" in swap) throw new Error(JSON.stringify(swap));
    const { rows } = workSheet({ record: smallPhone, swap, say: sayer(LANGUAGES.en!), warm: new Map() });
    const stages = stagesIn(rows);
    expect(stages.flatMap((stage) => stage.rows)).toEqual(rows.filter(({ kind }) => kind !== "part"));
    expect(stages.flatMap(({ title }) => title ?? [])).toEqual(["In", "Back"]);
    for (const { rows: own, plan } of stages) {
      expect(own.at(-1)!.kind).toBe("work");
      expect(own.find((row) => row.kind === "work")).toHaveProperty("plan", plan);
    }
  });
});
