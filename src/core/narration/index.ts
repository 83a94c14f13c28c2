/**
 * Spoken bench notes to a draft of the record.
 *
 * In: the bytes of a transcript (WebVTT, SubRip, text with a clock, plain text). Out: `unseam-draft/1`: the work done, the
 * figures reported and the claims made, each at the moment at which it was said, with the words it was read from, and
 * the warnings that a person should see.
 *
 * Promised: pure and deterministic; time linear in the words; nothing that was not said; whatever the bytes, either a
 * reading or an `InputError` that names the line. What the words mean is data in `lexicon/`.
 */

export { chapters, figureCaptions, type ShownFigure, webVtt } from "./captions.ts";
export * from "./draft.ts";
export { type LeftOver, type Merged, mergeDraft } from "./merge/merge.ts";
export { partFor, roleOf } from "./merge/names.ts";
export { type Reading as NarrationReading, readNarration } from "./read.ts";
export { type SaidVerdict, trySay } from "./say.ts";
export {
  type Cue,
  clockText,
  parseTranscript,
  readTranscript,
  type Transcript,
  type Warning as TranscriptWarning,
} from "./transcript/index.ts";
