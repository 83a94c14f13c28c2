import { figuresOf } from "../../core/measure/index.ts";
import type { Command, Context, ExitCode } from "../command.ts";
import { figuresText } from "../figures-text.ts";
import { readOptions } from "../options.ts";
import { findSibling, readRecord } from "../read-record.ts";

const help = `unseam figures: what was measured, how sure it is, and what it bears

Usage: unseam figures FILE [--beside FILE] [--readings] [--json]

Every reading with its uncertainty; the mass budget and the thickness budgets
against the whole, with what is unaccounted for; the battery's energy by mass
and by volume of its true outline; a verdict on every claim, with the wording
that the readings bear; figures that can hardly be right; which readings to
take again to decide what is open.

  --beside FILE   the record of the device that is compared with; left out, the
                  files of the same folder are searched for it
  --readings      list every reading
  --json          { "mass": { "device", "sum", "residual", "u", "closes",
                    "missing" }, "thickness": [{ "name", "body", "sum",
                    "residual", "u", "closes" }], "battery": { "energyWh",
                    "whPerKg", "whPerL" }, "readings": [{ "of", "quantity",
                    "value", "unit", "u", "dof", "k", "U", "text" }],
                    "claims": [{ "id", "verdict", "probability", "wording",
                    "restsOn" }], "flags", "plan", "open", "warnings" }

u is a standard uncertainty; intervals are at 95 %. null: not known; for dof:
infinitely many. Transport figures are information with the rule's date: the
carrier's current rules and qualified people decide.
`;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(
    context.args,
    { json: { type: "boolean" }, readings: { type: "boolean" }, beside: { type: "string" } },
    ["FILE"],
  );
  const record = await readRecord(context, files[0]);
  const sibling = await findSibling(context, files[0], record, values.beside);
  const answer = figuresOf(record, sibling);
  if (values.json) context.stdout(`${JSON.stringify(answer, null, 2)}\n`);
  else context.stdout(figuresText(record, answer, values.readings === true));
  return 0;
}

export const figures: Command = {
  name: "figures",
  summary: "what was measured, how sure it is, and what it bears",
  help,
  run,
};
