import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { get } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Hono } from "hono";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { z } from "zod";
import { writeRecord } from "../core/record/index.ts";
import { rename, sample } from "../store/acceptance.ts";
import type { Store } from "../store/index.ts";
import { type MediaStore, openMediaFolder } from "../store/media.ts";
import { openSqliteStore } from "../store/sqlite/open.ts";
import { ThreadedAnswers } from "./answers.ts";
import { createApp } from "./app.ts";
import { listen } from "./listen.ts";
import * as schema from "./schemas.ts";

const { id } = sample(1);
const answers = new ThreadedAnswers();
let folder: string;
let store: Store;
let media: MediaStore;
let app: Hono;
let faultsOfOurs: string[];

beforeEach(async () => {
  faultsOfOurs = [];
  folder = mkdtempSync(join(tmpdir(), "unseam-server-"));
  mkdirSync(join(folder, "web", "assets"), { recursive: true });
  writeFileSync(join(folder, "web", "index.html"), "<!doctype html><title>Unseam</title>");
  writeFileSync(join(folder, "web", "assets", "app-1a2b.js"), "export {};");
  writeFileSync(join(folder, "secret.txt"), "not for the web");
  store = await openSqliteStore(join(folder, "data"), { now: () => new Date().toISOString() });
  await store.import(sample(1));
  media = await openMediaFolder(join(folder, "media"));
  await media.keepNamed("plate.svg", Buffer.from("<svg/>"));
  app = createApp({
    store,
    answers,
    media,
    version: "1.2.3",
    webFolder: join(folder, "web"),
    log: (text) => void faultsOfOurs.push(text),
  });
});
afterEach(async () => {
  await store.close();
  rmSync(folder, { recursive: true, force: true });
});
afterAll(() => answers.close());

const post = (path: string, body: unknown, headers: Record<string, string> = {}) =>
  app.request(path, {
    method: "POST",
    headers: { "content-type": "application/json", ...headers },
    body: typeof body === "string" ? body : JSON.stringify(body),
  });
const read = async (response: Response | Promise<Response>) => {
  const { status } = await response;
  return { status, body: (await (await response).json()) as Record<string, unknown> & { faults: { found: string }[] } };
};

describe("records over HTTP", () => {
  it("are listed, opened, edited, looked back on and restored", async () => {
    expect(await read(app.request("/api/records"))).toMatchObject({ status: 200, body: [{ id, revision: 1 }] });
    expect(await read(app.request(`/api/records/${id}`))).toMatchObject({
      status: 200,
      body: { revision: 1, record: { id }, warnings: [] },
    });
    const edit = { on: 1, edits: [rename("Rear glass")], token: "t1", by: "bench 2" };
    const saved = await read(post(`/api/records/${id}/edits`, edit));
    expect(saved).toMatchObject({ status: 200, body: { kind: "saved", id, revision: 2 } });
    expect(await read(post(`/api/records/${id}/edits`, edit))).toEqual(saved);
    expect(await read(app.request(`/api/records/${id}/history`))).toMatchObject({
      body: [{ revision: 2, kind: "edits", by: "bench 2", edits: [rename("Rear glass")] }, { revision: 1 }],
    });
    expect(await read(app.request(`/api/records/${id}?revision=1`))).toMatchObject({
      body: { revision: 1, record: { parts: [{}, { name: "Back cover" }] } },
    });
    expect(await read(post(`/api/records/${id}/restore`, { on: 2, revision: 1 }))).toMatchObject({
      status: 200,
      body: { revision: 3 },
    });
    const exported = await app.request(`/api/records/${id}/export`);
    expect(exported.headers.get("content-disposition")).toBe(`attachment; filename="${id}.json"`);
    expect(await exported.text()).toBe(writeRecord(sample(1)));
  });

  it("refuse a stale save with what came in between", async () => {
    await post(`/api/records/${id}/edits`, { on: 1, edits: [rename("Mine")] });
    expect(await read(post(`/api/records/${id}/edits`, { on: 1, edits: [rename("Theirs")] }))).toEqual({
      status: 409,
      body: { kind: "stale", id, on: 1, revision: 2, since: [rename("Mine")] },
    });
  });

  it("are taken in, and replaced only where the revision is stated", async () => {
    expect(await read(post("/api/records", writeRecord(sample(2))))).toMatchObject({
      status: 201,
      body: { revision: 1 },
    });
    expect(await read(post("/api/records", writeRecord(sample(2))))).toMatchObject({
      status: 200,
      body: { revision: 1 },
    });
    const other = writeRecord(sample(2, "Another"));
    expect(await read(post("/api/records", other))).toMatchObject({
      status: 409,
      body: { kind: "stale", revision: 1 },
    });
    expect(await read(post("/api/records?on=1", other))).toMatchObject({ status: 200, body: { revision: 2 } });
  });

  it("are found by words", async () => {
    expect(await read(app.request("/api/find?words=back%20cover"))).toEqual({
      status: 200,
      body: [{ record: id, list: "parts", id: "cover", text: "Back cover" }],
    });
  });

  it.each([
    ["an unknown record", () => app.request("/api/records/none"), 404, /no record/],
    ["an unknown revision", () => app.request(`/api/records/${id}?revision=9`), 404, /no such revision/],
    ["a revision that is no number", () => app.request(`/api/records/${id}?revision=x`), 422, /"x"/],
    ["an unknown path", () => app.request("/api/nothing"), 404, /GET \/api\/nothing/],
    ["a method that is not there", () => app.request("/", { method: "PUT" }), 405, /PUT/],
    ["JSON cut off", () => post(`/api/records/${id}/edits`, '{"on": 1'), 400, /end of the text at line 1/],
    ["a key given twice", () => post(`/api/records/${id}/edits`, '{"on":1,"on":2,"edits":[]}'), 400, /second time/],
    ["an unknown key", () => post(`/api/records/${id}/edits`, { on: 1, edist: [] }), 422, /./],
    ["a faulty edit", () => post(`/api/records/${id}/edits`, { on: 1, edits: [{ kind: "cut" }] }), 422, /./],
    [
      "an edit that makes the record invalid",
      () => post(`/api/records/${id}/edits`, { on: 1, edits: [{ kind: "remove", list: "parts", id: "frame" }] }),
      422,
      /./,
    ],
    ["a faulty record", () => post("/api/records", "{}"), 422, /nothing/],
    ["a newer format", () => post("/api/records", { format: "unseam/2" }), 422, /newer version/],
    ["a form", () => post("/api/records", "a=1", { "content-type": "text/plain" }), 415, /text\/plain/],
    ["a body that is too big", () => post(`/api/records/${id}/edits`, " ".repeat(8_000_001)), 413, /more/],
  ])("refuse %s in words", async (_, ask, status, found) => {
    const answer = await read(await ask());
    expect(answer.status).toBe(status);
    expect(answer.body.ok).toBe(false);
    expect(answer.body.faults[0].found).toMatch(found);
    expect(faultsOfOurs).toEqual([]);
    expect((await store.load(id))?.revision).toBe(1);
  });
});

