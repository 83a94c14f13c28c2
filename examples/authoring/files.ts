/** Every file of the example workspace that is made by the authoring scripts: name -> text. */
import { writeRecord } from "../../src/core/record/index.ts";
import { webVtt } from "./afternoon.ts";
import { look as look5, thrandle5 } from "./thrandle-5/index.ts";

export const RECORDS = { "thrandle-5": thrandle5 };

export function exampleFiles(): Record<string, string> {
  const files: Record<string, string> = {};
  for (const [slug, record] of Object.entries(RECORDS)) files[`${slug}.json`] = writeRecord(record);
  files["thrandle-5.vtt"] = webVtt(look5.cues);
  return files;
}
