/** Thrandle 5, the slim phone: the whole record. */
import type { Check, TeardownRecord } from "../../../src/core/record/schema.ts";
import { eur } from "../bench.ts";
import { consumables, INSTRUMENTS, tools } from "../kit.ts";
import { wayBack } from "../way-back.ts";
import { firstLook } from "./first-look.ts";
import { joints } from "./joints.ts";
import { parts } from "./parts.ts";
import { described } from "./procedure.ts";
import { timedBattery } from "./timed.ts";

export const look = firstLook();
const timed = timedBattery();
const back = wayBack("s2", look.log, joints, 30);
/** The battery is on the line again, and nothing is sealed yet. */
const woken = back.find(({ action }) => action === "wake")!.until!;
const closed = back.at(-1)!.until!;

const FUNCTIONS: readonly [what: string, part: string][] = [
  ["touch", "display"],
  ["picture", "display"],
  ["fingerprint", "finger-reader"],
  ["wireless charging", "coil"],
  ["wired charging", "charge-port"],
  ["wired data", "charge-port"],
  ["main lens", "main-camera"],
  ["wide lens", "wide-camera"],
  ["flash", "flash"],
  ["laser focus", "range-finder"],
  ["front picture", "front-camera"],
  ["face recognition", "front-camera"],
  ["automatic brightness", "light-sensor"],
  ["call sound", "earpiece"],
  ["loud sound", "loudspeaker"],
  ["main microphone", "port-board"],
  ["noise cancelling", "upper-mic"],
  ["power key", "key-flex"],
  ["volume keys", "key-flex"],
  ["vibration", "motor"],
  ["SIM", "sim-reader"],
  ["mobile network", "rf-board"],
  ["near-field payment", "nfc-antenna"],
  ["wireless network", "corner-antenna"],
];

const checks: Check[] = [
  ...FUNCTIONS.map(
    ([what, part], index): Check => ({
      id: `before-${index + 1}`,
      session: "s1",
      at: -300 + 9 * index,
      what,
      when: "before",
      result: what === "laser focus" ? "not-tried" : "works",
      parts: [part],
    }),
  ),
  ...(["touch", "picture", "front picture", "main lens", "loud sound", "main microphone"] as const).map(
    (what, index): Check => ({
      id: `stop-${index + 1}`,
      session: "s2",
      at: Math.round(woken) + 20 + 12 * index,
      what,
      when: "stop",
      result: "works",
      parts: [FUNCTIONS.find(([name]) => name === what)![1]],
    }),
  ),
  ...FUNCTIONS.map(
    ([what, part], index): Check => ({
      id: `after-${index + 1}`,
      session: "s2",
      at: Math.round(closed) + 1200 + 10 * index,
      what,
      when: "after",
      result: what === "laser focus" ? "not-tried" : what === "fingerprint" ? "fails" : "works",
      parts: [part],
    }),
  ),
  {
    id: "after-rim",
    session: "s2",
    at: Math.round(closed) + 1500,
    what: "tight against water",
    when: "after",
    result: "not-tried",
  },
];

