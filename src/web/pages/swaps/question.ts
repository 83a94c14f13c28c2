/** What is asked of a swap, as search words of the address. */
import { CONDITIONS } from "../../../core/record/index.ts";
import type { SwapQuestion, SwapSettings } from "../../../core/service/swap/index.ts";
import { GATES } from "../../ways/question.ts";

const listOf = (search: URLSearchParams, name: string): string[] =>
  (search.get(name) ?? "").split(",").filter((one) => one !== "");

/** @param first the part that is chosen in the drawing; `with` in the address names the others. */
export function swapQuestion(
  search: URLSearchParams,
  first: string,
  parts: ReadonlySet<string>,
  settings: Partial<SwapSettings>,
): SwapQuestion {
  const others = listOf(search, "with").filter((id) => id !== first && parts.has(id));
  const conditions = CONDITIONS.filter((one) => listOf(search, "condition").includes(one));
  const accept = GATES.filter((one) => listOf(search, "accept").includes(one));
  const cap = search.get("cap-risk");
  return {
    replace: [first, ...new Set(others)],
    conditions,
    accept,
    ...(search.get("damage") === "allowed" ? { damage: true } : {}),
    ...(cap !== null && /^\d{1,9}(\.\d{1,6})?$/.test(cap) ? { capRisk: cap } : {}),
    front: true,
    settings,
  };
}
