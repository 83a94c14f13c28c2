import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { acceptance, sample } from "../acceptance.ts";
import { openSqlite } from "./driver.ts";
import { DATABASE, openSqliteStore } from "./open.ts";

const open = (folder: string) => openSqliteStore(folder, { now: () => new Date().toISOString() });

acceptance("the SQLite store", open);

describe("the SQLite store's file", () => {
  const inFolder = async (work: (folder: string) => Promise<void>) => {
    const folder = mkdtempSync(join(tmpdir(), "unseam-store-"));
    try {
      await work(folder);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  };

  it("is refused in words when it is no database", () =>
    inFolder(async (folder) => {
      writeFileSync(join(folder, DATABASE), "no database at all, but long enough to be taken for one".repeat(100));
      await expect(open(folder)).rejects.toThrow(/damaged or no database/);
    }));

  it("is refused in words when a newer version made it", () =>
    inFolder(async (folder) => {
      await (await open(folder)).close();
      const database = await openSqlite(join(folder, DATABASE));
      database.prepare("update unseam_schema set version = 99").run();
      database.close();
      await expect(open(folder)).rejects.toThrow(/newer version/);
    }));

  it("can be opened by several at the same moment", () =>
    inFolder(async (folder) => {
      const stores = await Promise.all(Array.from({ length: 6 }, () => open(folder)));
      await stores[0].import(sample(1));
      expect(await stores[5].list()).toHaveLength(1);
      await Promise.all(stores.map((store) => store.close()));
    }));

  it(
    "loses nothing that was acknowledged when the process is killed, twenty times",
    () =>
      inFolder(async (folder) => {
        const { id } = sample(1);
        const store = await open(folder);
        await store.import(sample(1));
        await store.close();
        const acknowledged = new Set<string>();
        // A fixed row of delays, so that a failure can be tried again: from at once to well into the work. The next
        // process is started while the one before is at work, since starting takes longer than the work.
        let next = startSaver(folder, id, 0);
        for (let round = 0; round < 20; round += 1) {
          const saver = next;
          if (round < 19) next = startSaver(folder, id, round + 1);
          await killWhileSaving(saver, 5 + ((round * 37) % 60), acknowledged);
          const after = await open(folder);
          const kept = (await after.load(id))!;
          const entries = kept.record.log.map((entry) => entry.id);
          for (const entry of acknowledged) expect(entries).toContain(entry);
          // Whole or not at all: a save puts its two entries together, and the revision counts the saves.
          expect(entries).toHaveLength(2 * (kept.revision - 1));
          expect(new Set(entries).size).toBe(entries.length);
          expect(await after.history(id)).toHaveLength(kept.revision);
          await after.close();
        }
        expect(acknowledged.size).toBeGreaterThan(100);
        const database = await openSqlite(join(folder, DATABASE));
        expect(database.pragma("integrity_check", { simple: true })).toBe("ok");
        database.close();
      }),
    120_000,
  );
});

/** Another process, which saves in a loop as soon as it is told to. */
function startSaver(folder: string, id: string, round: number): ChildProcess {
  const script = fileURLToPath(new URL("../../../test/helpers/save-in-a-loop.ts", import.meta.url));
  return spawn(process.execPath, ["--import", "tsx", script, folder, id, String(round)], {
    stdio: ["pipe", "pipe", "inherit"],
  });
}

/** Lets it save, and kills it in the midst of its work some milliseconds after its first answer. */
async function killWhileSaving(saver: ChildProcess, delay: number, acknowledged: Set<string>): Promise<void> {
  const ended = once(saver, "exit");
  saver.stdin!.write("go\n");
  let first = true;
  for await (const line of createInterface({ input: saver.stdout! })) {
    for (const entry of line.split(" ")) acknowledged.add(entry);
    if (first) setTimeout(() => saver.kill("SIGKILL"), delay);
    first = false;
  }
  const [, signal] = await ended;
  expect(signal).toBe("SIGKILL");
}
