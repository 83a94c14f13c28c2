/** An answer of the server as state. Answers are kept by address until `forget` is called, e.g. after a save. */
import { useEffect, useState } from "react";
import { ask, Failed } from "./client.ts";

export type Loading<T> =
  | { readonly kind: "waiting" }
  | { readonly kind: "here"; readonly value: T }
  | { readonly kind: "failed"; readonly error: Failed };

const WAITING: Loading<never> = { kind: "waiting" };
const kept = new Map<string, Loading<unknown>>();

/** Drops kept answers whose address begins so. */
export function forget(prefix: string): void {
  for (const address of kept.keys()) if (address.startsWith(prefix)) kept.delete(address);
}

/** @param address null: nothing is asked. */
export function useAnswer<T>(address: string | null): Loading<T> & { readonly again: () => void } {
  const [round, setRound] = useState(0);
  const [held, hold] = useState<{ address: string | null; loading: Loading<T> }>({ address: null, loading: WAITING });
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new round asks the same once more
  useEffect(() => {
    if (address === null) return;
    // Another asker may have had the answer since this one was drawn, and `forget` may drop it before the next drawing.
    const known = kept.get(address) as Loading<T> | undefined;
    if (known !== undefined) return hold({ address, loading: known });
    const stop = new AbortController();
    ask<T>(address, { signal: stop.signal })
      .then((value): Loading<T> => ({ kind: "here", value }))
      .catch((error: unknown): Loading<T> => {
        if (error instanceof Failed) return { kind: "failed", error };
        if (stop.signal.aborted) return WAITING;
        throw error;
      })
      .then((loading) => {
        if (stop.signal.aborted) return;
        if (loading.kind === "here") kept.set(address, loading);
        hold({ address, loading });
      });
    return () => stop.abort();
  }, [address, round]);
  const again = () => {
    if (address !== null) kept.delete(address);
    hold({ address: null, loading: WAITING });
    setRound((n) => n + 1);
  };
  const known = address === null ? undefined : (kept.get(address) as Loading<T> | undefined);
  const loading = known ?? (held.address === address ? held.loading : WAITING);
  return { ...loading, again };
}
