/** Halverim 11: what holds, how it is undone, and how it is made again. */
import type { Joint, Release } from "../../../src/core/record/schema.ts";
import { clip, letsGo, pieces, plug, screws, tape } from "../bench.ts";

const underDisplay = [["display"]];
const underShield = [["display", "top-shield"]];
const front = { side: "front" as const };
const m14 = { thread: "M1.4x0.3", ...front, reach: underDisplay };

const frontHeat: NonNullable<Release["heat"]> = {
  zone: "front",
  bond: 65,
  plate: 85,
  by: "plate",
  down: "front",
  seconds: 120,
  soft: 180,
  passes: true,
};

const shell: Joint[] = [
  {
    id: "display-rim",
    kind: "adhesive",
    holds: ["display", "frame"],
    ...front,
    releases: [
      {
        action: "slice",
        tools: ["suction", "pick"],
        seconds: 480,
        leaves: "spent",
        heat: frontHeat,
        clean: true,
        hazard: ["burn", "shard"],
        notWhen: ["swollen", "cracked-display"],
        harm: [
          { part: "display", chance: 0.04 },
          { part: "volume-button", chance: 0.003 },
        ],
      },
      {
        action: "pry",
        tools: ["pick", "tweezers-plastic"],
        seconds: 420,
        leaves: "spent",
        heat: frontHeat,
        clean: true,
        hazard: ["burn", "shard"],
        onlyWhen: ["cracked-display"],
        notWhen: ["swollen"],
        harm: [{ part: "display", chance: 0.7 }],
      },
    ],
    bond: { length: 836, width: 2.4, thickness: 0.2, softensAt: 60 },
    remake: {
      uses: [
        { consumable: "rim-front", amount: pieces(1) },
        { consumable: "wipes", amount: pieces(6) },
      ],
      clean: 540,
      lay: 300,
      press: 30,
      cure: 1800,
    },
  },
  {
    id: "plate-bond",
    kind: "adhesive",
    holds: ["back-plate", "frame"],
    side: "back",
    reach: [["cell", "main-board"]],
    releases: [
      {
        action: "slice",
        tools: ["card"],
        seconds: 160,
        leaves: "spent",
        heat: { zone: "back", bond: 65, plate: 80, by: "plate", down: "back", seconds: 150, soft: 200 },
        clean: true,
        hazard: ["burn"],
        harm: [{ part: "back-plate", chance: 0.05 }],
      },
    ],
    bond: { length: 832, width: 3, thickness: 0.15, softensAt: 60 },
    remake: { uses: [{ consumable: "rim-back", amount: pieces(1) }], clean: 480, lay: 240, press: 30, cure: 1800 },
  },
  screws(
    "plate-screws",
    ["back-plate", "frame"],
    [
      [6, 40],
      [6, 125],
      [6, 168],
      [60, 242],
      [110, 242],
      [172.4, 86],
      [172.4, 137],
      [120, 6],
      [40, 6],
    ],
    {
      tool: "t5",
      drive: "hexalobular T5",
      thread: "M1.6x0.35",
      length: 2.2,
      head: 2.8,
      ...front,
      reach: [["cell", "main-board"]],
    },
  ),
  {
    id: "window-bond",
    kind: "adhesive",
    holds: ["rear-window", "back-plate"],
    side: "back",
    releases: [
      {
        action: "pry",
        tools: ["spudger"],
        seconds: 25,
        leaves: "spent",
        heat: { zone: "lens", bond: 65, by: "warm-bag", seconds: 75, soft: 40 },
        clean: true,
        harm: [{ part: "rear-window", chance: 0.15 }],
      },
    ],
    bond: { length: 38, width: 1.2, thickness: 0.1, softensAt: 60 },
    remake: { uses: [{ consumable: "lens-ring", amount: pieces(1) }], clean: 40, lay: 15, press: 10, cure: 600 },
  },
  plug("drive-plug", ["display-board", "display"], "zif", 50, underDisplay),
  {
    id: "drive-tape",
    kind: "tape",
    holds: ["display-board", "display"],
    reach: underDisplay,
    side: "back",
    releases: [
      {
        action: "peel",
        tools: ["tweezers-plastic"],
        seconds: 30,
        leaves: "spent",
        harm: [{ part: "display", chance: 0.2 }],
      },
    ],
    bond: { length: 58, width: 12, thickness: 0.05 },
    remake: { uses: [{ consumable: "tape-strip", amount: pieces(2) }], clean: 10, lay: 15 },
  },
];

