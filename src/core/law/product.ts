/** The three scores of the product (2023/1669 Annex IV point 5): the fact that each rests on, and where the record has it. */
import type { TeardownRecord } from "../record/schema.ts";
import type { ScoreName } from "./answer.ts";
import { informationFact, updateFact } from "./market.ts";
import type { RuleSet } from "./rules/types.ts";
import { sparePoints } from "./spare-parts.ts";

export interface ProductFact {
  readonly score: Extract<ScoreName, "SSP" | "SSU" | "SRI">;
  /** Points at worst and at best; null: the law has none. */
  readonly points: { readonly low: number | null; readonly high: number | null };
  readonly fact: string;
  /** Where the record has it. */
  readonly path: string;
  /** The day from which it is counted; null where the record does not say. */
  readonly since: string | null;
  /** The last session in which the record was written, which is when the fact was last seen; null where there is none. */
  readonly seen: string | null;
  readonly clause: string;
}

export function productFacts(rules: RuleSet, record: TeardownRecord): ProductFact[] {
  const spare = sparePoints(rules, record);
  const updates = updateFact(rules, record);
  const information = informationFact(rules, record);
  const seen =
    (record.sessions ?? [])
      .map(({ started }) => started.slice(0, 10))
      .sort()
      .at(-1) ?? null;
  const span = ({ low, high }: { low: number | null; high: number | null }) => ({ low, high });
  return [
    {
      score: "SSP",
      points: span(spare),
      fact: spare.because,
      path: "parts[].spare.to",
      since: null,
      seen,
      clause: "spare-parts",
    },
    {
      score: "SSU",
      points: span(updates),
      fact: updates.because,
      path: "market.updateYears",
      since: record.market?.endOfMarket ?? null,
      seen,
      clause: "updates",
    },
    {
      score: "SRI",
      points: span(information),
      fact: information.because,
      path: "market.repairInformation",
      since: null,
      seen,
      clause: "information",
    },
  ];
}
