/**
 * One method on its own, `unseam-measure/1`: a kind and its inputs in, the answer out.
 *
 * The schema of each kind stands beside the function that answers it; a kind that is not in the table does not exist.
 */
import { z } from "zod";
import { InputError, InputFaults } from "../errors.ts";
import { nearest } from "../record/nearest.ts";
import { foundText, schemaFaults } from "../record/schema-faults.ts";
import type { QuantityInput } from "./case-inputs.ts";
import {
  asUncertain,
  band,
  correlations,
  dof,
  given,
  inputs,
  level,
  list,
  needed,
  number,
  point,
  position,
  present,
  quantity,
  uncertainList,
  uncertains,
  unit,
} from "./case-inputs.ts";
import { closure } from "./closure.ts";
import { conformance, globalRisk } from "./conformance.ts";
import {
  chiSquaredQuantile,
  coverageFactor,
  fisherQuantile,
  normalQuantile,
  studentQuantile,
} from "./distributions.ts";
import { straightLine } from "./line.ts";
import { monteCarlo } from "./monte-carlo.ts";
import { measurePolygon } from "./polygon.ts";
import { probabilityAbove } from "./probability.ts";
import { finish, propagate } from "./propagate.ts";
import { diagonal, reconcile } from "./reconcile.ts";
import { resultText, roundTo, roundUncertainty } from "./report.ts";
import { rectangularFactor, trapezoidFactor } from "./shapes.ts";
import { toleranceStack } from "./stack.ts";
import { summarise } from "./summary.ts";
import { difference, equivalence, ratio } from "./two-values.ts";
import { extremum, ranking, weightedMean } from "./value-lists.ts";

export const MEASURE_FORMAT = "unseam-measure/1";

interface Kind<S extends z.ZodRawShape = z.ZodRawShape> {
  readonly inputs: z.ZodObject<S>;
  readonly answer: (input: z.infer<z.ZodObject<S>>) => object;
}
const kind = <S extends z.ZodRawShape>(shape: S, answer: (input: z.infer<z.ZodObject<S>>) => object): Kind => {
  const object = z.strictObject({
    format: z.literal(MEASURE_FORMAT),
    kind: z.string(),
    note: z.unknown().optional(),
    ...shape,
  });
  return { inputs: object as unknown as z.ZodObject, answer: answer as Kind["answer"] };
};

const pair = {
  a: quantity,
  b: quantity,
  covariance: number.optional(),
  threshold: number.optional(),
  band,
  level,
  unit,
};

