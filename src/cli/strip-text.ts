/** The pictures of figures in letters: a claim's interval against its threshold, and a change as a row of bars. */
import type { ClaimVerdict } from "../core/measure/index.ts";
import type { Fall } from "../figures/index.ts";

/** How the strip is read, said once above the claims. */
export const STRIP_LEGEND = "o measured, ( ) its 95 % interval, | the threshold, : where the claim holds";

/** Null where nothing was measured, or where all of it falls on one place. */
export function stripText(claim: ClaimVerdict, width: number): string | null {
  const { value, interval, threshold, holds } = claim;
  if (value === null || interval === null || threshold === null) return null;
  const edges = typeof threshold === "number" ? [threshold] : [...threshold].sort((a, b) => a - b);
  const ends = [...interval, ...edges];
  const span = Math.max(...ends) - Math.min(...ends);
  if (!(span > 0) || !Number.isFinite(span)) return null;
  const [first, last] = [Math.min(...ends) - span * 0.15, Math.max(...ends) + span * 0.15];
  const column = (x: number) => Math.round(((x - first) / (last - first)) * (width - 1));
  const within = (x: number) =>
    holds === "above"
      ? x > edges[0]!
      : holds === "below"
        ? x < edges[0]!
        : holds === "within" && x >= edges[0]! && x <= edges.at(-1)!;
  const signs: string[] = Array.from({ length: width }, (_, i) =>
    within(first + (i / (width - 1)) * (last - first)) ? ":" : ".",
  );
  for (const edge of edges) signs[column(edge)] = "|";
  signs[column(interval[0])] = "(";
  signs[column(interval[1])] = ")";
  signs[column(value)] = "o";
  return signs.join("");
}

/** A bar for each step from one total to the other: it begins where the last ended, and its head points the way. */
export function fallTexts(falls: readonly Fall[], width: number): readonly string[] {
  const ends = falls.flatMap(({ from, to }) => [from, to]);
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  if (!(high > low)) return falls.map(() => "");
  const column = (x: number) => Math.round(((x - low) / (high - low)) * (width - 1));
  return falls.map(({ from, to }) => {
    const [a, b] = [column(from), column(to)];
    const bar = "=".repeat(Math.max(0, Math.abs(a - b)));
    return " ".repeat(Math.min(a, b)) + (to < from ? `<${bar}` : `${bar}>`);
  });
}
