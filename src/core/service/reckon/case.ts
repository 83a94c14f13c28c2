/**
 * The methods of the service alone, `unseam-reckon/1`: a kind and its inputs in, the answer out.
 *
 * The schema of each kind stands beside the function that answers it; a kind that is not in the table does not exist.
 * Symbols are those of the textbooks; `ALSO` lists other usual names of the same input, which are read as well.
 */
import { z } from "zod";
import { InputError, InputFaults } from "../../errors.ts";
import { normalCdf, normalQuantile } from "../../measure/distributions.ts";
import { nearest } from "../../record/nearest.ts";
import { foundText, schemaFaults } from "../../record/schema-faults.ts";
import { backorders, binomial, type Counts, gammaPoisson, poisson, smallestStock } from "./counts.ts";
import { answerLearning, learningInputs } from "./learning-case.ts";
import { answerLimit, limitInputs } from "./limit-case.ts";
import { fitLognormal, lognormal, lognormalCdf, lognormalQuantile } from "./lognormal.ts";
import { network } from "./network.ts";
import { orderCounts, orderNormal, orderTable, orderUniform } from "./newsvendor.ts";
import { betaPert, pert, triangular, triangularCdf, triangularQuantile } from "./three-point.ts";
import { worksheet } from "./worksheet.ts";

export const RECKON_FORMAT = "unseam-reckon/1";

interface Kind<S extends z.ZodRawShape = z.ZodRawShape> {
  readonly inputs: z.ZodObject<S>;
  readonly answer: (input: z.infer<z.ZodObject<S>>) => object;
}
const kind = <S extends z.ZodRawShape>(shape: S, answer: (input: z.infer<z.ZodObject<S>>) => object): Kind => {
  const object = z.strictObject({
    format: z.literal(RECKON_FORMAT),
    kind: z.string(),
    note: z.unknown().optional(),
    ...shape,
  });
  return { inputs: object as unknown as z.ZodObject, answer: answer as Kind["answer"] };
};

const positive = z.number().positive();
const atLeast0 = z.number().min(0);
const whole = z.number().int().min(0).max(1e9);
const chance = z.number().gt(0, "a share between 0 and 1, such as 0.95").lt(1, "a share between 0 and 1, such as 0.95");
const share = z.number().min(0).max(1);
const seed = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER).optional();
const trials = z.number().int().min(100).max(1_000_000).optional();
const oneOrMore = <T extends z.ZodType>(one: T) => z.union([one, z.array(one).min(1).max(1000)]);
const listOf = <T>(one: T | readonly T[]): readonly T[] => (Array.isArray(one) ? one : [one as T]);
const threePoint = z.union([
  z.tuple([z.number(), z.number(), z.number()]),
  z.strictObject({ a: z.number(), m: z.number(), b: z.number() }),
]);

