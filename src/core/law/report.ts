/**
 * The whole assessment of a record: the index with its evidence, the three counts side by side, the checks of 2023/1670 and
 * Article 11, the clauses, and what could not be verified.
 */

import { InputFaults } from "../errors.ts";
import type { PriorityRole, TeardownRecord } from "../record/schema.ts";
import { DEFAULT_READINGS } from "../route/problem.ts";
import type { LawAnswer } from "./answer.ts";
import { type Article11, checkArticle11 } from "./article-11.ts";
import { type Assessed, assessRecord, assessView, type LawOptions, type RecordBasis } from "./assess.ts";
import { procedureOf } from "./described.ts";
import { checkEcodesign, type Ecodesign } from "./ecodesign.ts";
import { type Evidence, evidenceOf } from "./evidence.ts";
import { type ProductFact, productFacts } from "./product.ts";
import type { Instance } from "./role.ts";
import { CURRENT, versionInForce } from "./rules/index.ts";
import type { Clause, ReadingId, RuleSet } from "./rules/types.ts";
import { rolesOf } from "./score.ts";
import { NOTICE } from "./words.ts";

/** Steps of one part by each basis, remote steps included; null where the basis cannot tell. */
export interface Counts {
  readonly described: number | null;
  readonly done: number | null;
  readonly least: number | null;
}

export interface RulesUsed {
  readonly id: string;
  readonly act: string;
  readonly consolidated: string;
  readonly appliesFrom: string;
  /** The version in force when the first unit was placed on the market; null where the date is not known. */
  readonly inForceAtRelease: string | null;
  readonly readings: readonly { readonly id: ReadingId; readonly text: string; readonly switched: boolean }[];
  readonly notVerified: readonly string[];
}

export interface LawReport extends LawAnswer {
  readonly counts: { readonly [role in PriorityRole]?: Counts | null };
  readonly evidence: Evidence;
  /** The facts behind the scores of the product. */
  readonly product: readonly ProductFact[];
  readonly checks: { readonly ecodesign: Ecodesign; readonly article11: Article11 };
  readonly clauses: readonly Clause[];
  readonly rules: RulesUsed;
  readonly notice: string;
}

/** @throws as `assessRecord` */
export function lawReport(record: TeardownRecord, options: LawOptions): LawReport {
  const rules = options.rules ?? CURRENT;
  const { answer, view } = assessRecord(record, options);
  const { counts, warnings } = countsOf(record, options, view);
  return {
    ...answer,
    warnings: [...answer.warnings, ...warnings],
    counts,
    evidence: evidenceOf(rules, record, view.roles),
    product: productFacts(rules, record),
    checks: {
      ecodesign: checkEcodesign(rules, record, view.basis, view.sequenceOf),
      article11: checkArticle11(record, view.basis, view.sequenceOf),
    },
    clauses: rules.clauses,
    rules: rulesUsed(rules, record, options),
    notice: NOTICE,
  };
}

/** Milliseconds for each way in that is planned for comparison alone. */
const BESIDE_LIMIT = 600;

/** The other two bases are counted beside; one that the record has nothing for, or that is at fault, tells nothing. */
function countsOf(record: TeardownRecord, options: LawOptions, view: Assessed): Pick<LawReport, "counts" | "warnings"> {
  const views = new Map<RecordBasis, Assessed>([[view.basis, view]]);
  for (const basis of ["described", "done", "least"] as const) {
    if (views.has(basis)) continue;
    if (basis === "described" && procedureOf(record) === undefined) continue;
    if (basis === "done" && record.log.length === 0) continue;
    // Beside another basis the least counts are for comparison: they are given less time.
    const limit = basis === "least" ? Math.min(options.limit ?? BESIDE_LIMIT, BESIDE_LIMIT) : options.limit;
    try {
      views.set(basis, assessView(record, { ...options, basis, limit }, "written"));
    } catch (error) {
      if (!(error instanceof InputFaults)) throw error;
    }
  }
  const counts: { [role in PriorityRole]?: Counts | null } = {};
  const unproved: PriorityRole[] = [];
  for (const role of rolesOf(record.device.foldable)) {
    const steps = (basis: RecordBasis): number | null => {
      const result = views.get(basis)?.roles.get(role);
      if (basis === "least" && view.basis !== "least" && result?.instances.some(isOpen)) {
        unproved.push(role);
        return null;
      }
      return result?.answer.steps ?? null;
    };
    counts[role] = view.roles.has(role)
      ? { described: steps("described"), done: steps("done"), least: steps("least") }
      : null;
  }
  const open =
    unproved.length === 0
      ? []
      : [
          `the fewest steps to ${unproved.join(", ")} were not proved in the time given beside the ${view.basis} count; ask for the basis least`,
        ];
  return { counts, warnings: [...belowLeast(views, counts), ...open] };
}

/** A planned way in that was not proved to have the fewest steps. */
function isOpen({ sequence }: Instance): boolean {
  return sequence.kind === "told" && sequence.stepsAtLeast !== undefined;
}

/** A log that counts fewer steps than are needed has left work out, or took a way that damages. */
function belowLeast(views: ReadonlyMap<RecordBasis, Assessed>, counts: LawReport["counts"]): string[] {
  return Object.entries(counts).flatMap(([role, count]) => {
    const planned = views.get("least")?.roles.get(role as PriorityRole)?.instances ?? [];
    const proved = planned.every((instance) => instance.sequence.kind === "told" && !isOpen(instance));
    if (!proved || count === null || count.done === null || count.least === null || count.done >= count.least)
      return [];
    return [
      `${role}: the log counts ${count.done} steps, fewer than the ${count.least} that are needed without damage: it leaves work out or took a way that damages`,
    ];
  });
}

function rulesUsed(rules: RuleSet, record: TeardownRecord, options: LawOptions): RulesUsed {
  const readings = options.readings ?? DEFAULT_READINGS;
  const released = record.device.released;
  const inForce = released === undefined ? null : versionInForce(rules, released);
  const before = `the act did not yet apply on ${released} (it does from ${rules.appliesFrom})`;
  return {
    id: rules.id,
    act: rules.act,
    consolidated: rules.consolidated,
    appliesFrom: rules.appliesFrom,
    inForceAtRelease: released === undefined ? null : (inForce?.what ?? before),
    readings: rules.readings.map(({ id, text, other }) => {
      const switched = id !== "I8" && readings[id];
      return { id, text: switched && other !== null ? other : text, switched };
    }),
    notVerified: rules.notVerified,
  };
}
