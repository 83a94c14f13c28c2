/**
 * Halverim 11, a slate tablet: 178.4 x 247.6 mm, 6.40 mm thick, opened from the display side.
 *
 * Over the cell, from the back: back plate 0.80, debondable tape, cell 0.90 to 4.50, graphite 4.52 to 4.58, air,
 * display 5.00 to 6.40. Coordinates are seen from the back all the same.
 */
import type { Part, Role } from "../../../src/core/record/schema.ts";
import type { Point, Ring } from "../bench.ts";
import { disc, eur, part, rect, rounded, strip } from "../bench.ts";

const underDisplay = [["display"]];
const underShield = [["display", "top-shield"]];
const PORT_FLEX: Point[] = [
  [89, 14],
  [89, 40],
  [156, 40],
  [156, 196],
];
const COAX_LEFT: Point[] = [
  [30, 224],
  [11, 224],
  [11, 214],
];
const COAX_RIGHT: Point[] = [
  [116, 226],
  [160, 226],
];

/** A part that is lifted out from the display side. */
function inside(
  id: string,
  name: string,
  role: Role,
  level: readonly [number, number],
  outline: readonly Ring[],
  price: string,
  more: Partial<Part> = {},
): Part {
  return part(id, name, role, level, outline, {
    under: underDisplay,
    side: "front",
    seconds: 4,
    basis: "tried",
    spare: { price: eur(price), leadDays: 12, to: "professionals" },
    ...more,
  });
}

const outside: Part[] = [
  part("frame", "Side frame", "frame", [0.95, 4.8], [rect(0, 0, 178.4, 247.6, 9), rect(4, 4, 174.4, 243.6, 5.5)], {
    base: true,
    material: "al6013",
  }),
  part("back-plate", "Back plate", "back-cover", [0, 0.8], [rect(0.4, 0.4, 178, 247.2, 8.6), disc(15, 230, 5.4, 24)], {
    under: [["cell", "main-board", "rear-camera", "pen-coil"]],
    side: "back",
    seconds: 8,
    basis: "tried",
    material: "al6061",
    spare: { price: eur("72.00"), leadDays: 12, numbers: ["PWH-0201"], to: "end-users", brings: ["plate-bond"] },
  }),
  part("rear-window", "Lens window", "other", [-0.5, 0], [disc(15, 230, 6.8, 32)], {
    within: "back-plate",
    side: "back",
    seconds: 3,
    basis: "tried",
    material: "glass_ceramic",
    spare: { price: eur("6.00"), leadDays: 12, numbers: ["PWH-0205"], to: "professionals" },
  }),
  part("display", "Display", "display", [5, 6.4], [rect(0.4, 0.4, 178, 247.2, 8.6)], {
    side: "front",
    seconds: 14,
    shift: { freeing: ["display-rim"], seconds: 9 },
    basis: "tried",
    pairing: { notification: true },
    ifUnpaired: "message",
    material: "glass_aluminosilicate",
    gives: ["picture", "touch", "pen"],
    esd: true,
    spare: { price: eur("196.00"), leadDays: 5, numbers: ["PWH-0301"], to: "end-users", brings: ["display-rim"] },
    note: "Folds out to the right on its two cables once the rim is cut.",
  }),
  part("display-board", "Display drive board", "board", [4.82, 5], [rect(60, 226, 120, 240, 0.6)], {
    within: "display",
    side: "back",
    seconds: 4,
    basis: "stated",
    material: "fr4",
    esd: true,
    spare: { price: eur("34.00"), leadDays: 20, numbers: ["PWH-0303"], to: "nobody" },
  }),
];

