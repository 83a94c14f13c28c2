import { performance } from "node:perf_hooks";
import { CONDITIONS, HAZARDS } from "../../core/record/index.ts";
import { type SwapSettings, swapOf, TIME_SETS } from "../../core/service/swap/index.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { listOption, numberOption, readOptions, wordOption } from "../options.ts";
import { readRecord } from "../read-record.ts";
import { swapText } from "../swap-text.ts";

export const SWAP_HELP = `  --condition WORD,...  found at intake: swollen, wet, cracked-back,
                        cracked-display, opened-before, corroded, no-power
  --accept HAZARD,...   hazards accepted: puncture, short (trained people only)
  --cap-risk AMOUNT     at most this much expected damage on the way in
  --damage              releases that break or destroy something may be used
  --times SET           own (left out: this bench's log, else B), A or B
  --repeat N            how many of this job the hands have done, with
  --rate SHARE          the learning rate, such as 0.85, and
  --model NAME          unit (left out) or cumulative
  --practised           chances of damage of practised hands
  --labour AMOUNT       an hour of work, such as 55.00, in
  --currency CODE       the currency of the labour rate
  --overhead PERCENT    on labour (0)     --warranty PERCENT  of jobs (4)
  --margin PERCENT      of the price (0)  --tax PERCENT       on it (0)
  --jobs-a-month N      how many jobs share an opened pack
  --success CHANCE      that the repaired device works (0.96), known from
  --success-jobs N      so many jobs (25)
  --life-new YEARS      (4)  --life-repaired YEARS (2)  --interest PERCENT (5)
  --seed N              of the simulation (1)  --trials N (4000)
  --limit SECONDS       for the planner (10)`;

const help = `unseam swap: a repair as a job, in and back, with time, risk and price

Usage: unseam swap FILE --replace PART[,PART] [options]

The order of work to the parts and back, what has to be at hand, what to test
and to prove, how long it takes, what can go wrong and what it costs.

  --replace PART,PART   ids of the parts to replace
${SWAP_HELP}
  --json                one JSON value

A price that is not known is null, with the reason. A swollen, hot or venting
cell: no heat, no prying; leave it, ventilate, follow your site's rules. Heat,
glass, solvent and open electronics are work for trained people. Exit code 1
when a part cannot be reached; what blocks it is told.
`;

export const SWAP_OPTIONS = {
  condition: { type: "string" },
  accept: { type: "string" },
  damage: { type: "boolean" },
  "cap-risk": { type: "string" },
  times: { type: "string" },
  repeat: { type: "string" },
  rate: { type: "string" },
  model: { type: "string" },
  practised: { type: "boolean" },
  labour: { type: "string" },
  currency: { type: "string" },
  overhead: { type: "string" },
  warranty: { type: "string" },
  margin: { type: "string" },
  tax: { type: "string" },
  "jobs-a-month": { type: "string" },
  success: { type: "string" },
  "success-jobs": { type: "string" },
  "life-new": { type: "string" },
  "life-repaired": { type: "string" },
  interest: { type: "string" },
  seed: { type: "string" },
  trials: { type: "string" },
  limit: { type: "string" },
} as const;

const OPTIONS = { ...SWAP_OPTIONS, replace: { type: "string" }, json: { type: "boolean" } } as const;

type Values = { readonly [name in keyof typeof SWAP_OPTIONS]?: string | boolean };

