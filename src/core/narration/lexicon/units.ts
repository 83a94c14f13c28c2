import type { QuantityName } from "../draft.ts";

/** Units as spoken and as written; the quantity is what a bare figure in that unit means, null where words must say it. */
export interface UnitWords {
  readonly unit: string;
  readonly quantity: QuantityName | null;
  readonly words: readonly string[];
}

export const UNITS: readonly UnitWords[] = [
  { unit: "g", quantity: "mass", words: ["g", "gr", "gram", "grams", "gramme", "grammes", "gms"] },
  {
    unit: "kg",
    quantity: "mass",
    words: ["kg", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"],
  },
  { unit: "mg", quantity: "mass", words: ["mg", "milligram", "milligrams"] },
  {
    unit: "mm",
    quantity: null,
    words: ["mm", "millimeter", "millimeters", "millimetre", "millimetres", "mil", "mils", "mill"],
  },
  { unit: "cm", quantity: null, words: ["cm", "centimeter", "centimeters", "centimetre", "centimetres"] },
  { unit: "in", quantity: null, words: ["inch", "inches", "in.", '"', "″", "”"] },
  { unit: "um", quantity: null, words: ["µm", "um", "micron", "microns", "micrometers", "micrometres"] },
  {
    unit: "mm2",
    quantity: "area",
    words: [
      "mm2",
      "mm²",
      "square millimeters",
      "square millimetres",
      "square millimeter",
      "square millimetre",
      "square mm",
      "square mil",
    ],
  },
  {
    unit: "cm2",
    quantity: "area",
    words: [
      "cm2",
      "cm²",
      "square centimeters",
      "square centimetres",
      "square centimeter",
      "square centimetre",
      "square cm",
    ],
  },
  {
    unit: "mAh",
    quantity: "capacity",
    words: [
      "mah",
      "milliamp hours",
      "milliamp hour",
      "milli amp hours",
      "milliampere hours",
      "milliampere hour",
      "milliamps hours",
      "milliamp-hours",
      "milliampere-hours",
      "milli ampere hours",
      "milliamps",
      "milliamp",
    ],
  },
  { unit: "Ah", quantity: "capacity", words: ["ah", "amp hours", "amp hour", "ampere hours", "amp-hours"] },
  { unit: "Wh", quantity: "energy", words: ["wh", "watt hours", "watt hour", "watt-hours", "watt-hour", "watthours"] },
  { unit: "V", quantity: "voltage", words: ["v", "volt", "volts"] },
  { unit: "mV", quantity: "voltage", words: ["mv", "millivolt", "millivolts"] },
  {
    unit: "degC",
    quantity: "temperature",
    words: [
      "°c",
      "degc",
      "c",
      "celsius",
      "degrees celsius",
      "degree celsius",
      "degrees c",
      "degrees centigrade",
      "centigrade",
      "º c",
      "° c",
      "ºc",
      "degrees of celsius",
    ],
  },
  {
    unit: "degF",
    quantity: "temperature",
    words: ["°f", "degf", "fahrenheit", "degrees fahrenheit", "degrees f", "degree fahrenheit", "ºf"],
  },
  { unit: "s", quantity: "duration", words: ["s", "sec", "secs", "second", "seconds"] },
  { unit: "min", quantity: "duration", words: ["min", "mins", "minute", "minutes"] },
  { unit: "h", quantity: "duration", words: ["hour", "hours", "h", "hr", "hrs"] },
  {
    unit: "N.m",
    quantity: "torque",
    words: [
      "n.m",
      "nm",
      "n·m",
      "newton meters",
      "newton meter",
      "newton metres",
      "newton metre",
      "newton-metres",
      "newton-meters",
    ],
  },
  {
    unit: "cN.m",
    quantity: "torque",
    words: [
      "cn.m",
      "cnm",
      "centinewton meters",
      "centinewton metres",
      "centinewton meter",
      "centi newton meters",
      "centi newton metres",
    ],
  },
  { unit: "%", quantity: null, words: ["%", "percent", "per cent"] },
];

/** "Eighty degrees": Celsius, or Fahrenheit where this narrator says Fahrenheit elsewhere. */
export const BARE_DEGREES = ["degrees", "degree", "°", "deg"] as const;

/** Words that say what a length is. */
export const DIMENSIONS: Readonly<Record<string, readonly string[]>> = {
  thickness: ["thick", "thickness", "deep", "depth", "in thickness", "in depth", "thin"],
  width: ["wide", "width", "in width", "broad"],
  height: ["high", "height", "tall", "in height"],
  length: ["long", "length", "in length"],
  diameter: ["diameter", "in diameter", "across", "round"],
  diagonal: ["diagonal", "diagonally", "corner to corner"],
  mass: ["mass", "weight", "weighs", "weigh", "heavy"],
  capacity: ["capacity"],
  energy: ["energy"],
  voltage: ["voltage"],
  temperature: ["temperature"],
  torque: ["torque"],
  area: ["area"],
};
