import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { heatOfRelease } from "../heat/index.ts";
import { requireRecord, type TeardownRecord } from "../record/index.ts";
import { findWayIn, type WayIn } from "../route/ways/index.ts";
import { Bench } from "./bench.ts";
import { viewOf } from "./view.ts";
import { warmZone } from "./warm-zones.ts";

// biome-ignore lint/suspicious/noExplicitAny: records that are changed at will
type Loose = any;
const example = (): Loose =>
  JSON.parse(readFileSync(new URL("../../../examples/plicarn-1.json", import.meta.url), "utf8"));
const record = (change: (r: Loose) => void = () => {}): TeardownRecord => {
  const value = example();
  change(value);
  return requireRecord(value);
};
const rim = (r: Loose) => r.joints.find((joint: Loose) => joint.id === "back-rim");
const heatIn = (r: TeardownRecord) => rim(r).releases[0].heat;

let looks = 0;
const control = { now: () => (looks += 1) / 100, deadline: Number.POSITIVE_INFINITY };
const wayTo = (r: TeardownRecord, part: string): WayIn => {
  const way = findWayIn(r, { to: [part], least: "seconds" }, control);
  if (!("operations" in way)) throw new Error("a way in was expected");
  return way;
};

describe("heating times of a record", () => {
  test("come from the layers where the record gives them, whatever else it says", () => {
    const here = record();
    const { once } = warmZone(here, heatIn(here));
    const computed = heatOfRelease(here, "back", 170, { quick: true });
    if (computed.kind !== "computed") throw new Error(computed.why);
    expect(once.ms).toBe(Math.round(computed.seconds * 1000));
    expect(once.soft).toBe(Math.round((computed.soft ?? 0) * 1000));
    expect(once.ms).not.toBe(120_000);
    expect(once.assumed).toContain("computed from the layers");
    // A record without times gets the same.
    const untimed = record((r) => {
      for (const release of rim(r).releases) {
        delete release.heat.seconds;
        delete release.heat.soft;
      }
    });
    expect(warmZone(untimed, heatIn(untimed)).once).toEqual(once);
  });

  test("a cut that is longer than the bond stays soft is done in the rounds of the warm window", () => {
    const here = record();
    const computed = heatOfRelease(here, "back", 170, { quick: true });
    if (computed.kind !== "computed") throw new Error(computed.why);
    const way = wayTo(here, "cell");
    const cut = way.operations.find(({ joint }) => joint === "back-rim")!;
    expect(cut.passes).toBe(computed.rounds);
    // Nothing but fetches and turns is added to what the warm window says.
    const added = cut.seconds - computed.elapsed;
    expect(added).toBeGreaterThan(0);
    expect(added).toBeLessThan(computed.rounds * 25);
    expect(way.assumptions.some((text) => /zone back: heated for .* computed from the layers/.test(text))).toBe(true);
  });

  test("the bench that replays a way in goes by the same times", () => {
    const here = record();
    const way = wayTo(here, "cell");
    const bench = new Bench(viewOf(here, {}), true);
    let state = bench.start();
    for (const { kind, joint, release, part, zone, passes } of way.operations) {
      const outcome = bench.apply(
        state,
        kind === "heat"
          ? { kind, zone: zone! }
          : kind === "release"
            ? { kind, joint: joint!, release: release!, ...(passes === undefined ? {} : { passes }) }
            : { kind, part: part! },
      );
      if (!outcome.ok) throw new Error(outcome.because);
      state = outcome.done.state;
    }
    expect(state.now / 1000).toBeCloseTo(way.seconds, 6);
  });

  test.each([
    ["a bond's thickness", (r: Loose) => delete rim(r).bond.thickness, /thickness of back-rim/],
    [
      "a material",
      (r: Loose) => delete r.parts.find((part: Loose) => part.id === "back-glass").material,
      /material of back-glass/,
    ],
    ["a place inside the device", (r: Loose) => (r.zones[0].lines[0].at = [900, 900]), /nothing under 900, 900/],
    ["a watched bond", (r: Loose) => r.zones[0].watch.splice(0, 1), /no bond with a soft limit/],
  ])("without %s the recorded times stand, and it is said why", (_, change, why) => {
    const here = record((r) => void change(r));
    const { once, inRounds } = warmZone(here, heatIn(here));
    expect([once.ms, once.soft]).toEqual([120_000, 100_000]);
    expect(once.assumed).toMatch(/as long as recorded/);
    expect(once.assumed).toMatch(why);
    expect(inRounds(500_000, 1)).toBeNull();
  });

  test("without recorded times either, the settings stand and are marked", () => {
    const here = record((r) => {
      delete rim(r).bond.thickness;
      for (const release of rim(r).releases) {
        delete release.heat.seconds;
        delete release.heat.soft;
      }
    });
    const { once } = warmZone(here, heatIn(here));
    expect([once.ms, once.soft, once.passes]).toEqual([120_000, 60_000, true]);
    expect(once.assumed).toMatch(/own setting, no source/);
  });

  test("where no sequence keeps the cell's limits the recorded times stand with those words", () => {
    const here = record((r) => {
      for (const watch of r.zones[0].watch) if (watch.counted) watch.counted.seconds = 1;
    });
    expect(warmZone(here, heatIn(here)).once.assumed).toMatch(
      /no sequence of heatings was found that keeps every limit/,
    );
  });

  test("a zone without lines is as it was recorded, and nothing is said", () => {
    const here = record((r) => delete r.zones);
    const { once } = warmZone(here, heatIn(here));
    expect(once).toEqual({ ms: 120_000, soft: 100_000, passes: true });
  });
});
