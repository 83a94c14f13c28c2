/**
 * Lines that scales and gauges send as plain text: flags, sign, value, unit. What makers agree on is common practice and
 * no standard, no source: a word for stable or unstable, a word for gross, net or tare, a value with its sign perhaps set
 * apart, a unit (left out by some for as long as the value moves).
 */
import type { UnitName } from "../../record/schema.ts";
import { writtenUnit } from "./typed-quantity.ts";

export type SerialLine =
  | {
      readonly kind: "value";
      readonly value: number;
      /** Digits after the point, as shown. */
      readonly places: number;
      readonly unit: UnitName | null;
      /** null: the instrument does not say. */
      readonly stable: boolean | null;
      readonly what: "gross" | "net" | "tare" | null;
    }
  | { readonly kind: "overload" | "underload" }
  | { readonly kind: "fault"; readonly found: string; readonly expected: string };

const STABLE = new Set(["ST", "S", "SS"]);
const UNSTABLE = new Set(["US", "SD", "D", "SI", "?", "M"]);
const WHAT: Readonly<Record<string, "gross" | "net" | "tare">> = {
  GS: "gross",
  G: "gross",
  B: "gross",
  NT: "net",
  N: "net",
  NET: "net",
  TR: "tare",
  T: "tare",
  TA: "tare",
  PT: "tare",
};
const OVER = new Set(["OL", "OVER", "H", "S+", "+OL"]);
const UNDER = new Set(["UL", "UNDER", "L", "S-", "-OL"]);
const VALUE = /([+-])?\s*(\d{1,9}(?:[.,]\d{1,6})?|[.,]\d{1,6})(?![\d.,])/;
/** A line as long as this is none. */
export const LONGEST_LINE = 120;

/** @param text one line without its ending */
export function serialLine(text: string): SerialLine {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: frames of some protocols (STX, ETX) stand round the text
  const line = text.replaceAll(/[\u0000-\u0008\u000b-\u001f\u007f]/g, " ").trim();
  const shown = `"${line.slice(0, 40)}"`;
  const fault = (found: string): SerialLine => ({
    kind: "fault",
    found,
    expected: "a line with one value and its unit, such as ST,GS,+  27.31 g",
  });
  if (line === "") return fault("an empty line");
  if (line.length > LONGEST_LINE) return fault(`a line of ${line.length} signs`);
  // A channel before the value, as gauges put it, is no digit of it.
  const bare = line.replace(/^\d{2}[A-Z](?=[+-]?\d)/, "");
  const match = VALUE.exec(bare);
  const compact = bare.toUpperCase().replaceAll(/[\s,;:]+/g, "");
  if (match === null) {
    if (OVER.has(compact) || /^(ST|US)?,?(GS|NT)?OL/.test(compact)) return { kind: "overload" };
    if (UNDER.has(compact)) return { kind: "underload" };
    return fault(`${shown}, without a value`);
  }
  const before = words(bare.slice(0, match.index));
  const after = bare.slice(match.index + match[0].length).trim();
  if (VALUE.test(after.replace(/^(mm|cm|m)[23]/i, ""))) return fault(`${shown}, with more than one value`);
  if (before.some((word) => word === "OL" || word === "OVER")) return { kind: "overload" };
  let stable: boolean | null = null;
  let what: "gross" | "net" | "tare" | null = null;
  // Two letters apart stand for one word: "S S" stable, "S D" dynamic.
  const flags =
    before.length >= 2 && before[0] === "S" && /^[SDI]$/.test(before[1]!)
      ? [`S${before[1]}`, ...before.slice(2)]
      : before;
  for (const word of flags) {
    if (STABLE.has(word)) stable ??= true;
    else if (UNSTABLE.has(word)) stable = false;
    else if (WHAT[word] !== undefined) what = WHAT[word];
    else return fault(`${shown}; "${word.slice(0, 12)}" is no flag that is known`);
  }
  const tail = /^([^\s,;?*]*)\s*[,;]?\s*(.*)$/.exec(after)!;
  let unit = tail[1] === "" ? null : writtenUnit(tail[1]!);
  for (const word of words(tail[2]!)) {
    if (UNSTABLE.has(word)) stable = false;
    else if (STABLE.has(word)) stable ??= true;
    else if (WHAT[word] !== undefined) what = WHAT[word];
    else return fault(`${shown}; "${word.slice(0, 12)}" is no flag that is known`);
  }
  if (unit === undefined) {
    const word = tail[1]!.toUpperCase();
    if (UNSTABLE.has(word)) stable = false;
    else if (STABLE.has(word)) stable ??= true;
    else return fault(`${shown}; "${tail[1]!.slice(0, 12)}" is no unit that is known`);
    unit = null;
  }
  const digits = match[2]!.replace(",", ".");
  const value = Number(digits) * (match[1] === "-" ? -1 : 1);
  const places = digits.includes(".") ? digits.length - digits.indexOf(".") - 1 : 0;
  return { kind: "value", value: value === 0 ? 0 : value, places, unit, stable, what };
}

const words = (text: string): string[] =>
  text
    .toUpperCase()
    .split(/[\s,;:=]+/)
    .filter((word) => word !== "" && word !== "+" && word !== "-");
