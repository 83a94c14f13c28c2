/**
 * How a result is written: value and expanded uncertainty, rounded to the same decimal place (JCGM 100:2008, 7.2.6):
 * the uncertainty to two significant digits, the value to the place where the uncertainty ends, never finer.
 */

export interface Rounded {
  /** Decimal exponent of the last place kept: -2 for hundredths, 1 for tens. */
  readonly place: number;
  readonly value: number;
}

/** "up" never makes an uncertainty smaller (7.2.6 allows it: 10.47 mohm is reported as 11 mohm). */
export type RoundingMode = "nearest" | "up";

/** Rounds an uncertainty to two significant digits; `place` is where the value that it belongs to must end. u > 0. */
export function roundUncertainty(u: number, mode: RoundingMode = "nearest"): Rounded {
  // By way of decimal text, so that 0.0995 is judged as written and becomes 0.10, one place up.
  const rounded = Number(u.toPrecision(mode === "up" ? 12 : 2));
  const place = Number(rounded.toExponential().split("e")[1]) - 1;
  if (mode === "nearest") return { place, value: roundTo(rounded, place) };
  const steps = Math.ceil(Number((rounded / 10 ** place).toPrecision(12)));
  return steps < 100
    ? { place, value: Number(`${steps}e${place}`) }
    : { place: place + 1, value: Number(`10e${place + 1}`) };
}

/** Rounds to a decimal place, halves away from zero, judged on the decimal text of the number. */
export function roundTo(value: number, place: number): number {
  const steps = Number((value * 10 ** -place).toPrecision(14));
  if (!Number.isFinite(steps)) return value;
  const whole = Math.sign(steps) * Math.round(Math.abs(steps));
  return shifted(whole === 0 ? 0 : whole, place);
}

/** Powers of ten that a double holds exactly. */
const POWERS = [1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18];

/** n·10^places by its decimal text, so that no binary dust is added. */
function shifted(n: number, places: number): number {
  const power = POWERS[Math.abs(places)];
  // Both are exact, so that the one rounding of the quotient or product is that of the decimal text.
  if (power !== undefined && Number.isSafeInteger(n)) return places < 0 ? n / power : n * power;
  const [mantissa, exponent] = n.toExponential().split("e");
  return Number(`${mantissa}e${Number(exponent) + places}`);
}

/** A number with all the places down to `place`, and none finer. */
export function fixed(value: number, place: number): string {
  const text = roundTo(value, place).toFixed(Math.min(100, Math.max(0, -place)));
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** Value and uncertainty as "27.320 ± 0.051 g"; very large and very small ones with a power of ten. */
export function resultText(value: number, expanded: number, unit = "", mode: RoundingMode = "nearest"): string {
  const tail = unit === "" || unit === "1" ? "" : ` ${unit}`;
  if (!(expanded > 0)) return `${plain(value)}${tail}`;
  const { place, value: shown } = roundUncertainty(expanded, mode);
  const size = Math.max(Math.abs(value), shown);
  const exponent = Math.floor(Math.log10(size) + 1e-12);
  if (exponent >= 10 || exponent < -4 || place > 2) {
    const shift = (n: number) => fixed(shifted(n, -exponent), place - exponent);
    return `(${shift(roundTo(value, place))} ± ${shift(shown)}) × 10^${exponent}${tail}`;
  }
  return `${fixed(value, place)} ± ${fixed(shown, place)}${tail}`;
}

/** A number without uncertainty: its digits, without the dust of binary arithmetic. */
export function plain(value: number): string {
  return String(Number(value.toPrecision(12)));
}

/** A probability for people: never 0 or 1, which no measurement gives. */
export function probabilityText(p: number): string {
  if (p > 0.9995) return "more than 99.9 %";
  if (p < 0.0005) return "less than 0.1 %";
  return `${fixed(p * 100, p > 0.9 || p < 0.1 ? -1 : 0)} %`;
}
