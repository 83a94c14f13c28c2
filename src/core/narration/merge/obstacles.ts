/**
 * What stands in the way of a joint, guessed from what was said: which of the parts that are off already lay over it.
 *
 * An order of work alone is no reason. A part that came off earlier stands in the way of another only
 *   R1 where it is the cover of the device (the cover closes over everything inside);
 *   R2 where it is a bracket or shield named after the part ("battery bracket", battery);
 *   R3 where it is film, a coil or a flat cable that was peeled, and the words say from what, or it lay on the way to the
 *      cell: what is peeled lies flat over the largest part inside;
 *   R4 where it is a shield or a cover plate inside, screwed down, and a plug or the board was worked on after it: such
 *      plates close over the plugs of their end of the device;
 *   R5 where it is a carrier or cover at the same end ("upper", "lower") as the part;
 *   R6 where it is the cell or the main board, and the part is the tub or the plate that carries both.
 * One relation for each joint: the obstacle nearest to it, because that one has the others in its own way. Common practice,
 * no source; every guess is an open question.
 */
import type { Joint, Part } from "../../record/index.ts";
import { nounAt } from "../lookup.ts";
import { nameWords, partFor } from "./names.ts";

/** A part that is off, and how it came off. */
export interface Off {
  readonly part: Part;
  /** Words with which film was peeled, where it was. */
  readonly peeled?: string;
  /** Held by screws. */
  readonly screwed: boolean;
}

export interface Guess {
  readonly parts: readonly string[];
  /** The rule, for the note of the part. */
  readonly because: string;
}

/** @param off in the order in which they came off; @param cover the cover of the device, null while it is on */
export function obstacle(part: Part, kind: Joint["kind"], off: readonly Off[], cover: Part | null): Guess | null {
  const inside = off.filter((one) => one.part.id !== part.id && one.part.id !== cover?.id);
  if ((part.role === "back-cover" || part.role === "frame") && kind !== "connector") {
    const carried = inside.filter((one) => one.part.role === "battery" || MAIN.test(one.part.name));
    if (carried.length > 1)
      return {
        parts: carried.map((one) => one.part.id),
        because: `R6: it carries ${carried.map((one) => one.part.name).join(" and ")}`,
      };
  }
  if (part.role === "battery" && kind !== "connector") {
    const flat = inside.filter((one) => one.peeled !== undefined && liesFlat(one, part));
    if (flat.length > 0)
      return {
        parts: flat.map((one) => one.part.id),
        because: `R3: ${flat.map((one) => one.part.name).join(", ")} was peeled on the way to it`,
      };
  }
  const named =
    inside.findLast((one) => plate(one) && PLUGS.test(one.part.name) && sharesName(one.part, part)) ??
    inside.findLast(plate);
  // Its own bracket lies over the part; its plug is at the board, under the plate there. The cell's bracket is over the plug.
  const boardPlate = inside.some(
    (one) => plate(one) && one !== named && !ownerOf(one.part, part) && fits(one.part, part),
  );
  const ownPlug = kind !== "connector" || part.role === "battery" || !boardPlate;
  if (
    ownPlug &&
    named !== undefined &&
    sharesName(named.part, part) &&
    kind !== "adhesive" &&
    kind !== "tape" &&
    kind !== "debondable-adhesive"
  )
    return { parts: [named.part.id], because: `R2: ${named.part.name} is named after it and came off before` };
  const over = inside.findLast((one) => one.peeled !== undefined && says(one.peeled, part));
  if (over !== undefined && kind !== "connector")
    return { parts: [over.part.id], because: `R3: ${over.part.name} was peeled off it` };
  if (kind === "connector" || part.role === "board") {
    const plates = inside.filter(
      (one) => plate(one) && !ownerOf(one.part, part) && !sharesName(one.part, part) && fits(one.part, part),
    );
    const here = zone(part);
    const one =
      (here === null ? undefined : plates.findLast((each) => zone(each.part) === here)) ??
      plates.find((each) => each.part.role === "shield") ??
      plates.findLast((each) => zone(each.part) === null) ??
      plates.at(-1);
    if (one !== undefined)
      return { parts: [one.part.id], because: `R4: ${one.part.name} came off before and closes over plugs` };
  } else if (zone(part) !== null) {
    const carrier = inside.findLast((one) => carries(one) && zone(one.part) === zone(part));
    if (carrier !== undefined)
      return { parts: [carrier.part.id], because: `R5: ${carrier.part.name} came off before at the same end` };
  }
  return cover === null || cover.id === part.id
    ? null
    : { parts: [cover.id], because: `R1: worked on after ${cover.name} was off, which closes over the inside` };
}

