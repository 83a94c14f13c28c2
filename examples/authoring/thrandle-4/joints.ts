/** Thrandle 4: what holds, how it is undone, and how it is made again. */
import type { Joint, Release } from "../../../src/core/record/schema.ts";
import { clip, letsGo, pieces, plug, screws, tape } from "../bench.ts";

const underShield = [["top-shield"]];
const underCover = [["lower-cover"]];
const open = [["back-glass"]];

const backHeat: NonNullable<Release["heat"]> = {
  zone: "back",
  bond: 65,
  plate: 80,
  by: "plate",
  down: "back",
  seconds: 150,
  soft: 105,
  passes: true,
};
const frontHeat: NonNullable<Release["heat"]> = {
  zone: "front",
  bond: 65,
  plate: 80,
  by: "plate",
  down: "front",
  seconds: 165,
  soft: 110,
  passes: true,
};

const rims: Joint[] = [
  {
    id: "back-rim",
    kind: "adhesive",
    holds: ["back-glass", "band"],
    side: "back",
    releases: [
      {
        action: "slice",
        tools: ["suction", "pick"],
        seconds: 180,
        leaves: "spent",
        heat: backHeat,
        clean: true,
        hazard: ["burn", "shard"],
        notWhen: ["swollen", "cracked-back"],
        harm: [
          { part: "back-glass", chance: 0.025 },
          { part: "flash", chance: 0.01 },
        ],
      },
    ],
    bond: { length: 430, width: 2.6, thickness: 0.2, softensAt: 62 },
    remake: {
      uses: [
        { consumable: "rim-back", amount: pieces(1) },
        { consumable: "wipes", amount: pieces(4) },
      ],
      clean: 430,
      lay: 180,
      press: 20,
      cure: 900,
    },
  },
  {
    id: "trim-bond",
    kind: "adhesive",
    holds: ["camera-trim", "back-glass"],
    reach: open,
    releases: [
      {
        action: "pry",
        tools: ["spudger"],
        seconds: 45,
        leaves: "spent",
        heat: { zone: "trim", bond: 70, by: "warm-bag", seconds: 90, soft: 60 },
        clean: true,
        harm: [{ part: "back-glass", chance: 0.06 }],
      },
    ],
    bond: { length: 100, width: 1.2, thickness: 0.1, softensAt: 66 },
    remake: { uses: [{ consumable: "tape-strip", amount: pieces(2) }], clean: 40, lay: 60, press: 10, cure: 600 },
  },
  {
    id: "lens-bond",
    kind: "adhesive",
    holds: ["lens-window", "camera-trim"],
    side: "back",
    releases: [
      {
        action: "slice",
        tools: ["pick"],
        seconds: 30,
        leaves: "spent",
        heat: { zone: "lens", bond: 65, by: "warm-bag", seconds: 75, soft: 40 },
        clean: true,
        hazard: ["shard"],
        harm: [{ part: "lens-window", chance: 0.12 }],
      },
    ],
    bond: { length: 98, width: 1, thickness: 0.1, softensAt: 62 },
    remake: { uses: [{ consumable: "lens-ring", amount: pieces(1) }], clean: 60, lay: 20, press: 10, cure: 600 },
  },
  plug("flash-plug", ["flash", "main-board"], "zif", 8, open),
  tape("flash-tape", ["flash", "back-glass"], 12, open, { length: 6, width: 5, thickness: 0.1 }, { side: "front" }),
  {
    id: "display-rim",
    kind: "adhesive",
    holds: ["display", "band"],
    side: "front",
    releases: [
      {
        action: "slice",
        tools: ["suction", "card"],
        seconds: 190,
        leaves: "spent",
        heat: frontHeat,
        clean: true,
        hazard: ["burn", "shard"],
        notWhen: ["swollen", "cracked-display"],
        harm: [{ part: "display", chance: 0.05 }],
      },
    ],
    bond: { length: 434, width: 2, thickness: 0.2, softensAt: 66 },
    remake: {
      uses: [
        { consumable: "rim-front", amount: pieces(1) },
        { consumable: "wipes", amount: pieces(4) },
      ],
      clean: 480,
      lay: 200,
      press: 25,
      cure: 1800,
    },
  },
  letsGo("display-ground", "spring-contact", ["display", "mid-plate"], { count: 4 }),
  {
    id: "sim-latch",
    kind: "press-fit",
    holds: ["sim-tray", "band"],
    side: "top",
    releases: [{ action: "pull", tools: ["eject-pin"], seconds: 4, leaves: "whole" }],
  },
];