export const KINDS = {
  propagate: kind(
    { model: z.string(), inputs, correlations, order: z.union([z.literal(1), z.literal(2)]).optional(), level, unit },
    ({ model, inputs: given, ...options }) => propagate(model, uncertains(given), present(options)),
  ),
  "monte-carlo": kind(
    {
      model: z.string(),
      inputs,
      correlations,
      level,
      trials: number.optional(),
      seed: number.optional(),
      threshold: number.optional(),
      unit,
    },
    ({ model, inputs: given, unit: _, ...options }) => {
      const drawn = Object.entries(given).map(([name, input]) => {
        const path = `inputs.${name}`;
        if (input.values !== undefined) return [name, asUncertain(input, path)] as const;
        const { dof: n, resolution: _step, name: _name, values: _values, ...rest } = present(input) as QuantityInput;
        return [
          name,
          { ...rest, value: needed(input.value, `${path}.value`), ...(n == null ? {} : { dof: n }) },
        ] as const;
      });
      return monteCarlo(model, Object.fromEntries(drawn), present(options));
    },
  ),
  difference: kind(pair, ({ a, b, ...options }) => {
    const answer = difference(asUncertain(a, "a"), asUncertain(b, "b"), present(options));
    const halves = [a, b].flatMap((side) =>
      side.half !== undefined && (side.distribution ?? "rectangular") === "rectangular" ? [side.half] : [],
    );
    if (halves.length === 0 || options.band !== undefined) return answer;
    // A rounded figure is a rectangle: the probability is exact, not that of a normal with the same u.
    const own = Math.hypot(...[a, b].map((side) => (side.half === undefined ? asUncertain(side, "").u : 0)));
    return { ...answer, probability: probabilityAbove(answer.value, own, halves, options.threshold ?? 0) };
  }),
  ratio: kind(pair, ({ a, b, ...options }) => ratio(asUncertain(a, "a"), asUncertain(b, "b"), present(options))),
  equivalence: kind(
    {
      a: quantity.optional(),
      b: quantity.optional(),
      ...list,
      covariance: number.optional(),
      delta: number.optional(),
      threshold: number.optional(),
      unit,
    },
    ({ a, b, delta: stated, threshold, values, u, ...options }) => {
      const delta = needed(stated ?? threshold, "delta");
      if (values === undefined) return equivalence(given(a, "a"), given(b, "b"), delta, present(options));
      // Several values are the same where the two that lie farthest apart are (intersection-union).
      const all = uncertainList(values, u, "values");
      const { order } = ranking(all, options.level);
      const pairs = order.flatMap((i, n) =>
        order.slice(n + 1).map((j) => equivalence(all[j]!, all[i]!, delta, present(options))),
      );
      return pairs.reduce((worst, one) => (one.probability < worst.probability ? one : worst));
    },
  ),
  extremum: kind(
    {
      ...list,
      candidate: z.union([z.number().int(), z.string(), quantity]).optional(),
      others: z.array(z.union([number, quantity])).optional(),
      which: z.enum(["smallest", "largest"]).optional(),
    },
    ({ values, others, candidate, which = "smallest", u, level: p }) => {
      if (typeof candidate === "object") {
        const rest = uncertainList(others ?? values, u, others === undefined ? "values" : "others");
        return extremum([asUncertain(candidate, "candidate"), ...rest], which, 0, p);
      }
      return extremum(uncertainList(values, u, "values"), which, position(values ?? [], candidate), p);
    },
  ),
  ranking: kind(list, ({ values, u, level: p }) => ranking(uncertainList(values, u, "values"), p)),
  weighted: kind({ ...list, unit }, ({ values, u, level: p, unit: name }) =>
    weightedMean(uncertainList(values, u, "values"), p, name),
  ),
  conformance: kind(
    {
      value: number.optional(),
      u: number,
      dof,
      lower: number.optional(),
      upper: number.optional(),
      process: z.strictObject({ mean: number, sd: z.number().positive() }).optional(),
    },
    ({ value, u, dof: n, lower, upper, process }) => {
      if (!(u >= 0))
        throw new InputError({ path: "u", found: String(u), expected: "a standard uncertainty of 0 or more" });
      if (process === undefined)
        return conformance(needed(value, "value"), u, present({ lower, upper }), n ?? undefined);
      return globalRisk(process, u, { lower: needed(lower, "lower"), upper: needed(upper, "upper") });
    },
  ),
  stack: kind(
    {
      terms: z.array(
        z.strictObject({
          a: number.optional(),
          value: number,
          t: number,
          cp: number.optional(),
          cpk: number.optional(),
          name: z.string().optional(),
        }),
      ),
      minimum: number.optional(),
    },
    ({ terms, minimum }) =>
      toleranceStack(
        terms.map((term) => ({ ...present(term), a: term.a ?? 1 })),
        minimum,
      ),
  ),
  closure: kind(
    { whole: quantity, parts: z.array(quantity), sharedOffset: number.optional(), sharedGain: number.optional() },
    ({ whole, parts, sharedOffset, sharedGain }) => {
      if (parts.length === 0) throw new InputError({ path: "parts", found: "no parts", expected: "at least one" });
      return closure(
        asUncertain(whole, "whole"),
        parts.map((part, i) => asUncertain(part, `parts[${i}]`)),
        present({ offset: sharedOffset, gain: sharedGain }),
      );
    },
  ),
  reconcile: kind(
    {
      values: z.array(number),
      u: z.array(number).optional(),
      covariance: z.array(z.array(number)).optional(),
      A: z.array(z.array(number)),
      rhs: z.array(number).optional(),
      level,
    },
    ({ values, u, covariance, A, rhs, level: p }) => {
      if ((u === undefined) === (covariance === undefined)) {
        throw new InputError({
          path: "u",
          found: u ? "u and covariance" : "neither u nor covariance",
          expected: "one of the two",
        });
      }
      const size = (u ?? covariance)!.length;
      if (size !== values.length || covariance?.some((row) => row.length !== size)) {
        throw new InputError({
          path: u ? "u" : "covariance",
          found: `${size} entries`,
          expected: `${values.length}, one for each value`,
        });
      }
      return reconcile(values, covariance ?? diagonal(u!), A, rhs, p);
    },
  ),
  polygon: kind(
    {
      points: z.array(point),
      holes: z.array(z.array(point)).optional(),
      u: number.optional(),
      scaleU: number.optional(),
      offsetU: number.optional(),
    },
    ({ points, holes = [], ...errors }) => measurePolygon([points, ...holes], present(errors)),
  ),
  summary: kind({ values: z.array(number) }, ({ values }) => summarise(values)),
  quantile: kind(
    {
      of: z.enum(["normal", "t", "chi2", "F"]),
      p: number,
      dof: z.union([z.number(), z.tuple([number, number]), z.null()]).optional(),
      dof1: number.optional(),
      dof2: number.optional(),
    },
    ({ of, p, dof: given, dof1, dof2 }) => {
      if (!(p > 0 && p < 1))
        throw new InputError({ path: "p", found: String(p), expected: "a probability between 0 and 1" });
      if (of === "normal") return { value: normalQuantile(p) };
      if (of === "F") {
        const [a, b] = Array.isArray(given) ? given : [dof1 ?? given ?? undefined, dof2];
        return { value: fisherQuantile(p, needed(a, "dof"), needed(b, "dof")) };
      }
      if (Array.isArray(given)) {
        throw new InputError({ path: "dof", found: "two numbers", expected: `one for ${of}` });
      }
      const n = given === null ? Number.POSITIVE_INFINITY : needed(given ?? dof1, "dof");
      if (of === "chi2" && !Number.isFinite(n)) {
        throw new InputError({ path: "dof", found: "null", expected: "a finite number for chi2" });
      }
      return { value: of === "t" ? studentQuantile(p, n) : chiSquaredQuantile(p, n) };
    },
  ),
  factor: kind(
    {
      level: number,
      dof,
      distribution: z.enum(["normal", "rectangular", "trapezoid"]).optional(),
      beta: number.optional(),
    },
    ({ level: p, dof: n, distribution, beta }) => {
      const k = coverageFactor(p, n ?? Number.POSITIVE_INFINITY);
      if (distribution === "rectangular") return { k: rectangularFactor(p) };
      return { k: distribution === "trapezoid" ? trapezoidFactor(p, needed(beta, "beta")) : k };
    },
  ),
  report: kind(
    { value: number, U: number, unit, mode: z.enum(["nearest", "up"]).optional() },
    ({ value, U, unit: name, mode }) => {
      if (!(U > 0)) throw new InputError({ path: "U", found: String(U), expected: "an uncertainty above 0" });
      const { place, value: shown } = roundUncertainty(U, mode);
      return { value: roundTo(value, place), U: shown, text: resultText(value, U, name, mode) };
    },
  ),
  line: kind({ x: z.array(number), y: z.array(number), at: number.optional() }, ({ x, y, at }) =>
    straightLine(x, y, at),
  ),
  reading: kind(
    { values: z.array(number), resolution: number.optional(), half: number.optional(), level, unit },
    (input) => {
      const {
        value,
        u,
        dof: n,
      } = asUncertain({ values: input.values, resolution: input.resolution, half: input.half }, "");
      return finish(value, u, n ?? Number.POSITIVE_INFINITY, input.level, input.unit);
    },
  ),
} as const satisfies Record<string, Kind>;

