/** `npm run -s unseam -- ARGS`: the command line from the checkout; paths are meant from where the user stands. */
import { ensureBuilt } from "./lib/build.mjs";
import { script, userFolder } from "./lib/checkout.mjs";
import { ensureInstalled } from "./lib/install.mjs";

await script(async () => {
  ensureInstalled();
  await ensureBuilt();
  const { main } = await import("../dist/cli/run.js");
  process.exitCode = await main(process.argv.slice(2), userFolder());
});