const middle: Joint[] = [
  screws(
    "top-shield-screws",
    ["top-shield", "mid-plate"],
    [
      [34, 120],
      [66.6, 121.6],
      [34, 130],
      [67, 130],
      [34, 139.6],
      [50.5, 139.6, 3],
      [66.2, 138],
    ],
    { length: 1.8 },
  ),
  letsGo("nfc-contact", "spring-contact", ["nfc-antenna", "main-board"], { count: 2 }),
  tape("nfc-tape", ["nfc-antenna", "top-shield"], 10, open, { length: 80, width: 3, thickness: 0.03 }),
  screws(
    "cell-bracket-screws",
    ["cell-bracket", "main-board"],
    [
      [56.2, 115],
      [65.8, 115],
    ],
    { length: 1.4 },
  ),
  screws(
    "lower-cover-screws",
    ["lower-cover", "mid-plate"],
    [
      [30.2, 23],
      [50.6, 11],
      [50.6, 23.2, 4.6],
      [67, 11],
      [67, 23.2, 4.6],
      [30.2, 11.2],
    ],
    { length: 2.2 },
  ),
  plug("cell-plug", ["cell", "main-board"], "board-to-board", 10, [["cell-bracket"]], { power: true }),
  {
    id: "cell-tabs-joint",
    kind: "adhesive",
    holds: ["cell", "mid-plate"],
    count: 2,
    reach: [["graphite"]],
    side: "back",
    releases: [
      {
        action: "pull",
        tools: ["tweezers-plastic"],
        seconds: 95,
        leaves: "spent",
        clean: true,
        notWhen: ["swollen"],
        harm: [{ part: "cell", chance: 0.01 }],
        fails: { chance: 0.25, then: 1, seconds: 90 },
      },
      {
        action: "slice",
        tools: ["card"],
        seconds: 300,
        leaves: "spent",
        solvent: true,
        clean: true,
        hazard: ["puncture", "fume"],
        notWhen: ["swollen"],
        destroys: ["cell"],
      },
    ],
    bond: { length: 70, width: 14, thickness: 0.15 },
    remake: {
      uses: [
        { consumable: "cell-tabs", amount: pieces(1) },
        { consumable: "wipes", amount: pieces(2) },
      ],
      clean: 90,
      lay: 40,
      press: 20,
      cure: 300,
    },
  },
  plug("coil-plug", ["coil", "main-board"], "board-to-board", 6, underShield),
  tape("coil-tape", ["coil", "graphite"], 26, open, { length: 50, width: 12, thickness: 0.01 }),
  tape("graphite-tape", ["graphite", "cell"], 16, [["coil", "main-flex"]], { length: 80, width: 55, thickness: 0.01 }),
  plug("main-flex-upper", ["main-flex", "main-board"], "board-to-board", 50, [["cell-bracket"]]),
  plug("main-flex-lower", ["main-flex", "port-board"], "board-to-board", 50, underCover),
  tape("main-flex-tape", ["main-flex", "graphite"], 9, open, { length: 80, width: 3, thickness: 0.03 }),
  plug("coax-upper", ["coax-long", "main-board"], "coaxial", 1, [["cell-bracket"]]),
  plug("coax-lower", ["coax-long", "port-board"], "coaxial", 1, underCover),
  clip("coax-channel", ["coax-long", "band"], 3, open),
];

