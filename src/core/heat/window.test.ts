import { describe, expect, test } from "vitest";
import { readStack } from "./read-stack.ts";
import { planRounds } from "./rounds.ts";
import { sensitivity } from "./sensitivity.ts";
import { simulate } from "./simulate.ts";
import type { HeatStage, Stack } from "./stack.ts";
import { warmAnswer } from "./warm.ts";
import { heatingOf, warmWindow } from "./window.ts";

// The zoo: a rim (glass, bond, aluminium) beside a cell behind a gap of air.
//
//   pad 80     pad 80
//   ======     ======
//   glass      glass
//   bond       ( air )
//   frame      cell
//
const glass = { name: "glass", material: "glass_aluminosilicate", thickness: 0.6 };
const bond = { name: "bond", material: { k: 0.15, rho: 1000, cp: 1800 }, thickness: 0.2 };
const frame = { name: "frame", material: "al6013", thickness: 2 };
const gap = { name: "gap", material: "air", thickness: 0.3 };
const pouch = { name: "pouch", material: { k: 0.6, rho: 2200, cp: 1050 }, thickness: 4.5 };
const pad = { seconds: 120, hot: { temperature: 80, h: 300 }, cool: { temperature: 23, h: 8 } };
const inAir = { seconds: 60, hot: { temperature: 23, h: 10 }, cool: { temperature: 23, h: 8 } };
const bondWatch = { name: "bond", layer: "bond", face: "far", soft: 65 };
const cellWatch = {
  name: "cell",
  layer: "pouch",
  face: "near",
  plan: 55,
  stop: 60,
  counted: { above: 45, seconds: 900 },
};
const cell = { name: "cell", layers: [glass, gap, pouch], watch: [cellWatch] };

const phone = (programme: object[] = [pad], more: object = {}): Stack =>
  readStack({
    format: "unseam-stack/1",
    start: 23,
    layers: [glass, bond, frame],
    programme,
    watch: [bondWatch],
    beside: [cell],
    ...more,
  });
/** Cover bonded straight to the pouch: no window with any pad. */
const bonded = (): Stack =>
  readStack({
    format: "unseam-stack/1",
    start: 23,
    layers: [glass, bond, pouch],
    programme: [pad],
    watch: [bondWatch, cellWatch],
  });

const windowOf = (stack: Stack) => {
  const answer = warmWindow(stack);
  if (answer.kind === "none") throw new Error(answer.why);
  return answer.window;
};

describe("the window", () => {
  test("does not depend on how long the hottest stage was written down for", () => {
    const a = windowOf(phone());
    const b = windowOf(phone([{ ...pad, seconds: 10 }]));
    const c = windowOf(phone([{ ...pad, seconds: 30 }, pad]));
    for (const other of [b, c]) {
      expect(other.from).toBeCloseTo(a.from, 2);
      expect(other.to!).toBeCloseTo(a.to!, 1);
      expect(other.after!).toBeCloseTo(a.after!, 1);
    }
  });

  test("is the same when the air after it is written down", () => {
    const a = windowOf(phone());
    const b = windowOf(phone([pad, inAir]));
    expect(b.to!).toBeCloseTo(a.to!, 2);
    expect(b.after!).toBeCloseTo(a.after!, 2);
  });

  test("the programme with a lift-off at `to` stays below the plan, and passes it a second later", () => {
    const { to } = windowOf(phone());
    const peak = (seconds: number) => {
      const programme = [
        { ...pad, seconds },
        { ...inAir, seconds: 300 },
      ];
      return simulate(phone(programme)).reached.find(({ watch, limit }) => watch === "cell" && limit === "plan")?.at;
    };
    expect(peak(to! - 0.1)).toBeNull();
    expect(peak(to! + 1)).toBeGreaterThan(to!);
  });

  test("`after` is what the programme shows", () => {
    const { to, after } = windowOf(phone());
    const programme = [
      { ...pad, seconds: to! },
      { ...inAir, seconds: 300 },
    ];
    const [early, late] = [to! + after! - 0.5, to! + after! + 0.5];
    const { faces } = simulate(phone(programme, { report: [early, late] }));
    expect(faces[0].degC[0]).toBeGreaterThan(65);
    expect(faces[0].degC[1]).toBeLessThan(65);
  });

  test("counted seconds are those of a fine sampling of the same programme", () => {
    const { to, counted } = windowOf(phone());
    const report = Array.from({ length: 2000 }, (_, i) => i * 0.5);
    const programme = [
      { ...pad, seconds: to! },
      { ...inAir, seconds: 1000 },
    ];
    const { faces } = simulate(phone(programme, { report }));
    const above = faces[1].degC.filter((degC) => degC > 45).length * 0.5;
    expect(Math.abs(above - counted!)).toBeLessThan(1);
  });

  test("no caps: no limit within an hour; a stop alone is the cap", () => {
    const rim = readStack({
      format: "unseam-stack/1",
      start: 23,
      layers: [glass, bond, frame],
      programme: [pad],
      watch: [bondWatch],
    });
    expect(windowOf(rim).to).toBeNull();
    const stopOnly = { ...cell, watch: [{ ...cellWatch, plan: undefined }] };
    expect(windowOf(phone([pad], { beside: [stopOnly] })).to!).toBeGreaterThan(windowOf(phone()).to!);
  });

  test("a cooler pad, a poorer contact and a higher soft limit all delay `from`", () => {
    const { from } = windowOf(phone());
    const change = (hot: Partial<HeatStage["hot"]>) => windowOf(phone([{ ...pad, hot: { ...pad.hot, ...hot } }])).from;
    expect(change({ temperature: 75 })).toBeGreaterThan(from);
    expect(change({ h: 200 })).toBeGreaterThan(from);
    expect(windowOf(phone([pad], { watch: [{ ...bondWatch, soft: 66 }] })).from).toBeGreaterThan(from);
  });

  test("the hottest stage is found by surroundings that touch; of equal ones the last", () => {
    const insulated = { ...pad, hot: { temperature: 200, h: 0 } };
    expect(heatingOf(phone([insulated, pad, inAir])).stage).toBe(1);
    expect(heatingOf(phone([pad, inAir, pad, inAir])).stage).toBe(2);
  });
});

