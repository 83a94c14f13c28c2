/**
 * Out again, for whoever edits the video: chapters by stage of the work and captions of the measured figures, as WebVTT
 * (W3C, WebVTT: The Web Video Text Tracks Format, section 4). A stage is the work up to the moment at which a part comes
 * off, and has that part's name.
 */
import type { Entry, TeardownRecord } from "../record/index.ts";
import { clockText } from "./transcript/clock.ts";

/** A figure to be shown: at which second, and its text with the precision that it bears. */
export interface ShownFigure {
  readonly at: number;
  readonly text: string;
}

interface Timed {
  readonly at: number;
  readonly until: number;
  readonly text: string;
}

/** How long a figure stays, s: common practice for a line of 40 signs, no source. */
const SHOWN = 4;
/** Shortest chapter and shortest caption, s. */
const SHORTEST = 0.5;

/** Chapters by stage: each begins with the first work on what comes off next. Empty where no entry has a time. */
export function chapters(record: TeardownRecord): readonly Timed[] {
  const name = new Map(record.parts.map((part) => [part.id, part.name]));
  const work = record.log
    .filter((entry): entry is Entry & { at: number } => entry.at !== undefined && entry.action !== "note")
    .sort((a, b) => a.at - b.at);
  const found: { at: number; text: string }[] = [];
  let start: number | null = null;
  for (const entry of work) {
    start ??= entry.at;
    if (entry.action !== "lift" && entry.action !== "shift") continue;
    const part = entry.parts?.[0];
    const text = part === undefined ? "Device" : (name.get(part) ?? part);
    if (found.at(-1)?.text !== text) found.push({ at: start, text: found.length === 0 ? `Opening: ${text}` : text });
    start = null;
  }
  if (start !== null && found.length > 0) found.push({ at: start, text: "Afterwards" });
  const last = work.at(-1);
  const end = last === undefined ? 0 : (last.until ?? last.at) + SHOWN;
  return ended(found, () => end);
}

/** Captions of figures: those of one moment stand together. */
export function figureCaptions(figures: readonly ShownFigure[]): readonly Timed[] {
  const byTime = new Map<number, string[]>();
  for (const { at, text } of [...figures].sort((a, b) => a.at - b.at))
    byTime.set(at, [...(byTime.get(at) ?? []), text]);
  return ended(
    [...byTime].map(([at, lines]) => ({ at, text: lines.join("\n") })),
    (at) => at + SHOWN,
  );
}

/** Each cue ends at the latest where the next begins, and is never shorter than the shortest. */
function ended(cues: readonly { at: number; text: string }[], end: (at: number) => number): Timed[] {
  return cues.map((cue, nth) => {
    const next = cues[nth + 1]?.at ?? Number.POSITIVE_INFINITY;
    return { ...cue, until: Math.max(cue.at + SHORTEST, Math.min(next, end(cue.at))) };
  });
}

/** The tracks as one WebVTT text; cue names tell chapters from figures. */
export function webVtt(tracks: Readonly<Record<string, readonly Timed[]>>): string {
  const blocks = Object.entries(tracks).flatMap(([name, cues]) =>
    cues.map(
      (cue, nth) => `${name}-${nth + 1}\n${clockText(cue.at)} --> ${clockText(cue.until)}\n${escaped(cue.text)}`,
    ),
  );
  return `WEBVTT\n\n${blocks.join("\n\n")}${blocks.length > 0 ? "\n" : ""}`;
}

/** A payload holds no blank line, no arrow and no bare markup (WebVTT, section 4.2.2). */
function escaped(text: string): string {
  return text
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(/>/g, "&gt;")
    .replace(/\n\s*\n+/g, "\n");
}
