/**
 * The nearest right spelling of a word, by the Damerau-Levenshtein distance (optimal string alignment), or undefined when
 * nothing is near enough to be meant: at most a third of the word's length, and at least one letter kept.
 */
export function nearest(word: string, candidates: Iterable<string>): string | undefined {
  const wanted = word.toLowerCase();
  let best: string | undefined;
  let least = Math.max(1, Math.floor(wanted.length / 3)) + 0.5;
  for (const candidate of candidates) {
    if (Math.abs(candidate.length - wanted.length) > least) continue;
    const distance = candidate.toLowerCase() === wanted ? 0 : alignment(wanted, candidate.toLowerCase());
    if (distance < least && distance < Math.max(wanted.length, candidate.length)) {
      least = distance;
      best = candidate;
    }
  }
  return best;
}

function alignment(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let cost = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, before[j - 2] + 1);
      row.push(cost);
    }
    before = last;
    last = row;
  }
  return last[b.length];
}
