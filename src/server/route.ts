/**
 * A route in one place: what it takes, what it answers, what it does. The same schemas check what comes in and
 * describe the interface (openapi.ts), so that the two cannot drift apart.
 */
import type { Context, Hono } from "hono";
import { z } from "zod";
import { type Fault, InputFaults } from "../core/errors.ts";
import { readJson, schemaFaults } from "../core/record/index.ts";

export interface Route<Q = unknown, B = unknown> {
  readonly method: "get" | "post";
  /** With `{id}` where the id of a record stands, `{name}` for a file. */
  readonly path: string;
  readonly summary: string;
  readonly query?: z.ZodType<Q>;
  readonly body?: z.ZodType<B>;
  /** The body is a file, and `handle` reads it as it comes. */
  readonly file?: true;
  /** A body over this many bytes is refused unread; 1 MB where left out. */
  readonly limit?: number;
  /** What comes back, by status. A schema for JSON, a media type for text. */
  readonly answers: Readonly<Record<number, { readonly means: string; readonly body: z.ZodType | string }>>;
  readonly handle: (request: RouteRequest<Q, B>) => Promise<Response>;
}

export interface RouteRequest<Q, B> {
  readonly id: string;
  readonly query: Q;
  readonly body: B;
  /** What stands at `{name}`. */
  readonly name: string;
  /** The request as it came. */
  readonly raw: Request;
  /** Given up by the one who asked. */
  readonly signal: AbortSignal;
}

/** Keeps the types of one route together while routes are kept in a list. */
export function route<Q, B>(definition: Route<Q, B>): Route {
  return definition as unknown as Route;
}

const MEGABYTE = 1_000_000;

/** Puts a route into the application. */
export function mount(app: Hono, { method, path, query, body, file, limit, handle }: Route): void {
  app.on(method.toUpperCase(), path.replaceAll(/\{(\w+)\}/g, ":$1"), async (context) => {
    const asked = query === undefined ? undefined : checked(query, context.req.query());
    const given = body === undefined ? undefined : await bodyOf(context, body, limit ?? MEGABYTE);
    if (given instanceof Response) return given;
    const { raw } = context.req;
    const type = raw.headers.get("content-type") ?? "";
    if (file && !/^application\/octet-stream\b/i.test(type)) return wrongType(type, "application/octet-stream");
    const [id, name] = [context.req.param("id") ?? "", context.req.param("name") ?? ""];
    return handle({ id, name, query: asked, body: given, raw, signal: raw.signal });
  });
}

/** JSON to send; never kept by a cache, because the next save changes it. */
export function json(value: unknown, status = 200): Response {
  return new Response(JSON.stringify(value), {
    status,
    headers: { "content-type": "application/json; charset=utf-8" },
  });
}

export function refused(status: number, ...faults: Fault[]): Response {
  return json({ ok: false, faults }, status);
}

/** @throws InputFaults */
function checked(schema: z.ZodType, value: unknown): unknown {
  const faults = schemaFaults(schema, value);
  if (faults.length > 0) throw new InputFaults(faults);
  return schema.parse(value);
}

const wrongType = (type: string, expected: string): Response =>
  refused(415, { path: "", found: type === "" ? "no content-type" : type, expected });

async function bodyOf(context: Context, schema: z.ZodType, limit: number): Promise<unknown> {
  const type = context.req.header("content-type") ?? "";
  // Asked for not least because a page of another site cannot send this type without being allowed to.
  if (!/^application\/json\b/i.test(type)) return wrongType(type, "application/json");
  const text = await textOf(context.req.raw, limit);
  if (text === undefined) {
    return refused(413, { path: "", found: "more", expected: `a body of at most ${limit / MEGABYTE} MB` });
  }
  const { read, value, faults } = readJson(text);
  if (!read || faults.length > 0) return refused(400, ...faults);
  return checked(schema, value);
}

/** The body as text, or undefined as soon as it goes over the limit. */
async function textOf(request: Request, limit: number): Promise<string | undefined> {
  if (Number(request.headers.get("content-length") ?? 0) > limit) return undefined;
  const decoder = new TextDecoder("utf-8", { fatal: true });
  let size = 0;
  let text = "";
  const reader = request.body?.getReader();
  try {
    for (let chunk = await reader?.read(); chunk !== undefined && !chunk.done; chunk = await reader?.read()) {
      size += chunk.value.length;
      if (size > limit) {
        await reader?.cancel();
        return undefined;
      }
      text += decoder.decode(chunk.value, { stream: true });
    }
    return text + decoder.decode();
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    throw new InputFaults([{ path: "", found: "bytes that are no UTF-8 text", expected: "JSON in UTF-8" }]);
  }
}

/** A whole number in a query. */
export const wholeNumber = z
  .string()
  .regex(/^\d{1,9}$/, "a whole number")
  .transform(Number);
