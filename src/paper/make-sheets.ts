/**
 * All sheets of one record: work and screw sheets for each swap, the report, tables and the record itself, as files by name.
 *
 * The same record, options and date give the same bytes. World: reads the faces of the type and hashes the record's text.
 */
import { createHash } from "node:crypto";
import { PRIORITY_ROLES, type TeardownRecord, writeRecord } from "../core/record/index.ts";
import { countingClock } from "../core/route/counting-clock.ts";
import { type Swap, type SwapQuestion, swapOf } from "../core/service/swap/index.ts";
import { type Edition, type Recall, recallsOf, screwsOf } from "./edition.ts";
import type { Imprint } from "./frame.ts";
import { Words } from "./ledger-words.ts";
import type { PageSize, PaperDocument } from "./page.ts";
import { measurer, writePdf } from "./pdf-writer.ts";
import { reportHtml } from "./report.ts";
import { reportAnswers } from "./report-answers.ts";
import { numberScrews } from "./screw-numbers.ts";
import { type Measured, screwSheet } from "./screw-sheet.ts";
import { jointsTable, needsTable, partsTable, screwsTable, spotsTable, swapsTable } from "./tables.ts";
import { teardownPdf } from "./teardown-pdf.ts";
import { typefaceCss } from "./typeface.ts";
import { warmOf } from "./warm-words.ts";
import { type Say, sayer, type WordList } from "./words/index.ts";
import { type WarmWords, workSheet } from "./work-rows.ts";
import { workSheetHtml } from "./work-sheet-html.ts";
import { workSheetPdf } from "./work-sheet-pdf.ts";

export interface SheetOptions {
  /** Jobs, each one or several parts; left out: every part with a role of the law's that can be reached. */
  readonly jobs?: readonly (readonly string[])[];
  readonly question?: Omit<SwapQuestion, "replace">;
  readonly words: WordList;
  readonly size: PageSize;
  readonly measured?: Measured;
  /** ISO 8601 calendar date. */
  readonly date: string;
  readonly version: string;
  /** Earlier editions, oldest first. */
  readonly editions: readonly Edition[];
  readonly sibling?: TeardownRecord;
  /** Milliseconds of a counting clock for each swap's planning: the same sheets on a slow machine and on a fast one. */
  readonly limit: number;
  /** Told before each piece of work; what it throws ends the making. */
  readonly progress?: (done: number, of: number) => void;
}

export interface SheetFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** A sheet as pages of plain data, for a preview of what its file prints. */
export interface Sheet {
  readonly name: string;
  readonly document: PaperDocument;
}

export interface MadeSheets {
  readonly files: readonly SheetFile[];
  readonly sheets: readonly Sheet[];
  readonly edition: Edition;
  readonly editions: readonly Edition[];
  readonly recalls: readonly { readonly sheet: string; readonly recall: Recall }[];
  /** Said beside the files: swaps that cannot be done, screws without a place. */
  readonly notes: readonly string[];
}

/** As sheets carry it: the first signs of the SHA-256 of the record's text. */
export const revisionOf = (record: TeardownRecord): string =>
  createHash("sha256").update(writeRecord(record)).digest("hex").slice(0, 12);

