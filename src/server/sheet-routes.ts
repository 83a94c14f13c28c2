/**
 * Sheets: laid out (with every page as a picture), issued as an edition, and given out one by one or as an archive.
 *
 * Laying out takes seconds: the answer is a stream of lines, each one JSON value, first how far it is, last what was made.
 * Sets that were laid out are kept in memory for as long as few others come; asked for again, they are made again alike.
 */
import { createHash } from "node:crypto";
import { z } from "zod";
import { faultsIn } from "../core/errors.ts";
import { CONDITIONS, HAZARDS } from "../core/record/index.ts";
import { isDate } from "../paper/edition.ts";
import { zipOf } from "../paper/zip.ts";
import type { EditionStore } from "../store/editions.ts";
import type { Store } from "../store/index.ts";
import { withSibling } from "./answer-routes.ts";
import { type Answers, GivenUp, TooLong } from "./answers.ts";
import type { LaidOut, SheetLine } from "./api.ts";
import { noRecord } from "./record-routes.ts";
import { json, type Route, refused, route } from "./route.ts";
import * as schema from "./schemas.ts";
import type { SheetSet, SheetTask } from "./sheet-task.ts";

const ids = z.array(z.string().min(1).max(200)).min(1).max(50);
const SheetRequest = z.strictObject({
  jobs: z.array(ids).min(1).max(100).optional(),
  language: z.enum(["en", "de"]),
  size: z.enum(["a4", "letter"]),
  measured: z.strictObject({ across: z.number().min(80).max(125), down: z.number().min(80).max(125) }).optional(),
  date: z.string().refine(isDate, "a day such as 2026-03-01"),
  conditions: z.array(z.enum(CONDITIONS)).optional(),
  accept: z.array(z.enum(HAZARDS)).optional(),
  damage: z.boolean().optional(),
  // Judged by the core, which names the setting and what it expected.
  settings: z.record(z.string(), z.unknown()).optional(),
});
const NamedSet = z.strictObject({ set: z.string().max(100) });
const InSet = z.strictObject({ set: z.string().max(100), file: z.string().max(400) });
const PageOf = z.strictObject({
  set: z.string().max(100),
  sheet: z.string().max(400),
  page: z.string().regex(/^\d{1,3}$/, "a whole number"),
});

const TYPES: Readonly<Record<string, string>> = {
  pdf: "application/pdf",
  html: "text/html; charset=utf-8",
  csv: "text/csv; charset=utf-8",
  json: "application/json; charset=utf-8",
};
/** A file is looked at or kept, never run. */
const FILE_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; sandbox";
const missing = { means: "There is no such record, set or file.", body: schema.Refused };
/** Sets in memory. */
const MOST_SETS = 4;

interface Kept {
  readonly record: string;
  readonly made: SheetSet;
}

