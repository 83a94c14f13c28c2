/**
 * The law from a record: the index by one basis of counting, with its evidence.
 *
 * Each score is carried as the points at worst and at best that what is known allows. The index takes the worse; the range
 * gives both ends, over the doubted relations of the structure too (all of them as written, and none of them). Cost: one
 * planned way in for each instance of a priority part under `least`, doubled where relations are doubted.
 */
import { InputError } from "../errors.ts";
import type { Part, PriorityRole, TeardownRecord } from "../record/schema.ts";
import { type Control, DEFAULT_READINGS, type StepReadings } from "../route/problem.ts";
import type { DoubtView } from "../route/ways/types.ts";
import { openQuestions } from "../structure/index.ts";
import type { Basis, LawAnswer, PartAnswer, RangeEnd, Unknown } from "./answer.ts";
import { closureOf } from "./closure.ts";
import { describedSequence, procedureOf, requireOperations } from "./described.ts";
import { Log } from "./done.ts";
import { decimal } from "./exact.ts";
import { type FindWayIn, leastSequence } from "./least.ts";
import { informationFact, updateFact } from "./market.ts";
import { assessRole, instancesOf, type RoleResult } from "./role.ts";
import { CURRENT } from "./rules/index.ts";
import type { RuleSet } from "./rules/types.ts";
import { endText, type Index, indexOf, type PartPoints, rolesOf, roundingDecides, scoresText } from "./score.ts";
import type { Span } from "./segment.ts";
import type { Sequence } from "./sequence.ts";
import { type SparePoints, sparePoints } from "./spare-parts.ts";
import { tieWarnings } from "./ties.ts";
import { roundingWarning } from "./words.ts";

export type RecordBasis = Exclude<Basis, "sheet">;

export interface LawOptions {
  /** false: equally short ways with other points are not looked for, and not warned of. */
  readonly ties?: boolean;
  readonly basis?: RecordBasis;
  readonly readings?: StepReadings;
  readonly rules?: RuleSet;
  /** The planner (core/route/ways) and its clock. */
  readonly findWayIn: FindWayIn;
  readonly control: Control;
  /** Milliseconds for each planned way in. */
  readonly limit?: number;
}

/** Everything that one view of the record says. */
export interface Assessed {
  readonly basis: RecordBasis;
  readonly roles: ReadonlyMap<PriorityRole, RoleResult>;
  readonly spare: SparePoints;
  readonly updates: Span;
  readonly information: Span;
  /** Facts at their worst and at their best. */
  readonly low: Index;
  readonly high: Index;
  readonly unknown: readonly Unknown[];
  readonly warnings: readonly string[];
  readonly why: readonly string[];
  /** The sequence to any part, by this basis. */
  readonly sequenceOf: (part: Part) => Sequence;
}

export interface RecordAssessment {
  readonly answer: LawAnswer;
  readonly view: Assessed;
}

const DEFAULT_LIMIT = 5000;

/**
 * Milliseconds of a counting clock for each way in that an app, a report and an evidence pack plan: with the same limit on such a
 * clock they say the same.
 */
export const PLAN_LIMIT = 1000;

/** `described` where the record has a procedure, else `least`. */
export function defaultBasis(record: TeardownRecord): RecordBasis {
  return procedureOf(record) === undefined ? "least" : "described";
}

/**
 * The index from a record.
 *
 * @throws InputError for a foldable device without a hinge, or a basis that the record has nothing for
 * @throws InputFaults where a described line names no operation
 */
export function assessRecord(record: TeardownRecord, options: LawOptions): RecordAssessment {
  const rules = options.rules ?? CURRENT;
  const ways = new Map<string, ReturnType<FindWayIn>>();
  const findWayIn: FindWayIn = (where, question, control) => {
    const way = options.findWayIn(where, question, control);
    ways.set(question.to.join(), way);
    return way;
  };
  const view = assessView(record, { ...options, findWayIn }, "written");
  const others = view.basis === "least" && doubted(record).length > 0 ? [withoutDoubts(record, options, ways)] : [];
  const ties = view.basis === "least" && options.ties !== false ? tiesOf(rules, record, view, options) : [];
  return { answer: answerOf(rules, record, { ...view, warnings: [...view.warnings, ...ties] }, others), view };
}

/** Milliseconds for each way in that is planned anew without the doubted relations. */
const DOUBT_LIMIT = 500;

