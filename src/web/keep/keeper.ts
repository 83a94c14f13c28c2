/**
 * Keeps one record: takes what a person does, writes it into the outbox, shows it, and sends it to the server until it
 * has been acknowledged.
 *
 * - A step is shown only after the outbox has it.
 * - One tab at a time sends (a lock); each save carries a token that was written down first, so a save whose answer was
 *   lost is sent again and kept once.
 * - Another save in between is laid underneath where it touches other things. Where it touches the same thing nothing
 *   is sent until a person has chosen.
 * - What the server will not have is set aside with its reason; what was done after it goes on.
 */
import { type Fault, faultsIn } from "../../core/errors.ts";
import { applyEdits, type Edit } from "../../core/record/edits.ts";
import { checkRecord } from "../../core/record/index.ts";
import { examineRecord } from "../../core/structure/examine.ts";
import type { KeptRecord, SaveRequest } from "../../server/api.ts";
import type { Outbox } from "./outbox.ts";
import {
  type Collision,
  collisions,
  fits,
  history,
  isWaiting,
  madeOn,
  movedBase,
  type NewStep,
  type Step,
  standing,
  without,
} from "./steps.ts";

/** What a save came to. */
export type Sent =
  | { readonly kind: "saved"; readonly revision: number; readonly savedAt: string }
  | { readonly kind: "stale"; readonly revision: number; readonly since: readonly Edit[] }
  | { readonly kind: "refused"; readonly faults: readonly Fault[] }
  /** No answer, or one that is nobody's fault here: tried again later. */
  | { readonly kind: "cut-off"; readonly why: string };

export interface KeeperPort {
  readonly outbox: Outbox;
  send(record: string, save: SaveRequest): Promise<Sent>;
  /** Runs one at a time over all tabs. */
  alone<T>(name: string, work: () => Promise<T>): Promise<T>;
  /** Tells the other tabs that the outbox has changed. */
  tell(record: string): void;
  token(): string;
  now(): Date;
  /** Runs `work` after so many milliseconds; the answer takes it back. */
  later(ms: number, work: () => void): () => void;
}

/**
 * - kept: everything was acknowledged by the server;
 * - waiting: being written into the outbox, or on its way;
 * - cut-off: in this browser, the server does not answer;
 * - differs: somebody else changed the same thing: choose.
 */
export type KeepState = "kept" | "waiting" | "cut-off" | "differs";

export interface Kept {
  readonly state: KeepState;
  /** The record with everything done so far; `revision` is the server's newest that is known here. */
  readonly shown: KeptRecord;
  readonly waiting: number;
  /** Things done that the outbox does not have yet. */
  readonly taking: number;
  readonly undo: readonly Step[];
  readonly redo: readonly Step[];
  readonly refused: readonly Step[];
  readonly differences: readonly Collision[];
  /** False: this browser keeps nothing over a reload. */
  readonly lasts: boolean;
  /** Why the last thing done was not taken; empty when it was. */
  readonly faults: readonly Fault[];
}

type Done = Pick<NewStep, "edits" | "label" | "undoes" | "redoes">;

const FIRST_WAIT = 500;
const LONGEST_WAIT = 10_000;
/** Steps in one save; far below the server's limit on a request. */
const MOST_IN_A_SAVE = 200;

export class Keeper {
  private readonly port: KeeperPort;
  private readonly id: string;
  private base: KeptRecord;
  private steps: Step[];
  private listeners = new Set<() => void>();
  private cutOff = false;
  private sending = false;
  private taking = 0;
  private wait = FIRST_WAIT;
  private cancelWait: (() => void) | null = null;
  private stale: { readonly revision: number; readonly since: readonly Edit[]; readonly found: Collision[] } | null =
    null;
  private faults: readonly Fault[] = [];
  /** Adds go to the outbox one after the other, so that the order of doing is the order on the disk. */
  private queue: Promise<unknown> = Promise.resolve();
  private view: Kept | null = null;

  constructor(port: KeeperPort, base: KeptRecord, steps: readonly Step[]) {
    this.port = port;
    this.id = base.record.id;
    this.base = base;
    this.steps = [...steps];
  }

  /** As it is now; the same object until something changes. */
  readonly kept = (): Kept => {
    this.view ??= this.look();
    return this.view;
  };

  readonly listen = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** Takes edits as one thing done. @returns why not; empty when they were taken */
  readonly edit = (edits: readonly Edit[], label: string): Promise<readonly Fault[]> =>
    this.take(() => ({ edits, label }));

  undo(): Promise<readonly Fault[]> {
    return this.take(() => {
      const last = history(this.steps).undo.at(-1);
      return last && { edits: last.back, label: `taken back: ${last.label}`, undoes: last.seq };
    });
  }

  redo(): Promise<readonly Fault[]> {
    return this.take(() => {
      const next = history(this.steps).redo.at(-1);
      return next && { edits: next.edits, label: next.label, redoes: next.seq };
    });
  }

