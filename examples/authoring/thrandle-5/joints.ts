/**
 * Thrandle 5: what holds, how it is undone, and how it is made again.
 *
 * Longer than most files: one device, in the order of the work, is read best in one piece.
 */
import type { Joint, Release } from "../../../src/core/record/schema.ts";
import { clip, letsGo, pieces, plug, screws, tape } from "../bench.ts";

const underShield = [["top-shield"]];
const underCover = [["lower-cover"]];
const behindGlass = [["back-glass"]];

/** Lying on the plate, back down. 80 degC on the plate for 65 degC in the bond; both are settings of this bench. */
const backHeat: NonNullable<Release["heat"]> = {
  zone: "back",
  bond: 65,
  plate: 80,
  by: "plate",
  down: "back",
  seconds: 120,
  soft: 120,
  passes: true,
};
const frontHeat: NonNullable<Release["heat"]> = {
  zone: "front",
  bond: 65,
  plate: 80,
  by: "plate",
  down: "front",
  seconds: 150,
  soft: 105,
  passes: true,
};

const openings: Joint[] = [
  screws(
    "bottom-screws",
    ["back-glass", "band"],
    [
      [27.4, 1.6, 4.2, "sealed"],
      [45, 1.6, 4.2, "sealed"],
    ],
    {
      tool: "five-lobe",
      drive: "five-lobe 0.8",
      thread: "M1.4x0.3",
      length: 4.2,
      head: 1.8,
      reach: [],
      side: "bottom",
      torque: 4.8,
      torqueIs: "back-off",
      harm: [{ part: "band", chance: 0.004 }],
    },
  ),
  {
    id: "back-rim",
    kind: "adhesive",
    holds: ["back-glass", "band"],
    side: "back",
    releases: [
      {
        action: "slice",
        tools: ["suction", "pick"],
        seconds: 210,
        leaves: "spent",
        heat: backHeat,
        clean: true,
        hazard: ["burn", "shard"],
        notWhen: ["swollen", "cracked-back"],
        harm: [
          { part: "back-glass", chance: 0.03 },
          { part: "coax-long", chance: 0.003 },
          { part: "key-flex", chance: 0.003 },
        ],
      },
      {
        action: "pry",
        tools: ["pick", "tweezers-plastic"],
        seconds: 340,
        leaves: "broken",
        heat: backHeat,
        clean: true,
        hazard: ["burn", "shard"],
        onlyWhen: ["cracked-back"],
        notWhen: ["swollen"],
        destroys: ["back-glass"],
      },
    ],
    bond: { length: 428, width: 2.2, thickness: 0.15, softensAt: 62 },
    remake: {
      uses: [
        { consumable: "rim-back", amount: pieces(1) },
        { consumable: "wipes", amount: pieces(4) },
      ],
      clean: 420,
      lay: 180,
      press: 20,
      cure: 900,
    },
  },
  letsGo("back-hooks", "clip", ["back-glass", "band"], { count: 4, side: "top" }),
  {
    id: "trim-bond",
    kind: "adhesive",
    holds: ["camera-trim", "back-glass"],
    reach: behindGlass,
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
    bond: { length: 128, width: 1.2, thickness: 0.1, softensAt: 66 },
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
      {
        action: "cut",
        tools: ["pick"],
        seconds: 25,
        leaves: "broken",
        hazard: ["shard"],
        destroys: ["lens-window"],
      },
    ],
    bond: { length: 124, width: 1, thickness: 0.1, softensAt: 62 },
    remake: { uses: [{ consumable: "lens-ring", amount: pieces(1) }], clean: 60, lay: 20, press: 10, cure: 600 },
  },
  {
    id: "display-rim",
    kind: "adhesive",
    holds: ["display", "band"],
    side: "front",
    releases: [
      {
        action: "slice",
        tools: ["suction", "card"],
        seconds: 264,
        leaves: "spent",
        heat: frontHeat,
        clean: true,
        hazard: ["burn", "shard"],
        notWhen: ["swollen", "cracked-display"],
        harm: [
          { part: "display", chance: 0.05 },
          { part: "finger-reader", chance: 0.005 },
        ],
      },
      {
        action: "pry",
        tools: ["pick", "tweezers-plastic"],
        seconds: 280,
        leaves: "spent",
        heat: frontHeat,
        clean: true,
        hazard: ["burn", "shard"],
        onlyWhen: ["cracked-display"],
        notWhen: ["swollen"],
        harm: [{ part: "display", chance: 0.6 }],
      },
    ],
    bond: { length: 436, width: 1.8, thickness: 0.2, softensAt: 66 },
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
    side: "bottom",
    releases: [{ action: "pull", tools: ["eject-pin"], seconds: 4, leaves: "whole" }],
  },
];