export function sheetRoutes(store: Store, answers: Answers, editions: EditionStore, version: string): Route[] {
  const sets = new Map<string, Kept>();
  const setOf = (record: string, key: string): SheetSet | undefined => {
    const kept = sets.get(key);
    return kept?.record === record ? kept.made : undefined;
  };
  const gone = (): Response =>
    refused(404, { path: "set", found: "a set that is no longer kept", expected: "one that was laid out just now" });

  async function layOut(task: SheetTask, signal: AbortSignal, tell: (line: SheetLine) => void): Promise<SheetLine> {
    const key = createHash("sha256").update(JSON.stringify(task)).digest("hex").slice(0, 20);
    const known = sets.get(key);
    try {
      const made =
        known?.made ??
        ((await answers.answer({ kind: "sheets", sheets: task }, signal, (done, of) =>
          tell({ kind: "progress", done, of }),
        )) as SheetSet);
      // The one asked for last stays longest.
      sets.delete(key);
      sets.set(key, { record: task.record.id, made });
      for (const oldest of [...sets.keys()].slice(0, Math.max(0, sets.size - MOST_SETS))) sets.delete(oldest);
      return { kind: "laid-out", ...headOf(key, made, task.editions) };
    } catch (error) {
      const faults = faultsIn(error);
      if (faults !== undefined) return { kind: "refused", faults };
      if (error instanceof GivenUp || error instanceof TooLong)
        return { kind: "refused", faults: [{ path: "", found: error.message, expected: "sheets; ask again" }] };
      throw error;
    }
  }

  return [
    route({
      method: "post",
      path: "/api/records/{id}/sheets",
      summary: "Lays sheets out: a stream of JSON lines, how far it is and at last what was laid out.",
      query: schema.AtRevision,
      body: SheetRequest,
      answers: { 200: { means: "Lines of JSON.", body: "application/x-ndjson" }, 404: missing },
      handle: async ({ id, query, body, signal }) => {
        const pair = await withSibling(store, id, query.revision);
        if (pair === undefined) return noRecord(id);
        const { settings, ...request } = body;
        const task: SheetTask = {
          ...pair,
          request: { ...request, ...(settings === undefined ? {} : { settings: settings as object }) },
          editions: await editions.read(pair.record.id),
          version,
        };
        return lines(signal, (stop, tell) => layOut(task, stop, tell));
      },
    }),
    route({
      method: "post",
      path: "/api/records/{id}/sheets/issue",
      summary: "Issues a set that was laid out as an edition: from now on it is what a changed record replaces.",
      body: NamedSet,
      answers: {
        200: { means: "All editions, oldest first.", body: z.array(schema.Edition) },
        404: missing,
        409: { means: "Another edition was issued in between: lay out again.", body: schema.Refused },
      },
      handle: async ({ id, body }) => {
        const made = setOf(id, body.set);
        if (made === undefined) return gone();
        const known = await editions.read(id);
        const last = known.at(-1);
        const fits =
          last === undefined || last.edition < made.edition.edition || last.revision === made.edition.revision;
        if (!fits || known.some((one) => !made.editions.some(({ edition }) => edition === one.edition)))
          return refused(409, {
            path: "set",
            found: `edition ${last?.edition ?? 0} issued in between`,
            expected: "sheets that were laid out after it",
          });
        await editions.write(id, made.editions);
        return json(made.editions.map(shortEdition));
      },
    }),
    route({
      method: "get",
      path: "/api/records/{id}/sheets/editions",
      summary: "The editions that were issued, oldest first.",
      answers: { 200: { means: "The editions.", body: z.array(schema.Edition) } },
      handle: async ({ id }) => json((await editions.read(id)).map(shortEdition)),
    }),
    route({
      method: "get",
      path: "/api/records/{id}/sheets/file",
      summary: "One file of a set.",
      query: InSet,
      answers: { 200: { means: "The file.", body: "application/octet-stream" }, 404: missing },
      handle: async ({ id, query }) => {
        const file = setOf(id, query.set)?.files.find(({ name }) => name === query.file);
        if (file === undefined) return gone();
        return sent(file.bytes, file.name.split("/").at(-1)!);
      },
    }),
    route({
      method: "get",
      path: "/api/records/{id}/sheets/zip",
      summary: "All files of a set as one archive.",
      query: NamedSet,
      answers: { 200: { means: "A ZIP archive.", body: "application/zip" }, 404: missing },
      handle: async ({ id, query }) => {
        const made = setOf(id, query.set);
        if (made === undefined) return gone();
        return sent(zipOf(made.files, made.edition.date), `sheets-edition-${made.edition.edition}.zip`);
      },
    }),
    route({
      method: "get",
      path: "/api/records/{id}/sheets/page",
      summary: "A page of a sheet as a picture. Pages are counted from 1.",
      query: PageOf,
      answers: { 200: { means: "The page.", body: "image/svg+xml" }, 404: missing },
      handle: async ({ id, query }) => {
        const sheet = setOf(id, query.set)?.previews.find(({ name }) => name === query.sheet);
        const page = sheet?.pages[Number(query.page) - 1];
        if (page === undefined) return gone();
        return new Response(page, {
          headers: { "content-type": "image/svg+xml; charset=utf-8", "content-security-policy": FILE_POLICY },
        });
      },
    }),
  ];
}

const shortEdition = ({ edition, date, revision }: SheetSet["edition"]) => ({ edition, date, revision });

function headOf(set: string, made: SheetSet, issued: SheetTask["editions"]): LaidOut {
  const { edition, recalls, notes, files, previews } = made;
  return {
    set,
    edition: shortEdition(edition),
    issued: issued.some((one) => one.revision === edition.revision && one.edition === edition.edition),
    editions: issued.map(shortEdition),
    recalls: recalls.map(({ sheet, recall }) => ({ sheet, ...recall })),
    notes,
    files: files.map(({ name, bytes }) => ({ name, bytes: bytes.length })),
    sheets: previews.map(({ name, title, pages }) => ({ name, title, pages: pages.length })),
  };
}

function sent(bytes: Uint8Array, name: string): Response {
  const type = TYPES[name.split(".").at(-1)!] ?? "application/octet-stream";
  return new Response(Buffer.from(bytes), {
    headers: {
      "content-type": name.endsWith(".zip") ? "application/zip" : type,
      "content-disposition": `attachment; filename="${name.replaceAll(/[^\w.+-]/g, "-")}"; filename*=UTF-8''${encodeURIComponent(name)}`,
      "content-security-policy": FILE_POLICY,
    },
  });
}

/** A stream of JSON lines that ends with what the work gives; whoever stops reading stops the work. */
function lines(
  signal: AbortSignal,
  work: (stop: AbortSignal, tell: (line: SheetLine) => void) => Promise<SheetLine>,
): Response {
  const stop = new AbortController();
  signal.addEventListener("abort", () => stop.abort(), { once: true });
  const encoder = new TextEncoder();
  const stream = new ReadableStream<Uint8Array>({
    start: async (controller) => {
      const tell = (line: SheetLine): void => {
        if (!stop.signal.aborted) controller.enqueue(encoder.encode(`${JSON.stringify(line)}\n`));
      };
      try {
        tell(await work(stop.signal, tell));
        if (!stop.signal.aborted) controller.close();
      } catch (error) {
        if (!stop.signal.aborted) controller.error(error);
      }
    },
    cancel: () => stop.abort(),
  });
  return new Response(stream, { headers: { "content-type": "application/x-ndjson; charset=utf-8" } });
}
