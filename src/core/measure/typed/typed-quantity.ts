/**
 * A reading as it is typed at the bench: "1.4mm", "27,3 g", "1 3/8 in", "-0.02". Gloves, haste and calipers that act as a
 * keyboard; so a comma may be the decimal sign, the unit may be missing (the instrument's is then meant), and what could
 * mean two things is asked about, never guessed.
 */
import { InputError } from "../../errors.ts";
import type { QuantityName, UnitName } from "../../record/schema.ts";
import { QUANTITY_DIMENSIONS, UNITS, unitsOf } from "../../units/index.ts";

export interface TypedQuantity {
  readonly value: number;
  readonly unit: UnitName;
  /** Digits after the decimal sign as they were typed; null for a fraction. */
  readonly places: number | null;
}

export interface TypedExpectation {
  readonly quantity?: QuantityName;
  /** Where the text names none. */
  readonly unit?: UnitName;
}

/** Written forms of units besides the record's own names. */
const WRITTEN: Readonly<Record<string, UnitName>> = {
  '"': "in",
  "''": "in",
  "″": "in",
  inch: "in",
  inches: "in",
  µm: "um",
  μm: "um",
  micron: "um",
  microns: "um",
  "mm²": "mm2",
  "mm^2": "mm2",
  "cm²": "cm2",
  "cm^2": "cm2",
  gram: "g",
  grams: "g",
  gr: "g",
  "°c": "degC",
  c: "degC",
  "°f": "degF",
  f: "degF",
  ω: "ohm",
  ohms: "ohm",
  mω: "mohm",
  sec: "s",
  nm: "N.m",
  n·m: "N.m",
  "n*m": "N.m",
  "n m": "N.m",
  cnm: "cN.m",
  cn·m: "cN.m",
  "cn m": "cN.m",
  pcs: "1",
  pc: "1",
};

/** @throws InputError with what was found and what to type */
export function typedQuantity(text: string, expected: TypedExpectation = {}): TypedQuantity {
  const tidy = text
    .normalize("NFC")
    .replaceAll(/[\u00a0\u2009\u202f]/g, " ")
    .trim();
  if (tidy === "" || tidy.length > 60) throw wrong(tidy === "" ? "nothing" : "more than 60 signs", expected);
  const plain = spelledFractions(tidy);
  const fraction = /^([+\-\u2212\u2013]?)\s*(?:(\d{1,9})\s+)?(\d{1,9})\s*[/\u2044]\s*(\d{1,9})(.*)$/u.exec(plain);
  const number = /^([+\-\u2212\u2013]?)\s*(\d[\d.,]*|[.,]\d+)(.*)$/u.exec(plain);
  const match = fraction ?? number;
  if (match === null) throw wrong(`"${tidy}"`, expected);
  const [sign, rest] = [match[1]!, match.at(-1)!];
  if (fraction !== null && Number(fraction[4]) === 0) throw wrong(`"${tidy}", divided by nothing`, expected);
  const { value, places } =
    fraction === null
      ? decimal(match[2]!, tidy, expected)
      : { value: Number(fraction[2] ?? 0) + Number(fraction[3]) / Number(fraction[4]), places: null };
  const unit = unitOf(rest.trim(), tidy, expected);
  if (expected.quantity !== undefined && UNITS[unit].dimension !== QUANTITY_DIMENSIONS[expected.quantity]) {
    throw wrong(`"${tidy}", in ${unit}`, expected);
  }
  return { value: sign === "" || sign === "+" ? value : value === 0 ? 0 : -value, unit, places };
}

const SIGNS: Readonly<Record<string, string>> = {
  "½": "1/2",
  "¼": "1/4",
  "¾": "3/4",
  "⅛": "1/8",
  "⅜": "3/8",
  "⅝": "5/8",
  "⅞": "7/8",
};
const spelledFractions = (text: string): string => text.replaceAll(/[½¼¾⅛⅜⅝⅞]/g, (sign) => ` ${SIGNS[sign]}`).trim();

function decimal(number: string, text: string, expected: TypedExpectation): { value: number; places: number } {
  const points = number.split(".").length - 1;
  const commas = number.split(",").length - 1;
  let plain: string;
  if (points + commas === 0) plain = number;
  else if (points > 0 && commas > 0) {
    // Both: the last is the decimal sign, the other groups thousands.
    const last = number.lastIndexOf(".") > number.lastIndexOf(",") ? "." : ",";
    const [whole = "", ...more] = number.split(last);
    const group = last === "." ? "," : ".";
    if (more.length !== 1 || !new RegExp(`^\\d{1,3}(\\${group}\\d{3})+$`).test(whole))
      throw wrong(`"${text}"`, expected);
    plain = `${whole.replaceAll(group, "")}.${more[0]}`;
  } else if (points + commas > 1 || /^[1-9]\d{0,2},\d{3}$/.test(number)) {
    const [low, high] = [number.replace(",", "."), number.replaceAll(/[.,]/g, "")];
    throw new InputError({
      path: "",
      found: `"${text}", which can mean two things`,
      expected: `${low} or ${high}, with a point or without any sign`,
    });
  } else plain = number.replace(",", ".");
  const value = Number(plain);
  if (!Number.isFinite(value)) throw wrong(`"${text}"`, expected);
  return { value, places: plain.includes(".") ? plain.length - plain.indexOf(".") - 1 : 0 };
}

function unitOf(text: string, whole: string, expected: TypedExpectation): UnitName {
  if (text === "") {
    if (expected.unit !== undefined) return expected.unit;
    if (expected.quantity === "count") return "1";
    throw wrong(`"${whole}", without a unit`, expected);
  }
  const unit = writtenUnit(text, expected.quantity);
  if (unit === undefined) throw wrong(`"${whole}"; "${text.slice(0, 20)}" is no unit here`, expected);
  return unit;
}

/** A unit as people and instruments write it; undefined where it is none. */
export function writtenUnit(text: string, quantity?: QuantityName): UnitName | undefined {
  const own = (Object.keys(UNITS) as UnitName[]).find((name) => name === text);
  if (own !== undefined) return own;
  const low = text.toLowerCase();
  if (Object.hasOwn(WRITTEN, low)) return WRITTEN[low];
  // Capitals are taken for what fits: "MM", "G"; mohm and Mohm would be a million million apart and are not.
  const loose = (Object.keys(UNITS) as UnitName[]).filter((name) => name.toLowerCase() === low);
  const fitting =
    quantity === undefined ? loose : loose.filter((name) => UNITS[name].dimension === QUANTITY_DIMENSIONS[quantity]);
  return fitting.length === 1 && !/^M[^mM]/.test(text) ? fitting[0] : undefined;
}

function wrong(found: string, { quantity, unit }: TypedExpectation): InputError {
  const units =
    quantity === undefined ? "such as 1.4 mm or 27.3 g" : `in ${unitsOf(QUANTITY_DIMENSIONS[quantity]).join(", ")}`;
  return new InputError({
    path: "",
    found,
    expected: `a number${unit === undefined ? " with its unit" : ""} ${units}`,
  });
}
