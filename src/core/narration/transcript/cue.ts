/** One timed piece of talk: what was said, when it began, and the line of the file it stands on. */
export interface Cue {
  /** Seconds from the start of the recording; null when the text has no clock. */
  readonly at: number | null;
  /** Seconds at which the cue ends, where the form says so. */
  readonly until: number | null;
  readonly text: string;
  /** Line of the file, from 1. */
  readonly line: number;
}

export type TranscriptForm = "webvtt" | "subrip" | "clocked" | "plain";

export interface Warning {
  /** Line of the file, from 1; 0 when it concerns the whole file. */
  readonly line: number;
  readonly text: string;
}

export interface Transcript {
  readonly kind: "transcript";
  readonly form: TranscriptForm;
  readonly cues: readonly Cue[];
  readonly warnings: readonly Warning[];
}

/** More warnings than this are told as a number: a broken file of 100 000 cues must not answer with as many lines. */
const MOST_WARNINGS = 20;

/** Collects warnings and keeps their number readable. */
export class Warnings {
  readonly #list: Warning[] = [];
  #more = 0;

  add(line: number, text: string): void {
    if (this.#list.length < MOST_WARNINGS) this.#list.push({ line, text });
    else this.#more += 1;
  }

  list(): readonly Warning[] {
    if (this.#more === 0) return this.#list;
    return [...this.#list, { line: 0, text: `${this.#more} more faults of this kind, not listed` }];
  }
}
