/**
 * Editions of sheets that were issued, a list for each record: what must be known to number the next one and to name the
 * ones to recall. A port of two verbs, with a folder behind it or memory.
 */
import { mkdir, readFile, rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { InputError } from "../core/errors.ts";
import { type Edition, isEdition } from "../paper/edition.ts";

export interface EditionStore {
  /** Oldest first; empty where none was issued. */
  read(record: string): Promise<readonly Edition[]>;
  write(record: string, editions: readonly Edition[]): Promise<void>;
}

export function editionsInMemory(): EditionStore {
  const kept = new Map<string, readonly Edition[]>();
  return {
    read: async (record) => kept.get(record) ?? [],
    write: async (record, editions) => {
      kept.set(record, editions);
    },
  };
}

/** One file a record, replaced whole, so that a crash leaves the old list or the new one. */
export function editionsInFolder(folder: string): EditionStore {
  const fileOf = (record: string): string => join(folder, `${record.toLowerCase().replaceAll(/[^0-9a-z-]/g, "")}.json`);
  return {
    read: async (record) => {
      const text = await readFile(fileOf(record), "utf8").catch((error: NodeJS.ErrnoException) => {
        if (error.code === "ENOENT") return undefined;
        throw error;
      });
      return text === undefined ? [] : editionsFrom(text, fileOf(record));
    },
    write: async (record, editions) => {
      await mkdir(folder, { recursive: true });
      const fresh = `${fileOf(record)}.${process.pid}.new`;
      await writeFile(fresh, `${JSON.stringify(editions, null, 2)}\n`);
      await rename(fresh, fileOf(record));
    },
  };
}

/** A list of editions as it was written. @throws InputError naming the file */
export function editionsFrom(text: string, path: string): Edition[] {
  const refused = (found: string): InputError =>
    new InputError({ path, found, expected: "the list of editions that was written there, or that file put right" });
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw refused("no JSON");
  }
  if (!Array.isArray(value) || !value.every(isEdition)) throw refused("no list of editions");
  return value;
}
