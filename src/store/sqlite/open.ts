/** Opens the workspace's database as a store. */
import { existsSync } from "node:fs";
import { mkdir, statfs } from "node:fs/promises";
import { join } from "node:path";
import { Kysely, SqliteDialect } from "kysely";
import { InputError } from "../../core/errors.ts";
import type { Store } from "../index.ts";
import { openSqlite } from "./driver.ts";
import { patiently } from "./patiently.ts";
import { SqliteStore } from "./store.ts";
import { ensureTables, type Tables } from "./tables.ts";

/** Name of the database file in a data folder. */
export const DATABASE = "workspace.sqlite";

export interface StoreOptions {
  /** The time now; ISO 8601, UTC. */
  readonly now: () => string;
}

/** Whether a data folder holds a workspace already. */
export const hasWorkspace = (folder: string): boolean => existsSync(join(folder, DATABASE));

/**
 * Opens the workspace in a data folder, making both where they are missing.
 *
 * @throws InputError when the folder is on a network share or its workspace was made by a newer version
 * @throws DriverMissing
 */
export async function openSqliteStore(folder: string, options: StoreOptions): Promise<Store> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  await refuseNetworkShare(folder);
  const database = await openSqlite(join(folder, DATABASE));
  try {
    // Short, because it stops this process; the longer wait is in patiently.ts.
    database.pragma("busy_timeout = 5");
    // Readers do not stop writers (WAL), and a commit is on the disk before it is acknowledged (FULL).
    await patiently(async () => database.pragma("journal_mode = WAL"));
    database.pragma("synchronous = FULL");
    database.pragma("foreign_keys = ON");
    const db = new Kysely<Tables>({ dialect: new SqliteDialect({ database }) });
    await patiently(() => ensureTables(db));
    return new SqliteStore(db, options.now);
  } catch (error) {
    if (database.open) database.close();
    throw notADatabase(error, folder);
  }
}

/**
 * The write-ahead log needs memory that all processes share, which network file systems do not give; a database there
 * would be damaged without a word. Numbers of statfs(2) for NFS, SMB and CIFS.
 */
async function refuseNetworkShare(folder: string): Promise<void> {
  const network = [0x6969, 0x517b, 0xff534d42, 0xfe534d42];
  const { type } = await statfs(folder);
  if (!network.includes(type)) return;
  throw new InputError({
    path: "",
    found: `the data folder ${folder} on a network share`,
    expected: "a folder on a disk of this machine (choose one with --data)",
  });
}

function notADatabase(error: unknown, folder: string): unknown {
  const { code } = (error ?? {}) as NodeJS.ErrnoException;
  if (code !== "SQLITE_NOTADB" && code !== "SQLITE_CORRUPT") return error;
  return new InputError({
    path: "",
    found: `${join(folder, DATABASE)}, which is damaged or no database`,
    expected: "a workspace of Unseam (move the file away to begin a new one; keep it for rescue)",
  });
}
