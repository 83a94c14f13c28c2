/** Every file of the example workspace that is made by the authoring scripts: name -> text. */
import { writeRecord } from "../../src/core/record/index.ts";
import { subRip, webVtt } from "./afternoon.ts";
import { halverim11, look as lookH } from "./halverim-11/index.ts";
import { pictures } from "./pictures.ts";
import { plicarn1 } from "./plicarn-1/index.ts";
import { look as look4, thrandle4 } from "./thrandle-4/index.ts";
import { look as look5, thrandle5 } from "./thrandle-5/index.ts";

export const RECORDS = {
  "thrandle-5": thrandle5,
  "thrandle-4": thrandle4,
  "halverim-11": halverim11,
  "plicarn-1": plicarn1,
};

export function exampleFiles(): Record<string, string> {
  const files: Record<string, string> = {};
  for (const [slug, record] of Object.entries(RECORDS)) files[`${slug}.json`] = writeRecord(record);
  files["thrandle-5.vtt"] = webVtt(look5.cues);
  files["thrandle-4.srt"] = subRip(look4.cues);
  files["halverim-11.vtt"] = webVtt(lookH.cues);
  for (const [name, text] of Object.entries(pictures())) files[`media/${name}`] = text;
  return files;
}
