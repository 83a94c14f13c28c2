import { describe, expect, test } from "vitest";
import { type Course, courseOf, heatBoard, readBoard, readStack, warmWindow } from "../../core/heat/index.ts";
import type { Scene, Shape } from "../scene.ts";
import { textWidth } from "../text-width.ts";
import { drawBoardPlan } from "./board-plan.ts";
import { drawCounted } from "./counted.ts";
import { banded, drawCourse, limitsOf, softSpan, valueAt } from "./course.ts";
import { drawFit } from "./fit.ts";
import { drawWarmSection } from "./section.ts";
import { classOf, DEVICE_LEVELS, shade, spread } from "./shade.ts";

const stack = readStack({
  format: "unseam-stack/1",
  start: 23,
  layers: [
    { name: "glass", material: "glass_aluminosilicate", thickness: 0.6 },
    { name: "bond", material: "psa_solid", thickness: 0.2 },
    { name: "frame", material: "al6013", thickness: 2 },
  ],
  programme: [{ seconds: 120, hot: { temperature: 80, h: 300 }, cool: { temperature: 23, h: 8 } }],
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
      watch: [
        { name: "cell face", layer: "pouch", face: "near", plan: 55, stop: 60, counted: { above: 45, seconds: 900 } },
      ],
    },
  ],
});
const answer = warmWindow(stack);
const window = answer.kind === "window" ? answer.window : null;
const course: Course = courseOf(stack, { liftOff: window?.to ?? 60, afterwards: 300, points: 121 });

function flat(shapes: readonly Shape[]): Shape[] {
  return shapes.flatMap((shape) => (shape.kind === "group" ? [shape, ...flat(shape.children)] : [shape]));
}
const texts = (scene: Scene) => flat(scene.shapes).filter((shape) => shape.kind === "text");

/** Nothing leaves the picture, and no two lines of words lie on each other. */
function faultsOf(scene: Scene): string[] {
  const faults: string[] = [];
  const boxes: { words: string; left: number; right: number; top: number; bottom: number }[] = [];
  for (const one of texts(scene)) {
    const size = one.size ?? 12;
    const wide = textWidth(one.text, size, one.bold === true);
    const left = one.x - (one.anchor === "middle" ? wide / 2 : one.anchor === "end" ? wide : 0);
    const box = { words: one.text, left, right: left + wide, top: one.y - size * 0.72, bottom: one.y + 2 };
    if (box.left < -1 || box.right > scene.width + 1.5 || box.top < -1 || box.bottom > scene.height + 1)
      faults.push(`${one.text} leaves the picture`);
    for (const other of boxes)
      if (
        box.left < other.right - 1 &&
        other.left < box.right - 1 &&
        box.top < other.bottom - 2 &&
        other.top < box.bottom - 2
      )
        faults.push(`${one.text} lies on ${other.words}`);
    boxes.push(box);
  }
  return faults;
}

describe.each([340, 560, 860])("at %i px", (width) => {
  test("the course: words do not lie on each other, and the window is said", () => {
    for (const now of [0, 43, window?.to ?? 0, 400]) {
      const scene = drawCourse(course, { width, window, now });
      // The temperatures at the cursor have a rim of paper and may stand before a rule.
      expect(faultsOf(scene).filter((one) => !/ °C lies on|lies on .* °C$/.test(one))).toEqual([]);
      expect(texts(scene).some((one) => one.text.startsWith("warm window"))).toBe(true);
    }
  });
  test("the section, the counted minutes and the fit", () => {
    for (const now of [0, 60, 200]) {
      const scene = drawWarmSection(course, { width, now, source: "plate 80 °C", watched: new Set(["cell pouch"]) });
      expect(faultsOf(scene)).toEqual([]);
    }
    for (const used of [0, 300, 1200]) {
      const marks = [
        { at: 280, words: "this heating" },
        { at: 430, words: "the whole cut" },
      ];
      expect(faultsOf(drawCounted({ width, allowed: 900, above: 45, used, marks }))).toEqual([]);
    }
    const points = Array.from({ length: 91 }, (_, t) => [t, 23 + t / 2, 23.1 + t / 2] as const);
    const ends = points.map(([, , fitted]) => fitted);
    expect(faultsOf(drawFit({ width, points, low: ends, high: ends }))).toEqual([]);
  });
  test("the board", () => {
    const board = readBoard({
      format: "unseam-board/1",
      size: [30, 20],
      cell: 2,
      start: 23,
      h: 12,
      layers: [{ name: "laminate", material: "fr4", thickness: 0.8, copper: 0.2 }],
      parts: [
        { name: "a chip with a long name", at: [8, 10], size: [6, 6, 1], material: "mould" },
        { name: "memory", at: [22, 10], size: [6, 6, 1], material: "mould", limit: 40 },
      ],
      heat: [{ seconds: 20, nozzle: { at: [8, 10], size: 8, temperature: 300, h: 150 } }],
      report: [],
    });
    const heat = heatBoard(board);
    if (heat === undefined) throw new Error("not ended from outside");
    const scene = drawBoardPlan(board, heat, { width });
    expect(faultsOf(scene)).toEqual([]);
    expect(scene.title).toContain("memory");
  });
});

test("the hotter, the closer the rules: a picture without colour still tells the classes apart", () => {
  const rules = [20, 35, 50, 60, 70, 90].map((degC) => {
    const path = shade(0, 0, 96, 10, degC, DEVICE_LEVELS).find((shape) => shape.kind === "path");
    return path?.kind === "path" ? path.commands.length / 2 : 0;
  });
  expect(rules).toEqual([0, 4, 8, 16, 32, 64]);
  expect([29.9, 30, 45, 55, 65, 80].map((degC) => classOf(degC, DEVICE_LEVELS))).toEqual([0, 1, 2, 3, 4, 5]);
});

test("the time in which every bond is soft is that of the window", () => {
  const span = softSpan(course.faces, course.at);
  expect(Math.abs((span?.[0] ?? 0) - (window?.from ?? 0))).toBeLessThan(0.3);
  expect(Math.abs((span?.[1] ?? 0) - ((window?.to ?? 0) + (window?.after ?? 0)))).toBeLessThan(0.3);
  expect(softSpan([], course.at)).toBeNull();
});

test("limits are drawn once each, from the highest down", () => {
  expect(limitsOf([...course.faces, ...course.faces]).map(({ words }) => words)).toEqual([
    "soft 65",
    "stop 60",
    "plan 55",
    "counted from 45",
  ]);
  // Where several have caps it is said whose they are, and only the bands that decide are drawn.
  const panel = { ...course.faces[1], line: "rim", watch: { ...course.faces[1].watch, name: "panel (rim)", plan: 78 } };
  const { counted: _, ...watch } = panel.watch;
  const faces = [...course.faces, { ...panel, watch }];
  expect(limitsOf(faces).map(({ words }) => words)).toContain("plan 78 panel");
  expect(limitsOf(faces).map(({ words }) => words)).toContain("plan 55 cell face");
  expect(faces.map((face) => banded(face, faces))).toEqual([true, true, false]);
});

test("values between points, and labels moved apart", () => {
  expect(valueAt([0, 10, 20], [0, 5, 1], 15)).toBe(3);
  expect(valueAt([0, 10], [0, 5], 99)).toBe(5);
  expect(spread([10, 12, 11], 5, 0, 100)).toEqual([10, 20, 15]);
  expect(spread([98, 99], 10, 0, 100)).toEqual([90, 100]);
});
