/**
 * The store: what keeps teardown records and everything that was ever done to them.
 *
 * In: whole records (import) and edits on a stated revision. Out: records as they are or were. Promised, and proved for
 * every adapter by `acceptance.ts`:
 * - what was acknowledged is on the disk and survives the loss of the process at any moment;
 * - a save is all or nothing; it is refused as stale when another one came in between, and nothing is overwritten;
 * - every revision can be loaded and restored; history is only ever added to;
 * - only valid records are kept (`checkRecord`);
 * - the same save sent twice with the same token is kept once.
 *
 * Several processes may use one store at the same time.
 */
import type { TeardownRecord } from "../core/record/index.ts";
import type { Edit, Found, RecordHead, Revision, Saved, Stale } from "../server/api.ts";

export type { Edit, Found, RecordHead, Revision, Saved, Stale };

export interface Kept {
  readonly revision: number;
  /** ISO 8601, UTC. */
  readonly savedAt: string;
  readonly record: TeardownRecord;
}

export interface Save {
  /** The revision that the edits were made on. */
  readonly on: number;
  readonly edits: readonly Edit[];
  /** Of the sender's making; the same one again is answered as the first time. */
  readonly token?: string;
  readonly by?: string;
}

/** Edits, or the past, could not be kept because there is no such record or revision. */
export interface Missing {
  readonly kind: "missing";
}

export interface Store {
  /** Every record's head, the one saved last first. */
  list(): Promise<readonly RecordHead[]>;
  /** A record as it is, or as it was at a revision. */
  load(id: string, revision?: number): Promise<Kept | undefined>;
  /** @throws InputFaults when the result would be no valid record, InputError when an edit does not fit */
  save(id: string, save: Save): Promise<Saved | Stale | Missing>;
  /** Newest first. */
  history(id: string): Promise<readonly Revision[]>;
  /** Makes an older revision the newest content; what came after stays in the history. */
  restore(id: string, restore: { on: number; revision: number; by?: string }): Promise<Saved | Stale | Missing>;
  /**
   * Takes a whole record in. A known one is replaced only where `on` states its newest revision; the same content again
   * changes nothing. Its history goes on.
   *
   * @throws InputFaults when it is no valid record
   */
  import(record: TeardownRecord, options?: { on?: number; by?: string }): Promise<Saved | Stale>;
  /** The canonical text of a record, as `import` takes it. */
  export(id: string, revision?: number): Promise<string | undefined>;
  /** Where words stand in names, roles, numbers and notes: all of them, in any order, capitals or not. */
  find(words: string, limit?: number): Promise<readonly Found[]>;
  close(): Promise<void>;
}
