/** Inputs of the kind `learning`: times of repeats, a rate from two times, repeats until a standard. */
import { z } from "zod";
import { InputError } from "../../errors.ts";
import {
  exponentOf,
  LEARNING_MODELS,
  type LearningModel,
  learnt,
  MOST_REPEATS,
  rateFrom,
  repeatsUntil,
} from "./learning.ts";

const rate = z.number().gt(0).max(1);
const repeats = z.number().int().min(1).max(MOST_REPEATS);

export const learningInputs = {
  model: z.enum(LEARNING_MODELS),
  T1: z.number().positive().optional(),
  r: rate.optional(),
  /** In place of r: the time of a later one. */
  known: z.strictObject({ n: z.number().int().min(2).max(MOST_REPEATS), T: z.number().positive() }).optional(),
  n: z.union([repeats, z.array(repeats).min(1).max(1000)]).optional(),
  standard: z.number().positive().optional(),
  cases: z
    .array(z.strictObject({ T1: z.number().positive(), r: rate, n: repeats }))
    .min(1)
    .max(1000)
    .optional(),
};

interface LearningInput {
  readonly model: LearningModel;
  readonly T1?: number;
  readonly r?: number;
  readonly known?: { readonly n: number; readonly T: number };
  readonly n?: number | number[];
  readonly standard?: number;
  readonly cases?: readonly { readonly T1: number; readonly r: number; readonly n: number }[];
}

export function answerLearning(input: LearningInput): object {
  const { model, T1, known, n, standard, cases } = input;
  if (cases !== undefined) {
    if (T1 !== undefined || input.r !== undefined || known !== undefined || n !== undefined || standard !== undefined)
      throw new InputError({ path: "cases", found: "cases beside other inputs", expected: "one of the two" });
    return { model, cases: cases.map((one) => ({ ...one, ...answer(model, one.T1, one.r, one.n) })) };
  }
  if (T1 === undefined)
    throw new InputError({ path: "T1", found: "nothing", expected: "the time of the first, above 0" });
  if ((input.r === undefined) === (known === undefined))
    throw new InputError({
      path: "r",
      found: known === undefined ? "nothing" : "r beside known",
      expected: "a rate such as 0.8, or known with a later n and its T",
    });
  const r = input.r ?? rateFrom(model, T1, known!.n, known!.T);
  const list = n === undefined ? [] : Array.isArray(n) ? n : [n];
  if (list.length === 0 && standard === undefined && known === undefined)
    throw new InputError({ path: "n", found: "nothing", expected: "a number of repeats, or a standard time" });
  const rows = list.map((one) => answer(model, T1, r, one));
  return {
    model,
    T1,
    r,
    b: exponentOf(r),
    ...(rows[0] ?? {}),
    ...(rows.length > 1 ? { each: rows } : {}),
    ...(standard === undefined ? {} : { until: repeatsUntil(model, T1, r, standard) }),
  };
}

function answer(model: LearningModel, T1: number, r: number, n: number) {
  if (model === "cumulative" && r < 0.5 && n > 1)
    throw new InputError({
      path: "r",
      found: String(r),
      expected: "at least 0.5 in the cumulative model: below it the second would take less than nothing",
    });
  return learnt(model, T1, r, n);
}
