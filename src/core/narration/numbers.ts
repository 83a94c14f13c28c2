/**
 * Numbers and quantities as they are spoken and written: "twenty nine point four", "4,500", "one and a half", "three
 * eighths", "two tenths of a millimetre", "a minute and a half". The value is kept as said and never converted.
 */

import type { QuantityName } from "./draft.ts";
import { BARE_DEGREES, UNITS } from "./lexicon/index.ts";
import { isNoun } from "./lookup.ts";
import type { Token } from "./tokens.ts";

const ONES: Readonly<Record<string, number>> = {
  zero: 0,
  oh: 0,
  nought: 0,
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
};
const TEENS: Readonly<Record<string, number>> = {
  ten: 10,
  eleven: 11,
  twelve: 12,
  thirteen: 13,
  fourteen: 14,
  fifteen: 15,
  sixteen: 16,
  seventeen: 17,
  eighteen: 18,
  nineteen: 19,
};
const TENS: Readonly<Record<string, number>> = {
  twenty: 20,
  thirty: 30,
  forty: 40,
  fourty: 40,
  fifty: 50,
  sixty: 60,
  seventy: 70,
  eighty: 80,
  ninety: 90,
};
const PARTS_OF_ONE: Readonly<Record<string, number>> = {
  half: 2,
  halves: 2,
  third: 3,
  thirds: 3,
  quarter: 4,
  quarters: 4,
  fourth: 4,
  fourths: 4,
  fifth: 5,
  fifths: 5,
  sixth: 6,
  sixths: 6,
  seventh: 7,
  sevenths: 7,
  eighth: 8,
  eighths: 8,
  ninth: 9,
  ninths: 9,
  tenth: 10,
  tenths: 10,
  twelfth: 12,
  sixteenth: 16,
  sixteenths: 16,
  twentieth: 20,
  "thirty-second": 32,
  hundredth: 100,
  hundredths: 100,
  thousandth: 1000,
  thousandths: 1000,
};
const SIGNS: Readonly<Record<string, number>> = { "½": 0.5, "¼": 0.25, "¾": 0.75 };

export interface SpokenNumber {
  readonly value: number;
  /** Index of the token after the number. */
  readonly end: number;
  /** "A third", "two fifths": a part of a whole, never a count of things. */
  readonly fraction: boolean;
  readonly digits: boolean;
}

export interface SpokenQuantity {
  readonly value: number;
  readonly unit: string;
  readonly quantity: QuantityName | null;
  /** "Eighty degrees", with neither Celsius nor Fahrenheit. */
  readonly bareDegrees: boolean;
  readonly end: number;
}

/** The number that begins at token `i`, or null. */
export function numberAt(tokens: readonly Token[], i: number): SpokenNumber | null {
  return digitsAt(tokens, i) ?? fractionAt(tokens, i) ?? wordsAt(tokens, i);
}

function digitsAt(tokens: readonly Token[], i: number): SpokenNumber | null {
  const token = tokens[i];
  if (token === undefined) return null;
  const sign = SIGNS[token.w];
  if (sign !== undefined) return { value: sign, end: i + 1, fraction: true, digits: true };
  const ratio = /^(\d{1,3})\/(\d{1,3})$/.exec(token.w);
  if (ratio !== null && Number(ratio[2]) > 0)
    return { value: Number(ratio[1]) / Number(ratio[2]), end: i + 1, fraction: true, digits: true };
  const value = written(token.w);
  if (value === null) return null;
  let end = i + 1;
  if (token.stop === 0 && Number.isInteger(value)) {
    const next = tokens[end];
    // "4 500 mAh": a space between thousands.
    if (
      next !== undefined &&
      /^\d{1,3}$/.test(token.w) &&
      /^\d{3}$/.test(next.w) &&
      unitAt(tokens, end + 1, true) !== null
    )
      return { value: Number(token.w + next.w), end: end + 1, fraction: false, digits: true };
    const more = SIGNS[next?.w ?? ""];
    if (more !== undefined) return { value: value + more, end: end + 1, fraction: false, digits: true };
    const ratioAfter = /^(\d)\/(\d{1,2})$/.exec(next?.w ?? "");
    if (ratioAfter !== null)
      return {
        value: value + Number(ratioAfter[1]) / Number(ratioAfter[2]),
        end: end + 1,
        fraction: false,
        digits: true,
      };
    const half = andFraction(tokens, end);
    if (half !== null) return { value: value + half.value, end: half.end, fraction: false, digits: true };
    if (next?.w === "point") {
      const tail = decimals(tokens, end + 1);
      if (tail !== null) {
        end = tail.end;
        return { value: Number(`${value}.${tail.text}`), end, fraction: false, digits: true };
      }
    }
    if (next?.w === "hundred" || next?.w === "thousand")
      return { value: value * (next.w === "hundred" ? 100 : 1000), end: end + 1, fraction: false, digits: true };
  }
  return { value, end, fraction: false, digits: true };
}

