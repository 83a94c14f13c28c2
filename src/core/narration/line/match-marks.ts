/**
 * Captions against what was kept live: which phrase of the recording is which press of the key or line of the hand, so that
 * a review is a check and not a transcription.
 *
 * Maximises the weight of a matching that keeps the order of time on both sides: a pair weighs more the closer it is in
 * time and the more its words agree. Pairs farther apart than the window, or that contradict each other, do not count.
 * Heaviest increasing chain with a Fenwick tree of prefix maxima: O(P log n) for P pairs in the window.
 */
export interface Moment {
  readonly id: string;
  readonly at: number;
  /** Null: a mark without words; it contradicts nothing. */
  readonly action: string | null;
  readonly part: string | null;
}

export interface MarkMatch {
  /** What was kept live. */
  readonly mark: string;
  /** The phrase of the recording. */
  readonly said: string;
  /** Seconds from the mark to the phrase. */
  readonly after: number;
  /** Both tell the same action on the same part: nothing is left to be checked. */
  readonly agrees: boolean;
}

/** Work is told while it is done, a little before or after the press, s: common practice, no source. */
const WINDOW = 30;

export function matchMarks(marks: readonly Moment[], said: readonly Moment[], window: number = WINDOW): MarkMatch[] {
  const live = [...marks].sort((a, b) => a.at - b.at);
  const told = [...said].sort((a, b) => a.at - b.at);
  const pairs: { mark: number; phrase: number; weight: number }[] = [];
  let first = 0;
  live.forEach((mark, m) => {
    while (first < told.length && told[first]!.at < mark.at - window) first += 1;
    // The later phrase first: two phrases must not both be chained to one mark.
    let end = first;
    while (end < told.length && told[end]!.at <= mark.at + window) end += 1;
    for (let p = end - 1; p >= first; p -= 1) {
      const weight = weightOf(mark, told[p]!, window);
      if (weight > 0) pairs.push({ mark: m, phrase: p, weight });
    }
  });
  const best = new Float64Array(told.length + 1);
  const holder = new Int32Array(told.length + 1).fill(-1);
  const before = new Int32Array(pairs.length).fill(-1);
  let top = -1;
  let topWeight = 0;
  pairs.forEach((pair, index) => {
    let weight = 0;
    let from = -1;
    for (let i = pair.phrase; i > 0; i -= i & -i)
      if (best[i]! > weight) {
        weight = best[i]!;
        from = holder[i]!;
      }
    weight += pair.weight;
    before[index] = from;
    for (let i = pair.phrase + 1; i <= told.length; i += i & -i)
      if (weight > best[i]!) {
        best[i] = weight;
        holder[i] = index;
      }
    if (weight > topWeight) {
      topWeight = weight;
      top = index;
    }
  });
  const found: MarkMatch[] = [];
  for (let index = top; index >= 0; index = before[index]!) {
    const { mark, phrase } = pairs[index]!;
    const [a, b] = [live[mark]!, told[phrase]!];
    found.unshift({
      mark: a.id,
      said: b.id,
      after: b.at - a.at,
      agrees: a.action !== null && a.action === b.action && a.part === b.part,
    });
  }
  return found;
}

/** 0 where the two contradict each other; near in time and equal in words weighs most. */
function weightOf(mark: Moment, phrase: Moment, window: number): number {
  const action = agreement(mark.action, phrase.action);
  const part = agreement(mark.part, phrase.part);
  if (action < 0 || part < 0) return 0;
  return 1 + 2 * action + 2 * part - (0.9 * Math.abs(mark.at - phrase.at)) / window;
}

const agreement = (a: string | null, b: string | null): number => (a === null || b === null ? 0 : a === b ? 1 : -1);