const middle: Part[] = [
  inside("graphite", "Graphite sheet", "other", [4.52, 4.58], [rect(31, 59, 147, 185, 0.5)], "9.00", {
    material: "graphite_sheet",
  }),
  inside("cell-bracket", "Battery bracket", "bracket", [4.3, 4.6], [rect(126, 196, 142, 203, 0.5)], "3.00", {
    material: "ss304",
  }),
  inside("display-bracket", "Display plug bracket", "bracket", [4.3, 4.6], [rect(70, 212, 104, 219, 0.5)], "3.00", {
    material: "ss304",
  }),
  inside("cell", "Battery", "battery", [0.9, 4.5], [rect(30, 58, 148, 186, 1)], "58.00", {
    under: [["graphite", "port-flex"]],
    seconds: 8,
    live: true,
    material: "li_pouch",
    gives: ["charge", "power"],
    marks: [{ number: "8900 mAh 3.86 V 34.35 Wh", where: "label" }],
    spare: {
      price: eur("58.00"),
      leadDays: 5,
      numbers: ["PWH-0501"],
      to: "end-users",
      brings: ["cell-bond"],
    },
    note: "Above 20 Wh: other transport rules apply than for a phone's cell.",
  }),
  inside("top-shield", "Board cover", "shield", [4.32, 4.6], [rect(22, 194, 124, 211, 1)], "7.00", {
    material: "ss304",
  }),
  inside(
    "main-board",
    "Main board",
    "board",
    [1.6, 3],
    [
      rounded([
        [20, 192, 1],
        [146, 192, 1],
        [146, 208, 1],
        [124, 208],
        [124, 222, 1],
        [20, 222, 1],
      ]),
      rect(64, 203, 69, 208, 0.5),
    ],
    "240.00",
    {
      under: [["top-shield", "cell-bracket", "display-bracket"]],
      seconds: 8,
      shift: { freeing: ["board-screws", "display-plug", "touch-plug", "port-flex-upper"], seconds: 7 },
      live: true,
      gives: ["processor", "memory", "storage"],
      esd: true,
      material: "fr4",
    },
  ),
  inside("board-shield", "Board shield", "shield", [3, 4.25], [rect(24, 195, 122, 210, 0.5)], "4.00", {
    within: "main-board",
    under: underShield,
    material: "ss304",
  }),
  inside("board-graphite", "Board heat film", "other", [4.25, 4.31], [rect(26, 196, 120, 209, 0.3)], "3.00", {
    within: "main-board",
    under: underShield,
    material: "graphite_sheet",
  }),
  inside("port-flex", "Port flex", "cable", [4.74, 4.79], [strip(PORT_FLEX, 5)], "12.00", {
    shift: { freeing: ["port-flex-lower", "port-flex-tape"], seconds: 4 },
    path: PORT_FLEX,
    beneath: ["display"],
    material: "pet",
  }),
];

const cameras: Part[] = [
  inside("camera-bracket", "Camera bracket", "bracket", [4.2, 4.6], [rect(7, 223.6, 24, 236.6, 0.5)], "3.00", {
    material: "ss304",
  }),
  inside("rear-camera", "Rear camera", "rear-camera", [0.85, 4.1], [rect(9.6, 224.8, 20.4, 235.4, 0.5)], "19.00", {
    under: [["display", "camera-bracket"]],
    gives: ["rear picture"],
    esd: true,
    material: "pc",
  }),
  inside("front-camera", "Front camera", "front-camera", [2.6, 4.95], [rect(167, 118, 173, 127, 0.5)], "16.00", {
    gives: ["front picture"],
    esd: true,
    material: "pc",
    pairing: { authorisation: true },
    ifUnpaired: "feature-lost",
  }),
  inside("light-sensor", "Light sensor", "sensor", [3.8, 4.95], [rect(167.5, 130, 173, 134, 0.3)], "4.00", {
    gives: ["automatic brightness"],
    material: "fr4",
    basis: "inferred",
    under: [["display", "front-camera"]],
    note: "Its tail passes the camera; it was not tried alone.",
  }),
];

const speaker = (id: string, where: string, x: number, y: number, price: string): Part =>
  inside(id, `${where} speaker`, "speaker", [1, 4.6], [rect(x, y, x + 20, y + 40, 2)], price, {
    gives: [`sound, ${where.toLowerCase()}`],
    magnet: true,
    material: "pc",
  });

