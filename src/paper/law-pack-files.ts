/**
 * The evidence pack as files: a page that opens without a network, and a PDF. World: hashes the record's text and reads the faces of
 * the type. The same record, basis and date give the same bytes.
 */
import { createHash } from "node:crypto";
import { gridCsv, type LawReport, lawReport, PLAN_LIMIT, type RecordBasis } from "../core/law/index.ts";
import { type TeardownRecord, writeRecord } from "../core/record/index.ts";
import { countingClock } from "../core/route/counting-clock.ts";
import { findWayIn } from "../core/route/ways/index.ts";
import { drawingCss, svgText, tokensCss } from "../draw/index.ts";
import { Flow } from "./flow.ts";
import { withFeet } from "./frame.ts";
import { html, type Markup, made } from "./html.ts";
import { type Block, packBlocks } from "./law-pack.ts";
import type { PageSize } from "./page.ts";
import { measurer, writePdf } from "./pdf-writer.ts";
import { REPORT_CSS } from "./report-style.ts";
import { list, table } from "./report-table.ts";
import { typefaceCss } from "./typeface.ts";
import { LANGUAGES, sayer } from "./words/index.ts";

export interface PackOptions {
  readonly basis?: RecordBasis;
  /** ISO 8601 calendar date. */
  readonly date: string;
  readonly version: string;
  readonly size: PageSize;
}

export interface LawPack {
  /** SHA-256 of the record as it is written, in hex. */
  readonly hash: string;
  readonly report: LawReport;
  readonly blocks: readonly Block[];
}

/** @throws as `assessRecord` */
export function lawPack(record: TeardownRecord, basis: RecordBasis | undefined): LawPack {
  const hash = createHash("sha256").update(writeRecord(record)).digest("hex");
  const report = lawReport(record, {
    ...(basis === undefined ? {} : { basis }),
    findWayIn,
    control: { now: countingClock() },
    limit: PLAN_LIMIT,
  });
  return { hash, report, blocks: packBlocks(record, report, hash) };
}

const titleOf = (record: TeardownRecord): string => `${record.device.name}: evidence for the repairability index`;

export function lawPackHtml(record: TeardownRecord, { blocks, hash }: LawPack, { date, version }: PackOptions): string {
  let pictures = 0;
  const block = (one: Block): Markup => {
    switch (one.kind) {
      case "head":
        return html`<h2>${one.text}</h2>`;
      case "small":
        return html`<h3>${one.text}</h3>`;
      case "say":
        return html`<p>${one.text}</p>`;
      case "soft":
        return html`<p class="soft">${one.text}</p>`;
      case "caution":
        return html`<p class="caution">${one.text}</p>`;
      case "list":
        return one.lines.length === 0 && one.none === "" ? html`` : list(one.lines, one.none);
      case "table":
        return table(
          one.columns.map(({ head }) => head),
          one.rows,
        );
      case "figure":
        return html`<figure>${made(svgText(one.scene, { id: `p${++pictures}` }))}<figcaption>${one.caption}</figcaption></figure>`;
    }
  };
  return html`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${titleOf(record)}</title><style>${made(typefaceCss())}${made(tokensCss())}${made(drawingCss())}${made(REPORT_CSS)}</style></head>
<body><header><h1>${titleOf(record)}</h1></header><main>${blocks.map(block)}</main>
<footer class="soft"><p>Made ${date} by unseam ${version} from the record with SHA-256 ${hash}.</p></footer></body></html>
`.text;
}

export async function lawPackPdf(record: TeardownRecord, pack: LawPack, options: PackOptions): Promise<Uint8Array> {
  const say = sayer(LANGUAGES.en!);
  const flow = new Flow(measurer(), options.size);
  flow.title(titleOf(record));
  for (const one of pack.blocks) {
    switch (one.kind) {
      case "head":
        flow.head(one.text);
        break;
      case "small":
        flow.small(one.text);
        break;
      case "say":
        flow.say(one.text);
        break;
      case "soft":
        flow.say(one.text, true);
        break;
      case "caution":
        flow.caution(one.text);
        break;
      case "list":
        if (one.lines.length > 0 || one.none !== "") flow.list(one.lines, one.none);
        break;
      case "table":
        flow.table(one.columns, one.rows);
        break;
      case "figure":
        flow.figure(one.scene, one.caption, 110);
        break;
    }
  }
  flow.say(`Made ${options.date} by unseam ${options.version}.`, true);
  const imprint = {
    device: record.device.name,
    revision: pack.hash.slice(0, 12),
    edition: 1,
    date: options.date,
    replaces: null,
    recalls: [],
  };
  return writePdf({
    title: titleOf(record),
    subject: "Evidence for the repairability index",
    language: "en",
    date: options.date,
    pages: withFeet(flow.finish(), imprint, "Evidence pack", say),
  });
}

/** One file of the pack with a name to save it under. */
export async function lawPackFile(
  record: TeardownRecord,
  options: Omit<PackOptions, "size"> & { readonly format: "pdf" | "html" | "csv" },
): Promise<{ name: string; content: string | Uint8Array }> {
  const pack = lawPack(record, options.basis);
  const name = `law-${pack.hash.slice(0, 12)}.${options.format}`;
  const own = { ...options, size: "a4" } as const;
  switch (options.format) {
    case "csv":
      return { name, content: gridCsv(pack.report) };
    case "html":
      return { name, content: lawPackHtml(record, pack, own) };
    case "pdf":
      return { name, content: await lawPackPdf(record, pack, own) };
  }
}
