/**
 * Keeps one record: takes what a person does, writes it into the outbox, shows it, and sends it to the server until it
 * has been acknowledged.
 *
 * - A step is shown only after the outbox has it. What is done while one is being written is written with the next.
 * - One tab at a time sends (a lock); each save carries a token that was written down first, so a save whose answer was
 *   lost is sent again and kept once.
 * - Another save in between is laid underneath where it touches other things. Where it touches the same thing nothing
 *   is sent until a person has chosen.
 * - What the server will not have is set aside with its reason; what was done after it goes on.
 * - A photograph lies in the outbox beside the step that names it, is shown from there, and is with the server before
 *   that step is sent.
 *
 * Cost of a step: one check of the record at most. Neither the steps that wait nor those done before are gone through again; all
 * of them are when something was saved elsewhere, or chosen, or read anew.
 */
import { type Fault, faultsIn } from "../../core/errors.ts";
import { applyEdits, type Edit } from "../../core/record/edits.ts";
import { checkRecord } from "../../core/record/index.ts";
import { structureWarnings } from "../../core/structure/examine.ts";
import type { KeptRecord, SaveRequest, TakenMedia } from "../../server/api.ts";
import type { Outbox, WaitingPicture } from "./outbox.ts";
import {
  type Collision,
  collisions,
  concerns,
  fits,
  type History,
  history,
  isWaiting,
  madeOn,
  moreHistory,
  movedBase,
  type NewStep,
  renamed,
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

/** What came of sending a photograph. */
export type Uploaded =
  | { readonly kind: "taken"; readonly taken: TakenMedia }
  | { readonly kind: "refused"; readonly faults: readonly Fault[] }
  | { readonly kind: "cut-off"; readonly why: string };

export interface KeeperPort {
  readonly outbox: Outbox;
  send(record: string, save: SaveRequest): Promise<Sent>;
  upload(picture: WaitingPicture): Promise<Uploaded>;
  /** From now on these are shown from the browser: the photographs of the record that wait. */
  show(record: string, pictures: readonly WaitingPicture[]): void;
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

/** Something done that is not written down yet. */
interface Pending {
  /** Read when its turn has come; undefined: there is nothing to be taken back. */
  readonly what: () => Done | undefined;
  readonly pictures: readonly WaitingPicture[];
  /** It does not depend on the steps before it having their numbers. */
  readonly plain: boolean;
  readonly done: (faults: readonly Fault[]) => void;
  readonly failed: (error: unknown) => void;
}

/** So many steps are checked and written at once; where one of them is wrong each is checked, and the page stands still. */
const MOST_AT_ONCE = 20;

/** The record with all that waits laid over the base, and what it says against itself. */
interface Top {
  readonly record: KeptRecord["record"];
  readonly warnings: KeptRecord["warnings"];
}

const FIRST_WAIT = 500;
const LONGEST_WAIT = 5_000;
/** Steps in one save; far below the server's limit on a request. */
const MOST_IN_A_SAVE = 200;

/** What came of looking at a group of things done. */
interface Taken {
  readonly steps: readonly NewStep[];
  readonly pictures: readonly WaitingPicture[];
  readonly outcomes: (readonly Fault[])[];
  readonly top: Top;
}

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
  private pending: Pending[] = [];
  private pictures: readonly WaitingPicture[];
  /** Both are made anew only when steps or base were replaced, not when a step is added. */
  private laid: Top | null = null;
  private past: History | null = null;

  constructor(port: KeeperPort, base: KeptRecord, steps: readonly Step[], pictures: readonly WaitingPicture[] = []) {
    this.port = port;
    this.id = base.record.id;
    this.base = base;
    this.steps = [...steps];
    this.pictures = pictures;
    port.show(this.id, pictures);
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

  /**
   * Takes edits as one thing done.
   *
   * @param pictures photographs that the edits name and the server may not have
   * @returns why not; empty when they were taken
   */
  readonly edit = (
    edits: readonly Edit[],
    label: string,
    pictures: readonly WaitingPicture[] = [],
  ): Promise<readonly Fault[]> => this.take(() => ({ edits, label }), pictures, true);

  undo(): Promise<readonly Fault[]> {
    return this.take(() => {
      const last = this.history().undo.at(-1);
      return last && { edits: last.back, label: `taken back: ${last.label}`, undoes: last.seq };
    });
  }

  redo(): Promise<readonly Fault[]> {
    return this.take(() => {
      const next = this.history().redo.at(-1);
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
      const gone = this.steps.find((step) => step.seq === seq);
      const rest = this.steps.filter((step) => step.seq !== seq);
      const unwanted = (gone?.pictures ?? []).filter((name) => !rest.some((step) => step.pictures?.includes(name)));
      const pictures = this.pictures.filter(({ name }) => unwanted.includes(name));
      await this.port.outbox.remove([seq], pictures);
      this.steps = rest;
      this.showPictures(this.pictures.filter((one) => !pictures.includes(one)));
      this.anew();
      this.changed();
    });
  }

  /** Reads the outbox anew: another tab has written. */
  refresh(): Promise<void> {
    return this.inTurn(async () => {
      const { outbox } = this.port;
      const [steps, base, pictures] = await Promise.all([
        outbox.steps(this.id),
        outbox.base(this.id),
        outbox.pictures(this.id),
      ]);
      this.steps = steps;
      if (base !== undefined && base.revision >= this.base.revision) this.base = base;
      this.showPictures(pictures);
      this.anew();
      this.changed(false);
    }).then(() => this.send());
  }

  /** What the server has now, when nothing waits here. */
  newest(kept: KeptRecord): Promise<void> {
    return this.inTurn(async () => {
      if (kept.revision <= this.base.revision || this.steps.some(isWaiting)) return;
      this.base = kept;
      await this.port.outbox.put([], kept);
      this.anew();
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
    // Another tab may have sent in the meantime: what it wrote down counts. What came before is settled for good.
    await this.inTurn(async () => {
      const from = this.steps.find(isWaiting)?.seq;
      if (from === undefined) return;
      const { outbox } = this.port;
      const [late, base] = await Promise.all([outbox.steps(this.id, from), outbox.base(this.id)]);
      const settled = this.steps.findIndex((step) => step.seq >= from);
      const before = this.steps.slice(settled);
      this.steps = [...this.steps.slice(0, settled), ...late];
      const moved = base !== undefined && base.revision > this.base.revision;
      if (moved) this.base = base;
      const same =
        late.length === before.length &&
        late.every(({ seq, revision, refused }, i) => {
          const known = before[i]!;
          return (
            seq === known.seq &&
            revision === known.revision &&
            (refused === undefined) === (known.refused === undefined)
          );
        });
      if (moved || !same) this.anew();
    });
    for (;;) {
      if (!(await this.sendPictures())) return;
      const batch = await this.nextBatch();
      if (batch.length === 0) return;
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

  /** Photographs that the next step needs are with the server before it. False: cut off. */
  private async sendPictures(): Promise<boolean> {
    for (;;) {
      const step = this.steps.find(isWaiting);
      const name = step?.pictures?.[0];
      if (step === undefined || name === undefined) return true;
      const picture = (await this.port.outbox.pictures(this.id)).find((one) => one.name === name);
      const sent: Uploaded =
        picture === undefined
          ? {
              kind: "refused",
              faults: [{ path: name, found: "no such photograph in this browser", expected: "it to be added again" }],
            }
          : await this.port.upload(picture);
      this.cutOff = sent.kind === "cut-off";
      if (sent.kind === "cut-off") return false;
      this.wait = FIRST_WAIT;
      await this.inTurn(async () => {
        if (sent.kind === "refused") {
          const now = this.steps.find((one) => one.seq === step.seq);
          if (now !== undefined) await this.replace([{ ...now, refused: sent.faults }]);
          this.anew();
        } else {
          const { taken } = sent;
          const changed = this.steps.filter((one) => concerns(one, name)).map((one) => renamed(one, name, taken));
          await this.replace(changed, undefined, picture === undefined ? [] : [picture]);
          this.showPictures(this.pictures.filter((one) => one.name !== name));
          this.anew();
        }
        this.changed();
      });
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
      const stop = fresh.findIndex((step, i) => step.batch !== undefined || (i > 0 && step.pictures !== undefined));
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
        // Where nothing else waits, what is shown is what was saved: the same object, so that nothing is drawn anew.
        // Else the base is not what is shown, and what it says against itself is never read.
        const record = all ? this.top().record : applyEdits(this.base.record, edits);
        const warnings = all ? this.top().warnings : this.base.warnings;
        const base = { record, warnings, revision: sent.revision, savedAt: sent.savedAt };
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
        this.anew();
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
    this.anew();
  }

  /** Until the outbox has it, what was done counts as being taken: nobody may read "all kept" meanwhile. */
  private take(
    what: () => Done | undefined,
    pictures: readonly WaitingPicture[] = [],
    plain = false,
  ): Promise<readonly Fault[]> {
    this.taking += 1;
    const { state } = this.kept();
    this.view = { ...this.kept(), taking: this.taking, state: state === "kept" ? "waiting" : state };
    this.notify();
    return new Promise((done, failed) => {
      this.pending.push({ what, pictures, plain, done, failed });
      // One turn for whatever has come until then.
      if (this.pending.length === 1) void this.inTurn(() => this.takePending());
    });
  }

  private async takePending(): Promise<void> {
    const stop = this.pending.findIndex((one, i) => i > 0 && !(one.plain && this.pending[0]!.plain));
    const group = this.pending.slice(0, Math.min(stop < 0 ? MOST_AT_ONCE : stop, MOST_AT_ONCE));
    const outcome = await this.add(group).catch((error: unknown) => ({ error }));
    this.pending.splice(0, group.length);
    // The rest takes its turn behind what has come in between: sending must not wait for a pause in the typing.
    if (this.pending.length > 0) void this.inTurn(() => this.takePending());
    this.taking -= group.length;
    const added = Array.isArray(outcome) && outcome.some((faults) => faults.length === 0);
    this.changed(added);
    group.forEach((one, i) => {
      if (Array.isArray(outcome)) one.done(outcome[i]!);
      else one.failed((outcome as { error: unknown }).error);
    });
    // Cut off, the next try is set already; trying at each key would go through all that waits.
    if (added && !this.cutOff) void this.send();
  }

  /** Writes what makes a valid record, in the order of doing. @returns why not, for each */
  private async add(group: readonly Pending[]): Promise<(readonly Fault[])[]> {
    const { steps, pictures, outcomes, top } = this.together(group) ?? this.oneByOne(group);
    this.faults = outcomes.findLast((faults) => faults.length > 0) ?? [];
    if (steps.length === 0) return outcomes;
    try {
      if (!this.steps.some(isWaiting)) await this.port.outbox.put([], this.base);
      const made = await this.port.outbox.add(steps, pictures);
      this.past = made.reduce(moreHistory, this.history());
      this.steps.push(...made);
      this.laid = top;
      if (pictures.length > 0) this.showPictures([...this.pictures, ...pictures]);
      return outcomes;
    } catch (error) {
      // What is not on the disk is not shown as done.
      this.faults = [
        {
          path: steps.map((step) => step.label).join(", "),
          found: `no room for it in this browser (${error instanceof Error ? error.message : String(error)})`,
          expected: "room in the browser's store: free some, then do it again",
        },
      ];
      return outcomes.map((faults) => (faults.length > 0 ? faults : this.faults));
    }
  }

  /** All of a group with one check, as the server checks what travels together; undefined where any of it is wrong. */
  private together(group: readonly Pending[]): Taken | undefined {
    if (group.length === 1) return undefined;
    let { record } = this.top();
    const steps: NewStep[] = [];
    for (const one of group) {
      const done = one.what();
      if (done === undefined || !fits(record, done.edits)) return undefined;
      steps.push(this.asStep(record, done, one.pictures));
      record = applyEdits(record, done.edits);
    }
    const top = laidOn(record, []);
    if ("faults" in top) return undefined;
    return { steps, pictures: group.flatMap((one) => one.pictures), outcomes: group.map(() => []), top };
  }

  private oneByOne(group: readonly Pending[]): Taken {
    let top = this.top();
    const steps: NewStep[] = [];
    const pictures: WaitingPicture[] = [];
    const outcomes = group.map((one): readonly Fault[] => {
      const done = one.what();
      if (done === undefined) return [];
      const checked = laidOn(top.record, done.edits);
      if ("faults" in checked) return checked.faults;
      steps.push(this.asStep(top.record, done, one.pictures));
      pictures.push(...one.pictures);
      top = checked;
      return [];
    });
    return { steps, pictures, outcomes, top };
  }

  private asStep(record: Top["record"], done: Done, pictures: readonly WaitingPicture[]): NewStep {
    const named = pictures.length === 0 ? {} : { pictures: pictures.map(({ name }) => name) };
    return madeOn(record, { record: this.id, at: this.port.now().toISOString(), ...named, ...done });
  }

  private async replace(
    steps: readonly Step[],
    base?: KeptRecord,
    arrived: readonly WaitingPicture[] = [],
  ): Promise<void> {
    await this.port.outbox.put(steps, base, arrived);
    const bySeq = new Map(steps.map((step) => [step.seq, step]));
    this.steps = this.steps.map((step) => bySeq.get(step.seq) ?? step);
    if (base !== undefined) this.base = base;
  }

  private top(): Top {
    if (this.laid === null) {
      const { record } = standing(this.base.record, this.steps);
      const same = record === this.base.record;
      this.laid = same ? this.base : { record, warnings: warningsOf(record) };
    }
    return this.laid;
  }

  private history(): History {
    this.past ??= history(this.steps);
    return this.past;
  }

  /** Steps or base were replaced by others. */
  private anew(): void {
    this.laid = null;
    this.past = null;
  }

  private showPictures(pictures: readonly WaitingPicture[]): void {
    this.pictures = pictures;
    this.port.show(this.id, pictures);
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
    const { record, warnings } = this.top();
    const waiting = this.steps.reduce((count, step) => count + (isWaiting(step) ? 1 : 0), 0);
    const { undo, redo } = this.history();
    return {
      state:
        this.stale !== null
          ? "differs"
          : waiting + this.taking === 0
            ? "kept"
            : this.cutOff && waiting > 0
              ? "cut-off"
              : "waiting",
      shown: record === this.base.record ? this.base : { ...this.base, record, warnings },
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

const warningsOf = (record: KeptRecord["record"]): KeptRecord["warnings"] => {
  const check = checkRecord(record);
  return [...check.warnings, ...(check.ok ? structureWarnings(record) : [])];
};

/** The record with the edits laid over it, checked once; or why it would not be valid. */
function laidOn(on: KeptRecord["record"], edits: readonly Edit[]): Top | { readonly faults: readonly Fault[] } {
  try {
    const record = applyEdits(on, edits);
    const check = checkRecord(record);
    return check.ok ? { record, warnings: [...check.warnings, ...structureWarnings(record)] } : check;
  } catch (error) {
    const faults = faultsIn(error);
    if (faults === undefined) throw error;
    return { faults };
  }
}