const middle: Joint[] = [
  screws(
    "display-bracket-screws",
    ["display-bracket", "main-board"],
    [
      [71.4, 215.6],
      [102.6, 215.6],
    ],
    {
      length: 1.6,
      ...front,
      reach: underDisplay,
    },
  ),
  plug("display-plug", ["display", "main-board"], "board-to-board", 50, [["display-bracket"]], front),
  plug("touch-plug", ["display", "main-board"], "board-to-board", 30, [["display-bracket"]], front),
  screws(
    "cell-bracket-screws",
    ["cell-bracket", "main-board"],
    [
      [127.6, 199.6],
      [140.4, 199.6],
    ],
    {
      length: 1.6,
      ...front,
      reach: underDisplay,
    },
  ),
  plug("cell-plug", ["cell", "main-board"], "board-to-board", 16, [["cell-bracket"]], { ...front, power: true }),
  tape("graphite-tape", ["graphite", "cell"], 20, underDisplay, { length: 110, width: 20, thickness: 0.02 }, front),
  {
    id: "cell-bond",
    kind: "debondable-adhesive",
    holds: ["cell", "back-plate"],
    count: 1,
    reach: [["graphite", "port-flex"]],
    ...front,
    releases: [
      {
        action: "debond",
        tools: ["debond-leads"],
        seconds: 75,
        leaves: "spent",
        clean: true,
        hazard: ["fume"],
        notWhen: ["swollen", "wet"],
        fails: { chance: 0.06, then: 1, seconds: 40 },
      },
      {
        action: "slice",
        tools: ["card"],
        seconds: 480,
        leaves: "spent",
        solvent: true,
        clean: true,
        hazard: ["puncture", "fume"],
        notWhen: ["swollen"],
        destroys: ["cell"],
        harm: [{ part: "back-plate", chance: 0.03 }],
      },
    ],
    bond: { length: 120, width: 60, thickness: 0.1 },
    remake: { uses: [{ consumable: "debond-tape", amount: pieces(2) }], clean: 120, lay: 60, press: 20, cure: 300 },
  },
  screws(
    "top-shield-screws",
    ["top-shield", "back-plate"],
    [
      [23.4, 195.4],
      [72, 195.4],
      [122.6, 195.4],
      [23.4, 209.6],
      [72, 209.8, 3.4],
      [122.6, 209.6],
    ],
    { length: 2.6, ...m14 },
  ),
  screws(
    "board-screws",
    ["main-board", "back-plate"],
    [
      [21.6, 193.6],
      [66.5, 201.4, 2.4, "ground"],
      [144.4, 193.6],
      [21.6, 220.4],
      [122.4, 220.4],
    ],
    { length: 2.8, ...front, reach: [["top-shield", "cell-bracket", "display-bracket"]] },
  ),
  clip("shield-snaps", ["board-shield", "main-board"], 10, underShield, front),
  tape(
    "film-tape",
    ["board-graphite", "board-shield"],
    10,
    underShield,
    { length: 90, width: 12, thickness: 0.02 },
    front,
  ),
  plug("port-flex-upper", ["port-flex", "main-board"], "board-to-board", 50, underDisplay, front),
  plug("port-flex-lower", ["port-flex", "charge-port"], "board-to-board", 50, underDisplay, front),
  tape("port-flex-tape", ["port-flex", "frame"], 12, underDisplay, { length: 140, width: 4, thickness: 0.03 }, front),
];

const cameras: Joint[] = [
  screws(
    "camera-bracket-screws",
    ["camera-bracket", "back-plate"],
    [
      [8, 224.6],
      [23, 235.6],
    ],
    { length: 2.2, ...m14 },
  ),
  plug("rear-camera-plug", ["rear-camera", "main-board"], "board-to-board", 30, underShield, front),
  letsGo("rear-camera-seat", "press-fit", ["rear-camera", "back-plate"]),
  plug("front-camera-plug", ["front-camera", "main-board"], "board-to-board", 24, underShield, front),
  screws(
    "front-camera-screws",
    ["front-camera", "frame"],
    [
      [168, 119],
      [168, 126],
    ],
    { length: 1.6, ...front, reach: underDisplay },
  ),
  plug("light-plug", ["light-sensor", "front-camera"], "zif", 6, underDisplay, front),
  tape("light-tape", ["light-sensor", "frame"], 8, underDisplay, { length: 4, width: 4, thickness: 0.05 }, front),
];

