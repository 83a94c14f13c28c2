/**
 * Where steps wait: IndexedDB, through one door. A step is on the disk before it is shown as done; the base that it was
 * laid on lies beside it, so that a reload without a server shows what was there before. Where a browser has no
 * database (some private windows) the outbox is only in memory, and says so.
 */
import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { KeptRecord } from "../../server/api.ts";
import type { NewStep, Step } from "./steps.ts";

/** A photograph that the server does not have yet. */
export interface WaitingPicture {
  readonly record: string;
  /** As the record names it until the server has it: SHA-256 of the content, ending. */
  readonly name: string;
  /** What the file was called. */
  readonly given: string;
  readonly content: Blob;
}

export interface Outbox {
  /** False: what waits here is lost when the page is closed. */
  readonly lasts: boolean;
  /** Writes steps and the photographs that they need, all or nothing. */
  add(steps: readonly NewStep[], pictures?: readonly WaitingPicture[]): Promise<Step[]>;
  /** Steps of a record in the order of doing, those before `from` left out. */
  steps(record: string, from?: number): Promise<Step[]>;
  pictures(record: string): Promise<WaitingPicture[]>;
  base(record: string): Promise<KeptRecord | undefined>;
  /** Replaces steps, and the base, and lets go of photographs that the server has; all or nothing. */
  put(steps: readonly Step[], base?: KeptRecord, arrived?: readonly WaitingPicture[]): Promise<void>;
  remove(seqs: readonly number[], pictures?: readonly WaitingPicture[]): Promise<void>;
}

interface Tables extends DBSchema {
  steps: { key: number; value: Step; indexes: { record: string } };
  bases: { key: string; value: { readonly id: string; readonly kept: KeptRecord } };
  pictures: { key: [string, string]; value: WaitingPicture; indexes: { record: string } };
}

/** The one name of ours in the browser's store. */
const NAME = "unseam";

export async function openOutbox(): Promise<Outbox> {
  try {
    const db = await openDB<Tables>(NAME, 2, {
      upgrade(fresh, from) {
        if (from < 1) {
          const steps = fresh.createObjectStore("steps", { keyPath: "seq", autoIncrement: true });
          steps.createIndex("record", "record");
          fresh.createObjectStore("bases", { keyPath: "id" });
        }
        if (from < 2) {
          const pictures = fresh.createObjectStore("pictures", { keyPath: ["record", "name"] });
          pictures.createIndex("record", "record");
        }
      },
      // A tab with a newer app has come: this one can write no more, and says so with the next thing done.
      blocking: (_from, _to, event) => (event.target as IDBDatabase).close(),
    });
    return new DiskOutbox(db);
  } catch {
    return memoryOutbox();
  }
}

class DiskOutbox implements Outbox {
  readonly lasts = true;
  private readonly db: IDBPDatabase<Tables>;

  constructor(db: IDBPDatabase<Tables>) {
    this.db = db;
  }

  async add(steps: readonly NewStep[], pictures: readonly WaitingPicture[] = []): Promise<Step[]> {
    // "strict": written through to the disk before the promise is kept, not only handed to the system.
    const work = this.db.transaction(["steps", "pictures"], "readwrite", { durability: "strict" });
    const seqs = Promise.all(steps.map((step) => work.objectStore("steps").add(step as Step)));
    await Promise.all([seqs, ...pictures.map((picture) => work.objectStore("pictures").put(picture)), work.done]);
    const numbers = await seqs;
    return steps.map((step, i) => ({ ...step, seq: numbers[i]! }));
  }

  async steps(record: string, from?: number): Promise<Step[]> {
    if (from === undefined) return this.db.getAllFromIndex("steps", "record", record);
    const late = await this.db.getAll("steps", IDBKeyRange.lowerBound(from));
    return late.filter((step) => step.record === record);
  }

  pictures(record: string): Promise<WaitingPicture[]> {
    return this.db.getAllFromIndex("pictures", "record", record);
  }

  async base(record: string): Promise<KeptRecord | undefined> {
    return (await this.db.get("bases", record))?.kept;
  }

  async put(steps: readonly Step[], base?: KeptRecord, arrived: readonly WaitingPicture[] = []): Promise<void> {
    const work = this.db.transaction(["steps", "bases", "pictures"], "readwrite", { durability: "strict" });
    await Promise.all([
      ...steps.map((step) => work.objectStore("steps").put(step)),
      ...(base === undefined ? [] : [work.objectStore("bases").put({ id: base.record.id, kept: base })]),
      ...arrived.map(({ record, name }) => work.objectStore("pictures").delete([record, name])),
      work.done,
    ]);
  }

  async remove(seqs: readonly number[], pictures: readonly WaitingPicture[] = []): Promise<void> {
    const work = this.db.transaction(["steps", "pictures"], "readwrite");
    await Promise.all([
      ...seqs.map((seq) => work.objectStore("steps").delete(seq)),
      ...pictures.map(({ record, name }) => work.objectStore("pictures").delete([record, name])),
      work.done,
    ]);
  }
}

/** For browsers without a database, and for tests. */
export function memoryOutbox(): Outbox {
  const steps = new Map<number, Step>();
  const bases = new Map<string, KeptRecord>();
  const pictures = new Map<string, WaitingPicture>();
  const drop = (gone: readonly WaitingPicture[] = []) => {
    for (const { record, name } of gone) pictures.delete(`${record} ${name}`);
  };
  let last = 0;
  return {
    lasts: false,
    async add(fresh, more = []) {
      const made = fresh.map((step) => ({ ...step, seq: ++last }));
      for (const step of made) steps.set(step.seq, step);
      for (const picture of more) pictures.set(`${picture.record} ${picture.name}`, picture);
      return made;
    },
    async steps(record, from = 0) {
      return [...steps.values()]
        .filter((step) => step.record === record && step.seq >= from)
        .sort((a, b) => a.seq - b.seq);
    },
    async pictures(record) {
      return [...pictures.values()].filter((picture) => picture.record === record);
    },
    async base(record) {
      return bases.get(record);
    },
    async put(changed, base, arrived) {
      for (const step of changed) steps.set(step.seq, step);
      if (base !== undefined) bases.set(base.record.id, base);
      drop(arrived);
    },
    async remove(seqs, gone) {
      for (const seq of seqs) steps.delete(seq);
      drop(gone);
    },
  };
}
