/** Why each score is what it is: step by step, with what ended each and the clause that says so. */
import type { PriorityRole, TeardownRecord } from "../record/schema.ts";
import type { StepEnd } from "./count.ts";
import { type LawOperation, operationText } from "./operations.ts";
import type { Instance, RoleResult } from "./role.ts";
import type { RuleSet } from "./rules/types.ts";
import { type TimedSequence, timedSequence } from "./timed.ts";

export interface StepEvidence {
  readonly step: number;
  readonly ended: StepEnd;
  readonly clause: string;
  /** "release j12"; left out for remote steps. */
  readonly operation?: string;
  readonly text: string;
}

export interface PartEvidence {
  readonly part: string;
  readonly name: string;
  /** One sentence that says it all. */
  readonly sentence: string;
  readonly steps: readonly StepEvidence[];
  readonly segment?: {
    /** The priority part that was off or aside before; left out where the segment is all the work. */
    readonly after?: string;
    readonly operations: readonly string[];
    readonly fasteners: readonly { joint: string; kind: string; points: number | null; because: string }[];
    readonly tools: readonly { tool: string | null; kind: string; points: number | null; because: string }[];
  };
  /** The sequence with its standard times, to be drawn. */
  readonly timed?: TimedSequence;
  /** Where in the record each operation was read, for described and done. */
  readonly from?: readonly string[];
}

export type Evidence = { readonly [role in PriorityRole]?: readonly PartEvidence[] };

const CLAUSE_OF: { readonly [end in StepEnd]: string } = {
  "change-of-tool": "step",
  "tool-at-the-same-time": "step",
  removal: "step",
  "moved-aside": "step",
  heating: "step",
  cleaning: "step",
  turn: "step",
  undoing: "step",
  "remote-notification": "remote",
  "remote-authorisation": "remote",
};

export function evidenceOf(
  rules: RuleSet,
  record: TeardownRecord,
  roles: ReadonlyMap<PriorityRole, RoleResult>,
): Evidence {
  const evidence: { [role in PriorityRole]?: readonly PartEvidence[] } = {};
  for (const [role, result] of roles)
    evidence[role] = result.instances.map((instance) => partEvidence(rules, record, role, instance));
  return evidence;
}

function partEvidence(rules: RuleSet, record: TeardownRecord, role: PriorityRole, instance: Instance): PartEvidence {
  const { part, evidence, sequence } = instance;
  const common = { part: part.id, name: part.name, sentence: sentenceOf(role, instance) };
  if (evidence === undefined) return { ...common, steps: [] };
  const { operations, count, segment } = evidence;
  const steps: StepEvidence[] = count.list.map(({ ended, operation }, index) => ({
    step: index + 1,
    ended,
    clause: CLAUSE_OF[ended],
    operation: operationText(operations[operation]),
    text: stepText(record, operations, ended, operation),
  }));
  for (const what of ["notification", "authorisation"] as const) {
    if (!part.pairing?.[what]) continue;
    const ended = `remote-${what}` as const;
    for (let n = 1; n <= rules.remoteSteps; n += 1)
      steps.push({
        step: steps.length + 1,
        ended,
        clause: "remote",
        text: `remote ${what} of ${part.name}, ${n} of ${rules.remoteSteps}`,
      });
  }
  const read = operations.flatMap((operation) => operation.from ?? []);
  return {
    ...common,
    steps,
    timed: timedSequence(record, part.id, operations, count, instance.remoteSteps),
    segment: {
      ...(segment.after === undefined ? {} : { after: segment.after.id }),
      operations: operations.slice(segment.from).map(operationText),
      fasteners: segment.fasteners.map((met) => ({
        joint: met.joint.id,
        kind: met.kinds[0] === met.kinds[1] ? met.kinds[0] : `${met.kinds[0]} or ${met.kinds[1]}`,
        points: met.low,
        because: met.because,
      })),
      tools: segment.tools.map((met) => ({ tool: met.tool, kind: met.kind, points: met.low, because: met.because })),
    },
    ...(sequence.kind === "told" && read.length > 0 ? { from: read } : {}),
  };
}

function stepText(record: TeardownRecord, operations: readonly LawOperation[], ended: StepEnd, index: number): string {
  const operation = operations[index];
  switch (ended) {
    case "change-of-tool":
      return `change of tool before ${operationText(operation)} (${toolNames(record, operation)}): ends the work done before it`;
    case "tool-at-the-same-time":
      return `${operationText(operation)} takes several tools at once (${toolNames(record, operation)}): one step for each after the first`;
    case "removal":
      return operation.kind === "lift" ? `${operation.part.name} comes off` : "a part comes off";
    case "moved-aside":
      return operation.kind === "shift" ? `${operation.part.name} is moved from its place` : "a part is moved";
    case "heating":
      return operation.kind === "heat"
        ? `zone ${operation.zone ?? "(not recorded)"} is heated`
        : `heating for ${operationText(operation)}`;
    case "cleaning":
      return `residue of ${operationText(operation)} is cleaned`;
    case "turn":
      return `the device is turned for ${operationText(operation)}`;
    case "undoing":
      return `${operationText(operation)} is a step of its own`;
    case "remote-notification":
    case "remote-authorisation":
      return "remote step";
  }
}

function toolNames(record: TeardownRecord, operation: LawOperation): string {
  const ids =
    operation.kind === "release"
      ? operation.tools
      : operation.kind === "heat" && operation.source.by !== null
        ? [operation.source.by]
        : [];
  if (ids.length === 0) return "bare hands";
  return ids.map((id) => record.tools.find((tool) => tool.id === id)?.name ?? id).join(", ");
}

function sentenceOf(role: PriorityRole, instance: Instance): string {
  const { part, steps, remoteSteps, depth, fastener, tool, sequence, evidence } = instance;
  if (sequence.kind !== "told" || evidence === undefined)
    return `${part.name} (${role}): ${sequence.kind === "told" ? "" : sequence.because}.`;
  const remote = remoteSteps > 0 ? `, ${remoteSteps} of them remote` : "";
  const worstTool = evidence.segment.tools.find((met) => met.low === tool.low);
  const worstFastener = evidence.segment.fasteners.find((met) => met.low === fastener.low);
  const fastened =
    worstFastener === undefined
      ? "no fastener is met"
      : `worst fastener ${worstFastener.joint.id} is ${worstFastener.kinds[0]}`;
  const tooled =
    worstTool === undefined ? "no tool is needed" : `worst tool ${worstTool.tool ?? "heat"} is ${worstTool.kind}`;
  return `${part.name} (${role}): ${steps} steps${remote}, ${points(depth.low)}; ${fastened}, ${points(fastener.low)}; ${tooled}, ${points(tool.low)}.`;
}

function points(value: number | null): string {
  return value === null ? "no points" : `${value} point${value === 1 ? "" : "s"}`;
}
