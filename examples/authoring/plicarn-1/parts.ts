/**
 * Plicarn 1, a phone that opens like a book: 140 x 156 mm unfolded, 6.40 mm thick at the bezel.
 *
 * Drawn unfolded and seen from the back: left half with the cover display (x 0 to 62.6), hinge, right half with back
 * glass, cameras and port (x 77.4 to 140).
 */
import type { Part, Role } from "../../../src/core/record/schema.ts";
import type { Point, Ring } from "../bench.ts";
import { disc, eur, part, rect, rounded, strip } from "../bench.ts";

const CROSS: Point[] = [
  [98, 116],
  [42, 116],
];

function piece(
  id: string,
  name: string,
  role: Role,
  level: readonly [number, number],
  outline: readonly Ring[],
  price: string,
  more: Partial<Part> = {},
): Part {
  return part(id, name, role, level, outline, {
    side: "back",
    seconds: 4,
    basis: "tried",
    spare: { price: eur(price), leadDays: 15, to: "professionals" },
    ...more,
  });
}

const outside: Part[] = [
  part("frame-right", "Right frame", "frame", [0.65, 5.2], [rect(77.4, 0, 140, 156, 4), rect(80, 3, 137, 153, 2)], {
    base: true,
    material: "ti64",
  }),
  piece("frame-left", "Left frame", "frame", [1.45, 5.2], [rect(0, 0, 62.6, 156, 4), rect(3, 3, 60, 153, 2)], "38.00", {
    side: "front",
    seconds: 8,
    material: "ti64",
    under: [["inner-display", "hinge"]],
  }),
  piece("hinge", "Hinge", "hinge", [1.6, 5.1], [rect(63, 4, 77, 152, 0.5)], "96.00", {
    side: "front",
    seconds: 10,
    under: [["inner-display", "cross-flex"]],
    material: "ss316",
    gives: ["folding"],
    note: "Springs under load: keep it flat while its screws come out.",
  }),
  piece("hinge-cover", "Hinge cover", "other", [0, 1.1], [rect(65.6, 0, 74.4, 156, 2)], "14.00", {
    within: "hinge",
    material: "al6013",
  }),
  piece(
    "back-glass",
    "Back glass",
    "back-cover",
    [0, 0.5],
    [rect(77.8, 0.4, 139.6, 155.6, 3.6), rect(108.4, 122.4, 136, 150, 1)],
    "33.00",
    {
      seconds: 6,
      material: "glass_aluminosilicate",
      spare: { price: eur("33.00"), leadDays: 5, to: "end-users", brings: ["back-rim"] },
    },
  ),
  piece(
    "camera-trim",
    "Camera trim",
    "bracket",
    [-2, 0],
    [rect(106.6, 120.6, 137.6, 151.6, 4.6), rect(108.4, 122.4, 136, 150, 1)],
    "12.00",
    { within: "back-glass", material: "ss316" },
  ),
  piece("cover-display", "Cover display", "display", [0, 1.3], [rect(0.4, 0.4, 62.2, 155.6, 3.6)], "94.00", {
    seconds: 10,
    shift: { freeing: ["cover-rim"], seconds: 6 },
    esd: true,
    gives: ["cover picture", "cover touch"],
    material: "glass_aluminosilicate",
    pairing: { notification: true },
    ifUnpaired: "message",
    spare: { price: eur("94.00"), leadDays: 5, to: "end-users", brings: ["cover-rim"] },
  }),
  piece("inner-display", "Inner display", "display", [5.4, 6.15], [rect(1, 1, 139, 155, 3)], "310.00", {
    side: "front",
    seconds: 20,
    under: [["bezel-left", "bezel-right"]],
    esd: true,
    gives: ["inner picture", "inner touch"],
    material: "pet",
    pairing: { notification: true },
    ifUnpaired: "message",
    spare: {
      price: eur("310.00"),
      leadDays: 5,
      to: "end-users",
      brings: ["inner-bond", "bezel-left-tape", "bezel-right-tape"],
    },
    note: "Never bend it backwards or below its fold radius; a card edge dents it.",
  }),
  piece("foil", "Protective foil", "protective-foil", [6.15, 6.3], [rect(3, 3, 137, 153, 2)], "9.00", {
    within: "inner-display",
    side: "front",
    material: "pet",
  }),
  piece(
    "bezel-left",
    "Left bezel",
    "other",
    [6.15, 6.4],
    [
      rounded([
        [0, 0, 4],
        [70, 0],
        [70, 2.5],
        [2.5, 2.5],
        [2.5, 153.5],
        [70, 153.5],
        [70, 156],
        [0, 156, 4],
      ]),
    ],
    "5.00",
    { side: "front", material: "pc" },
  ),
  piece(
    "bezel-right",
    "Right bezel",
    "other",
    [6.15, 6.4],
    [
      rounded([
        [140, 0, 4],
        [140, 156, 4],
        [70.2, 156],
        [70.2, 153.5],
        [137.5, 153.5],
        [137.5, 2.5],
        [70.2, 2.5],
        [70.2, 0],
      ]),
    ],
    "5.00",
    { side: "front", material: "pc" },
  ),
];