export const KINDS = {
  worksheet: kind(
    {
      rows: z
        .array(
          z.strictObject({
            task: z.string().max(400).optional(),
            repeat: whole.optional(),
            tool: atLeast0.optional(),
            operation: atLeast0.optional(),
            aside: atLeast0.optional(),
            handling: atLeast0.optional(),
            insertion: atLeast0.optional(),
            necessary: whole.optional(),
            printed: atLeast0.optional(),
            code: z.unknown().optional(),
          }),
        )
        .min(1)
        .max(100_000),
      rate: atLeast0.optional(),
    },
    ({ rows, rate }) => worksheet(rows as Parameters<typeof worksheet>[0], rate),
  ),
  learning: kind(learningInputs, answerLearning),
  lognormal: kind(
    {
      x: z.array(positive).min(2).max(1_000_000).optional(),
      m: z.number().optional(),
      s: atLeast0.optional(),
      median: positive.optional(),
      mean: positive.optional(),
      p: oneOrMore(chance).optional(),
      due: oneOrMore(positive).optional(),
    },
    (input) => {
      const fit = input.x === undefined ? lognormalGiven(input) : fitLognormal(input.x);
      const at = (p: number): number => lognormalQuantile(fit.m, fit.s, p);
      return {
        ...fit,
        p50: at(0.5),
        p80: at(0.8),
        p90: at(0.9),
        p95: at(0.95),
        quantiles: listOf(input.p ?? []).map((p) => ({ p, value: at(p) })),
        ...(input.due === undefined
          ? {}
          : { within: listOf(input.due).map((due) => ({ due, probability: lognormalCdf(fit.m, fit.s, due) })) }),
      };
    },
  ),
  "three-point": kind(
    {
      a: z.number().optional(),
      m: z.number().optional(),
      b: z.number().optional(),
      tasks: z.record(z.string().min(1).max(200), threePoint).optional(),
      pred: z.record(z.string(), z.array(z.string())).optional(),
      due: z.number().optional(),
      trials,
      seed,
    },
    (input) => {
      if (input.tasks === undefined) return onePoint(input);
      if (input.a !== undefined || input.m !== undefined || input.b !== undefined)
        throw new InputError({ path: "tasks", found: "tasks beside a, m, b", expected: "one of the two" });
      const tasks = Object.fromEntries(
        Object.entries(input.tasks).map(([name, points]) => {
          const { a, m, b } = Array.isArray(points) ? { a: points[0], m: points[1], b: points[2] } : points;
          inOrder(a, m, b, `tasks.${name}`);
          if (a < 0)
            throw new InputError({ path: `tasks.${name}`, found: String(a), expected: "durations of 0 or more" });
          return [name, { a, m, b }];
        }),
      );
      if (Object.keys(tasks).length === 0)
        throw new InputError({ path: "tasks", found: "no task", expected: "at least one task" });
      return network(tasks, input.pred ?? {}, {
        ...(input.due === undefined ? {} : { due: input.due }),
        ...(input.trials === undefined ? {} : { trials: input.trials }),
        ...(input.seed === undefined ? {} : { seed: input.seed }),
      });
    },
  ),
  "poisson-stock": kind(
    {
      lambda: z.number().min(0).max(1e9).optional(),
      rate: z.number().min(0).max(1e9).optional(),
      lead: atLeast0.optional(),
      review: atLeast0.optional(),
      n: z.number().int().min(1).max(1e9).optional(),
      p: share.optional(),
      service: oneOrMore(chance).optional(),
      s: oneOrMore(z.number().int().min(0).max(1_000_000)).optional(),
      h: atLeast0.optional(),
      b: atLeast0.optional(),
    },
    poissonStock,
  ),
  newsvendor: kind(
    {
      mu: z.number().optional(),
      sd: positive.optional(),
      lambda: z.number().min(0).max(1e6).optional(),
      low: z.number().optional(),
      high: z.number().optional(),
      demand: z
        .array(z.strictObject({ value: atLeast0, chance: share }))
        .min(1)
        .optional(),
      cu: positive.optional(),
      co: positive.optional(),
      price: atLeast0.optional(),
      cost: atLeast0.optional(),
      salvage: z.number().optional(),
    },
    newsvendor,
  ),
  demand: kind(
    {
      events: whole.optional(),
      exposure: positive.optional(),
      counts: z.array(whole).min(1).max(100_000).optional(),
      shape: positive.optional(),
      rate: atLeast0.optional(),
      horizon: positive,
      service: oneOrMore(chance).optional(),
      s: oneOrMore(z.number().int().min(0).max(1_000_000)).optional(),
    },
    demandOf,
  ),
  "replace-limit": kind(limitInputs, answerLimit),
} as const satisfies Record<string, Kind>;

export type ReckonKind = keyof typeof KINDS;

