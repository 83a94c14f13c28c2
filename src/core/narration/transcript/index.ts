/**
 * In: the bytes or the text of a transcript. Out: its cues in the order of time, with warnings that name the line.
 *
 * Promised: WebVTT, SubRip, text with a clock at the start of its lines, and plain text are told apart by their content,
 * never by the file's name. Time linear in the length. Throws `InputError` for what is no transcript; nothing else is
 * thrown, whatever the bytes.
 */
import { InputError } from "../../errors.ts";
import { hasTimings, readBlocks, shown } from "./blocks.ts";
import { isClocked, readClocked, readPlain } from "./clocked.ts";
import type { Cue, Transcript, TranscriptForm } from "./cue.ts";
import { Warnings } from "./cue.ts";
import { decodeText } from "./decode.ts";

export { clockSeconds, clockText } from "./clock.ts";
export type { Cue, Transcript, TranscriptForm, Warning } from "./cue.ts";
export { decodeText } from "./decode.ts";

/** Reads a transcript from the bytes of a file. */
export function readTranscript(bytes: Uint8Array): Transcript {
  if (bytes.length === 0) throw empty();
  const decoded = decodeText(bytes);
  const transcript = parseTranscript(decoded.text);
  if (decoded.warning === undefined) return transcript;
  return { ...transcript, warnings: [{ line: 0, text: decoded.warning }, ...transcript.warnings] };
}

/** Reads a transcript from text. */
export function parseTranscript(text: string): Transcript {
  const body = text.startsWith("\ufeff") ? text.slice(1) : text;
  if (body.trim() === "") throw empty();
  refuseOtherForms(body);
  const warnings = new Warnings();
  const lines = body.split(/\r\n|\n|\r|\u2028|\u2029/);
  const { form, cues } = readForm(lines, warnings);
  if (cues.length === 0)
    throw new InputError({
      path: warnings.list().length > 0 ? `line ${warnings.list()[0]!.line}` : "line 1",
      found: warnings.list()[0]?.text ?? "no words in any cue",
      expected: "at least one cue with words",
    });
  return { kind: "transcript", form, cues: inOrder(cues, warnings), warnings: warnings.list() };
}

function readForm(lines: readonly string[], warnings: Warnings): { form: TranscriptForm; cues: Cue[] } {
  if (/^WEBVTT(?:[ \t]|$)/.test(lines[0]!)) return { form: "webvtt", cues: readBlocks(lines, true, warnings) };
  if (hasTimings(lines)) return { form: "subrip", cues: readBlocks(lines, false, warnings) };
  if (isClocked(lines)) return { form: "clocked", cues: readClocked(lines, warnings) };
  return { form: "plain", cues: readPlain(lines) };
}

/** Cues by their start; equal starts keep the order of the file. */
function inOrder(cues: readonly Cue[], warnings: Warnings): readonly Cue[] {
  let sorted = true;
  let end = Number.NEGATIVE_INFINITY;
  for (let index = 1; index < cues.length; index += 1) {
    const before = cues[index - 1]!;
    const cue = cues[index]!;
    if (before.at === null || cue.at === null) continue;
    if (cue.at < before.at) {
      sorted = false;
      warnings.add(
        cue.line,
        `the cue begins at ${cue.at} s, before the one above it (${before.at} s); read in the order of time`,
      );
    }
    end = Math.max(end, before.until ?? before.at);
    // Captions of one speaker overlap by a frame or two as a rule; more than a second is worth a word.
    if (end - cue.at > 1 && cue.at >= before.at)
      warnings.add(cue.line, `the cue begins at ${cue.at} s, while another lasts until ${end} s; both were read`);
  }
  if (sorted) return cues;
  return cues
    .map((cue, index) => ({ cue, index }))
    .sort((a, b) => a.cue.at! - b.cue.at! || a.index - b.index)
    .map((one) => one.cue);
}

function empty(): InputError {
  return new InputError({
    path: "line 1",
    found: "an empty file",
    expected: "a transcript with at least one line of words",
  });
}

/** Documents that people pick by mistake: said plainly instead of read as talk. */
function refuseOtherForms(text: string): void {
  const start = text.trimStart().slice(0, 300);
  const what = /^<(?:!doctype|html|\?xml|svg|tt[ >])/i.test(start)
    ? "a page of markup"
    : /^[{[]\s*(?:["{}\]]|$)/.test(start) && looksLikeJson(text)
      ? "a JSON document"
      : start.startsWith("%PDF") || start.startsWith("PK\u0003")
        ? "a document that is no plain text"
        : null;
  if (what === null) return;
  throw new InputError({
    path: "line 1",
    found: `${what} (${shown(start.split("\n", 1)[0]!)})`,
    expected: "a transcript: WebVTT, SubRip, text with a clock at the start of its lines, or plain text",
  });
}

function looksLikeJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return /^\s*\{\s*"[^"\n]{1,80}"\s*:/.test(text);
  }
}
