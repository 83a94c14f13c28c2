import { writeFile } from "node:fs/promises";
import { resolve } from "node:path";
import { performance } from "node:perf_hooks";
import { rankQuestions } from "../../core/law/questions.ts";
import { figuresOf } from "../../core/measure/index.ts";
import { fromSibling } from "../../core/record/index.ts";
import { countingClock } from "../../core/route/counting-clock.ts";
import { findWayIn } from "../../core/route/ways/index.ts";
import { briefOf } from "../../core/service/afternoon/index.ts";
import { briefPdf } from "../../paper/brief-pdf.ts";
import { revisionOf } from "../../paper/make-sheets.ts";
import { measurer, writePdf } from "../../paper/pdf-writer.ts";
import { briefText } from "../brief-text.ts";
import type { Command, Context, ExitCode } from "../command.ts";
import { listOption, numberOption, readOptions, wordOption } from "../options.ts";
import { findSibling, readRecord } from "../read-record.ts";

const help = `unseam brief: the evening before a device is opened

Usage: unseam brief FILE [-o BRIEF.pdf] [options]

From a record, however thin, or from its sibling's structure where it has none
of its own: the ways in from both faces with their time and hazards, the heat
plan with the minutes counted in the cell, tools and consumables to lay out,
cables that lie near the rim, the charge to reach first, the first photographs,
and what can be learned, in the order in which it can be: each with the last
operation before which it still can. Whatever is a guess is said to be one.

  --to PART,...   parts to get to; left out, the battery, else the board, else
                  every part with a role
  --beside FILE   the sibling's record; left out, it is searched for by its id
  --minutes N     minutes for learning: what is worth most is taken (30)
  --limit SECONDS for each way in (3)
  -o BRIEF.pdf    the brief as pages of paper (--page letter, else A4)
  --json          { "device", "targets", "ways", "heat", "tools", "consumables",
                  "cables", "charge", "photographs", "questions", "along",
                  "chances", "guesses", "warnings", "begunFrom" }

Heat, cells and solvent hurt people: the cautions stand beside the numbers;
local rules and qualified people come first.
`;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(
    context.args,
    {
      json: { type: "boolean" },
      to: { type: "string" },
      beside: { type: "string" },
      minutes: { type: "string" },
      limit: { type: "string" },
      out: { type: "string", short: "o" },
      page: { type: "string" },
    },
    ["FILE"],
  );
  const given = await readRecord(context, files[0]);
  const sibling = await findSibling(context, files[0]!, given, values.beside);
  const thin = given.joints.length === 0 && sibling !== undefined;
  const record = thin ? fromSibling(sibling, given.id, given.device) : given;
  const now = () => performance.now();
  const seconds = numberOption("limit", values.limit ?? "3", 0.1, 600, "seconds");
  const brief = briefOf(record, {
    control: { now },
    limit: 1000 * seconds,
    ...(values.to === undefined ? {} : { to: listOption("to", values.to) }),
    questions: rankQuestions(record, findWayIn, { now: countingClock() }),
    plan: figuresOf(record, sibling).plan,
    sibling,
  });
  if (values.json) {
    const { order: _, ...told } = brief;
    context.stdout(`${JSON.stringify({ ...told, begunFrom: thin ? sibling.device.name : null }, null, 2)}\n`);
    return 0;
  }
  const terms = {
    minutes: numberOption("minutes", values.minutes ?? "30", 0, 1000, "minutes"),
    begunFrom: thin ? sibling.device.name : null,
  };
  if (values.out === undefined) {
    context.stdout(briefText(record, brief, terms));
    return 0;
  }
  const imprint = {
    device: record.device.name,
    revision: revisionOf(record),
    edition: 1,
    date: new Date().toISOString().slice(0, 10),
    replaces: null,
    recalls: [],
  };
  const size = wordOption("page", values.page ?? "a4", ["a4", "letter"]);
  const bytes = await writePdf(briefPdf(record, brief, terms, imprint, measurer(), size));
  await writeFile(resolve(context.cwd, values.out), bytes);
  context.stderr(`Written: ${values.out}\n`);
  return 0;
}

export const brief: Command = {
  name: "brief",
  summary: "the evening before: ways in, heat, tools, and what to learn when",
  help,
  run,
};
