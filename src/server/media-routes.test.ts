import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Hono } from "hono";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { faultsIn } from "../core/errors.ts";
import { openMediaFolder } from "../store/media.ts";
import type { TakenMedia } from "./api.ts";
import { mediaRoutes, rangeOf } from "./media-routes.ts";
import { mount, refused } from "./route.ts";

const app = new Hono();
let folder: string;
let film: TakenMedia;
const content = Buffer.concat([Buffer.from("\0\0\0\x18ftypmp42\0\0\0\0mp42isom", "latin1"), Buffer.alloc(976, 1)]);

const send = (bytes: Uint8Array<ArrayBuffer>, name: string, type = "application/octet-stream") =>
  app.request(`/api/media?name=${encodeURIComponent(name)}`, {
    method: "POST",
    headers: { "content-type": type },
    body: bytes,
  });
const get = (name: string, headers: Record<string, string> = {}) => app.request(`/api/media/${name}`, { headers });

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "unseam-media-"));
  for (const each of mediaRoutes(await openMediaFolder(folder))) mount(app, each);
  app.onError((error) => refused(422, ...(faultsIn(error) ?? [{ path: "", found: error.message, expected: "" }])));
  film = (await (await send(content, "a.mp4")).json()) as TakenMedia;
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("files over HTTP", () => {
  it("come back whole, and by ranges", async () => {
    const whole = await get(film.name);
    expect(whole.status).toBe(200);
    expect(whole.headers.get("accept-ranges")).toBe("bytes");
    expect(whole.headers.get("content-type")).toBe("video/mp4");
    expect(whole.headers.get("content-security-policy")).toContain("sandbox");
    expect(Buffer.from(await whole.arrayBuffer())).toEqual(content);
    const part = await get(film.name, { range: "bytes=4-7" });
    expect([part.status, part.headers.get("content-range"), await part.text()]).toEqual([
      206,
      "bytes 4-7/1000",
      "ftyp",
    ]);
    const tail = await get(film.name, { range: "bytes=-10" });
    expect([tail.headers.get("content-range"), tail.headers.get("content-length")]).toEqual([
      "bytes 990-999/1000",
      "10",
    ]);
    const beyond = await get(film.name, { range: "bytes=1000-" });
    expect([beyond.status, beyond.headers.get("content-range")]).toEqual([416, "bytes */1000"]);
    const tag = whole.headers.get("etag")!;
    expect((await get(film.name, { "if-none-match": tag })).status).toBe(304);
    expect((await get(film.name, { range: "bytes=0-0", "if-range": '"other"' })).status).toBe(200);
    const head = await app.request(`/api/media/${film.name}`, { method: "HEAD" });
    expect([head.status, head.headers.get("content-length")]).toEqual([200, "1000"]);
  });

  it("reads ranges as RFC 9110 has them", () => {
    // The examples of RFC 9110, 14.1.2, for a representation of 10000 bytes.
    expect(rangeOf("bytes=0-499", 10_000)).toEqual([0, 499]);
    expect(rangeOf("bytes=500-999", 10_000)).toEqual([500, 999]);
    expect(rangeOf("bytes=-500", 10_000)).toEqual([9500, 9999]);
    expect(rangeOf("bytes=9500-", 10_000)).toEqual([9500, 9999]);
    expect(rangeOf("bytes=9500-20000", 10_000)).toEqual([9500, 9999]);
    expect(rangeOf("bytes=10000-", 10_000)).toBe("beyond");
    expect(rangeOf("bytes=-0", 10_000)).toBe("beyond");
    for (const other of ["bytes=5-2", "bytes=0-0,-1", "lines=1-2", "bytes=-", "bytes=a-b"]) {
      expect(rangeOf(other, 10_000)).toBeNull();
    }
  });

  it("makes a picture small, and refuses widths it has not", async () => {
    const wide = sharp({ create: { width: 900, height: 300, channels: 3, background: "#405060" } });
    const taken = (await (await send(new Uint8Array(await wide.png().toBuffer()), "a.png")).json()) as TakenMedia;
    expect(taken).toMatchObject({ width: 900, height: 300 });
    const small = Buffer.from(await (await get(`${taken.name}?width=240`)).arrayBuffer());
    expect(await sharp(small).metadata()).toMatchObject({ width: 240, height: 80 });
    expect((await get(`${taken.name}?width=241`)).status).toBe(422);
  });

  it("refuses what is no file, other types of body and names that lead elsewhere", async () => {
    expect((await send(content, "a.mp4", "text/plain")).status).toBe(415);
    const program = await send(new Uint8Array(Buffer.from("MZ\x90")), "photo.jpg");
    expect([program.status, JSON.stringify(await program.json())]).toEqual([
      422,
      expect.stringContaining("a program for Windows"),
    ]);
    expect((await send(content, "../a.mp4")).status).toBe(422);
    for (const name of ["nothing.mp4", "..%2fcontent%2fa.mp4", "%2e%2e", "a%00.mp4"]) {
      expect((await get(name)).status).toBe(404);
    }
  });
});
