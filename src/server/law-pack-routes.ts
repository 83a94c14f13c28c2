/** The evidence pack of a record as a file: a PDF, a page to print, or the grid of its points. */
import { z } from "zod";
import type { Store } from "../store/index.ts";
import { answered } from "./answer-routes.ts";
import type { Answers, LawPackFile } from "./answers.ts";
import { SHEET_POLICY } from "./guard.ts";
import { noRecord } from "./record-routes.ts";
import { type Route, route, wholeNumber } from "./route.ts";
import * as schema from "./schemas.ts";

const TYPES = {
  pdf: "application/pdf",
  html: "text/html; charset=utf-8",
  csv: "text/csv; charset=utf-8",
} as const;

export function lawPackRoutes(store: Store, answers: Answers, version: string): Route[] {
  return [
    route({
      method: "get",
      path: "/api/records/{id}/law-pack",
      summary: "The evidence for the index as a file, as `unseam law --pack` writes it; the grid as `--csv` prints it.",
      query: z.strictObject({
        format: z.enum(["pdf", "html", "csv"]),
        basis: z.enum(["described", "done", "least"]).optional(),
        revision: wholeNumber.optional(),
      }),
      answers: {
        200: { means: "The file.", body: "application/octet-stream" },
        404: { means: "There is no such record.", body: schema.Refused },
        422: { means: "Refused, with what was found and what was expected.", body: schema.Refused },
      },
      handle: async ({ id, query, signal }) => {
        const kept = await store.load(id, query.revision);
        if (kept === undefined) return noRecord(id);
        const { format, basis } = query;
        const date = new Date().toISOString().slice(0, 10);
        return answered(
          answers,
          { kind: "law-pack", record: kept.record, format, basis, date, version },
          signal,
          (answer) => {
            const { name, content } = answer as LawPackFile;
            return new Response(typeof content === "string" ? content : new Uint8Array(content), {
              headers: {
                "content-type": TYPES[format],
                "content-disposition": `${format === "html" ? "inline" : "attachment"}; filename="${name}"`,
                ...(format === "html" ? { "content-security-policy": SHEET_POLICY } : {}),
              },
            });
          },
        );
      },
    }),
  ];
}
