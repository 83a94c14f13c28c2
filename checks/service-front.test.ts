/**
 * The front of time against risk, held against every order of work that there is: two bonds with two ways each, worked out by
 * hand. And the quantiles that a swap shows, against its own figures.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Release, TeardownRecord } from "../src/core/record/index.ts";
import { type Swap, type SwapQuestion, swapOf } from "../src/core/service/swap/index.ts";

interface Way {
  readonly seconds: number;
  readonly chance: number;
}

/** A cover over a cell: a rim that may crack the cover, tabs that may tear an aerial. */
function device(rim: readonly [Way, Way], tabs: readonly [Way, Way], prices = true): TeardownRecord {
  const spare = (amount: string) => (prices ? { spare: { price: { amount, currency: "EUR" } } } : {});
  const release = (part: string, { seconds, chance }: Way): Release => ({
    action: "slice",
    tools: ["card"],
    seconds,
    leaves: "whole",
    harm: [{ part, chance }],
  });
  return {
    format: "unseam/1",
    id: "5f0e0c52-3c8f-4d5c-9f5e-0b8f2a1c7d11",
    device: { name: "A small one", kind: "other", foldable: false },
    parts: [
      { id: "frame", name: "Frame", base: true },
      { id: "cover", name: "Cover", ...spare("40.00") },
      { id: "aerial", name: "Aerial", under: [["cell"]], ...spare("10.00") },
      { id: "cell", name: "Cell", role: "battery", under: [["cover"]], ...spare("20.00") },
    ],
    joints: [
      { id: "rim", kind: "adhesive", holds: ["cover", "frame"], releases: rim.map((way) => release("cover", way)) },
      {
        id: "tabs",
        kind: "adhesive",
        holds: ["cell", "frame"],
        reach: [["cover"]],
        releases: tabs.map((way) => release("aerial", way)),
      },
    ],
    tools: [{ id: "card", name: "Card", kind: "basic" }],
    instruments: [],
    log: [],
    readings: [],
    claims: [],
    media: [],
  };
}

const ask = (record: TeardownRecord, more: Partial<SwapQuestion> = {}): Swap => {
  let looks = 0;
  const control = { now: () => looks++, deadline: 1e6 };
  const swap = swapOf(record, { replace: ["cell"], front: true, settings: { trials: 200 }, ...more }, control);
  if ("unreachable" in swap) throw new Error(JSON.stringify(swap));
  return swap;
};
const RIM = [
  { seconds: 20, chance: 0.1 },
  { seconds: 65, chance: 0.02 },
] as const;
const TABS = [
  { seconds: 10, chance: 0.2 },
  { seconds: 50, chance: 0 },
] as const;
/** Two lifts of set A and one fetch, beside the cutting. */
const REST = 2 * 3.8 + 4.2;

describe("the front of time against risk", () => {
  it("holds the four ways in of two bonds, each with its price", () => {
    const { front } = ask(device(RIM, TABS));
    expect(front!.map(({ seconds, risk }) => [Math.round((seconds - REST) * 10) / 10, risk.amount])).toEqual([
      [30, "6.00"],
      [70, "4.00"],
      [75, "2.80"],
      [115, "0.80"],
    ]);
    expect(front!.every(({ proved }) => proved)).toBe(true);
  });
  it("is every way that no other beats in both", () => {
    const way = fc.record({ seconds: fc.integer({ min: 1, max: 90 }), chance: fc.integer({ min: 0, max: 9 }) });
    const pair = fc.tuple(way, way).map((both): [Way, Way] => {
      const [a, b] = both.map(({ seconds, chance }) => ({ seconds, chance: chance / 10 }));
      return [a!, b!];
    });
    fc.assert(
      fc.property(pair, pair, (rim, tabs) => {
        const all = rim.flatMap((a) =>
          tabs.map((b) => ({ seconds: a.seconds + b.seconds, risk: Math.round(a.chance * 40 + b.chance * 10) })),
        );
        const best = all.filter(
          (one) =>
            !all.some(
              (other) =>
                other.seconds <= one.seconds &&
                other.risk <= one.risk &&
                (other.seconds < one.seconds || other.risk < one.risk),
            ),
        );
        const expected = [...new Map(best.map((one) => [one.seconds, one.risk]))].sort((a, b) => a[0] - b[0]);
        const { front } = ask(device(rim, tabs));
        expect(front!.map(({ seconds, risk }) => [Math.round(seconds - REST), Number(risk.amount)])).toEqual(expected);
      }),
      { numRuns: 25 },
    );
  });
  it("a cap takes the quickest way below it, and one that nothing keeps is said", () => {
    expect(ask(device(RIM, TABS), { capRisk: "3" }).wayIn.risk).toEqual({ amount: "2.80", currency: "EUR" });
    expect(ask(device(RIM, TABS), { capRisk: "3" }).front).toHaveLength(4);
    let looks = 0;
    const none = swapOf(device(RIM, TABS), { replace: ["cell"], capRisk: "0.5" }, { now: () => looks++ });
    expect(none).toMatchObject({ unreachable: [{ part: "cell" }] });
  });
  it("without prices, and where it was not asked for, there is none", () => {
    expect(ask(device(RIM, TABS, false)).front!.length).toBeLessThan(2);
    expect(ask(device(RIM, TABS), { front: false })).not.toHaveProperty("front");
  });
});

describe("the quantiles of a swap", () => {
  it("rise, and hold the median and nine in ten that are told", () => {
    const { spread, seconds, price } = ask(device(RIM, TABS), { settings: { trials: 2000 } });
    const at = (share: number) => spread.share.indexOf(share);
    expect(spread.seconds[at(0.5)]).toBe(seconds.p50);
    expect(spread.seconds[at(0.9)]).toBe(seconds.p90);
    expect(spread.price![at(0.5)]).toBe(Number(price!.p50));
    for (const list of [spread.share, spread.seconds, spread.price!])
      for (let i = 1; i < list.length; i += 1) expect(list[i]).toBeGreaterThanOrEqual(list[i - 1]!);
    expect(ask(device(RIM, TABS, false)).spread.price).toBeNull();
  });
});