function lognormalGiven(input: { m?: number; s?: number; median?: number; mean?: number }) {
  if (input.m !== undefined && input.s !== undefined) return lognormal(input.m, input.s);
  const { median, mean } = input;
  if (median !== undefined && input.s !== undefined) return lognormal(Math.log(median), input.s);
  if (median !== undefined && mean !== undefined) {
    if (mean < median)
      throw new InputError({ path: "mean", found: String(mean), expected: `a mean of at least the median ${median}` });
    return lognormal(Math.log(median), Math.sqrt(2 * Math.log(mean / median)));
  }
  throw new InputError({
    path: "x",
    found: "nothing",
    expected: "times x, or m and s, or median and s, or median and mean",
  });
}

function inOrder(a: number, m: number, b: number, path: string): void {
  if (a <= m && m <= b) return;
  throw new InputError({ path, found: `${a}, ${m}, ${b}`, expected: "low, most likely, high in that order" });
}

function onePoint({
  a,
  m,
  b,
  due,
  pred,
}: {
  a?: number;
  m?: number;
  b?: number;
  due?: number;
  pred?: unknown;
}): object {
  if (a === undefined || m === undefined || b === undefined)
    throw new InputError({ path: "a", found: "not all of a, m, b", expected: "a, m and b, or tasks" });
  if (pred !== undefined) throw new InputError({ path: "pred", found: "pred without tasks", expected: "tasks" });
  inOrder(a, m, b, "m");
  const points = { a, m, b };
  const estimate = pert(points);
  return {
    pert: estimate,
    betaPert: betaPert(points),
    triangular: {
      ...triangular(points),
      p50: triangularQuantile(points, 0.5),
      p90: triangularQuantile(points, 0.9),
    },
    ...(due === undefined
      ? {}
      : {
          probability: {
            pert: estimate.sd > 0 ? normalCdf((due - estimate.mean) / estimate.sd) : due >= estimate.mean ? 1 : 0,
            triangular: triangularCdf(points, due),
          },
        }),
  };
}

function stockOf(counts: Counts, s: number) {
  return {
    s,
    cdf: counts.cdf(s),
    short: counts.above(s),
    /** P(X < s): a request finds one on the shelf, where each piece is ordered again as it goes. */
    ready: counts.cdf(s - 1),
    backorders: backorders(counts, s),
  };
}

interface PoissonInput {
  readonly lambda?: number;
  readonly rate?: number;
  readonly lead?: number;
  readonly review?: number;
  readonly n?: number;
  readonly p?: number;
  readonly service?: number | number[];
  readonly s?: number | number[];
  readonly h?: number;
  readonly b?: number;
}

function poissonStock(input: PoissonInput): object {
  const { lambda, rate, lead, review, n, p, service, s, h, b } = input;
  const ways = [lambda !== undefined, rate !== undefined, n !== undefined].filter(Boolean).length;
  if (ways !== 1)
    throw new InputError({
      path: "lambda",
      found: ways === 0 ? "no demand" : "several demands",
      expected: "one of lambda, rate (with lead), or n and p",
    });
  if ((n === undefined) !== (p === undefined))
    throw new InputError({
      path: "p",
      found: n === undefined ? "p without n" : "n without p",
      expected: "n and p together",
    });
  if (rate !== undefined && lead === undefined)
    throw new InputError({ path: "lead", found: "nothing", expected: "the lead time, in the same unit as the rate" });
  if (rate === undefined && (lead !== undefined || review !== undefined))
    throw new InputError({ path: "rate", found: "nothing", expected: "a rate for the lead time and the review" });
  if ((h === undefined) !== (b === undefined))
    throw new InputError({ path: h === undefined ? "h" : "b", found: "nothing", expected: "h and b together" });
  if (h !== undefined && b !== undefined && !(h > 0 && b > 0))
    throw new InputError({ path: h > 0 ? "b" : "h", found: "0", expected: "costs above 0" });
  if (service === undefined && s === undefined && h === undefined)
    throw new InputError({
      path: "service",
      found: "nothing",
      expected: "a service level, a stock s, or costs h and b",
    });
  const counts =
    n !== undefined && p !== undefined ? binomial(n, p) : poisson(lambda ?? rate! * ((lead ?? 0) + (review ?? 0)));
  const levels = service === undefined ? [] : listOf(service);
  const least = levels.map((level) => ({ service: level, ...stockOf(counts, smallestStock(counts, level)) }));
  const given = s === undefined ? [] : listOf(s).map((one) => stockOf(counts, one));
  const ratio = h === undefined || b === undefined ? undefined : b / (b + h);
  const main = least[0] ?? given[0];
  return {
    model: n === undefined ? "poisson" : "binomial",
    mean: counts.mean,
    variance: counts.variance,
    ...(rate === undefined ? {} : { onOrder: rate * (lead ?? 0) }),
    ...(main === undefined ? {} : main),
    ...(least.length > 1 ? { least } : {}),
    ...(given.length > 0 ? { given } : {}),
    ...(ratio === undefined ? {} : { ratio, best: stockOf(counts, smallestStock(counts, ratio)) }),
    ...(counts.mean === 0 ? { warnings: ["No demand: nothing need be kept."] } : {}),
    ...(counts.mean > 0 && levels.length > 0
      ? { normalApproximation: Math.max(0, counts.mean + normalQuantile(levels[0]!) * Math.sqrt(counts.variance)) }
      : {}),
  };
}

