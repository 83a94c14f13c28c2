/** The brief for a terminal of 80 columns. */
import type { TeardownRecord } from "../core/record/index.ts";
import type { Brief } from "../core/service/afternoon/index.ts";
import { type BriefTerms, briefSections } from "../paper/brief-lines.ts";
import { wrap } from "./wrap.ts";

export function briefText(record: TeardownRecord, brief: Brief, terms: BriefTerms): string {
  const sections = briefSections(record, brief, terms).map(({ title, lines }) =>
    [
      title.toUpperCase(),
      ...lines.map(({ kind, text }) =>
        kind === "line"
          ? wrap(text, 80)
          : kind === "more"
            ? wrap(text, 80, "  ", "    ")
            : wrap(`! ${text}`, 80, "  ", "    "),
      ),
    ].join("\n"),
  );
  return `${sections.join("\n\n")}\n`;
}
