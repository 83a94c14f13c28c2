/** Photographs, films and sound: taken in, and given out whole, by ranges of bytes (RFC 9110, 14) or small. */
import { z } from "zod";
import { type MediaStore, type OpenMedia, THUMBNAIL_WIDTHS } from "../store/media.ts";
import { json, type Route, refused, route } from "./route.ts";
import * as schema from "./schemas.ts";

/** A file that was taken in is looked at, never run: no script, nothing from elsewhere. */
const FILE_POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox";

const widths = z.enum(THUMBNAIL_WIDTHS.map(String) as [string, ...string[]]);

export function mediaRoutes(media: MediaStore): Route[] {
  return [
    route({
      method: "post",
      path: "/api/media",
      summary: "Takes a photograph, film or sound in. Pictures are kept upright and without position data.",
      query: z.strictObject({ name: z.string().max(400).optional() }),
      file: true,
      answers: {
        201: { means: "Kept; the same content again has the same name.", body: schema.TakenMedia },
        422: { means: "Refused, with what was found and what is taken.", body: schema.Refused },
        503: { means: "Pictures cannot be read on this machine.", body: schema.Refused },
      },
      handle: async ({ query, raw }) => {
        try {
          return json(await media.take(piecesOf(raw), query.name), 201);
        } catch (error) {
          if (!(error instanceof Error) || error.name !== "PicturesMissing") throw error;
          return refused(503, { path: "", found: "no picture library", expected: error.message });
        }
      },
    }),
    route({
      method: "get",
      path: "/api/media/{name}",
      summary: "The file, or the range of its bytes that is asked for; with a width a small JPEG of a picture.",
      query: z.strictObject({ width: widths.optional() }),
      answers: {
        200: { means: "The file.", body: "application/octet-stream" },
        206: { means: "The range of bytes that was asked for.", body: "application/octet-stream" },
        404: { means: "There is no such file.", body: schema.Refused },
        416: { means: "The range lies beyond the end.", body: schema.Refused },
      },
      handle: async ({ name, query, raw }) => {
        const width = THUMBNAIL_WIDTHS.find((one) => String(one) === query.width);
        const file = await (width === undefined ? media.open(name) : media.thumbnail(name, width));
        if (file === undefined) {
          return refused(404, { path: "", found: `no file "${name}"`, expected: "the name of one that is kept" });
        }
        return sent(file, name, raw.headers);
      },
    }),
  ];
}

function sent(file: OpenMedia, name: string, asked: Headers): Response {
  const tag = `"${name}.${file.bytes}"`;
  const headers: Record<string, string> = {
    "content-type": file.type,
    "content-security-policy": FILE_POLICY,
    "accept-ranges": "bytes",
    "cache-control": file.lasting ? "private, max-age=31536000, immutable" : "no-cache",
    etag: tag,
  };
  if (asked.get("if-none-match") === tag) return new Response(null, { status: 304, headers });
  const given = asked.get("if-range");
  const range = given === null || given === tag ? rangeOf(asked.get("range"), file.bytes) : null;
  if (range === "beyond") {
    const answer = refused(416, {
      path: "range",
      found: asked.get("range") ?? "",
      expected: `bytes from 0 to ${file.bytes - 1}`,
    });
    answer.headers.set("content-range", `bytes */${file.bytes}`);
    return answer;
  }
  const [from, to] = range ?? [0, file.bytes - 1];
  headers["content-length"] = String(to - from + 1);
  if (range !== null) headers["content-range"] = `bytes ${from}-${to}/${file.bytes}`;
  return new Response(file.read(from, to), { status: range === null ? 200 : 206, headers });
}

/**
 * First and last byte of a single range. Null: the whole file, as for what is no range or asks for several (which a
 * server may do, RFC 9110, 14.2).
 */
export function rangeOf(header: string | null, size: number): readonly [number, number] | "beyond" | null {
  const match = /^bytes=\s*(\d{0,15})\s*-\s*(\d{0,15})\s*$/.exec(header ?? "");
  if (match === null || (match[1] === "" && match[2] === "")) return null;
  if (match[1] === "") {
    const last = Number(match[2]);
    return last === 0 || size === 0 ? "beyond" : [Math.max(0, size - last), size - 1];
  }
  const from = Number(match[1]);
  const to = match[2] === "" ? size - 1 : Math.min(Number(match[2]), size - 1);
  if (match[2] !== "" && Number(match[2]) < from) return null;
  return from >= size ? "beyond" : [from, to];
}

/** A body that breaks off is the sender's: nothing is kept. */
async function* piecesOf(request: Request): AsyncGenerator<Uint8Array> {
  const reader = request.body?.getReader();
  if (reader === undefined) return;
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      yield value;
    }
  } finally {
    await reader.cancel().catch(() => undefined);
  }
}
