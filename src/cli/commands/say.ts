import { readTranscript, trySay } from "../../core/narration/index.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { readOptions } from "../options.ts";
import { findSibling, readRecord } from "../read-record.ts";
import { readBytes } from "../transcript-file.ts";

const help = `unseam say: may this be said?

Usage: unseam say SCRIPT.txt --record FILE [--beside FILE] [--json]

Tries a script before the take: each sentence with figures comes back with a
verdict on what the readings bear (supported, not-supported, cannot-tell) and a
sentence that may be said instead.

  --record FILE   the record that the script speaks of
  --beside FILE   the record of the device that is compared with; left out, the
                  files of the record's folder are searched for it
  --json          [{ "text", "verdict", "probability", "wording", "restsOn" }]

Exit code 0 also when something is not supported: that is the answer.
`;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(
    context.args,
    { record: { type: "string" }, beside: { type: "string" }, json: { type: "boolean" } },
    ["SCRIPT"],
  );
  if (values.record === undefined)
    throw new UsageError("--record FILE is missing: the record that the script speaks of.");
  const script = readTranscript(await readBytes(context, files[0]!));
  const record = await readRecord(context, values.record);
  const sibling = await findSibling(context, values.record, record, values.beside);
  const said = trySay(script, record, sibling);
  if (values.json) context.stdout(`${JSON.stringify(said, null, 2)}\n`);
  else if (said.length === 0) context.stdout("No sentence with a figure or a comparison was found.\n");
  else
    context.stdout(`${said.map((one) => `${one.verdict}: ${one.text}\n  may be said: ${one.wording}`).join("\n")}\n`);
  return 0;
}

export const say: Command = { name: "say", summary: "may this be said?", help, run };
