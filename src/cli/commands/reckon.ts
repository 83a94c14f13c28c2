import { InputFaults } from "../../core/errors.ts";
import { KINDS, reckonCase } from "../../core/service/reckon/case.ts";
import type { Command, Context, ExitCode } from "../command.ts";
import { readOptions } from "../options.ts";
import { readDocument } from "../read-document.ts";
import { wrap } from "../wrap.ts";

const help = `unseam reckon: one method of the workshop on its own

Usage: unseam reckon CASE.json [--json]

Answers a case of the form { "format": "unseam-reckon/1", "kind": ..., inputs }
Kinds:
${wrap(Object.keys(KINDS).join(", "), 79, "  ")}

  worksheet      times and cost of service operations, row by row
  learning       repeats get quicker: "model": "unit" or "cumulative"
  lognormal      repair times: fit and quantiles
  three-point    low, likely, high; PERT, triangular, networks of tasks
  poisson-stock  what to keep for a service level, backorders
  newsvendor     one order for an uncertain demand
  demand         a rate known from few events (gamma-Poisson)
  replace-limit  the highest price at which repair still beats a new device

Every kind with an example: docs/core/service.md. Exit code 1 names the key
that is at fault.
`;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(context.args, { json: { type: "boolean" } }, ["CASE"]);
  const { value, faults } = await readDocument(context, files[0]!);
  if (faults.length > 0) throw new InputFaults(faults);
  const answer = reckonCase(value);
  context.stdout(values.json ? `${JSON.stringify(answer, null, 2)}\n` : lines(answer));
  return 0;
}

function lines(answer: object, indent = ""): string {
  return Object.entries(answer)
    .filter(([, value]) => !(Array.isArray(value) && value.length === 0))
    .map(([key, value]) => {
      if (Array.isArray(value) && value.some((one) => typeof one === "object" && one !== null))
        return `${indent}${key}\n${value.map((one) => `${indent}  ${inOneLine(one)}\n`).join("")}`;
      return `${wrap(inOneLine(value), 80, `${indent}${key}  `, `${indent}  `)}\n`;
    })
    .join("");
}

function inOneLine(value: unknown): string {
  if (typeof value === "number") return String(Number(value.toPrecision(9)));
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (value === null) return "none";
  if (Array.isArray(value)) return value.map(inOneLine).join(", ");
  if (typeof value === "object")
    return Object.entries(value)
      .map(([key, inner]) => `${key} ${inOneLine(inner)}`)
      .join(", ");
  return String(value);
}

export const reckon: Command = { name: "reckon", summary: "one method of the workshop on its own", help, run };
