/** What to keep, held against the negative binomial of another library, against hand counts, and against bad forecasts. */
import { readFileSync } from "node:fs";
import oracle from "jstat";
import { describe, expect, it } from "vitest";
import type { TeardownRecord } from "../src/core/record/index.ts";
import {
  readForecast,
  SHELF_DEFAULTS,
  type ShelfRecord,
  type ShelfSettings,
  shelfOf,
} from "../src/core/service/shelf/index.ts";
import { readTable, writeTable } from "../src/core/service/shelf/table.ts";

const jstat = oracle as unknown as { readonly negbin: { cdf(s: number, shape: number, p: number): number } };
const read = (name: string): ShelfRecord => ({
  file: `${name}.json`,
  record: JSON.parse(readFileSync(new URL(`../examples/${name}.json`, import.meta.url), "utf8")) as TeardownRecord,
});
const five = read("thrandle-5");
const four = read("thrandle-4");
const both = [four, five];
const control = { now: () => performance.now() };
const shelf = (
  csv: string,
  records: ShelfRecord[] = both,
  settings: Partial<ShelfSettings> = {},
  onHand = new Map<string, number>(),
) => shelfOf(records, readForecast(csv, records), { ...SHELF_DEFAULTS, service: 0.95, ...settings }, control, onHand);
const head = "device,part,count,days\n";

describe("what to keep", () => {
  it("is the quantile of a negative binomial over the lead time", () => {
    // 14 in 90 days, Jeffreys: gamma(14.5, 90); the record's lead time of the battery is 5 days.
    for (const service of [0.5, 0.9, 0.95, 0.99, 0.999]) {
      const item = shelf(`${head}Thrandle 5,cell,14,90\n`, both, { service }).items.find(
        ({ id }) => id === "PW5-0501",
      )!;
      const cdf = (s: number) => jstat.negbin.cdf(s, 14.5, 90 / 95);
      expect(cdf(item.keep)).toBeGreaterThanOrEqual(service);
      if (item.keep > 0) expect(cdf(item.keep - 1)).toBeLessThan(service);
      expect(item.service).toBeCloseTo(cdf(item.keep), 10);
      expect(item.demand.mean).toBeCloseTo((14.5 / 90) * 5, 10);
    }
  });
  it("grows with service, with lead time and with the time between orders", () => {
    const keep = (settings: Partial<ShelfSettings>) =>
      shelf(`${head}Thrandle 5,cell,14,90\n`, both, settings).items[0]!.keep;
    expect(keep({ service: 0.99 })).toBeGreaterThan(keep({ service: 0.8 }));
    expect(keep({ review: 30 })).toBeGreaterThan(keep({}));
  });
  it("parts with the same number are one item, whichever device they go into", () => {
    const shared: ShelfRecord = {
      ...four,
      record: {
        ...four.record,
        parts: four.record.parts.map((part) =>
          part.id === "cell" ? { ...part, spare: { ...part.spare!, numbers: ["PW4-0501", "PW5-0501"] } } : part,
        ),
      },
    };
    const { items } = shelf(`${head}Thrandle 5,cell,14,90\nThrandle 4,cell,9,90\n`, [shared, five]);
    const cells = items.filter(({ kind }) => kind === "cell");
    expect(cells).toHaveLength(1);
    expect(cells[0]!.for.map(({ device }) => device)).toEqual(["Thrandle 5", "Thrandle 4"]);
    expect(cells[0]!.demand.mean).toBeCloseTo(((14 + 9 + 0.5) / 90) * cells[0]!.leadDays, 10);
  });
  it("no demand: none kept, and said so", () => {
    const answer = shelf(`${head}Thrandle 5,cell,0,90\n`);
    for (const item of answer.items) expect(item.keep, item.name).toBe(0);
    expect(answer.items[0]!.words.join()).toMatch(/No demand/);
    expect(answer.warnings.join()).toMatch(/No job at all/);
    expect(answer.order).toEqual([]);
  });
  it("what is on hand is not ordered again", () => {
    const csv = `${head}Thrandle 5,cell,40,90\n`;
    const keep = shelf(csv).items[0]!.keep;
    expect(keep).toBeGreaterThan(2);
    expect(shelf(csv, both, {}, new Map([["PW5-0501", 2]])).items[0]).toMatchObject({
      keep,
      onHand: 2,
      order: keep - 2,
    });
    expect(shelf(csv, both, {}, new Map([["PW5-0501", 99]])).items[0]!.order).toBe(0);
  });
  it("a storage cap for cells is kept, and goes where a shortage is likeliest", () => {
    const csv = `${head}Thrandle 5,cell,80,90\nThrandle 4,cell,20,90\n`;
    const free = shelf(csv).items.filter(({ kind }) => kind === "cell");
    const capped = shelf(csv, both, { cells: 5 }).items.filter(({ kind }) => kind === "cell");
    expect(free.reduce((sum, { keep }) => sum + keep, 0)).toBeGreaterThan(5);
    expect(capped.reduce((sum, { keep }) => sum + keep, 0)).toBe(5);
    expect(capped[0]!.keep).toBeGreaterThan(capped[1]!.keep);
    expect(capped.flatMap(({ words }) => words).join()).toMatch(/storage cap of 5/);
    expect(capped[0]!.service).toBeLessThan(0.95);
  });
  it("consumables are ordered in whole packs, and short shelf lives are told", () => {
    const answer = shelf(`${head}Thrandle 5,charge-port,30,90\n`);
    const rim = answer.items.find(({ id }) => id === "PW5-0202")!;
    expect(rim).toMatchObject({ kind: "consumable", packs: rim.order });
    const strange = JSON.parse(JSON.stringify(five.record)) as TeardownRecord;
    const aged = strange.consumables!.map((one) =>
      one.id === "rim-back" ? { ...one, pack: { value: 500, unit: "1" as const }, shelfDays: 30 } : one,
    );
    const wasteful = shelf(`${head}Thrandle 5,charge-port,30,90\n`, [
      { ...five, record: { ...strange, consumables: aged } },
    ]);
    const item = wasteful.items.find(({ id }) => id === "PW5-0202")!;
    expect(item.packs).toBe(1);
    expect(item.shelf!.wasted).toBeGreaterThan(0.9);
    expect(item.words.join()).toMatch(/shelf life of 30 days/);
  });
  it("a last buy covers its days", () => {
    const item = shelf(`${head}Thrandle 5,cell,14,90\n`, both, { lastBuy: 900 }).items[0]!;
    expect(item.lastBuy!).toBeGreaterThan(140);
    expect(jstat.negbin.cdf(item.lastBuy!, 14.5, 90 / 990)).toBeGreaterThanOrEqual(0.95);
  });
  it("tools are told by how many swaps they open, and those that come with the spare are not bought", () => {
    const { tools } = shelf(`${head}Thrandle 5,cell,14,90\nThrandle 5,display,22,90\nThrandle 4,cell,9,90\n`);
    expect(tools.at(-1)!.opens).toBe(3);
    expect(tools.map(({ opens }) => opens)).toEqual([...tools.map(({ opens }) => opens)].sort((a, b) => a - b));
    expect(tools.map(({ name }) => name)).not.toContain("Pull-tab winder");
  });
  it("values stay apart by currency", () => {
    const other = JSON.parse(JSON.stringify(four.record).replaceAll('"EUR"', '"CHF"')) as TeardownRecord;
    const answer = shelf(`${head}Thrandle 5,cell,40,90\nThrandle 4,cell,40,90\n`, [{ ...four, record: other }, five]);
    expect(answer.value.map(({ currency }) => currency)).toEqual(["CHF", "EUR"]);
  });
});

