/**
 * Declared against found (2023/1669 Annex IX): the index found on a unit may lie at most 4 % below the declared one; if it
 * lies lower, one further unit is tested. Documents against each other have no tolerance: what the maker declares must be
 * what the maker's own description counts to.
 */
import type { PriorityRole } from "../record/schema.ts";
import type { LawAnswer, ScoreName, Scores } from "./answer.ts";
import type { Assessed } from "./assess.ts";
import { assessSheet } from "./assess-sheet.ts";
import { decimal, hundredths } from "./exact.ts";
import { CURRENT } from "./rules/index.ts";
import type { RuleSet } from "./rules/types.ts";
import { rolesOf } from "./score.ts";
import type { Sheet } from "./sheet.ts";
import type { Verdict } from "./verdict.ts";

export interface DeclaredScore {
  readonly score: ScoreName;
  readonly declared: string | null;
  readonly found: string | null;
  /** Found less declared. */
  readonly difference: string | null;
}

export interface DeclaredPart {
  readonly part: PriorityRole;
  readonly what: "presence" | "steps" | "depth" | "fastener" | "tool";
  readonly declared: number | string | null;
  readonly found: number | string | null;
}

export interface IndexVerdict {
  readonly declared: string | null;
  readonly found: string | null;
  /** The least that may be found: 0.96 of the declared index. */
  readonly least: string | null;
  readonly verdict: Verdict;
  readonly text: string;
}

export interface DeclaredAnswer {
  readonly clause: string;
  readonly scores: readonly DeclaredScore[];
  /** Where the parts differ. */
  readonly parts: readonly DeclaredPart[];
  readonly index: IndexVerdict;
  /** The further unit, where one was given. */
  readonly further?: IndexVerdict;
  readonly verdict: Verdict;
  /** The sheet against the maker's own description: no tolerance. Left out where nothing is described. */
  readonly documents?: { readonly verdict: Verdict; readonly differences: readonly DeclaredPart[] };
}

/** One unit assessed; `low` and `high` are the ends of what is known of it. */
export interface Found {
  readonly answer: LawAnswer;
  readonly view: Assessed;
}

export function compareDeclared(
  sheet: Sheet,
  found: Found,
  more: { readonly further?: Found; readonly described?: Found } = {},
  rules: RuleSet = CURRENT,
): DeclaredAnswer {
  const declared = assessSheet(sheet, rules);
  const index = indexVerdict(rules, declared, found.view);
  const further = more.further === undefined ? undefined : indexVerdict(rules, declared, more.further.view);
  const verdict = index.verdict === "pass" ? "pass" : further === undefined ? index.verdict : further.verdict;
  const differences =
    more.described === undefined ? undefined : partDifferences(sheet, declared, more.described.answer);
  return {
    clause: "tolerance",
    scores: scoreRows(declared.scores, found.answer.scores),
    parts: partDifferences(sheet, declared, found.answer),
    index,
    ...(further === undefined ? {} : { further }),
    verdict,
    ...(differences === undefined
      ? {}
      : { documents: { verdict: differences.length === 0 ? ("pass" as const) : ("fail" as const), differences } }),
  };
}

/** `least` in ten-thousandths is exact: declared hundredths times 96. */
function indexVerdict(rules: RuleSet, declared: LawAnswer, found: Assessed): IndexVerdict {
  const text = (value: number | null): string | null => (value === null ? null : decimal(value, 4));
  if (declared.index === null) {
    const why = `the sheet itself gives no index: ${declared.why}`;
    return { declared: null, found: text(found.low.exact), least: null, verdict: "cannot-tell", text: why };
  }
  const least = hundredths(declared.index, "index") * (100 - rules.tolerancePercent);
  const { low, high } = found;
  const verdict: Verdict = meets(low.exact, least) ? "pass" : meets(high.exact, least) ? "cannot-tell" : "fail";
  const limit = `${decimal(least, 4)}, which is ${100 - rules.tolerancePercent} % of the declared ${declared.index}`;
  const says =
    low.exact === null && high.exact === null
      ? `no index is found: ${found.why.join("; ")}`
      : low.exact === high.exact
        ? `found ${text(low.exact)}`
        : `found between ${text(low.exact) ?? "no index"} and ${text(high.exact) ?? "no index"}`;
  return {
    declared: declared.index,
    found: text(low.exact),
    least: decimal(least, 4),
    verdict,
    text: `${says}; it must be at least ${limit}`,
  };
}

function meets(exact: number | null, least: number): boolean {
  return exact !== null && exact >= least;
}

function scoreRows(declared: Scores, found: Scores): DeclaredScore[] {
  const text = (value: string | number | null): string | null =>
    value === null ? null : typeof value === "number" ? decimal(value * 100, 2) : value;
  return (["SDD", "SF", "ST", "SSP", "SSU", "SRI"] as const).map((score) => {
    const a = text(declared[score]);
    const b = text(found[score]);
    const difference = a === null || b === null ? null : decimal(hundredths(b, score) - hundredths(a, score), 2);
    return { score, declared: a, found: b, difference };
  });
}

function partDifferences(sheet: Sheet, declared: LawAnswer, found: LawAnswer): DeclaredPart[] {
  const rows: DeclaredPart[] = [];
  const roles = new Set([...rolesOf(sheet.foldable), ...(Object.keys(found.parts) as PriorityRole[])]);
  for (const part of roles) {
    const a = declared.parts[part] ?? null;
    const b = found.parts[part] ?? null;
    if (a === null && b === null) continue;
    if (a === null || b === null) {
      const said = (one: unknown): string => (one === null ? "absent" : "present");
      rows.push({ part, what: "presence", declared: said(a), found: said(b) });
      continue;
    }
    for (const what of ["steps", "depth", "fastener", "tool"] as const)
      if (a[what] !== b[what]) rows.push({ part, what, declared: a[what], found: b[what] });
  }
  return rows;
}
