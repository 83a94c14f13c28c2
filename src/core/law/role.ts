/**
 * One priority part: every instance of it by its own sequence, then each score's own minimum over the instances (2023/1669
 * Annex IV point 5; that the minimum is taken for each score by itself is our reading).
 */
import type { Part, PriorityRole, TeardownRecord } from "../record/schema.ts";
import type { StepReadings } from "../route/problem.ts";
import type { PartAnswer, Unknown } from "./answer.ts";
import { type Count, countSteps } from "./count.ts";
import type { LawOperation } from "./operations.ts";
import type { RuleSet } from "./rules/types.ts";
import { depthPoints } from "./score.ts";
import { type MetFastener, type MetTool, type Segment, type Span, segmentOf, worst } from "./segment.ts";
import type { Sequence } from "./sequence.ts";

/** One part that carries or serves the role, assessed. */
export interface Instance {
  readonly part: Part;
  readonly remoteSteps: number;
  /** Remote steps included; null where it cannot be told or there is no way. */
  readonly steps: number | null;
  readonly depth: Span;
  readonly fastener: Span;
  readonly tool: Span;
  readonly sequence: Sequence;
  readonly evidence?: {
    readonly operations: readonly LawOperation[];
    readonly count: Count;
    readonly segment: Segment;
  };
}

export interface RoleResult {
  readonly role: PriorityRole;
  readonly instances: readonly Instance[];
  readonly depth: Span;
  readonly fastener: Span;
  readonly tool: Span;
  readonly answer: PartAnswer;
  readonly unknown: readonly Unknown[];
  readonly warnings: readonly string[];
  /** Why the law has no points, where it has none. */
  readonly why: readonly string[];
}

/** The parts that carry or serve a role. */
export function instancesOf(record: TeardownRecord, role: PriorityRole): Part[] {
  return record.parts.filter((part) => part.role === role || part.serves?.includes(role));
}

export function assessRole(
  rules: RuleSet,
  record: TeardownRecord,
  role: PriorityRole,
  readings: StepReadings,
  sequenceOf: (part: Part) => Sequence,
): RoleResult {
  const instances = instancesOf(record, role).map((part) =>
    assessInstance(rules, record, role, readings, part, sequenceOf(part)),
  );
  const unknown: Unknown[] = [];
  const warnings: string[] = [];
  const why: string[] = [];
  for (const instance of instances) {
    warnings.push(...instance.sequence.warnings);
    explain(record, role, instance, unknown, warnings, why);
  }
  return {
    role,
    instances,
    depth: worst(
      instances.map((one) => one.depth),
      rules.absentPoints,
    ),
    fastener: worst(
      instances.map((one) => one.fastener),
      rules.absentPoints,
    ),
    tool: worst(
      instances.map((one) => one.tool),
      rules.absentPoints,
    ),
    answer: answerOf(instances),
    unknown,
    warnings,
    why,
  };
}

function assessInstance(
  rules: RuleSet,
  record: TeardownRecord,
  role: PriorityRole,
  readings: StepReadings,
  part: Part,
  sequence: Sequence,
): Instance {
  const remoteSteps =
    (part.pairing?.notification ? rules.remoteSteps : 0) + (part.pairing?.authorisation ? rules.remoteSteps : 0);
  if (sequence.kind !== "told") {
    const anything: Span =
      sequence.kind === "no-way" ? { low: null, high: null } : { low: 1, high: rules.absentPoints };
    return { part, remoteSteps, steps: null, depth: anything, fastener: anything, tool: anything, sequence };
  }
  const { operations } = sequence;
  const count = countSteps(record, operations, readings);
  const steps = count.steps + remoteSteps;
  const least = (sequence.stepsAtLeast ?? count.steps) + remoteSteps;
  const segment = segmentOf(rules, record, part, role, operations);
  return {
    part,
    remoteSteps,
    steps,
    depth: { low: depthPoints(rules, steps), high: depthPoints(rules, least) },
    fastener: segment.fastener,
    tool: segment.tool,
    sequence,
    evidence: { operations, count, segment },
  };
}

