/** Plicarn 1: what holds, how it is undone, and how it is made again. */
import type { Joint, Release } from "../../../src/core/record/schema.ts";
import { clip, letsGo, pieces, plug, screws, tape } from "../bench.ts";

const rim = (
  id: string,
  holds: [string, string],
  heat: NonNullable<Release["heat"]>,
  seconds: number,
  length: number,
  harm: NonNullable<Release["harm"]>,
  consumable: string,
): Joint => ({
  id,
  kind: "adhesive",
  holds,
  side: "back",
  releases: [
    {
      action: "slice",
      tools: ["suction", "pick"],
      seconds,
      leaves: "spent",
      heat,
      clean: true,
      hazard: ["burn", "shard"],
      notWhen: ["swollen"],
      harm,
    },
  ],
  bond: { length, width: 2, thickness: 0.15, softensAt: 62 },
  remake: { uses: [{ consumable, amount: pieces(1) }], clean: 360, lay: 160, press: 20, cure: 900 },
});

const pullTabs = (id: string, cell: string, plate: string, reach: string[][]): Joint => ({
  id,
  kind: "adhesive",
  holds: [cell, plate],
  count: 2,
  reach,
  side: "back",
  releases: [
    {
      action: "pull",
      tools: ["tweezers-plastic"],
      seconds: 90,
      leaves: "spent",
      clean: true,
      notWhen: ["swollen"],
      fails: { chance: 0.2, then: 1, seconds: 60 },
    },
    {
      action: "slice",
      tools: ["card"],
      seconds: 280,
      leaves: "spent",
      solvent: true,
      clean: true,
      hazard: ["puncture", "fume"],
      notWhen: ["swollen"],
      destroys: [cell],
    },
  ],
  bond: { length: 60, width: 12, thickness: 0.15 },
  remake: { uses: [{ consumable: "cell-tabs", amount: pieces(1) }], clean: 80, lay: 35, press: 20, cure: 300 },
});

const bezel = (side: "left" | "right"): Joint =>
  tape(
    `bezel-${side}-tape`,
    [`bezel-${side}`, "inner-display"],
    60,
    [],
    { length: 290, width: 2, thickness: 0.05 },
    {
      side: "front",
      releases: [
        {
          action: "pry",
          tools: ["spudger"],
          seconds: 60,
          leaves: "spent",
          heat: { zone: "bezel", bond: 55, by: "warm-bag", seconds: 90, soft: 140 },
          harm: [{ part: "inner-display", chance: 0.03 }],
        },
      ],
    },
  );

