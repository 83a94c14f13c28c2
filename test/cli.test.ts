import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdirSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { type Command, UsageError } from "../src/cli/command.ts";
import { listOption, numberOption, wordOption } from "../src/cli/options.ts";
import { findSibling, readRecord } from "../src/cli/read-record.ts";
import { allCommands, commandNames } from "../src/cli/registry.ts";
import { run } from "../src/cli/run.ts";
import { writeRecord } from "../src/core/record/index.ts";
import { sample } from "../src/store/acceptance.ts";
import { openSqliteStore } from "../src/store/sqlite/open.ts";
import { inFolder, unseam } from "./helpers/cli.ts";

const text = writeRecord(sample(1));
/** A folder with one file in it, and what `unseam check FILE --json` says of it. */
const checked = (name: string, content: string | Buffer) =>
  inFolder(async (folder) => {
    writeFileSync(join(folder, name), content);
    const { code, stdout, stderr } = await unseam(folder, "check", name, "--json");
    return { code, stderr, ...(JSON.parse(stdout) as { ok: boolean; faults: Fault[]; warnings: unknown[] }) };
  });
interface Fault {
  path: string;
  found: string;
  expected: string;
  nearest?: string;
}

describe("the command line", () => {
  it("tells of every command, and each of itself", async () => {
    const overview = await unseam(".", "--help");
    expect(overview).toMatchObject({ code: 0, stderr: "" });
    for (const { name, summary, help } of await allCommands()) {
      expect(overview.stdout).toContain(summary);
      expect(await unseam(".", name, "--help")).toEqual({ code: 0, stderr: "", stdout: help.trimEnd().concat("\n") });
      for (const line of help.split("\n")) expect(line.length, `${name}: ${line}`).toBeLessThanOrEqual(80);
    }
    expect((await allCommands()).map(({ name }) => name)).toEqual(commandNames());
  });

  it("says its version", async () => {
    expect((await unseam(".", "--version")).stdout).toMatch(/^\d+\.\d+\.\d+\n$/);
  });

  it.each([
    [[], "A command is missing"],
    [["chekc", "x.json"], "Nearest: check"],
    [["--jsno"], "no option"],
    [["check"], "FILE is missing"],
    [["check", "a.json", "b.json"], '"b.json" is one word too many'],
    [["check", "a.json", "--jsn"], "Nearest: --json"],
    [["check", "a.json", "--json=yes"], "does not take an argument"],
    [["../secrets"], "no command"],
    [["toString"], "no command"],
  ])("is at fault itself with exit code 2: %j", async (words, message) => {
    const { code, stdout, stderr } = await unseam(".", ...words);
    expect(code).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toContain(message);
    expect(stderr).toContain("--help");
  });

  it("reads numbers, words and lists given to options, and refuses others", () => {
    expect(numberOption("limit", "2.5", 0, 10)).toBe(2.5);
    expect(numberOption("limit", "1e1", 0, 10)).toBe(10);
    for (const bad of ["", "x", "NaN", "-1", "11", "Infinity", "0x1", "1 2"]) {
      expect(() => numberOption("limit", bad, 0, 10)).toThrow(UsageError);
    }
    expect(wordOption("least", "steps", ["seconds", "steps"])).toBe("steps");
    expect(() => wordOption("least", "toString", ["seconds", "steps"])).toThrow(/seconds, steps/);
    expect(listOption("to", "a, b")).toEqual(["a", "b"]);
    expect(() => listOption("to", "a,,b")).toThrow(UsageError);
  });
});

