/**
 * The HTTP interface in types: every path, what goes in and what comes out. Types only, so that the browser
 * application can import it without bringing a server along.
 *
 * | method and path                         | in                            | out                                |
 * | --------------------------------------- | ----------------------------- | ---------------------------------- |
 * | GET  /api/health                        |                               | `Health`                           |
 * | GET  /api/records                       |                               | `RecordHead[]`, newest first       |
 * | POST /api/records?on=REV                | a record (JSON)               | `Saved`; 409 `Stale`               |
 * | GET  /api/records/ID?revision=REV       |                               | `KeptRecord`                       |
 * | POST /api/records/ID/edits              | `SaveRequest`                 | `Saved`; 409 `Stale`               |
 * | GET  /api/records/ID/history            |                               | `Revision[]`, newest first         |
 * | POST /api/records/ID/restore            | `RestoreRequest`              | `Saved`; 409 `Stale`               |
 * | GET  /api/records/ID/export?revision=REV |                              | the record's canonical text        |
 * | GET  /api/find?words=WORDS              |                               | `Found[]`                          |
 * | POST /api/records/ID/ways               | `Question`                    | `WayIn`; 422 `Unreachable`         |
 * | GET  /api/records/ID/law?basis=BASIS    |                               | as `unseam law --json`             |
 * | GET  /api/records/ID/figures            |                               | as `unseam figures --json`         |
 * | POST /api/records/ID/sheets           | as `SheetRequest`             | lines of `SheetLine`               |
 * | POST /api/records/ID/sheets/issue     | `{ set }`                     | `IssuedEdition[]`                  |
 * | GET  /api/records/ID/sheets/editions  |                               | `IssuedEdition[]`                  |
 * | GET  /api/records/ID/sheets/file?set=&file= |                         | the file                           |
 * | GET  /api/records/ID/sheets/page?set=&sheet=&page= |                  | the page as SVG                    |
 * | GET  /api/records/ID/sheets/zip?set=  |                               | all files                          |
 * | POST /api/media?name=NAME               | a file (application/octet-stream) | `TakenMedia`                   |
 * | GET  /api/media/NAME?width=WIDTH        |                               | the file, or any range of its bytes; a small JPEG |
 * | GET  /api/openapi.json                  |                               | this interface as OpenAPI 3.1      |
 *
 * The computed answers take `?revision=REV` too; left out, the newest. Every answer that is not 2xx is `Refused`, except
 * 409 `Stale` and 422 `Unreachable`. The answers that need the sibling take it from the workspace by the record's
 * `sibling`. Numbers of revisions begin at 1.
 */
import type { Fault } from "../core/errors.ts";
import type { Edit } from "../core/record/edits.ts";
import type { RecordWarning, TeardownRecord } from "../core/record/index.ts";
import type { Question } from "../core/route/ways/types.ts";

export type { Unreachable, WayIn } from "../core/route/ways/types.ts";
export type { Edit, Fault, Question, RecordWarning, TeardownRecord };

/** Said before a record is opened. */
export interface RecordHead {
  readonly id: string;
  readonly revision: number;
  /** `device.name`. */
  readonly name: string;
  readonly maker: string | null;
  readonly kind: "smartphone" | "slate-tablet" | "other";
  readonly sibling: string | null;
  readonly parts: number;
  readonly joints: number;
  /** ISO 8601, UTC. */
  readonly savedAt: string;
}

export interface KeptRecord {
  readonly revision: number;
  readonly savedAt: string;
  readonly record: TeardownRecord;
  readonly warnings: readonly RecordWarning[];
}

export interface SaveRequest {
  /** The revision that the edits were made on. Another one has been saved since: 409, nothing is overwritten. */
  readonly on: number;
  readonly edits: readonly Edit[];
  /** Made by the sender: the same token sent again (the answer was lost) is answered again and not saved twice. */
  readonly token?: string;
  readonly by?: string;
}

export interface RestoreRequest {
  readonly on: number;
  /** The revision whose content becomes the newest one; what came after it stays in the history. */
  readonly revision: number;
  readonly by?: string;
}

export interface Saved {
  readonly kind: "saved";
  readonly id: string;
  readonly revision: number;
  readonly savedAt: string;
}

/** Somebody else saved in between: what they did, so that edits to other things can be laid on top. */
export interface Stale {
  readonly kind: "stale";
  readonly id: string;
  readonly on: number;
  /** The newest revision. */
  readonly revision: number;
  /** All edits from `on` to `revision`, in order. */
  readonly since: readonly Edit[];
}

export interface Revision {
  readonly revision: number;
  readonly kind: "import" | "edits" | "restore";
  readonly savedAt: string;
  readonly by: string | null;
  readonly edits: readonly Edit[];
}

/** A photograph, film or sound that was taken in. */
export interface TakenMedia {
  /** For `Media.file`; its address is /api/media/NAME. */
  readonly name: string;
  /** For `Media.hash`: "sha256:" and 64 hexadecimal digits. */
  readonly hash: string;
  readonly kind: "photo" | "video" | "audio";
  readonly type: string;
  readonly bytes: number;
  /** Of a picture, upright, in pixels. */
  readonly width?: number;
  readonly height?: number;
  /** Focal length that the camera told, in terms of 35 mm film, mm. */
  readonly focal?: number;
  /** What was done to it, in words: "position data removed". */
  readonly said: readonly string[];
}

/** Where words were found: in a record's head (`list` is "device") or in an item of one of its lists. */
export interface Found {
  readonly record: string;
  readonly list: string;
  readonly id: string;
  readonly text: string;
}

export interface Health {
  readonly ok: true;
  readonly version: string;
}

export interface IssuedEdition {
  readonly edition: number;
  /** ISO 8601 calendar date. */
  readonly date: string;
  /** Of the record's text. */
  readonly revision: string;
}

/** A set of sheets that was laid out; its files and pages are asked for by `set`. */
export interface LaidOut {
  readonly set: string;
  readonly edition: IssuedEdition;
  /** It is an edition already. */
  readonly issued: boolean;
  /** Issued earlier, oldest first. */
  readonly editions: readonly IssuedEdition[];
  /** Screws whose length has changed: the editions of that sheet to take back. */
  readonly recalls: readonly {
    readonly sheet: string;
    readonly editions: readonly number[];
    readonly number: string;
    readonly before: number | null;
    readonly now: number | null;
  }[];
  readonly notes: readonly string[];
  readonly files: readonly { readonly name: string; readonly bytes: number }[];
  readonly sheets: readonly { readonly name: string; readonly title: string; readonly pages: number }[];
}

/** A line of the answer to POST /api/records/ID/sheets. */
export type SheetLine =
  | { readonly kind: "progress"; readonly done: number; readonly of: number }
  | ({ readonly kind: "laid-out" } & LaidOut)
  | { readonly kind: "refused"; readonly faults: readonly Fault[] };

/** What was wrong with a request, for people. `status` 400 to 422: the caller's; 500 and above: ours. */
export interface Refused {
  readonly ok: false;
  readonly faults: readonly Fault[];
}
