import { describe, expect, it } from "vitest";
import { smallPhone } from "../../../test/fixtures/small-phone.ts";
import { applyEdits, type Edit } from "../../core/record/edits.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import type { KeptRecord, SaveRequest } from "../../server/api.ts";
import { Keeper, type KeeperPort, type Sent, type Uploaded } from "./keeper.ts";
import { keptWords } from "./kept-words.ts";
import { memoryOutbox, type Outbox, type WaitingPicture } from "./outbox.ts";

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

  /** Photographs by the name that they have here, in the order in which they came. */
  readonly taken: string[] = [];

  /** Keeps a picture under a name of its own, as when it was turned upright. */
  take({ name, given }: WaitingPicture): Uploaded {
    const fault = this.fail.shift();
    if (fault === "no answer") return { kind: "cut-off", why: "" };
    if (given === "bad.jpg") return { kind: "refused", faults: [{ path: given, found: "it", expected: "another" }] };
    this.taken.push(name);
    const taken = { name: `server ${name}`, hash: `sha256:server ${name}`, width: 60, height: 40, focal: 26 };
    const rest = { kind: "photo", type: "image/jpeg", bytes: 1, said: [] } as const;
    return fault === "answer lost" ? { kind: "cut-off", why: "" } : { kind: "taken", taken: { ...rest, ...taken } };
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
  let shown: readonly string[] = [];
  let tokens = 0;
  const port: KeeperPort = {
    outbox,
    send: async (_, save) => server.save(save),
    upload: async (picture) => server.take(picture),
    show: (_, pictures) => {
      shown = pictures.map(({ name }) => name);
    },
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
  return { server, outbox, port, keeper, rest, again, shown: () => shown };
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
    await first.again();
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

describe("photographs", () => {
  const picture = (name: string, given = "a.jpg"): WaitingPicture => ({
    record: smallPhone.id,
    name: `${name}.jpg`,
    given,
    content: new Blob(["pixels"], { type: "image/jpeg" }),
  });
  const added = (id: string, name: string): Edit => ({
    kind: "put",
    list: "media",
    item: { id, kind: "photo", file: `${name}.jpg`, hash: `sha256:${name}` },
  });
  const seen: Edit = {
    kind: "set",
    list: "media",
    id: "p1",
    path: ["view"],
    value: { size: [60, 40], seen: "front", level: 0 },
  };

  it("are with the server before the edit that names them, under its name for them", async () => {
    const { keeper, server, outbox, rest, shown } = bench();
    await Promise.all([
      keeper.edit([note("battery", "before")], "before"),
      keeper.edit([added("p1", "one")], "photograph added", [picture("one")]),
      keeper.edit([seen], "seen"),
      keeper.edit([added("p2", "two")], "photograph added", [picture("two")]),
    ]);
    expect(shown()).toEqual(["one.jpg", "two.jpg"]);
    await rest();
    expect(keeper.kept().state).toBe("kept");
    expect(server.taken).toEqual(["one.jpg", "two.jpg"]);
    expect(server.record.media).toMatchObject([
      { id: "p1", file: "server one.jpg", hash: "sha256:server one.jpg", view: { seen: "front" } },
      { id: "p2", file: "server two.jpg", view: { size: [60, 40], focal: 26 } },
    ]);
    expect(keeper.kept().shown.record).toEqual(server.record);
    expect(shown()).toEqual([]);
    expect(await outbox.pictures(smallPhone.id)).toEqual([]);
    // Taken back and done once more, it is the server's picture.
    await keeper.undo();
    await keeper.redo();
    await rest();
    expect(server.record.media.map((one) => one.file)).toEqual(["server one.jpg", "server two.jpg"]);
    expect(server.taken).toHaveLength(2);
  });

  it("wait through a server that is gone and a page loaded anew, once each", async () => {
    const first = bench();
    first.server.fail.push("answer lost", "no answer", "no answer", "no answer");
    await first.keeper.edit([added("p1", "one")], "photograph added", [picture("one")]);
    await first.keeper.edit([seen], "seen");
    await first.rest();
    expect(first.keeper.kept()).toMatchObject({ state: "cut-off", waiting: 2 });
    const { id } = smallPhone;
    const second = new Keeper(
      first.port,
      (await first.outbox.base(id))!,
      await first.outbox.steps(id),
      await first.outbox.pictures(id),
    );
    expect(first.shown()).toEqual(["one.jpg"]);
    expect(second.kept().shown.record.media).toMatchObject([{ file: "one.jpg" }]);
    for (let i = 0; i < 6; i++) {
      await second.send();
      await first.rest();
    }
    expect(second.kept().state).toBe("kept");
    expect(first.server.record.media).toMatchObject([{ file: "server one.jpg", view: { seen: "front" } }]);
    expect(first.server.saves.flatMap((save) => save.edits)).toHaveLength(2);
  });

  it("that the server will not have are set aside, and what was done after them goes on", async () => {
    const { keeper, server, outbox, rest, shown } = bench();
    await Promise.all([
      keeper.edit([added("p1", "one")], "photograph added", [picture("one", "bad.jpg")]),
      keeper.edit([note("battery", "after")], "after"),
    ]);
    await rest();
    const { refused } = keeper.kept();
    expect(refused).toMatchObject([{ label: "photograph added", refused: [{ path: "bad.jpg" }] }]);
    expect(noteOf(server.record, "battery")).toBe("after");
    expect(keeper.kept().shown.record.media).toEqual(smallPhone.media);
    expect(await outbox.pictures(smallPhone.id)).toHaveLength(1);
    await keeper.discard(refused[0]!.seq);
    expect(await outbox.pictures(smallPhone.id)).toEqual([]);
    expect(shown()).toEqual([]);
  });

  it("nothing of one is done where the browser has no room for it", async () => {
    const outbox = { ...memoryOutbox(), add: () => Promise.reject(new Error("QuotaExceededError")) };
    const { keeper, shown } = bench(new Server(), outbox);
    const faults = await keeper.edit([added("p1", "one")], "photograph added", [picture("one")]);
    expect(faults[0]!.found).toContain("QuotaExceededError");
    expect(shown()).toEqual([]);
    expect(keeper.kept().shown.record).toBe(smallPhone);
  });
});

it("goes through what waits no further for each thing more that is done", async () => {
  const { port, rest, outbox, server } = bench();
  let read = 0;
  const steps = Array.from({ length: 500 }, (_, i) => ({
    seq: i + 1,
    record: smallPhone.id,
    label: `${i}`,
    at: "",
    back: [],
    get edits() {
      read++;
      return [note("battery", `${i}`)];
    },
  }));
  await outbox.put(steps, kept(smallPhone));
  server.fail.push("no answer");
  const keeper = new Keeper(port, kept(smallPhone), steps);
  expect(noteOf(keeper.kept().shown.record, "battery")).toBe("499");
  await keeper.send();
  await rest();
  expect(keeper.kept().state).toBe("cut-off");
  expect(read).toBeGreaterThan(0);
  read = 0;
  const settled = server.saves.length;
  for (let i = 0; i < 20; i++) await keeper.edit([note("battery", `more ${i}`)], `more ${i}`);
  expect(noteOf(keeper.kept().shown.record, "battery")).toBe("more 19");
  expect(keeper.kept().undo).toHaveLength(520);
  expect({ read, saves: server.saves.length }).toEqual({ read: 0, saves: settled });
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
