/** A computed answer as state: live in a worker, with progress and a stop, kept by what was asked. */
import { useEffect, useMemo, useState } from "react";
import type { Fault } from "../../core/errors.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import type { KeptRecord } from "../../server/api.ts";
import type { FromWorker, Progress, TaskName, Tasks, ToWorker } from "./messages.ts";

export type Computed<T> =
  | { readonly kind: "idle" }
  /** `soFar`: good already, but the work goes on. */
  | { readonly kind: "working"; readonly progress: Progress | null; readonly soFar: T | null }
  | { readonly kind: "here"; readonly value: T }
  | { readonly kind: "refused"; readonly faults: readonly Fault[] }
  | { readonly kind: "stopped" };

const IDLE = { kind: "idle" } as const;
const WORKING = { kind: "working", progress: null, soFar: null } as const;
const MOST_KEPT = 200;
const kept = new Map<string, Computed<unknown>>();

function keep(key: string, answer: Computed<unknown>): void {
  if (kept.size >= MOST_KEPT) kept.delete(kept.keys().next().value!);
  kept.set(key, answer);
}

/** A record with changes that wait has no revision of its own yet: answers are kept by the record as it is in memory. */
const numbers = new WeakMap<TeardownRecord, number>();
let lastNumber = 0;

function numberOf(record: TeardownRecord): number {
  const known = numbers.get(record);
  if (known !== undefined) return known;
  lastNumber += 1;
  numbers.set(record, lastNumber);
  return lastNumber;
}

const ours = (found: string): Computed<never> => ({
  kind: "refused",
  faults: [{ path: "", found: found || "no answer", expected: "an answer; this is our fault, not yours" }],
});

export interface UseComputed<T> {
  readonly answer: Computed<T>;
  readonly stop: () => void;
  readonly again: () => void;
}

/** @param asks null: nothing is asked. */
export function useComputed<Name extends TaskName>(
  from: KeptRecord,
  name: Name,
  asks: Tasks[Name]["asks"] | null,
): UseComputed<Tasks[Name]["gets"]> {
  const words = asks === null ? null : JSON.stringify(asks);
  const key = words === null ? null : `${numberOf(from.record)} ${name} ${words}`;
  // Asked anew only when the words differ, not whenever an equal object is made.
  const task = useMemo(
    () => (words === null ? null : { name, record: from.record, asks: JSON.parse(words) as Tasks[Name]["asks"] }),
    [words, name, from.record],
  );
  const [state, setState] = useState<{ readonly key: string | null; readonly answer: Computed<unknown> }>({
    key: null,
    answer: IDLE,
  });
  const [stopped, setStopped] = useState<string | null>(null);
  const [round, setRound] = useState(0);

  // biome-ignore lint/correctness/useExhaustiveDependencies: a new round asks the same once more
  useEffect(() => {
    if (key === null || task === null || kept.has(key) || stopped === key) return;
    let soFar: unknown = null;
    let progress: Progress | null = null;
    const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
    const end = (answer: Computed<unknown>) => {
      worker.terminate();
      setState({ key, answer });
    };
    worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
      switch (data.kind) {
        case "progress":
          progress = data.progress;
          return setState({ key, answer: { kind: "working", progress, soFar } });
        case "so-far":
          soFar = data.value;
          return setState({ key, answer: { kind: "working", progress, soFar } });
        case "done": {
          const answer = { kind: "here", value: data.value } as const;
          keep(key, answer);
          return end(answer);
        }
        case "refused": {
          const answer = { kind: "refused", faults: data.faults } as const;
          keep(key, answer);
          return end(answer);
        }
        case "broken":
          return end(ours(data.message));
      }
    };
    worker.onerror = (event) => end(ours(event.message));
    worker.postMessage(task satisfies ToWorker<Name>);
    return () => worker.terminate();
  }, [key, task, stopped, round]);

  const answer = key === null ? IDLE : (kept.get(key) ?? (state.key === key ? state.answer : WORKING));
  return {
    answer: answer as Computed<Tasks[Name]["gets"]>,
    // What had been found by then stays.
    stop: () => {
      setStopped(key);
      const soFar = answer.kind === "working" ? answer.soFar : null;
      setState({ key, answer: soFar === null ? { kind: "stopped" } : { kind: "here", value: soFar } });
    },
    again: () => {
      if (key !== null) kept.delete(key);
      setStopped(null);
      setState({ key: null, answer: IDLE });
      setRound((n) => n + 1);
    },
  };
}

/** False for the first half second, so that quick answers come without a flicker of waiting. */
export function useSlow(working: boolean): boolean {
  const [slow, setSlow] = useState(false);
  useEffect(() => {
    setSlow(false);
    if (!working) return;
    const timer = setTimeout(() => setSlow(true), 500);
    return () => clearTimeout(timer);
  }, [working]);
  return slow;
}
