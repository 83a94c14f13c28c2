/** Thrandle 4, the predecessor: the whole record. */
import type { Described, TeardownRecord } from "../../../src/core/record/schema.ts";
import { eur } from "../bench.ts";
import { consumables, INSTRUMENTS, tools } from "../kit.ts";
import { joints } from "./joints.ts";
import { firstLook } from "./look.ts";
import { parts } from "./parts.ts";

export const look = firstLook();

type Step = Described["parts"][number]["steps"][number];
const step = (does: string, operations: string[], used: string[] = []): Step => ({ does, operations, tools: used });
const isolate: Step[] = [
  step("Remove the battery bracket.", ["release cell-bracket-screws", "lift cell-bracket"], ["ph000"]),
  step("Unplug the battery.", ["release cell-plug"], ["spudger"]),
];
const openBack: Step[] = [
  step("Warm the back and separate it along the rim.", ["heat back", "release back-rim"], ["plate", "suction", "pick"]),
  step("Fold the back glass open.", ["shift back-glass"]),
  ...isolate,
  step("Unplug the flash and take the back glass off.", ["release flash-plug", "lift back-glass"], ["spudger"]),
];
const openShield: Step[] = [
  step("Remove the upper shield.", ["release top-shield-screws", "lift top-shield"], ["ph000"]),
];
const openCover: Step[] = [
  step("Remove the lower cover.", ["release lower-cover-screws", "lift lower-cover"], ["ph000"]),
];
const freeAntenna: Step[] = [
  step("Remove the upper antenna carrier.", ["release upper-antenna-screws", "lift upper-antenna"], ["ph000"]),
];
const key = (which: "power" | "volume"): Step[] => [
  ...openBack,
  ...openCover,
  ...openShield,
  step(
    "Unplug the coaxial lead and take it out of its channel.",
    ["release coax-upper", "release coax-lower", "release coax-channel", "lift coax-long"],
    ["spudger"],
  ),
  step("Unplug the key.", [`release ${which}-plug`], ["spudger"]),
  step("Remove the wedge.", ["release key-wedge-screws", "lift key-bracket"], ["ph000"]),
  step("Unhook and remove the key flex.", [`release ${which}-hooks`, `lift ${which}-flex`], ["spudger"]),
];

/** Edition A leaves out the cleaning of the rims and the pairing of display and fingerprint reader. */
const described: Described[] = [
  {
    id: "maker-a",
    by: "Pellworrow service notes",
    edition: "A, 2025-09",
    parts: [
      { part: "back-glass", steps: openBack },
      {
        part: "cell",
        steps: [
          ...openBack,
          ...openShield,
          step(
            "Unplug and remove the charging coil.",
            ["release coil-plug", "release coil-tape", "lift coil"],
            ["spudger"],
          ),
          step(
            "Unplug the main flex at the top and fold it aside.",
            ["release main-flex-upper", "release main-flex-tape", "shift main-flex"],
            ["spudger"],
          ),
          step("Peel off the graphite sheet.", ["release graphite-tape", "lift graphite"]),
          step(
            "Pull both tabs and take the battery out.",
            ["release cell-tabs-joint", "lift cell"],
            ["tweezers-plastic"],
          ),
        ],
      },
      {
        part: "display",
        steps: [
          ...openBack,
          ...openShield,
          step("Unplug the display.", ["release display-plug"], ["spudger"]),
          step(
            "Warm the display and separate it along the rim.",
            ["heat front", "release display-rim"],
            ["plate", "suction", "card"],
          ),
          step("Take the display off.", ["lift display"]),
        ],
      },
      ...(["main-camera", "wide-camera"] as const).map((camera) => ({
        part: camera,
        steps: [
          ...openBack,
          ...openShield,
          step("Remove the camera bracket.", ["release camera-bracket-screws", "lift camera-bracket"], ["ph000"]),
          step("Unplug the camera and lift it out.", [`release ${camera}-plug`, `lift ${camera}`], ["spudger"]),
        ],
      })),
      {
        part: "front-camera",
        steps: [
          ...openBack,
          ...openShield,
          ...freeAntenna,
          step(
            "Unplug and remove the front camera.",
            ["release front-camera-plug", "release front-camera-pad", "lift front-camera"],
            ["spudger"],
          ),
        ],
      },
      {
        part: "earpiece",
        steps: [
          ...openBack,
          ...freeAntenna,
          step("Remove the earpiece.", ["release earpiece-screws", "lift earpiece"], ["ph000"]),
        ],
      },
      {
        part: "loudspeaker",
        steps: [
          ...openBack,
          step("Remove the loudspeaker.", ["release speaker-screws", "lift loudspeaker"], ["ph000"]),
        ],
      },
      {
        part: "port-board",
        steps: [
          ...openBack,
          ...openCover,
          step(
            "Open the plugs on the port board.",
            ["release main-flex-lower", "release coax-lower", "release jack-plug"],
            ["spudger"],
          ),
          step("Remove the port board.", ["release port-board-screws", "lift port-board"], ["ph000"]),
        ],
      },
      {
        part: "main-mic",
        steps: [
          ...openBack,
          ...openCover,
          step("Lever the main microphone off.", ["release mic-bond", "lift main-mic"], ["spudger"]),
        ],
      },
      { part: "power-flex", steps: key("power") },
      { part: "volume-flex", steps: key("volume") },
    ],
  },
];

