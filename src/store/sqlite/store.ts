/**
 * The store in an SQLite database, through Kysely.
 *
 * A save begins with an UPDATE that takes the write lock and tests the stated revision in one, so that of two saves on
 * the same revision, from whatever process, exactly one wins. A revision keeps its edits; the newest content is kept
 * whole, and so is every `CHECKPOINT`th, so that loading an old revision replays at most that many batches of edits.
 */
import type { Kysely, Transaction } from "kysely";
import {
  applyEdits,
  canonical,
  difference,
  requireRecord,
  type TeardownRecord,
  upgrade,
  writeRecord,
} from "../../core/record/index.ts";
import { findIn } from "../find.ts";
import type { Edit, Found, Kept, Missing, RecordHead, Revision, Save, Saved, Stale, Store } from "../index.ts";
import { patiently } from "./patiently.ts";
import type { Tables } from "./tables.ts";

const CHECKPOINT = 50;
type Step = Transaction<Tables>;

export class SqliteStore implements Store {
  private readonly db: Kysely<Tables>;
  private readonly now: () => string;
  /** The newest content of the record saved last, so that a row of small saves does not parse it each time. */
  private last: { readonly id: string; readonly revision: number; readonly record: TeardownRecord } | undefined;

  constructor(db: Kysely<Tables>, now: () => string) {
    this.db = db;
    this.now = now;
  }

  async list(): Promise<readonly RecordHead[]> {
    const rows = await this.db
      .selectFrom("record")
      .select(["id", "revision", "saved_at", "head"])
      .orderBy("saved_at", "desc")
      .orderBy("id")
      .execute();
    return rows.map((row) => ({
      id: row.id,
      revision: row.revision,
      savedAt: row.saved_at,
      ...(JSON.parse(row.head) as Head),
    }));
  }

  async load(id: string, revision?: number): Promise<Kept | undefined> {
    const key = id.toLowerCase();
    return this.transaction(async (step) => {
      const newest = await step
        .selectFrom("record")
        .select(["revision", "saved_at"])
        .where("id", "=", key)
        .executeTakeFirst();
      if (newest === undefined) return undefined;
      if (revision === undefined || revision === newest.revision) {
        return { revision: newest.revision, savedAt: newest.saved_at, record: await this.newest(step, key) };
      }
      return this.past(step, key, revision);
    });
  }

  async save(id: string, save: Save): Promise<Saved | Stale | Missing> {
    const key = id.toLowerCase();
    let content: TeardownRecord | undefined;
    const answer = await this.transaction(async (step) => {
      const again = await this.claim(step, key, save.on, save.token);
      if (again !== undefined) return again;
      const known = this.last?.id === key && this.last.revision === save.on;
      const before = known ? this.last!.record : await this.newest(step, key);
      content = canonical(requireRecord(applyEdits(before, save.edits)));
      return this.keep(step, key, save.on + 1, "edits", content, save);
    });
    // Only now: what a failed commit would have kept must not be taken for the truth.
    if (content !== undefined) this.last = { id: key, revision: save.on + 1, record: content };
    return answer;
  }

  async history(id: string): Promise<readonly Revision[]> {
    const rows = await this.db
      .selectFrom("revision")
      .select(["revision", "kind", "saved_at", "saved_by", "edits"])
      .where("record_id", "=", id.toLowerCase())
      .orderBy("revision", "desc")
      .execute();
    return rows.map((row) => ({
      revision: row.revision,
      kind: row.kind,
      savedAt: row.saved_at,
      by: row.saved_by,
      edits: JSON.parse(row.edits) as Edit[],
    }));
  }

  async restore(
    id: string,
    { on, revision, by }: { on: number; revision: number; by?: string },
  ): Promise<Saved | Stale | Missing> {
    const key = id.toLowerCase();
    return this.transaction(async (step) => {
      const again = await this.claim(step, key, on);
      if (again !== undefined) return again;
      const past = await this.past(step, key, revision);
      if (past === undefined) {
        await step.updateTable("record").set({ revision: on }).where("id", "=", key).execute();
        return { kind: "missing" };
      }
      const edits = difference(await this.newest(step, key), past.record);
      return this.keep(step, key, on + 1, "restore", past.record, { edits, by });
    });
  }

  async import(record: TeardownRecord, options: { on?: number; by?: string } = {}): Promise<Saved | Stale> {
    const fresh = canonical(requireRecord(record));
    const key = fresh.id.toLowerCase();
    return this.transaction(async (step) => {
      const row = { id: key, revision: 1, saved_at: this.now(), head: "{}", snapshot: "{}" };
      const made = await step
        .insertInto("record")
        .values(row)
        .onConflict((conflict) => conflict.column("id").doNothing())
        .executeTakeFirst();
      if (made.numInsertedOrUpdatedRows === 1n) {
        return this.keep(step, key, 1, "import", fresh, { edits: [], by: options.by });
      }
      const known = await step
        .selectFrom("record")
        .select(["revision", "saved_at"])
        .where("id", "=", key)
        .executeTakeFirstOrThrow();
      const edits = difference(await this.newest(step, key), fresh);
      if (edits.length === 0) return { kind: "saved", id: key, revision: known.revision, savedAt: known.saved_at };
      if (options.on !== known.revision) return this.stale(step, key, options.on ?? 0, known.revision);
      return this.keep(step, key, known.revision + 1, "import", fresh, { edits, by: options.by });
    });
  }