  /** Settles what differs: for each collision, in the order of `differences`, whether mine is to stand. */
  choose(mine: readonly boolean[]): Promise<void> {
    return this.inTurn(async () => {
      const { stale } = this;
      if (stale === null) return;
      const gone = new Map<number, Set<number>>();
      stale.found.forEach((one, index) => {
        if (mine[index] !== true) gone.set(one.step, (gone.get(one.step) ?? new Set()).add(one.edit));
      });
      const changed = this.steps.filter((step) => gone.has(step.seq)).map((step) => without(step, gone.get(step.seq)!));
      this.stale = null;
      await this.lay(stale.since, stale.revision, changed);
      this.changed();
    }).then(() => this.send());
  }

  /** Takes a step that was refused out of the outbox for good. */
  discard(seq: number): Promise<void> {
    return this.inTurn(async () => {
      await this.port.outbox.remove([seq]);
      this.steps = this.steps.filter((step) => step.seq !== seq);
      this.changed();
    });
  }

  /** Reads the outbox anew: another tab has written. */
  refresh(): Promise<void> {
    return this.inTurn(async () => {
      const [steps, base] = await Promise.all([this.port.outbox.steps(this.id), this.port.outbox.base(this.id)]);
      this.steps = steps;
      if (base !== undefined && base.revision >= this.base.revision) this.base = base;
      this.changed(false);
    }).then(() => this.send());
  }

  /** What the server has now, when nothing waits here. */
  newest(kept: KeptRecord): Promise<void> {
    return this.inTurn(async () => {
      if (kept.revision <= this.base.revision || this.steps.some(isWaiting)) return;
      this.base = kept;
      await this.port.outbox.put([], kept);
      this.changed(false);
    });
  }

  /** Sends what waits, now. Called at the start, after each step, and when the network is back. */
  send(): Promise<void> {
    if (this.sending || this.stale !== null || !this.steps.some(isWaiting)) return Promise.resolve();
    this.sending = true;
    this.cancelWait?.();
    this.cancelWait = null;
    return this.port
      .alone(`unseam ${this.id}`, () => this.sendAll())
      .finally(() => {
        this.sending = false;
        if (this.cutOff && this.cancelWait === null) {
          this.cancelWait = this.port.later(this.wait, () => void this.send());
          this.wait = Math.min(2 * this.wait, LONGEST_WAIT);
        }
        this.changed(false);
        // Steps that were added between the last look and here.
        if (!this.cutOff && this.stale === null && this.steps.some(isWaiting)) void this.send();
      });
  }

  private async sendAll(): Promise<void> {
    // Another tab may have sent in the meantime: what it wrote down counts.
    await this.inTurn(async () => {
      const [steps, base] = await Promise.all([this.port.outbox.steps(this.id), this.port.outbox.base(this.id)]);
      this.steps = steps;
      if (base !== undefined && base.revision > this.base.revision) this.base = base;
    });
    for (let batch = await this.nextBatch(); batch.length > 0; batch = await this.nextBatch()) {
      const on = this.base.revision;
      const edits = batch.flatMap((step) => step.edits);
      const sent: Sent =
        edits.length === 0
          ? { kind: "saved", revision: on, savedAt: this.base.savedAt }
          : await this.port.send(this.id, { on, edits, token: batch[0]!.batch! });
      this.cutOff = sent.kind === "cut-off";
      if (sent.kind === "cut-off") return;
      this.wait = FIRST_WAIT;
      await this.inTurn(() => this.settle(batch, sent));
      if (this.stale !== null) return;
    }
  }

  /** The steps that travel together next, with their token on the disk. A batch once named is never changed. */
  private nextBatch(): Promise<readonly Step[]> {
    return this.inTurn(async () => {
      const waiting = this.steps.filter(isWaiting);
      const first = waiting[0];
      if (first === undefined) return [];
      if (first.batch !== undefined) return waiting.filter((step) => step.batch === first.batch);
      const fresh = waiting.slice(0, MOST_IN_A_SAVE);
      const stop = fresh.findIndex((step) => step.batch !== undefined);
      const token = this.port.token();
      const batch = (stop < 0 ? fresh : fresh.slice(0, stop)).map((step) => ({ ...step, batch: token }));
      await this.replace(batch);
      return batch;
    });
  }

