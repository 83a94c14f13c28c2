/** Records: opened, saved, looked up. */
import { z } from "zod";
import { checkRecord, type TeardownRecord, upgrade } from "../core/record/index.ts";
import { examineRecord } from "../core/structure/examine.ts";
import type { Missing, Saved, Stale, Store } from "../store/index.ts";
import { json, type Route, refused, route, wholeNumber } from "./route.ts";
import * as schema from "./schemas.ts";

/** As much as the command line reads. */
const RECORD_LIMIT = 32_000_000;

const refusal = { means: "Refused, with what was found and what was expected.", body: schema.Refused };
const missing = { means: "There is no such record or revision.", body: schema.Refused };
const stale = { means: "Another save came in between; nothing was changed.", body: schema.Stale };

export const noRecord = (id: string): Response =>
  refused(404, {
    path: "",
    found: `no record "${id}", or no such revision of it`,
    expected: "a record that is kept here",
  });

export function recordRoutes(store: Store): Route[] {
  return [
    route({
      method: "get",
      path: "/api/records",
      summary: "All records, the one saved last first.",
      answers: { 200: { means: "The heads of the records.", body: z.array(schema.RecordHead) } },
      handle: async () => json(await store.list()),
    }),
    route({
      method: "post",
      path: "/api/records",
      summary: "Takes a whole record in. A known one is replaced only where its newest revision is stated.",
      query: z.strictObject({ on: wholeNumber.optional() }),
      // The record's own rules say more than a schema could; they are asked below.
      body: z.unknown(),
      limit: RECORD_LIMIT,
      answers: {
        200: { means: "Kept already, or kept as the next revision.", body: schema.Saved },
        201: { means: "Kept as a new record.", body: schema.Saved },
        409: stale,
        422: refusal,
      },
      handle: async ({ query, body }) => {
        const record = upgrade(body) as TeardownRecord;
        const check = checkRecord(record);
        if (!check.ok) return refused(422, ...check.faults);
        const known = await store.load(record.id);
        const answer = await store.import(record, { on: query.on });
        return saved(answer, record.id, known === undefined ? 201 : 200);
      },
    }),
    route({
      method: "get",
      path: "/api/records/{id}",
      summary: "A record as it is, or as it was at a revision.",
      query: schema.AtRevision,
      answers: { 200: { means: "The record.", body: schema.KeptRecord }, 404: missing },
      handle: async ({ id, query }) => {
        const kept = await store.load(id, query.revision);
        if (kept === undefined) return noRecord(id);
        return json({ ...kept, warnings: examineRecord(kept.record).warnings });
      },
    }),
    route({
      method: "post",
      path: "/api/records/{id}/edits",
      summary: "Saves edits that were made on a stated revision.",
      body: schema.SaveRequest,
      limit: 8_000_000,
      answers: { 200: { means: "Saved.", body: schema.Saved }, 404: missing, 409: stale, 422: refusal },
      handle: async ({ id, body }) => saved(await store.save(id, body), id),
    }),
    route({
      method: "get",
      path: "/api/records/{id}/history",
      summary: "Every revision with its edits, the newest first.",
      answers: { 200: { means: "The revisions.", body: z.array(schema.Revision) }, 404: missing },
      handle: async ({ id }) => {
        const revisions = await store.history(id);
        return revisions.length === 0 ? noRecord(id) : json(revisions);
      },
    }),
    route({
      method: "post",
      path: "/api/records/{id}/restore",
      summary: "Makes the content of an older revision the newest; what came after stays in the history.",
      body: schema.RestoreRequest,
      answers: { 200: { means: "Restored.", body: schema.Saved }, 404: missing, 409: stale },
      handle: async ({ id, body }) => saved(await store.restore(id, body), id),
    }),
    route({
      method: "get",
      path: "/api/records/{id}/export",
      summary: "The record's canonical text, as a file.",
      query: schema.AtRevision,
      answers: { 200: { means: "The record as JSON text.", body: schema.TeardownRecord }, 404: missing },
      handle: async ({ id, query }) => {
        const text = await store.export(id, query.revision);
        if (text === undefined) return noRecord(id);
        return new Response(text, {
          headers: {
            "content-type": "application/json; charset=utf-8",
            "content-disposition": `attachment; filename="${id.toLowerCase().replaceAll(/[^0-9a-f-]/g, "")}.json"`,
          },
        });
      },
    }),
    route({
      method: "get",
      path: "/api/find",
      summary: "Where words stand in the records' names, roles, numbers and notes.",
      query: z.strictObject({ words: z.string().max(400) }),
      answers: { 200: { means: "At most fifty places.", body: z.array(schema.Found) } },
      handle: async ({ query }) => json(await store.find(query.words)),
    }),
  ];
}

function saved(answer: Saved | Stale | Missing, id: string, status = 200): Response {
  if (answer.kind === "missing") return noRecord(id);
  return json(answer, answer.kind === "stale" ? 409 : status);
}
