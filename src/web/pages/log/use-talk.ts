/** The talk that is under review: its text kept by this browser, its reading made in a worker. */
import { useCallback, useEffect, useRef, useState } from "react";
import type { Fault } from "../../../core/errors.ts";
import type { TeardownRecord } from "../../../core/record/index.ts";
import type { Item, Talk } from "./review.ts";
import type { FromTalkWorker } from "./talk-worker.ts";

export interface KeptTalk {
  readonly name: string;
  readonly text: string;
  readonly session: string | null;
  /** Recording that the words belong to; null: their clock is the session's. */
  readonly media: string | null;
  readonly rejected: readonly string[];
}

export type Reading =
  | { readonly kind: "none" }
  | { readonly kind: "reading" }
  | { readonly kind: "here"; readonly talk: Talk; readonly items: readonly Item[] }
  | { readonly kind: "refused"; readonly faults: readonly Fault[] };

const nameOf = (record: string) => `unseam:talk:${record}`;

function recall(record: string): KeptTalk | null {
  try {
    const kept = JSON.parse(localStorage.getItem(nameOf(record)) ?? "null") as KeptTalk | null;
    return kept !== null && typeof kept.text === "string" && Array.isArray(kept.rejected) ? kept : null;
  } catch {
    return null;
  }
}

/** False where the browser has no room: the talk then lasts as long as the page. */
function remember(record: string, talk: KeptTalk | null): boolean {
  try {
    if (talk === null) localStorage.removeItem(nameOf(record));
    else localStorage.setItem(nameOf(record), JSON.stringify(talk));
    return true;
  } catch {
    return false;
  }
}

export interface UseTalk {
  readonly kept: KeptTalk | null;
  readonly lasts: boolean;
  readonly reading: Reading;
  readonly load: (talk: KeptTalk | null) => void;
  /** Items changed here and not in the record yet; can be taken back. */
  readonly put: (items: readonly Item[]) => void;
  readonly stop: () => void;
}

export function useTalk(record: TeardownRecord): UseTalk {
  const [kept, setKept] = useState<KeptTalk | null>(() => recall(record.id));
  const [lasts, setLasts] = useState(true);
  const [reading, setReading] = useState<Reading>({ kind: "none" });
  const worker = useRef<Worker | null>(null);
  // The talk is read against the record as it stood when it was loaded; what is taken since is known by its id.
  const newest = useRef(record);
  newest.current = record;
  const text = kept?.text ?? null;
  const session = kept?.session ?? null;
  const starts = record.media.find((one) => one.id === kept?.media)?.starts ?? 0;

  useEffect(() => {
    worker.current?.terminate();
    if (text === null) return setReading({ kind: "none" });
    setReading({ kind: "reading" });
    const one = new Worker(new URL("./talk-worker.ts", import.meta.url), { type: "module" });
    worker.current = one;
    one.onmessage = ({ data }: MessageEvent<FromTalkWorker>) => {
      one.terminate();
      if (data.kind === "refused") return setReading(data);
      const rejected = new Set(recall(newest.current.id)?.rejected ?? []);
      const items = data.talk.items.map((item) => (rejected.has(item.id) ? { ...item, rejected: true } : item));
      setReading({ kind: "here", talk: data.talk, items });
    };
    one.onerror = (event) =>
      setReading({
        kind: "refused",
        faults: [
          { path: "", found: event.message || "no answer", expected: "a reading; this is our fault, not yours" },
        ],
      });
    one.postMessage({ text, record: newest.current, session, starts });
    return () => one.terminate();
  }, [text, session, starts]);

  const load = useCallback(
    (talk: KeptTalk | null) => {
      setLasts(remember(record.id, talk));
      setKept(talk);
    },
    [record.id],
  );
  const put = useCallback(
    (items: readonly Item[]) => {
      setReading((now) => (now.kind === "here" ? { ...now, items } : now));
      const before = recall(record.id);
      if (before !== null)
        setLasts(remember(record.id, { ...before, rejected: items.flatMap((one) => (one.rejected ? [one.id] : [])) }));
    },
    [record.id],
  );
  const stop = () => {
    worker.current?.terminate();
    load(null);
  };
  return { kept, lasts, reading, load, put, stop };
}
