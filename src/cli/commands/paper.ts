import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { InputError, InputFaults } from "../../core/errors.ts";
import { type Edition, isDate } from "../../paper/edition.ts";
import { makeSheets, type SheetFile } from "../../paper/make-sheets.ts";
import { PAGES, type PageSize } from "../../paper/page.ts";
import { LANGUAGES, type WordList, wordListFrom } from "../../paper/words/index.ts";
import { zipOf } from "../../paper/zip.ts";
import { editionsFrom } from "../../store/editions.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { listOption, numberOption, readOptions, wordOption } from "../options.ts";
import { readDocument } from "../read-document.ts";
import { findSibling, readRecord } from "../read-record.ts";
import { version } from "../version.ts";
import { SWAP_OPTIONS, swapSettings, swapTerms } from "./swap.ts";

const help = `unseam paper: work sheets, screw sheets, the report and tables

Usage: unseam paper FILE --out DIR [options]
       unseam paper FILE --out FILE.zip [options]

For each swap a work sheet (PDF and HTML) and a screw sheet at true scale; the
report (PDF and HTML), tables (CSV) and the record (JSON). Every sheet carries
record revision, edition, date and what it replaces; where an earlier edition
has another length for a screw, it names the editions to recall.

  --out DIR             a folder, or a file that ends in .zip
  --replace PART[,PART] one job; may be given several times. Left out: every
                        part with a role of the law's
  --page SIZE           a4 (left out) or letter
  --language CODE       ${Object.keys(LANGUAGES).join(" or ")}; or --words FILE.json, a word list of your own
  --measured MM[,MM]    what the 100 mm bar measured on paper, across and down:
                        the screw sheets are drawn so much larger or smaller
  --date YYYY-MM-DD     of this edition; left out: today
  --beside FILE         the record of the device that is compared with
  The options of unseam swap on intake, times and prices hold as well; --limit
  (1) counts steps of the planner here, so that the sheets of one record are
  the same on any machine.
  --json                what was written, as one JSON value

A swollen, hot or venting cell: no heat, no prying; leave it, ventilate, follow
your site's rules. Heat, glass, solvent and open electronics are work for
trained people.
`;

const OPTIONS = {
  ...SWAP_OPTIONS,
  out: { type: "string", short: "o" },
  replace: { type: "string", multiple: true },
  page: { type: "string" },
  language: { type: "string" },
  words: { type: "string" },
  measured: { type: "string" },
  date: { type: "string" },
  beside: { type: "string" },
  json: { type: "boolean" },
} as const;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(context.args, OPTIONS, ["FILE"]);
  if (values.out === undefined || values.out === "")
    throw new UsageError("--out DIR is missing: where the sheets are to be written.");
  const size =
    values.page === undefined ? "a4" : wordOption<PageSize>("page", values.page, Object.keys(PAGES) as PageSize[]);
  const date = values.date ?? new Date().toISOString().slice(0, 10);
  if (!isDate(date)) throw new UsageError(`--date takes a day such as 2026-03-01, not "${date}".`);
  const measured = values.measured === undefined ? undefined : measuredOf(values.measured);
  const limit = values.limit === undefined ? 1 : numberOption("limit", values.limit, 0, 3600, "seconds");
  const { replace, ...rest } = values;
  const settings = swapSettings(rest as Parameters<typeof swapSettings>[0]);
  const terms = swapTerms(rest as Parameters<typeof swapTerms>[0]);
  const jobs = replace?.map((one) => listOption("replace", one));
  const words = await wordsOf(context, values.words, values.language);
  const record = await readRecord(context, files[0]!);
  const sibling = await findSibling(context, files[0]!, record, values.beside);
  const out = resolve(context.cwd, values.out);
  const zipped = /\.zip$/i.test(out);
  const made = await makeSheets(record, {
    ...(jobs === undefined ? {} : { jobs }),
    question: { ...terms, settings },
    words,
    size,
    ...(measured === undefined ? {} : { measured }),
    date,
    version: version(),
    editions: zipped ? [] : await editionsIn(out),
    ...(sibling === undefined ? {} : { sibling }),
    limit: limit * 1000,
    progress: (done, of) => {
      if (process.stderr.isTTY) context.stderr(done === of ? "\r\x1b[K" : `\r${done} of ${of}`);
    },
  });
  if (zipped)
    await write(
      dirname(out),
      [{ name: out.slice(dirname(out).length + 1), bytes: zipOf(made.files, made.edition.date) }],
      values.out,
    );
  else await write(out, made.files, values.out);
  for (const { sheet, recall } of made.recalls)
    context.stderr(
      `Recall edition ${recall.editions.join(", ")} of ${sheet}: screw ${recall.number} was ${recall.before ?? "not on it"}, is ${recall.now ?? "gone"}${recall.now === null ? "" : " mm"}.\n`,
    );
  for (const note of made.notes) context.stderr(`${note}\n`);
  const told = {
    out: values.out,
    revision: made.edition.revision,
    edition: made.edition.edition,
    date: made.edition.date,
    recalls: made.recalls.map(({ sheet, recall }) => ({ sheet, ...recall })),
    notes: made.notes,
    files: made.files.map(({ name, bytes }) => ({ name, bytes: bytes.length })),
  };
  context.stdout(
    values.json ? `${JSON.stringify(told, null, 2)}\n` : made.files.map(({ name }) => `${name}\n`).join(""),
  );
  return 0;
}

function measuredOf(text: string): { across: number; down: number } {
  const values = listOption("measured", text).map((one) => numberOption("measured", one, 80, 125, "mm"));
  if (values.length > 2) throw new UsageError(`--measured takes one length or two, across and down, not "${text}".`);
  return { across: values[0]!, down: values[1] ?? values[0]! };
}

async function wordsOf(context: Context, file: string | undefined, language: string | undefined): Promise<WordList> {
  if (file !== undefined && language !== undefined) throw new UsageError("--words and --language do not go together.");
  if (file === undefined)
    return LANGUAGES[language === undefined ? "en" : wordOption("language", language, Object.keys(LANGUAGES))]!;
  const { value, faults } = await readDocument(context, file);
  if (faults.length > 0) throw new InputFaults(faults);
  return wordListFrom(value);
}

/** The editions that a folder of sheets tells of; none where it is new. */
async function editionsIn(folder: string): Promise<Edition[]> {
  const path = join(folder, "editions.json");
  const text = await readFile(path, "utf8").catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT" || error.code === "ENOTDIR") return undefined;
    throw error;
  });
  if (text === undefined) return [];
  return editionsFrom(text, path);
}

async function write(folder: string, files: readonly SheetFile[], asked: string): Promise<void> {
  try {
    for (const { name, bytes } of files) {
      const path = join(folder, name);
      await mkdir(dirname(path), { recursive: true });
      await writeFile(path, bytes);
    }
  } catch (error) {
    throw new InputError({
      path: asked,
      found: `no way to write there (${error instanceof Error ? error.message : String(error)})`,
      expected: "a folder that may be written to",
    });
  }
}

export const paper: Command = { name: "paper", summary: "work sheets, screw sheets, the report and tables", help, run };