it("answers as described", async () => {
  await store.save(id, { on: 1, edits: [rename("Rear glass")] });
  const answer = async (response: Response | Promise<Response>) => (await response).json();
  const ask = (path: string) => answer(app.request(path));
  z.array(schema.RecordHead).parse(await ask("/api/records"));
  schema.KeptRecord.parse(await ask(`/api/records/${id}`));
  z.array(schema.Revision).parse(await ask(`/api/records/${id}/history`));
  z.array(schema.Found).parse(await ask("/api/find?words=slab"));
  schema.Health.parse(await ask("/api/health"));
  schema.Saved.parse(await answer(post(`/api/records/${id}/restore`, { on: 2, revision: 1 })));
  schema.Stale.parse(await answer(post(`/api/records/${id}/edits`, { on: 1, edits: [] })));
  schema.Refused.parse(await ask("/api/records/none"));
  schema.WayIn.parse(await answer(post(`/api/records/${id}/ways`, { to: ["cover"], least: "risk" })));
  schema.Unreachable.parse(await answer(post(`/api/records/${id}/ways`, { to: ["frame"], least: "steps" })));
  schema.Law.parse(await ask(`/api/records/${id}/law?basis=least`));
  schema.Figures.parse(await ask(`/api/records/${id}/figures`));
});

describe("ways in over HTTP", () => {
  it("are answered from another thread", async () => {
    const way = await read(post(`/api/records/${id}/ways`, { to: ["cover"], least: "seconds" }));
    // One lift at the standard time: 2.4 to lift and 1.4 to set aside.
    expect(way).toMatchObject({ status: 200, body: { targets: ["cover"], seconds: 3.8, steps: 1, proved: true } });
  });

  it("say what cannot be reached, and what is wrong with a question", async () => {
    expect(await read(post(`/api/records/${id}/ways`, { to: ["frame"], least: "steps" }))).toMatchObject({
      status: 422,
      body: { unreachable: [{ part: "frame" }] },
    });
    expect(await read(post(`/api/records/${id}/ways`, { to: ["covr"], least: "steps" }))).toMatchObject({
      status: 422,
      body: { faults: [{ found: '"covr"', nearest: "cover" }] },
    });
    expect((await read(post(`/api/records/${id}/ways`, { to: ["cover"], least: "money" }))).status).toBe(422);
    expect((await read(post("/api/records/none/ways", { to: ["cover"], least: "steps" }))).status).toBe(404);
  });
});