export const joints: Joint[] = [
  rim(
    "back-rim",
    ["back-glass", "frame-right"],
    { zone: "back", bond: 65, plate: 80, by: "plate", down: "back", seconds: 120, soft: 100, passes: true },
    170,
    420,
    [{ part: "back-glass", chance: 0.03 }],
    "rim-back",
  ),
  rim(
    "cover-rim",
    ["cover-display", "frame-left"],
    { zone: "cover", bond: 65, plate: 75, by: "plate", down: "back", seconds: 150, soft: 85, passes: true },
    210,
    420,
    [{ part: "cover-display", chance: 0.05 }],
    "rim-front",
  ),
  tape(
    "trim-bond",
    ["camera-trim", "back-glass"],
    30,
    [["back-glass"]],
    { length: 110, width: 1.2, thickness: 0.1 },
    {
      releases: [
        {
          action: "pry",
          tools: ["spudger"],
          seconds: 40,
          leaves: "spent",
          heat: { zone: "trim", bond: 70, by: "warm-bag", seconds: 90, soft: 60 },
          harm: [{ part: "back-glass", chance: 0.06 }],
        },
      ],
    },
  ),
  bezel("left"),
  bezel("right"),
  {
    id: "inner-bond",
    kind: "adhesive",
    holds: ["inner-display", "plate-right", "plate-left"],
    reach: [["bezel-left", "bezel-right"]],
    side: "front",
    releases: [
      {
        action: "peel",
        tools: ["suction", "card"],
        seconds: 150,
        leaves: "spent",
        heat: { zone: "inner", bond: 55, by: "warm-bag", seconds: 180, soft: 170 },
        clean: true,
        harm: [{ part: "inner-display", chance: 0.12 }],
      },
    ],
    bond: { length: 300, width: 30, thickness: 0.2, softensAt: 50 },
    remake: { uses: [{ consumable: "rim-front", amount: pieces(1) }], clean: 300, lay: 240, press: 30, cure: 3600 },
  },
  tape(
    "foil-bond",
    ["foil", "inner-display"],
    40,
    [],
    { length: 134, width: 150, thickness: 0.02 },
    {
      side: "front",
      releases: [
        { action: "peel", tools: [], seconds: 40, leaves: "spent", harm: [{ part: "inner-display", chance: 0.05 }] },
      ],
    },
  ),
  screws(
    "cell-bracket-screws",
    ["cell-bracket", "main-board"],
    [
      [83, 114],
      [91, 114],
    ],
    { length: 1.4 },
  ),
  plug("cell-plug", ["cell", "main-board"], "board-to-board", 12, [["cell-bracket"]], { power: true }),
  pullTabs("cell-tabs-joint", "cell", "plate-right", [["coil"]]),
  tape("coil-tape", ["coil", "cell"], 20, [["back-glass"]], { length: 40, width: 10, thickness: 0.05 }),
  plug("coil-plug", ["coil", "main-board"], "board-to-board", 6, [["top-shield"]]),
  screws(
    "top-shield-screws",
    ["top-shield", "plate-right"],
    [
      [94, 112],
      [104.6, 112],
      [94, 148],
      [104.6, 148, 2.4],
    ],
    {
      length: 1.6,
    },
  ),
  plug("inner-plug", ["inner-display", "main-board"], "board-to-board", 60, [["top-shield"]]),
  plug("cross-plug-right", ["cross-flex", "main-board"], "board-to-board", 60, [["top-shield"]]),
  plug("cross-plug-left", ["cross-flex", "left-board"], "board-to-board", 60, [["left-shield"]]),
  screws("cross-clamp", ["cross-flex", "hinge"], [[70, 116.2]], {
    length: 1.2,
    reach: [["top-shield", "left-shield"]],
  }),
  plug("camera-plug", ["rear-cradle", "main-board"], "board-to-board", 50, [["top-shield"]]),
  screws(
    "camera-screws",
    ["rear-cradle", "plate-right"],
    [
      [110, 124],
      [134.4, 124],
      [110, 148.4],
    ],
    {
      length: 2,
      thread: "M1.4x0.3",
    },
  ),
  screws(
    "board-screws",
    ["main-board", "plate-right"],
    [
      [82.4, 148.6],
      [134.6, 111, 1.8, "ground"],
      [104.6, 121],
    ],
    {
      length: 2.4,
      reach: [["top-shield", "cell-bracket"]],
    },
  ),
  screws(
    "speaker-screws",
    ["loudspeaker", "frame-right"],
    [
      [82.4, 25.6],
      [102.6, 25.6],
      [83.6, 6.6, 3.4],
    ],
    { length: 2.2 },
  ),
  letsGo("speaker-contact", "spring-contact", ["loudspeaker", "port-board"], { count: 2 }),
  screws(
    "port-screws",
    ["port-board", "plate-right"],
    [
      [107.4, 24.6],
      [134.6, 24.6],
    ],
    { length: 1.8 },
  ),
  plug("port-plug", ["port-board", "main-board"], "zif", 50, [["top-shield"]]),
  screws("key-screw", ["key-flex", "frame-right"], [[137.9, 80]], { length: 1.4, hard: true }),
  plug("key-plug", ["key-flex", "main-board"], "zif", 12, [["top-shield"]]),
  screws(
    "left-shield-screws",
    ["left-shield", "plate-left"],
    [
      [7, 108],
      [56, 108],
      [7, 120],
      [56, 120],
    ],
    {
      length: 1.6,
      reach: [["cover-display"]],
    },
  ),
  plug("second-plug", ["second-cell", "left-board"], "board-to-board", 10, [["left-shield"]]),
  pullTabs("second-tabs-joint", "second-cell", "plate-left", [["cover-display"]]),
  plug("cover-plug", ["cover-display", "left-board"], "board-to-board", 40, [["cover-display"], ["left-shield"]]),
  plug("front-camera-plug", ["front-camera", "left-board"], "board-to-board", 24, [["left-shield"]]),
  clip("front-camera-snap", ["front-camera", "frame-left"], 2, [["cover-display"]]),
  screws(
    "earpiece-screws",
    ["earpiece", "frame-left"],
    [
      [39, 143],
      [53, 149],
    ],
    { length: 1.8, reach: [["cover-display"]] },
  ),
  letsGo("earpiece-contact", "spring-contact", ["earpiece", "left-board"], { count: 2 }),
  screws(
    "left-board-screws",
    ["left-board", "plate-left"],
    [
      [6.4, 114],
      [56.6, 114],
    ],
    { length: 1.8, reach: [["left-shield"]] },
  ),
  screws(
    "motor-screws",
    ["motor", "frame-left"],
    [
      [6.2, 7.2],
      [18.8, 28.8],
    ],
    { length: 1.6, reach: [["cover-display"]] },
  ),
  letsGo("motor-contact", "spring-contact", ["motor", "left-board"], { count: 2 }),
  {
    id: "sim-latch",
    kind: "press-fit",
    holds: ["sim-tray", "frame-left"],
    side: "bottom",
    releases: [{ action: "pull", tools: ["eject-pin"], seconds: 4, leaves: "whole" }],
  },
  screws(
    "hinge-right-screws",
    ["hinge", "frame-right"],
    [
      [76, 10],
      [76, 44],
      [76, 112],
      [76, 146],
    ],
    {
      tool: "t3",
      drive: "hexalobular T3",
      thread: "M1.4x0.3",
      length: 2.6,
      side: "front",
      reach: [["inner-display"]],
      hard: true,
    },
  ),
  screws(
    "hinge-left-screws",
    ["hinge", "frame-left"],
    [
      [64, 10],
      [64, 44],
      [64, 112],
      [64, 146],
    ],
    {
      tool: "t3",
      drive: "hexalobular T3",
      thread: "M1.4x0.3",
      length: 2.6,
      side: "front",
      reach: [["inner-display"]],
      hard: true,
    },
  ),
  clip("hinge-cover-snaps", ["hinge-cover", "hinge"], 6, [["hinge"]]),
  screws(
    "plate-right-screws",
    ["plate-right", "frame-right"],
    [
      [81, 6],
      [136, 6],
      [81, 150],
      [136, 150.4],
    ],
    {
      length: 1.2,
      side: "front",
      reach: [["inner-display"]],
    },
  ),
  screws(
    "plate-left-screws",
    ["plate-left", "frame-left"],
    [
      [4, 6],
      [59, 6],
      [4, 150],
      [59, 150],
    ],
    {
      length: 1.2,
      side: "front",
      reach: [["inner-display"]],
    },
  ),
].map((joint) => JSON.parse(JSON.stringify(joint)) as Joint);
