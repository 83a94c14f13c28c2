import { writeFile } from "node:fs/promises";
import { resolve } from "node:path";
import { performance } from "node:perf_hooks";
import { InputError, InputFaults } from "../../core/errors.ts";
import {
  assessRecord,
  assessSheet,
  compareDeclared,
  type DeclaredAnswer,
  defaultBasis,
  gridCsv,
  type LawOptions,
  type LeastChangeOptions,
  lawReport,
  leastChange,
  leastChangeForArticle11,
  type Prices,
  parsePrices,
  parseSheet,
  type RecordBasis,
  readingEffects,
  readingsWith,
  type Sheet,
} from "../../core/law/index.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import { findWayIn } from "../../core/route/ways/index.ts";
import { isDate } from "../../paper/edition.ts";
import { classSentence } from "../../paper/report.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { declaredText, effectsText, reachText, reportText, sheetText } from "../law-text.ts";
import { listOption, numberOption, readOptions, wordOption } from "../options.ts";
import { readDocument } from "../read-document.ts";
import { readRecord } from "../read-record.ts";
import { version } from "../version.ts";

const help = `unseam law: the legal repairability index, with its evidence

Usage: unseam law FILE [options]
       unseam law --sheet SHEET.json [--json]
       unseam law --declared SHEET.json FILE [--further FILE] [options]
       unseam law FILE --reach A|B|C|D|E|article-11 [--costs COSTS.json]
       unseam law FILE --pack OUT.pdf|OUT.html [--basis WHAT] [--date DAY]

The index of Delegated Regulation (EU) 2023/1669 for smartphones and slate
tablets in exact arithmetic: steps, fasteners and tools of each priority part
with what decides them, spare parts, updates and information; the disassembly
table of 2023/1670, and the battery under Article 11 of 2023/1542, apart.

  --basis WHAT      described: the maker's procedure, replayed (the act's own
                    basis; left out where the record has one), done: the log,
                    least: the fewest steps (left out otherwise)
  --readings I2,I9  take the other position of these readings, where the act
                    is silent (I1 to I7, I9, I10)
  --effects         which readings would change a score or the class
  --limit SECONDS   for each planned way in; with --reach for all (5)
  --sheet SHEET     no record: the values that a maker declares
                    ("format": "unseam-sheet/1")
  --declared SHEET  declared against found, with the tolerance of Annex IX
  --further FILE    the record of one further unit of the same model
  --reach CLASS     the fewest design changes that lift the device to a class,
                    or make Article 11 pass, with all ties up to 100 sets:
                    { "from", "to", "changes", "proved", "more" }
  --costs COSTS     what changes cost ("format": "unseam-costs/1"): the
                    cheapest set instead of the fewest changes
  --pack OUT        the evidence as a printable pack, by the ending of OUT: each
                    step with its clause, the checks, the rules, the hash
                    of the record; planned alike on every machine
  --date DAY        the day that stands on the pack (today)
  --csv             the grid of parts and points as CSV
  --json            { "basis", "index", "unrounded", "class",
                      "roundingDecides", "scores", "parts", "range"?,
                      "unknown", "warnings", "why"?, "counts", "checks",
                      "clauses", ... }

Where facts are unknown the index takes the worse and the range gives both
ends; where the law has no points there is no index, and why is told.
A planning aid: the text in the Official Journal is what counts, and the
assessor signs.
`;

const OPTIONS = {
  basis: { type: "string" },
  readings: { type: "string" },
  effects: { type: "boolean" },
  limit: { type: "string" },
  sheet: { type: "string" },
  declared: { type: "string" },
  further: { type: "string" },
  reach: { type: "string" },
  costs: { type: "string" },
  pack: { type: "string" },
  date: { type: "string" },
  csv: { type: "boolean" },
  json: { type: "boolean" },
} as const;

type Values = ReturnType<typeof readOptions<typeof OPTIONS>>["values"];

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(context.args, OPTIONS, ["FILE?"]);
  if (values.sheet !== undefined) return runSheet(context, values, files);
  const [file] = files;
  if (file === undefined) throw new UsageError("FILE is missing.");
  if (values.further !== undefined && values.declared === undefined)
    throw new UsageError("--further goes with --declared.");
  if (values.costs !== undefined && values.reach === undefined) throw new UsageError("--costs goes with --reach.");
  if (values.date !== undefined && values.pack === undefined) throw new UsageError("--date goes with --pack.");
  if (values.reach !== undefined) return runReach(context, values, file);
  if (values.pack !== undefined) return runPack(context, values, values.pack, file);
  const options = lawOptions(values);
  const sheet = values.declared === undefined ? undefined : await readSheet(context, values.declared);
  const further = values.further === undefined ? undefined : await readRecord(context, values.further);
  const record = await readRecord(context, file);
  const report = lawReport(record, options);
  if (values.csv) {
    // On a terminal lines end as lines do there; the carriage returns of RFC 4180 are for files sent elsewhere.
    context.stdout(gridCsv(report).replaceAll("\r\n", "\n"));
    return 0;
  }
  const effects = values.effects ? readingEffects(record, options) : undefined;
  const declared = sheet === undefined ? undefined : compare(sheet, record, further, options);
  if (values.json) {
    print(context, {
      ...report,
      ...(effects === undefined ? {} : { readingEffects: effects }),
      ...(declared === undefined ? {} : { declared }),
    });
    return 0;
  }
  if (declared !== undefined) context.stdout(`${declaredText(declared)}\n`);
  context.stdout(reportText(report));
  if (effects !== undefined) context.stdout(`\n${effectsText(effects)}`);
  return 0;
}

