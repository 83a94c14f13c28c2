/**
 * Computed answers, each in another thread, so that a hard question never makes the server late for others.
 *
 * One thread, one question at a time, in the order in which they came. A question that its asker has given up is taken
 * out of the row or told to stop; one that does not stop in time loses its thread, and the next one gets a new thread.
 */
import { createRequire } from "node:module";
import { extname } from "node:path";
import { pathToFileURL } from "node:url";
import { Worker } from "node:worker_threads";
import { type Fault, InputFaults } from "../core/errors.ts";
import type { RecordBasis } from "../core/law/assess.ts";
import type { TeardownRecord } from "../core/record/index.ts";
import type { Question } from "../core/route/ways/types.ts";
import type { SheetTask } from "./sheet-task.ts";

export type Task =
  | { readonly kind: "ways"; readonly record: TeardownRecord; readonly question: Question; readonly seconds: number }
  | {
      readonly kind: "law";
      readonly record: TeardownRecord;
      readonly basis?: RecordBasis;
    }
  | { readonly kind: "figures"; readonly record: TeardownRecord; readonly sibling?: TeardownRecord }
  | {
      readonly kind: "report";
      readonly record: TeardownRecord;
      readonly sibling?: TeardownRecord;
      readonly madeAt: string;
      readonly version: string;
    }
  | {
      readonly kind: "law-pack";
      readonly record: TeardownRecord;
      readonly format: "pdf" | "html" | "csv";
      readonly basis?: RecordBasis;
      readonly date: string;
      readonly version: string;
    }
  | { readonly kind: "sheets"; readonly sheets: SheetTask };

export interface LawPackFile {
  readonly name: string;
  readonly content: string | Uint8Array;
}

export interface Answers {
  /** @throws InputFaults for what is wrong with the question, GivenUp, TooLong, or our own fault */
  answer(task: Task, signal?: AbortSignal, progress?: TellProgress): Promise<unknown>;
  close(): Promise<void>;
}

/** So much of the work is done. */
export type TellProgress = (done: number, of: number) => void;

export class GivenUp extends Error {}
export class TooLong extends Error {}

/** What the thread sends back. */
export type Reply =
  | { readonly kind: "progress"; readonly done: number; readonly of: number }
  | { readonly kind: "given-up" }
  | { readonly kind: "done"; readonly value: unknown }
  | { readonly kind: "refused"; readonly faults: readonly Fault[] }
  | { readonly kind: "failed"; readonly stack: string };

export interface Assignment {
  readonly task: Task;
  /** Set to 1 when the asker has given up. */
  readonly stop: SharedArrayBuffer;
}

interface Waiting {
  readonly task: Task;
  readonly stop: Int32Array<SharedArrayBuffer>;
  readonly progress: TellProgress | undefined;
  readonly resolve: (value: unknown) => void;
  readonly reject: (error: Error) => void;
}

/** Seconds after which an answer that has no limit of its own is taken for lost. */
const LIMIT = 60;
/** Seconds that a thread gets to stop by itself. */
const GRACE = 10;

export class ThreadedAnswers implements Answers {
  private readonly row: Waiting[] = [];
  private worker: Worker | undefined;
  private current: { readonly waiting: Waiting; timer: NodeJS.Timeout } | undefined;

  answer(task: Task, signal?: AbortSignal, progress?: TellProgress): Promise<unknown> {
    return new Promise((resolve, reject) => {
      if (signal?.aborted) return reject(new GivenUp("given up"));
      const waiting: Waiting = { task, stop: new Int32Array(new SharedArrayBuffer(4)), progress, resolve, reject };
      signal?.addEventListener("abort", () => this.giveUp(waiting), { once: true });
      this.row.push(waiting);
      this.next();
    });
  }

  async close(): Promise<void> {
    for (const waiting of this.row.splice(0)) waiting.reject(new GivenUp("the server is closing"));
    this.end(new GivenUp("the server is closing"));
    await this.worker?.terminate();
    this.worker = undefined;
  }

  private next(): void {
    if (this.current !== undefined) return;
    const waiting = this.row.shift();
    if (waiting === undefined) return;
    this.worker ??= this.hire();
    const seconds = (waiting.task.kind === "ways" ? waiting.task.seconds : LIMIT) + GRACE;
    const timer = setTimeout(() => this.dismiss(new TooLong(`no answer after ${seconds} s`)), seconds * 1000);
    this.current = { waiting, timer };
    const assignment: Assignment = { task: waiting.task, stop: waiting.stop.buffer };
    this.worker.postMessage(assignment);
  }

  private hire(): Worker {
    const worker = openThread();
    worker.unref();
    worker.on("message", (reply: Reply) => this.finish(reply));
    worker.on("error", (error) => {
      if (this.worker === worker) this.dismiss(error instanceof Error ? error : new Error(String(error)));
    });
    return worker;
  }

  private finish(reply: Reply): void {
    if (reply.kind === "progress") {
      this.current?.waiting.progress?.(reply.done, reply.of);
      return;
    }
    if (reply.kind === "done") this.end(undefined, reply.value);
    else if (reply.kind === "given-up") this.end(new GivenUp("given up"));
    else if (reply.kind === "refused") this.end(new InputFaults(reply.faults));
    else this.end(Object.assign(new Error("the computation failed"), { stack: reply.stack }));
    this.next();
  }

  private giveUp(waiting: Waiting): void {
    const place = this.row.indexOf(waiting);
    if (place >= 0) {
      this.row.splice(place, 1);
      waiting.reject(new GivenUp("given up"));
    } else if (this.current?.waiting === waiting) {
      Atomics.store(waiting.stop, 0, 1);
      clearTimeout(this.current.timer);
      this.current.timer = setTimeout(() => this.dismiss(new GivenUp("given up")), GRACE * 1000);
    }
  }

  /** Ends the question at hand together with its thread. */
  private dismiss(error: Error): void {
    void this.worker?.terminate();
    this.worker = undefined;
    this.end(error);
    this.next();
  }

  private end(error: Error | undefined, value?: unknown): void {
    if (this.current === undefined) return;
    const { waiting, timer } = this.current;
    clearTimeout(timer);
    this.current = undefined;
    if (error === undefined) waiting.resolve(value);
    else waiting.reject(error);
  }
}

/** The thread's file is `.js` once built. From the sources (in tests) it needs the loader that reads TypeScript. */
function openThread(): Worker {
  const extension = extname(new URL(import.meta.url).pathname);
  const file = new URL(`./answer-thread${extension}`, import.meta.url);
  if (extension === ".js") return new Worker(file);
  const tsx = pathToFileURL(createRequire(import.meta.url).resolve("tsx/package.json"));
  const loader = new URL("dist/esm/api/index.mjs", tsx).href;
  const [api, code] = [JSON.stringify(loader), JSON.stringify(file.href)];
  return new Worker(`import(${api}).then((api) => { api.register(); return import(${code}); })`, { eval: true });
}