/** The options of a swap as settings; limits that depend on each other are the core's to judge. @throws UsageError */
export function swapSettings(values: Values): Partial<SwapSettings> {
  const text = (name: keyof Values): string | undefined => {
    const value = values[name];
    return typeof value === "string" ? value : undefined;
  };
  const number = (name: keyof Values, least: number, most: number, unit = ""): number | undefined => {
    const value = text(name);
    return value === undefined ? undefined : numberOption(name, value, least, most, unit);
  };
  const percent = (name: keyof Values, most: number): number | undefined => {
    const value = number(name, 0, most, "percent");
    return value === undefined ? undefined : value / 100;
  };
  const word = <T extends string>(name: keyof Values, words: readonly T[]): T | undefined => {
    const value = text(name);
    return value === undefined ? undefined : wordOption(name, value, words);
  };
  const labour = text("labour");
  if (labour !== undefined && !/^\d{1,9}(\.\d{1,6})?$/.test(labour))
    throw new UsageError(`--labour takes an amount an hour such as 55.00, not "${labour}".`);
  const currency = text("currency");
  if (currency !== undefined && !/^[A-Z]{3}$/.test(currency))
    throw new UsageError(`--currency takes a code of three capitals such as EUR, not "${currency}".`);
  if (text("repeat") !== undefined && text("rate") === undefined)
    throw new UsageError("--repeat needs --rate, the learning rate, such as 0.85.");
  const all: { [K in keyof SwapSettings]?: SwapSettings[K] | undefined } = {
    times: word("times", TIME_SETS),
    repeat: number("repeat", 1, 1_000_000),
    learningRate: number("rate", 0.01, 1),
    learningModel: word("model", ["unit", "cumulative"]),
    hands: values.practised ? "practised" : undefined,
    labour,
    currency,
    overhead: percent("overhead", 1000),
    warranty: percent("warranty", 99),
    margin: percent("margin", 99),
    tax: percent("tax", 100),
    jobsAMonth: number("jobs-a-month", 0.01, 1_000_000),
    success: number("success", 0, 1),
    successJobs: number("success-jobs", 1, 1_000_000),
    lifeNew: number("life-new", 0.01, 100, "years"),
    lifeRepaired: number("life-repaired", 0.01, 100, "years"),
    interest: percent("interest", 1000),
    seed: number("seed", 0, Number.MAX_SAFE_INTEGER),
    trials: number("trials", 100, 200_000),
  };
  return Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined));
}

/** Conditions, hazards and damage of the question. @throws UsageError */
export function swapTerms(values: Values) {
  const words = <T extends string>(name: "condition" | "accept", known: readonly T[]): T[] => {
    const value = values[name];
    return typeof value === "string" ? listOption(name, value).map((one) => wordOption(name, one, known)) : [];
  };
  const capRisk = values["cap-risk"];
  if (typeof capRisk === "string" && !/^\d{1,9}(\.\d{1,6})?$/.test(capRisk))
    throw new UsageError(`--cap-risk takes an amount such as 12.50, not "${capRisk}".`);
  return {
    ...(typeof capRisk === "string" ? { capRisk } : {}),
    conditions: words("condition", CONDITIONS),
    accept: words("accept", HAZARDS),
    damage: values.damage === true,
  };
}

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(context.args, OPTIONS, ["FILE"]);
  if (values.replace === undefined) throw new UsageError("--replace PART is missing.");
  const replace = listOption("replace", values.replace);
  const settings = swapSettings(values);
  const terms = swapTerms(values);
  const limit = values.limit === undefined ? 10 : numberOption("limit", values.limit, 0, 86_400, "seconds");
  const record = await readRecord(context, files[0]!);
  const now = (): number => performance.now();
  const answer = swapOf(record, { replace, ...terms, front: true, settings }, { now, deadline: now() + limit * 1000 });
  if ("unreachable" in answer) {
    const text = answer.unreachable
      .map(
        ({ part, because, blockedBy }) =>
          `${part} cannot be replaced: ${because}.${blockedBy.length > 0 ? ` Blocked by: ${blockedBy.join(", ")}.` : ""}\n`,
      )
      .join("");
    context.stdout(values.json ? `${JSON.stringify(answer, null, 2)}\n` : text);
    return 1;
  }
  context.stdout(values.json ? `${JSON.stringify(answer, null, 2)}\n` : swapText(record, answer));
  return 0;
}

export const swap: Command = {
  name: "swap",
  summary: "a repair as a job: in and back, time, risk and price",
  help,
  run,
};
