/**
 * The disassembly requirements of Commission Regulation (EU) 2023/1670 (OJ L 214, 31.8.2023, p. 47), Annex II B 1.1(5)
 * (smartphones) and D 1.1(5) (slate tablets), as consolidated on 20.6.2025, and Article 11 of Regulation (EU) 2023/1542.
 * Reworded; numbers carry over.
 */
import type { Role } from "../../record/schema.ts";
import type { FastenerWord, ToolWord } from "./types.ts";

export interface DisassemblyRow {
  readonly row: "a" | "b" | "c(i)" | "c(ii)";
  readonly what: string;
  readonly roles: readonly Role[];
  readonly fasteners: readonly FastenerWord[];
  readonly tools: readonly ToolWord[];
  readonly environment: "use" | "workshop";
  readonly skill: "layman" | "generalist";
}

const ANY_FASTENER: readonly FastenerWord[] = ["removable", "resupplied", "reusable"];
const SUPPLIED: readonly ToolWord[] = ["none", "basic", "with-spare-part", "with-product"];

export const EU_2023_1670 = {
  act: "Regulation (EU) 2023/1670",
  where: "Annex II B 1.1(5) and D 1.1(5)",
  appliesFrom: "2025-06-20",
  rows: [
    {
      row: "a",
      what: "display and the parts for professionals, without the battery",
      roles: [
        "display",
        "front-camera",
        "rear-camera",
        "audio-connector",
        "charging-port",
        "button",
        "main-microphone",
        "speaker",
        "hinge",
      ],
      fasteners: ANY_FASTENER,
      tools: [...SUPPLIED, "commercially-available"],
      environment: "workshop",
      skill: "generalist",
    },
    {
      row: "b",
      what: "parts for end users, without battery and display",
      roles: ["back-cover", "protective-foil", "sim-tray"],
      fasteners: ANY_FASTENER,
      tools: SUPPLIED,
      environment: "use",
      skill: "layman",
    },
    {
      row: "c(i)",
      what: "battery, by end users",
      roles: ["battery"],
      fasteners: ["resupplied", "reusable"],
      tools: SUPPLIED,
      environment: "use",
      skill: "layman",
    },
    {
      row: "c(ii)",
      what: "battery, by professionals, for a durable battery in a tight device",
      roles: ["battery"],
      fasteners: ANY_FASTENER,
      tools: [...SUPPLIED, "commercially-available"],
      environment: "workshop",
      skill: "generalist",
    },
  ] as const satisfies readonly DisassemblyRow[],
  /** Percent of the rated capacity that must remain, and the tightness, for row c(ii). */
  durable: {
    after500: 83,
    after1000: 80,
    ingress: {
      smartphone: { solids: 6, water: [7, 8], text: "IP67: dust tight, 1 m of water for 30 min" },
      "slate-tablet": { solids: 4, water: [2, 3, 4, 5, 6, 7, 8], text: "IP42" },
    },
  },
} as const;

export const EU_2023_1542 = {
  act: "Regulation (EU) 2023/1542",
  where: "Article 11",
  appliesFrom: "2027-02-18",
  relation:
    "Article 11(1) leaves Union rules with a higher level of protection untouched. 2023/1670 (c)(i) is stricter on tools and skill and silent on heat, (c)(ii) is weaker; how they stand to each other is not settled in the texts read, so both results are printed.",
} as const;
