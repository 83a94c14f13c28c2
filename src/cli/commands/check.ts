import { faultText } from "../../core/errors.ts";
import type { Command, Context, ExitCode } from "../command.ts";
import { readOptions } from "../options.ts";
import { inspectRecord } from "../read-record.ts";

const help = `unseam check: is this file a valid record?

Usage: unseam check FILE [--json]

Reads a teardown record (JSON, or YAML when the name ends in .yaml or .yml) and
tells every fault at once: the path to the value, what was found, what was
expected and the nearest right spelling. Warnings are no faults: a part that no
order of work can get out, a figure that somebody should look at.

  --json   { "ok", "faults": [{ "path", "found", "expected", "nearest"? }],
             "warnings": [{ "path", "text" }] }

Exit code 0 when the record is valid, 1 when it is not.
`;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(context.args, { json: { type: "boolean" } }, ["FILE"]);
  const check = await inspectRecord(context, files[0]);
  const { ok, faults, warnings } = check;
  if (values.json) {
    context.stdout(`${JSON.stringify({ ok, faults, warnings }, null, 2)}\n`);
  } else {
    for (const fault of faults) context.stdout(`${faultText(fault)}\n`);
    for (const { path, text } of warnings) context.stdout(`Warning: ${path === "" ? "" : `${path}: `}${text}\n`);
    context.stdout(
      check.ok ? `${contents(check.record)}\n` : `${count(faults.length, "fault")}: not a valid record.\n`,
    );
  }
  return ok ? 0 : 1;
}

function contents({ device, parts, joints, log, readings, claims }: Valid): string {
  const holds = [
    count(parts.length, "part"),
    count(joints.length, "joint"),
    count(log.length, "log entry", "log entries"),
    count(readings.length, "reading"),
    count(claims.length, "claim"),
  ];
  return `A valid record of ${device.name}: ${holds.join(", ")}.`;
}

type Valid = Extract<Awaited<ReturnType<typeof inspectRecord>>, { ok: true }>["record"];

function count(number: number, one: string, many = `${one}s`): string {
  return `${number} ${number === 1 ? one : many}`;
}

export const check: Command = { name: "check", summary: "is this file a valid record?", help, run };
