/**
 * Exact decimals as whole numbers of hundredths or ten-thousandths: binary floats cannot tell 3.345 from its neighbours,
 * and a class limit may lie just there.
 */
import { InputError } from "../errors.ts";

/** A whole number of 10^-places as a decimal: decimal(28325, 4) is "2.8325". Negative values keep their sign. */
export function decimal(value: number, places: number): string {
  const scale = 10 ** places;
  const size = Math.abs(value);
  const whole = Math.floor(size / scale);
  const rest = String(size % scale).padStart(places, "0");
  return `${value < 0 ? "-" : ""}${whole}${places > 0 ? `.${rest}` : ""}`;
}

/**
 * Reads a decimal written with at most `places` digits after the point (a comma is read as well) into a whole number of
 * 10^-places.
 *
 * @throws InputError when it is no such decimal
 */
export function hundredths(text: string | number, path: string, places = 2): number {
  const words = typeof text === "number" ? String(text) : text.trim().replace(",", ".");
  const match = /^(\d{1,9})(?:\.(\d+))?$/.exec(words);
  const digits = (match?.[2] ?? "").replace(/0+$/, "");
  if (match === null || digits.length > places) {
    throw new InputError({
      path,
      found: JSON.stringify(text),
      expected: `a decimal with at most ${places} places, such as 2.45`,
    });
  }
  return Number(match[1]) * 10 ** places + Number(digits.padEnd(places, "0"));
}

/** Rounds a whole number of 10^-4 half up to 10^-2. */
export function halfUp(tenThousandths: number): number {
  return Math.floor((tenThousandths + 50) / 100);
}
