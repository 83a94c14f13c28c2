/** What the words of a draft are in a record: kinds of joint, release and tool, the quantity of a claim. */
import type { Claim, Joint, Release, TeardownRecord, Tool } from "../../record/index.ts";
import type { DraftClaim, DraftEntry } from "../draft.ts";
import { nounAt } from "../lookup.ts";

export const tellingKey = (one: { action: string; at?: number | null; text?: string }) =>
  `${one.action}\n${one.at ?? ""}\n${one.text ?? ""}`;

/** A face or an edge of the device. */
export const facing = (text: string) =>
  /^(?:(?:bottom|top|lower|upper|left|right|rear|front|back)\s*)?(?:edge|end|side|bottom|top|corner|rim|seam|face|underside)s?$/i.test(
    text,
  );

/** Has the thing a place of its own in the record, or does it only belong to a part? */
export function ownPart(text: string): boolean {
  const words = text.toLowerCase().split(/\s+/);
  for (let start = 0; start < words.length; start += 1) {
    const span = nounAt((n) => words[start + n] ?? null);
    if (span === null || start + span.words.length !== words.length) continue;
    return span.classes.some((cls) => cls === "part" || cls === "film" || cls === "plug" || cls === "chip");
  }
  return words.length <= 4 && /^[a-z]/i.test(text);
}

export function jointKind(
  action: DraftEntry["action"],
  object: string,
  role: string | undefined,
): Joint["kind"] | null {
  switch (action) {
    case "unscrew":
      return "screw";
    case "unplug":
      return "connector";
    case "desolder":
      return "solder";
    case "debond":
      return "debondable-adhesive";
    case "peel":
      return /tape|film|label|sticker|foil|graphite|sheet|tab|strip/i.test(object) ? "tape" : "adhesive";
    case "slice":
    case "wet":
      return "adhesive";
    case "pry":
      return /clip/i.test(object)
        ? "clip"
        : role === "display" || role === "back-cover" || role === "battery"
          ? "adhesive"
          : "press-fit";
    default:
      return null;
  }
}

export function releaseAction(kind: Joint["kind"], action: DraftEntry["action"]): Release["action"] {
  if (action === "wet") return "slice";
  if (kind === "screw") return "unscrew";
  return action === "unplug" ||
    action === "pry" ||
    action === "slice" ||
    action === "peel" ||
    action === "debond" ||
    action === "desolder" ||
    action === "cut"
    ? action
    : "pull";
}

/** Regulation (EU) 2023/1669, Annex IVa: the closed list of basic tools; all else can be bought by the public. */
export function toolKind(name: string): Tool["kind"] {
  if (/pentalobe|tri-?(?:wing|point|lobe)/i.test(name)) return "commercially-available";
  return /screwdriver|\bdriver\b|hexagon|wrench|pliers|cutters?\b|snips|pry|prying|lever|tweezers|magnif|spudger|\bpick\b|opening tool|flat tool/i.test(
    name,
  )
    ? "basic"
    : "commercially-available";
}

export function quantityOf(claim: DraftClaim): Pick<Claim, "quantity"> {
  if (claim.relation === "lighter" || claim.relation === "heavier") return { quantity: "mass" };
  if (claim.relation === "thinner" || claim.relation === "thicker") return { quantity: "thickness" };
  if (claim.unit === "mAh" || claim.unit === "Ah") return { quantity: "capacity" };
  if (claim.unit === "Wh") return { quantity: "energy" };
  if ((claim.relation === "more" || claim.relation === "fewer") && claim.unit === "1") return { quantity: "count" };
  if (claim.relation === "fraction" || claim.relation === "superlative" || claim.relation === "same") {
    const said = /\b(mass|weight|weighs|thickness|capacity|width|height|thinnest|lightest|heaviest|thickest)\b/i
      .exec(claim.text)?.[1]
      ?.toLowerCase();
    const quantity =
      said === undefined
        ? undefined
        : /^(?:mass|weight|weighs|lightest|heaviest)$/.test(said)
          ? "mass"
          : /^thi/.test(said)
            ? "thickness"
            : said;
    return quantity === undefined ? {} : { quantity: quantity as NonNullable<Claim["quantity"]> };
  }
  return {};
}

/** Ids that the record holds, and the words that mean something of their own where an id may stand. */
export function usedIds(record: TeardownRecord): Set<string> {
  const lists = [
    record.parts,
    record.joints,
    record.tools,
    record.log,
    record.readings,
    record.claims,
    record.checks ?? [],
  ];
  return new Set([
    ...lists.flatMap((list) => list.map((one) => one.id)),
    ...["device", "zero", "glue", "screws", "SIM", "sibling"],
  ]);
}