/** With none of the doubted relations: planned anew only where one of them can matter. */
function withoutDoubts(
  record: TeardownRecord,
  options: LawOptions,
  ways: ReadonlyMap<string, ReturnType<FindWayIn>>,
): Assessed {
  const open = doubted(record);
  const matters = (part: Part): boolean => {
    const { joints, parts } = closureOf(record, [part]);
    return open.some((relation) => joints.has(relation) || parts.has(relation));
  };
  const findWayIn: FindWayIn = (where, question, control) => {
    const part = record.parts.find((one) => one.id === question.to[0]);
    const known = ways.get(question.to.join());
    return known !== undefined && part !== undefined && !matters(part)
      ? known
      : options.findWayIn(where, question, control);
  };
  return assessView(
    record,
    { ...options, findWayIn, limit: Math.min(options.limit ?? DOUBT_LIMIT, DOUBT_LIMIT) },
    "none",
  );
}

/** Milliseconds for looking for equally short ways with other points. */
const TIES_LIMIT = 400;

function tiesOf(rules: RuleSet, record: TeardownRecord, view: Assessed, options: LawOptions): string[] {
  const { control, readings = DEFAULT_READINGS } = options;
  const until = Math.min(control.now() + TIES_LIMIT, control.deadline ?? Number.POSITIVE_INFINITY);
  return [...view.roles].flatMap(([role, { instances }]) =>
    instances.flatMap((instance) => tieWarnings(record, role, instance, { rules, readings, control, until })),
  );
}

/** One view of the doubted relations. */
export function assessView(record: TeardownRecord, options: LawOptions, doubt: DoubtView): Assessed {
  const rules = options.rules ?? CURRENT;
  const readings = options.readings ?? DEFAULT_READINGS;
  const basis = options.basis ?? defaultBasis(record);
  requireHinge(record);
  const { foldable } = record.device;
  const sequenceOf = sequences(record, basis, readings, options, doubt);
  const roles = new Map<PriorityRole, RoleResult>();
  for (const role of rolesOf(foldable)) {
    if (instancesOf(record, role).length > 0) roles.set(role, assessRole(rules, record, role, readings, sequenceOf));
  }
  const spare = sparePoints(rules, record);
  const updates = updateFact(rules, record);
  const information = informationFact(rules, record);
  const end = (which: keyof Span): Index =>
    indexOf(rules, foldable, pointsOf(roles, which), {
      spareParts: spare[which],
      updates: updates[which],
      information: information[which],
    });
  const results = [...roles.values()];
  return {
    basis,
    sequenceOf,
    roles,
    spare,
    updates,
    information,
    low: end("low"),
    high: end("high"),
    unknown: dedupe([
      ...results.flatMap((one) => one.unknown),
      ...spareUnknowns(record, spare),
      ...(updates.known ? [] : [{ path: "market.updateYears", text: updates.because, scores: ["SSU"] as const }]),
      ...(information.known
        ? []
        : [{ path: "market.repairInformation", text: information.because, scores: ["SRI"] as const }]),
    ]),
    warnings: [
      ...new Set([
        ...generalWarnings(record, rules, basis, roles),
        ...results.flatMap((one) => one.warnings),
        ...updates.warnings,
        ...(spare.mayHaveNone
          ? [
              "for some parts it is not known to whom they are sold; were they sold to nobody, the law would have no points",
            ]
          : []),
      ]),
    ],
    why: [
      ...results.flatMap((one) => one.why),
      ...(spare.low === null ? [`spare parts: ${spare.because}; the law has no points below the lowest level`] : []),
      ...(updates.low === null ? [updates.because] : []),
      ...(information.low === null ? [information.because] : []),
    ],
  };
}

/** Relations that nobody has tried or seen, by joint and part id. */
export function doubted(record: TeardownRecord): string[] {
  return openQuestions(record).map((question) => question.relation);
}

export function pointsOf(
  roles: ReadonlyMap<PriorityRole, RoleResult>,
  which: keyof Span,
): Map<PriorityRole, PartPoints> {
  return new Map(
    [...roles].map(([role, result]) => [
      role,
      { depth: result.depth[which], fastener: result.fastener[which], tool: result.tool[which] },
    ]),
  );
}

function sequences(
  record: TeardownRecord,
  basis: RecordBasis,
  readings: StepReadings,
  options: LawOptions,
  doubt: DoubtView,
): (part: Part) => Sequence {
  const known = new Map<string, Sequence>();
  const once = (compute: (part: Part) => Sequence) => {
    return (part: Part): Sequence => {
      const before = known.get(part.id) ?? compute(part);
      known.set(part.id, before);
      return before;
    };
  };
  switch (basis) {
    case "described": {
      const procedure = procedureOf(record);
      if (procedure === undefined) throw nothingFor("described", "a described procedure in the record");
      requireOperations(record, procedure);
      return once((part) => describedSequence(record, procedure, part));
    }
    case "done": {
      if (record.log.length === 0) throw nothingFor("done", "a log with at least one entry in the record");
      const log = new Log(record);
      return once((part) => log.sequence(part));
    }
    case "least": {
      const { findWayIn, control, limit = DEFAULT_LIMIT } = options;
      return once((part) => leastSequence(record, part, { readings, doubt, findWayIn, control, limit }));
    }
  }
}

