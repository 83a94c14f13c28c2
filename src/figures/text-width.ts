/**
 * How wide words are, without a screen: advance widths of Atkinson Hyperlegible Next (SIL Open Font Licence 1.1), read
 * from its files in 1/1000 em, numerals tabular. Kerning is left out, so that the answer errs on the wide side (about
 * 4 % on the worst pairs). Signs outside the table count as a wide letter.
 */

/** From U+0020 to U+007E. */
const REGULAR = [
  280, 286, 301, 651, 592, 919, 731, 160, 299, 299, 485, 606, 210, 362, 210, 387, 632, 632, 632, 632, 632, 632, 632,
  632, 632, 632, 210, 210, 553, 628, 553, 480, 778, 626, 613, 645, 669, 569, 552, 694, 694, 392, 512, 631, 541, 824,
  693, 714, 592, 724, 614, 592, 558, 690, 593, 856, 623, 575, 607, 317, 387, 344, 552, 372, 243, 525, 566, 485, 564,
  538, 314, 558, 550, 252, 245, 492, 262, 845, 550, 548, 566, 574, 349, 471, 326, 540, 461, 684, 481, 449, 460, 344,
  237, 344, 555,
];
const BOLD = [
  312, 303, 390, 765, 610, 969, 725, 210, 335, 335, 485, 595, 271, 373, 272, 440, 632, 632, 632, 632, 632, 632, 632,
  632, 632, 632, 272, 272, 569, 612, 569, 547, 781, 678, 643, 658, 688, 597, 566, 718, 701, 424, 561, 663, 552, 858,
  717, 746, 629, 756, 650, 610, 607, 686, 644, 886, 685, 650, 618, 340, 440, 344, 582, 400, 288, 552, 596, 510, 596,
  563, 365, 593, 571, 300, 259, 555, 318, 882, 571, 576, 596, 599, 376, 508, 376, 567, 530, 740, 539, 521, 505, 381,
  254, 381, 537,
];
const OTHER = new Map<string, readonly [number, number]>([
  ["±", [579, 611]],
  ["°", [352, 394]],
  ["²", [382, 402]],
  ["×", [532, 536]],
  ["–", [504, 501]],
  ["−", [606, 595]],
  ["·", [240, 294]],
  ["…", [670, 780]],
  ["½", [820, 852]],
  ["’", [236, 269]],
  ["\u00a0", [280, 312]],
]);
const UNKNOWN: readonly [number, number] = [700, 740];

/** Width of one line in px at a font size in px. */
export function textWidth(words: string, size: number, bold = false): number {
  let sum = 0;
  for (const sign of words) {
    const at = sign.codePointAt(0)! - 0x20;
    const known = at >= 0 && at < REGULAR.length ? (bold ? BOLD[at] : REGULAR[at]) : undefined;
    sum += known ?? (OTHER.get(sign) ?? UNKNOWN)[bold ? 1 : 0];
  }
  return (sum / 1000) * size;
}

/** Cuts words that are too wide, with an ellipsis at the end; at least one sign stays. */
export function fitText(words: string, width: number, size: number, bold = false): string {
  if (textWidth(words, size, bold) <= width) return words;
  const signs = [...words];
  while (signs.length > 1) {
    signs.pop();
    const cut = `${signs.join("").trimEnd()}…`;
    if (textWidth(cut, size, bold) <= width) return cut;
  }
  return `${signs[0]}…`;
}

/** Breaks words into at most `lines` lines of at most `width` px; what does not fit on the last is cut. */
export function wrapText(words: string, width: number, size: number, lines = 2, bold = false): readonly string[] {
  const out: string[] = [];
  let current = "";
  const pieces = words.split(/\s+/).filter((piece) => piece !== "");
  for (const piece of pieces) {
    const longer = current === "" ? piece : `${current} ${piece}`;
    if (current === "" || out.length === lines - 1 || textWidth(longer, size, bold) <= width) current = longer;
    else {
      out.push(current);
      current = piece;
    }
  }
  if (current !== "") out.push(current);
  return out.map((row) => fitText(row, width, size, bold));
}
