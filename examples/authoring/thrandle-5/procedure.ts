/**
 * The maker's own description, edition B, line by line. It can be done as it stands, but it leaves out the cleaning of
 * the rims, the pairing after a swap, and turning the battery off the line before the other plugs.
 */
import type { Described } from "../../../src/core/record/schema.ts";

type Step = Described["parts"][number]["steps"][number];
const step = (does: string, operations: string[], tools: string[] = []): Step => ({ does, operations, tools });

const openBack: Step[] = [
  step("Remove the two screws beside the port.", ["release bottom-screws"], ["five-lobe"]),
  step(
    "Warm the back and separate it along the rim; warm it again when it drags.",
    ["heat back", "release back-rim"],
    ["plate", "suction", "pick"],
  ),
  step("Take the back glass off.", ["lift back-glass"]),
];
const isolate: Step[] = [
  step("Remove the battery bracket.", ["release cell-bracket-screws", "lift cell-bracket"], ["ph000"]),
  step("Unplug the battery.", ["release cell-plug"], ["spudger"]),
];
const openShield: Step[] = [
  step("Detach the ground foil.", ["release foil-tape", "release foil-screw", "lift ground-foil"], ["ph000"]),
  step("Remove the upper shield.", ["release top-shield-screws", "lift top-shield"], ["ph000"]),
];
const openCover: Step[] = [
  step("Remove the lower cover.", ["release lower-cover-screws", "lift lower-cover"], ["ph000"]),
];
const freeAntenna: Step[] = [
  step(
    "Unplug and remove the upper antenna carrier.",
    ["release upper-antenna-lead", "release upper-antenna-screws", "lift upper-antenna"],
    ["spudger", "ph000"],
  ),
];

export const described: Described[] = [
  {
    id: "maker-b",
    by: "Pellworrow service notes",
    edition: "B, 2026-09",
    parts: [
      { part: "back-glass", steps: openBack },
      {
        part: "cell",
        steps: [
          ...openBack,
          ...isolate,
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
            "Pull the three tabs with the winder and take the battery out.",
            ["release cell-tabs-joint/1", "lift cell"],
            ["tab-winder"],
          ),
        ],
      },
      {
        part: "display",
        steps: [
          ...openBack,
          ...isolate,
          ...openShield,
          step("Unplug the display.", ["release display-plug", "release touch-plug"], ["spudger"]),
          step(
            "Warm the display and separate it along the rim; warm it again when it drags.",
            ["heat front", "release display-rim"],
            ["plate", "suction", "card"],
          ),
          step("Take the display off.", ["lift display"]),
        ],
      },
      {
        part: "rear-cradle",
        steps: [
          ...openBack,
          ...isolate,
          ...openShield,
          step(
            "Unplug the cameras, the flash and the range finder.",
            ["release main-camera-plug", "release wide-camera-plug", "release flash-plug", "release range-plug"],
            ["spudger"],
          ),
          step("Remove the flash.", ["release flash-tape", "lift flash"]),
          step("Remove the range finder.", ["release range-screw", "lift range-finder"], ["ph000"]),
          step("Remove the rear cameras.", ["release cradle-screws", "lift rear-cradle"], ["ph000"]),
        ],
      },
      {
        part: "front-camera",
        steps: [
          ...openBack,
          ...isolate,
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
          ...isolate,
          ...openShield,
          ...freeAntenna,
          step("Remove the earpiece.", ["release earpiece-screws", "lift earpiece"], ["ph000"]),
        ],
      },
      {
        part: "loudspeaker",
        steps: [
          ...openBack,
          ...openCover,
          step("Remove the loudspeaker.", ["release speaker-screws", "lift loudspeaker"], ["ph000"]),
        ],
      },
      {
        part: "charge-port",
        steps: [
          ...openBack,
          ...isolate,
          ...openCover,
          step("Unplug the charging port.", ["release port-plug"], ["spudger"]),
          step("Tilt the port board up.", ["release port-board-screws", "shift port-board"], ["ph000"]),
          step("Remove the charging port.", ["release port-screws", "lift charge-port"], ["ph000"]),
        ],
      },
      {
        part: "port-board",
        steps: [
          ...openBack,
          ...isolate,
          ...openCover,
          step(
            "Open the plugs on the port board.",
            ["release main-flex-lower", "release coax-long-lower", "release port-plug", "release sim-plug"],
            ["spudger"],
          ),
          step(
            "Remove the port board, with the main microphone on it.",
            ["release port-board-screws", "lift port-board"],
            ["ph000"],
          ),
        ],
      },
      {
        part: "key-flex",
        steps: [
          ...openBack,
          ...isolate,
          ...openShield,
          step(
            "Unplug the charging coil, both cameras and the side keys.",
            ["release coil-plug", "release main-camera-plug", "release wide-camera-plug", "release key-plug"],
            ["spudger"],
          ),
          step(
            "Tilt the main board towards the top edge.",
            ["release board-screws", "release board-standoff", "shift main-board"],
            ["ph000", "standoff"],
          ),
          step("Remove the wedge.", ["release key-wedge-screws", "lift key-bracket"], ["ph000"]),
          step("Unhook and remove the side keys.", ["release key-hooks", "lift key-flex"], ["spudger"]),
        ],
      },
    ],
  },
];
