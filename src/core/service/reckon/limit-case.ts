/** Inputs of the kind `replace-limit`: the limit, and the expected cost of the repair where its price is given. */
import { z } from "zod";
import { InputError } from "../../errors.ts";
import { type LimitQuestion, replaceLimit } from "./replace-limit.ts";

const share = z.number().min(0).max(1);
const money = z.number().min(0);
const whole = z.number().int().min(0).max(1e9);

export const limitInputs = {
  replace: z.number().positive(),
  lifeNew: z.number().positive().optional(),
  lifeRepaired: z.number().positive().optional(),
  rate: z.number().min(0).max(10).optional(),
  yearlyNew: money.optional(),
  yearlyRepaired: money.optional(),
  salvageNew: money.optional(),
  success: share.optional(),
  successes: whole.optional(),
  trials: whole.optional(),
  level: z.number().gt(0).lt(1).optional(),
  part: money.optional(),
  labour: money.optional(),
  damageChance: share.optional(),
  damageCost: money.optional(),
  /** Chance that an attempt fails and is made again with new parts. */
  failRetry: z.number().min(0).lt(1).optional(),
};

interface LimitInput extends Omit<LimitQuestion, "damage"> {
  readonly part?: number;
  readonly labour?: number;
  readonly damageChance?: number;
  readonly damageCost?: number;
  readonly failRetry?: number;
}

export function answerLimit(input: LimitInput): object {
  const { part, labour, damageChance, damageCost, failRetry, ...question } = input;
  together(input, "lifeNew", "lifeRepaired");
  together(input, "successes", "trials");
  together(input, "damageChance", "damageCost");
  const { successes, trials, success, salvageNew = 0, replace } = question;
  if (successes !== undefined && trials !== undefined && successes > trials)
    throw new InputError({ path: "successes", found: String(successes), expected: `at most ${trials}, the trials` });
  if (successes !== undefined && success !== undefined)
    throw new InputError({ path: "success", found: "success beside successes", expected: "one of the two" });
  if (salvageNew > replace)
    throw new InputError({
      path: "salvageNew",
      found: String(salvageNew),
      expected: `at most ${replace}, the price new`,
    });
  if (question.lifeNew === undefined)
    for (const key of ["rate", "yearlyNew", "yearlyRepaired", "salvageNew"] as const)
      if (question[key] !== undefined)
        throw new InputError({
          path: key,
          found: `${key} without lives`,
          expected: "lifeNew and lifeRepaired with it",
        });
  const damage = (damageChance ?? 0) * (damageCost ?? 0);
  const limit = replaceLimit(question);
  if (part === undefined && labour === undefined) return { ...limit, ...(damage > 0 ? { damage } : {}) };
  const attempt = (part ?? 0) + (labour ?? 0);
  const expected = attempt + damage;
  return {
    ...limit,
    damage,
    expected,
    ...(failRetry === undefined ? {} : { withRetries: attempt / (1 - failRetry) }),
    repair: expected <= limit.limit,
  };
}

function together(input: LimitInput, a: keyof LimitInput, b: keyof LimitInput): void {
  if ((input[a] === undefined) === (input[b] === undefined)) return;
  const [given, missing] = input[a] === undefined ? [b, a] : [a, b];
  throw new InputError({ path: missing, found: "nothing", expected: `${missing}, because ${given} is given` });
}