const PLUGS = /\b(?:plug|connector)\b/i;

const MAIN = /^(?:main ?board|logic board|motherboard|board)$/i;

const plate = (one: Off) => one.screwed && (one.part.role === "bracket" || one.part.role === "shield");

const carries = (one: Off) => plate(one) || (one.screwed && /\b(?:carrier|cover|cradle|module)$/i.test(one.part.name));

function sharesName(over: Part, part: Part): boolean {
  const words = nameWords(over.name).slice(0, -1);
  return nameWords(part.name).some((word) => words.includes(word) && !END.has(word));
}

/** A bracket named after another part covers that one's plug only. */
function ownerOf(over: Part, part: Part): boolean {
  const words = nameWords(over.name).slice(0, -1);
  const owner = words.some(
    (word) =>
      nounAt((n) => (n === 0 ? word : null))?.classes.some((one) => one === "part") === true && word !== "board",
  );
  return owner && !sharesName(over, part);
}

const END = new Set(["upper", "lower", "top", "bottom", "left", "right", "front", "rear", "back"]);

/** The end of the device at which a part sits: by its name, else by what it is. */
function zone(part: Part): "upper" | "lower" | null {
  const words = nameWords(part.name);
  if (words.includes("upper") || words.includes("top")) return "upper";
  if (words.includes("lower") || words.includes("bottom")) return "lower";
  if (part.role === "front-camera" || /\b(?:earpiece|light sensor)\b/i.test(part.name)) return "upper";
  if (
    /\b(?:port board|charging port|port|vibration motor|loudspeaker|sim reader|main microphone|bottom microphone)\b/i.test(
      part.name,
    )
  )
    return "lower";
  return null;
}

/** A plate of the other end covers nothing here. */
const fits = (over: Part, part: Part) => zone(over) === null || zone(part) === null || zone(over) === zone(part);

/** Film, coil or flat cable, peeled from the part itself or from nothing that was named. */
function liesFlat(one: Off, part: Part): boolean {
  const flat =
    one.part.role === "coil" || /\b(?:graphite|film|sheet|foil|tape|flex|cable|ribbon|pad)\b/i.test(one.part.name);
  if (!flat) return false;
  const from =
    /\b(?:off|from)\s+(?:of\s+)?(?:the|its|this|that)\s+([a-z -]+?)(?:[.,]|$|\s(?:and|in|so|with|slowly)\b)/i.exec(
      one.peeled ?? "",
    )?.[1];
  return from === undefined || says(one.peeled ?? "", part) || /\b(?:graphite|coil|battery|cell)\b/i.test(from);
}

/** "… off the battery": the words name the part beneath. */
function says(text: string, part: Part): boolean {
  const name = nameWords(part.name);
  const beneath = /\b(?:off|from|over)\s+(?:of\s+)?(?:the|its|this|that)\s+(.+)$/i.exec(text)?.[1];
  const words = beneath === undefined ? [] : nameWords(beneath);
  return (
    (name.length > 0 && words.length > 0 && name.every((word) => words.slice(0, 4).includes(word))) ||
    [1, 2, 3].some((length) => words.length >= length && partFor([part], words.slice(0, length).join(" ")) !== null)
  );
}
