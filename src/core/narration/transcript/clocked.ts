import { shown } from "./blocks.ts";
import { clockSeconds } from "./clock.ts";
import type { Cue, Warnings } from "./cue.ts";
import { plainWords } from "./markup.ts";

const CLOCK_FIRST = /^\s*[[(]?(\d{1,3}(?::\d{2}){1,2}(?:[.,]\d{1,3})?)[\])]?(?:\s*[-–—|]\s+|:?\s+|$)(.*)$/;

/** Share of lines that must begin with a clock when the first line does not. */
const ENOUGH = 0.3;

/** Is this text with a clock at the start of its lines? */
export function isClocked(lines: readonly string[]): boolean {
  const full = lines.filter((line) => line.trim() !== "");
  const hits = full.filter((line) => CLOCK_FIRST.test(line)).length;
  return hits > 0 && (CLOCK_FIRST.test(full[0]!) || hits / full.length >= ENOUGH);
}

/** Lines without a clock belong to the line with one before them. */
export function readClocked(lines: readonly string[], warnings: Warnings): Cue[] {
  const cues: { at: number | null; line: number; text: string[] }[] = [];
  lines.forEach((line, index) => {
    if (line.trim() === "") return;
    const match = CLOCK_FIRST.exec(line);
    const at = match === null ? null : clockSeconds(match[1]!);
    if (match !== null && at === null)
      warnings.add(index + 1, `found ${shown(match[1]!)}, expected a clock such as 1:02 or 1:02:03; read as words`);
    if (match !== null && at !== null) cues.push({ at, line: index + 1, text: [match[2]!] });
    else if (cues.length > 0) cues.at(-1)!.text.push(line);
    else warnings.add(index + 1, `found ${shown(line)} before the first clock; left out as a heading`);
  });
  return cues
    .map((cue) => ({ at: cue.at, until: null, line: cue.line, text: plainWords(cue.text.join("\n")) }))
    .filter((cue) => cue.text !== "");
}

/** Text with no clock at all: each line is a cue whose time is not known. */
export function readPlain(lines: readonly string[]): Cue[] {
  return lines
    .map((line, index) => ({ at: null, until: null, line: index + 1, text: plainWords(line) }))
    .filter((cue) => cue.text !== "");
}
