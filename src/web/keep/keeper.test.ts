import { describe, expect, it } from "vitest";
import { smallPhone } from "../../../test/fixtures/small-phone.ts";
import { applyEdits, type Edit } from "../../core/record/edits.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import type { KeptRecord, SaveRequest } from "../../server/api.ts";
import { Keeper, type KeeperPort, type Sent } from "./keeper.ts";
import { keptWords } from "./kept-words.ts";
import { memoryOutbox, type Outbox } from "./outbox.ts";

const note = (part: string, text: string): Edit => ({
  kind: "set",
  list: "parts",
  id: part,
  path: ["note"],
  value: text,
});
const kept = (record: TeardownRecord, revision = 1): KeptRecord => ({ revision, savedAt: "", record, warnings: [] });

/** A server in small: revisions, tokens, stale saves; `fail` says what happens to the next answers. */
class Server {
  revision = 1;
  record: TeardownRecord = smallPhone;
  readonly saves: SaveRequest[] = [];
  readonly fail: ("no answer" | "answer lost")[] = [];
  private readonly since = new Map<number, readonly Edit[]>();
  private readonly tokens = new Map<string, number>();

  save({ on, edits, token }: SaveRequest): Sent {
    const fault = this.fail.shift();
    if (fault === "no answer") return { kind: "cut-off", why: "" };
    if (edits.some((edit) => "value" in edit && edit.value === "bad"))
      return { kind: "refused", faults: [{ path: "", found: "it", expected: "another" }] };
    const known = this.tokens.get(token!);
    if (known !== undefined) return { kind: "saved", revision: known, savedAt: "" };
    if (on !== this.revision) {
      const since = [...this.since].filter(([at]) => at > on).flatMap(([, some]) => some);
      return { kind: "stale", revision: this.revision, since };
    }
    this.elsewhere(edits);
    this.tokens.set(token!, this.revision);
    this.saves.push({ on, edits, token });
    return fault === "answer lost"
      ? { kind: "cut-off", why: "" }
      : { kind: "saved", revision: this.revision, savedAt: "" };
  }

  /** A save of somebody else. */
  elsewhere(edits: readonly Edit[]): void {
    this.record = applyEdits(this.record, edits);
    this.revision += 1;
    this.since.set(this.revision, edits);
  }
}

const keepWordsNow = (keeper: Keeper): string => keptWords(keeper.kept());

function bench(server = new Server(), outbox: Outbox = memoryOutbox()) {
  const waits: (() => void)[] = [];
  let tokens = 0;
  const port: KeeperPort = {
    outbox,
    send: async (_, save) => server.save(save),
    alone: (_, work) => work(),
    tell: () => undefined,
    token: () => `token ${Math.random()} ${tokens++}`,
    now: () => new Date(0),
    later(_, work) {
      waits.push(work);
      return () => waits.splice(waits.indexOf(work), 1);
    },
  };
  const keeper = new Keeper(port, kept(smallPhone), []);
  const rest = async () => {
    for (let i = 0; i < 200; i++) await Promise.resolve();
    await new Promise((go) => setTimeout(go, 0));
  };
  const again = async () => {
    for (const work of waits.splice(0)) work();
    await rest();
  };
  return { server, outbox, port, keeper, rest, again };
}

const noteOf = (record: TeardownRecord, part: string) => record.parts.find((one) => one.id === part)?.note;

describe("a step", () => {
  it("is shown, sent and acknowledged", async () => {
    const { keeper, server, rest } = bench();
    expect(await keeper.edit([note("battery", "warm")], "note")).toEqual([]);
    expect(noteOf(keeper.kept().shown.record, "battery")).toBe("warm");
    await rest();
    expect(keeper.kept()).toMatchObject({ state: "kept", waiting: 0, shown: { revision: 2 } });
    expect(noteOf(server.record, "battery")).toBe("warm");
    expect(keptWords(keeper.kept())).toBe("all kept, revision 2");
  });
  it("that makes no valid record is not taken, in words", async () => {
    const { keeper, server, rest } = bench();
    const faults = await keeper.edit([{ kind: "remove", list: "parts", id: "battery" }], "battery away");
    expect(faults.length).toBeGreaterThan(0);
    expect((await keeper.edit([note("no-such", "x")], "note"))[0]).toMatchObject({ found: 'no "no-such"' });
    await rest();
    expect(server.saves).toEqual([]);
    expect(keeper.kept().shown.record).toBe(smallPhone);
  });
  it("is not shown as done where the browser has no room for it", async () => {
    const outbox = { ...memoryOutbox(), add: () => Promise.reject(new Error("QuotaExceededError")) };
    const { keeper } = bench(new Server(), outbox);
    expect((await keeper.edit([note("battery", "warm")], "note"))[0]!.found).toContain("QuotaExceededError");
    expect(keeper.kept().shown.record).toBe(smallPhone);
  });
  it("is taken back and done once more, without end", async () => {
    const { keeper, server, rest } = bench();
    for (const text of ["one", "two", "three"]) await keeper.edit([note("battery", text)], text);
    for (let i = 0; i < 3; i++) await keeper.undo();
    expect(noteOf(keeper.kept().shown.record, "battery")).toBe(noteOf(smallPhone, "battery"));
    expect(keeper.kept().undo).toEqual([]);
    for (let i = 0; i < 3; i++) await keeper.redo();
    expect(noteOf(keeper.kept().shown.record, "battery")).toBe("three");
    await keeper.undo();
    await rest();
    expect(noteOf(server.record, "battery")).toBe("two");
    await keeper.edit([note("battery", "other")], "other");
    expect(keeper.kept().redo).toEqual([]);
  });
});

