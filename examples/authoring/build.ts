/**
 * Writes the example workspace: `node --import tsx examples/authoring/build.ts`.
 *
 * A test holds that the files in `examples/` are what this makes, so a record is changed here and not in the JSON.
 */
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { exampleFiles } from "./files.ts";

const folder = fileURLToPath(new URL("../", import.meta.url));
for (const [name, text] of Object.entries(exampleFiles())) {
  writeFileSync(`${folder}${name}`, text);
  process.stderr.write(`${name}: ${text.length} characters\n`);
}
