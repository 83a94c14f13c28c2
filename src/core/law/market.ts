/** Points of the product-level facts: updates and repair information (2023/1669 Annex IV point 5). */
import type { TeardownRecord } from "../record/schema.ts";
import type { RuleSet } from "./rules/types.ts";
import { updatePoints } from "./score.ts";
import type { Span } from "./segment.ts";

export interface FactPoints extends Span {
  readonly known: boolean;
  readonly because: string;
  readonly warnings: readonly string[];
}

/** Updates: the stated years, else the years from the end of placement on the market to the last security update. */
export function updateFact(rules: RuleSet, record: TeardownRecord): FactPoints & { readonly years?: number } {
  const { updateYears, endOfMarket, securityUpdatesUntil } = record.market ?? {};
  const warnings: string[] = [];
  const between =
    endOfMarket === undefined || securityUpdatesUntil === undefined
      ? undefined
      : fullYears(endOfMarket, securityUpdatesUntil);
  if (updateYears !== undefined && between !== undefined && Math.floor(updateYears) !== between)
    warnings.push(
      `market.updateYears says ${updateYears}, the dates ${endOfMarket} and ${securityUpdatesUntil} give ${between}; the stated years are used`,
    );
  const years = updateYears ?? between;
  if (years === undefined) {
    const all = rules.updatePoints.map((row) => row.points);
    return {
      low: Math.min(...all),
      high: Math.max(...all),
      known: false,
      because: "the guaranteed years of updates are not known",
      warnings,
    };
  }
  if (updateYears === undefined)
    warnings.push(
      `years of updates counted from ${endOfMarket} to ${securityUpdatesUntil}: ${years} full years; that corrective and functionality updates last as long is an assumption`,
    );
  const points = updatePoints(rules, years);
  const because =
    points === null
      ? `${years} years of updates: the law has no points below 5 years`
      : `${years} years of updates from the end of placement on the market`;
  return { low: points, high: points, known: true, because, warnings, years };
}

export function informationFact(rules: RuleSet, record: TeardownRecord): FactPoints {
  const word = record.market?.repairInformation;
  if (word === undefined) {
    const all = Object.values(rules.informationPoints).filter((points) => points !== null);
    return {
      low: Math.min(...all),
      high: Math.max(...all),
      known: false,
      because: "how repair information is given is not known",
      warnings: [],
    };
  }
  const points = rules.informationPoints[word];
  const because =
    points === null
      ? "no repair information is given: the law has no points for that"
      : `repair information: ${word.replaceAll("-", " ")}`;
  return { low: points, high: points, known: true, because, warnings: [] };
}

/** Full years from one ISO date to another; a date without month or day is its first day. Negative spans are 0. */
export function fullYears(from: string, to: string): number {
  const [a, b] = [from, to].map((text) => {
    const [year, month = "01", day = "01"] = text.slice(0, 10).split("-");
    return { year: Number(year), rest: Number(month) * 100 + Number(day) };
  });
  return Math.max(0, b.year - a.year - (b.rest < a.rest ? 1 : 0));
}