const upper: Joint[] = [
  plug("display-plug", ["display", "main-board"], "board-to-board", 40, underShield),
  plug("front-camera-plug", ["front-camera", "main-board"], "board-to-board", 24, underShield),
  plug("main-camera-plug", ["main-camera", "main-board"], "board-to-board", 34, underShield),
  plug("wide-camera-plug", ["wide-camera", "main-board"], "board-to-board", 30, underShield),
  plug("light-plug", ["light-sensor", "main-board"], "zif", 6, underShield),
  plug("power-plug", ["power-flex", "main-board"], "zif", 4, [["cell-bracket"]]),
  plug("volume-plug", ["volume-flex", "main-board"], "zif", 4, [["cell-bracket"]]),
  screws(
    "camera-bracket-screws",
    ["camera-bracket", "mid-plate"],
    [
      [5.8, 126],
      [23.6, 112.4],
      [23.6, 139.4],
    ],
    {
      length: 2.4,
      thread: "M1.4x0.3",
    },
  ),
  letsGo("main-camera-seat", "press-fit", ["main-camera", "mid-plate"]),
  letsGo("wide-camera-seat", "press-fit", ["wide-camera", "mid-plate"]),
  screws(
    "upper-antenna-screws",
    ["upper-antenna", "band"],
    [
      [6, 146],
      [25, 146.8],
      [41, 146.8],
      [66, 146],
    ],
    {
      length: 3,
    },
  ),
  letsGo("upper-antenna-contact", "spring-contact", ["upper-antenna", "main-board"], { count: 4 }),
  tape(
    "front-camera-pad",
    ["front-camera", "band"],
    12,
    [["upper-antenna"], ["display"]],
    { length: 8, width: 4, thickness: 0.1 },
    {
      side: undefined,
      releases: [
        {
          action: "pry",
          tools: ["spudger"],
          seconds: 12,
          leaves: "spent",
          harm: [{ part: "front-camera", chance: 0.01 }],
        },
      ],
    },
  ),
  tape("light-tape", ["light-sensor", "band"], 8, [["upper-antenna"]], { length: 4, width: 2, thickness: 0.05 }),
  screws(
    "earpiece-screws",
    ["earpiece", "band"],
    [
      [43.2, 146.6],
      [56.8, 146.6],
    ],
    {
      length: 2,
      reach: [["upper-antenna"], ["display"]],
      more: { side: undefined },
    },
  ),
  letsGo("earpiece-contact", "spring-contact", ["earpiece", "main-board"], { count: 2 }),
  screws(
    "board-screws",
    ["main-board", "mid-plate"],
    [
      [27.4, 113.4],
      [67.8, 114.4],
      [27.4, 140.2],
      [67.2, 140.6, 2.6, "ground"],
      [37.6, 131.6],
    ],
    { length: 2.8, reach: [["top-shield", "cell-bracket"]] },
  ),
  clip("shield-snaps", ["board-shield", "main-board"], 8, [["main-board"]], { side: "front" }),
  tape("film-tape", ["board-graphite", "main-board"], 10, underShield, { length: 25, width: 25, thickness: 0.01 }),
  letsGo("sim-contact", "spring-contact", ["sim-reader", "main-board"], { count: 6 }),
  screws(
    "sim-reader-screws",
    ["sim-reader", "mid-plate"],
    [
      [44, 132],
      [58, 132],
      [51, 145],
    ],
    {
      length: 1,
      reach: [["main-board", "earpiece"]],
    },
  ),
];