export type KindName = keyof typeof KINDS;

/**
 * Answers a case. @throws InputError or InputFaults that name the key, what was found and what was expected.
 */
export function answerCase(value: unknown): object {
  if (value === null || typeof value !== "object" || Array.isArray(value)) {
    throw new InputError({
      path: "",
      found: foundText(value),
      expected: `an object with "format": "${MEASURE_FORMAT}"`,
    });
  }
  const { format, kind: name } = value as { format?: unknown; kind?: unknown };
  if (format !== MEASURE_FORMAT) {
    throw new InputError({ path: "format", found: foundText(format), expected: `"${MEASURE_FORMAT}"` });
  }
  if (typeof name !== "string" || !Object.hasOwn(KINDS, name)) {
    const near = typeof name === "string" ? nearest(name, Object.keys(KINDS)) : undefined;
    throw new InputError({
      path: "kind",
      found: foundText(name),
      expected: `one of ${Object.keys(KINDS).join(", ")}`,
      ...(near === undefined ? {} : { nearest: near }),
    });
  }
  const { inputs: schema, answer } = KINDS[name as KindName] as Kind;
  const faults = schemaFaults(schema, value);
  if (faults.length > 0) throw new InputFaults(faults);
  return finite(answer(value as never));
}

/** Keys that may be infinite: degrees of freedom, and a z whose uncertainty is zero. */
const MAY_BE_INFINITE: ReadonlySet<string> = new Set(["dof", "z"]);

/** An answer without NaN and overflow: numbers of 1e200 squared are no caller's measurement. */
function finite(answer: object): object {
  const walk = (value: unknown, key: string): void => {
    if (typeof value === "number" && !Number.isFinite(value) && !(MAY_BE_INFINITE.has(key) && !Number.isNaN(value))) {
      throw new InputError({
        path: "",
        found: `numbers whose ${key} comes out as ${value}`,
        expected: "values and uncertainties of a size that can be squared and divided (about 1e-150 to 1e150)",
      });
    }
    if (Array.isArray(value)) for (const one of value) walk(one, key);
    else if (value !== null && typeof value === "object")
      for (const [inner, one] of Object.entries(value)) walk(one, inner);
  };
  walk(answer, "");
  return answer;
}
