/** Questions to a picture's pixels, answered in a worker; the last one alone counts. */
import { useEffect, useRef, useState } from "react";
import { mediaContent } from "../../keep/index.ts";
import type { PictureAnswer, PictureAnswers, PictureQuestion } from "./picture-worker.ts";

/** What is told beside the question itself. */
type Beside<Find extends keyof PictureAnswers> = Omit<Extract<PictureQuestion, { find: Find }>, "content" | "find">;

export interface UsePicture {
  readonly looking: boolean;
  /** @throws Error in words: the picture is nowhere, or does not open */
  readonly ask: <Find extends keyof PictureAnswers>(
    file: string,
    find: Find,
    beside: Beside<Find>,
  ) => Promise<PictureAnswers[Find]>;
}

export function usePicture(): UsePicture {
  const [looking, setLooking] = useState(false);
  const worker = useRef<Worker | null>(null);
  useEffect(() => () => worker.current?.terminate(), []);
  const ask: UsePicture["ask"] = async (file, find, beside) => {
    setLooking(true);
    try {
      const content = await mediaContent(file);
      worker.current?.terminate();
      const own = new Worker(new URL("./picture-worker.ts", import.meta.url), { type: "module" });
      worker.current = own;
      const answer = await new Promise<PictureAnswer>((done) => {
        own.onmessage = ({ data }: MessageEvent<PictureAnswer>) => done(data);
        own.onerror = (event) => done({ failed: event.message });
        own.postMessage({ ...beside, find, content });
      });
      own.terminate();
      if ("failed" in answer) throw new Error(answer.failed);
      return answer.found as never;
    } finally {
      setLooking(false);
    }
  };
  return { looking, ask };
}