/** "151.6", "4,500", "0,7", "1.250,5" is refused: nobody can tell. */
function written(text: string): number | null {
  if (/^\d{1,12}(?:\.\d{1,9})?$/.test(text)) return Number(text);
  if (/^\d{1,3}(?:,\d{3})+(?:\.\d{1,9})?$/.test(text)) return Number(text.replaceAll(",", ""));
  if (/^\d{1,6},\d{1,2}$/.test(text)) return Number(text.replace(",", "."));
  return null;
}

/** "Half", "a third", "three eighths", "sixty one hundredths". */
function fractionAt(tokens: readonly Token[], i: number): SpokenNumber | null {
  const token = tokens[i]!;
  const done = (value: number, end: number): SpokenNumber => ({ value, end, fraction: true, digits: false });
  if (token === undefined) return null;
  if (token.w === "half" && token.stop === 0 && tokens[i + 1]?.w === "a" && tokens[i + 2]?.w === "dozen")
    return { value: 6, end: i + 3, fraction: false, digits: false };
  if (token.w === "half" && tokens[i - 1]?.w !== "back") return done(0.5, i + 1);
  if (token.w === "quarter") return done(0.25, i + 1);
  if (token.w === "a" || token.w === "an") {
    const part = PARTS_OF_ONE[tokens[i + 1]?.w ?? ""];
    if (part === undefined || tokens[i + 1]!.w.endsWith("s")) return null;
    // "An eighth screw" is one more screw.
    if (isNoun(tokens[i + 2]?.w ?? "") && tokens[i + 1]!.stop === 0 && unitAt(tokens, i + 2, true) === null)
      return null;
    return done(1 / part, i + 2);
  }
  const top = wordsAt(tokens, i) ?? null;
  if (top === null || !Number.isInteger(top.value)) return null;
  const part = PARTS_OF_ONE[tokens[top.end]?.w ?? ""];
  if (part === undefined || tokens[top.end - 1]!.stop > 0) return null;
  // "One third" and "two thirds", never "two third".
  if (top.value > 1 && !tokens[top.end]!.w.endsWith("s")) return null;
  if (top.value === 1 && tokens[top.end]!.w.endsWith("s") && part < 100) return null;
  return done(top.value / part, top.end + 1);
}

function wordsAt(tokens: readonly Token[], i: number): SpokenNumber | null {
  const whole = integerAt(tokens, i);
  const start = whole === null ? i : whole.end;
  const joined = whole === null || tokens[whole.end - 1]!.stop === 0;
  if (joined && tokens[start]?.w === "point" && tokens[start]!.stop === 0) {
    const tail = decimals(tokens, start + 1);
    // A bare "point five" needs something measured after it: "the point one" is talk.
    const part = tokens[tail?.end ?? 0]?.w === "of" && /^(?:a|an)$/.test(tokens[(tail?.end ?? 0) + 1]?.w ?? "") ? 2 : 0;
    if (tail !== null && (whole !== null || unitAt(tokens, tail.end + part, false) !== null))
      return { value: Number(`${whole?.value ?? 0}.${tail.text}`), end: tail.end, fraction: false, digits: false };
  }
  if (whole === null) return null;
  const half = joined ? andFraction(tokens, whole.end) : null;
  if (half !== null) return { value: whole.value + half.value, end: half.end, fraction: false, digits: false };
  return { value: whole.value, end: whole.end, fraction: false, digits: false };
}

/** "… and a half", "… and three quarters", "… and half". */
function andFraction(tokens: readonly Token[], i: number): { value: number; end: number } | null {
  if (tokens[i]?.w !== "and" || tokens[i]!.stop > 0) return null;
  const a = tokens[i + 1]?.w;
  if (a === "half" && tokens[i + 2]?.w !== "the") return { value: 0.5, end: i + 2 };
  const top = a === "a" || a === "an" || a === "one" ? 1 : (ONES[a ?? ""] ?? null);
  const part = PARTS_OF_ONE[tokens[i + 2]?.w ?? ""];
  if (top === null || top === 0 || part === undefined) return null;
  return { value: top / part, end: i + 3 };
}

