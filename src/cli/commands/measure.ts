import { InputFaults } from "../../core/errors.ts";
import { answerCase, KINDS } from "../../core/measure/index.ts";
import type { Command, Context, ExitCode } from "../command.ts";
import { readOptions } from "../options.ts";
import { readDocument } from "../read-document.ts";
import { wrap } from "../wrap.ts";

const help = `unseam measure: one method of measurement on its own

Usage: unseam measure CASE.json [--json]

Answers a case of the form { "format": "unseam-measure/1", "kind": ..., inputs }
Kinds:
${wrap(Object.keys(KINDS).join(", "), 80, "  ")}

  propagate     a formula with uncertain inputs (GUM), first or second order
  monte-carlo   the same by random draws (JCGM 101), with a seed
  difference, ratio, equivalence, extremum, ranking, weighted, conformance
                decisions on measured values
  stack         tolerances of production; closure, reconcile: what was measured
  polygon, line, summary, reading, report, quantile, factor
                an outline, a calibration line, repeats, rounding, tables

Every kind with an example: docs/core/measure.md. null for dof stands for
infinitely many. Exit code 1 names the key that is at fault.
`;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(context.args, { json: { type: "boolean" } }, ["CASE"]);
  const { value, faults } = await readDocument(context, files[0]);
  if (faults.length > 0) throw new InputFaults(faults);
  const answer = answerCase(value);
  context.stdout(values.json ? `${JSON.stringify(answer, null, 2)}\n` : lines(answer));
  return 0;
}

/** One line a key; lists on one line where they fit, else one line an entry. */
function lines(answer: object): string {
  const entries = Object.entries(answer).filter(([, value]) => !(Array.isArray(value) && value.length === 0));
  const width = Math.max(...entries.map(([key]) => key.length));
  return entries
    .flatMap(([key, value]) => {
      const text = shown(value);
      const label = key.padEnd(width);
      if (label.length + 2 + text.length <= 80 || !Array.isArray(value)) {
        return wrap(text, 80, `${label}  `, " ".repeat(width + 2));
      }
      return value.map((entry, i) => `${(i === 0 ? key : "").padEnd(width)}  ${shown(entry)}`);
    })
    .map((line) => `${line}\n`)
    .join("");
}

function shown(value: unknown): string {
  if (typeof value === "number") {
    if (!Number.isFinite(value)) return value > 0 ? "infinite" : "minus infinite";
    return String(Number(value.toPrecision(9)));
  }
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (value === null) return "none";
  if (Array.isArray(value)) return value.map(shown).join(", ");
  if (typeof value === "object") {
    return Object.entries(value)
      .map(([key, inner]) => `${key} ${shown(inner)}`)
      .join(", ");
  }
  return String(value);
}

export const measure: Command = {
  name: "measure",
  summary: "one method of measurement on its own",
  help,
  run,
};
