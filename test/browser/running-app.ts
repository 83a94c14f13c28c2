/**
 * The built app on a folder of its own, and a browser to look at it: started before the tests of a file, killed and served
 * again where a test wants that, and gone without a trace after them.
 */
import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Browser, chromium } from "playwright-core";

export const root = new URL("../../", import.meta.url).pathname;
/** Screenshots go here. */
export const artifacts = join(root, "test-artifacts");
const command = join(root, "dist/cli/main.js");
const executablePath = [process.env.UNSEAM_CHROMIUM ?? "", "/usr/bin/chromium", "/usr/bin/chromium-browser"].find(
  existsSync,
);
const FLAGS = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

export class RunningApp {
  base = "";
  readonly browser: Browser;
  private readonly folder: string;
  private readonly examples: boolean;
  private server: ChildProcess | null = null;

  private constructor(browser: Browser, folder: string, examples: boolean) {
    this.browser = browser;
    this.folder = folder;
    this.examples = examples;
  }

  /** @param examples whether the example workspace is loaded */
  static async start(examples = true): Promise<RunningApp> {
    if (executablePath === undefined) throw new Error("No Chromium: install Debian's package chromium and try again.");
    if (!existsSync(command) || !existsSync(join(root, "dist/web/index.html")))
      throw new Error("No build: run npm run build first.");
    mkdirSync(artifacts, { recursive: true });
    const browser = await chromium.launch({ executablePath, args: FLAGS });
    const app = new RunningApp(browser, mkdtempSync(join(tmpdir(), "unseam-browser-")), examples);
    await app.serve();
    return app;
  }

  /** Serves the same folder, after the first time on the same port. */
  async serve(): Promise<void> {
    const port = this.base === "" ? "0" : new URL(this.base).port;
    const examples = this.examples ? ["--examples", join(root, "examples")] : [];
    const server = spawn(process.execPath, [command, "serve", "--port", port, "--data", this.folder, ...examples]);
    this.server = server;
    this.base = await new Promise<string>((resolve, reject) => {
      let said = "";
      const hear = (piece: Buffer) => {
        said += piece.toString();
        const address = /http:\/\/127\.0\.0\.1:\d+/.exec(said)?.[0];
        if (address) resolve(address);
      };
      server.stdout.on("data", hear);
      server.stderr.on("data", hear);
      server.on("exit", (code) => reject(new Error(`the server ended with ${code}: ${said}`)));
    });
  }

  /** Puts a record into the folder that is served. */
  add(record: object): Promise<Response> {
    return fetch(`${this.base}/api/records`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(record),
    });
  }

  /** As a power cut would, and waits until it is gone. */
  async kill(): Promise<void> {
    const { server } = this;
    if (server === null || server.exitCode !== null || server.signalCode !== null) return;
    server.removeAllListeners("exit");
    const gone = new Promise((resolve) => server.once("exit", resolve));
    server.kill("SIGKILL");
    await gone;
  }

  async stop(): Promise<void> {
    await this.browser.close();
    await this.kill();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