const keysAndBottom: Joint[] = [
  screws(
    "key-wedge-screws",
    ["key-bracket", "band"],
    [
      [67, 62.4],
      [67, 86],
      [67, 99.6],
    ],
    {
      length: 1.8,
      hard: true,
      reach: [["back-glass", "coax-long"]],
      harm: [{ part: "power-flex", chance: 0.01 }],
    },
  ),
  clip("power-hooks", ["power-flex", "band"], 2, [["key-bracket"]]),
  clip("volume-hooks", ["volume-flex", "band"], 2, [["key-bracket"]]),
  clip("power-cap-hook", ["power-cap", "band"], 1, [["power-flex"]]),
  clip("volume-cap-hook", ["volume-cap", "band"], 2, [["volume-flex"]]),
  screws(
    "speaker-screws",
    ["loudspeaker", "band"],
    [
      [5.4, 23],
      [26.6, 23],
      [5.4, 5.6],
      [26.6, 5.6, 3.6],
    ],
    {
      length: 2.6,
    },
  ),
  letsGo("speaker-contact", "spring-contact", ["loudspeaker", "port-board"], { count: 2 }),
  letsGo("antenna-contact", "spring-contact", ["lower-antenna", "port-board"], { count: 3 }),
  tape("lower-antenna-tape", ["lower-antenna", "loudspeaker"], 10, open, { length: 22, width: 5, thickness: 0.03 }),
  screws(
    "port-board-screws",
    ["port-board", "mid-plate"],
    [
      [30.2, 9],
      [42.6, 5.4],
      [48.8, 9],
      [30.2, 21],
    ],
    {
      length: 2,
      reach: underCover,
    },
  ),
  letsGo("mic-contact", "spring-contact", ["main-mic", "port-board"], { count: 3 }),
  {
    id: "mic-bond",
    kind: "tape",
    holds: ["main-mic", "band"],
    reach: underCover,
    side: "back",
    releases: [
      { action: "pry", tools: ["spudger"], seconds: 14, leaves: "spent", harm: [{ part: "main-mic", chance: 0.05 }] },
      { action: "pry", tools: ["pick"], seconds: 14, leaves: "spent", harm: [{ part: "main-mic", chance: 0.08 }] },
    ],
    bond: { length: 5, width: 4, thickness: 0.1 },
    remake: { uses: [{ consumable: "foam-seal", amount: pieces(1) }], clean: 10, lay: 15 },
  },
  plug("jack-plug", ["audio-jack", "port-board"], "zif", 8, underCover),
  screws("jack-screw", ["audio-jack", "band"], [[58.8, 12]], { length: 2.4, reach: underCover }),
  screws(
    "motor-screws",
    ["motor", "band"],
    [
      [53, 17.2],
      [65, 22.8],
    ],
    { length: 1.6, reach: underCover },
  ),
  letsGo("motor-contact", "spring-contact", ["motor", "port-board"], { count: 2 }),
  {
    id: "motor-pad",
    kind: "tape",
    holds: ["motor", "mid-plate"],
    reach: [["lower-cover", "port-board"]],
    side: "back",
    basis: "tried",
    releases: [{ action: "pry", tools: ["spudger"], seconds: 18, leaves: "spent" }],
    bond: { length: 12, width: 6, thickness: 0.1 },
    remake: { uses: [{ consumable: "tape-strip", amount: pieces(1) }], clean: 10, lay: 10, press: 5 },
  },
  plug("reader-plug", ["finger-reader", "display"], "zif", 14, [["display"]]),
  {
    id: "reader-bond",
    kind: "adhesive",
    holds: ["finger-reader", "display"],
    reach: [["display"]],
    side: "back",
    releases: [
      {
        action: "slice",
        tools: ["pick"],
        seconds: 50,
        leaves: "spent",
        heat: { zone: "reader", bond: 60, by: "warm-bag", seconds: 60, soft: 55 },
        clean: true,
        harm: [{ part: "display", chance: 0.08 }],
      },
    ],
    bond: { length: 10, width: 8, thickness: 0.05, softensAt: 58 },
    remake: { uses: [{ consumable: "tape-strip", amount: pieces(1) }], clean: 20, lay: 30, press: 5 },
  },
  screws(
    "mid-plate-screws",
    ["mid-plate", "band"],
    [
      [5, 14],
      [4, 50],
      [4, 90],
      [4.2, 143.6],
      [46, 147.2],
      [68, 143.2],
      [68, 112],
      [66.6, 50],
      [67, 27],
      [51, 5],
      [43, 9],
      [30, 25],
    ],
    {
      length: 1.6,
      tool: "t3",
      drive: "hexalobular T3",
      thread: "M1.4x0.3",
      reach: [["cell", "main-board", "port-board", "loudspeaker", "upper-antenna"]],
      torque: 4.2,
    },
  ),
];

const clean = (joint: Joint): Joint => JSON.parse(JSON.stringify(joint)) as Joint;

export const joints: Joint[] = [...rims, ...middle, ...upper, ...keysAndBottom].map(clean);