async function runSheet(context: Context, values: Values, files: readonly string[]): Promise<ExitCode> {
  if (files.length > 0) throw new UsageError(`--sheet takes no record: "${files[0]}" is one word too many.`);
  for (const name of [
    "basis",
    "readings",
    "effects",
    "limit",
    "declared",
    "further",
    "reach",
    "costs",
    "pack",
    "date",
    "csv",
  ] as const)
    if (values[name] !== undefined) throw new UsageError(`--sheet and --${name} do not go together.`);
  const answer = assessSheet(await readSheet(context, values.sheet ?? ""));
  if (values.json) print(context, answer);
  else context.stdout(sheetText(answer));
  return 0;
}

async function runReach(context: Context, values: Values, file: string): Promise<ExitCode> {
  for (const name of ["effects", "declared", "pack", "csv"] as const)
    if (values[name] !== undefined) throw new UsageError(`--reach and --${name} do not go together.`);
  const to = wordOption("reach", values.reach ?? "", ["A", "B", "C", "D", "E", "article-11"]);
  const seconds = values.limit === undefined ? 5 : numberOption("limit", values.limit, 0, 86_400, "seconds");
  const prices = values.costs === undefined ? undefined : await readPrices(context, values.costs);
  const record = await readRecord(context, file);
  const options: LeastChangeOptions = {
    ...lawOptions(values),
    // No single way in may take the time of the whole search.
    limit: Math.min(seconds * 100, 1000),
    searchLimit: seconds * 1000,
    ...(prices === undefined ? {} : { prices }),
  };
  const answer = to === "article-11" ? leastChangeForArticle11(record, options) : leastChange(record, to, options);
  if (values.json) print(context, answer);
  else context.stdout(reachText(answer));
  return 0;
}

async function runPack(context: Context, values: Values, out: string, file: string): Promise<ExitCode> {
  for (const name of ["readings", "effects", "limit", "declared", "json", "csv"] as const)
    if (values[name] !== undefined) throw new UsageError(`--pack and --${name} do not go together.`);
  const ending = /\.(pdf|html)$/i.exec(out)?.[1].toLowerCase();
  if (ending === undefined) throw new UsageError(`--pack takes a file that ends in .pdf or .html, not "${out}".`);
  const date = values.date ?? new Date().toISOString().slice(0, 10);
  if (!isDate(date)) throw new UsageError(`--date takes a day such as 2026-03-01, not "${date}".`);
  const { basis } = lawOptions(values);
  const record = await readRecord(context, file);
  const { lawPack, lawPackHtml, lawPackPdf } = await import("../../paper/law-pack-files.ts");
  const pack = lawPack(record, basis);
  const options = { date, version: version(), size: "a4" } as const;
  const content = ending === "pdf" ? await lawPackPdf(record, pack, options) : lawPackHtml(record, pack, options);
  const path = resolve(context.cwd, out);
  try {
    await writeFile(path, content);
  } catch (error) {
    throw new InputError({
      path: out,
      found: `no way to write there (${error instanceof Error ? error.message : String(error)})`,
      expected: "a file in a folder that exists and may be written to",
    });
  }
  context.stdout(`${classSentence(pack.report)}\nFrozen: SHA-256 ${pack.hash}\n`);
  context.stderr(`Written: ${path}\n`);
  return 0;
}

async function readPrices(context: Context, path: string): Promise<Prices> {
  const { read, value, faults } = await readDocument(context, path);
  if (!read) throw new InputFaults(faults);
  const check = parsePrices(value);
  if (!check.ok || faults.length > 0) throw new InputFaults([...faults, ...(check.ok ? [] : check.faults)]);
  return check.prices;
}

function lawOptions(values: Values): LawOptions {
  const basis =
    values.basis === undefined
      ? undefined
      : wordOption<RecordBasis>("basis", values.basis, ["described", "done", "least"]);
  const limit = values.limit === undefined ? 5 : numberOption("limit", values.limit, 0, 86_400, "seconds");
  return {
    ...(basis === undefined ? {} : { basis }),
    ...(values.readings === undefined ? {} : { readings: readings(values.readings) }),
    findWayIn,
    control: { now: () => performance.now() },
    limit: limit * 1000,
  };
}

function readings(text: string): LawOptions["readings"] {
  try {
    return readingsWith(listOption("readings", text));
  } catch (error) {
    throw error instanceof UsageError ? error : new UsageError(`--readings: ${(error as Error).message}.`);
  }
}

function compare(
  sheet: Sheet,
  record: TeardownRecord,
  further: TeardownRecord | undefined,
  options: LawOptions,
): DeclaredAnswer {
  const described =
    defaultBasis(record) === "described" ? assessRecord(record, { ...options, basis: "described" }) : undefined;
  return compareDeclared(sheet, assessRecord(record, options), {
    ...(further === undefined ? {} : { further: assessRecord(further, options) }),
    ...(described === undefined ? {} : { described }),
  });
}

async function readSheet(context: Context, path: string): Promise<Sheet> {
  const { read, value, faults } = await readDocument(context, path);
  if (!read) throw new InputFaults(faults);
  const check = parseSheet(value);
  const found = [...faults, ...(check.ok ? [] : check.faults)];
  if (found.length > 0 || !check.ok) throw new InputFaults(found);
  return check.sheet;
}

function print(context: Context, value: unknown): void {
  context.stdout(`${JSON.stringify(value, null, 2)}\n`);
}

export const law: Command = { name: "law", summary: "the legal repairability index, with its evidence", help, run };
