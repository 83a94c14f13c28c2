/** Sizes said with fasteners, which name no part. */
import { nounAt } from "./lookup.ts";
import { numberAt } from "./numbers.ts";
import type { Token } from "./tokens.ts";

/** "PH000", "T5": the size of a drive names no part. */
export const DRIVE_SIZE = /^(?:t|ph|p|pl|m|y|j|jis|hex|tx|tr)\d+(?:\.\d+)?(?:[x×][\d.]+)?$/;

/** "10 mm" of "two 10 mm screws": how many words, 0 where none. */
export function sizeAt(tokens: readonly Token[], i: number): number {
  const number = numberAt(tokens, i);
  if (number === null || number.fraction || tokens[number.end - 1]!.stop > 0) return 0;
  if (!/^(?:mm|millimet(?:re|er)s?|mil|cm)$/.test(tokens[number.end]?.w ?? "") || tokens[number.end]!.stop > 0)
    return 0;
  const noun = nounAt((n) => tokens[number.end + 1 + n]?.w ?? null);
  return noun?.classes.includes("fastener") === true ? number.end + 1 - i : 0;
}