const covers: Joint[] = [
  tape(
    "foil-tape",
    ["ground-foil", "top-shield"],
    8,
    behindGlass,
    { length: 8, width: 6, thickness: 0.03 },
    {
      // Low-tack conductive cloth: it can be laid again.
      releases: [{ action: "peel", tools: [], seconds: 8, leaves: "whole" }],
      remake: { lay: 6 },
    },
  ),
  screws("foil-screw", ["ground-foil", "band"], [[67.3, 146.4, 1.4, "ground"]], { length: 1.4 }),
  screws(
    "top-shield-screws",
    ["top-shield", "mid-plate"],
    [
      [47.6, 99.2, 2.4],
      [66.8, 103.4, 1.6],
      [47.6, 121, 1.6],
      [66.8, 124.8, 1.6],
      [50.2, 140.2, 1.6],
      [58.6, 140.4, 2.4],
    ],
    { length: 1.6, harm: [{ part: "main-board", chance: 0.001 }] },
  ),
  letsGo("nfc-contact", "spring-contact", ["nfc-antenna", "main-board"], { count: 2 }),
  tape("nfc-tape", ["nfc-antenna", "top-shield"], 10, behindGlass, { length: 90, width: 3, thickness: 0.03 }),
  screws(
    "cell-bracket-screws",
    ["cell-bracket", "main-board"],
    [
      [48.2, 95.4],
      [57.8, 95.4],
    ],
    {
      length: 1.2,
      torque: 2.6,
      torqueIs: "back-off",
    },
  ),
  screws(
    "lower-cover-screws",
    ["lower-cover", "mid-plate"],
    [
      [32.2, 22.2, 1.8],
      [49.4, 10.6, 1.8],
      [51.2, 22.6, 3.2],
      [67, 10.4, 1.8],
      [51.2, 10.6, 3.2],
    ],
    { length: 1.8 },
  ),
  letsGo("cover-contact", "spring-contact", ["lower-cover", "band"], { count: 1 }),
];