describe("the guard", () => {
  it.each([
    ["localhost:4680", undefined, 200],
    ["127.0.0.1:4680", "http://127.0.0.1:4680", 200],
    ["[::1]:4680", undefined, 200],
    ["bad.example:4680", undefined, 403],
    ["127.0.0.1.bad.example", undefined, 403],
    ["127.0.0.1:4680", "http://bad.example", 403],
    ["127.0.0.1:4680", "http://127.0.0.1:9999", 403],
    ["127.0.0.1:4680", "null", 403],
  ])("asked as %s by a page of %s answers %i", async (host, origin, status) => {
    const headers = { host, ...(origin === undefined ? {} : { origin }) };
    expect((await app.request("/api/records", { headers })).status).toBe(status);
  });

  it("lets a link from elsewhere open a page, but nothing else", async () => {
    const from = (mode: string) => ({ headers: { "sec-fetch-site": "cross-site", "sec-fetch-mode": mode } });
    expect((await app.request("/", from("navigate"))).status).toBe(200);
    expect((await app.request("/api/records", from("no-cors"))).status).toBe(403);
  });

  it("puts safe headers on every answer, refusals included", async () => {
    for (const path of ["/", "/api/records", "/api/nothing", "/none.js"]) {
      const { headers } = await app.request(path);
      expect(headers.get("content-security-policy")).toMatch(/default-src 'none'; script-src 'self'; style-src 'self'/);
      expect(headers.get("x-content-type-options")).toBe("nosniff");
      expect(headers.get("referrer-policy")).toBe("no-referrer");
    }
  });
});

describe("the built application", () => {
  it("is served with its own pages' addresses, and kept by the browser where names carry a hash", async () => {
    for (const path of ["/", "/records/1/law", "/index.html"]) {
      const page = await app.request(path);
      expect(page.headers.get("content-type")).toMatch(/text\/html/);
      expect(page.headers.get("cache-control")).toBe("no-cache");
    }
    const script = await app.request("/assets/app-1a2b.js");
    expect(script.headers.get("content-type")).toMatch(/javascript/);
    expect(script.headers.get("cache-control")).toMatch(/immutable/);
    const tag = script.headers.get("etag") ?? "";
    expect((await app.request("/assets/app-1a2b.js", { headers: { "if-none-match": tag } })).status).toBe(304);
  });

  it.each([
    "/../secret.txt",
    "/%2e%2e/secret.txt",
    "/..%2fsecret.txt",
    "/assets/../../secret.txt",
    "/secret.txt",
    "/%ff.js",
  ])("does not lead out of its folder: %s", async (path) => {
    const answer = await app.request(path);
    expect(await answer.text()).not.toContain("not for the web");
    expect([400, 404]).toContain(answer.status);
  });

  it("says so where it was not built", async () => {
    const bare = createApp({ store, answers, media, version: "1", webFolder: join(folder, "none"), log: () => {} });
    expect(await read(bare.request("/"))).toMatchObject({
      status: 404,
      body: { faults: [{ found: "no built application" }] },
    });
  });
});

it("is described as OpenAPI 3.1, every reference resolved and every path there", async () => {
  const { body } = await read(app.request("/api/openapi.json"));
  expect(body.openapi).toBe("3.1.0");
  const paths = Object.keys(body.paths as object);
  expect(paths).toContain("/api/records/{id}/edits");
  const schemas = (body.components as { schemas: object }).schemas;
  for (const [, name] of JSON.stringify(body.paths).matchAll(/"#\/components\/schemas\/([^"]+)"/g)) {
    expect(schemas).toHaveProperty(name);
  }
  for (const path of paths) {
    const methods = Object.keys((body.paths as Record<string, object>)[path]);
    for (const method of methods) {
      const answer = await app.request(path.replace("{id}", id).replace("{name}", "plate.svg"), {
        method: method.toUpperCase(),
      });
      expect([404, 405], `${method} ${path}`).not.toContain(answer.status);
    }
  }
});

describe("on a real socket", () => {
  let url: string;
  let close: () => Promise<void>;
  beforeAll(async () => {
    // Opened in beforeEach for every test; the socket needs one application only.
    ({ url, close } = await listen({ fetch: (request: Request) => app.fetch(request) } as Hono, 0));
  });
  afterAll(() => close());

  it("listens on this machine alone and refuses a host that is not its own", async () => {
    expect(url).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
    expect(await (await fetch(`${url}api/health`)).json()).toEqual({ ok: true, version: "1.2.3" });
    const status = await new Promise((resolve, reject) => {
      get(`${url}api/records`, { headers: { host: "rebound.example" } }, (answer) => {
        answer.resume();
        resolve(answer.statusCode);
      }).on("error", reject);
    });
    expect(status).toBe(403);
    expect((await fetch(url)).headers.get("content-security-policy")).toMatch(/script-src 'self'/);
  });

  it("says in words that the port is taken", async () => {
    await expect(listen(app, Number(new URL(url).port))).rejects.toThrow(/in use already.*--port/);
  });
});
