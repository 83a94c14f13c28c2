/**
 * What every store has to do, as tests: an adapter's own test makes one and runs this.
 *
 * @param open opens the store of a folder; opening the same folder again finds what was kept there
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { InputError, InputFaults } from "../core/errors.ts";
import { type Edit, type TeardownRecord, writeRecord } from "../core/record/index.ts";
import type { Store } from "./index.ts";

/** A small valid record; `n` makes its id. */
export function sample(n: number, name = "A slab"): TeardownRecord {
  return {
    format: "unseam/1",
    id: `00000000-0000-4000-8000-${String(n).padStart(12, "0")}`,
    device: { name, maker: "Nobody", kind: "smartphone", foldable: false },
    parts: [
      { id: "frame", name: "Frame", base: true },
      { id: "cover", name: "Back cover", role: "back-cover" },
    ],
    joints: [{ id: "bond", kind: "adhesive", holds: ["frame", "cover"], releases: [] }],
    tools: [],
    instruments: [],
    log: [],
    readings: [],
    claims: [],
    media: [],
  };
}

export const rename = (name: string): Edit => ({
  kind: "set",
  list: "parts",
  id: "cover",
  path: ["name"],
  value: name,
});
const note = (id: string): Edit => ({ kind: "put", list: "log", item: { id, action: "note", text: `entry ${id}` } });

