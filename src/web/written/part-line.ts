/**
 * A part told in one line, for entry by keyboard:
 *
 *     Battery; battery; under graphite or display; 1.2 to 4.55; of li_pouch; within frame; from back; live
 *
 * The name, then in any order: a role, what it lies under, its level in mm, its material, what it comes out within, the
 * side it comes off from, and whether it is powered until the cell is isolated.
 */
import { InputError } from "../../core/errors.ts";
import { type Part, ROLES, SIDES, type TeardownRecord } from "../../core/record/index.ts";
import { idFrom, NameList, oneOf, readGroups, readLevel } from "../../core/record/written/index.ts";

/** @throws InputError naming the piece that was not understood */
export function readPart(text: string, record: TeardownRecord): Part {
  const [name = "", ...pieces] = text.split(/\s*;\s*/);
  if (name.trim() === "")
    throw new InputError({
      path: "",
      found: `"${text}"`,
      expected: "the name first, such as Battery; battery; under back",
    });
  const names = new NameList("part", record.parts);
  let part: Part = {
    id: idFrom(
      name,
      record.parts.map((one) => one.id),
    ),
    name: name.trim(),
  };
  for (const piece of pieces.map((one) => one.trim()).filter((one) => one !== ""))
    part = { ...part, ...readPiece(piece, names) };
  return part;
}

function readPiece(piece: string, names: NameList): Partial<Part> {
  const words = /^(under|of|within|from)\s+(.+)$/i.exec(piece);
  switch (words?.[1]?.toLowerCase()) {
    case "under":
      return { under: readGroups(words![2]!, names) };
    case "of":
      return { material: words![2]!.trim() };
    case "within":
      return { within: names.need(words![2]!) };
    case "from":
      return { side: oneOf(words![2]!, SIDES, "a side") };
  }
  if (/^live$/i.test(piece)) return { live: true };
  if (/^-?\d/.test(piece)) return { level: readLevel(piece)! };
  return {
    role: oneOf(
      piece.replaceAll(" ", "-"),
      ROLES,
      "a role, or under, of, within, from, live or a level in mm; a role is one of",
    ),
  };
}