const battery: Joint[] = [
  plug("cell-plug", ["cell", "main-board"], "board-to-board", 12, [["cell-bracket"]], { power: true }),
  {
    id: "cell-tabs-joint",
    kind: "adhesive",
    holds: ["cell", "mid-plate"],
    count: 3,
    reach: [["coil", "graphite"]],
    side: "back",
    releases: [
      {
        action: "pull",
        tools: ["tweezers-plastic"],
        seconds: 135,
        leaves: "spent",
        clean: true,
        notWhen: ["swollen"],
        harm: [{ part: "cell", chance: 0.01 }],
        fails: { chance: 0.2, then: 2, seconds: 90 },
      },
      {
        action: "pull",
        tools: ["tab-winder"],
        seconds: 96,
        leaves: "spent",
        clean: true,
        notWhen: ["swollen"],
        harm: [{ part: "cell", chance: 0.01 }],
        fails: { chance: 0.08, then: 2, seconds: 60 },
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
        harm: [{ part: "mid-plate", chance: 0.05 }],
      },
    ],
    bond: { length: 84, width: 9, thickness: 0.15 },
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
  tape("graphite-tape", ["graphite", "cell"], 16, [["coil"]], { length: 60, width: 60, thickness: 0.01 }),
  plug("coil-plug", ["coil", "main-board"], "board-to-board", 8, underShield),
  tape("coil-tape", ["coil", "graphite"], 28, behindGlass, { length: 46, width: 12, thickness: 0.01 }),
];

const boardLevel: Joint[] = [
  plug("display-plug", ["display", "main-board"], "board-to-board", 40, underShield),
  plug("touch-plug", ["display", "main-board"], "board-to-board", 24, underShield),
  plug("main-flex-upper", ["main-flex", "main-board"], "board-to-board", 60, underShield),
  plug("main-flex-lower", ["main-flex", "port-board"], "board-to-board", 60, underCover),
  tape("main-flex-tape", ["main-flex", "graphite"], 9, behindGlass, { length: 62, width: 3, thickness: 0.03 }),
  plug("front-camera-plug", ["front-camera", "main-board"], "board-to-board", 30, underShield),
  plug("main-camera-plug", ["main-camera", "main-board"], "board-to-board", 40, underShield),
  plug("wide-camera-plug", ["wide-camera", "main-board"], "board-to-board", 34, underShield),
  plug("flash-plug", ["flash", "main-board"], "zif", 10, underShield),
  plug("range-plug", ["range-finder", "main-board"], "zif", 8, underShield),
  plug("key-plug", ["key-flex", "main-board"], "zif", 8, underShield),
  plug("light-plug", ["light-sensor", "main-board"], "zif", 6, underShield),
  plug("mic-plug", ["upper-mic", "main-board"], "zif", 4, underShield),
  plug("coax-long-upper", ["coax-long", "main-board"], "coaxial", 1, underShield),
  plug("coax-long-lower", ["coax-long", "port-board"], "coaxial", 1, underCover),
  clip("coax-channel", ["coax-long", "band"], 4, behindGlass),
  plug("coax-short-board", ["coax-short", "main-board"], "coaxial", 1, underShield),
  plug("coax-short-corner", ["coax-short", "corner-antenna"], "coaxial", 1, [["ground-foil"]]),
  plug("upper-antenna-lead", ["upper-antenna", "main-board"], "coaxial", 1, underShield),
  screws(
    "board-screws",
    ["main-board", "mid-plate"],
    [
      [60.9, 96.2, 2.6],
      [66.6, 97, 2.6],
      [54.8, 107.6, 2.2, "ground"],
      [48, 141, 2.6],
    ],
    { length: 2.6, reach: [["top-shield", "cell-bracket"]] },
  ),
  screws("board-standoff", ["main-board", "band"], [[67, 141, 3.4, "locked"]], {
    tool: "standoff",
    drive: "forked 1.5, stand-off",
    thread: "M1.4x0.3",
    length: 3.4,
    head: 2.4,
    hard: true,
    reach: underShield,
    torque: 5.2,
    torqueIs: "back-off",
  }),
  letsGo("board-gel", "adhesive", ["board-shield", "vapour-chamber"], {
    bond: { length: 30, width: 17, thickness: 0.05 },
    remake: { uses: [{ consumable: "gel", amount: { value: 0.2, unit: "g" } }], clean: 25, lay: 15 },
  }),
  {
    id: "radio-solder",
    kind: "solder",
    holds: ["rf-board", "main-board"],
    count: 1,
    reach: [["board-graphite"]],
    side: "back",
    releases: [
      {
        action: "desolder",
        tools: ["hot-air", "tweezers"],
        seconds: 260,
        leaves: "spent",
        clean: true,
        hazard: ["burn", "fume"],
        harm: [
          { part: "rf-board", chance: 0.12 },
          { part: "main-board", chance: 0.08 },
        ],
      },
    ],
    remake: { uses: [{ consumable: "solder", amount: { value: 0.3, unit: "g" } }], clean: 180, lay: 240 },
  },
  clip("shield-snaps", ["board-shield", "main-board"], 6, [["main-board"]], {
    releases: [
      { action: "pry", tools: ["spudger"], leaves: "whole" },
      { action: "pry", tools: ["tweezers"], leaves: "whole" },
    ],
    side: "front",
  }),
  tape("film-tape", ["board-graphite", "main-board"], 10, underShield, { length: 28, width: 17, thickness: 0.01 }),
  {
    id: "chamber-bond",
    kind: "adhesive",
    holds: ["vapour-chamber", "mid-plate"],
    reach: [["main-board"]],
    side: "back",
    releases: [
      {
        action: "slice",
        tools: ["card"],
        seconds: 55,
        leaves: "spent",
        solvent: true,
        clean: true,
        hazard: ["fume"],
        harm: [{ part: "vapour-chamber", chance: 0.15 }],
      },
      {
        action: "pry",
        tools: ["spudger"],
        seconds: 40,
        leaves: "spent",
        heat: { zone: "chamber", bond: 65, by: "warm-bag", seconds: 80, soft: 60 },
        clean: true,
        harm: [{ part: "vapour-chamber", chance: 0.08 }],
      },
    ],
    bond: { length: 44, width: 18, thickness: 0.01, softensAt: 60 },
    remake: { uses: [{ consumable: "tape-strip", amount: pieces(3) }], clean: 50, lay: 30, press: 10, cure: 300 },
  },
];

const upperEdge: Joint[] = [
  screws(
    "cradle-screws",
    ["rear-cradle", "mid-plate"],
    [
      [7.4, 118.6, 2],
      [40.6, 118.6, 2],
      [24, 139.8, 3],
    ],
    {
      length: 2,
      thread: "M1.4x0.3",
    },
  ),
  clip("main-camera-snap", ["main-camera", "rear-cradle"], 2, behindGlass),
  clip("wide-camera-snap", ["wide-camera", "rear-cradle"], 2, behindGlass),
  tape("flash-tape", ["flash", "rear-cradle"], 10, behindGlass, { length: 6, width: 3, thickness: 0.1 }),
  screws("range-screw", ["range-finder", "rear-cradle"], [[24, 122.4, 1.2]], { length: 1.2 }),
  screws(
    "upper-antenna-screws",
    ["upper-antenna", "band"],
    [
      [6, 145.6],
      [26, 146.8],
      [57, 145.6],
    ],
    {
      length: 2.8,
      torque: 3.1,
      torqueIs: "back-off",
    },
  ),
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
        {
          action: "pry",
          tools: ["pick"],
          seconds: 12,
          leaves: "spent",
          harm: [{ part: "front-camera", chance: 0.02 }],
        },
      ],
    },
  ),
  tape("light-tape", ["light-sensor", "band"], 8, [["upper-antenna"]], { length: 4, width: 2, thickness: 0.05 }),
  tape("mic-tape", ["upper-mic", "band"], 8, [["upper-antenna"]], { length: 4, width: 4, thickness: 0.05 }),
  screws(
    "earpiece-screws",
    ["earpiece", "band"],
    [
      [43.2, 147.2],
      [56.8, 147.2],
    ],
    {
      length: 1.8,
      reach: [["upper-antenna"], ["display"]],
      more: { side: undefined },
    },
  ),
  letsGo("earpiece-contact", "spring-contact", ["earpiece", "main-board"], { count: 2 }),
  {
    id: "earpiece-foam",
    kind: "seal",
    holds: ["earpiece-seal", "earpiece"],
    reach: [["earpiece"]],
    releases: [{ action: "peel", tools: ["tweezers-plastic"], seconds: 8, leaves: "spent" }],
    remake: { uses: [{ consumable: "foam-seal", amount: pieces(1) }], clean: 5, lay: 8 },
  },
  screws("corner-screw", ["corner-antenna", "band"], [[61, 147, 2.2]], { length: 2.2, reach: [["ground-foil"]] }),
];

