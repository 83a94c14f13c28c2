/** For the test that kills a process in the midst of saving: when told to, saves without end and tells each save acknowledged. */
import { once } from "node:events";
import { writeSync } from "node:fs";
import type { Edit } from "../../src/store/index.ts";
import { openSqliteStore } from "../../src/store/sqlite/open.ts";

const [folder, id, round] = process.argv.slice(2);
await once(process.stdin, "data");
const store = await openSqliteStore(folder, { now: () => new Date().toISOString() });
let on = (await store.load(id))!.revision;
for (let n = 0; ; n += 1) {
  const names = [`r${round}-${n}-a`, `r${round}-${n}-b`];
  const edits = names.map((name): Edit => ({ kind: "put", list: "log", item: { id: name, action: "note" } }));
  const answer = await store.save(id, { on, edits });
  if (answer.kind !== "saved") throw new Error(`not saved: ${answer.kind}`);
  on = answer.revision;
  writeSync(1, `${names.join(" ")}\n`);
}
