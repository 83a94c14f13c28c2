import { describe, expect, test } from "vitest";
import { courseOf, secondsAbove } from "./course.ts";
import { readStack } from "./read-stack.ts";
import { simulate } from "./simulate.ts";
import { warmWindow } from "./window.ts";

const stack = readStack({
  format: "unseam-stack/1",
  start: 23,
  layers: [
    { name: "glass", material: "glass_aluminosilicate", thickness: 0.6, contactAfter: 5000 },
    { name: "bond", material: { k: 0.15, rho: 1000, cp: 1800 }, thickness: 0.2 },
    { name: "frame", material: "al6013", thickness: 2 },
  ],
  programme: [
    { seconds: 20, hot: { temperature: 40, h: 300 }, cool: { temperature: 23, h: 8 } },
    { seconds: 120, hot: { temperature: 80, h: 300 }, cool: { temperature: 23, h: 8 } },
  ],
  watch: [{ name: "bond inner", layer: "bond", face: "far", soft: 65 }],
  report: [],
  beside: [
    {
      name: "cell",
      layers: [
        { name: "cover", material: "glass_aluminosilicate", thickness: 0.6 },
        { name: "gap", material: "air", thickness: 0.3 },
        { name: "pouch", material: "li_pouch", thickness: 4.5 },
      ],
      watch: [{ name: "cell", layer: "pouch", face: "near", plan: 55, stop: 60, counted: { above: 45, seconds: 900 } }],
    },
  ],
});

describe("the course of a heating", () => {
  const answer = warmWindow(stack);
  if (answer.kind !== "window") throw new Error(answer.why);
  const { from, to, counted } = answer.window;
  const course = courseOf(stack, { liftOff: to ?? 0, afterwards: 600, points: 401 });
  const [bond, cell] = course.faces;

  test("agrees with the window: soft from `from`, the cell peaks at its plan, the counted seconds are the same", () => {
    expect(course.begins).toBe(20);
    const soft = course.at.findIndex((_, i) => bond.degC[i] >= 65);
    expect(course.at[soft]).toBeGreaterThanOrEqual(from);
    expect(course.at[soft] - from).toBeLessThan(course.at[1]);
    expect(Math.max(...cell.degC)).toBeGreaterThan(54.9);
    expect(Math.max(...cell.degC)).toBeLessThanOrEqual(55.001);
    expect(Math.abs((cell.counted?.at(-1) ?? 0) - (counted ?? 0))).toBeLessThan(0.5);
  });

  test("the band holds the course and says what it is made of", () => {
    for (const { degC, low, high } of course.faces)
      degC.forEach((value, i) => {
        expect(low[i]).toBeLessThanOrEqual(value);
        expect(high[i]).toBeGreaterThanOrEqual(value);
      });
    expect(Math.max(...cell.high)).toBeGreaterThan(57);
    expect(course.unsure.map(({ what }) => what)).toEqual([
      "contact of the pad",
      "conductivity of the bond",
      "contacts inside and loss on the cool side",
      "a place that does not touch the pad",
    ]);
  });

  test("a fitted contact narrows the band to its interval", () => {
    const known = courseOf(stack, {
      liftOff: to ?? 0,
      afterwards: 60,
      points: 31,
      contact: { low: 290, high: 310, source: "fitted" },
    });
    expect(known.unsure[0]).toEqual({
      what: "contact of the pad",
      low: "290 W/(m2.K)",
      high: "310 W/(m2.K)",
      source: "fitted",
    });
  });

  test("slices change nothing: the section shows at the faces what the stack itself shows", () => {
    const [line] = course.lines;
    expect(line.layers.map(({ name, profile }) => [name, profile[0].length])).toEqual([
      ["glass", 3],
      ["bond", 2],
      ["frame", 6],
    ]);
    const i = 40;
    const inside = line.layers[1].profile[i];
    expect(Math.abs(inside[1] - bond.degC[i])).toBeLessThan(0.002);
    // Across a contact the faces differ; across none they are one.
    expect(line.layers[0].profile[i][2]).toBeGreaterThan(inside[0] + 0.1);
    expect(Math.abs(line.layers[2].profile[i][0] - inside[1])).toBeLessThan(0.002);
  });

  test("without a further stage the air that the window assumes follows", () => {
    const air = simulate({
      ...stack,
      programme: [
        ...stack.programme.slice(0, 1),
        { ...stack.programme[1], seconds: 100 },
        { seconds: 300, hot: { temperature: 23, h: 10 }, cool: { temperature: 23, h: 8 } },
      ],
      report: [420],
    });
    const same = courseOf(stack, { liftOff: 120, afterwards: 300, points: 11 });
    expect(same.faces[1].degC[10]).toBeCloseTo(air.faces[1].degC[0], 3);
  });
});

test("seconds above a level along straight lines", () => {
  expect(secondsAbove([0, 10, 20, 30], [40, 50, 50, 40], 45)).toEqual([0, 5, 15, 20]);
  expect(secondsAbove([0, 10], [45, 45], 45)).toEqual([0, 0]);
});
