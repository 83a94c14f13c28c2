import { performance } from "node:perf_hooks";
import { InputFaults } from "../../core/errors.ts";
import { ALLOYS, type Alloy, heatBoard, proposeProfile, readBoard, remarksOf } from "../../core/heat/board/index.ts";
import { boardText } from "../board-text.ts";
import type { Command, Context, ExitCode } from "../command.ts";
import { readOptions, wordOption } from "../options.ts";
import { readDocument } from "../read-document.ts";

const help = `unseam board: what heating one part does to its neighbours

Usage: unseam board BOARD.json [--alloy NAME] [--profile] [--json]

Computes the temperatures of a board (unseam-board/1: layers, parts, a jet from
above, a heater below) and tells for each part its hottest place and when, when
its own limit is reached, how fast it heats and how long its joints are above
the liquidus, beside the classification temperatures of J-STD-020.

  --alloy NAME   sac305 (left out), tin-lead or tin-bismuth: ask before heating,
                 boards may be joined to each other with a low-melting alloy
  --profile      propose a profile to begin with for the part under the nozzle
  --json         { "parts": [{ "name", "peak", "at", "reached"?, "rampUp",
                 "aboveLiquidus", ... }], "energyError", ... }

A planning aid, not a process qualification; work for trained people. Take the
battery out first: no cell stays in a device that is heated to these figures.
Fumes, hot metal, flying solder: local rules first.
`;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(
    context.args,
    { json: { type: "boolean" }, profile: { type: "boolean" }, alloy: { type: "string" } },
    ["BOARD"],
  );
  const alloy =
    values.alloy === undefined ? undefined : wordOption("alloy", values.alloy, Object.keys(ALLOYS) as Alloy[]);
  const { read, value, faults } = await readDocument(context, files[0]);
  if (faults.length > 0 || !read) throw new InputFaults(faults);
  const board = readBoard(value, alloy);
  const begin = performance.now();
  let said = begin;
  const heat = heatBoard(board, {
    progress: (share) => {
      // Short runs stay silent.
      const now = performance.now();
      if (now - said > 1000) {
        said = now;
        context.stderr(`${Math.round(share * 100)} %\n`);
      }
      return undefined;
    },
  });
  if (heat === undefined) throw new Error("the run ended though nobody ended it");
  const milliseconds = Math.round((performance.now() - begin) * 10) / 10;
  const remarks = remarksOf(board, heat);
  const profile = values.profile ? proposeProfile(board) : undefined;
  context.stdout(
    values.json
      ? `${JSON.stringify({ ...heat, milliseconds, remarks, ...(profile === undefined ? {} : { profile }) }, null, 2)}\n`
      : boardText(board, heat, remarks, profile),
  );
  return 0;
}

export const board: Command = { name: "board", summary: "what heating one part does to its neighbours", help, run };