export const thrandle5: TeardownRecord = {
  format: "unseam/1",
  id: "6f0d2a4e-8c13-4b57-a1d9-2e9b7c505105",
  device: {
    name: "Thrandle 5",
    maker: "Pellworrow",
    model: "PW-T5",
    kind: "smartphone",
    foldable: false,
    released: "2026-09-18",
    price: eur("749.00"),
    ingress: "IP68",
    cell: { capacity: { value: 2980, unit: "mAh" }, voltage: { value: 3.87, unit: "V" } },
    stackups: [
      {
        name: "over the cell, through the coil",
        place: [49.5, 58],
        gaps: [
          { name: "glass to coil", value: 0.3, tolerance: 0.06 },
          { name: "coil to graphite", value: 0.01, tolerance: 0.01 },
          { name: "pull tabs", value: 0.15, tolerance: 0.02 },
          { name: "air behind the display", value: 0.3, tolerance: 0.08 },
        ],
      },
      {
        name: "left rim",
        place: [2, 76],
        gaps: [
          { name: "back rim bond", value: 0.15, tolerance: 0.03 },
          { name: "display rim bond", value: 0.2, tolerance: 0.03 },
        ],
      },
      {
        name: "through the main board",
        place: [57, 120],
        gaps: [
          { name: "glass to shield", value: 0.05, tolerance: 0.03 },
          { name: "shield to heat film", value: 0.33, tolerance: 0.06 },
          { name: "thermal gel", value: 0.05, tolerance: 0.02 },
          { name: "air behind the display", value: 0.3, tolerance: 0.08 },
        ],
      },
    ],
  },
  sibling: "b1f6d0c4-52a7-4a0e-9c1b-7d3e5f804104",
  unit: {
    market: "EU",
    storage: "256 GB",
    colour: "slate grey",
    build: "T5.26.0911",
    seal: "unbroken",
    serialTail: "7KQ2",
    condition: "new",
  },
  sessions: [
    {
      id: "s1",
      started: "2026-10-06T13:05:00Z",
      by: "bench 2",
      kind: "first-look",
      room: { value: 22.5, unit: "degC" },
      charge: 24,
      signedOut: true,
    },
    { id: "s2", started: "2026-10-06T14:20:00Z", by: "bench 2", kind: "repair", room: { value: 22.5, unit: "degC" } },
    {
      id: "s3",
      started: "2026-10-07T09:10:00Z",
      by: "bench 2",
      kind: "timed",
      room: { value: 21.5, unit: "degC" },
      charge: 26,
      signedOut: true,
    },
  ],
  parts,
  joints,
  tools: tools(
    "ph000",
    "t3",
    "five-lobe",
    "standoff",
    "spudger",
    "pick",
    "tweezers",
    "tweezers-plastic",
    "card",
    "suction",
    "plate",
    "warm-bag",
    "hot-air",
    "eject-pin",
    "tab-winder",
  ),
  consumables: consumables({
    "tape-strip": "",
    "rim-back": "PW5-0202",
    "rim-front": "PW5-0302",
    "cell-tabs": "PW5-0502",
    "lens-ring": "PW5-0206",
    gel: "",
    "foam-seal": "",
    solder: "",
    wipes: "",
  }),
  instruments: INSTRUMENTS.filter(({ id }) => !["bench-scale", "long-caliper", "meter-ohms"].includes(id)),
  log: [...look.log, ...back, ...timed.log],
  readings: [...look.readings, ...timed.readings],
  claims: look.claims,
  media: [
    { id: "photo-1", session: "s1", kind: "photo", file: "media/thrandle-5-plate.svg" },
    { id: "photo-2", session: "s1", kind: "photo", file: "media/thrandle-5-open.svg" },
    { id: "photo-3", session: "s1", kind: "photo", file: "media/thrandle-5-shield.svg" },
    { id: "photo-4", session: "s1", kind: "photo", file: "media/thrandle-5-tabs.svg" },
    { id: "photo-5", session: "s1", kind: "photo", file: "media/thrandle-5-board.svg" },
    { id: "photo-6", session: "s1", kind: "photo", file: "media/thrandle-5-display.svg" },
  ],
  checks,
  described,
  market: {
    securityUpdatesUntil: "2033-09-30",
    updateYears: 6,
    repairInformation: "free-for-professionals",
    battery: { after500: 88, after1000: 81, ingress: "IP68" },
  },
  zones: [
    {
      id: "back",
      lines: [
        { name: "rim", at: [2, 76] },
        { name: "cell", at: [49.5, 58] },
      ],
      programme: [
        { seconds: 120, hot: { temperature: 80, h: 300 }, cool: { temperature: 22.5, h: 8 } },
        { seconds: 180, hot: { temperature: 22.5, h: 10 }, cool: { temperature: 22.5, h: 8 } },
      ],
      watch: [
        { name: "rim bond, inner face", layer: "back-rim", face: "far", soft: 65 },
        {
          name: "cell face",

          layer: "cell",
          face: "near",
          plan: 55,
          stop: 60,
          counted: { above: 45, seconds: 900 },
        },
      ],
    },
    {
      id: "front",
      lines: [
        { name: "rim", at: [2, 76] },
        { name: "cell", at: [49.5, 58] },
      ],
      programme: [
        { seconds: 150, hot: { temperature: 80, h: 300 }, cool: { temperature: 22.5, h: 8 } },
        { seconds: 180, hot: { temperature: 22.5, h: 10 }, cool: { temperature: 22.5, h: 8 } },
      ],
      watch: [
        { name: "rim bond, inner face", layer: "display-rim", face: "far", soft: 65 },
        { name: "panel", layer: "display", face: "far", plan: 78, stop: 80 },
        {
          name: "cell face",

          layer: "cell",
          face: "near",
          plan: 55,
          stop: 60,
          counted: { above: 45, seconds: 900 },
        },
      ],
    },
  ],
};
