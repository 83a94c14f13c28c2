import { isNoun } from "../lookup.ts";

const ENTITIES: Readonly<Record<string, string>> = {
  amp: "&",
  lt: "<",
  gt: ">",
  nbsp: " ",
  quot: '"',
  apos: "'",
  lrm: "",
  rlm: "",
  "#39": "'",
  "#34": '"',
};

/**
 * Takes caption markup out of a payload and leaves the words: tags of WebVTT and SubRip (`<c.x>`, `<v Name>`, inner
 * time stamps, `<i>`, `<font …>`), position codes (`{\an8}`), the entities of WebVTT, sounds in brackets (`[music]`,
 * `(laughs)`), the marks of a change of speaker (`>>`, `- `, `ANNA:`). One pass over the text, no backtracking.
 */
export function plainWords(payload: string): string {
  return payload
    .replace(/<\/?[a-z0-9][^<>\n]{0,200}>/gi, "")
    .replace(/\{\\[^{}\n]{0,100}\}/g, "")
    .replace(/&(#?[a-z0-9]{1,6});/gi, (whole, name: string) => ENTITIES[name.toLowerCase()] ?? whole)
    .replace(/\[[^[\]\n]{0,80}\]/g, (whole) => (/\d/.test(whole) ? whole : " "))
    .replace(/\((?:[a-z -]{0,20})(?:laugh|music|applause|sigh|cough|inaudible|beep|noise|click)[a-z -]{0,20}\)/gi, " ")
    .replace(/[♪♫]/g, " ")
    .replace(/^\s*>{1,3}\s*/gm, "")
    .replace(/^\s*[-–—]\s+/gm, "")
    .replace(/^\s*([A-Z][A-Z .'’-]{0,24}|[A-Z][a-z]{1,20}(?: \d{1,2})?):\s+(?=\S)/gm, (whole, label: string) =>
      saidLabel(label) ? whole : "",
    )
    .replace(/[\u00ad\u200b-\u200f\u2060\ufeff]/g, "")
    .replace(/[ \t]+/g, " ")
    .trim();
}

/** "Battery: 61.8 g" is talk, "ANNA: …" is who talks: a label whose last word is in the lexicon is kept. */
function saidLabel(label: string): boolean {
  const last = label.toLowerCase().split(/[ -]/).at(-1)!;
  return (
    isNoun(last) ||
    /^(?:step|note|careful|warning|result|next|first|third|okay|remember|tip|also|again|finally|total|so|now|then|\d+)$/.test(
      last,
    )
  );
}