/** @throws InputError for jobs whose parts are not there */
export async function makeSheets(record: TeardownRecord, options: SheetOptions): Promise<MadeSheets> {
  const { words, size, progress = () => {} } = options;
  const text = writeRecord(record);
  const revision = revisionOf(record);
  const say = sayer(words);
  const measure = measurer();
  const notes: string[] = [];
  const jobs = options.jobs ?? usualJobs(record);
  const swaps: Swap[] = [];
  jobs.forEach((replace, index) => {
    progress(index, jobs.length * 2 + 2);
    const now = countingClock();
    // The clock begins at 0.
    const answer = swapOf(record, { ...options.question, replace }, { now, deadline: options.limit });
    if ("unreachable" in answer)
      notes.push(...answer.unreachable.map(({ part, because }) => `No sheet for ${part}: ${because}.`));
    else swaps.push(answer);
  });
  const numbered = new Map(swaps.map((swap) => [nameOf(swap), numberScrews(record, swap.wayIn)]));
  const screws: Edition["screws"] = Object.fromEntries([...numbered].map(([name, list]) => [name, screwsOf(list)]));
  const edition = editionOf(revision, options, screws);
  const earlier = options.editions.filter((one) => one.edition !== edition.edition);
  const before = earlier.filter((one) => one.edition < edition.edition).at(-1);
  const recalls: { sheet: string; recall: Recall }[] = [];
  const files: SheetFile[] = [];
  const add = (name: string, content: string | Uint8Array): void => {
    files.push({ name, bytes: typeof content === "string" ? new TextEncoder().encode(content) : content });
  };
  const sheets: Sheet[] = [];
  const pdf = async (name: string, document: PaperDocument): Promise<void> => {
    sheets.push({ name, document });
    add(name, await writePdf(document));
  };
  const warm = new Map<string, WarmWords>();
  for (const [index, swap] of swaps.entries()) {
    progress(jobs.length + index, jobs.length * 2 + 2);
    const name = nameOf(swap);
    const own = recallsOf(name, screws[name]!, earlier);
    for (const recall of own) recalls.push({ sheet: name, recall });
    const imprint = imprintOf(record, edition, before, own);
    for (const [zone, found] of warmOf(record, swap, warm)) warm.set(zone, found);
    const sheet = workSheet({ record, swap, say, warm });
    await pdf(`work/${name}.pdf`, workSheetPdf(sheet, imprint, say, measure, size));
    add(`work/${name}.html`, workSheetHtml(sheet, imprint, say, typefaceCss()));
    const drawn = screwSheet({
      record,
      screws: numbered.get(name)!,
      parts: swap.replace.map((id) => record.parts.find((part) => part.id === id)?.name ?? id).join(", "),
      imprint,
      say,
      words: new Words(record, say),
      measure,
      size,
      ...(options.measured === undefined ? {} : { measured: options.measured }),
    });
    await pdf(`screws/${name}.pdf`, drawn.document);
    add(`screws/${name}.csv`, spotsTable(numbered.get(name)!, drawn.spots));
  }
  const imprint = imprintOf(record, edition, before, []);
  progress(jobs.length * 2, jobs.length * 2 + 2);
  const answers = reportAnswers(record, options.sibling);
  await pdf("report.pdf", teardownPdf(answers, imprint, measure, size));
  add("report.html", reportHtml(answers, { madeAt: edition.date, version: options.version, typeface: typefaceCss() }));
  add("tables/parts.csv", partsTable(record));
  add("tables/joints.csv", jointsTable(record));
  add("tables/screws.csv", screwsTable(record));
  add("tables/swaps.csv", swapsTable(swaps));
  add("tables/needs.csv", needsTable(swaps));
  add("record.json", text);
  const editions = [...earlier.filter((one) => one.edition < edition.edition), edition];
  add("editions.json", `${JSON.stringify(editions, null, 2)}\n`);
  progress(jobs.length * 2 + 2, jobs.length * 2 + 2);
  return { files, sheets, edition, editions, recalls, notes };
}

/** A file's name for a swap: what it replaces. */
export function nameOf(swap: Pick<Swap, "replace">): string {
  return `replace-${swap.replace.join("+").replace(/[^\p{L}\p{N}+_-]+/gu, "-")}`;
}

/** Every part that carries one of the law's roles and is not the base. */
function usualJobs(record: TeardownRecord): string[][] {
  return record.parts
    .filter((part) => !part.base && (PRIORITY_ROLES as readonly string[]).includes(part.role ?? ""))
    .map(({ id }) => [id]);
}

/** The same record keeps its edition and date; a changed one is the next. */
function editionOf(revision: string, { editions, date }: SheetOptions, screws: Edition["screws"]): Edition {
  const last = editions.at(-1);
  if (last?.revision === revision) return { ...last, screws: { ...last.screws, ...screws } };
  return { edition: (last?.edition ?? 0) + 1, date, revision, screws };
}

function imprintOf(
  record: TeardownRecord,
  edition: Edition,
  before: Edition | undefined,
  recalls: readonly Recall[],
): Imprint {
  return {
    device: record.device.name,
    revision: edition.revision,
    edition: edition.edition,
    date: edition.date,
    replaces: before === undefined ? null : { edition: before.edition, date: before.date },
    recalls,
  };
}

export type { Say };
