import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { smallPhone } from "../../../../test/fixtures/small-phone.ts";
import { InputError } from "../../errors.ts";
import { applyEdits } from "../edits.ts";
import { checkRecord, type TeardownRecord } from "../index.ts";
import { emptyRecord, fromSibling } from "../start.ts";
import {
  groupsText,
  idFrom,
  levelText,
  NameList,
  readGroups,
  readLevel,
  readReleases,
  readScrews,
  releasesText,
  removal,
  screwsText,
} from "./index.ts";

const folder = new URL("../../../../examples/", import.meta.url);
const records: [string, TeardownRecord][] = readdirSync(folder)
  .filter((name) => name.endsWith(".json"))
  .map((name): [string, unknown] => [name, JSON.parse(readFileSync(new URL(name, folder), "utf8"))])
  .filter((one): one is [string, TeardownRecord] => (one[1] as TeardownRecord).format === "unseam/1");

describe.each(records)("%s", (_, record) => {
  const parts = new NameList("part", record.parts);
  const tools = new NameList("tool", record.tools);
  it("is read back as it was written", () => {
    for (const part of record.parts) {
      expect(readGroups(groupsText(part.under), parts)).toEqual(part.under ?? []);
      expect(readLevel(levelText(part.level))).toEqual(part.level);
    }
    for (const joint of record.joints) {
      expect(readGroups(groupsText(joint.reach), parts)).toEqual(joint.reach ?? []);
      expect(readReleases(releasesText(joint.releases), tools, joint.releases)).toEqual(joint.releases);
      expect(readScrews(screwsText(joint.screws), joint.screws)).toEqual(joint.screws);
    }
  });
  it("is valid as the sibling of a new one, every relation a guess", () => {
    const id = "00000000-0000-4000-8000-000000000001";
    const begun = fromSibling(record, id, { ...record.device, name: "The next" });
    expect(checkRecord(begun).faults).toEqual([]);
    expect(begun.joints.every((joint) => joint.basis === "sibling")).toBe(true);
    expect(begun.readings).toEqual([]);
  });
});

describe("what is written by hand", () => {
  const names = new NameList("part", [
    { id: "back", name: "Back glass" },
    { id: "keys", name: "Power and volume keys" },
  ]);
  const tools = new NameList("tool", [{ id: "ph000", name: "Driver PH000" }, { id: "gun" }, { id: "pick" }]);
  it("takes names as well as ids, and names with and in them", () => {
    expect(readGroups("back glass and keys or POWER AND VOLUME KEYS", names)).toEqual([["back", "keys"], ["keys"]]);
  });
  it("understands ways to undo", () => {
    expect(
      readReleases(
        "slice with pick + gun, warm rim 70 degC by gun soft 90 s in passes, 2,5 s, leaves spent, hazard shard; or pull",
        tools,
      ),
    ).toEqual([
      {
        action: "slice",
        tools: ["pick", "gun"],
        leaves: "spent",
        seconds: 2.5,
        hazard: ["shard"],
        heat: { zone: "rim", bond: 70, by: "gun", soft: 90, passes: true },
      },
      { action: "pull", tools: [], leaves: "whole" },
    ]);
    expect(readReleases("unscrew with driver ph000", tools)[0]!.tools).toEqual(["ph000"]);
  });
  it("keeps what the text does not say, unless the action is another", () => {
    const before = [{ action: "pry", tools: [], leaves: "whole", destroys: ["clip"] }] as const;
    const [pry] = readReleases("pry with pick", tools, before as never);
    expect(pry).toMatchObject({ destroys: ["clip"], tools: ["pick"] });
    expect(readReleases("pull", tools, before as never)[0]).not.toHaveProperty("destroys");
  });
  it("reads a fastener and keeps its places", () => {
    const before = { drive: "x", each: [{ at: [1, 2] as [number, number] }] };
    expect(readScrews("Phillips #000, M1.2, 2,4 mm", before)).toEqual({
      drive: "Phillips #000",
      thread: "M1.2",
      length: 2.4,
      each: before.each,
    });
  });
  it.each([
    ["an unknown part", () => readGroups("bak", names), /back/],
    ["an empty side", () => readGroups("back or ", names), /.*/],
    ["an unknown action", () => readReleases("unscrw with gun", tools), /unscrew/],
    ["an unknown tool", () => readReleases("pry with picc", tools), /pick/],
    ["words that mean nothing", () => readReleases("pry, softly", tools), /softly/],
    ["an unknown hazard", () => readReleases("pry, hazard punctur", tools), /puncture/],
    ["one level", () => readLevel("0.7"), /two levels/],
    ["levels upside down", () => readLevel("1.9 to 0.7"), /nearer to the back/],
    ["a length without its unit", () => readScrews("PH000, 2.4"), /2\.4 mm/],
    ["no drive", () => readScrews(", 2.4 mm"), /the drive first/],
  ])("%s is refused in words", (_, read, words) => {
    expect(read).toThrow(InputError);
    expect(read).toThrow(words);
  });
  it("makes ids of names", () => {
    expect(idFrom("Łącze USB-C", ["acze-usb-c"])).toBe("acze-usb-c-2");
    expect(idFrom("中", [])).toBe("unnamed");
  });
});

describe("a part taken out", () => {
  it("leaves a valid structure", () => {
    const bare = { ...smallPhone, readings: [], claims: [], log: [], zones: [], described: [], checks: [] };
    for (const part of bare.parts.filter((one) => !one.base)) {
      const after = applyEdits(bare, removal(bare, part.id));
      const { faults } = checkRecord(after);
      expect(faults.filter((fault) => !fault.found.includes(part.id))).toEqual([]);
      expect(
        JSON.stringify([
          after.parts.map(({ note: _, ...one }) => one),
          after.joints.map((one) => [one.holds, one.reach]),
        ]),
      ).not.toContain(`"${part.id}"`);
    }
  });
});

it("a record from nothing is valid", () => {
  const begun = emptyRecord("00000000-0000-4000-8000-000000000001", {
    name: "New",
    kind: "smartphone",
    foldable: false,
  });
  expect(checkRecord(begun)).toMatchObject({ ok: true, warnings: [] });
});