function explain(
  record: TeardownRecord,
  role: PriorityRole,
  instance: Instance,
  unknown: Unknown[],
  warnings: string[],
  why: string[],
): void {
  const { part, sequence, evidence } = instance;
  const path = `parts[${record.parts.indexOf(part)}]`;
  if (sequence.kind === "no-way") why.push(sequence.because);
  if (sequence.kind === "cannot-tell") unknown.push({ path, text: sequence.because, scores: ["SDD", "SF", "ST"] });
  if (evidence === undefined) return;
  if (sequence.kind === "told" && sequence.stepsAtLeast !== undefined)
    unknown.push({ path, text: `the fewest steps to ${part.name} are not proved`, scores: ["SDD"] });
  for (const met of evidence.segment.fasteners) {
    if (met.low === null) why.push(`${role} (${part.id}): ${met.because}; the law has no points for that`);
    if (met.unknown === "leaves") {
      const at = record.joints.indexOf(met.joint);
      unknown.push({ path: `joints[${at}].releases`, text: met.because, scores: ["SF"] });
    }
    if (met.unknown === "brings") unknown.push({ path: `${path}.spare.brings`, text: met.because, scores: ["SF"] });
  }
  for (const met of evidence.segment.tools) {
    if (met.low === null) why.push(`${role} (${part.id}): ${met.because}; the law has no points for that`);
    if (met.tool === null) warnings.push(`${role} (${part.id}): ${met.because}`);
  }
  if (evidence.segment.fasteners.length === 0) {
    const after = evidence.segment.after;
    warnings.push(
      `${role} (${part.id}): no fastener ${after === undefined ? "is met" : `is met after ${after.id} is off`}; the law has no rule for that, 5 points are taken`,
    );
  }
}

function answerOf(instances: readonly Instance[]): PartAnswer {
  const deepest = pick(
    instances,
    (a, b) => (a.steps ?? Number.POSITIVE_INFINITY) > (b.steps ?? Number.POSITIVE_INFINITY),
  );
  const fastened = pick(instances, (a, b) => below(a.fastener.low, b.fastener.low));
  const tooled = pick(instances, (a, b) => below(a.tool.low, b.tool.low));
  const told = (instance: Instance): boolean => instance.evidence !== undefined;
  const fastener = worstMet(fastened.evidence?.segment.fasteners ?? []);
  const tool = worstMet(tooled.evidence?.segment.tools ?? []);
  return {
    steps: deepest.steps,
    remoteSteps: deepest.remoteSteps,
    depth: told(deepest) ? deepest.depth.low : null,
    fastener: told(fastened) ? fastened.fastener.low : null,
    tool: told(tooled) ? tooled.tool.low : null,
    decidedBy: {
      depth: { instance: deepest.part.id, steps: deepest.steps },
      fastener: fastenerText(fastened, fastener),
      tool: toolText(tooled, tool),
    },
  };
}

function fastenerText(
  instance: Instance,
  met: MetFastener | undefined,
): NonNullable<PartAnswer["decidedBy"]["fastener"]> {
  if (met === undefined) {
    const kind = instance.evidence === undefined ? "cannot-tell" : "none";
    return { instance: instance.part.id, kind, ...reason(instance) };
  }
  const [low, high] = met.kinds;
  const kind = low === high ? low : `${low} or better, at best ${high}`;
  return { instance: instance.part.id, joint: met.joint.id, kind, because: met.because };
}

function toolText(instance: Instance, met: MetTool | undefined): NonNullable<PartAnswer["decidedBy"]["tool"]> {
  if (met === undefined) {
    const kind = instance.evidence === undefined ? "cannot-tell" : "none";
    return { instance: instance.part.id, kind, ...reason(instance) };
  }
  const tool = met.tool === null ? {} : { tool: met.tool };
  return { instance: instance.part.id, ...tool, kind: met.kind, because: met.because };
}

function reason(instance: Instance): { readonly because?: string } {
  return instance.sequence.kind === "told" ? {} : { because: instance.sequence.because };
}

function worstMet<T extends Span>(met: readonly T[]): T | undefined {
  return met.length === 0 ? undefined : pick(met, (a, b) => below(a.low, b.low));
}

/** The first that is worse than all before it. */
function pick<T>(all: readonly T[], worse: (a: T, b: T) => boolean): T {
  return all.reduce((best, one) => (worse(one, best) ? one : best));
}

/** null, no points, is below everything. */
function below(a: number | null, b: number | null): boolean {
  if (b === null) return false;
  return a === null || a < b;
}
