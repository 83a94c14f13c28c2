import { performance } from "node:perf_hooks";
import { CONDITIONS, HAZARDS } from "../../core/record/index.ts";
import type { Control } from "../../core/route/problem.ts";
import { alternativesOf } from "../../core/route/ways/alternatives.ts";
import { weighDoubt } from "../../core/route/ways/doubt.ts";
import { frontOf } from "../../core/route/ways/front.ts";
import { findWayInAndBack } from "../../core/route/ways/in-and-back.ts";
import { findWayIn, type Question, type Unreachable } from "../../core/route/ways/index.ts";
import { waysToAll } from "../../core/route/ways/table.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { listOption, numberOption, readOptions, wordOption } from "../options.ts";
import { readRecord } from "../read-record.ts";
import { doubtText, frontText, tableText, wayText } from "../way-text.ts";

const help = `unseam ways: the cheapest order of work to a part, with proof

Usage: unseam ways FILE --to PART[,PART] [options]
       unseam ways FILE --all [options]

Gives the order of work to one part, or to several at once, that takes the
least time, the fewest legal steps (2023/1669) or the least expected damage,
and the bound that it was proved against.

  --to PART,PART        ids of the parts to get out
  --least WHAT          seconds (left out), steps or risk
  --damage              releases that break or destroy something may be used
  --accept HAZARD,...   hazards accepted: puncture, short (trained people only)
  --condition WORD,...  swollen, wet, cracked-back, cracked-display,
                        opened-before, corroded, no-power
  --no-isolation        leave out the rule that the cell is isolated first
  --cap-steps N         at most N legal steps
  --cap-risk AMOUNT     at most this much expected damage
  --limit SECONDS       answer with the best found by then (10)

One of these changes what is printed:
  --all                 every part's best way in, as a table
  --front               time against risk: all ways in that nothing else beats
  --alternatives K      the K best ways in that differ in what is undone
  --doubt               best and worst case over relations that nobody has
                        tried, and which answers decide
  --back                the way back as well
  --json                one JSON value

A swollen, hot or venting cell: no heat, no prying; leave it, ventilate, follow
your site's rules. Heat, glass, solvent and open electronics are work for
trained people. Exit code 1 when a part cannot be reached; what blocks it is
told.
`;

const OPTIONS = {
  to: { type: "string" },
  least: { type: "string" },
  damage: { type: "boolean" },
  accept: { type: "string" },
  condition: { type: "string" },
  "no-isolation": { type: "boolean" },
  "cap-steps": { type: "string" },
  "cap-risk": { type: "string" },
  limit: { type: "string" },
  all: { type: "boolean" },
  front: { type: "boolean" },
  alternatives: { type: "string" },
  doubt: { type: "boolean" },
  back: { type: "boolean" },
  json: { type: "boolean" },
} as const;

type Values = ReturnType<typeof readOptions<typeof OPTIONS>>["values"];

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(context.args, OPTIONS, ["FILE"]);
  const views = (["all", "front", "alternatives", "doubt", "back"] as const).filter(
    (name) => values[name] !== undefined,
  );
  if (views.length > 1) throw new UsageError(`--${views[0]} and --${views[1]} do not go together.`);
  if (values.to === undefined && !values.all) throw new UsageError("--to PART is missing.");
  if (values.to !== undefined && values.all) throw new UsageError("--to and --all do not go together.");
  const limit = values.limit === undefined ? 10 : numberOption("limit", values.limit, 0, 86_400, "seconds");
  const question = questionOf(values);
  const record = await readRecord(context, files[0]);
  const now = (): number => performance.now();
  const control: Control = { now, deadline: now() + limit * 1000 };
  const print = (value: object, text: string): void =>
    context.stdout(values.json ? `${JSON.stringify(value, null, 2)}\n` : text);
  if (values.all) {
    const table = waysToAll(record, question, { now, perPart: limit * 1000 }, (done, of) => {
      if (process.stderr.isTTY) context.stderr(done === of ? "\r\x1b[K" : `\r${done} of ${of} parts`);
    });
    print(table, tableText(record, table));
    return 0;
  }
  if (values.doubt) {
    const doubt = weighDoubt(record, question, control);
    print(doubt, doubtText(record, question, doubt));
    return 0;
  }
  if (values.front) {
    const front = frontOf(record, question, control);
    if (!("front" in front)) return refused(front);
    print(front, frontText(front));
    return 0;
  }
  if (values.alternatives !== undefined) {
    const most = numberOption("alternatives", values.alternatives, 1, 50);
    const answer = alternativesOf(record, question, Math.floor(most), control);
    if (!("alternatives" in answer)) return refused(answer);
    print(answer, answer.alternatives.map((way) => wayText(record, way)).join("\n"));
    return 0;
  }
  const answer = values.back ? findWayInAndBack(record, question, control) : findWayIn(record, question, control);
  if (!("operations" in answer)) return refused(answer);
  print(answer, wayText(record, answer));
  return 0;

  function refused(answer: Unreachable): ExitCode {
    print(answer, unreachableText(answer));
    return 1;
  }
}

function questionOf(values: Values): Question {
  const capRisk = values["cap-risk"];
  if (capRisk !== undefined && !/^\d{1,9}(\.\d{1,6})?$/.test(capRisk)) {
    throw new UsageError(`--cap-risk takes an amount such as 12.50, not "${capRisk}".`);
  }
  const capSteps =
    values["cap-steps"] === undefined ? undefined : numberOption("cap-steps", values["cap-steps"], 0, 100_000);
  if (capSteps !== undefined && !Number.isInteger(capSteps))
    throw new UsageError(`--cap-steps takes a whole number, not "${capSteps}".`);
  return {
    to: values.to === undefined ? [] : listOption("to", values.to),
    least: values.least === undefined ? "seconds" : wordOption("least", values.least, ["seconds", "steps", "risk"]),
    damage: values.damage === true,
    accept: words("accept", values.accept, HAZARDS),
    conditions: words("condition", values.condition, CONDITIONS),
    isolation: values["no-isolation"] !== true,
    ...(capSteps === undefined ? {} : { capSteps }),
    ...(capRisk === undefined ? {} : { capRisk }),
  };
}

function words<T extends string>(name: string, text: string | undefined, known: readonly T[]): T[] {
  return text === undefined ? [] : listOption(name, text).map((word) => wordOption(name, word, known));
}

function unreachableText(answer: Unreachable): string {
  return answer.unreachable
    .map(
      ({ part, because, blockedBy }) =>
        `${part} cannot be reached: ${because}.${blockedBy.length > 0 ? ` Blocked by: ${blockedBy.join(", ")}.` : ""}\n`,
    )
    .join("");
}

export const ways: Command = { name: "ways", summary: "the cheapest order of work to a part, with proof", help, run };
