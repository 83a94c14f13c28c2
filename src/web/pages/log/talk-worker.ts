/** Reads a talk away from the page's own thread. A worker of its own: the text may be megabytes and is no key to keep. */

import type { Fault } from "../../../core/errors.ts";
import { faultsIn } from "../../../core/errors.ts";
import { readTalk, type Talk, type TalkAsks } from "./review.ts";

export type FromTalkWorker =
  | { readonly kind: "read"; readonly talk: Talk }
  | { readonly kind: "refused"; readonly faults: readonly Fault[] };

self.onmessage = ({ data }: MessageEvent<TalkAsks>) => {
  let answer: FromTalkWorker;
  try {
    answer = { kind: "read", talk: readTalk(data) };
  } catch (error) {
    const found = error instanceof Error ? error.message : String(error);
    answer = {
      kind: "refused",
      faults: faultsIn(error) ?? [{ path: "", found, expected: "an answer; this is our fault, not yours" }],
    };
  }
  self.postMessage(answer);
};
