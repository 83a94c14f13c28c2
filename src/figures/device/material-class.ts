import type { Part } from "../../core/record/index.ts";
import type { Hatch } from "../scene.ts";

/** Words in a material's name, the first that fits decides. Draughting habit: one hatch a class of material. */
const WORDS: readonly (readonly [RegExp, Hatch])[] = [
  [/pouch|li.?ion|lithium.?ion|\bcell\b|battery/i, "cell"],
  [/glass|ceramic|sapphire/i, "glass"],
  [/fr-?4|laminate|pcb|board|polyimide|flex|silicon\b|^si$|mould/i, "board"],
  [/ferrite|coil|winding/i, "coil"],
  [
    /steel|^ss\d|alumin(i?um)|^al\d|titan|^ti[\d_]|magnes|^mg|brass|copper|^cu|nickel|metal|alloy|zinc|graphite/i,
    "metal",
  ],
  [/foam|psa|adhesive|tape|poly|^pc$|^pet$|^pa|nylon|abs|plastic|rubber|silicone|epoxy|gasket|paper|film/i, "polymer"],
];

const BY_ROLE: Partial<Record<NonNullable<Part["role"]>, Hatch>> = {
  battery: "cell",
  display: "glass",
  board: "board",
  "charging-port": "board",
  cable: "board",
  frame: "metal",
  bracket: "metal",
  shield: "metal",
  hinge: "metal",
  coil: "coil",
  gasket: "polymer",
  "protective-foil": "polymer",
};

/** The hatch of a part: by its material where that says something, else by its role; null where neither does. */
export function materialClass(part: Pick<Part, "material" | "role">): Hatch | null {
  if (part.role === "battery") return "cell";
  const { material } = part;
  if (material !== undefined) for (const [words, hatch] of WORDS) if (words.test(material)) return hatch;
  return (part.role && BY_ROLE[part.role]) ?? null;
}