  async export(id: string, revision?: number): Promise<string | undefined> {
    const kept = await this.load(id, revision);
    return kept && writeRecord(kept.record);
  }

  async find(words: string, limit = 50): Promise<readonly Found[]> {
    const rows = await this.db.selectFrom("record").select("snapshot").orderBy("saved_at", "desc").execute();
    const found: Found[] = [];
    for (const row of rows) {
      found.push(...findIn(JSON.parse(row.snapshot) as TeardownRecord, words, limit - found.length));
      if (found.length >= limit) break;
    }
    return found;
  }

  async close(): Promise<void> {
    await this.db.destroy();
  }

  private transaction<T>(work: (step: Step) => Promise<T>): Promise<T> {
    return patiently(() => this.db.transaction().execute(work));
  }

  /**
   * Takes the next revision for this transaction: the first statement is a write, so it waits for other writers and
   * then sees the newest state. Undefined: it is ours; else the answer to give.
   */
  private async claim(
    step: Step,
    key: string,
    on: number,
    token?: string,
  ): Promise<Saved | Stale | Missing | undefined> {
    const taken = await step
      .updateTable("record")
      .set({ revision: on + 1 })
      .where("id", "=", key)
      .where("revision", "=", on)
      .executeTakeFirst();
    const ours = taken.numUpdatedRows === 1n;
    if (token !== undefined) {
      const before = await step
        .selectFrom("revision")
        .select(["revision", "saved_at"])
        .where("record_id", "=", key)
        .where("token", "=", token)
        .executeTakeFirst();
      if (before !== undefined) {
        if (ours) await step.updateTable("record").set({ revision: on }).where("id", "=", key).execute();
        return { kind: "saved", id: key, revision: before.revision, savedAt: before.saved_at };
      }
    }
    if (ours) return undefined;
    const row = await step.selectFrom("record").select("revision").where("id", "=", key).executeTakeFirst();
    return row === undefined ? { kind: "missing" } : this.stale(step, key, on, row.revision);
  }

  private async stale(step: Step, id: string, on: number, revision: number): Promise<Stale> {
    const rows = await step
      .selectFrom("revision")
      .select("edits")
      .where("record_id", "=", id)
      .where("revision", ">", on)
      .orderBy("revision")
      .execute();
    return { kind: "stale", id, on, revision, since: rows.flatMap((row) => JSON.parse(row.edits) as Edit[]) };
  }

  private async keep(
    step: Step,
    key: string,
    revision: number,
    kind: Revision["kind"],
    record: TeardownRecord,
    { edits, token, by }: { edits: readonly Edit[]; token?: string; by?: string },
  ): Promise<Saved> {
    const saved_at = this.now();
    const snapshot = JSON.stringify(record);
    const whole = revision === 1 || revision % CHECKPOINT === 0;
    await step
      .insertInto("revision")
      .values({
        record_id: key,
        revision,
        kind,
        saved_at,
        saved_by: by ?? null,
        token: token ?? null,
        edits: JSON.stringify(edits),
        snapshot: whole ? snapshot : null,
      })
      .execute();
    await step
      .updateTable("record")
      .set({ revision, saved_at, head: JSON.stringify(headOf(record)), snapshot })
      .where("id", "=", key)
      .execute();
    return { kind: "saved", id: key, revision, savedAt: saved_at };
  }

  /** The newest content. */
  private async newest(step: Step, key: string): Promise<TeardownRecord> {
    const row = await step.selectFrom("record").select("snapshot").where("id", "=", key).executeTakeFirstOrThrow();
    return upgrade(JSON.parse(row.snapshot)) as TeardownRecord;
  }

  private async past(step: Step, key: string, revision: number): Promise<Kept | undefined> {
    const start = await step
      .selectFrom("revision")
      .select(["revision", "snapshot"])
      .where("record_id", "=", key)
      .where("revision", "<=", revision)
      .where("snapshot", "is not", null)
      .orderBy("revision", "desc")
      .executeTakeFirst();
    if (start?.snapshot == null) return undefined;
    const rows = await step
      .selectFrom("revision")
      .select(["revision", "edits", "saved_at"])
      .where("record_id", "=", key)
      .where("revision", ">=", start.revision)
      .where("revision", "<=", revision)
      .orderBy("revision")
      .execute();
    const end = rows.at(-1);
    if (end?.revision !== revision) return undefined;
    const edits = rows.slice(1).flatMap((row) => JSON.parse(row.edits) as Edit[]);
    const record = applyEdits(JSON.parse(start.snapshot) as TeardownRecord, edits);
    return { revision, savedAt: end.saved_at, record: canonical(upgrade(record) as TeardownRecord) };
  }
}

type Head = Omit<RecordHead, "id" | "revision" | "savedAt">;

function headOf({ device, sibling, parts, joints }: TeardownRecord): Head {
  return {
    name: device.name,
    maker: device.maker ?? null,
    kind: device.kind,
    sibling: sibling ?? null,
    parts: parts.length,
    joints: joints.length,
  };
}
