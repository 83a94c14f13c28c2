/**
 * Who may talk to this server, and what a page of it may do.
 *
 * The server is for this machine alone. Listening on 127.0.0.1 is not enough for that: a page of any site can make the
 * browser ask it, and by changing its own address over to 127.0.0.1 (DNS rebinding) even read the answers. So the name
 * under which it is asked must be this machine's, and a page that asks must be one of its own.
 */
import type { MiddlewareHandler } from "hono";
import { refused } from "./route.ts";

const OWN_NAMES = ["127.0.0.1", "localhost", "[::1]"];

/** For the pages: everything from here, nothing inline. Pictures may also be made in the page itself. */
const PAGE_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "media-src 'self' blob:",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join("; ");

/** For a sheet that carries its style with it: no script at all, nothing from elsewhere. */
export const SHEET_POLICY = [
  "default-src 'none'",
  "style-src 'unsafe-inline'",
  "img-src data:",
  "font-src data:",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
  "sandbox",
].join("; ");

/** Refuses requests that are not for this machine's own pages. */
export const ownRequestsOnly: MiddlewareHandler = async (context, next) => {
  const host = context.req.header("host") ?? new URL(context.req.url).host;
  if (!OWN_NAMES.includes(nameOf(host))) {
    return refused(403, { path: "", found: `a request to the host "${host}"`, expected: OWN_NAMES.join(" or ") });
  }
  const origin = context.req.header("origin");
  const site = context.req.header("sec-fetch-site");
  const foreign = origin !== undefined && origin !== `http://${host}`;
  // A link from elsewhere may open a page, but nothing may be read or written from elsewhere.
  const fetched = site === "cross-site" && context.req.header("sec-fetch-mode") !== "navigate";
  if (foreign || fetched) {
    return refused(403, {
      path: "",
      found: `a request from ${origin ?? "another site"}`,
      expected: "one of its own pages",
    });
  }
  return next();
};

/** Headers on every answer. */
export const safeHeaders: MiddlewareHandler = async (context, next) => {
  await next();
  const { headers } = context.res;
  if (!headers.has("content-security-policy")) headers.set("content-security-policy", PAGE_POLICY);
  if (!headers.has("cache-control")) headers.set("cache-control", "no-store");
  headers.set("x-content-type-options", "nosniff");
  headers.set("referrer-policy", "no-referrer");
  headers.set("cross-origin-opener-policy", "same-origin");
  headers.set("cross-origin-resource-policy", "same-origin");
  headers.set("permissions-policy", "geolocation=(), microphone=(self), camera=(self), serial=(self)");
};

function nameOf(host: string): string {
  return host.toLowerCase().replace(/:\d+$/, "");
}
