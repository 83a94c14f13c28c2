/**
 * The one file that imports the SQLite driver. A driver with the same calls and a ready binary can take its place here.
 */
import type Database from "better-sqlite3";

export type SqliteDatabase = Database.Database;

/** The driver is not there: it is an optional package, and may have to be compiled. */
export class DriverMissing extends Error {
  constructor(cause: unknown) {
    super(
      "The database driver better-sqlite3 is not installed or does not fit this Node.js: install python3, make and g++ (on Debian: apt-get install python3 make g++), then run npm ci again.",
      { cause },
    );
    this.name = "DriverMissing";
  }
}

/** Opens a database file, making it where there is none. @throws DriverMissing */
export async function openSqlite(file: string): Promise<SqliteDatabase> {
  const driver = await import("better-sqlite3").catch((error: unknown) => {
    throw new DriverMissing(error);
  });
  try {
    return new driver.default(file);
  } catch (error) {
    // The package is there, but its binary is missing or was made for another Node.
    if (/bindings|NODE_MODULE_VERSION|\.node/.test((error as Error).message)) throw new DriverMissing(error);
    throw error;
  }
}