function decimals(tokens: readonly Token[], i: number): { text: string; end: number } | null {
  let text = "";
  let end = i;
  for (let index = i; index < i + 6; index += 1) {
    const token = tokens[index];
    if (token === undefined || (index > i && tokens[index - 1]!.stop > 0)) break;
    const one = ONES[token.w];
    const more = TEENS[token.w] ?? TENS[token.w];
    if (one !== undefined) text += String(one);
    else if (/^\d{1,4}$/.test(token.w)) text += token.w;
    else if (more !== undefined && text === "") {
      const unit = TENS[token.w] === undefined ? undefined : ONES[tokens[index + 1]?.w ?? ""];
      if (unit !== undefined && unit > 0 && token.stop === 0) {
        end = index + 2;
        return { text: String(more + unit), end };
      }
      return { text: String(more), end: index + 1 };
    } else break;
    end = index + 1;
  }
  return text === "" ? null : { text, end };
}

function integerAt(tokens: readonly Token[], i: number): { value: number; end: number } | null {
  let index = i;
  let total = 0;
  let current: number | null = null;
  let last: "none" | "one" | "ten" | "big" = "none";
  for (; index < tokens.length && index < i + 14; index += 1) {
    const token = tokens[index]!;
    if (index > i && tokens[index - 1]!.stop > 0) break;
    for (const word of token.w.includes("-") && hyphenNumber(token.w) ? token.w.split("-") : [token.w]) {
      const one = ONES[word];
      const teen = TEENS[word];
      const ten = TENS[word];
      if (one !== undefined && word !== "oh") {
        if (last === "one" || (last === "ten" && one === 0)) return finish();
        current = (current ?? 0) + one;
        last = "one";
      } else if (teen !== undefined || ten !== undefined) {
        if (last === "one" || last === "ten") {
          const pair = pairs(tokens, index, current ?? 0);
          if (pair !== null && total === 0) return pair;
          return finish();
        }
        current = (current ?? 0) + (teen ?? ten ?? 0);
        last = teen === undefined ? "ten" : "one";
      } else if (word === "hundred" && (last !== "none" || article(tokens, index) || bareHundred(tokens, index))) {
        current = (current ?? 1) * 100;
        last = "big";
      } else if ((word === "thousand" || word === "grand") && (last !== "none" || article(tokens, index))) {
        total += (current ?? 1) * 1000;
        current = null;
        last = "big";
      } else if (word === "dozen" && (last === "one" || article(tokens, index))) {
        return { value: (current ?? 1) * 12, end: index + 1 };
      } else if (word === "and" && last === "big") {
        const next = tokens[index + 1]?.w ?? "";
        if (!(next in ONES) && !(next in TEENS) && !(next in TENS) && !hyphenNumber(next)) return finish();
      } else if ((word === "a" || word === "an") && last === "none") {
        const next = tokens[index + 1]?.w ?? "";
        if (next === "couple" || next === "pair")
          return { value: 2, end: index + (tokens[index + 2]?.w === "of" ? 3 : 2) };
        if (next !== "hundred" && next !== "thousand" && next !== "dozen") return null;
      } else return finish();
    }
  }
  return finish();

  function finish(): { value: number; end: number } | null {
    if (last === "none") return null;
    // "Two hundred and": the word "and" belongs to what follows.
    const end = tokens[index - 1]?.w === "and" ? index - 1 : index;
    return { value: total + (current ?? 0), end };
  }
}

/** "Hundred and fifty eight grams" at the head of what is said. */
const bareHundred = (tokens: readonly Token[], i: number) => {
  const next = tokens[i + 1]?.w ?? "";
  const before = tokens[i - 1]?.w ?? "";
  // "It weighs hundred sixty five grams", as those say it whose own language leaves the one out.
  const counted = next === "and" || next in ONES || next in TEENS || next in TENS;
  const led = /^(?:weighs|has|is|shows|says|reads|gives|about|with|are|it)$/.test(before);
  return tokens[i]!.stop === 0 && ((led && counted) || atHead(tokens, i));
};

const atHead = (tokens: readonly Token[], i: number) =>
  (i === 0 || tokens[i - 1]!.stop > 0) && tokens[i]!.stop === 0 && tokens[i + 1]?.w === "and";

const article = (tokens: readonly Token[], i: number) => tokens[i - 1]?.w === "a" || tokens[i - 1]?.w === "an";

function hyphenNumber(word: string): boolean {
  const [a, b, c] = word.split("-");
  return a !== undefined && b !== undefined && c === undefined && a in TENS && b in ONES;
}

/**
 * "Thirty six ten milliamp hours" is 3610: two pairs of digits, said only of a cell's capacity. "Two thirty nine grams" is 239: the
 * hundred left out, before a unit and not after a name ("battery two, thirty nine grams").
 */
