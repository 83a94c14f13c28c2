/** Halverim 11, the slate tablet: the whole record. */
import type { Described, TeardownRecord } from "../../../src/core/record/schema.ts";
import { eur } from "../bench.ts";
import { consumables, INSTRUMENTS, tools } from "../kit.ts";
import { joints } from "./joints.ts";
import { firstLook } from "./look.ts";
import { parts } from "./parts.ts";

export const look = firstLook();

type Step = Described["parts"][number]["steps"][number];
const step = (does: string, operations: string[], used: string[] = []): Step => ({ does, operations, tools: used });
const openDisplay: Step[] = [
  step(
    "Warm the display and separate it along the rim; warm it again when it drags.",
    ["heat front", "release display-rim"],
    ["plate", "suction", "pick"],
  ),
  step("Fold the display out on its cables.", ["shift display"]),
];
const isolate: Step[] = [
  step("Remove the battery bracket.", ["release cell-bracket-screws", "lift cell-bracket"], ["ph000"]),
  step("Unplug the battery.", ["release cell-plug"], ["spudger"]),
];
const displayOff: Step[] = [
  step("Remove the display plug bracket.", ["release display-bracket-screws", "lift display-bracket"], ["ph000"]),
  step(
    "Unplug the display and take it off.",
    ["release display-plug", "release touch-plug", "lift display"],
    ["spudger"],
  ),
];
const openBoard: Step[] = [
  step("Remove the board cover.", ["release top-shield-screws", "lift top-shield"], ["ph000"]),
];
const speaker = (where: string, wired: boolean): Described["parts"][number] => ({
  part: `speaker-${where}`,
  steps: [
    ...openDisplay,
    ...isolate,
    ...(wired ? [...openBoard, step("Unplug the speaker.", [`release speaker-${where}-plug`], ["spudger"])] : []),
    step("Remove the speaker.", [`release speaker-${where}-screws`, `lift speaker-${where}`], ["ph000"]),
  ],
});

/** Free for everybody; leaves out the cleaning of the rims and the pairing. */
const described: Described[] = [
  {
    id: "maker-c",
    by: "Pellworrow service notes",
    edition: "C, 2026-05",
    parts: [
      { part: "display", steps: [...openDisplay, ...isolate, ...displayOff] },
      {
        part: "cell",
        steps: [
          ...openDisplay,
          ...isolate,
          step(
            "Unplug the port flex below and fold it aside.",
            ["release port-flex-lower", "release port-flex-tape", "shift port-flex"],
            ["spudger"],
          ),
          step("Peel off the graphite sheet.", ["release graphite-tape", "lift graphite"]),
          step(
            "Apply 12 V to the tabs for a minute and lift the battery out.",
            ["release cell-bond", "lift cell"],
            ["debond-leads"],
          ),
        ],
      },
      {
        part: "rear-camera",
        steps: [
          ...openDisplay,
          ...isolate,
          ...openBoard,
          step("Remove the camera bracket.", ["release camera-bracket-screws", "lift camera-bracket"], ["ph000"]),
          step(
            "Unplug the rear camera and lift it out.",
            ["release rear-camera-plug", "lift rear-camera"],
            ["spudger"],
          ),
        ],
      },
      {
        part: "front-camera",
        steps: [
          ...openDisplay,
          ...isolate,
          ...openBoard,
          step(
            "Unplug the front camera and its sensor.",
            ["release front-camera-plug", "release light-plug"],
            ["spudger"],
          ),
          step("Remove the front camera.", ["release front-camera-screws", "lift front-camera"], ["ph000"]),
        ],
      },
      {
        part: "charge-port",
        steps: [
          ...openDisplay,
          ...isolate,
          step(
            "Unplug the flex and the keyboard contacts.",
            ["release port-flex-lower", "release contact-plug"],
            ["spudger"],
          ),
          step("Remove the charging port.", ["release port-screws", "lift charge-port"], ["ph000"]),
        ],
      },
      {
        part: "main-mic",
        steps: [
          ...openDisplay,
          ...isolate,
          ...openBoard,
          step(
            "Unplug and peel off the main microphone.",
            ["release main-mic-plug", "release main-mic-tape", "lift main-mic"],
            ["spudger"],
          ),
        ],
      },
      {
        part: "power-button",
        steps: [
          ...openDisplay,
          ...isolate,
          ...openBoard,
          step(
            "Unplug and peel off the main microphone, unplug the button.",
            ["release main-mic-plug", "release main-mic-tape", "lift main-mic", "release power-plug"],
            ["spudger"],
          ),
          step("Remove the power button.", ["release power-screw", "lift power-button"], ["ph000"]),
        ],
      },
      {
        part: "volume-button",
        steps: [
          ...openDisplay,
          ...isolate,
          ...openBoard,
          step(
            "Remove the right antenna.",
            ["release coax-right-antenna", "release wifi-right-screw", "lift wifi-right"],
            ["spudger", "ph000"],
          ),
          step("Unplug the buttons.", ["release volume-plug"], ["spudger"]),
          step("Remove the volume buttons.", ["release volume-screws", "lift volume-button"], ["ph000"]),
        ],
      },
      speaker("upper-left", true),
      speaker("upper-right", true),
      speaker("lower-left", false),
      speaker("lower-right", false),
      {
        part: "back-plate",
        steps: [
          ...openDisplay,
          ...isolate,
          ...displayOff,
          ...openBoard,
          step(
            "Open every plug on the main board and on the port flex.",
            [
              "release port-flex-upper",
              "release port-flex-lower",
              "release port-flex-tape",
              "lift port-flex",
              "release rear-camera-plug",
              "release front-camera-plug",
              "release speaker-upper-left-plug",
              "release speaker-upper-right-plug",
              "release main-mic-plug",
              "release second-mic-plug",
              "release power-plug",
              "release volume-plug",
              "release coax-left-board",
              "release coax-right-board",
              "release pen-plug",
              "release hall-plug",
            ],
            ["spudger"],
          ),
          step(
            "Remove the battery.",
            ["release graphite-tape", "lift graphite", "release cell-bond", "lift cell"],
            ["debond-leads"],
          ),
          step("Remove the main board.", ["release board-screws", "lift main-board"], ["ph000"]),
          step(
            "Remove the camera and the pen charging coil.",
            [
              "release camera-bracket-screws",
              "lift camera-bracket",
              "lift rear-camera",
              "release pen-tape",
              "lift pen-coil",
            ],
            ["ph000"],
          ),
          step(
            "Remove the speakers and the keyboard contacts.",
            [
              "release speaker-upper-left-screws",
              "release speaker-upper-right-screws",
              "release speaker-lower-left-screws",
              "release speaker-lower-right-screws",
              "lift speaker-upper-left",
              "lift speaker-upper-right",
              "lift speaker-lower-left",
              "lift speaker-lower-right",
              "release contact-screws",
            ],
            ["ph000"],
          ),
          step(
            "Take out the nine screws and separate the back plate along its rim.",
            ["release plate-screws", "heat back", "release plate-bond", "lift back-plate"],
            ["t5", "plate", "card"],
          ),
        ],
      },
    ],
  },
];