const right: Part[] = [
  piece("plate-right", "Right support plate", "frame", [4.75, 5.2], [rect(80.2, 3.2, 136.8, 152.8, 1.8)], "12.00", {
    side: "front",
    under: [["inner-display"]],
    material: "ti64",
  }),
  piece("coil", "Charging coil", "coil", [0.8, 1.1], [disc(108.5, 70, 22), disc(108.5, 70, 8, 24)], "12.00", {
    under: [["back-glass"]],
    material: "cu",
    gives: ["wireless charging"],
  }),
  piece("cell-bracket", "Battery bracket", "bracket", [0.8, 1.05], [rect(82, 110.5, 92, 117, 0.4)], "2.50", {
    under: [["back-glass"]],
    seconds: 3,
    material: "ss304",
  }),
  piece("cell", "Main battery", "battery", [1.3, 4.5], [rect(81, 30, 136, 108, 1)], "34.00", {
    under: [["back-glass", "coil"]],
    seconds: 6,
    live: true,
    material: "li_pouch",
    gives: ["charge", "power"],
    marks: [{ number: "2430 mAh 3.88 V 9.43 Wh", where: "label" }],
    spare: { price: eur("34.00"), leadDays: 5, to: "end-users", brings: ["cell-tabs-joint"] },
  }),
  piece("top-shield", "Upper shield", "shield", [0.8, 1.05], [rect(93, 111, 105.6, 149, 0.5)], "6.00", {
    under: [["back-glass"]],
    material: "ss304",
  }),
  piece(
    "main-board",
    "Main board",
    "board",
    [1.9, 3.6],
    [
      rounded([
        [81, 109.6, 0.5],
        [136, 109.6, 0.5],
        [136, 120, 0.5],
        [106, 120],
        [106, 150, 0.5],
        [81, 150, 0.5],
      ]),
    ],
    "340.00",
    {
      under: [["top-shield", "cell-bracket"]],
      seconds: 8,
      shift: { freeing: ["board-screws", "inner-plug"], seconds: 6 },
      live: true,
      esd: true,
      material: "fr4",
      gives: ["processor", "memory", "storage"],
    },
  ),
  piece("rear-cradle", "Rear cameras", "rear-camera", [-1.8, 4.5], [rect(108.6, 122.6, 135.8, 149.8, 2)], "78.00", {
    under: [["back-glass"]],
    seconds: 5,
    esd: true,
    magnet: true,
    material: "pc",
    gives: ["rear picture"],
  }),
  piece("loudspeaker", "Loudspeaker", "speaker", [0.9, 4.6], [rect(81, 4, 104, 27, 2)], "12.00", {
    under: [["back-glass"]],
    magnet: true,
    material: "pc",
    gives: ["loud sound"],
  }),
  piece("port-board", "Port board", "charging-port", [2.6, 3.6], [rect(106, 3.2, 136, 26, 0.6)], "19.00", {
    under: [["back-glass"]],
    seconds: 5,
    live: true,
    esd: true,
    serves: ["main-microphone"],
    material: "fr4",
    gives: ["wired charging", "wired data", "main microphone"],
  }),
  piece("key-flex", "Side keys", "button", [1.8, 3.8], [rect(137.1, 60, 138.8, 100)], "22.00", {
    under: [["back-glass"]],
    pairing: { notification: true, authorisation: true },
    ifUnpaired: "feature-lost",
    material: "pet",
    gives: ["power key", "volume keys", "fingerprint"],
  }),
];

const left: Part[] = [
  piece("plate-left", "Left support plate", "frame", [4.85, 5.2], [rect(3.2, 3.2, 59.8, 152.8, 1.8)], "12.00", {
    side: "front",
    under: [["inner-display"]],
    material: "ti64",
  }),
  piece("left-shield", "Left shield", "shield", [1.5, 1.75], [rect(6, 107, 57, 121, 0.5)], "5.00", {
    under: [["cover-display"]],
    material: "ss304",
  }),
  piece("left-board", "Left board", "board", [2.2, 3.6], [rect(5, 106.2, 58, 122, 0.5)], "44.00", {
    under: [["left-shield"]],
    seconds: 5,
    live: true,
    esd: true,
    material: "fr4",
  }),
  piece("second-cell", "Second battery", "battery", [1.7, 4.7], [rect(4, 40, 59, 102.2, 1)], "28.00", {
    under: [["cover-display"]],
    seconds: 6,
    live: true,
    material: "li_pouch",
    gives: ["charge", "power"],
    marks: [{ number: "1800 mAh 3.88 V 6.98 Wh", where: "label" }],
    spare: { price: eur("28.00"), leadDays: 5, to: "end-users", brings: ["second-tabs-joint"] },
  }),
  piece("front-camera", "Front camera", "front-camera", [1.6, 4.8], [rect(26, 142, 36, 150, 0.5)], "24.00", {
    under: [["cover-display"]],
    esd: true,
    material: "pc",
    gives: ["front picture"],
  }),
  piece("earpiece", "Earpiece", "speaker", [1.8, 4.6], [rect(38, 142, 54, 150, 0.5)], "9.00", {
    under: [["cover-display"]],
    magnet: true,
    material: "pc",
    gives: ["call sound"],
  }),
  piece("motor", "Vibration motor", "motor", [1.7, 4.7], [rect(5, 6, 20, 30, 0.6)], "8.00", {
    under: [["cover-display"]],
    magnet: true,
    material: "ss304",
    gives: ["vibration"],
  }),
  piece("sim-tray", "SIM tray", "sim-tray", [3, 3.8], [rect(30, 0, 44, 14, 0.6)], "5.00", {
    side: "bottom",
    seconds: 3,
    material: "al6013",
    spare: { price: eur("5.00"), leadDays: 5, to: "end-users" },
  }),
  piece("cross-flex", "Cross flex", "cable", [1.2, 1.4], [strip(CROSS, 4)], "18.00", {
    under: [["top-shield", "left-shield"]],
    path: CROSS,
    beneath: ["top-shield", "left-shield"],
    material: "pet",
    basis: "stated",
    note: "Runs through the hinge; the maker says that it is threaded out before the hinge is moved.",
  }),
];

export const parts: Part[] = [...outside, ...right, ...left];
