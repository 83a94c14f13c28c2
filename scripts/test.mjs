/**
 * `npm test`: installs what is missing (the browser for the browser tests included), builds, then type-checks, lints
 * and runs every test. Every stage is run, so that one fault does not hide another; any fault makes the exit code 1.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { ensureBrowser } from "./lib/browser.mjs";
import { ensureBuilt } from "./lib/build.mjs";
import { inRoot, readOr, root, script } from "./lib/checkout.mjs";
import { ensureDriver, ensureInstalled } from "./lib/install.mjs";

const stages = [];

await script(async () => {
  ensureDriver(ensureInstalled());
  const browser = ensureBrowser();
  await stage("build", async () => {
    await ensureBuilt();
    return true;
  });
  await stage("types", () => run("typescript/bin/tsc", ["-p", "tsconfig.json"]));
  await stage("lint", () => run("@biomejs/biome/bin/biome", ["ci", "--max-diagnostics=50"]));
  const counts = { passed: 0, failed: 0, skipped: 0 };
  await stage("tests", () => vitest(["--exclude", "test/browser/**"], counts, {}));
  if (existsSync(inRoot("test", "browser"))) {
    await stage("browser tests", () =>
      browser === undefined ? false : vitest(["test/browser"], counts, { UNSEAM_CHROMIUM: browser }),
    );
  }
  for (const { name, ok, seconds } of stages) say(`${ok ? "ok    " : "FAILED"} ${name}, ${seconds.toFixed(1)} s`);
  const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : "";
  say(`${counts.passed} passed, ${counts.failed} failed${skipped}`);
  process.exitCode = stages.every((stage) => stage.ok) && counts.failed === 0 ? 0 : 1;
});

async function stage(name, work) {
  say(`\n== ${name}`);
  const start = performance.now();
  let ok = false;
  try {
    ok = await work();
  } catch (error) {
    say(error.message);
  }
  stages.push({ name, ok, seconds: (performance.now() - start) / 1000 });
}

function run(tool, args, env = {}) {
  const done = spawnSync(process.execPath, [inRoot("node_modules", tool), ...args], {
    cwd: root,
    env: { ...process.env, ...env },
    stdio: ["ignore", "inherit", "inherit"],
  });
  return done.status === 0;
}

/** Runs vitest and adds its counts to the sum; the browser tests come last, with the machine to themselves. */
function vitest(args, counts, env) {
  const folder = mkdtempSync(join(tmpdir(), "unseam-test-"));
  try {
    const file = join(folder, "counts.json");
    const reporters = ["--reporter=default", "--reporter=json", `--outputFile.json=${file}`];
    const ok = run("vitest/vitest.mjs", ["run", ...args, ...reporters], env);
    const result = JSON.parse(readOr(file, "{}"));
    counts.passed += result.numPassedTests ?? 0;
    counts.failed += result.numFailedTests ?? 0;
    counts.skipped += (result.numPendingTests ?? 0) + (result.numTodoTests ?? 0);
    return ok;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function say(text) {
  process.stdout.write(`${text}\n`);
}