export const halverim11: TeardownRecord = {
  format: "unseam/1",
  id: "2c7be90d-13f4-4d6a-8b52-90aa41c61111",
  device: {
    name: "Halverim 11",
    maker: "Pellworrow",
    model: "PW-H11",
    kind: "slate-tablet",
    foldable: false,
    released: "2026-05-08",
    price: eur("579.00"),
    cell: { capacity: { value: 8900, unit: "mAh" }, voltage: { value: 3.86, unit: "V" } },
    stackups: [
      {
        name: "over the cell",
        place: [89, 120],
        gaps: [
          { name: "debondable tape", value: 0.1, tolerance: 0.02 },
          { name: "cell to graphite", value: 0.02, tolerance: 0.02 },
          { name: "air behind the display", value: 0.42, tolerance: 0.1 },
        ],
      },
      {
        name: "left rim",
        place: [2, 120],
        gaps: [
          { name: "back plate bond", value: 0.15, tolerance: 0.03 },
          { name: "display rim bond", value: 0.2, tolerance: 0.03 },
        ],
      },
    ],
  },
  unit: {
    market: "EU",
    storage: "128 GB",
    colour: "plain aluminium",
    build: "H11.26.0430",
    seal: "unbroken",
    serialTail: "P04D",
    condition: "new",
  },
  sessions: [
    {
      id: "s1",
      started: "2026-06-02T09:30:00Z",
      by: "bench 3",
      kind: "first-look",
      room: { value: 23, unit: "degC" },
      charge: 27,
      signedOut: true,
    },
  ],
  parts,
  joints,
  tools: tools(
    "ph000",
    "t5",
    "spudger",
    "pick",
    "tweezers-plastic",
    "card",
    "suction",
    "plate",
    "warm-bag",
    "debond-leads",
  ),
  consumables: consumables({
    "tape-strip": "",
    "rim-back": "PWH-0202",
    "rim-front": "PWH-0302",
    "lens-ring": "PWH-0206",
    "debond-tape": "PWH-0502",
    "foam-seal": "",
    wipes: "",
  }),
  instruments: INSTRUMENTS.filter(({ id }) =>
    ["scale", "bench-scale", "caliper", "long-caliper", "micrometer", "meter-volts", "thermocouple", "supply"].includes(
      id,
    ),
  ),
  log: look.log,
  readings: look.readings,
  claims: look.claims,
  media: [
    { id: "photo-1", session: "s1", kind: "photo", file: "media/halverim-11-plate.svg" },
    { id: "photo-2", session: "s1", kind: "photo", file: "media/halverim-11-open.svg" },
    { id: "photo-3", session: "s1", kind: "photo", file: "media/halverim-11-debond.svg" },
  ],
  checks: (
    [
      ["touch", "display"],
      ["pen", "display"],
      ["front picture", "front-camera"],
      ["rear picture", "rear-camera"],
      ["wired charging", "charge-port"],
      ["main microphone", "main-mic"],
      ["power key", "power-button"],
      ["volume keys", "volume-button"],
      ["sound, upper left", "speaker-upper-left"],
      ["sound, lower right", "speaker-lower-right"],
    ] as const
  ).map(([what, part], index) => ({
    id: `before-${index + 1}`,
    session: "s1",
    at: -240 + 12 * index,
    what,
    when: "before" as const,
    result: "works" as const,
    parts: [part],
  })),
  described,
  market: {
    securityUpdatesUntil: "2033-05-31",
    updateYears: 7,
    repairInformation: "free-for-all",
    battery: { after500: 86, after1000: 80 },
  },
  zones: [
    {
      id: "front",
      lines: [
        { name: "rim", at: [2, 120] },
        { name: "cell", at: [89, 120] },
      ],
      programme: [
        { seconds: 120, hot: { temperature: 85, h: 300 }, cool: { temperature: 23, h: 8 } },
        { seconds: 180, hot: { temperature: 23, h: 10 }, cool: { temperature: 23, h: 8 } },
      ],
      watch: [
        { name: "rim bond, inner face", layer: "display-rim", face: "far", soft: 65 },
        { name: "cell face", layer: "cell", face: "near", plan: 55, stop: 60, counted: { above: 45, seconds: 900 } },
      ],
    },
  ],
};
