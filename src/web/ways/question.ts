/** A question about ways in as search words of the address, and back: what is left out is as the rules have it. */
import { CONDITIONS, type Condition, type Hazard } from "../../core/record/index.ts";
import type { Question } from "../../core/route/ways/types.ts";

export const LEASTS = ["seconds", "steps", "risk"] as const;
/** Hazards that a question can accept; the others never keep a way in from being used. */
export const GATES = ["puncture", "short"] as const satisfies readonly Hazard[];

const listOf = (search: URLSearchParams, name: string): string[] =>
  (search.get(name) ?? "").split(",").filter((one) => one !== "");

export function questionFrom(search: URLSearchParams, to: string): Question {
  const accept = GATES.filter((one) => listOf(search, "accept").includes(one));
  const conditions = CONDITIONS.filter((one) => listOf(search, "condition").includes(one));
  const gone = listOf(search, "gone");
  return {
    to: [to],
    least: LEASTS.find((one) => one === search.get("least")) ?? "seconds",
    ...(search.get("damage") === "allowed" ? { damage: true } : {}),
    ...(accept.length > 0 ? { accept } : {}),
    ...(conditions.length > 0 ? { conditions: conditions as readonly Condition[] } : {}),
    ...(search.get("isolation") === "off" ? { isolation: false } : {}),
    ...(search.get("doubt") === "none" ? { doubt: "none" as const } : {}),
    ...(gone.length > 0 ? { gone } : {}),
  };
}

/** A list as one search word; null where it is empty. */
export const listWord = (list: readonly string[]): string | null => (list.length === 0 ? null : list.join(","));
