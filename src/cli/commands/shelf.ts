import { readdir } from "node:fs/promises";
import { join, resolve } from "node:path";
import { InputError } from "../../core/errors.ts";
import type { Money } from "../../core/record/index.ts";
import { countingClock } from "../../core/route/counting-clock.ts";
import {
  readForecast,
  readOnHand,
  SHELF_DEFAULTS,
  type Shelf,
  type ShelfRecord,
  shelfOf,
} from "../../core/service/shelf/index.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { numberOption, readOptions } from "../options.ts";
import { isYaml, readDocument, readText } from "../read-document.ts";
import { readRecord } from "../read-record.ts";
import { wrap } from "../wrap.ts";

const help = `unseam shelf: what to keep for the repairs that are asked for

Usage: unseam shelf FOLDER --forecast FILE.csv --service 0.95 [options]

Reads every record of the folder and a forecast of jobs, and tells how many of
each part, cell, consumable and screw serve that share of cycles over the lead
time, what to order, and which tools open how many of the swaps.

  --forecast FILE.csv   columns device, part, count, days; or device, part and
                        one column a month, headed 2026-09 and so on.
                        device: record id, file, name or model; part: its id
  --service SHARE       share of cycles without a shortage, such as 0.95
  --on-hand FILE.csv    columns number, count: what is there already
  --review DAYS         between two orders, beside the lead time (0)
  --lead DAYS           where a part states none (10)
  --cells N             most cells on the shelf (no cap)
  --last-buy DAYS       also what to buy once for so many days
  --lost PERCENT        of handled screws get lost (0.5)
  --json                one JSON value

Cells on a shelf are a fire load: local rules and the insurer come first.
`;

const OPTIONS = {
  forecast: { type: "string" },
  service: { type: "string" },
  "on-hand": { type: "string" },
  review: { type: "string" },
  lead: { type: "string" },
  cells: { type: "string" },
  "last-buy": { type: "string" },
  lost: { type: "string" },
  json: { type: "boolean" },
} as const;

const MOST_TEXT = 4_000_000;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(context.args, OPTIONS, ["FOLDER"]);
  if (values.forecast === undefined) throw new UsageError("--forecast FILE.csv is missing.");
  if (values.service === undefined) throw new UsageError("--service SHARE is missing, such as --service 0.95.");
  const service = numberOption("service", values.service, 0, 1);
  const option = (name: "review" | "lead" | "cells" | "last-buy" | "lost", most: number): number | undefined => {
    const value = values[name];
    return value === undefined ? undefined : numberOption(name, value, 0, most);
  };
  const cells = option("cells", 1_000_000);
  const lost = option("lost", 100);
  const settings = {
    ...SHELF_DEFAULTS,
    service,
    review: option("review", 3650) ?? SHELF_DEFAULTS.review,
    lead: option("lead", 3650) ?? SHELF_DEFAULTS.lead,
    cells: cells ?? null,
    lastBuy: option("last-buy", 36_500) ?? null,
    lost: lost === undefined ? SHELF_DEFAULTS.lost : lost / 100,
  };
  const records = await recordsIn(context, files[0]!);
  const rows = readForecast(await readText(context, values.forecast, MOST_TEXT), records);
  const onHand =
    values["on-hand"] === undefined
      ? new Map<string, number>()
      : readOnHand(await readText(context, values["on-hand"], MOST_TEXT));
  const shelf = shelfOf(records, rows, settings, { now: countingClock() }, onHand, (done, of) => {
    if (process.stderr.isTTY) context.stderr(done === of ? "\r\x1b[K" : `\r${done} of ${of} swaps`);
  });
  context.stdout(values.json ? `${JSON.stringify(shelf, null, 2)}\n` : shelfText(shelf));
  return 0;
}

/** Every record in a folder, by file name. Files of other formats are passed over. */
async function recordsIn(context: Context, folder: string): Promise<ShelfRecord[]> {
  const full = resolve(context.cwd, folder);
  const names = await readdir(full).catch((error: NodeJS.ErrnoException) => {
    const found = error.code === "ENOENT" ? "no such folder" : error.code === "ENOTDIR" ? "a file" : undefined;
    if (found === undefined) throw error;
    throw new InputError({ path: "", found: `${found} at ${folder}`, expected: "a folder of records" });
  });
  const records: ShelfRecord[] = [];
  for (const file of names.sort()) {
    if (!isYaml(file) && !/\.json$/i.test(file)) continue;
    const path = join(full, file);
    const { value } = await readDocument(context, path);
    if (!/^unseam\/\d/.test(String((value as { format?: unknown } | null | undefined)?.format ?? ""))) continue;
    try {
      records.push({ file, record: await readRecord(context, path) });
    } catch (error) {
      context.stderr(`In ${file}:\n`);
      throw error;
    }
  }
  if (records.length === 0)
    throw new InputError({ path: "", found: `no record in ${folder}`, expected: 'files with "format": "unseam/1"' });
  return records;
}

function shelfText(shelf: Shelf): string {
  const money = (value: Money | null): string => (value === null ? "-" : `${value.amount} ${value.currency}`);
  const amount = (value: number): string => String(Number(value.toPrecision(6)));
  const lines = [
    `Kept to serve ${shelf.service * 100} % of cycles.`,
    "",
    "   keep  order  each            what",
    ...shelf.items.flatMap((item) => [
      `${`${amount(item.keep)}${item.unit === "1" ? "" : ` ${item.unit}`}`.padStart(7)} ${amount(item.order).padStart(6)}  ${money(item.price).padEnd(14)}  ${item.name}${item.numbers.length > 0 ? ` (${item.numbers.join(", ")})` : ""}`,
      ...(item.packs === undefined || item.packs === 0
        ? []
        : [`${" ".repeat(32)}order ${item.packs} pack${item.packs === 1 ? "" : "s"}`]),
      ...(item.lastBuy === undefined ? [] : [`${" ".repeat(32)}last buy ${amount(item.lastBuy)}`]),
      ...item.words.map((words) => wrap(words, 80, " ".repeat(32))),
    ]),
    "",
    shelf.value.length === 0 ? "Nothing on it has a price." : `Worth ${shelf.value.map(money).join(" and ")}.`,
    "",
    "  swaps   jobs  opens  tool",
    ...shelf.tools.map(
      (tool) =>
        `${String(tool.swaps).padStart(7)} ${String(tool.jobs).padStart(6)} ${String(tool.opens).padStart(6)}  ${tool.name}`,
    ),
    "",
    ...[...shelf.assumptions, ...shelf.warnings].map((words) => wrap(words, 80)),
  ];
  return `${lines.join("\n")}\n`;
}

export const shelf: Command = { name: "shelf", summary: "what to keep for the repairs that are asked for", help, run };
