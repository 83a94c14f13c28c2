/** Why targets cannot be reached, in words: which operations wait for one another, or which bond cannot be kept soft. */
import { missingTools } from "./advance.ts";
import type { Control, Need, Objective, Problem } from "./problem.ts";
import { reachable } from "./reduce.ts";
import { solve } from "./solve.ts";

export interface Blocked {
  /** Index of the target. */
  readonly operation: number;
  readonly because: string;
}

/** The targets that no order of work reaches, each with its reason; empty where each can be reached. */
export function blockedTargets(problem: Problem, objective: Objective, control: Control): Blocked[] {
  const reached = reachable(problem);
  const blocked: Blocked[] = [];
  for (const operation of problem.targets) {
    if (reached[operation] !== 1) blocked.push({ operation, because: waiting(problem, reached, operation) });
    else if (solve({ ...problem, targets: [operation] }, objective, control).kind === "no-way") {
      blocked.push({ operation, because: tooCold(problem) });
    }
  }
  return blocked;
}

/** Follows the first operation that is missing until one comes round again or nothing is left that could help. */
function waiting(problem: Problem, reached: Uint8Array, target: number): string {
  const { operations } = problem;
  const name = (i: number) => `"${operations[i]!.id}"`;
  const seen: number[] = [target];
  const links: string[] = [];
  for (let at = target; ; ) {
    const need = operations[at]!.needs.find(
      (one) => !one.some((group) => group.every((atom) => atom.some((i) => reached[i] === 1))),
    )!;
    const missing = firstMissing(need, reached);
    if (missing === null) return [...links, `${name(at)} needs what no operation gives`].join("; ");
    const ways =
      need.length > 1
        ? ` (or ${need.length - 1} other ${need.length === 2 ? "group" : "groups"}, none of which can be done)`
        : "";
    links.push(`${name(at)} needs ${name(missing)}${ways}`);
    const from = seen.indexOf(missing);
    if (from >= 0) {
      const circle = [...seen.slice(from), missing].map(name).join(" -> ");
      return `${links.slice(0, 8).join("; ")}${links.length > 8 ? "; …" : ""}: a circle of needs with no way out (${circle})`;
    }
    seen.push(missing);
    at = missing;
  }
}

function firstMissing(need: Need, reached: Uint8Array): number | null {
  for (const group of need) {
    for (const atom of group) if (atom.length > 0 && !atom.some((i) => reached[i] === 1)) return atom[0]!;
  }
  return null;
}

function tooCold(problem: Problem): string {
  const late: string[] = [];
  for (const { id, ms, tools, zone: index } of problem.operations) {
    const zone = problem.zones[index];
    if (zone === undefined || zone.soft === null) continue;
    const hand = zone.tools.length > 0 ? zone.tools : problem.start.tools;
    const work = ms + missingTools(tools, hand).length * problem.fetch;
    if (work > zone.soft) {
      late.push(
        `"${id}" takes up to ${work / 1000} s after a heating of "${zone.id}", which stays soft for ${zone.soft / 1000} s`,
      );
    }
  }
  return `no order of work keeps the bonds soft long enough: ${late.join("; ")}`;
}
