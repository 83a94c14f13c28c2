/** `unseam solve`: a bare planning problem, or a sequential ordering problem of TSPLIB. Kept light: it starts often. */
import { performance } from "node:perf_hooks";
import { InputFaults } from "../../core/errors.ts";
import { readJson } from "../../core/record/json-text.ts";
import { BARE_OBJECTIVE, bareOrder, readBare } from "../../core/route/bare.ts";
import { blockedTargets } from "../../core/route/because.ts";
import type { Control, Problem, Solved } from "../../core/route/problem.ts";
import { solve as solveProblem } from "../../core/route/solve.ts";
import type { Command, Context, ExitCode } from "../command.ts";
import { numberOption, readOptions } from "../options.ts";
import { isYaml, readDocument, readText } from "../read-document.ts";
import { wrap } from "../wrap.ts";

const help = `unseam solve: the cheapest order of a bare problem, with proof

Usage: unseam solve FILE [--limit SECONDS] [--json]

FILE is a problem in the format "unseam-problem/1" (JSON, or YAML when the name
ends in .yaml or .yml), or a sequential ordering problem of TSPLIB (a text file
with the line TYPE: SOP, whatever its name).

  --limit SECONDS  stop at this time and say how good the order is (10)
  --json           { "seconds", "lowerBound", "proved", "order": ["…"],
                     "milliseconds" }; a heating stands in the order as
                   "heat:" with its zone; milliseconds is the solving alone.
                   Where a target cannot be reached:
                   { "unreachable": [{ "id", "because" }] }

Exit code 0 when an order was found, proved best or not; 1 when the file is at
fault, a target cannot be reached, or no order was found in the time.
`;

const MOST_SECONDS = 86_400;
const MOST_BYTES = 32_000_000;

/** What is printed with `--json`. */
interface Printed {
  readonly seconds: number;
  readonly lowerBound: number;
  readonly proved: boolean;
  readonly order: readonly string[];
  readonly milliseconds: number;
}

async function run(context: Context): Promise<ExitCode> {
  const options = { json: { type: "boolean" }, limit: { type: "string" } } as const;
  const { values, files } = readOptions(context.args, options, ["FILE"]);
  const limit = numberOption("limit", values.limit ?? "10", 0, MOST_SECONDS, "seconds");
  const json = values.json === true;
  const path = files[0]!;
  if (isYaml(path)) {
    const { value, faults } = await readDocument(context, path);
    if (faults.length > 0) throw new InputFaults(faults);
    return answer(context, readBare(value), limit, json);
  }
  const text = await readText(context, path, MOST_BYTES);
  const { isSopText } = await import("../../core/route/sop/read.ts");
  if (isSopText(text)) {
    const { solveSop } = await import("../../core/route/sop/index.ts");
    const now = () => performance.now();
    print(context, solveSop(text, { now, deadline: now() + limit * 1000 }), json, "");
    return 0;
  }
  const { value, faults } = readJson(text);
  if (faults.length > 0) throw new InputFaults(faults);
  return answer(context, readBare(value), limit, json);
}

function answer(context: Context, problem: Problem, limit: number, json: boolean): ExitCode {
  const now = () => performance.now();
  const started = now();
  const control: Control = { now, deadline: started + limit * 1000 };
  const found = solveProblem(problem, BARE_OBJECTIVE, control);
  const milliseconds = Math.round((now() - started) * 1000) / 1000;
  if (found.kind === "no-way") return unreachable(context, problem, control, json);
  if (found.kind === "out-of-time") {
    throw new InputFaults([
      {
        path: "",
        found: `no order within ${limit} s (none can take less than ${found.lowerBound / 1000} s)`,
        expected: "more time: --limit",
      },
    ]);
  }
  print(context, printed(problem, found, milliseconds), json, " s");
  return 0;
}

function printed(problem: Problem, found: Solved, milliseconds: number): Printed {
  return {
    seconds: found.ms / 1000,
    lowerBound: found.lowerBound / 1000,
    proved: found.proved,
    order: bareOrder(problem, found.moves),
    milliseconds,
  };
}

function unreachable(context: Context, problem: Problem, control: Control, json: boolean): ExitCode {
  const blocked = blockedTargets(problem, BARE_OBJECTIVE, control).map(({ operation, because }) => ({
    id: problem.operations[operation]!.id,
    because,
  }));
  if (json) context.stdout(`${JSON.stringify({ unreachable: blocked }, null, 2)}\n`);
  for (const { id, because } of blocked) context.stderr(`${wrap(`"${id}" cannot be reached: ${because}.`, 80)}\n`);
  return 1;
}

function print(context: Context, found: Printed, json: boolean, unit: string): void {
  if (json) {
    context.stdout(`${JSON.stringify(found, null, 2)}\n`);
    return;
  }
  const gap = found.seconds > 0 ? (100 * (found.seconds - found.lowerBound)) / found.seconds : 0;
  const proof = found.proved
    ? "proved least"
    : `not proved: none is below ${found.lowerBound}${unit} (gap ${gap.toFixed(1)} %)`;
  context.stdout(`${found.seconds}${unit}, ${proof}; solved in ${found.milliseconds.toFixed(1)} ms\n`);
  context.stdout(`${wrap(found.order.join("  "), 80, "  ")}\n`);
}

export const solve: Command = {
  name: "solve",
  summary: "the cheapest order of a bare problem, with proof",
  help,
  run,
};
