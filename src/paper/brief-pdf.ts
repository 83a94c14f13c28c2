/** The brief on paper: what lies on the bench while the device is opened. */
import type { TeardownRecord } from "../core/record/index.ts";
import type { Brief } from "../core/service/afternoon/index.ts";
import { closedView, drawDevice, placeDevice } from "../figures/index.ts";
import { type BriefTerms, briefSections } from "./brief-lines.ts";
import { Flow } from "./flow.ts";
import { type Imprint, withFeet } from "./frame.ts";
import type { Measure, PageSize, PaperDocument } from "./page.ts";
import { LANGUAGES, sayer } from "./words/index.ts";

/** mm. */
const TALL = 96;
const say = sayer(LANGUAGES.en!);

export function briefPdf(
  record: TeardownRecord,
  brief: Brief,
  terms: BriefTerms,
  imprint: Imprint,
  measure: Measure,
  size: PageSize,
): PaperDocument {
  const title = `${record.device.name}: brief`;
  const flow = new Flow(measure, size);
  flow.title(title);
  for (const [index, section] of briefSections(record, brief, terms).entries()) {
    if (index > 0) flow.head(section.title);
    for (const { kind, text } of section.lines) {
      if (kind === "caution") flow.caution(text);
      else flow.say(text, kind === "more");
    }
    const device = index === 0 ? placeDevice(record) : null;
    if (device !== null)
      flow.figure(
        drawDevice(device, { ...closedView(device, 600, 420), still: true }, record.device.name).scene,
        "Closed, seen from the back, and the section beside it, as far as the record knows it.",
        TALL,
      );
  }
  return {
    title,
    subject: "Brief before a teardown",
    language: "en",
    date: imprint.date,
    pages: withFeet(flow.finish(), imprint, "Brief", say),
  };
}
