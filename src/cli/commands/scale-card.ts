import { writeFile } from "node:fs/promises";
import { resolve } from "node:path";
import { InputError } from "../../core/errors.ts";
import { PAGES, type PageSize } from "../../paper/page.ts";
import { writePdf } from "../../paper/pdf-writer.ts";
import { scaleCard as pageOf } from "../../paper/scale-card.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { numberOption, readOptions, wordOption } from "../options.ts";

const help = `unseam scale-card: a card that gives photographs their scale

Usage: unseam scale-card --out FILE.pdf [--page SIZE] [--measured MM,MM]

A page at true scale: a card of 84 x 60 mm with spots that are found in a
photograph by themselves, and two bars to hold calipers to.

  --out FILE.pdf       where it is written
  --page SIZE          a4 (left out) or letter
  --measured MM,MM     what the 100 mm bars measured on paper, across and down:
                       the card is drawn so much larger or smaller
`;

async function run(context: Context): Promise<ExitCode> {
  const { values } = readOptions(
    context.args,
    { out: { type: "string", short: "o" }, page: { type: "string" }, measured: { type: "string" } },
    [],
  );
  if (values.out === undefined) throw new UsageError("--out is missing: the file to write, such as card.pdf");
  const page = values.page === undefined ? "a4" : wordOption("page", values.page, Object.keys(PAGES) as PageSize[]);
  const measured = values.measured === undefined ? undefined : pair(values.measured);
  const file = resolve(context.cwd, values.out);
  const bytes = await writePdf(pageOf({ page, ...(measured === undefined ? {} : { measured }) }));
  await writeFile(file, bytes).catch((error: NodeJS.ErrnoException) => {
    throw new InputError({
      path: file,
      found: `no way to write it (${error.code})`,
      expected: "a file in a folder that is there",
    });
  });
  context.stdout(`${file}\nPrint it at 100 % and hold calipers to the bars.\n`);
  return 0;
}

function pair(text: string): readonly [number, number] {
  const [across, down = across, ...more] = text.split(",");
  if (more.length > 0) throw new UsageError("--measured takes one number or two, such as 99.6,99.8");
  return [numberOption("measured", across!, 90, 110, "mm"), numberOption("measured", down!, 90, 110, "mm")];
}

export const scaleCard: Command = {
  name: "scale-card",
  summary: "a card that gives photographs their scale",
  help,
  run,
};
