/** What can matter at all to the ways in to some parts, judged by the structure alone. */
import type { Part, TeardownRecord } from "../record/schema.ts";
import { HAZARDS } from "../record/schema.ts";
import { compile } from "../structure/index.ts";

/** Everything that any way to the parts, or to the power joint, can take. */
export function closureOf(
  record: TeardownRecord,
  parts: readonly Part[],
): { readonly joints: ReadonlySet<string>; readonly parts: ReadonlySet<string> } {
  const targets = parts.filter((part) => !part.base).map((part) => part.id);
  const { problem, meanings } = compile(record, { damage: true, accept: HAZARDS }, targets, false);
  const seen = new Set<number>();
  const stack = meanings.flatMap((meaning, index) => {
    if (meaning.kind === "release") return meaning.joint.power ? [index] : [];
    return meaning.kind === "lift" && targets.includes(meaning.part.id) ? [index] : [];
  });
  for (let next = stack.pop(); next !== undefined; next = stack.pop()) {
    if (seen.has(next)) continue;
    seen.add(next);
    stack.push(...problem.operations[next].needs.flat(3));
  }
  const joints = new Set<string>();
  const moved = new Set<string>();
  for (const index of seen) {
    const meaning = meanings[index];
    if (meaning.kind === "release") joints.add(meaning.joint.id);
    else moved.add(meaning.part.id);
  }
  return { joints, parts: moved };
}
