/** Plicarn 1, the small foldable: joints, a short log and the whole record. */
import type { Joint, Release, TeardownRecord } from "../../../src/core/record/schema.ts";
import { Afternoon } from "../afternoon.ts";
import { clip, eur, letsGo, pieces, plug, screws, tape } from "../bench.ts";
import { consumables, INSTRUMENTS, tools } from "../kit.ts";
import { parts } from "./parts.ts";

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

const joints: Joint[] = [
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

function firstLook(): Afternoon {
  const b = new Afternoon("s1");
  const unscrew = (part: string, joint: string, lies: string, takes: number, tool = "ph000") =>
    b.do("unscrew", { parts: [part], joints: [joint], tool, lies, takes });
  const unplug = (part: string, joint: string) =>
    b.do("unplug", { parts: [part], joints: [joint], tool: "spudger", takes: 4 });
  const lift = (part: string, lies: string) => b.do("lift", { parts: [part], lies, takes: 5 });
  const g = (of: string | string[], values: number[], more = {}) => b.measure(of, "mass", values, "g", "scale", more);

  b.measure("device", "mass", [261.2, 261.2], "g", "bench-scale");
  b.measure("device", "thickness", [6.4, 6.41], "mm", "caliper", { place: [1.6, 80] });
  b.do("pull", { parts: ["sim-tray"], joints: ["sim-latch"], tool: "eject-pin", takes: 4 });
  lift("sim-tray", "cup 1");
  g("sim-tray", [0.5]);
  b.do("heat", { parts: ["back-glass"], joints: ["back-rim"], tool: "plate", takes: 120 });
  b.do("slice", { parts: ["back-glass"], joints: ["back-rim"], tool: "pick", takes: 80 });
  b.do("heat", { parts: ["back-glass"], joints: ["back-rim"], tool: "plate", takes: 120 });
  b.do("slice", { parts: ["back-glass"], joints: ["back-rim"], tool: "pick", takes: 84 });
  lift("back-glass", "mat A");
  g(["back-glass", "camera-trim"], [14.6, 14.61], { off: ["glue"] });
  b.measure("back-glass", "thickness", [0.501, 0.5], "mm", "micrometer", { place: [108, 10] });
  unscrew("cell-bracket", "cell-bracket-screws", "cup 2", 12);
  lift("cell-bracket", "cup 2");
  unplug("cell", "cell-plug");
  b.measure("cell", "voltage", [3.765], "V", "meter-volts");
  g("cell-bracket", [0.7]);
  unscrew("top-shield", "top-shield-screws", "cup 3", 26);
  lift("top-shield", "mat B");
  unplug("coil", "coil-plug");
  b.do("peel", { parts: ["coil"], joints: ["coil-tape"], takes: 22 });
  lift("coil", "mat B");
  g("coil", [2.9]);
  b.do("pull", { parts: ["cell"], joints: ["cell-tabs-joint"], tool: "tweezers-plastic", takes: 95 });
  lift("cell", "tin");
  g("cell", [36.8, 36.81]);
  b.measure("cell", "thickness", [3.2, 3.2], "mm", "caliper", { place: [108, 70] });
  unplug("rear-cradle", "camera-plug");
  unscrew("rear-cradle", "camera-screws", "cup 4", 20);
  lift("rear-cradle", "mat C");
  g("rear-cradle", [8.1]);
  unscrew("loudspeaker", "speaker-screws", "cup 5", 20);
  lift("loudspeaker", "mat C");
  g("loudspeaker", [3.4]);
  unplug("port-board", "port-plug");
  unscrew("port-board", "port-screws", "cup 5", 14);
  lift("port-board", "mat C");
  g("port-board", [3.2]);
  unplug("key-flex", "key-plug");
  unscrew("key-flex", "key-screw", "cup 6", 10);
  lift("key-flex", "mat C");
  g("key-flex", [1.3]);
  b.do("heat", { parts: ["cover-display"], joints: ["cover-rim"], tool: "plate", takes: 150 });
  b.do("slice", { parts: ["cover-display"], joints: ["cover-rim"], tool: "pick", takes: 70 });
  b.do("heat", { parts: ["cover-display"], joints: ["cover-rim"], tool: "plate", takes: 150 });
  b.do("slice", { parts: ["cover-display"], joints: ["cover-rim"], tool: "pick", takes: 70 });
  b.do("heat", { parts: ["cover-display"], joints: ["cover-rim"], tool: "plate", takes: 150 });
  b.do("slice", { parts: ["cover-display"], joints: ["cover-rim"], tool: "pick", takes: 68 });
  unplug("cover-display", "cover-plug");
  lift("cover-display", "mat D");
  g("cover-display", [24.1, 24.1], { off: ["glue"] });
  unscrew("left-shield", "left-shield-screws", "cup 7", 26);
  lift("left-shield", "mat D");
  g(["top-shield", "left-shield"], [4.6]);
  unplug("second-cell", "second-plug");
  b.do("pull", { parts: ["second-cell"], joints: ["second-tabs-joint"], tool: "tweezers-plastic", takes: 100 });
  lift("second-cell", "tin");
  g("second-cell", [27.3, 27.3]);
  unplug("front-camera", "front-camera-plug");
  b.do("pry", { parts: ["front-camera"], joints: ["front-camera-snap"], tool: "spudger", takes: 6 });
  lift("front-camera", "cup 8");
  g("front-camera", [0.9]);
  unscrew("earpiece", "earpiece-screws", "cup 8", 14);
  lift("earpiece", "cup 8");
  g("earpiece", [1.1]);
  unscrew("motor", "motor-screws", "cup 9", 14);
  lift("motor", "cup 9");
  g("motor", [1.5]);
  b.do("unplug", { parts: ["cross-flex"], joints: ["cross-plug-right", "cross-plug-left"], tool: "spudger", takes: 8 });
  unscrew("cross-flex", "cross-clamp", "cup 10", 8);
  lift("cross-flex", "mat E");
  g("cross-flex", [0.95]);
  unscrew("left-board", "left-board-screws", "cup 10", 14);
  lift("left-board", "mat E");
  g("left-board", [3.9]);
  unplug("inner-display", "inner-plug");
  unscrew("main-board", "board-screws", "cup 11", 22);
  lift("main-board", "mat E");
  g("main-board", [17.2, 17.2]);
  b.do("turn", {});
  b.do("heat", {
    parts: ["bezel-left", "bezel-right"],
    joints: ["bezel-left-tape", "bezel-right-tape"],
    tool: "warm-bag",
    takes: 90,
  });
  b.do("pry", { parts: ["bezel-left"], joints: ["bezel-left-tape"], tool: "spudger", takes: 58 });
  lift("bezel-left", "mat F");
  b.do("pry", { parts: ["bezel-right"], joints: ["bezel-right-tape"], tool: "spudger", takes: 58 });
  lift("bezel-right", "mat F");
  g(["bezel-left", "bezel-right"], [1.92]);
  b.do("heat", { parts: ["inner-display"], joints: ["inner-bond"], tool: "warm-bag", takes: 180 });
  b.do("peel", { parts: ["inner-display"], joints: ["inner-bond"], tool: "card", takes: 150 });
  lift("inner-display", "mat G");
  g(["inner-display", "foil"], [33.4, 33.41], { off: ["glue"] });
  unscrew("hinge", "hinge-right-screws", "cup 12", 48, "t3");
  unscrew("hinge", "hinge-left-screws", "cup 12", 48, "t3");
  lift("hinge", "mat H");
  g("hinge", [27.9, 27.9], { off: ["hinge-cover"] });
  b.do("pry", { parts: ["hinge-cover"], joints: ["hinge-cover-snaps"], tool: "spudger", takes: 14 });
  lift("hinge-cover", "mat H");
  g("hinge-cover", [4.2]);
  unscrew("plate-right", "plate-right-screws", "cup 13", 26);
  lift("plate-right", "mat I");
  unscrew("plate-left", "plate-left-screws", "cup 13", 26);
  lift("plate-left", "mat I");
  g(["plate-right", "plate-left"], [12.8]);
  lift("frame-left", "mat I");
  g("frame-left", [11.6]);
  g("frame-right", [16.1], { on: ["screws"] });
  return b;
}

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