describe("forecasts", () => {
  it("counts by month, empty cells not counted, in any order of columns and with semicolons", () => {
    const rows = readForecast("part;device;2026-07;2026-08;2026-09\ncell;Thrandle 5;3;;4\n", both);
    expect(rows[0]).toMatchObject({ count: 7, part: { id: "cell" } });
    expect(rows[0]!.days).toBeCloseTo((2 * 365.2425) / 12, 10);
  });
  it("weeks and months as units, a device by id, file, name or model, a part by its role", () => {
    const text = `model,replace,jobs,weeks\nPW-T5,battery,3,4\n${four.record.id},display,1,4\n`;
    const rows = readForecast(text, both);
    expect(rows.map(({ device, part, days }) => [device.file, part.id, days])).toEqual([
      ["thrandle-5.json", "cell", 28],
      ["thrandle-4.json", "display", 28],
    ]);
  });
  it.each([
    ["", /empty table/],
    [head, /without rows/],
    ["device,part,days\nThrandle 5,cell,3\n", /column count/],
    ["device,part,count\nThrandle 5,cell,3\n", /column days/],
    ["device,part,count,days,colour\nThrandle 5,cell,3,9,red\n", /colour/],
    [`${head}Thrandle 9,cell,3,90\n`, /nearest: Thrandle/],
    [`${head}Thrandle 5,cel,3,90\n`, /nearest: cell/],
    [`${head}Thrandle 5,band,3,90\n`, /comes off/],
    [`${head}Thrandle 5,cell,-3,90\n`, /whole number of jobs/],
    [`${head}Thrandle 5,cell,3.5,90\n`, /whole number of jobs/],
    [`${head}Thrandle 5,cell,3,0\n`, /days above 0/],
    [`${head}Thrandle 5,cell,3,90\nThrandle 5,cell,4,90\n`, /again, as in line 2/],
    [`${head}Thrandle 5,cell,3,90,7\n`, /5 cells/],
    [`${head}"Thrandle 5,cell,3,90\n`, /quote that is not closed/],
  ])("%j is refused in words", (csv, words) => {
    expect(() => readForecast(csv, both)).toThrow(words);
  });
  it("a service of 1 is refused: all demand is never met for certain", () => {
    expect(() => shelf(`${head}Thrandle 5,cell,3,90\n`, both, { service: 1 })).toThrow(/never met for certain/);
  });
});

describe("faults of a forecast", () => {
  it("are told all at once, those of a line too", () => {
    const csv = "device,part,count,days\nNobody's 9,cell,-3,0\nThrandle 5,celle,x,90\n";
    const told = (() => {
      try {
        readForecast(csv, both);
        return "";
      } catch (error) {
        return (error as Error).message;
      }
    })();
    for (const words of [
      "line 2, device",
      "line 2, count",
      "line 2, days",
      "line 3, part",
      "line 3, count",
      "nearest: cell",
    ])
      expect(told).toContain(words);
  });
});

describe("tables (RFC 4180)", () => {
  it("what is written is read again", () => {
    const rows = [
      ['a "quoted" cell', "two\nlines", "comma, and ; semicolon"],
      ["Ω µ ± ł", "", "x"],
    ];
    const table = readTable(writeTable(["a", "b", "c"], rows));
    expect(table.rows.map(({ cells }) => cells)).toEqual(rows);
  });
  it("what a spreadsheet would run stays text", () => {
    expect(writeTable(["a"], [["=1+1"], ["@x"]])).toBe("a\r\n'=1+1\r\n'@x\r\n");
  });
});
