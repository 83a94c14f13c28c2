/** The drawings that the records point to: file name below `media/` -> SVG. */
import type { TeardownRecord } from "../../src/core/record/schema.ts";
import { drawing } from "./drawings.ts";
import { halverim11 } from "./halverim-11/index.ts";
import { plicarn1 } from "./plicarn-1/index.ts";
import { thrandle4 } from "./thrandle-4/index.ts";
import { thrandle5 } from "./thrandle-5/index.ts";

const screwsOf = (record: TeardownRecord, joint: string) => ({
  kind: "screws" as const,
  at: (record.joints.find(({ id }) => id === joint)?.screws?.each ?? []).flatMap(({ at }) => (at ? [at] : [])),
});

export function pictures(): Record<string, string> {
  const five = thrandle5.parts;
  const tablet = halverim11.parts;
  const opened = ["back-glass"];
  const shielded = [...opened, "sim-tray", "cell-bracket", "ground-foil"];
  const bare = [...shielded, "top-shield", "coil", "lower-cover", "main-flex", "graphite", "loudspeaker"];
  const emptied = five
    .map(({ id }) => id)
    .filter((id) => !["band", "mid-plate", "display", "main-board", "vapour-chamber", "key-flex"].includes(id));
  return {
    "thrandle-5-plate.svg": drawing({
      title: "Thrandle 5 lying on the heating plate, back down",
      parts: five,
      away: ["sim-tray"],
      from: "front",
      over: [
        { kind: "plate", margin: 10 },
        { kind: "note", at: [36.2, 76], text: "80 °C" },
      ],
    }),
    "thrandle-5-open.svg": drawing({
      title: "Thrandle 5 with the back glass off; the pick rests on the left rim",
      parts: five,
      away: opened,
      over: [{ kind: "tool", tip: [2.4, 60], end: [-12, 40] }],
    }),
    "thrandle-5-shield.svg": drawing({
      title: "Thrandle 5, the six screws of the upper shield",
      parts: five,
      away: shielded,
      over: [screwsOf(thrandle5, "top-shield-screws")],
    }),
    "thrandle-5-tabs.svg": drawing({
      title: "Thrandle 5, plastic tweezers on the first pull tab of the battery",
      parts: five,
      away: bare,
      over: [
        { kind: "tool", tip: [16, 26], end: [8, -10] },
        { kind: "tool", tip: [17, 26], end: [16, -11] },
      ],
    }),
    "thrandle-5-board.svg": drawing({
      title: "Thrandle 5, the main board before it is lifted",
      parts: five,
      away: emptied,
      over: [screwsOf(thrandle5, "board-screws"), screwsOf(thrandle5, "board-standoff")],
    }),
    "thrandle-5-display.svg": drawing({
      title: "Thrandle 5 from the display side, suction cup and card at the rim",
      parts: five,
      away: emptied,
      from: "front",
      over: [
        { kind: "cup", at: [36, 26], radius: 17 },
        { kind: "tool", tip: [14, 0], end: [4, -13] },
      ],
    }),
    "thrandle-4-open.svg": drawing({
      title: "Thrandle 4 with the back glass off",
      parts: thrandle4.parts,
      away: opened,
    }),
    "halverim-11-plate.svg": drawing({
      title: "Halverim 11 lying on the heating plate, display down",
      parts: tablet,
      away: [],
      over: [
        { kind: "plate", margin: 11 },
        { kind: "note", at: [89, 124], text: "85 °C" },
      ],
    }),
    "halverim-11-open.svg": drawing({
      title: "Halverim 11 with the display folded out",
      parts: tablet,
      away: ["display"],
      from: "front",
      over: [{ kind: "tool", tip: [176, 120], end: [190, 150] }],
    }),
    "halverim-11-debond.svg": drawing({
      title: "Halverim 11, leads on the two tabs of the battery",
      parts: tablet,
      away: ["display", "cell-bracket", "display-bracket", "top-shield", "port-flex", "graphite"],
      from: "front",
      over: [
        { kind: "tool", tip: [60, 57], end: [50, 40] },
        { kind: "tool", tip: [112, 57], end: [124, 40] },
        { kind: "note", at: [89, 122], text: "12 V" },
      ],
    }),
    "plicarn-1-open.svg": drawing({
      title: "Plicarn 1 unfolded, back glass and cover display off",
      parts: plicarn1.parts,
      away: ["back-glass", "cover-display"],
    }),
  };
}