const sound: Part[] = [
  speaker("speaker-upper-left", "Upper left", 4.6, 150, "13.00"),
  speaker("speaker-upper-right", "Upper right", 149, 196, "13.00"),
  speaker("speaker-lower-left", "Lower left", 4.6, 6, "13.00"),
  speaker("speaker-lower-right", "Lower right", 149.6, 45, "13.00"),
  inside("main-mic", "Main microphone", "main-microphone", [2.8, 4.2], [rect(128, 236, 136, 243, 0.4)], "6.00", {
    gives: ["main microphone"],
    material: "fr4",
  }),
  inside("second-mic", "Second microphone", "other", [2.8, 4.2], [rect(4.6, 110, 10, 118, 0.4)], "5.00", {
    gives: ["noise cancelling"],
    material: "fr4",
  }),
];

const edges: Part[] = [
  inside("charge-port", "Charging port", "charging-port", [1.4, 4.6], [rect(80, 4.2, 98, 20, 0.8)], "21.00", {
    gives: ["wired charging", "wired data"],
    material: "ss304",
    esd: true,
  }),
  inside("contact-strip", "Keyboard contacts", "other", [1, 1.6], [rect(60, 22, 118, 30, 1)], "14.00", {
    under: [["display", "charge-port", "port-flex"]],
    gives: ["keyboard contacts"],
    material: "fr4",
  }),
  inside("power-button", "Power button", "button", [1.6, 3.8], [rect(140, 239.4, 160, 243.2)], "9.00", {
    under: [["display", "main-mic"]],
    gives: ["power key"],
    material: "pet",
  }),
  inside("volume-button", "Volume buttons", "button", [1.6, 3.8], [rect(169.8, 200, 173.6, 236)], "10.00", {
    under: [["display", "wifi-right"]],
    gives: ["volume keys"],
    material: "pet",
  }),
  inside("power-cap", "Power button cap", "other", [2, 3.4], [rect(142, 244, 158, 248, 0.4)], "4.00", {
    under: [["power-button"]],
    material: "al6013",
  }),
  inside("volume-cap", "Volume button cap", "other", [2, 3.4], [rect(174.6, 203, 178.8, 233, 0.4)], "4.00", {
    under: [["volume-button"]],
    material: "al6013",
  }),
  inside("wifi-left", "Left antenna", "antenna", [1.2, 4.2], [rect(4.6, 211, 9, 222, 0.5)], "7.00", {
    gives: ["wireless network, left"],
    material: "pc",
  }),
  inside("wifi-right", "Right antenna", "antenna", [3.9, 4.6], [rect(161.5, 237, 171.5, 242.8, 0.5)], "7.00", {
    gives: ["wireless network, right"],
    material: "pc",
  }),
  inside(
    "coax-left",
    "Left coaxial lead",
    "cable",
    [3.2, 3.9],
    [strip([...COAX_LEFT.slice(0, 2), [11, 211]], 0.9)],
    "3.00",
    {
      under: underShield,
      path: COAX_LEFT,
      beneath: ["top-shield"],
      material: "cu",
    },
  ),
  inside(
    "coax-right",
    "Right coaxial lead",
    "cable",
    [3.2, 3.9],
    [
      strip(
        [
          [125, 226],
          [148, 226],
        ],
        0.9,
      ),
    ],
    "3.00",
    {
      under: underShield,
      path: COAX_RIGHT,
      beneath: ["top-shield"],
      material: "cu",
    },
  ),
  inside("pen-coil", "Pen charging coil", "coil", [1.2, 3.6], [rect(169.8, 140, 173.8, 190, 0.4)], "9.00", {
    gives: ["pen charging"],
    material: "cu",
  }),
  inside("magnets-left", "Left magnets", "other", [1.2, 3.6], [rect(4.6, 60, 8.6, 105, 0.4)], "5.00", {
    magnet: true,
    material: "ss304",
  }),
  inside("magnets-right", "Right magnets", "other", [1.2, 3.6], [rect(169.8, 88, 173.8, 114, 0.4)], "5.00", {
    magnet: true,
    material: "ss304",
  }),
  inside("hall-sensor", "Cover sensor", "sensor", [3, 4], [rect(30, 240, 36, 243, 0.3)], "3.00", {
    gives: ["cover sensing"],
    material: "fr4",
  }),
];

export const parts: Part[] = [...outside, ...middle, ...cameras, ...sound, ...edges];
