/** Sheets as the thread makes them: files, and every page as a picture for the preview. */
import type { Condition, Hazard, TeardownRecord } from "../core/record/index.ts";
import type { SwapSettings } from "../core/service/swap/index.ts";
import type { Edition, Recall } from "../paper/edition.ts";
import type { SheetFile } from "../paper/make-sheets.ts";
import type { PageSize } from "../paper/page.ts";
import type { Measured } from "../paper/screw-sheet.ts";

/** What is asked of a set of sheets. */
export interface SheetRequest {
  /** Jobs, each one or several parts; left out: every part with a role of the law's that can be reached. */
  readonly jobs?: readonly (readonly string[])[];
  readonly language: "en" | "de";
  readonly size: PageSize;
  readonly measured?: Measured;
  /** ISO 8601 calendar date, the asker's. */
  readonly date: string;
  readonly conditions?: readonly Condition[];
  readonly accept?: readonly Hazard[];
  readonly damage?: boolean;
  readonly settings?: Partial<SwapSettings>;
}

export interface SheetTask {
  readonly record: TeardownRecord;
  readonly sibling?: TeardownRecord;
  readonly request: SheetRequest;
  /** Issued earlier, oldest first. */
  readonly editions: readonly Edition[];
  readonly version: string;
}

export interface SheetSet {
  readonly edition: Edition;
  readonly editions: readonly Edition[];
  readonly recalls: readonly { readonly sheet: string; readonly recall: Recall }[];
  readonly notes: readonly string[];
  readonly files: readonly SheetFile[];
  /** SVG of each page. */
  readonly previews: readonly { readonly name: string; readonly title: string; readonly pages: readonly string[] }[];
}

/** Milliseconds of a counting clock for each swap. */
const PLAN_LIMIT = 1000;

/** @param progress may throw, which ends the making */
export async function makeSheetSet(
  { record, sibling, request, editions, version }: SheetTask,
  progress: (done: number, of: number) => void,
): Promise<SheetSet> {
  const [{ makeSheets }, { LANGUAGES }, { pageSvg }, { measurer }] = await Promise.all([
    import("../paper/make-sheets.ts"),
    import("../paper/words/index.ts"),
    import("../paper/page-svg.ts"),
    import("../paper/pdf-writer.ts"),
  ]);
  const { jobs, language, size, measured, date, conditions, accept, damage, settings } = request;
  const made = await makeSheets(record, {
    ...(jobs === undefined ? {} : { jobs }),
    question: {
      ...(conditions === undefined ? {} : { conditions }),
      ...(accept === undefined ? {} : { accept }),
      ...(damage === undefined ? {} : { damage }),
      ...(settings === undefined ? {} : { settings }),
    },
    words: LANGUAGES[language]!,
    size,
    ...(measured === undefined ? {} : { measured }),
    date,
    version,
    editions,
    ...(sibling === undefined ? {} : { sibling }),
    limit: PLAN_LIMIT,
    progress,
  });
  const measure = measurer();
  const previews = made.sheets.map(({ name, document }) => ({
    name,
    title: document.title,
    pages: document.pages.map((page, i) =>
      pageSvg(page, `${document.title}, page ${i + 1} of ${document.pages.length}`, measure),
    ),
  }));
  const { edition, recalls, notes, files } = made;
  return { edition, editions: made.editions, recalls, notes, files, previews };
}
