import { figuresOf } from "../../core/measure/index.ts";
import { chapters, figureCaptions, webVtt } from "../../core/narration/index.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { readOptions } from "../options.ts";
import { readRecord } from "../read-record.ts";

const help = `unseam captions: chapters and figures for whoever edits the video

Usage: unseam captions FILE [--chapters | --figures]

WebVTT from a record: a chapter for each stage of the work (what comes off
next), and a caption for each measured figure at the moment of its reading,
with the precision that it bears. Times are seconds of the session.

  --chapters   the chapters only
  --figures    the captions of figures only

Entries and readings without a time are left out, and told on the error output.
`;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(context.args, { chapters: { type: "boolean" }, figures: { type: "boolean" } }, [
    "FILE",
  ]);
  if (values.chapters && values.figures)
    throw new UsageError("--chapters or --figures, not both; left out, both are written.");
  const record = await readRecord(context, files[0]!);
  const untimed =
    record.log.filter((entry) => entry.at === undefined).length +
    record.readings.filter((reading) => reading.at === undefined).length;
  if (untimed > 0) context.stderr(`${untimed} entries and readings have no time and are left out.\n`);
  context.stdout(
    webVtt({
      ...(values.figures ? {} : { chapter: chapters(record) }),
      ...(values.chapters ? {} : { figure: figureCaptions(shown(record)) }),
    }),
  );
  return 0;
}

function shown(record: TeardownRecord) {
  const at = new Map(record.readings.map((reading) => [reading.id, reading.at]));
  const name = new Map(record.parts.map((part) => [part.id, part.name]));
  return figuresOf({ ...record, claims: [] }).readings.flatMap((reading) => {
    const moment = at.get(reading.id);
    if (moment === undefined || reading.record !== undefined) return [];
    const of = reading.of.map((id) => (id === "device" ? record.device.name : (name.get(id) ?? id))).join(" and ");
    return [{ at: moment, text: `${of}: ${reading.quantity} ${reading.text}` }];
  });
}

export const captions: Command = {
  name: "captions",
  summary: "chapters and figures for whoever edits the video",
  help,
  run,
};
