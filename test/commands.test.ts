/** The commands of package.json as a person runs them, each in its own process. */
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { writeRecord } from "../src/core/record/index.ts";
import { sample } from "../src/store/acceptance.ts";
import { inFolder } from "./helpers/cli.ts";

const root = fileURLToPath(new URL("..", import.meta.url));

interface Ended {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

async function ended(child: ChildProcess): Promise<Ended> {
  let stdout = "";
  let stderr = "";
  child.stdout?.on("data", (chunk) => (stdout += chunk));
  child.stderr?.on("data", (chunk) => (stderr += chunk));
  const [code] = await once(child, "close");
  return { code, stdout, stderr };
}

const npm = (cwd: string, ...words: string[]) => ended(spawn("npm", ["--prefix", root, ...words], { cwd }));

describe("npm run -s unseam", () => {
  it("takes paths from where the user stands and prints the answer alone", () =>
    inFolder(async (folder) => {
      writeFileSync(join(folder, "slab.json"), writeRecord(sample(1)));
      const { code, stdout } = await npm(folder, "run", "-s", "unseam", "--", "check", "slab.json", "--json");
      expect({ code, answer: JSON.parse(stdout) }).toEqual({ code: 0, answer: { ok: true, faults: [], warnings: [] } });
    }));

  it("hands the exit code on", async () => {
    expect((await npm(root, "run", "-s", "unseam", "--", "check", "none.json")).code).toBe(1);
    expect((await npm(root, "run", "-s", "unseam", "--", "chekc")).code).toBe(2);
  });
});

describe("npm start", () => {
  const start = (folder: string, ...words: string[]) =>
    spawn(process.execPath, [join(root, "scripts", "start.mjs"), ...words], {
      cwd: folder,
      env: { ...process.env, INIT_CWD: folder },
    });

  it("serves the example workspace, keeps what is saved and ends when asked to", () =>
    inFolder(async (folder) => {
      const server = start(folder, "--port", "0", "--data", "records");
      const end = ended(server);
      const url = await addressOf(server);
      const records = (await (await fetch(`${url}api/records`)).json()) as { id: string; revision: number }[];
      expect(records.length).toBeGreaterThanOrEqual(3);
      expect(existsSync(join(folder, "records", "workspace.sqlite"))).toBe(true);

      const [{ id }] = records;
      const edits = [{ kind: "head", path: ["unit"], value: { condition: "used" } }];
      const saved = await fetch(`${url}api/records/${id}/edits`, {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify({ on: 1, edits }),
      });
      expect(saved.status).toBe(200);
      server.kill("SIGINT");
      expect((await end).code).toBe(0);

      // The workspace is not empty any more: the examples are not loaded over it.
      const again = start(folder, "--port", "0", "--data", "records");
      const endAgain = ended(again);
      const kept = await fetch(`${await addressOf(again)}api/records/${id}`);
      expect(await kept.json()).toMatchObject({ revision: 2, record: { unit: { condition: "used" } } });
      again.kill("SIGTERM");
      expect((await endAgain).code).toBe(0);
    }));

  it("leaves no server behind when npm is told to end", () =>
    inFolder(async (folder) => {
      const words = ["--prefix", root, "start", "--", "--port", "0", "--data", "records"];
      const started = spawn("npm", words, { cwd: folder });
      const end = ended(started);
      const url = await addressOf(started);
      started.kill("SIGTERM");
      // The pipes close when the last process that writes to them is gone.
      await end;
      await expect(fetch(`${url}api/health`)).rejects.toThrow();
    }));

  it.each([
    [["--port", "70000"], 2, "--port takes a number from 0 to 65535"],
    [["--port", "80.5"], 2, "--port takes a number"],
    [["--prot", "1"], 2, "Nearest: --port"],
    [["records"], 2, "one word too many"],
  ])("refuses %j in words", async (words, code, message) => {
    const answer = await inFolder((folder) => ended(start(folder, ...words)));
    expect(answer.code).toBe(code);
    expect(answer.stderr).toContain(message);
    expect(answer.stderr).not.toMatch(/\n\s+at /);
  });

  it("says in words that the port is taken, and that a data folder cannot be used", () =>
    inFolder(async (folder) => {
      const server = start(folder, "--port", "0", "--data", "records");
      const end = ended(server);
      const { port } = new URL(await addressOf(server));
      const second = await ended(start(folder, "--port", port, "--data", "others"));
      expect(second).toMatchObject({ code: 1, stderr: expect.stringMatching(/port \d+ in use already.*--port/) });
      server.kill("SIGINT");
      await end;
      writeFileSync(join(folder, "file"), "");
      const third = await ended(start(folder, "--port", "0", "--data", "file"));
      expect(third.code).toBe(1);
      expect(third.stderr).not.toMatch(/\n\s+at /);
      mkdirSync(join(folder, "bad"));
      writeFileSync(join(folder, "bad", "workspace.sqlite"), "no database".repeat(500));
      const fourth = await ended(start(folder, "--port", "0", "--data", "bad"));
      expect(fourth).toMatchObject({ code: 1, stderr: expect.stringMatching(/damaged or no database/) });
    }));
});

/** The address that the server prints when it is ready. */
function addressOf(server: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let text = "";
    server.stdout?.on("data", (chunk) => {
      text += chunk;
      const found = /http:\/\/127\.0\.0\.1:\d+\//.exec(text)?.[0];
      if (found !== undefined) resolve(found);
    });
    server.once("exit", () => reject(new Error(`the server ended without an address: ${text}`)));
  });
}