interface NewsvendorInput {
  readonly mu?: number;
  readonly sd?: number;
  readonly lambda?: number;
  readonly low?: number;
  readonly high?: number;
  readonly demand?: { value: number; chance: number }[];
  readonly cu?: number;
  readonly co?: number;
  readonly price?: number;
  readonly cost?: number;
  readonly salvage?: number;
}

function newsvendor(input: NewsvendorInput): object {
  const { mu, sd, lambda, low, high, demand, price, cost, salvage } = input;
  const { cu, co } = tooFewAndTooMany(input);
  const ways = [mu !== undefined, lambda !== undefined, low !== undefined, demand !== undefined].filter(Boolean).length;
  if (ways !== 1)
    throw new InputError({
      path: "mu",
      found: ways === 0 ? "no demand" : "several demands",
      expected: "one of mu and sd, lambda, low and high, or demand",
    });
  const found = ((): { Q: number; S?: number; warnings?: string[]; short: number; mean: number } & object => {
    if (mu !== undefined) {
      if (sd === undefined) throw new InputError({ path: "sd", found: "nothing", expected: "a standard deviation" });
      return { ...orderNormal(mu, sd, cu, co), mean: mu };
    }
    if (lambda !== undefined) {
      const answer = orderCounts(poisson(lambda), cu, co);
      return {
        ...answer,
        S: answer.Q,
        mean: lambda,
        ...(lambda === 0 ? { warnings: ["No demand: nothing need be ordered."] } : {}),
      };
    }
    if (low !== undefined) {
      if (high === undefined || high <= low)
        throw new InputError({ path: "high", found: foundText(high), expected: `a number above ${low}` });
      return { ...orderUniform(low, high, cu, co), mean: (low + high) / 2 };
    }
    const table = demand ?? [];
    const sum = table.reduce((all, { chance: one }) => all + one, 0);
    if (Math.abs(sum - 1) > 1e-9)
      throw new InputError({
        path: "demand",
        found: `chances that add up to ${sum}`,
        expected: "chances that add up to 1",
      });
    return { ...orderTable(table, cu, co), mean: table.reduce((all, one) => all + one.value * one.chance, 0) };
  })();
  const sold = found.mean - found.short;
  const profit =
    price === undefined || cost === undefined
      ? {}
      : { profit: price * sold + (salvage ?? 0) * (found.Q - sold) - cost * found.Q };
  return { cu, co, ...found, ...profit };
}