describe("there is none", () => {
  test("says what stands against what, and what would make one was tried", () => {
    const answer = warmAnswer(bonded());
    expect(answer.window).toBeNull();
    expect(answer.why).toMatch(/plan limit of cell \(55 degC\).*soft only from/);
    const hot = phone([pad], {
      watch: [{ ...bondWatch, soft: 70 }],
      beside: [{ ...cell, watch: [{ ...cellWatch, plan: 44 }] }],
    });
    const helped = warmAnswer(hot);
    expect(helped.window).toBeNull();
    expect(helped.wouldHelp!.length).toBeGreaterThan(0);
    for (const { window } of helped.wouldHelp!) expect(window.to === null || window.to >= window.from).toBe(true);
  });

  test("never soft: the highest that it reaches is told", () => {
    const answer = warmWindow(phone([{ ...pad, hot: { temperature: 60, h: 300 } }]));
    expect(answer.kind === "none" && answer.why).toMatch(/does not reach 65 degC within an hour \(5\d/);
  });

  test("passed before the hottest stage begins", () => {
    const warm = { ...pad, seconds: 600, hot: { temperature: 78, h: 300 } };
    const answer = warmWindow(phone([warm, pad]));
    expect(answer.kind === "none" && answer.why).toMatch(/before the hottest stage begins/);
  });
});

describe("rounds", () => {
  test("a short cut is one heating", () => {
    const answer = planRounds(phone(), 20);
    expect(answer.kind === "rounds" && answer.rounds.heatings).toBe(1);
  });

  test.each([150, 258])("a cut of %i s: pieces add up, no cap is passed, no allowance overspent", (cut) => {
    const answer = planRounds(phone(), cut);
    if (answer.kind === "none") throw new Error(answer.why);
    const { heatings, elapsed, peak, counted, pauses, sequence } = answer.rounds;
    expect(heatings).toBeGreaterThan(1);
    const seconds = (kind: string) =>
      sequence.filter((step) => step.kind === kind).reduce((sum, { from, to }) => sum + to - from, 0);
    expect(seconds("cut")).toBeCloseTo(cut, 6);
    expect(sequence.filter(({ kind }) => kind === "heat")).toHaveLength(heatings);
    expect(sequence.filter(({ kind }) => kind === "pause")).toHaveLength(pauses);
    for (const [i, step] of sequence.entries()) expect(step.from).toBeCloseTo(i === 0 ? 0 : sequence[i - 1].to, 9);
    expect(sequence[sequence.length - 1].to).toBeCloseTo(elapsed, 9);
    expect(peak).toBeLessThanOrEqual(55);
    expect(counted).toBeLessThanOrEqual(900);
    // The same sequence written down as a programme: soft during every piece, below the plan throughout.
    const programme = [
      ...sequence.map(({ kind, from, to }) => ({ ...(kind === "heat" ? pad : inAir), seconds: to - from })),
      { ...inAir, seconds: 600 },
    ];
    const report = sequence.flatMap(({ kind, from, to }) => (kind === "cut" ? [from + 0.01, (from + to) / 2, to] : []));
    const played = simulate(phone(programme, { report }));
    for (const degC of played.faces[0].degC) expect(degC).toBeGreaterThan(64.95);
    expect(played.reached.find(({ watch, limit }) => watch === "cell" && limit === "plan")?.at).toBeNull();
  });

  test("pauses where the caps leave no other way, and a refusal where the allowance is too small", () => {
    const tight = { ...cell, watch: [{ ...cellWatch, plan: 48 }] };
    const paused = planRounds(phone([pad], { beside: [tight] }), 200);
    expect(paused.kind === "rounds" && paused.rounds.pauses).toBeGreaterThan(0);
    expect(paused.kind === "rounds" && paused.rounds.peak).toBeLessThanOrEqual(48);
    const poor = { ...cell, watch: [{ ...cellWatch, counted: { above: 30, seconds: 60 } }] };
    const refused = planRounds(phone([pad], { beside: [poor] }), 200);
    expect(refused.kind === "none" && refused.why).toMatch(/longer than the 60 s/);
  });
});

test("the band holds the nominal window, and a poorer contact is later", () => {
  const stack = phone();
  const band = sensitivity(stack, warmWindow(stack));
  const { from } = windowOf(stack);
  expect(band.from![0]).toBeLessThan(from);
  expect(band.from![1]).toBeGreaterThan(from);
  const contact = band.variations.find(({ what }) => what === "contact of the pad");
  expect(contact!.atLow!.from).toBeGreaterThan(contact!.atHigh!.from);
  expect(band.variations.map(({ source }) => source).every((source) => source.length > 10)).toBe(true);
});

describe("crossings", () => {
  const one = (watch: object[], programme: object[] = [pad]) =>
    simulate(readStack({ format: "unseam-stack/1", start: 23, layers: [glass], programme, watch, report: [] })).reached;

  test("0 where it starts there, null where never, one row for each limit in order", () => {
    const reached = one([{ name: "w", layer: "glass", face: "far", soft: 20, plan: 50, stop: 90 }]);
    expect(reached.map(({ limit }) => limit)).toEqual(["soft", "plan", "stop"]);
    expect(reached[0].at).toBe(0);
    expect(reached[1].at).toBeGreaterThan(0);
    expect(reached[2].at).toBeNull();
  });

  test("a held face jumps with its stage, and a report at the boundary shows the stage that ends", () => {
    const held = (temperature: number) => ({
      seconds: 10,
      hot: { temperature, h: null },
      cool: { temperature: 0, h: 0 },
    });
    const stack = readStack({
      format: "unseam-stack/1",
      start: 23,
      layers: [glass],
      programme: [held(30), held(70), held(40)],
      watch: [{ name: "w", layer: "glass", face: "near", soft: 60, plan: 25 }],
      report: [0, 10, 20, 30],
    });
    const { reached, faces } = simulate(stack);
    expect(reached.find(({ limit }) => limit === "soft")?.at).toBe(10);
    expect(reached.find(({ limit }) => limit === "plan")?.at).toBe(0);
    expect(faces[0].degC).toEqual([23, 30, 70, 40]);
  });
});

test("a line beside that passes its limit before the hottest stage has no remedy by a card, and nothing breaks", () => {
  const stack = readStack({
    format: "unseam-stack/1",
    start: 25,
    layers: [{ name: "bond", material: "psa_solid", thickness: 0.3 }],
    programme: [
      { seconds: 5, hot: { temperature: 60, h: null }, cool: { temperature: 80, h: 2000 } },
      { seconds: 50, hot: { temperature: 80, h: 300 }, cool: { temperature: 80, h: 600 } },
    ],
    watch: [{ name: "bond", layer: "bond", face: "far", soft: 65 }],
    report: [],
    beside: [
      {
        name: "cell",
        layers: [{ name: "pouch", material: "li_pouch", thickness: 0.5 }],
        watch: [{ name: "cell", layer: "pouch", face: "near", plan: 50 }],
      },
    ],
  });
  const answer = warmAnswer(stack);
  expect(answer.window).toBeNull();
  expect(answer.why).toMatch(/before the hottest stage begins/);
});