export function acceptance(title: string, open: (folder: string) => Promise<Store>): void {
  describe(title, () => {
    let folder: string;
    let store: Store;
    const { id } = sample(1);

    beforeEach(async () => {
      folder = mkdtempSync(join(tmpdir(), "unseam-store-"));
      store = await open(folder);
    });
    afterEach(async () => {
      await store.close();
      rmSync(folder, { recursive: true, force: true });
    });

    it("begins empty", async () => {
      expect(await store.list()).toEqual([]);
      expect(await store.load(id)).toBeUndefined();
      expect(await store.history(id)).toEqual([]);
      expect(await store.export(id)).toBeUndefined();
      expect(await store.save(id, { on: 1, edits: [] })).toEqual({ kind: "missing" });
      expect(await store.restore(id, { on: 1, revision: 1 })).toEqual({ kind: "missing" });
    });

    it("keeps a record and gives it back after it was opened anew", async () => {
      const saved = await store.import(sample(1));
      expect(saved).toMatchObject({ kind: "saved", id, revision: 1 });
      await store.close();
      store = await open(folder);
      const kept = await store.load(id);
      expect(kept?.revision).toBe(1);
      expect(writeRecord(kept!.record)).toBe(writeRecord(sample(1)));
      expect(await store.load(id.toUpperCase())).toEqual(kept);
      expect(await store.export(id)).toBe(writeRecord(sample(1)));
      expect(await store.list()).toEqual([
        {
          id,
          revision: 1,
          savedAt: kept!.savedAt,
          name: "A slab",
          maker: "Nobody",
          kind: "smartphone",
          sibling: null,
          parts: 2,
          joints: 1,
        },
      ]);
    });

    it("applies edits on a stated revision", async () => {
      await store.import(sample(1));
      const saved = await store.save(id, { on: 1, edits: [rename("Rear glass"), note("n1")], by: "bench 2" });
      expect(saved).toMatchObject({ kind: "saved", revision: 2 });
      const kept = await store.load(id);
      expect(kept?.revision).toBe(2);
      expect(kept?.record.parts[1].name).toBe("Rear glass");
      expect(kept?.record.log).toHaveLength(1);
      const history = await store.history(id);
      expect(history.map(({ revision, kind, by }) => ({ revision, kind, by }))).toEqual([
        { revision: 2, kind: "edits", by: "bench 2" },
        { revision: 1, kind: "import", by: null },
      ]);
      expect(history[0].edits).toEqual([rename("Rear glass"), note("n1")]);
    });

    it("refuses a stale save, tells what came in between and overwrites nothing", async () => {
      await store.import(sample(1));
      await store.save(id, { on: 1, edits: [rename("Mine")] });
      await store.save(id, { on: 2, edits: [note("n1")] });
      const stale = await store.save(id, { on: 1, edits: [rename("Theirs")] });
      expect(stale).toEqual({ kind: "stale", id, on: 1, revision: 3, since: [rename("Mine"), note("n1")] });
      expect((await store.load(id))?.record.parts[1].name).toBe("Mine");
      expect(await store.save(id, { on: 9, edits: [] })).toMatchObject({ kind: "stale", revision: 3, since: [] });
      expect((await store.load(id))?.revision).toBe(3);
    });

    it("lets exactly one of many saves on one revision win", async () => {
      await store.import(sample(1));
      const answers = await Promise.all(
        Array.from({ length: 12 }, (_, n) => store.save(id, { on: 1, edits: [note(`n${n}`)] })),
      );
      expect(answers.filter(({ kind }) => kind === "saved")).toHaveLength(1);
      expect(answers.filter(({ kind }) => kind === "stale")).toHaveLength(11);
      expect((await store.load(id))?.record.log).toHaveLength(1);
    });

    it("lets two openings of one store work at once", async () => {
      const other = await open(folder);
      try {
        await store.import(sample(1));
        const work = async (on: Store, name: string) => {
          for (let n = 0; n < 15; ) {
            const { revision } = (await on.load(id))!;
            const answer = await on.save(id, { on: revision, edits: [note(`${name}${n}`)] });
            if (answer.kind === "saved") n += 1;
          }
        };
        await Promise.all([work(store, "a"), work(other, "b")]);
        const ids = (await store.load(id))!.record.log.map((entry) => entry.id);
        expect(new Set(ids).size).toBe(30);
        expect(ids).toHaveLength(30);
      } finally {
        await other.close();
      }
    });

    it("keeps a save once that is sent twice with its token", async () => {
      await store.import(sample(1));
      const first = await store.save(id, { on: 1, edits: [note("n1")], token: "t1" });
      await store.save(id, { on: 2, edits: [note("n2")], token: "t2" });
      expect(await store.save(id, { on: 1, edits: [note("n1")], token: "t1" })).toEqual(first);
      expect(await store.save(id, { on: 3, edits: [note("n1")], token: "t1" })).toEqual(first);
      const kept = await store.load(id);
      expect(kept?.revision).toBe(3);
      expect(kept?.record.log.map((entry) => entry.id)).toEqual(["n1", "n2"]);
    });

    it("refuses what would make the record invalid, and keeps nothing of it", async () => {
      await store.import(sample(1));
      const bad: Edit[] = [note("n1"), { kind: "remove", list: "parts", id: "frame" }];
      await expect(store.save(id, { on: 1, edits: bad })).rejects.toThrow(InputFaults);
      await expect(store.save(id, { on: 1, edits: [{ kind: "remove", list: "parts", id: "no" }] })).rejects.toThrow(
        InputError,
      );
      await expect(store.import({ ...sample(2), parts: [] })).rejects.toThrow(InputFaults);
      const kept = await store.load(id);
      expect(kept?.revision).toBe(1);
      expect(kept?.record.log).toEqual([]);
      expect(await store.list()).toHaveLength(1);
    });

    it("loads and restores every revision", async () => {
      await store.import(sample(1));
      // More than enough revisions to pass any checkpoint of an adapter.
      for (let on = 1; on <= 120; on += 1) await store.save(id, { on, edits: [rename(`name ${on}`), note(`n${on}`)] });
      for (const revision of [1, 2, 49, 50, 51, 100, 120]) {
        const past = await store.load(id, revision);
        expect(past?.revision).toBe(revision);
        expect(past?.record.log).toHaveLength(revision - 1);
        expect(past?.record.parts[1].name).toBe(revision === 1 ? "Back cover" : `name ${revision - 1}`);
      }
      expect(await store.load(id, 122)).toBeUndefined();
      expect(await store.load(id, 0)).toBeUndefined();
      expect(await store.restore(id, { on: 120, revision: 1 })).toMatchObject({ kind: "stale", revision: 121 });
      expect(await store.restore(id, { on: 121, revision: 500 })).toEqual({ kind: "missing" });
      expect(await store.restore(id, { on: 121, revision: 2 })).toMatchObject({ kind: "saved", revision: 122 });
      expect(writeRecord((await store.load(id))!.record)).toBe(writeRecord((await store.load(id, 2))!.record));
      expect((await store.history(id))[0]).toMatchObject({ revision: 122, kind: "restore" });
      expect((await store.load(id, 121))?.record.log).toHaveLength(120);
    });

    it("imports over a known record only where its revision is stated", async () => {
      await store.import(sample(1));
      const first = (await store.load(id))!;
      expect(await store.import(sample(1))).toEqual({ kind: "saved", id, revision: 1, savedAt: first.savedAt });
      expect(await store.import(sample(1, "Another"))).toMatchObject({ kind: "stale", revision: 1 });
      expect(await store.import(sample(1, "Another"), { on: 1 })).toMatchObject({ kind: "saved", revision: 2 });
      expect((await store.load(id))?.record.device.name).toBe("Another");
      expect((await store.load(id, 1))?.record.device.name).toBe("A slab");
    });

    it("finds words wherever they stand", async () => {
      await store.import(sample(1));
      await store.import(sample(2, "Second slab"));
      await store.save(id, { on: 1, edits: [note("n1")] });
      expect(await store.find("back COVER")).toHaveLength(2);
      expect(await store.find("cover back")).toHaveLength(2);
      expect(await store.find("second")).toEqual([
        { record: sample(2).id, list: "device", id: "device", text: "Second slab" },
      ]);
      expect(await store.find("entry n1")).toEqual([{ record: id, list: "log", id: "n1", text: "entry n1" }]);
      expect(await store.find("nothing of the kind")).toEqual([]);
      expect(await store.find("  ")).toEqual([]);
      expect(await store.find("slab", 1)).toHaveLength(1);
    });

    it("keeps names as they are, whatever stands in them", async () => {
      const name = `<script>alert("1")</script>'; drop table record; -- Ωμ 中 \u0000 \u{1f50b}`;
      await store.import(sample(1, name));
      expect((await store.load(id))?.record.device.name).toBe(name);
      expect((await store.list())[0].name).toBe(name);
    });
  });
}
