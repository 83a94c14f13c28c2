import { describe, expect, it } from "vitest";
import type { Part } from "../../record/index.ts";
import { crossingWarnings } from "./crossings.ts";

const cell: Part = {
  id: "cell",
  name: "Cell",
  outline: [
    [
      [10, 10],
      [50, 10],
      [50, 80],
      [10, 80],
    ],
    [
      [20, 20],
      [40, 20],
      [40, 40],
      [20, 40],
    ],
  ],
  level: [1, 5],
};
const lead = (path: [number, number][], more: Partial<Part> = {}): Part => ({
  ...{ id: "lead", name: "Lead", path, level: [5, 5.3] },
  ...more,
});
const across: [number, number][] = [
  [0, 60],
  [60, 60],
];

describe("cables across what lies nearer to the open side", () => {
  it.each<[string, Part, number]>([
    ["straight across without a corner inside", lead(across), 1],
    [
      "past it",
      lead([
        [0, 90],
        [60, 90],
      ]),
      0,
    ],
    [
      "within a hole",
      lead([
        [22, 22],
        [38, 38],
      ]),
      0,
    ],
    [
      "out of the hole",
      lead([
        [30, 30],
        [45, 30],
      ]),
      1,
    ],
    ["told to run beneath", lead(across, { beneath: ["cell"] }), 0],
    ["above it", lead(across, { level: [0.2, 0.6] }), 0],
    ["worked from the front", lead(across, { side: "front" }), 0],
    ["without a level", lead(across, { level: undefined }), 0],
  ])("%s", (_, cable, warnings) => {
    expect(crossingWarnings([cell, cable])).toHaveLength(warnings);
  });
});
