/**
 * The devices named in the talk. Captions give no capitals, so a name is found by what it is for: the same word said with
 * different endings ("Sliver 6", "Sliver 5"; "Tab S", "Tab R"; "N3", "N2"). The one named first is on the bench, the
 * others are what it is compared with. Linear in the words.
 */
import { ADJECTIVES, ADVERBS, CONJUNCTIONS, DETERMINERS, PREPOSITIONS, PRONOUNS } from "./lexicon/index.ts";
import { HOLD_VERBS, isCommonVerb, isNoun, WORK_VERBS } from "./lookup.ts";
import { numberAt, quantityAt } from "./numbers.ts";
import type { Token } from "./tokens.ts";

export interface DeviceNames {
  /** The name that begins at token `i`. */
  at(tokens: readonly Token[], i: number): { end: number; earlier: boolean } | null;
  /** As said, the one on the bench; null where no name was told. */
  readonly own: string | null;
}

const DRIVE_SIZES = /^(?:t|ph|p|pl|m|y|j|jis|hex|tx|tr|ip|ta|usb|h|s|a|b|c|cr|mx|mp)\d+$/;

export function findDevices(tokens: readonly Token[]): DeviceNames {
  const bases = new Map<string, Map<string, { first: number; times: number }>>();
  const note = (base: string, ending: string, at: number) => {
    const endings = bases.get(base) ?? new Map();
    const known = endings.get(ending) ?? { first: at, times: 0 };
    endings.set(ending, { first: known.first, times: known.times + 1 });
    bases.set(base, endings);
  };
  tokens.forEach((token, i) => {
    const joined = /^([a-z]{1,4})(\d{1,3})$/.exec(token.w);
    // "M7" may be a phone or the size of a screw: the words beside it tell.
    const size =
      DRIVE_SIZES.test(token.w) &&
      !/^(?:the|an|a|my|and|than|to)$/.test(tokens[i - 1]?.w ?? "") &&
      !/^[A-Z][a-z]/.test(tokens[i - 1]?.raw ?? "");
    const turned = /^(?:screws?|driver|drivers|bit|bits|torx|head|pentalobe|phillips|hex)$/.test(
      tokens[i + 1]?.w ?? "",
    );
    if (joined !== null && !size && !turned) note(joined[1]!, joined[2]!, i);
    const next = tokens[i + 1];
    if (next === undefined || token.stop > 0 || token.poss || !nameLike(token.w)) return;
    if (isEnding(tokens, i + 1, token)) note(token.w, next.w, i);
  });
  const names: { words: readonly string[]; first: number; earlier: boolean }[] = [];
  for (const [base, endings] of bases) {
    if (endings.size < 2 || endings.size > 6) continue;
    const ordered = [...endings].sort((a, b) => a[1].first - b[1].first);
    const whole = new RegExp(`^${base}\\d`);
    ordered.forEach(([ending, { first }], nth) => {
      const words = tokens.some((token) => token.w === base + ending && whole.test(token.w))
        ? [base + ending]
        : [base, ending];
      names.push({ words, first, earlier: nth > 0 });
      // "The Zero" for "the Havik Zero".
      if (nth > 0 && /^[a-z]{4,}$/.test(ending) && !isNoun(ending))
        names.push({ words: [ending], first, earlier: true });
    });
  }
  names.sort((a, b) => b.words.length - a.words.length);
  const byFirst = new Map<string, typeof names>();
  for (const name of names) byFirst.set(name.words[0]!, [...(byFirst.get(name.words[0]!) ?? []), name]);
  const own = names.filter((name) => !name.earlier).sort((a, b) => a.first - b.first)[0];
  return {
    own:
      own === undefined
        ? null
        : tokens
            .slice(own.first, own.first + own.words.length)
            .map((token) => token.raw)
            .join(" "),
    at(words, i) {
      const hit = byFirst.get(words[i]!.w)?.find((name) => name.words.every((word, nth) => words[i + nth]?.w === word));
      if (hit === undefined) return null;
      if (hit.words.length === 1 && /^[a-z]+$/.test(hit.words[0]!)) {
        if (words[i - 1]?.w !== "the") return null;
        // "More than the eight": a device; "take out the eight": screws.
        const number = numberAt(words, i) !== null && !/^[A-Z][a-z]/.test(words[i]!.raw);
        if (number && !/^(?:than|in|on|from|of|as|with|like|beside|versus|vs)$/.test(words[i - 2]?.w ?? ""))
          return null;
      }
      return { end: i + hit.words.length, earlier: hit.earlier };
    },
  };
}

const NUMBERISH =
  /^(?:hundred|thousand|point|number|plus|minus|times|step|version|section|chapter|figure|point|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|zero|one|two|three|four|five|six|seven|eight|nine|ten)$/;

const nameLike = (w: string) =>
  /^[a-z][a-z'-]{2,}$/.test(w) &&
  !PREPOSITIONS.has(w) &&
  !CONJUNCTIONS.has(w) &&
  !PRONOUNS.has(w) &&
  !DETERMINERS.has(w) &&
  !ADVERBS.has(w);

function isEnding(tokens: readonly Token[], i: number, base: Token): boolean {
  const token = tokens[i]!;
  const known = isNoun(base.w);
  if (/^[b-hj-wyz]$/.test(token.w))
    return /^[A-Z]$/.test(token.raw) || !known || base.w === "tab" || base.w === "pad" || base.w === "slate";
  if (/^\d{1,3}$/.test(token.w)) {
    if (quantityAt(tokens, i) !== null || /^[x×]$/.test(tokens[i + 1]?.w ?? "")) return false;
    return !known || /^[A-Z]/.test(base.raw);
  }
  const capital = /^[A-Z][a-z]+$/.test(base.raw) && /^[A-Z][a-z]+$/.test(token.raw);
  const number = numberAt(tokens, i);
  // Captions without capitals: "vesper nine" beside "vesper eight".
  if (!capital)
    return (
      number !== null &&
      number.end === i + 1 &&
      !number.fraction &&
      !known &&
      !isCommonVerb(base.w) &&
      !WORK_VERBS.has(base.w) &&
      !HOLD_VERBS.has(base.w) &&
      !ADJECTIVES.has(base.w) &&
      !NUMBERISH.test(base.w) &&
      quantityAt(tokens, i) === null &&
      !isNoun(tokens[i + 1]?.w ?? "")
    );
  return number !== null || (!isNoun(token.w) && nameLike(token.w));
}