export const thrandle4: TeardownRecord = {
  format: "unseam/1",
  id: "b1f6d0c4-52a7-4a0e-9c1b-7d3e5f804104",
  device: {
    name: "Thrandle 4",
    maker: "Pellworrow",
    model: "PW-T4",
    kind: "smartphone",
    foldable: false,
    released: "2025-09-12",
    price: eur("699.00"),
    ingress: "IP67",
    cell: { capacity: { value: 3990, unit: "mAh" }, voltage: { value: 3.85, unit: "V" } },
    stackups: [
      {
        name: "over the cell, through the coil",
        place: [53, 68],
        gaps: [
          { name: "glass to coil", value: 0.26, tolerance: 0.06 },
          { name: "coil to graphite", value: 0.01, tolerance: 0.01 },
          { name: "pull tabs", value: 0.15, tolerance: 0.02 },
          { name: "air behind the display", value: 0.3, tolerance: 0.08 },
        ],
      },
      {
        name: "left rim",
        place: [2, 76],
        gaps: [
          { name: "back rim bond", value: 0.2, tolerance: 0.03 },
          { name: "display rim bond", value: 0.2, tolerance: 0.03 },
        ],
      },
    ],
  },
  unit: {
    market: "EU",
    storage: "128 GB",
    colour: "chalk",
    build: "T4.25.0902",
    seal: "unbroken",
    serialTail: "1XM8",
    condition: "used",
  },
  sessions: [
    {
      id: "s1",
      started: "2026-04-14T10:00:00Z",
      by: "bench 1",
      kind: "first-look",
      room: { value: 21, unit: "degC" },
      charge: 28,
      signedOut: true,
    },
  ],
  parts,
  joints,
  tools: tools(
    "ph000",
    "t3",
    "spudger",
    "pick",
    "tweezers-plastic",
    "card",
    "suction",
    "plate",
    "warm-bag",
    "eject-pin",
  ),
  consumables: consumables({
    "tape-strip": "",
    "rim-back": "PW4-0202",
    "rim-front": "PW4-0302",
    "cell-tabs": "PW4-0502",
    "lens-ring": "PW4-0206",
    "foam-seal": "",
    wipes: "",
  }),
  instruments: INSTRUMENTS.filter(({ id }) =>
    ["scale", "caliper", "micrometer", "meter-volts", "thermocouple"].includes(id),
  ),
  log: look.log,
  readings: look.readings,
  claims: look.claims,
  media: [{ id: "photo-1", session: "s1", kind: "photo", file: "media/thrandle-4-open.svg" }],
  checks: [
    { id: "before-1", session: "s1", at: -120, what: "touch", when: "before", result: "works", parts: ["display"] },
    {
      id: "before-2",
      session: "s1",
      at: -110,
      what: "wired charging",
      when: "before",
      result: "works",
      parts: ["port-board"],
    },
    {
      id: "before-3",
      session: "s1",
      at: -100,
      what: "loud sound",
      when: "before",
      result: "works",
      parts: ["loudspeaker"],
    },
    {
      id: "before-4",
      session: "s1",
      at: -90,
      what: "wired sound",
      when: "before",
      result: "fails",
      parts: ["audio-jack"],
    },
  ],
  described,
  market: {
    endOfMarket: "2026-10-31",
    securityUpdatesUntil: "2031-10-31",
    updateYears: 5,
    repairInformation: "fee",
    battery: { after500: 84, after1000: 78, ingress: "IP67" },
  },
  zones: [
    {
      id: "back",
      lines: [
        { name: "rim", at: [2, 76] },
        { name: "cell", at: [53, 68] },
      ],
      programme: [
        { seconds: 150, hot: { temperature: 80, h: 300 }, cool: { temperature: 21, h: 8 } },
        { seconds: 180, hot: { temperature: 21, h: 10 }, cool: { temperature: 21, h: 8 } },
      ],
      watch: [
        { name: "rim bond, inner face", layer: "back-rim", face: "far", soft: 65 },
        { name: "cell face", layer: "cell", face: "near", plan: 55, stop: 60, counted: { above: 45, seconds: 900 } },
      ],
    },
    {
      id: "front",
      lines: [
        { name: "rim", at: [2, 76] },
        { name: "cell", at: [53, 68] },
      ],
      programme: [
        { seconds: 165, hot: { temperature: 80, h: 300 }, cool: { temperature: 21, h: 8 } },
        { seconds: 180, hot: { temperature: 21, h: 10 }, cool: { temperature: 21, h: 8 } },
      ],
      watch: [
        { name: "rim bond, inner face", layer: "display-rim", face: "far", soft: 65 },
        { name: "panel", layer: "display", face: "far", plan: 78, stop: 80 },
        { name: "cell face", layer: "cell", face: "near", plan: 55, stop: 60, counted: { above: 45, seconds: 900 } },
      ],
    },
  ],
};
