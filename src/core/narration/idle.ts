/** Words that look like names and name nothing. */
import type { Chunk } from "./chunks.ts";
import { PARTICLES, PREPOSITIONS } from "./lexicon/index.ts";
import type { Token } from "./tokens.ts";

/** The same chunks, with what names nothing as a mere word. */
export function withoutIdle(chunks: readonly Chunk[], tokens: readonly Token[]): Chunk[] {
  const times = new Map<string, number>();
  for (const { w } of tokens) times.set(w, (times.get(w) ?? 0) + 1);
  return chunks.map((one, k) =>
    idle(chunks, k, times) ? { kind: "word", w: tokens[one.i]!.w, i: one.i, j: one.j } : one,
  );
}

/**
 * "Honest.", "yesterday", "pass it here": a word that the lexicon does not know, said once, with nothing that makes it a thing
 * that is worked on: no article, no number, no work before it and nothing that comes off after it.
 */
function idle(chunks: readonly Chunk[], k: number, times: ReadonlyMap<string, number>): boolean {
  const one = chunks[k]!;
  if (one.kind !== "noun" || !one.np.unknown || one.np.det !== null || one.np.count !== null || one.np.elided)
    return false;
  if (one.np.of !== null || one.np.owner !== null || (times.get(one.np.head) ?? 0) > 1) return false;
  const [before, after] = [chunks[k - 1], chunks[k + 1]];
  if (before?.kind === "verb" && before.sort !== "common") return false;
  if (before?.kind === "word" && (PARTICLES.has(before.w) || PREPOSITIONS.has(before.w))) return false;
  return !(after?.kind === "verb" && after.sort !== "common") && !(after?.kind === "word" && PARTICLES.has(after.w));
}
