/** Plicarn 1, the small foldable: the whole record. */
import type { TeardownRecord } from "../../../src/core/record/schema.ts";
import { eur } from "../bench.ts";
import { consumables, INSTRUMENTS, tools } from "../kit.ts";
import { joints } from "./joints.ts";
import { firstLook } from "./look.ts";
import { parts } from "./parts.ts";

const look = firstLook();

export const plicarn1: TeardownRecord = {
  format: "unseam/1",
  id: "e58a7c02-6b1d-4f0c-bd35-1f9d2a730001",
  device: {
    name: "Plicarn 1",
    maker: "Pellworrow",
    model: "PW-P1",
    kind: "smartphone",
    foldable: true,
    released: "2026-03-06",
    price: eur("1399.00"),
    ingress: "IP48",
    cell: { capacity: { value: 4230, unit: "mAh" }, voltage: { value: 3.88, unit: "V" } },
  },
  unit: {
    market: "EU",
    storage: "256 GB",
    colour: "night blue",
    seal: "unbroken",
    serialTail: "F3L9",
    condition: "new",
  },
  sessions: [
    {
      id: "s1",
      started: "2026-03-24T08:45:00Z",
      by: "bench 2",
      kind: "first-look",
      room: { value: 20.5, unit: "degC" },
      charge: 25,
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
    "rim-back": "PWP-0202",
    "rim-front": "PWP-0302",
    "cell-tabs": "PWP-0502",
  }),
  instruments: INSTRUMENTS.filter(({ id }) =>
    ["scale", "bench-scale", "caliper", "micrometer", "meter-volts"].includes(id),
  ),
  log: look.log,
  readings: look.readings,
  claims: [
    {
      id: "c1",
      session: "s1",
      text: "The hinge is heavier than the second battery.",
      subject: ["hinge"],
      quantity: "mass",
      relation: "heavier",
      than: "second-cell",
      about: "unit",
    },
    {
      id: "c2",
      session: "s1",
      text: "The hinge with its cover is just over a tenth of the phone.",
      subject: ["hinge", "hinge-cover"],
      quantity: "mass",
      relation: "fraction",
      value: 0.1,
      unit: "1",
      band: "just-over",
      than: "device",
      about: "unit",
    },
  ],
  media: [{ id: "photo-1", session: "s1", kind: "photo", file: "media/plicarn-1-open.svg" }],
  checks: [
    { id: "before-1", session: "s1", at: -90, what: "folding", when: "before", result: "works", parts: ["hinge"] },
    {
      id: "before-2",
      session: "s1",
      at: -80,
      what: "inner touch",
      when: "before",
      result: "works",
      parts: ["inner-display"],
    },
    {
      id: "before-3",
      session: "s1",
      at: -70,
      what: "cover touch",
      when: "before",
      result: "works",
      parts: ["cover-display"],
    },
  ],
  market: {
    securityUpdatesUntil: "2033-03-31",
    updateYears: 7,
    repairInformation: "free-for-professionals",
    battery: { after500: 85, after1000: 80, ingress: "IP48" },
  },
  zones: [
    {
      id: "back",
      lines: [
        { name: "right rim", at: [138.6, 40] },
        { name: "cell", at: [120, 70] },
      ],
      programme: [
        { seconds: 120, hot: { temperature: 80, h: 300 }, cool: { temperature: 20.5, h: 8 } },
        { seconds: 180, hot: { temperature: 20.5, h: 10 }, cool: { temperature: 20.5, h: 8 } },
      ],
      watch: [
        { name: "rim bond, inner face", layer: "back-rim", face: "far", soft: 65 },
        { name: "cell face", layer: "cell", face: "near", plan: 55, stop: 60, counted: { above: 45, seconds: 900 } },
      ],
    },
  ],
};
