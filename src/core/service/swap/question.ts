/**
 * What is asked of a swap, and the settings that no record holds. Settings marked "no source" are our own or common practice;
 * whichever is not given by the caller is named among the assumptions of the answer.
 */
import { InputError } from "../../errors.ts";
import type { Condition, Hazard } from "../../record/index.ts";
import { LEARNING_MODELS, type LearningModel } from "../reckon/learning.ts";

export interface SwapQuestion {
  /** Part ids, all replaced in one job. */
  readonly replace: readonly string[];
  readonly conditions?: readonly Condition[];
  readonly accept?: readonly Hazard[];
  readonly damage?: boolean;
  /** Most expected damage of the way in, in the currency of the prices. */
  readonly capRisk?: string;
  /** Also the front of time against risk: a plan for each of its points. */
  readonly front?: boolean;
  readonly settings?: Partial<SwapSettings>;
}

export const TIME_SETS = ["own", "A", "B"] as const;
export type TimeSet = (typeof TIME_SETS)[number];

export interface SwapSettings {
  /** `own`: this bench's log where it has enough of an action, else set B; set B has a spread, set A none of its own. */
  readonly times: TimeSet;
  readonly seed: number;
  readonly trials: number;
  /** How many of this job the hands have done, this one included; 1 and no rate: no learning. */
  readonly repeat: number;
  readonly learningRate: number | null;
  readonly learningModel: LearningModel;
  /** Harm priors of first-timers or of practised hands. */
  readonly hands: "first" | "practised";
  /** An hour of hands-on work, in `currency`. null: not known. */
  readonly labour: string | null;
  readonly currency: string | null;
  /** Shares: overhead on labour; warranty repeats of jobs; margin of the net price; tax on the net price. */
  readonly overhead: number;
  readonly warranty: number;
  readonly margin: number;
  readonly tax: number;
  /** How many jobs a month use a consumable, for what is left of an opened pack. null: the share of the pack is charged. */
  readonly jobsAMonth: number | null;
  /** Chance that the repaired device works, and of how many jobs that is known. */
  readonly success: number;
  readonly successJobs: number;
  readonly lifeNew: number;
  readonly lifeRepaired: number;
  readonly interest: number;
}

/** Labour: middle of 35 to 75 an hour; warranty: middle of 2 to 6 % (common practice, no source). The rest is our own. */
export const DEFAULTS: SwapSettings = {
  times: "own",
  seed: 1,
  trials: 4000,
  repeat: 1,
  learningRate: null,
  learningModel: "unit",
  hands: "first",
  labour: null,
  currency: null,
  overhead: 0,
  warranty: 0.04,
  margin: 0,
  tax: 0,
  jobsAMonth: null,
  success: 0.96,
  successJobs: 25,
  lifeNew: 4,
  lifeRepaired: 2,
  interest: 0.05,
};

/** Taken where prices are in EUR and no labour rate is given (common practice, no source). */
export const USUAL_LABOUR = { amount: "55.00", currency: "EUR" } as const;

/** Seconds, hands on: our own settings, no source. */
export const HANDLING = { prove: 10, pair: 120 } as const;

/** Settings as given over the defaults. @throws InputError naming the setting */
export function settingsOf(given: Partial<SwapSettings> = {}): SwapSettings {
  const settings = { ...DEFAULTS, ...given };
  const limits: readonly [keyof SwapSettings, number, number, string][] = [
    ["overhead", 0, 10, "a share of 0 or more, such as 0.3"],
    ["warranty", 0, 0.99, "a share from 0 to 0.99, such as 0.04"],
    ["margin", 0, 0.99, "a share of the price from 0 to 0.99: a margin is never negative"],
    ["tax", 0, 1, "a share from 0 to 1, such as 0.19"],
    ["success", 0, 1, "a chance from 0 to 1"],
    ["successJobs", 1, 1e6, "a number of jobs of at least 1"],
    ["lifeNew", 0.01, 100, "years above 0"],
    ["lifeRepaired", 0.01, 100, "years above 0"],
    ["interest", 0, 10, "a share a year, such as 0.05"],
    ["trials", 100, 200_000, "from 100 to 200000"],
    ["seed", 0, Number.MAX_SAFE_INTEGER, "a whole number of 0 or more"],
    ["repeat", 1, 1_000_000, "a whole number of at least 1"],
  ];
  for (const [name, least, most, expected] of limits) {
    const value = settings[name];
    if (!(typeof value === "number" && value >= least && value <= most))
      throw new InputError({ path: `settings.${name}`, found: String(value), expected });
  }
  for (const name of ["trials", "seed", "repeat"] as const)
    if (!Number.isInteger(settings[name]))
      throw new InputError({ path: `settings.${name}`, found: String(settings[name]), expected: "a whole number" });
  for (const [name, words] of [
    ["times", TIME_SETS],
    ["hands", ["first", "practised"]],
  ] as const)
    if (!(words as readonly string[]).includes(settings[name]))
      throw new InputError({
        path: `settings.${name}`,
        found: JSON.stringify(settings[name]),
        expected: words.join(" or "),
      });
  const { learningRate, jobsAMonth, labour, currency } = settings;
  const least = settings.learningModel === "cumulative" ? 0.5 : 0.01;
  if (learningRate !== null && !(learningRate >= least && learningRate <= 1))
    throw new InputError({
      path: "settings.learningRate",
      found: String(learningRate),
      expected: `from ${least} to 1`,
    });
  if (!LEARNING_MODELS.includes(settings.learningModel))
    throw new InputError({
      path: "settings.learningModel",
      found: String(settings.learningModel),
      expected: LEARNING_MODELS.join(" or "),
    });
  if (jobsAMonth !== null && !(jobsAMonth > 0 && jobsAMonth <= 1e6))
    throw new InputError({ path: "settings.jobsAMonth", found: String(jobsAMonth), expected: "jobs a month above 0" });
  if (labour !== null && !/^\d{1,9}(\.\d{1,6})?$/.test(labour))
    throw new InputError({
      path: "settings.labour",
      found: JSON.stringify(labour),
      expected: "an amount an hour such as 55.00",
    });
  if (currency !== null && !/^[A-Z]{3}$/.test(currency))
    throw new InputError({
      path: "settings.currency",
      found: JSON.stringify(currency),
      expected: "a currency code of ISO 4217",
    });
  return settings;
}