describe("with the server gone", () => {
  it("waits, says so, and catches up in order", async () => {
    const { keeper, server, rest, again } = bench();
    server.fail.push("no answer", "no answer");
    await keeper.edit([note("battery", "one")], "one");
    await keeper.edit([note("battery", "two")], "two");
    await rest();
    expect(keeper.kept()).toMatchObject({ state: "cut-off", waiting: 2 });
    expect(keptWords(keeper.kept())).toContain("2 changes kept in this page alone");
    await again();
    await again();
    expect(keeper.kept().state).toBe("kept");
    expect(noteOf(server.record, "battery")).toBe("two");
  });
  it("keeps a save once whose answer was lost", async () => {
    const { keeper, server, rest, again } = bench();
    server.fail.push("answer lost");
    await keeper.edit([note("battery", "one")], "one");
    await rest();
    expect(keeper.kept().state).toBe("cut-off");
    await again();
    expect(keeper.kept()).toMatchObject({ state: "kept", shown: { revision: 2 } });
    expect(server.saves).toHaveLength(1);
  });
  it("goes on after a reload from what lies in the outbox, once each", async () => {
    const first = bench();
    first.server.fail.push("answer lost", "no answer");
    await first.keeper.edit([note("battery", "one")], "one");
    await first.rest();
    await first.keeper.edit([note("speaker", "two")], "two");
    await first.rest();
    const id = smallPhone.id;
    const [base, steps] = [await first.outbox.base(id), await first.outbox.steps(id)];
    const second = new Keeper(first.port, base!, steps);
    expect(noteOf(second.kept().shown.record, "speaker")).toBe("two");
    await second.send();
    await first.rest();
    expect(second.kept().state).toBe("kept");
    expect(first.server.saves.flatMap((save) => save.edits)).toEqual([note("battery", "one"), note("speaker", "two")]);
  });
});

describe("with somebody else on the record", () => {
  it("lays changes to other things underneath", async () => {
    const { keeper, server, rest } = bench();
    server.elsewhere([note("speaker", "theirs")]);
    await keeper.edit([note("battery", "mine")], "mine");
    await rest();
    expect(keeper.kept().state).toBe("kept");
    expect(noteOf(server.record, "battery")).toBe("mine");
    expect(noteOf(keeper.kept().shown.record, "speaker")).toBe("theirs");
  });
  it.each([true, false])("asks about the same thing and overwrites nothing; mine chosen: %s", async (mine) => {
    const { keeper, server, rest } = bench();
    server.elsewhere([note("battery", "theirs")]);
    await keeper.edit([note("battery", "mine"), note("speaker", "also mine")], "both");
    await rest();
    expect(keeper.kept().state).toBe("differs");
    expect(noteOf(server.record, "battery")).toBe("theirs");
    expect(keeper.kept().differences).toMatchObject([{ edit: 0, theirs: [note("battery", "theirs")] }]);
    await keeper.choose([mine]);
    await rest();
    expect(keeper.kept().state).toBe("kept");
    expect(noteOf(server.record, "battery")).toBe(mine ? "mine" : "theirs");
    expect(noteOf(server.record, "speaker")).toBe("also mine");
    // Taking it back leads to what somebody else had made of it.
    await keeper.undo();
    expect(noteOf(keeper.kept().shown.record, "battery")).toBe("theirs");
  });
  it("sets aside what the server will not have, and goes on with the rest", async () => {
    const { keeper, server, rest } = bench();
    await Promise.all([keeper.edit([note("battery", "bad")], "bad"), keeper.edit([note("speaker", "good")], "good")]);
    await rest();
    const { refused } = keeper.kept();
    expect(refused).toMatchObject([{ label: "bad" }]);
    expect(noteOf(server.record, "speaker")).toBe("good");
    await keeper.discard(refused[0]!.seq);
    expect(keeper.kept().refused).toEqual([]);
  });
});

it("two keepers on one outbox keep each step once", async () => {
  const one = bench();
  const two = new Keeper(one.port, kept(smallPhone), []);
  await one.keeper.edit([note("battery", "one")], "one");
  await one.rest();
  await two.refresh();
  await two.edit([note("speaker", "two")], "two");
  await one.rest();
  await one.keeper.refresh();
  expect(one.server.saves).toHaveLength(2);
  expect(one.keeper.kept().shown).toMatchObject({ revision: 3 });
  expect(noteOf(one.keeper.kept().shown.record, "speaker")).toBe("two");
});

it("is not kept from the moment that something is done, before the outbox has it", async () => {
  const { keeper, rest } = bench();
  expect(keepWordsNow(keeper)).toMatch(/^all kept/);
  const doing = [keeper.edit([note("battery", "one")], "one"), keeper.edit([note("speaker", "two")], "two")];
  expect(keepWordsNow(keeper)).toBe("2 changes being written down");
  expect(keeper.kept().state).toBe("waiting");
  await Promise.all(doing);
  expect(keepWordsNow(keeper)).not.toMatch(/written down/);
  await rest();
  expect(keepWordsNow(keeper)).toMatch(/^all kept/);
  const undoing = keeper.undo();
  expect(keeper.kept().state).toBe("waiting");
  await undoing;
});
