/** Laying sheets out on the server: progress as it comes, a stop, and the set at the end. */
import { useCallback, useEffect, useRef, useState } from "react";
import type { Fault } from "../../../core/errors.ts";
import type { IssuedEdition, LaidOut, SheetLine } from "../../../server/api.ts";
import { ask, Failed } from "../../data/client.ts";

export type Laying =
  | { readonly kind: "idle" }
  | { readonly kind: "working"; readonly done: number; readonly of: number }
  | { readonly kind: "here"; readonly set: LaidOut }
  | { readonly kind: "refused"; readonly faults: readonly Fault[] };

const IDLE = { kind: "idle" } as const;

export function useSheets(record: string) {
  const [state, setState] = useState<Laying>(IDLE);
  const stop = useRef<AbortController | null>(null);
  const address = `/api/records/${encodeURIComponent(record)}/sheets`;
  useEffect(() => () => stop.current?.abort(), []);
  const layOut = useCallback(
    (request: object) => {
      stop.current?.abort();
      const own = new AbortController();
      stop.current = own;
      const show = (next: Laying) => {
        if (!own.signal.aborted) setState(next);
      };
      show({ kind: "working", done: 0, of: 0 });
      linesOf(address, request, own.signal, (line) => {
        if (line.kind === "progress") show({ kind: "working", done: line.done, of: line.of });
        else if (line.kind === "refused") show(line);
        else show({ kind: "here", set: line });
      }).catch((error: unknown) => {
        if (own.signal.aborted) return;
        show({ kind: "refused", faults: error instanceof Failed ? error.faults : [lost] });
      });
    },
    [address],
  );
  const cancel = useCallback(() => {
    stop.current?.abort();
    setState(IDLE);
  }, []);
  const issue = useCallback(
    async (set: LaidOut) => {
      try {
        const editions = await ask<readonly IssuedEdition[]>(`${address}/issue`, {
          method: "POST",
          headers: { "content-type": "application/json" },
          body: JSON.stringify({ set: set.set }),
        });
        setState({ kind: "here", set: { ...set, issued: true, editions } });
      } catch (error) {
        if (!(error instanceof Failed)) throw error;
        setState({ kind: "refused", faults: error.faults });
      }
    },
    [address],
  );
  return { state, layOut, cancel, issue, address } as const;
}

const lost: Fault = {
  path: "",
  found: "an answer that broke off",
  expected: "sheets; lay them out again, and look whether the server is running",
};

/** Reads lines of JSON as they come. @throws Failed where the answer is a refusal or ends too early */
async function linesOf(
  address: string,
  request: object,
  signal: AbortSignal,
  take: (line: SheetLine) => void,
): Promise<void> {
  const response = await fetch(address, {
    method: "POST",
    signal,
    headers: { "content-type": "application/json", accept: "application/x-ndjson" },
    body: JSON.stringify(request),
  });
  if (!response.ok || response.body === null) {
    const refusal = (await response.json().catch(() => null)) as { faults?: readonly Fault[] } | null;
    throw new Failed(response.status, refusal?.faults ?? [lost]);
  }
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let text = "";
  let last: SheetLine | undefined;
  for (let piece = await reader.read(); !piece.done; piece = await reader.read()) {
    text += piece.value;
    const whole = text.split("\n");
    text = whole.pop()!;
    for (const line of whole) {
      last = JSON.parse(line) as SheetLine;
      take(last);
    }
  }
  if (last === undefined || last.kind === "progress") throw new Failed(0, [lost]);
}
