/** Single fields as they are written into a table: levels and fasteners. */
import { InputError } from "../../errors.ts";
import type { Joint, Part } from "../schema.ts";

type Screws = NonNullable<Joint["screws"]>;

/** "0.7 to 1.9" in mm below the back face. Nothing written: not known. @throws InputError */
export function readLevel(text: string): Part["level"] {
  if (text.trim() === "") return undefined;
  const two = /^\s*(-?\d+(?:[.,]\d+)?)\s*(?:to|-|–|;|\s)\s*(-?\d+(?:[.,]\d+)?)\s*(?:mm)?\s*$/i.exec(text);
  if (!two) throw new InputError({ path: "", found: `"${text}"`, expected: "two levels in mm, such as 0.7 to 1.9" });
  const [from, to] = [two[1]!, two[2]!].map((one) => Number(one.replace(",", "."))) as [number, number];
  if (to < from) throw new InputError({ path: "", found: `"${text}"`, expected: "the level nearer to the back first" });
  return [from, to];
}

export const levelText = (level: Part["level"]): string => (level === undefined ? "" : `${level[0]} to ${level[1]}`);

/** "Phillips #000, M1.2, 2.4 mm". */
export function screwsText(screws: Screws | undefined): string {
  if (screws === undefined) return "";
  return [screws.drive, screws.thread, screws.length === undefined ? undefined : `${screws.length} mm`]
    .filter((one) => one !== undefined)
    .join(", ");
}

/**
 * The drive first; a thread and a length behind it where they are known. What a table cannot say (places, torque, heads)
 * stays as it was.
 *
 * @throws InputError when there is no drive, or a length without its unit
 */
export function readScrews(text: string, before?: Screws): Screws | undefined {
  if (text.trim() === "") return undefined;
  const pieces = text.split(/,(?!\d)/).map((one) => one.trim());
  const { drive: _, thread: __, length: ___, ...kept } = before ?? { drive: "" };
  // From the end, as a drive may have commas of its own.
  const last = pieces.at(-1)!;
  const length = pieces.length > 1 ? /^(\d+(?:[.,]\d+)?)\s*mm$/i.exec(last) : null;
  if (length) pieces.pop();
  else if (pieces.length > 1 && /^\d/.test(last))
    throw new InputError({ path: "", found: `"${last}"`, expected: "a length with its unit, such as 2.4 mm" });
  const thread = pieces.length > 1 && /^(?:m|s)\s*\d/i.test(pieces.at(-1)!) ? pieces.pop() : undefined;
  const drive = pieces.join(", ");
  if (pieces[0] === "")
    throw new InputError({ path: "", found: `"${text}"`, expected: "the drive first, such as Phillips #000, 2.4 mm" });
  const screws: Screws = {
    ...kept,
    drive,
    ...(thread === undefined ? {} : { thread }),
    ...(length ? { length: Number(length[1]!.replace(",", ".")) } : {}),
  };
  return screws;
}
