import { closingOf, type Difference } from "../../core/service/closing/index.ts";
import { sessionClock } from "../../core/units/index.ts";
import type { Command, Context, ExitCode } from "../command.ts";
import { readOptions } from "../options.ts";
import { readRecord } from "../read-record.ts";
import { wrap } from "../wrap.ts";

const help = `unseam close: what is left over when the work is said to be done

Usage: unseam close FILE [--session ID] [--json]

Goes through the log in order: screws out against screws back, by joint and
length; connections opened against closed; bonds broken against made again;
parts away against back; cups that are not empty; functions that go through
what was lifted or opened against the checks after it, and no other. What went
over an open connection is named with its moment. A difference that a later
entry "note" explains (it names the joint or the part) leaves the work open
with its reason; one without a reason means that it cannot be called closed.

  --session ID  the work up to the end of this session; left out, all of it
  --json        { "state": "closed|open|unexplained", "differences": [{
                "kind", "of", "text", "session"?, "at"?, "cup"?, "out"?,
                "back"?, "lengths"?, "reason"? }], "covered", "cups",
                "prove", "proved", "noBaseline", "warnings" }
`;

const SAYS = {
  closed: "Closed: everything that was taken out is back, and what was disturbed was proved.",
  open: "Left open: every difference has its reason.",
  unexplained: "Not to be called closed: there are differences that nobody has explained.",
} as const;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(context.args, { json: { type: "boolean" }, session: { type: "string" } }, [
    "FILE",
  ]);
  const record = await readRecord(context, files[0]);
  const closing = closingOf(record, values.session);
  if (values.json) {
    context.stdout(`${JSON.stringify(closing, null, 2)}\n`);
    return 0;
  }
  const lines: string[] = [SAYS[closing.state]];
  for (const one of closing.differences) lines.push(differenceText(one));
  for (const one of closing.covered) lines.push(`${moment(one.at)}${one.text}.`);
  for (const { cup, holds } of closing.cups) lines.push(`Still in ${cup}: ${holds.map((one) => one.text).join("; ")}.`);
  lines.push(`Proved: ${closing.proved.length} of ${closing.prove.length} functions through what was disturbed.`);
  if (closing.noBaseline.length > 0)
    lines.push(`Not tried before the first screw, so the end proves less: ${closing.noBaseline.join(", ")}.`);
  lines.push(...closing.warnings);
  context.stdout(`${lines.map((line) => wrap(line, 80)).join("\n")}\n`);
  return 0;
}

function differenceText(one: Difference): string {
  const reason = one.reason === undefined ? "" : ` Reason: ${one.reason}`;
  return `${moment(one.at)}${one.text}.${reason}`;
}

/** "0:12:07 " on the session's clock. */
function moment(at: number | undefined): string {
  return at === undefined ? "" : `${sessionClock(at)} `;
}

export const close: Command = {
  name: "close",
  summary: "what is left over when the work is said to be done",
  help,
  run,
};
