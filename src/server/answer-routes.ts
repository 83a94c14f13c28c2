/** Answers computed from a record: the ways in, the law, the figures, the report. */
import { z } from "zod";
import type { TeardownRecord } from "../core/record/index.ts";
import type { Store } from "../store/index.ts";
import { type Answers, GivenUp, type Task, TooLong } from "./answers.ts";
import { SHEET_POLICY } from "./guard.ts";
import { noRecord } from "./record-routes.ts";
import { json, type Route, refused, route, wholeNumber } from "./route.ts";
import * as schema from "./schemas.ts";

const refusal = { means: "Refused, with what was found and what was expected.", body: schema.Refused };
const missing = { means: "There is no such record.", body: schema.Refused };
/** Seconds for a way in, where the question states none. */
const USUAL_LIMIT = 10;

export function answerRoutes(store: Store, answers: Answers, version: string): Route[] {
  return [
    route({
      method: "post",
      path: "/api/records/{id}/ways",
      summary: "The cheapest order of work to parts, with proof.",
      query: z.strictObject({ limit: z.coerce.number().min(0).max(60).optional(), revision: wholeNumber.optional() }),
      body: schema.Question,
      answers: {
        200: { means: "The best way in.", body: schema.WayIn },
        404: missing,
        422: {
          means: "A part cannot be reached, or the question is at fault.",
          body: z.union([schema.Unreachable, schema.Refused]),
        },
      },
      handle: async ({ id, query, body, signal }) => {
        const kept = await store.load(id, query.revision);
        if (kept === undefined) return noRecord(id);
        const task: Task = { kind: "ways", record: kept.record, question: body, seconds: query.limit ?? USUAL_LIMIT };
        return answered(answers, task, signal, (answer) => json(answer, isUnreachable(answer) ? 422 : 200));
      },
    }),
    route({
      method: "get",
      path: "/api/records/{id}/law",
      summary: "The legal repairability index with its evidence, as `unseam law --json` prints it.",
      query: z.strictObject({
        basis: z.enum(["described", "done", "least"]).optional(),
        revision: wholeNumber.optional(),
      }),
      answers: { 200: { means: "The assessment.", body: schema.Law }, 404: missing, 422: refusal },
      handle: async ({ id, query, signal }) => {
        const kept = await store.load(id, query.revision);
        if (kept === undefined) return noRecord(id);
        return answered(answers, { kind: "law", record: kept.record, basis: query.basis }, signal, (answer) =>
          json(answer),
        );
      },
    }),
    route({
      method: "get",
      path: "/api/records/{id}/figures",
      summary:
        "Readings with their uncertainty, budgets and verdicts on claims, as `unseam figures --json` prints them.",
      query: schema.AtRevision,
      answers: { 200: { means: "The figures.", body: schema.Figures }, 404: missing, 422: refusal },
      handle: async ({ id, query, signal }) => {
        const pair = await withSibling(store, id, query.revision);
        if (pair === undefined) return noRecord(id);
        return answered(answers, { kind: "figures", ...pair }, signal, (answer) => json(answer));
      },
    }),
    route({
      method: "get",
      path: "/api/records/{id}/report",
      summary: "The report: one HTML page that needs nothing else, as `unseam report` writes it.",
      query: schema.AtRevision,
      answers: { 200: { means: "The report.", body: "text/html" }, 404: missing, 422: refusal },
      handle: async ({ id, query, signal }) => {
        const pair = await withSibling(store, id, query.revision);
        if (pair === undefined) return noRecord(id);
        const madeAt = `${new Date().toISOString().slice(0, 16).replace("T", " ")} UTC`;
        return answered(
          answers,
          { kind: "report", ...pair, madeAt, version },
          signal,
          (answer) =>
            new Response(String(answer), {
              headers: { "content-type": "text/html; charset=utf-8", "content-security-policy": SHEET_POLICY },
            }),
        );
      },
    }),
  ];
}

/** The record, and its sibling where the workspace has it. */
export async function withSibling(
  store: Store,
  id: string,
  revision: number | undefined,
): Promise<{ record: TeardownRecord; sibling?: TeardownRecord } | undefined> {
  const record = (await store.load(id, revision))?.record;
  if (record?.sibling === undefined) return record && { record };
  return { record, sibling: (await store.load(record.sibling))?.record };
}

export async function answered(
  answers: Answers,
  task: Task,
  signal: AbortSignal,
  send: (answer: unknown) => Response,
): Promise<Response> {
  try {
    return send(await answers.answer(task, signal));
  } catch (error) {
    if (error instanceof GivenUp) return refused(503, { path: "", found: error.message, expected: "an answer" });
    if (error instanceof TooLong) {
      return refused(503, { path: "", found: error.message, expected: "an answer sooner (ask for less at once)" });
    }
    throw error;
  }
}

const isUnreachable = (answer: unknown): boolean => Object.hasOwn(answer as object, "unreachable");
