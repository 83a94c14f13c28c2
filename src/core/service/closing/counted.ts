/** How many screws an entry speaks of: "five screws in", "the two cross-recess screws". */

const WORDS = [
  "no",
  "one",
  "two",
  "three",
  "four",
  "five",
  "six",
  "seven",
  "eight",
  "nine",
  "ten",
  "eleven",
  "twelve",
  "thirteen",
  "fourteen",
  "fifteen",
  "sixteen",
  "seventeen",
  "eighteen",
  "nineteen",
  "twenty",
];
/** A number, up to four words between it and what is counted, none of them a number or the end of a clause. */
const COUNT = new RegExp(
  String.raw`\b(\d{1,3}|${WORDS.join("|")})\s+(?:of\s+(?:the\s+)?(?:\d{1,3}|${WORDS.join("|")})\s+)?(?:(?!(?:${WORDS.join("|")})(?![\w-]))[a-z][\w-]*\s+){0,4}?screws?\b`,
  "gi",
);

/** Screws told in the text, summed; null when it tells of none. */
export function screwsTold(text: string | undefined): number | null {
  if (text === undefined) return null;
  const found = [...text.toLowerCase().matchAll(COUNT)].map(([, word]) =>
    /^\d/.test(word!) ? Number(word) : WORDS.indexOf(word!),
  );
  return found.length === 0 ? null : found.reduce((sum, one) => sum + one, 0);
}