function tooFewAndTooMany({ cu, co, price, cost, salvage }: NewsvendorInput): { cu: number; co: number } {
  const priced = price !== undefined || cost !== undefined || salvage !== undefined;
  if (cu !== undefined && co !== undefined && !priced) return { cu, co };
  if (cu !== undefined || co !== undefined || price === undefined || cost === undefined)
    throw new InputError({
      path: "cu",
      found: "not both",
      expected: "cu and co, or price, cost and salvage; not both",
    });
  if (price <= cost)
    throw new InputError({
      path: "price",
      found: String(price),
      expected: `a price above the cost of ${cost}: the margin is negative or nil`,
    });
  if ((salvage ?? 0) >= cost)
    throw new InputError({ path: "salvage", found: String(salvage ?? 0), expected: `less than the cost of ${cost}` });
  return { cu: price - cost, co: cost - (salvage ?? 0) };
}

interface DemandInput {
  readonly events?: number;
  readonly exposure?: number;
  readonly counts?: number[];
  readonly shape?: number;
  readonly rate?: number;
  readonly horizon: number;
  readonly service?: number | number[];
  readonly s?: number | number[];
}

/** Jeffreys' prior of a Poisson rate has shape 1/2 and rate 0. */
function demandOf({ events, exposure, counts, shape = 0.5, rate = 0, horizon, service, s }: DemandInput): object {
  if ((counts === undefined) === (events === undefined))
    throw new InputError({
      path: "events",
      found: counts === undefined ? "nothing" : "events beside counts",
      expected: "events with their exposure, or counts for each period",
    });
  if (counts === undefined && exposure === undefined)
    throw new InputError({ path: "exposure", found: "nothing", expected: "the time in which the events came" });
  const k = counts === undefined ? events! : counts.reduce((sum, one) => sum + one, 0);
  const time = exposure ?? counts!.length;
  const [a, b] = [shape + k, rate + time];
  const future = gammaPoisson(a, b, horizon);
  const levels = service === undefined ? [0.95] : listOf(service);
  const least = levels.map((level) => ({ service: level, ...stockOf(future, smallestStock(future, level)) }));
  const point = poisson((k / time) * horizon);
  return {
    shape: a,
    rate: b,
    rateMean: a / b,
    mean: future.mean,
    variance: future.variance,
    sd: Math.sqrt(future.variance),
    ...least[0],
    ...(least.length > 1 ? { least } : {}),
    ...(s === undefined ? {} : { given: listOf(s).map((one) => stockOf(future, one)) }),
    /** What the rate taken as known would have kept: too little while there are few events. */
    pointRate: { mean: point.mean, s: smallestStock(point, levels[0]!) },
    warnings: k === 0 ? ["No event so far: the stock rests on the prior alone."] : [],
  };
}

/** Other usual names of the same input. */
export const ALSO: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  worksheet: { labourRate: "rate", labourRate_per_h: "rate", perHour: "rate" },
  "worksheet.rows": {
    rep: "repeat",
    repeats: "repeat",
    toolAcquire: "tool",
    toolAcquire_s: "tool",
    op: "operation",
    op_s: "operation",
    setAside: "aside",
    setAside_s: "aside",
    handling_s: "handling",
    insertion_s: "insertion",
    theoreticalMinimum: "necessary",
    printed_time_s: "printed",
  },
  learning: { N: "n", first: "T1", rate: "r" },
  lognormal: { values: "x", times: "x", deadline: "due" },
  "three-point": { deadline: "due", low: "a", mode: "m", high: "b" },
  "poisson-stock": { mean: "lambda", target: "service", stock: "s", S: "s", leadTime: "lead" },
  newsvendor: { mean: "mu", underage: "cu", overage: "co" },
  demand: { k: "events", time: "exposure" },
  "replace-limit": {
    parts: "part",
    interest: "rate",
    r: "rate",
    priceNew: "replace",
    p_success: "success",
    p_damage: "damageChance",
    damage_cost: "damageCost",
    p_fail_retry: "failRetry",
  },
};