describe("unseam check", () => {
  it("passes a valid record", async () => {
    expect(await checked("a.json", text)).toEqual({ code: 0, ok: true, faults: [], warnings: [], stderr: "" });
    expect(await checked("a.json", `\ufeff${text}`)).toMatchObject({ code: 0, ok: true });
  });

  it("tells all faults at once, with the path and the nearest right spelling", async () => {
    const { code, ok, faults } = await checked(
      "a.json",
      text.replace('"cover"]', '"covr"]').replace('"adhesive"', '"adhesiv"').replace('"media"', '"mdeia"'),
    );
    expect({ code, ok }).toEqual({ code: 1, ok: false });
    const at = (path: string) => faults.filter((fault) => fault.path === path);
    expect(at("joints[0].holds[1]")[0]).toMatchObject({ nearest: "cover" });
    expect(at("joints[0].kind")[0]).toMatchObject({ nearest: "adhesive" });
    expect(at("mdeia")[0]).toMatchObject({ nearest: "media" });
  });

  it("lets no name in a record command the terminal", () =>
    inFolder(async (folder) => {
      const name = "\u001b[2J<b>Slab</b>\u009b31m\r";
      writeFileSync(join(folder, "a.json"), writeRecord(sample(1, name)));
      expect((await unseam(folder, "check", "a.json")).stdout).toContain("of \ufffd[2J<b>Slab</b>\ufffd31m\ufffd:");
    }));

  it("warns of a part that nothing gets out, and of what blocks it", async () => {
    const record = sample(1);
    const locked = { ...record, parts: [...record.parts, { id: "cell", name: "Cell", under: [["cover"]] }] };
    locked.joints = [{ ...record.joints[0], releases: [{ action: "pry", tools: [], leaves: "broken" }] }];
    const { code, ok, warnings } = await checked("a.json", writeRecord(locked));
    expect({ code, ok }).toEqual({ code: 0, ok: true });
    expect(warnings).toHaveLength(2);
    expect(warnings).toContainEqual({ path: "parts[1]", text: expect.stringMatching(/Back cover.*bond/) });
    expect(warnings).toContainEqual({ path: "parts[2]", text: expect.stringMatching(/Cell.*Back cover/) });
  });

  it.each([
    ["truncated", text.slice(0, 300), /line \d+, column \d+/, /./],
    ["empty", "", /end of the text/, /value/],
    ["NaN", text.replace('"joints": [', '"joints": NaN, "x": ['), /NaN at line/, /finite/],
    ["a key twice", text.replace('"tools": []', '"tools": [], "tools": []'), /a second time at line/, /once/],
    ["not UTF-8", Buffer.from([0x7b, 0xff, 0x7d]), /no UTF-8/, /UTF-8/],
    ["UTF-16", Buffer.from(`\ufeff${text}`, "utf16le"), /UTF-16/, /UTF-8/],
    ["another thing", "[1, 2]", /list|array/, /object/],
    ["deep", `${"[".repeat(100_000)}`, /\[/, /nesting/],
    ["a newer format", text.replace("unseam/1", "unseam/2"), /newer version/, /unseam\/1/],
  ])("refuses JSON that is %s", async (_, content, found, expected) => {
    const answer = await checked("a.json", content);
    expect({ code: answer.code, ok: answer.ok }).toEqual({ code: 1, ok: false });
    expect(answer.faults[0].found).toMatch(found);
    expect(answer.faults[0].expected).toMatch(expected);
  });

  it("reads YAML by the file's name", async () => {
    const yaml = `
format: unseam/1
id: 00000000-0000-4000-8000-000000000001
device: { name: Slab, kind: smartphone, foldable: false, price: { amount: "12.50", currency: EUR } }
parts:
  - { id: frame, name: Frame, base: true }
  - { id: cover, name: "yes" }
joints: [{ id: bond, kind: adhesive, holds: [frame, cover], releases: [] }]
tools: &none []
instruments: *none
log: *none
readings: *none
claims: *none
media: *none
`;
    expect(await checked("a.yaml", yaml)).toMatchObject({ code: 0, ok: true });
    expect(await checked("a.YML", yaml)).toMatchObject({ code: 0, ok: true });
    expect(await checked("a.txt", yaml)).toMatchObject({ code: 1, ok: false });
    expect((await checked("a.yaml", yaml.replace("name: Slab", "name: .nan"))).code).toBe(1);
  });

  const bomb = ["a: &a [x,x,x,x,x,x,x,x,x,x]"];
  for (let n = 1; n < 12; n += 1) {
    const [name, before] = [String.fromCharCode(97 + n), String.fromCharCode(96 + n)];
    bomb.push(`${name}: &${name} [${Array(10).fill(`*${before}`).join(",")}]`);
  }
  it.each([
    ["a bomb of aliases", bomb.join("\n"), /unfold/],
    ["an alias in itself", "a: &a [*a]", /./],
    ["a key twice", "a: 1\na: 2", /unique.*line 2/],
    ["a broken line", "a: [1, 2\nb: 3", /line/],
    ["deep", `${"[".repeat(5000)}${"]".repeat(5000)}`, /nesting|deep/i],
    ["two documents", "a: 1\n---\nb: 2", /document/],
  ])("refuses YAML that is %s", async (_, content, found) => {
    const answer = await checked("a.yaml", content);
    expect({ code: answer.code, ok: answer.ok }).toEqual({ code: 1, ok: false });
    expect(answer.faults[0].found).toMatch(found);
  });

  it("refuses what is no file, and a file of 200 MB without reading it", () =>
    inFolder(async (folder) => {
      mkdirSync(join(folder, "sub.json"));
      writeFileSync(join(folder, "big.json"), "");
      truncateSync(join(folder, "big.json"), 200_000_000);
      for (const [name, found] of [
        ["none.json", /no such file/],
        ["sub.json", /folder/],
        ["big.json", /200 MB/],
      ] as const) {
        const before = process.memoryUsage().rss;
        const { code, stdout, stderr } = await unseam(folder, "check", name, "--json");
        expect(code).toBe(1);
        expect(JSON.parse(stdout).faults[0].found).toMatch(found);
        expect(stderr).toMatch(found);
        expect(process.memoryUsage().rss - before).toBeLessThan(100_000_000);
      }
    }));
});

describe("records beside the one given", () => {
  const context = (cwd: string) => ({
    cwd,
    args: [],
    stdout: () => {},
    stderr: (text: string) => void notes.push(text),
  });
  const notes: string[] = [];
  const record = { ...sample(1), sibling: sample(2).id };

  it("are found in the same folder, and a faulty one is noted", () =>
    inFolder(async (folder) => {
      writeFileSync(join(folder, "a.json"), writeRecord(record));
      writeFileSync(join(folder, "broken.json"), "{");
      writeFileSync(join(folder, "notes.txt"), "nothing");
      expect(await findSibling(context(folder), "a.json", record)).toBeUndefined();
      writeFileSync(join(folder, "z.json"), writeRecord(sample(2, "Sibling")));
      expect((await findSibling(context("/"), join(folder, "a.json"), record))?.device.name).toBe("Sibling");
      writeFileSync(join(folder, "z.json"), writeRecord({ ...sample(2), parts: [] }));
      expect(await findSibling(context(folder), "a.json", record)).toBeUndefined();
      expect(notes.join("")).toContain("z.json has faults");
    }));

  it("are taken from the file that is named", () =>
    inFolder(async (folder) => {
      writeFileSync(join(folder, "other.json"), writeRecord(sample(3, "Named")));
      expect((await findSibling(context(folder), "a.json", record, "other.json"))?.device.name).toBe("Named");
      await expect(findSibling(context(folder), "a.json", record, "none.json")).rejects.toThrow(/no such file/);
      await expect(readRecord(context(folder), "none.json")).rejects.toThrow(/no such file/);
    }));

  it("are found in the workspace", () =>
    inFolder(async (folder) => {
      const before = process.env.UNSEAM_DATA;
      process.env.UNSEAM_DATA = join(folder, "data");
      try {
        expect(await findSibling(context(folder), "a.json", record)).toBeUndefined();
        const store = await openSqliteStore(join(folder, "data"), { now: () => new Date().toISOString() });
        await store.import(sample(2, "Kept"));
        await store.close();
        expect((await findSibling(context(folder), "a.json", record))?.device.name).toBe("Kept");
      } finally {
        if (before === undefined) delete process.env.UNSEAM_DATA;
        else process.env.UNSEAM_DATA = before;
      }
    }));
});

describe("the process", () => {
  const main = fileURLToPath(new URL("../src/cli/main.ts", import.meta.url));
  const start = (...words: string[]) => spawn(process.execPath, ["--import", "tsx", main, ...words]);

  it("does not mind a reader that has seen enough", async () => {
    const child = start("--help");
    child.stdout.destroy();
    let stderr = "";
    child.stderr.on("data", (chunk) => (stderr += chunk));
    const [code] = await once(child, "close");
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
  });

  it("ends with the exit code", async () => {
    const child = start("check", "/none.json");
    child.stdout.resume();
    child.stderr.resume();
    expect((await once(child, "close"))[0]).toBe(1);
  });
});

it("says what is our fault with a stack trace and exit code 3", async () => {
  const broken: Command = {
    name: "broken",
    summary: "",
    help: "",
    run: () => Promise.reject(new TypeError("undefined is not a part")),
  };
  let stderr = "";
  const world = { cwd: ".", stdout: () => {}, stderr: (text: string) => void (stderr += text) };
  const code = await run(["broken"], world, async () => broken);
  expect(code).toBe(3);
  expect(stderr).toMatch(/fault of Unseam[\s\S]*undefined is not a part\n\s+at /);
});
