/** Words of the page Law. */
import type { Change, LawReport, RecordBasis, ScoreName, Verdict } from "../../../core/law/index.ts";
import { NOT_FOLDABLE_ROLES } from "../../../core/law/index.ts";
import type { PriorityRole, TeardownRecord } from "../../../core/record/index.ts";
import { ROLE_WORDS } from "../../ways/words.ts";

export const BASIS_WORDS: Readonly<Record<RecordBasis, string>> = {
  described: "the maker's described procedure, replayed on this unit",
  least: "our order of work with the fewest steps",
  done: "our order of work as the log has it",
};

export const VERDICTS: Readonly<Record<Verdict, string>> = {
  pass: "passes",
  fail: "fails",
  "cannot-tell": "cannot be told",
};

export const SCORE_WORDS: Readonly<Record<ScoreName, string>> = {
  SDD: "depth",
  SF: "fasteners",
  ST: "tools",
  SSP: "spare parts",
  SSU: "updates",
  SRI: "information",
};

export function rolesIn(report: LawReport): readonly PriorityRole[] {
  return [...NOT_FOLDABLE_ROLES, "hinge" as const].filter((role) => role in report.parts);
}

/** The class in a sentence with its clause; where facts are missing, that too. */
export function classWords({ index, class: letter, range, why }: LawReport): string {
  if (range !== undefined && range.low.index !== range.high.index) {
    const end = (one: { index: string | null; class: string | null }) =>
      one.index === null ? "no index at all" : `${one.index}, class ${one.class}`;
    return `By what is known the index lies between ${end(range.low)}, and ${end(range.high)} (2023/1669 Annex II C, Table 4); the worse is taken.`;
  }
  return index === null || letter === null
    ? `No class can be stated: ${why ?? "the index has no points to be made of"}.`
    : `With an index of ${index} the device is in class ${letter} (2023/1669 Annex II C, Table 4).`;
}

/** One design change, as it would be asked of a designer. */
export function changeWords(record: TeardownRecord, change: Change): string {
  const part = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  const tool = (id: string) => record.tools.find((one) => one.id === id)?.name ?? id;
  switch (change.change) {
    case "whole":
      return `${change.joint} can be used again after undoing`;
    case "brings":
      return `a new ${change.joint} comes with the spare part`;
    case "basic":
      return `a basic tool does the work of ${tool(change.tool)}`;
    case "with-spare-part":
      return `${tool(change.tool)} comes with the spare part (${ROLE_WORDS[change.role]})`;
    case "leaves-reach":
      return `${part(change.part)} no longer stands in the way of ${change.joint}`;
    case "leaves-under":
      return `${part(change.part)} no longer lies over ${part(change.of)}`;
    case "no-heat":
      return `${change.joint} comes undone without heat`;
    case "no-notification":
      return `no remote notification for ${part(change.part)}`;
    case "no-authorisation":
      return `no remote authorisation for ${part(change.part)}`;
    case "offer":
      return `${part(change.part)} is sold to ${change.to.replaceAll("-", " ")}`;
    case "updates":
      return "one more year of updates";
    case "information":
      return "repair information one level more open";
  }
}