const keys: Joint[] = [
  screws(
    "key-wedge-screws",
    ["key-bracket", "band"],
    [
      [68.5, 101.4],
      [68.5, 124.6],
    ],
    {
      length: 1.6,
      hard: true,
      harm: [{ part: "key-flex", chance: 0.01 }],
    },
  ),
  clip("key-hooks", ["key-flex", "band"], 3, [["key-bracket", "main-board"]], { basis: "stated" }),
  clip("power-cap-hook", ["power-cap", "band"], 1, [["key-flex"]]),
  clip("volume-cap-hook", ["volume-cap", "band"], 2, [["key-flex"]]),
];

const lowerEdge: Joint[] = [
  screws(
    "speaker-screws",
    ["loudspeaker", "band"],
    [
      [5.4, 22, 2.4],
      [28.4, 22.2, 2.4],
      [5.4, 5.6, 2.4],
      [28.2, 12.4, 3.6, "hidden"],
    ],
    { length: 2.4, reach: [["back-glass", "lower-cover"]], more: { basis: "inferred" } },
  ),
  letsGo("speaker-contact", "spring-contact", ["loudspeaker", "port-board"], { count: 2 }),
  letsGo("antenna-contact", "spring-contact", ["lower-antenna", "port-board"], { count: 3 }),
  letsGo("speaker-foam", "seal", ["loudspeaker", "band"], {
    remake: { uses: [{ consumable: "foam-seal", amount: pieces(1) }], clean: 5, lay: 10 },
  }),
  tape("lower-antenna-tape", ["lower-antenna", "loudspeaker"], 10, behindGlass, {
    length: 23,
    width: 5,
    thickness: 0.03,
  }),
  screws(
    "port-board-screws",
    ["port-board", "mid-plate"],
    [
      [32.4, 10.6],
      [46.4, 5.2],
    ],
    {
      length: 1.8,
      reach: underCover,
    },
  ),
  plug("port-plug", ["charge-port", "port-board"], "zif", 24, underCover),
  screws(
    "port-screws",
    ["charge-port", "band"],
    [
      [32.2, 7.8],
      [40.2, 7.8],
    ],
    {
      length: 2.2,
      reach: [["port-board"], ["loudspeaker", "lower-cover"]],
    },
  ),
  {
    id: "port-seal-joint",
    kind: "seal",
    holds: ["port-seal", "charge-port"],
    reach: [["charge-port"]],
    releases: [{ action: "peel", tools: ["tweezers-plastic"], seconds: 12, leaves: "spent" }],
    remake: { uses: [{ consumable: "foam-seal", amount: pieces(1) }], clean: 5, lay: 12 },
  },
  screws(
    "motor-screws",
    ["motor", "band"],
    [
      [53.2, 18.6],
      [66.8, 22.4],
    ],
    {
      length: 1.4,
      reach: underCover,
      more: { basis: "tried" },
    },
  ),
  letsGo("motor-contact", "spring-contact", ["motor", "port-board"], { count: 2 }),
  {
    id: "motor-pad",
    kind: "tape",
    holds: ["motor", "mid-plate"],
    reach: [["lower-cover", "port-board"]],
    basis: "sibling",
    side: "back",
    releases: [
      { action: "pry", tools: ["spudger"], seconds: 18, leaves: "spent" },
      { action: "pry", tools: ["pick"], seconds: 20, leaves: "spent" },
    ],
    bond: { length: 14, width: 4, thickness: 0.1 },
    remake: { uses: [{ consumable: "tape-strip", amount: pieces(1) }], clean: 10, lay: 10, press: 5 },
  },
  screws(
    "sim-reader-screws",
    ["sim-reader", "mid-plate"],
    [
      [53, 4.6],
      [66, 15.6],
    ],
    {
      length: 1.2,
      reach: underCover,
    },
  ),
  plug("sim-plug", ["sim-reader", "port-board"], "zif", 10, underCover),
];