  private async settle(batch: readonly Step[], sent: Exclude<Sent, { kind: "cut-off" }>): Promise<void> {
    switch (sent.kind) {
      case "saved": {
        const edits = batch.flatMap((step) => step.edits);
        const all = this.steps.filter(isWaiting).length === batch.length;
        const { record, warnings } = this.kept().shown;
        // Where nothing else waits, what is shown is what was saved: the same object, so that nothing is drawn anew.
        const base = all
          ? { record, warnings, revision: sent.revision, savedAt: sent.savedAt }
          : movedBase(this.base, edits, sent.revision, sent.savedAt);
        await this.replace(
          batch.map((step) => ({ ...step, revision: sent.revision })),
          base,
        );
        break;
      }
      case "stale": {
        const found = collisions(this.steps.filter(isWaiting), sent.since);
        if (found.length > 0) this.stale = { ...sent, found };
        else await this.lay(sent.since, sent.revision, []);
        break;
      }
      case "refused":
        await this.replace(
          batch.length === 1
            ? [{ ...batch[0]!, refused: sent.faults }]
            : // Which of them it was shows when each goes alone.
              batch.map((step) => ({ ...step, batch: this.port.token() })),
        );
    }
    this.changed();
  }

  /** Lays what somebody else saved underneath; steps that no longer fit are set aside with the reason. */
  private async lay(since: readonly Edit[], revision: number, changed: readonly Step[]): Promise<void> {
    const base = movedBase(this.base, since, revision, this.port.now().toISOString());
    const bySeq = new Map(changed.map((step) => [step.seq, step]));
    const steps = this.steps.map((step) => bySeq.get(step.seq) ?? step);
    const written: Step[] = [];
    let record = base.record;
    for (const step of steps) {
      if (!isWaiting(step)) continue;
      // The server has not kept the old batch: a new token, as the edits or what they lie on have changed.
      const { batch: _, ...free } = step;
      if (fits(record, step.edits)) {
        written.push({ ...madeOn(record, free), seq: step.seq });
        record = applyEdits(record, step.edits);
      } else
        written.push({
          ...free,
          refused: [
            {
              path: "",
              found: "what it changes was changed or taken away by somebody else",
              expected: "it to be there",
            },
          ],
        });
    }
    await this.replace(written, base);
  }

  /** Until the outbox has it, what was done counts as being taken: nobody may read "all kept" meanwhile. */
  private take(what: () => Done | undefined): Promise<readonly Fault[]> {
    this.taking += 1;
    const { state } = this.kept();
    this.view = { ...this.kept(), taking: this.taking, state: state === "kept" ? "waiting" : state };
    this.notify();
    return this.inTurn(async () => {
      let added = false;
      try {
        const done = what();
        if (done === undefined) return [];
        this.faults = await this.add(done);
        added = this.faults.length === 0;
        return this.faults;
      } finally {
        this.taking -= 1;
        this.changed(added);
        if (added) void this.send();
      }
    });
  }

  private async add(done: Done): Promise<readonly Fault[]> {
    const { record } = standing(this.base.record, this.steps);
    try {
      const check = checkRecord(applyEdits(record, done.edits));
      if (!check.ok) return check.faults;
    } catch (error) {
      const faults = faultsIn(error);
      if (faults === undefined) throw error;
      return faults;
    }
    try {
      const at = this.port.now().toISOString();
      if (!this.steps.some(isWaiting)) await this.port.outbox.put([], this.base);
      const made = await this.port.outbox.add(madeOn(record, { record: this.id, at, ...done }));
      this.steps = [...this.steps, made];
      return [];
    } catch (error) {
      // What is not on the disk is not shown as done.
      return [
        {
          path: done.label,
          found: `no room for it in this browser (${error instanceof Error ? error.message : String(error)})`,
          expected: "room in the browser's store: free some, then do it again",
        },
      ];
    }
  }

  private async replace(steps: readonly Step[], base?: KeptRecord): Promise<void> {
    await this.port.outbox.put(steps, base);
    const bySeq = new Map(steps.map((step) => [step.seq, step]));
    this.steps = this.steps.map((step) => bySeq.get(step.seq) ?? step);
    if (base !== undefined) this.base = base;
  }

  private inTurn<T>(work: () => Promise<T>): Promise<T> {
    const next = this.queue.then(work);
    this.queue = next.catch(() => undefined);
    return next;
  }

  private changed(tell = true): void {
    this.view = null;
    if (tell) this.port.tell(this.id);
    this.notify();
  }

  private notify(): void {
    for (const listener of this.listeners) listener();
  }

  private look(): Kept {
    const { record } = standing(this.base.record, this.steps);
    const waiting = this.steps.filter(isWaiting).length;
    const { undo, redo } = history(this.steps);
    const same = record === this.base.record;
    return {
      state:
        this.stale !== null
          ? "differs"
          : waiting + this.taking === 0
            ? "kept"
            : this.cutOff && waiting > 0
              ? "cut-off"
              : "waiting",
      shown: same ? this.base : { ...this.base, record, warnings: examineRecord(record).warnings },
      waiting,
      taking: this.taking,
      undo,
      redo,
      refused: this.steps.filter((step) => step.refused !== undefined),
      differences: this.stale?.found ?? [],
      lasts: this.port.outbox.lasts,
      faults: this.faults,
    };
  }
}
