import { writeFile } from "node:fs/promises";
import { resolve } from "node:path";
import { InputError } from "../../core/errors.ts";
import {
  clockText,
  type Draft,
  type DraftEntry,
  mergeDraft,
  readNarration,
  readTranscript,
} from "../../core/narration/index.ts";
import { checkRecord, writeRecord } from "../../core/record/index.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { readOptions } from "../options.ts";
import { readRecord } from "../read-record.ts";
import { readBytes } from "../transcript-file.ts";

const help = `unseam narrate: from spoken bench notes to a draft

Usage: unseam narrate FILE [--json]
       unseam narrate FILE --into RECORD -o OUT

Reads the transcript of a recording (WebVTT, SubRip, text with a clock at the
start of its lines, or plain text) and tells what was done, measured and
claimed, each at its moment, with the words it was read from. Nothing is
invented: what was denied, advised, imagined or only repeated is left out.

  --json   the draft as unseam-draft/1: { "format", "entries", "claims", "back",
             "proofs", "questions" }

  --into RECORD   merge the draft into a record: parts are matched and not
                  doubled, screws and connectors become joints, guesses are
                  marked as such. Prints { "added", "matched", "leftOver":
                  [{ "at", "text" }] }; nothing is silently dropped.
  -o, --out OUT   where the merged record is written; RECORD stays as it is
                  unless OUT is the same file
  --session ID    the session of the record that the recording belongs to

Warnings about the transcript go to the error output. The lexicon is English.
`;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(
    context.args,
    {
      json: { type: "boolean" },
      into: { type: "string" },
      out: { type: "string", short: "o" },
      session: { type: "string" },
    },
    ["FILE"],
  );
  if ((values.into === undefined) !== (values.out === undefined))
    throw new UsageError(
      "--into RECORD and -o OUT belong together: the record to merge into, and where the result is written.",
    );
  if (values.session !== undefined && values.into === undefined)
    throw new UsageError("--session belongs to --into RECORD.");
  const path = files[0]!;
  const { draft, warnings } = readNarration(readTranscript(await readBytes(context, path)));
  for (const { line, text } of warnings)
    context.stderr(`Warning: ${path}${line > 0 ? `, line ${line}` : ""}: ${text}\n`);
  if (values.into !== undefined) return merge(context, draft, values.into, values.out!, values.session);
  context.stdout(values.json ? `${JSON.stringify(draft, null, 2)}\n` : draftText(draft));
  return 0;
}

async function merge(
  context: Context,
  draft: Draft,
  into: string,
  out: string,
  session: string | undefined,
): Promise<ExitCode> {
  const record = await readRecord(context, into);
  if (session !== undefined && record.sessions?.some((one) => one.id === session) !== true)
    throw new InputError({
      path: into,
      found: `no session ${session}`,
      expected: `one of its sessions${record.sessions === undefined || record.sessions.length === 0 ? " (it has none)" : `: ${record.sessions.map((one) => one.id).join(", ")}`}`,
    });
  const merged = mergeDraft(record, draft, session);
  const check = checkRecord(merged.record);
  // Ours, and never the caller's: a merge that breaks a rule must not reach the disk.
  if (!check.ok)
    throw new Error(
      `The merged record breaks a rule: ${check.faults.map((fault) => `${fault.path}: found ${fault.found}, expected ${fault.expected}`).join("; ")}`,
    );
  await writeFile(resolve(context.cwd, out), writeRecord(check.record)).catch((error: NodeJS.ErrnoException) => {
    throw new InputError({
      path: out,
      found: `a place that cannot be written to (${error.code})`,
      expected: "a file name in a folder that exists",
    });
  });
  const { added, matched, leftOver } = merged;
  context.stdout(`${JSON.stringify({ added, matched, leftOver }, null, 2)}\n`);
  return 0;
}

/** The draft for people: one line an entry. */
export function draftText(draft: Draft): string {
  const lines = draft.entries.map((entry) => `${moment(entry.at)}  ${entryText(entry)}`);
  for (const claim of draft.claims)
    lines.push(
      `${moment(claim.at)}  claim: ${claim.subject} ${claim.relation}${claim.value === undefined ? "" : ` ${claim.value} ${unitText(claim.unit)}`}${claim.than === undefined ? "" : ` than ${claim.than}`}`,
    );
  for (const back of draft.back)
    lines.push(
      `${moment(back.at)}  way back: ${back.action} ${back.object}${back.count === undefined ? "" : ` (${back.count})`}`,
    );
  for (const proof of draft.proofs) lines.push(`${moment(proof.at)}  tried: ${proof.what} ${proof.result}`);
  for (const question of draft.questions) lines.push(`${moment(question.at)}  open: ${question.text}`);
  const counts = `${draft.entries.length} entries, ${draft.claims.length} claims, ${draft.questions.length} open questions.`;
  return `${[...lines, counts].join("\n")}\n`;
}

function entryText(entry: DraftEntry): string {
  if (entry.action === "measure")
    return `${entry.object}: ${entry.quantity} ${entry.value} ${unitText(entry.unit)}`.trimEnd();
  return `${entry.action} ${entry.object}${entry.count === undefined ? "" : ` (${entry.count})`}${entry.tool === undefined ? "" : ` with ${entry.tool}`}${entry.lies === undefined ? "" : `, put in ${entry.lies}`}`;
}

const unitText = (unit: string | undefined) => (unit === undefined || unit === "1" ? "" : unit);
const moment = (at: number | null) => (at === null ? "--:--:--.---" : clockText(at));

export const narrate: Command = { name: "narrate", summary: "from spoken bench notes to a draft", help, run };
