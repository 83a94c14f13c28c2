import { rankQuestions } from "../../core/law/questions.ts";
import { countingClock } from "../../core/route/counting-clock.ts";
import { findWayIn } from "../../core/route/ways/index.ts";
import { clock } from "../../core/units/index.ts";
import type { Command, Context, ExitCode } from "../command.ts";
import { readOptions } from "../options.ts";
import { readRecord } from "../read-record.ts";

const help = `unseam questions: what nobody has tried yet, most decisive first

Usage: unseam questions FILE [--json]

Relations of the structure that were guessed (basis inferred) or copied from the
sibling (basis sibling), as questions that can be answered with a look. Each is
weighed by what its answer decides: the seconds to the priority parts and those
in question, each from the closed device, and the class by the least count of
steps (2023/1669; not the Regulation's own basis).

  --json   [{ "relation", "asks", "seconds": [best, worst],
              "class": [best, worst], "parts", "matters" }]
`;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(context.args, { json: { type: "boolean" } }, ["FILE"]);
  const record = await readRecord(context, files[0]);
  const questions = rankQuestions(record, findWayIn, { now: countingClock() });
  if (values.json) {
    context.stdout(`${JSON.stringify(questions, null, 2)}\n`);
    return 0;
  }
  const matter = questions.filter((question) => question.matters);
  if (questions.length === 0) context.stdout("No open questions: every relation has been tried, seen or stated.\n");
  else context.stdout(`${matter.length} of ${questions.length} open questions matter.\n`);
  for (const { asks, seconds, class: classes, matters } of questions) {
    const time =
      seconds[0] === seconds[1]
        ? ""
        : ` ${minutes(seconds[0])} or ${minutes(seconds[1])} to the priority parts and those in question.`;
    const letter = classes[0] === classes[1] ? "" : ` Class ${classes[0] ?? "none"} or ${classes[1] ?? "none"}.`;
    context.stdout(`\n${asks}\n ${matters ? `${time}${letter}`.trim() : "Changes nothing that was weighed."}\n`);
  }
  return 0;
}

function minutes(seconds: number | null): string {
  if (seconds === null) return "not to be reached";
  return clock(seconds);
}

export const questions: Command = {
  name: "questions",
  summary: "what nobody has tried yet, most decisive first",
  help,
  run,
};
