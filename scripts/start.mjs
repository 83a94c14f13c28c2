/**
 * `npm start`: installs and builds what is missing, then serves the app with the example workspace.
 *
 * Options after `--` go to `unseam serve`: --port N, --data DIR.
 */
import { ensureBuilt } from "./lib/build.mjs";
import { inRoot, script, userFolder } from "./lib/checkout.mjs";
import { ensureDriver, ensureInstalled } from "./lib/install.mjs";

await script(async () => {
  ensureDriver(ensureInstalled());
  await ensureBuilt();
  const { main } = await import("../dist/cli/run.js");
  process.exitCode = await main(["serve", "--examples", inRoot("examples"), ...process.argv.slice(2)], userFolder());
});
