/** `npm run build`: makes `dist/` from the sources. */
import { buildAlways } from "./lib/build.mjs";
import { script } from "./lib/checkout.mjs";

await script(buildAlways);
