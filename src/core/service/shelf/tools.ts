/**
 * Which tools to own: in the order in which each next one opens most of the jobs asked for. Greedy over sets of tools, which is
 * within 1 - 1/e of the best order for coverage of single tools and a plain rule for sets.
 */
import type { ToolNeeded } from "../swap/needs.ts";

export interface ToolRow {
  readonly name: string;
  readonly kind: string;
  /** Kinds of swap that need it, and jobs of the forecast. */
  readonly swaps: number;
  readonly jobs: number;
  /** Kinds of swap that can be done with this tool and all above it. */
  readonly opens: number;
  readonly for: readonly string[];
}

interface Job {
  readonly device: string;
  readonly part: string;
  readonly count: number;
  readonly tools: readonly ToolNeeded[];
}

/** Tools that come with the spare need not be owned. Tools of one name are one tool. */
export function toolsToOwn(jobs: readonly Job[]): ToolRow[] {
  const needs = jobs.map((job) => ({
    job,
    names: new Set(job.tools.filter(({ brought }) => !brought).map(({ name }) => name)),
  }));
  const kinds = new Map(jobs.flatMap(({ tools }) => tools.map(({ name, kind }) => [name, kind] as const)));
  const left = new Set(needs.flatMap(({ names }) => [...names]));
  const owned = new Set<string>();
  const rows: ToolRow[] = [];
  const missing = (names: ReadonlySet<string>): string[] => [...names].filter((name) => !owned.has(name));
  while (left.size > 0) {
    const waiting = needs.filter(({ names }) => missing(names).length > 0);
    // The swap that most jobs for each missing tool wait for is opened next, by its most shared tool.
    const best = waiting.reduce((most, one) => (worth(one) > worth(most) ? one : most));
    const next = missing(best.names).sort((a, b) => users(b) - users(a) || (a < b ? -1 : 1))[0]!;
    owned.add(next);
    left.delete(next);
    const own = needs.filter(({ names }) => names.has(next));
    rows.push({
      name: next,
      kind: kinds.get(next) ?? "basic",
      swaps: own.length,
      jobs: own.reduce((sum, { job }) => sum + job.count, 0),
      opens: needs.filter(({ names }) => missing(names).length === 0).length,
      for: own.map(({ job }) => `${job.device}: ${job.part}`),
    });
  }
  return rows;

  function worth({ job, names }: (typeof needs)[number]): number {
    return (job.count + 1e-9) / missing(names).length;
  }
  function users(name: string): number {
    return needs.reduce((sum, { job, names }) => sum + (names.has(name) ? job.count + 1e-9 : 0), 0);
  }
}
