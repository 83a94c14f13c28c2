/**
 * The built browser application, from a folder. Addresses without a file belong to the application's own pages and get
 * its first page; only names that stand in the folder's listing are opened, so no address leads out of it.
 */
import { createHash } from "node:crypto";
import { readdir, readFile } from "node:fs/promises";
import { extname, join, relative, sep } from "node:path";
import type { Handler } from "hono";
import { refused } from "./route.ts";

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".ico": "image/x-icon",
  ".json": "application/json; charset=utf-8",
  ".webmanifest": "application/manifest+json",
  ".woff2": "font/woff2",
  ".woff": "font/woff",
  ".txt": "text/plain; charset=utf-8",
  ".map": "application/json; charset=utf-8",
  ".wasm": "application/wasm",
};

interface Page {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly type: string;
  readonly tag: string;
  readonly cache: string;
}

export function staticPages(folder: string): Handler {
  // A folder that cannot be read is as good as none: the answer says to build.
  const pages = readPages(folder).catch(() => new Map<string, Page>());
  return async (context) => {
    const all = await pages;
    const path = decoded(context.req.path);
    const page = all.get(path) ?? (extname(path) === "" ? all.get("/index.html") : undefined);
    if (page === undefined) {
      const built = all.size > 0;
      return refused(404, {
        path: "",
        found: built ? `the address ${path}` : "no built application",
        expected: built
          ? "a page of Unseam, or a path below /api"
          : '"npm run build" to have been run; the interface is below /api',
      });
    }
    const headers = { "content-type": page.type, etag: page.tag, "cache-control": page.cache };
    if (context.req.header("if-none-match") === page.tag) return new Response(null, { status: 304, headers });
    return new Response(page.bytes, { headers });
  };
}

/** An address that is no UTF-8 is looked up as it stands, and not found. */
function decoded(path: string): string {
  try {
    return decodeURI(path);
  } catch {
    return path;
  }
}

/** A megabyte or two in all: read once, so that a new build under a running server does not mix with the old one. */
async function readPages(folder: string): Promise<ReadonlyMap<string, Page>> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  const files = entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  const pages = await Promise.all(
    files.map(async (file): Promise<[string, Page]> => {
      const address = `/${relative(folder, file).split(sep).join("/")}`;
      const bytes = new Uint8Array(await readFile(file));
      const tag = `"${createHash("sha256").update(bytes).digest("base64url").slice(0, 22)}"`;
      const type = TYPES[extname(file)] ?? "application/octet-stream";
      // The build puts a hash of the content into the names in assets/.
      const cache = address.startsWith("/assets/") ? "public, max-age=31536000, immutable" : "no-cache";
      return [address, { bytes, type, tag, cache }];
    }),
  );
  return new Map(pages);
}