/** Answers a case. @throws InputError or InputFaults that name the key, what was found and what was expected */
export function reckonCase(value: unknown): object {
  if (value === null || typeof value !== "object" || Array.isArray(value))
    throw new InputError({
      path: "",
      found: foundText(value),
      expected: `an object with "format": "${RECKON_FORMAT}"`,
    });
  const { format, kind: name } = value as { format?: unknown; kind?: unknown };
  if (format !== RECKON_FORMAT)
    throw new InputError({ path: "format", found: foundText(format), expected: `"${RECKON_FORMAT}"` });
  if (typeof name !== "string" || !Object.hasOwn(KINDS, name)) {
    const near = typeof name === "string" ? nearest(name, Object.keys(KINDS)) : undefined;
    throw new InputError({
      path: "kind",
      found: foundText(name),
      expected: `one of ${Object.keys(KINDS).join(", ")}`,
      ...(near === undefined ? {} : { nearest: near }),
    });
  }
  const { inputs, answer } = KINDS[name as ReckonKind] as Kind;
  const renamed = underOneName(name, flat(value));
  const faults = schemaFaults(inputs, renamed);
  if (faults.length > 0) throw new InputFaults(faults);
  return finite({ kind: name, ...answer(renamed as never) });
}

/** Inputs may stand in an object of their own. */
function flat(value: object): Record<string, unknown> {
  const { inputs, ...rest } = value as Record<string, unknown>;
  if (inputs === undefined) return rest;
  if (inputs === null || typeof inputs !== "object" || Array.isArray(inputs))
    throw new InputError({ path: "inputs", found: foundText(inputs), expected: "an object" });
  for (const key of Object.keys(inputs))
    if (Object.hasOwn(rest, key))
      throw new InputError({ path: `inputs.${key}`, found: "the key twice", expected: "it in one place only" });
  return { ...rest, ...inputs };
}

function underOneName(name: string, value: Record<string, unknown>): Record<string, unknown> {
  const out = renamedBy(ALSO[name] ?? {}, value, "");
  if (name !== "worksheet" || !Array.isArray(out.rows)) return out;
  return {
    ...out,
    rows: out.rows.map((row, index) => {
      if (row === null || typeof row !== "object" || Array.isArray(row)) return row;
      const {
        toolCode: _t,
        opCode: _o,
        setAsideCode: _s,
        printed_cost_cents: _p,
        ...rest
      } = row as Record<string, unknown>;
      const { part, handlingCode: _h, insertionCode: _i, formula_time_s: _f, ...own } = rest;
      const named = part === undefined || own.task !== undefined ? own : { ...own, task: part };
      return renamedBy(ALSO["worksheet.rows"]!, named, `rows[${index}].`);
    }),
  };
}

function renamedBy(also: Readonly<Record<string, string>>, value: Record<string, unknown>, at: string) {
  const out: Record<string, unknown> = {};
  for (const [key, one] of Object.entries(value)) {
    const right = Object.hasOwn(also, key) ? also[key]! : key;
    if (Object.hasOwn(out, right) || (right !== key && Object.hasOwn(value, right)))
      throw new InputError({ path: `${at}${key}`, found: `${key} beside ${right}`, expected: `${right} alone` });
    out[right] = one;
  }
  return out;
}

/** An answer without NaN and overflow. */
function finite(answer: object): object {
  const walk = (value: unknown, key: string): void => {
    if (typeof value === "number" && !Number.isFinite(value))
      throw new InputError({
        path: "",
        found: `numbers whose ${key} comes out as ${value}`,
        expected: "inputs of a size that can be worked with",
      });
    if (Array.isArray(value)) for (const one of value) walk(one, key);
    else if (value !== null && typeof value === "object")
      for (const [inner, one] of Object.entries(value)) walk(one, inner);
  };
  walk(answer, "");
  return answer;
}
