import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Hono } from "hono";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { smallPhone } from "../../test/fixtures/small-phone.ts";
import type { TeardownRecord } from "../core/record/index.ts";
import { editionsFrom, editionsInFolder, editionsInMemory } from "../store/editions.ts";
import type { Store } from "../store/index.ts";
import { openMediaFolder } from "../store/media.ts";
import { openSqliteStore } from "../store/sqlite/open.ts";
import { ThreadedAnswers } from "./answers.ts";
import type { LaidOut, SheetLine } from "./api.ts";
import { createApp } from "./app.ts";

const answers = new ThreadedAnswers();
const { id } = smallPhone;
const target = smallPhone.parts.find((part) => part.role === "battery")!.id;
const request = { jobs: [[target]], language: "en", size: "a4", date: "2026-03-02", settings: { trials: 200 } };
let folder: string;
let store: Store;
let app: Hono;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "unseam-sheets-"));
  store = await openSqliteStore(join(folder, "data"), { now: () => new Date().toISOString() });
  await store.import(smallPhone);
  const media = await openMediaFolder(join(folder, "media"));
  const editions = editionsInFolder(join(folder, "editions"));
  app = createApp({ store, answers, media, editions, version: "1", webFolder: folder, log: () => {} });
});
afterAll(async () => {
  await answers.close();
  await store.close();
  rmSync(folder, { recursive: true, force: true });
});

const post = (path: string, body: unknown) =>
  app.request(path, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });

async function layOut(asked: object = request): Promise<SheetLine[]> {
  const response = await post(`/api/records/${id}/sheets`, asked);
  expect(response.status).toBe(200);
  const text = await response.text();
  return text
    .trim()
    .split("\n")
    .map((line) => JSON.parse(line) as SheetLine);
}

async function laidOut(asked: object = request): Promise<LaidOut> {
  const last = (await layOut(asked)).at(-1)!;
  if (last.kind !== "laid-out") throw new Error(JSON.stringify(last));
  return last;
}

describe("sheets over HTTP", () => {
  it("tell how far they are, and then what was laid out; nothing is issued by that", async () => {
    const lines = await layOut();
    expect(lines.length).toBeGreaterThan(2);
    expect(lines[0]).toMatchObject({ kind: "progress", done: 0 });
    const set = await laidOut();
    expect(set).toMatchObject({
      issued: false,
      edition: { edition: 1, date: "2026-03-02" },
      editions: [],
      recalls: [],
    });
    expect(set.files.map(({ name }) => name)).toContain(`work/replace-${target}.pdf`);
    expect(await (await app.request(`/api/records/${id}/sheets/editions`)).json()).toEqual([]);
  });
  it("are given out as files, as pages and as an archive, none of which may run anything", async () => {
    const set = await laidOut();
    for (const { name, bytes } of set.files) {
      const file = await app.request(`/api/records/${id}/sheets/file?set=${set.set}&file=${encodeURIComponent(name)}`);
      expect(file.status, name).toBe(200);
      expect((await file.arrayBuffer()).byteLength, name).toBe(bytes);
      expect(file.headers.get("content-security-policy")).toContain("sandbox");
      expect(file.headers.get("content-disposition")).toMatch(/^attachment; /);
    }
    for (const { name, pages } of set.sheets) {
      const page = await app.request(
        `/api/records/${id}/sheets/page?set=${set.set}&sheet=${encodeURIComponent(name)}&page=${pages}`,
      );
      expect(page.headers.get("content-type")).toContain("image/svg+xml");
      expect(await page.text()).toMatch(/^<svg .*<\/svg>$/s);
    }
    const zip = await app.request(`/api/records/${id}/sheets/zip?set=${set.set}`);
    expect([...new Uint8Array(await zip.arrayBuffer()).slice(0, 4)]).toEqual([0x50, 0x4b, 3, 4]);
  });
  it("are issued as editions; a changed length is the next one and names what to recall", async () => {
    const first = await laidOut();
    const issued = await post(`/api/records/${id}/sheets/issue`, { set: first.set });
    expect(await issued.json()).toEqual([first.edition]);
    expect(await laidOut()).toMatchObject({ issued: true, edition: { edition: 1 } });
    const longer: TeardownRecord = {
      ...smallPhone,
      joints: smallPhone.joints.map((joint) =>
        joint.kind === "screw" && joint.screws
          ? { ...joint, screws: { ...joint.screws, length: 9.9, each: [] } }
          : joint,
      ),
    };
    await store.import(longer, { on: 1 });
    const second = await laidOut({ ...request, date: "2026-04-01" });
    expect(second).toMatchObject({ issued: false, edition: { edition: 2, date: "2026-04-01" } });
    expect(second.recalls.length).toBeGreaterThan(0);
    expect(second.recalls[0]).toMatchObject({ editions: [1], now: 9.9 });
    const both = await post(`/api/records/${id}/sheets/issue`, { set: second.set });
    expect(await both.json()).toEqual([first.edition, second.edition]);
    // What was laid out before the second edition can no longer be issued.
    const stale = await post(`/api/records/${id}/sheets/issue`, { set: first.set });
    expect(stale.status).toBe(409);
  });
  it("refuse in words what cannot be done", async () => {
    const last = (await layOut({ ...request, jobs: [["nothing-like-it"]] })).at(-1);
    expect(last).toMatchObject({ kind: "refused", faults: [{ found: '"nothing-like-it"' }] });
    const margin = (await layOut({ ...request, settings: { margin: -0.1 } })).at(-1);
    expect(margin).toMatchObject({ kind: "refused", faults: [{ path: "settings.margin", found: "-0.1" }] });
    for (const wrong of [
      { ...request, size: "a3" },
      { ...request, date: "2026-02-30" },
      { ...request, measured: { across: 50, down: 100 } },
      { ...request, jobs: [] },
    ])
      expect((await post(`/api/records/${id}/sheets`, wrong)).status).toBe(422);
    const none = "00000000-0000-4000-8000-00000000dead";
    expect((await post(`/api/records/${none}/sheets`, request)).status).toBe(404);
    for (const path of ["file?set=x&file=y", "zip?set=x", "page?set=x&sheet=y&page=1"])
      expect((await app.request(`/api/records/${id}/sheets/${path}`)).status, path).toBe(404);
    expect((await post(`/api/records/${id}/sheets/issue`, { set: "x" })).status).toBe(404);
  });
  it("are given up when the asker goes", async () => {
    const stop = new AbortController();
    const response = await app.request(`/api/records/${id}/sheets`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ ...request, date: "2026-06-01" }),
      signal: stop.signal,
    });
    const reader = response.body!.getReader();
    await reader.read();
    stop.abort();
    await reader.cancel();
    // The thread is free for the next one.
    expect(await laidOut()).toMatchObject({ edition: { edition: 2 } });
  });
});

describe("issued editions", () => {
  const edition = { edition: 1, date: "2026-03-02", revision: "abc", screws: {} };
  it("are kept in a folder or in memory", async () => {
    for (const kept of [editionsInMemory(), editionsInFolder(join(folder, "others"))]) {
      expect(await kept.read("a-1")).toEqual([]);
      await kept.write("a-1", [edition]);
      expect(await kept.read("a-1")).toEqual([edition]);
      expect(await kept.read("a-2")).toEqual([]);
    }
  });
  it("a file that is none is refused by name", () => {
    expect(() => editionsFrom("{", "e.json")).toThrow(/e\.json: found no JSON/);
    expect(() => editionsFrom('[{"edition":1}]', "e.json")).toThrow(/no list of editions/);
  });
});
