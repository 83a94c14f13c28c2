/** The keeper's port in a browser: fetch, Web Locks, a broadcast channel between tabs. */
import { difference } from "../../core/record/edits.ts";
import type { KeptRecord, Saved, SaveRequest, Stale, TakenMedia } from "../../server/api.ts";
import { ask, Failed } from "../data/client.ts";
import type { KeeperPort, Sent, Uploaded } from "./keeper.ts";
import { openOutbox } from "./outbox.ts";
import { showPictures } from "./pictures.ts";

/** A server that takes longer is as good as gone; the token makes it harmless to ask again. */
const ANSWER_WITHIN = 10_000;
/** A large picture over a slow line, and the server's turning and checking of it. */
const PICTURE_WITHIN = 120_000;
/** The service worker's own, in which answers lie for when no server is there. */
const ANSWERS = "unseam answers";

const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("unseam outbox");

/** Told the id of a record whose outbox another tab has written to. */
export function onOtherTab(listener: (record: string) => void): () => void {
  const hear = ({ data }: MessageEvent<string>) => listener(data);
  channel?.addEventListener("message", hear);
  return () => channel?.removeEventListener("message", hear);
}

export async function browserPort(): Promise<KeeperPort> {
  const outbox = await openOutbox();
  return {
    outbox,
    send,
    upload,
    show: showPictures,
    alone: (name, work) => (navigator.locks === undefined ? work() : navigator.locks.request(name, work)),
    tell: (record) => channel?.postMessage(record),
    token: () => crypto.randomUUID(),
    now: () => new Date(),
    later(ms, work) {
      const timer = setTimeout(work, ms);
      return () => clearTimeout(timer);
    },
  };
}

/**
 * What was saved in between. A server that is behind what was seen here holds another workspace, or an older copy of
 * this one: then the difference to what it has counts as somebody else's.
 */
async function stale(record: string, save: SaveRequest, { revision, since }: Stale): Promise<Sent> {
  if (revision >= save.on) return { kind: "stale", revision, since };
  const newest = await ask<KeptRecord>(`/api/records/${encodeURIComponent(record)}`);
  const base = await (await openOutbox()).base(record);
  if (base === undefined) return { kind: "cut-off", why: "the browser has lost what the changes were made on" };
  return { kind: "stale", revision: newest.revision, since: difference(base.record, newest.record) };
}

const send: KeeperPort["send"] = async (record, save): Promise<Sent> => {
  try {
    const saved = await ask<Saved>(`/api/records/${encodeURIComponent(record)}/edits`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(save),
      signal: AbortSignal.timeout(ANSWER_WITHIN),
    });
    return { kind: "saved", revision: saved.revision, savedAt: saved.savedAt };
  } catch (error) {
    if (!(error instanceof Failed)) return { kind: "cut-off", why: "the server does not answer" };
    if (error.status === 409 && isStale(error.body)) return stale(record, save, error.body);
    if (error.status === 400 || error.status === 413 || error.status === 422)
      return { kind: "refused", faults: error.faults };
    return { kind: "cut-off", why: error.message };
  }
};

const upload: KeeperPort["upload"] = async (picture): Promise<Uploaded> => {
  try {
    const taken = await ask<TakenMedia>(`/api/media?name=${encodeURIComponent(picture.given)}`, {
      method: "POST",
      headers: { "content-type": "application/octet-stream" },
      body: picture.content,
      signal: AbortSignal.timeout(PICTURE_WITHIN),
    });
    if (taken.name === picture.name) await remember(picture.name, picture.content).catch(() => undefined);
    return { kind: "taken", taken };
  } catch (error) {
    if (!(error instanceof Failed)) return { kind: "cut-off", why: "the server does not answer" };
    if (error.status === 400 || error.status === 413 || error.status === 422)
      return { kind: "refused", faults: error.faults };
    return { kind: "cut-off", why: error.message };
  }
};

/** Should the server be gone before the picture was ever asked of it. */
async function remember(name: string, content: Blob): Promise<void> {
  if (typeof caches === "undefined") return;
  const cache = await caches.open(ANSWERS);
  await cache.put(`/api/media/${name}`, new Response(content, { headers: { "content-type": content.type } }));
}

const isStale = (body: unknown): body is Stale => (body as Partial<Stale> | null)?.kind === "stale";