const speakers: Joint[] = (
  [
    ["upper-left", 4.6, 150],
    ["upper-right", 149, 196],
    ["lower-left", 4.6, 6],
    ["lower-right", 149.6, 45],
  ] as const
).flatMap(([where, x, y]) => [
  screws(
    `speaker-${where}-screws`,
    [`speaker-${where}`, "back-plate"],
    [
      [x + 2, y + 2],
      [x + 18, y + 2],
      [x + 10, y + 38, where.startsWith("lower") ? 3.2 : 2.4],
    ],
    { length: 2.4, ...front, reach: underDisplay },
  ),
  ...(where.startsWith("upper")
    ? [plug(`speaker-${where}-plug`, [`speaker-${where}`, "main-board"], "wire", 2, underShield, front)]
    : [letsGo(`speaker-${where}-contact`, "spring-contact", [`speaker-${where}`, "port-flex"], { count: 2 })]),
  letsGo(`speaker-${where}-foam`, "seal", [`speaker-${where}`, "frame"], {
    remake: { uses: [{ consumable: "foam-seal", amount: pieces(1) }], clean: 5, lay: 10 },
  }),
]);

const edges: Joint[] = [
  screws(
    "port-screws",
    ["charge-port", "frame"],
    [
      [81, 18],
      [97, 18],
    ],
    { length: 2.6, ...m14 },
  ),
  plug("contact-plug", ["contact-strip", "charge-port"], "zif", 8, underDisplay, front),
  screws(
    "contact-screws",
    ["contact-strip", "back-plate"],
    [
      [61.6, 26],
      [116.4, 26],
    ],
    {
      length: 1.4,
      ...front,
      reach: [["charge-port"], ["port-flex"]],
    },
  ),
  plug("main-mic-plug", ["main-mic", "main-board"], "zif", 4, underShield, front),
  tape("main-mic-tape", ["main-mic", "frame"], 10, underDisplay, { length: 7, width: 6, thickness: 0.1 }, front),
  plug("second-mic-plug", ["second-mic", "main-board"], "zif", 4, underShield, front),
  tape("second-mic-tape", ["second-mic", "frame"], 10, underDisplay, { length: 7, width: 5, thickness: 0.1 }, front),
  plug("power-plug", ["power-button", "main-board"], "zif", 4, underShield, front),
  screws("power-screw", ["power-button", "frame"], [[150, 241]], {
    length: 1.6,
    hard: true,
    ...front,
    reach: [["display", "main-mic"]],
  }),
  plug("volume-plug", ["volume-button", "main-board"], "zif", 4, underShield, front),
  screws(
    "volume-screws",
    ["volume-button", "frame"],
    [
      [171.6, 204],
      [171.6, 232],
    ],
    {
      length: 1.6,
      hard: true,
      ...front,
      reach: [
        ["display", "wifi-right"],
        ["display", "pen-coil"],
      ],
    },
  ),
  clip("power-cap-hook", ["power-cap", "frame"], 2, [["power-button"]], front),
  clip("volume-cap-hook", ["volume-cap", "frame"], 2, [["volume-button"]], front),
  screws("wifi-left-screw", ["wifi-left", "frame"], [[6.8, 221]], { length: 2, ...front, reach: underDisplay }),
  screws("wifi-right-screw", ["wifi-right", "frame"], [[170.4, 241.6]], { length: 2, ...front, reach: underDisplay }),
  plug("coax-left-board", ["coax-left", "main-board"], "coaxial", 1, underShield, front),
  plug("coax-left-antenna", ["coax-left", "wifi-left"], "coaxial", 1, underDisplay, front),
  plug("coax-right-board", ["coax-right", "main-board"], "coaxial", 1, underShield, front),
  plug("coax-right-antenna", ["coax-right", "wifi-right"], "coaxial", 1, underDisplay, front),
  plug("pen-plug", ["pen-coil", "main-board"], "zif", 6, underShield, front),
  tape("pen-tape", ["pen-coil", "frame"], 24, underDisplay, { length: 48, width: 3, thickness: 0.1 }, front),
  letsGo("pen-foam", "tape", ["pen-coil", "back-plate"]),
  tape(
    "magnets-left-tape",
    ["magnets-left", "frame"],
    20,
    underDisplay,
    { length: 44, width: 3, thickness: 0.1 },
    front,
  ),
  tape(
    "magnets-right-tape",
    ["magnets-right", "frame"],
    14,
    underDisplay,
    { length: 25, width: 3, thickness: 0.1 },
    front,
  ),
  plug("hall-plug", ["hall-sensor", "main-board"], "zif", 4, underShield, front),
  tape("hall-tape", ["hall-sensor", "frame"], 8, underDisplay, { length: 5, width: 3, thickness: 0.05 }, front),
];

const clean = (joint: Joint): Joint => JSON.parse(JSON.stringify(joint)) as Joint;

export const joints: Joint[] = [...shell, ...middle, ...cameras, ...speakers, ...edges].map(clean);
