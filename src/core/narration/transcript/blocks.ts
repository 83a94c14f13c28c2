/**
 * WebVTT and SubRip: blocks with a line of timings. One reader serves both, because files in the field mix them
 * (commas in WebVTT, dots in SubRip, missing numbers, missing blank lines).
 *
 * Source of the form: W3C, WebVTT: The Web Video Text Tracks Format, sections 4 (syntax) and 6 (parsing); SubRip has no
 * standard, the form is common practice. Time linear in the length of the text.
 */
import { clockSeconds } from "./clock.ts";
import type { Cue, Warnings } from "./cue.ts";
import { plainWords } from "./markup.ts";

const TIMING = /^\s*([\d:.,]+)\s*-{1,2}>\s*([\d:.,]+)(?:\s.*)?$/;

export function hasTimings(lines: readonly string[]): boolean {
  return lines.some((line) => line.includes("->") && TIMING.test(line));
}

/** Reads the cues; a block that is at fault is left out and named in the warnings. */
export function readBlocks(lines: readonly string[], webvtt: boolean, warnings: Warnings): Cue[] {
  const cues: Cue[] = [];
  let index = webvtt ? skipHeader(lines) : 0;
  while (index < lines.length) {
    const line = lines[index]!;
    if (line.trim() === "") {
      index += 1;
      continue;
    }
    if (webvtt && /^(?:NOTE|STYLE|REGION)(?:\s|$)/.test(line)) {
      index = nextBlank(lines, index);
      continue;
    }
    const timing = timingAt(lines, index);
    if (timing < 0) {
      const end = nextBlank(lines, index);
      warnings.add(index + 1, `found ${shown(line)}, expected a cue with a line of timings; the block was left out`);
      index = end;
      continue;
    }
    const end = payloadEnd(lines, timing + 1);
    const cue = cueOf(lines, timing, end, warnings);
    if (cue !== null) cues.push(cue);
    index = end;
  }
  return withoutRolling(cues);
}

function skipHeader(lines: readonly string[]): number {
  return nextBlank(lines, 0);
}

function nextBlank(lines: readonly string[], from: number): number {
  let index = from;
  while (index < lines.length && lines[index]!.trim() !== "") {
    if (index > from && TIMING.test(lines[index]!) && lines[index]!.includes("->")) break;
    index += 1;
  }
  return index;
}

/** The line of timings of the block that begins at `index`: this line or, after a number or a name, the next. */
function timingAt(lines: readonly string[], index: number): number {
  for (const candidate of [index, index + 1]) {
    const line = lines[candidate];
    if (line?.includes("->") && TIMING.test(line)) return candidate;
  }
  return -1;
}

/** A payload ends at a blank line, or where the next cue begins without one. */
function payloadEnd(lines: readonly string[], from: number): number {
  let index = from;
  while (index < lines.length && lines[index]!.trim() !== "") {
    const next = lines[index + 1];
    if (lines[index]!.includes("->") && TIMING.test(lines[index]!)) break;
    if (/^\s*\d+\s*$/.test(lines[index]!) && next?.includes("->") && TIMING.test(next)) break;
    index += 1;
  }
  return index;
}

function cueOf(lines: readonly string[], timing: number, end: number, warnings: Warnings): Cue | null {
  const match = TIMING.exec(lines[timing]!)!;
  const at = clockSeconds(match[1]!);
  const until = clockSeconds(match[2]!);
  if (at === null) {
    warnings.add(timing + 1, `found ${shown(match[1]!)}, expected a clock such as 00:01:02.500; the cue was left out`);
    return null;
  }
  if (until === null || until < at)
    warnings.add(
      timing + 1,
      `found an end ${shown(match[2]!)} that does not come after ${match[1]}; the end was ignored`,
    );
  const text = plainWords(lines.slice(timing + 1, end).join("\n"));
  if (text === "") return null;
  return { at, until: until !== null && until >= at ? until : null, text, line: timing + 1 };
}

/**
 * Automatic captions often roll: each cue repeats the line before and adds one. The repeated lines are taken out, so
 * that nothing is read twice.
 */
function withoutRolling(cues: readonly Cue[]): Cue[] {
  const kept: Cue[] = [];
  let before: readonly string[] = [];
  for (const cue of cues) {
    const lines = cue.text.split("\n").map((line) => line.trim());
    let repeated = 0;
    for (let size = Math.min(lines.length, before.length, 3); size > 0; size -= 1) {
      const tail = before.slice(-size);
      // Two words at least: "Out." may well be said twice.
      if (tail.every((line, at) => line === lines[at]) && tail.join(" ").split(" ").length > 2) {
        repeated = size;
        break;
      }
    }
    before = lines;
    if (repeated === lines.length) continue;
    kept.push(repeated === 0 ? cue : { ...cue, text: lines.slice(repeated).join("\n") });
  }
  return kept;
}

export function shown(text: string): string {
  const clean = text.replace(/[^\x20-\x7e\u00a0-\uffff]/g, "?").trim();
  return JSON.stringify(clean.length > 60 ? `${clean.slice(0, 57)}...` : clean);
}