function pairs(tokens: readonly Token[], i: number, high: number): { value: number; end: number } | null {
  if (high < 1 || high > 99) return null;
  const low = integerAt(tokens.slice(i, i + 3), 0);
  if (low === null || low.value < 10 || low.value > 99) return null;
  if (high < 10) {
    if (isNoun(tokens[i - 2]?.w ?? "")) return null;
    const next = tokens[i + low.end];
    const unit = unitAt(tokens, i + low.end, false);
    if (next?.w !== "point" && !/^(?:g|mm|mAh|N|Wh)$/.test(unit?.unit ?? "")) return null;
    // "Two ten millimetre screws": two of that length.
    if (unit !== null && isNoun(tokens[unit.end]?.w ?? "")) return null;
    return { value: high * 100 + low.value, end: i + low.end };
  }
  if (unitAt(tokens, i + low.end, false)?.unit !== "mAh") return null;
  return { value: high * 100 + low.value, end: i + low.end };
}

interface UnitHit {
  readonly unit: string;
  readonly quantity: QuantityName | null;
  readonly end: number;
  readonly bareDegrees: boolean;
}

const UNIT_WORDS: ReadonlyMap<
  string,
  readonly { words: readonly string[]; unit: string; quantity: QuantityName | null }[]
> = (() => {
  const map = new Map<string, { words: readonly string[]; unit: string; quantity: QuantityName | null }[]>();
  for (const { unit, quantity, words } of UNITS)
    for (const spelling of words) {
      const split = spelling.split(" ");
      const list = map.get(split[0]!) ?? [];
      list.push({ words: split, unit, quantity });
      map.set(split[0]!, list);
    }
  for (const list of map.values()) list.sort((a, b) => b.words.length - a.words.length);
  return map;
})();

/** Units of one letter count only after digits: "5 c" may be degrees, "five c" is a letter. */
function unitAt(tokens: readonly Token[], i: number, digits: boolean): UnitHit | null {
  const token = tokens[i];
  if (token === undefined) return null;
  // "All seven, ah, no": a sigh.
  if (token.w === "ah" && !digits) return null;
  const hit = UNIT_WORDS.get(token.w)?.find(
    (one) => one.words.every((word, nth) => tokens[i + nth]?.w === word) && (digits || one.words.join("").length > 1),
  );
  if (hit !== undefined)
    return { unit: hit.unit, quantity: hit.quantity, end: i + hit.words.length, bareDegrees: false };
  if ((BARE_DEGREES as readonly string[]).includes(token.w))
    return { unit: "degC", quantity: "temperature", end: i + 1, bareDegrees: true };
  return null;
}

/** The quantity that begins at token `i`: a number and its unit, or "a minute", "half a gram". */
export function quantityAt(tokens: readonly Token[], i: number): SpokenQuantity | null {
  const number = numberAt(tokens, i) ?? articleAt(tokens, i);
  if (number === null) return null;
  let at = number.end;
  // "Two tenths of a millimetre", "half an inch", "a couple of minutes", "three more grams" is a comparison and not one.
  if (number.fraction || number.value === 2 || number.value < 1) {
    if (tokens[at]?.w === "of") at += 1;
    if (tokens[at]?.w === "a" || tokens[at]?.w === "an") at += 1;
  }
  const unit = unitAt(tokens, at, number.digits);
  if (unit === null) return null;
  if (
    unit.unit === "mAh" &&
    tokens[unit.end - 1]!.w.startsWith("milliamp") &&
    unit.end - at === 1 &&
    number.value < 200
  )
    return null;
  const half = tokens[unit.end - 1]!.stop === 0 && unit.unit !== "%" ? andFraction(tokens, unit.end) : null;
  const whole = Number.isInteger(number.value) && half !== null;
  return {
    value: whole ? number.value + half.value : number.value,
    unit: unit.unit,
    quantity: unit.quantity,
    bareDegrees: unit.bareDegrees,
    end: whole ? half.end : unit.end,
  };
}

/** "A minute", "an inch": one, where a unit follows. */
function articleAt(tokens: readonly Token[], i: number): SpokenNumber | null {
  const w = tokens[i]?.w;
  if ((w !== "a" && w !== "an") || tokens[i]!.stop > 0) return null;
  const at = /^(?:full|whole|good|solid|single|clean)$/.test(tokens[i + 1]?.w ?? "") ? i + 2 : i + 1;
  const unit = tokens[at]?.w ?? "";
  if (!/^(?:minute|inch|gram|gramme|millimet(?:er|re)|mil|mill|centimet(?:er|re)|kilo|kilogram|volt)$/.test(unit))
    return null;
  return { value: 1, end: at, fraction: false, digits: false };
}
