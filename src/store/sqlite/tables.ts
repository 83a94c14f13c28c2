/**
 * The tables, in words that SQLite and PostgreSQL both understand: ids and JSON as TEXT, times as ISO 8601 UTC, no
 * vendor's operators. STRICT is SQLite's own and is added where the tables are made.
 */
import { type Kysely, sql } from "kysely";
import { InputError } from "../../core/errors.ts";

export interface Tables {
  unseam_schema: { version: number };
  record: {
    id: string;
    revision: number;
    saved_at: string;
    /** `RecordHead` without what the columns say, so that the list opens no snapshot. */
    head: string;
    /** The newest content, canonical. */
    snapshot: string;
  };
  revision: {
    record_id: string;
    revision: number;
    kind: "import" | "edits" | "restore";
    saved_at: string;
    saved_by: string | null;
    token: string | null;
    edits: string;
    /** The content after this revision: with the first one, and with every so many, to start replaying from. */
    snapshot: string | null;
  };
}

const SCHEMA = 1;
const strict = sql`strict`;

/** Makes the tables where there are none. @throws InputError when a newer version of the program has made them */
export async function ensureTables(db: Kysely<Tables>): Promise<void> {
  await db.transaction().execute(async (step) => {
    await step.schema
      .createTable("unseam_schema")
      .ifNotExists()
      .addColumn("version", "integer", (column) => column.primaryKey())
      .modifyEnd(strict)
      .execute();
    const found = await step.selectFrom("unseam_schema").select("version").executeTakeFirst();
    if (found === undefined) {
      await createAll(step);
      await step.insertInto("unseam_schema").values({ version: SCHEMA }).execute();
    } else if (found.version > SCHEMA) {
      throw new InputError({
        path: "",
        found: `a workspace of format ${found.version}, made by a newer version of Unseam`,
        expected: `format ${SCHEMA} or older (update Unseam, or use another data folder)`,
      });
    }
  });
}

async function createAll(db: Kysely<Tables>): Promise<void> {
  await db.schema
    .createTable("record")
    .addColumn("id", "text", (column) => column.primaryKey())
    .addColumn("revision", "integer", (column) => column.notNull())
    .addColumn("saved_at", "text", (column) => column.notNull())
    .addColumn("head", "text", (column) => column.notNull())
    .addColumn("snapshot", "text", (column) => column.notNull())
    .modifyEnd(strict)
    .execute();
  await db.schema
    .createTable("revision")
    .addColumn("record_id", "text", (column) => column.notNull().references("record.id"))
    .addColumn("revision", "integer", (column) => column.notNull())
    .addColumn("kind", "text", (column) => column.notNull())
    .addColumn("saved_at", "text", (column) => column.notNull())
    .addColumn("saved_by", "text")
    .addColumn("token", "text")
    .addColumn("edits", "text", (column) => column.notNull())
    .addColumn("snapshot", "text")
    .addPrimaryKeyConstraint("revision_of_record", ["record_id", "revision"])
    .addUniqueConstraint("token_once", ["record_id", "token"])
    .modifyEnd(strict)
    .execute();
}
