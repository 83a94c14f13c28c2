/** Versions of the law as data. A rule set is chosen by its id; the newest is the default. */
import { EU_2023_1669 } from "./eu-2023-1669.ts";
import type { RuleSet } from "./types.ts";

export const RULE_SETS: readonly RuleSet[] = [EU_2023_1669];
export const CURRENT: RuleSet = EU_2023_1669;

/** The text version in force on a day (ISO date), or null before the act applied. */
export function versionInForce(rules: RuleSet, day: string): { readonly from: string; readonly what: string } | null {
  const date = day.slice(0, 10).padEnd(10, "-01");
  return rules.versions.filter((version) => version.from <= date).at(-1) ?? null;
}

export * from "./types.ts";
export { EU_2023_1669 };
