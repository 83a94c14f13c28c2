/**
 * Where steps wait: IndexedDB, through one door. A step is on the disk before it is shown as done; the base that it was
 * laid on lies beside it, so that a reload without a server shows what was there before. Where a browser has no
 * database (some private windows) the outbox is only in memory, and says so.
 */
import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { KeptRecord } from "../../server/api.ts";
import type { NewStep, Step } from "./steps.ts";

export interface Outbox {
  /** False: what waits here is lost when the page is closed. */
  readonly lasts: boolean;
  add(step: NewStep): Promise<Step>;
  /** Steps of a record in the order of doing. */
  steps(record: string): Promise<Step[]>;
  base(record: string): Promise<KeptRecord | undefined>;
  /** Replaces steps, and the base, all or nothing. */
  put(steps: readonly Step[], base?: KeptRecord): Promise<void>;
  remove(seqs: readonly number[]): Promise<void>;
}

interface Tables extends DBSchema {
  steps: { key: number; value: Step; indexes: { record: string } };
  bases: { key: string; value: { readonly id: string; readonly kept: KeptRecord } };
}

/** The one name of ours in the browser's store. */
const NAME = "unseam";

export async function openOutbox(): Promise<Outbox> {
  try {
    const db = await openDB<Tables>(NAME, 1, {
      upgrade(fresh) {
        const steps = fresh.createObjectStore("steps", { keyPath: "seq", autoIncrement: true });
        steps.createIndex("record", "record");
        fresh.createObjectStore("bases", { keyPath: "id" });
      },
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

  async add(step: NewStep): Promise<Step> {
    // "strict": written through to the disk before the promise is kept, not only handed to the system.
    const work = this.db.transaction("steps", "readwrite", { durability: "strict" });
    const seq = await work.store.add(step as Step);
    await work.done;
    return { ...step, seq };
  }

  steps(record: string): Promise<Step[]> {
    return this.db.getAllFromIndex("steps", "record", record);
  }

  async base(record: string): Promise<KeptRecord | undefined> {
    return (await this.db.get("bases", record))?.kept;
  }

  async put(steps: readonly Step[], base?: KeptRecord): Promise<void> {
    const work = this.db.transaction(["steps", "bases"], "readwrite", { durability: "strict" });
    await Promise.all([
      ...steps.map((step) => work.objectStore("steps").put(step)),
      ...(base === undefined ? [] : [work.objectStore("bases").put({ id: base.record.id, kept: base })]),
      work.done,
    ]);
  }

  async remove(seqs: readonly number[]): Promise<void> {
    const work = this.db.transaction("steps", "readwrite");
    await Promise.all([...seqs.map((seq) => work.store.delete(seq)), work.done]);
  }
}

/** For browsers without a database, and for tests. */
export function memoryOutbox(): Outbox {
  const steps = new Map<number, Step>();
  const bases = new Map<string, KeptRecord>();
  let last = 0;
  return {
    lasts: false,
    async add(step) {
      last += 1;
      const made = { ...step, seq: last };
      steps.set(last, made);
      return made;
    },
    async steps(record) {
      return [...steps.values()].filter((step) => step.record === record).sort((a, b) => a.seq - b.seq);
    },
    async base(record) {
      return bases.get(record);
    },
    async put(changed, base) {
      for (const step of changed) steps.set(step.seq, step);
      if (base !== undefined) bases.set(base.record.id, base);
    },
    async remove(seqs) {
      for (const seq of seqs) steps.delete(seq);
    },
  };
}
