/** A sheet -> the index of 2023/1669 with what decides it. Exact; the cost is that of reading the sheet. */
import type { PriorityRole } from "../record/schema.ts";
import type { LawAnswer, PartAnswer } from "./answer.ts";
import { decimal } from "./exact.ts";
import { CURRENT } from "./rules/index.ts";
import type { RuleSet } from "./rules/types.ts";
import {
  depthPoints,
  fastenerPoints,
  indexOf,
  type PartPoints,
  rolesOf,
  roundingDecides,
  scoresText,
  toolPoints,
  updatePoints,
} from "./score.ts";
import type { Sheet, SheetPart } from "./sheet.ts";
import { roundingWarning } from "./words.ts";

/** The index of a sheet. Where the law has no points, `index`, `unrounded` and `class` are null and `why` says it. */
export function assessSheet(sheet: Sheet, rules: RuleSet = CURRENT): LawAnswer {
  const why: string[] = [];
  const warnings: string[] = [];
  const points = new Map<PriorityRole, PartPoints>();
  const parts: { [role in PriorityRole]?: PartAnswer | null } = {};
  for (const role of rolesOf(sheet.foldable)) {
    const instances = sheet.parts[role] ?? null;
    if (instances === null) {
      parts[role] = null;
      continue;
    }
    const answer = partAnswer(rules, role, instances, why);
    parts[role] = answer;
    points.set(role, answer);
  }
  const updates = sheet.updateYears === null ? null : updatePoints(rules, sheet.updateYears);
  if (sheet.updateYears === null) why.push("no years of updates are guaranteed");
  else if (updates === null) why.push(`${sheet.updateYears} years of updates: the law has no points below 5 years`);
  else if (!Number.isInteger(sheet.updateYears))
    warnings.push(`updateYears: ${sheet.updateYears} years; only full years are counted`);
  if (sheet.spareParts === null) why.push("spare parts meet no level: the law has no points for that");
  if (sheet.repairInformation === null) why.push("repair information meets no level: the law has no points for that");
  const index = indexOf(rules, sheet.foldable, points, {
    spareParts: sheet.spareParts,
    updates,
    information: sheet.repairInformation,
  });
  const rounding = roundingWarning(rules, index);
  if (rounding !== undefined) warnings.push(rounding);
  return {
    basis: "sheet",
    index: index.rounded === null ? null : decimal(index.rounded, 2),
    unrounded: index.exact === null ? null : decimal(index.exact, 4),
    class: index.letter,
    roundingDecides: roundingDecides(index),
    scores: scoresText(index),
    parts,
    unknown: [],
    warnings,
    ...(index.exact === null ? { why: why.join("; ") } : {}),
  };
}

function partAnswer(rules: RuleSet, role: PriorityRole, instances: readonly SheetPart[], why: string[]): PartAnswer {
  const name = (index: number): string => (instances.length === 1 ? role : `${role}[${index}]`);
  const remoteOf = (part: SheetPart): number =>
    (part.remote.notification ? rules.remoteSteps : 0) + (part.remote.authorisation ? rules.remoteSteps : 0);
  let deepest = 0;
  let worstFastener = 0;
  let worstTool = 0;
  const fasteners = instances.map((part) => fastenerPoints(rules, part.fastener));
  const tools = instances.map((part) => toolPoints(rules, part.tool));
  const steps = instances.map((part) => part.steps + remoteOf(part));
  instances.forEach((part, index) => {
    if (steps[index] > steps[deepest]) deepest = index;
    if (below(fasteners[index], fasteners[worstFastener])) worstFastener = index;
    if (below(tools[index], tools[worstTool])) worstTool = index;
    if (fasteners[index] === null)
      why.push(`${name(index)}: the law has no points for a fastener that is ${part.fastener}`);
    if (tools[index] === null) why.push(`${name(index)}: the law has no points for a ${part.tool} tool`);
  });
  return {
    steps: steps[deepest],
    remoteSteps: remoteOf(instances[deepest]),
    depth: depthPoints(rules, steps[deepest]),
    fastener: fasteners[worstFastener],
    tool: tools[worstTool],
    decidedBy: {
      depth: { instance: name(deepest), steps: steps[deepest] },
      fastener: { instance: name(worstFastener), kind: instances[worstFastener].fastener },
      tool: { instance: name(worstTool), kind: instances[worstTool].tool },
    },
  };
}

/** null, no points, is below everything. */
function below(a: number | null, b: number | null): boolean {
  if (b === null) return false;
  return a === null || a < b;
}
