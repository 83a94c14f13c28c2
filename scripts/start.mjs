/**
 * `npm start`: installs and builds what is missing, then serves the app with the example workspace.
 *
 * Options after `--` go to `unseam serve`: --port N, --data DIR.
 */
import { ensureBuilt } from "./lib/build.mjs";
import { inRoot, script, userFolder } from "./lib/checkout.mjs";
import { ensureDriver, ensureInstalled } from "./lib/install.mjs";

/** npm that is told to end goes without a word to what it started: nobody should find a server left over. */
function endWithNpm() {
  if (process.env.npm_lifecycle_event !== "start") return;
  const parent = process.ppid;
  setInterval(() => process.ppid === parent || process.kill(process.pid, "SIGTERM"), 300).unref();
}

await script(async () => {
  endWithNpm();
  ensureDriver(ensureInstalled());
  await ensureBuilt();
  const { main } = await import("../dist/cli/run.js");
  process.exitCode = await main(["serve", "--examples", inRoot("examples"), ...process.argv.slice(2)], userFolder());
});
