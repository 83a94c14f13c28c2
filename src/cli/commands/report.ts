import { writeFile } from "node:fs/promises";
import { resolve } from "node:path";
import { InputError } from "../../core/errors.ts";
import { reportHtml } from "../../paper/report.ts";
import { reportAnswers } from "../../paper/report-answers.ts";
import { typefaceCss } from "../../paper/typeface.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { readOptions } from "../options.ts";
import { findSibling, readRecord } from "../read-record.ts";
import { version } from "../version.ts";

const help = `unseam report: the whole teardown as one HTML file

Usage: unseam report FILE -o OUT.html [--beside FILE]

One file that opens without a network and prints well: what was found, what is
unaccounted for, drawings, ways in to the priority parts, figures with their
uncertainty, the law's index with its evidence. It passes no verdict.

  -o, --out FILE   where the report is written
  --beside FILE    the record of the device that is compared with; left out,
                   the files of the same folder are searched for it, then the
                   workspace
`;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(
    context.args,
    { out: { type: "string", short: "o" }, beside: { type: "string" } },
    ["FILE"],
  );
  if (values.out === undefined || values.out === "")
    throw new UsageError("report needs -o OUT.html: where it is to be written");
  const record = await readRecord(context, files[0]);
  const sibling = await findSibling(context, files[0], record, values.beside);
  const answers = reportAnswers(record, sibling);
  const text = reportHtml(answers, {
    madeAt: `${new Date().toISOString().slice(0, 16).replace("T", " ")} UTC`,
    version: version(),
    typeface: typefaceCss(),
  });
  const out = resolve(context.cwd, values.out);
  try {
    await writeFile(out, text);
  } catch (error) {
    throw new InputError({
      path: values.out,
      found: `no way to write there (${error instanceof Error ? error.message : String(error)})`,
      expected: "a file in a folder that exists and may be written to",
    });
  }
  context.stderr(`Written: ${out}\n`);
  return 0;
}

export const report: Command = {
  name: "report",
  summary: "the whole teardown as one HTML file",
  help,
  run,
};