function nothingFor(basis: string, expected: string): InputError {
  return new InputError({
    path: basis === "done" ? "log" : "described",
    found: "nothing",
    expected: `${expected} (basis ${basis})`,
  });
}

function requireHinge(record: TeardownRecord): void {
  if (!record.device.foldable || instancesOf(record, "hinge").length > 0) return;
  throw new InputError({
    path: "device.foldable",
    found: "true, and no part with the role hinge",
    expected: "a part that carries or serves the hinge (or foldable: false); it weighs 17 % of a foldable's parts",
  });
}

function generalWarnings(
  record: TeardownRecord,
  rules: RuleSet,
  basis: RecordBasis,
  roles: ReadonlyMap<PriorityRole, RoleResult>,
): string[] {
  const { device } = record;
  const warnings: string[] = [];
  if (device.kind === "other")
    warnings.push(
      "device.kind is other: the act covers smartphones and slate tablets; the index is computed all the same",
    );
  if (!device.foldable && instancesOf(record, "hinge").length > 0)
    warnings.push(
      "a part has the role hinge, but the device is said not to fold: its weight set is used and the hinge left out",
    );
  for (const role of rolesOf(device.foldable)) {
    if (!roles.has(role))
      warnings.push(`no part carries or serves ${role}: taken as absent, ${rules.absentPoints} points each`);
  }
  const procedure = procedureOf(record);
  if (basis === "described" && (record.described ?? []).length > 1 && procedure !== undefined)
    warnings.push(
      `the record has several described procedures; the one by ${procedure.by} (${procedure.id}) is counted`,
    );
  return warnings;
}

function spareUnknowns(record: TeardownRecord, spare: SparePoints): Unknown[] {
  if (spare.low === spare.high && !spare.mayHaveNone) return [];
  return spare.unknown.map((part) => ({
    path: `parts[${record.parts.indexOf(part)}].spare.to`,
    text: `to whom the spare part of ${part.name} (${part.id}) is sold is not known`,
    scores: ["SSP"],
  }));
}

function dedupe(unknown: readonly Unknown[]): Unknown[] {
  const seen = new Set<string>();
  return unknown.filter((one) => {
    const key = `${one.path}\n${one.text}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function answerOf(rules: RuleSet, record: TeardownRecord, view: Assessed, others: readonly Assessed[]): LawAnswer {
  const { low } = view;
  const parts: { [role in PriorityRole]?: PartAnswer | null } = {};
  for (const role of rolesOf(record.device.foldable)) parts[role] = view.roles.get(role)?.answer ?? null;
  const ends = [view, ...others];
  const range = {
    low: extreme(
      ends.map((one) => one.low),
      -1,
    ),
    high: extreme(
      ends.map((one) => one.high),
      1,
    ),
  };
  const unknown = [...view.unknown, ...(others.length > 0 ? doubtUnknowns(record) : [])];
  const spread = range.low.index !== range.high.index;
  const rounding = roundingWarning(rules, low);
  const worse = range.low.index !== endText(low).index;
  return {
    basis: view.basis,
    index: low.rounded === null ? null : decimal(low.rounded, 2),
    unrounded: low.exact === null ? null : decimal(low.exact, 4),
    class: low.letter,
    roundingDecides: roundingDecides(low),
    scores: scoresText(low),
    parts,
    ...(spread || unknown.length > 0 ? { range } : {}),
    unknown,
    warnings: [
      ...view.warnings,
      ...(rounding === undefined ? [] : [rounding]),
      ...(worse && range.low.index !== null
        ? [
            "the worse end of the range lies where doubted relations do not hold: a shorter way in then uses a worse tool or fastener",
          ]
        : []),
    ],
    ...(low.exact === null ? { why: view.why.join("; ") || "the law has no points for what was found" } : {}),
  };
}

/** No index is the worst of all at the low end; at the high end the best index that there is. */
function extreme(ends: readonly Index[], sign: 1 | -1): RangeEnd {
  const value = (index: Index): number => index.exact ?? Number.NEGATIVE_INFINITY;
  const best = ends.reduce((a, b) => (sign * value(b) > sign * value(a) ? b : a));
  return endText(best);
}

function doubtUnknowns(record: TeardownRecord): Unknown[] {
  return doubted(record).map((id) => {
    const joint = record.joints.findIndex((one) => one.id === id);
    const path =
      joint >= 0 ? `joints[${joint}].reach` : `parts[${record.parts.findIndex((one) => one.id === id)}].under`;
    return {
      path,
      text: `what stands in the way of ${id} is a guess that nobody has tried`,
      scores: ["SDD", "SF", "ST"],
    };
  });
}
