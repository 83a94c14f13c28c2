import { writeFile } from "node:fs/promises";
import { resolve } from "node:path";
import { InputError } from "../../core/errors.ts";
import { PAGES, type PageSize } from "../../paper/page.ts";
import { writePdf } from "../../paper/pdf-writer.ts";
import { placeLabels } from "../../paper/place-labels.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { numberOption, readOptions, wordOption } from "../options.ts";

const help = `unseam labels: labels for cups and for the fields of a mat

Usage: unseam labels --out FILE.pdf [--cups N] [--fields N] [--page SIZE]

Each label says its place in large words and as a code. A scanner that types
what it reads puts the last work there: scan the cup after the screws are in
it. A cup that is scanned otherwise says what lies in it.

  --out FILE.pdf   where it is written
  --cups N         cup 1 to cup N (24)
  --fields N       mat A to the Nth letter (0; 26 at most)
  --page SIZE      a4 (left out) or letter
`;

async function run(context: Context): Promise<ExitCode> {
  const { values } = readOptions(
    context.args,
    {
      out: { type: "string", short: "o" },
      cups: { type: "string" },
      fields: { type: "string" },
      page: { type: "string" },
    },
    [],
  );
  if (values.out === undefined) throw new UsageError("--out is missing: the file to write, such as labels.pdf");
  const whole = (name: "cups" | "fields", left: string, most: number): number => {
    const number = numberOption(name, values[name] ?? left, 0, most, "labels");
    if (!Number.isInteger(number)) throw new UsageError(`--${name} takes a whole number, found ${values[name]}`);
    return number;
  };
  const places = [
    ...Array.from({ length: whole("cups", "24", 999) }, (_, i) => `cup ${i + 1}`),
    ...Array.from({ length: whole("fields", "0", 26) }, (_, i) => `mat ${String.fromCharCode(65 + i)}`),
  ];
  if (places.length === 0) throw new UsageError("no labels are asked for: give --cups or --fields a number above 0");
  const page = values.page === undefined ? "a4" : wordOption("page", values.page, Object.keys(PAGES) as PageSize[]);
  const file = resolve(context.cwd, values.out);
  const bytes = await writePdf(placeLabels({ page, places }));
  await writeFile(file, bytes).catch((error: NodeJS.ErrnoException) => {
    throw new InputError({
      path: file,
      found: `no way to write it (${error.code})`,
      expected: "a file in a folder that is there",
    });
  });
  context.stdout(`${file}\n${places.length} labels.\n`);
  return 0;
}

export const labels: Command = {
  name: "labels",
  summary: "labels with codes for cups and for the fields of a mat",
  help,
  run,
};