const inside: Joint[] = [
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
        harm: [
          { part: "display", chance: 0.08 },
          { part: "finger-reader", chance: 0.1 },
        ],
      },
    ],
    bond: { length: 10, width: 8, thickness: 0.03, softensAt: 58 },
    remake: { uses: [{ consumable: "tape-strip", amount: pieces(1) }], clean: 20, lay: 30, press: 5 },
  },
  screws(
    "mid-plate-screws",
    ["mid-plate", "band"],
    [
      [5, 12],
      [5, 50],
      [5, 86],
      [5, 114.8],
      [16, 147.6],
      [49, 147.6],
      [67.6, 95],
      [67.6, 60],
      [67.6, 28],
      [50, 5],
    ],
    {
      length: 1.4,
      tool: "t3",
      drive: "hexalobular T3",
      thread: "M1.4x0.3",
      reach: [["cell", "main-board", "port-board", "loudspeaker", "rear-cradle", "upper-antenna"]],
      torque: 4.2,
      torqueIs: "back-off",
    },
  ),
];

const clean = (joint: Joint): Joint => JSON.parse(JSON.stringify(joint)) as Joint;

export const joints: Joint[] = [
  ...openings,
  ...covers,
  ...battery,
  ...boardLevel,
  ...upperEdge,
  ...keys,
  ...lowerEdge,
  ...inside,
].map(clean);
