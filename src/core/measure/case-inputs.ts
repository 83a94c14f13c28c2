/** The values of a case: their shapes, and what they come to as value, u and degrees of freedom. */
import { z } from "zod";
import { InputError } from "../errors.ts";
import { standardOf } from "./monte-carlo.ts";
import type { Uncertain } from "./propagate.ts";
import { welchSatterthwaite } from "./propagate.ts";
import { SHAPES, stepUncertainty } from "./shapes.ts";
import { summarise } from "./summary.ts";
import { BANDS } from "./two-values.ts";

export const number = z.number();
/** null = infinitely many, as the answers write it. */
export const dof = z.number().positive("degrees of freedom above 0").nullable().optional();
export const point = z.tuple([number, number]);
export const level = z.number().optional();
export const unit = z.string().max(40).optional();

/**
 * A value: with its standard uncertainty; or with a half-width and a shape; or as repeats with a display step.
 */
export const quantity = z.strictObject({
  name: z.string().max(400).optional(),
  value: number.optional(),
  u: number.optional(),
  dof,
  distribution: z.enum([...SHAPES, "t"]).optional(),
  half: number.optional(),
  beta: number.optional(),
  values: z.array(number).optional(),
  resolution: number.optional(),
});
export type QuantityInput = z.infer<typeof quantity>;

export const inputs = z.record(
  z.string().regex(/^[\p{L}_][\p{L}\p{N}_]*$/u, "a name of letters, digits and _"),
  quantity,
);
export const correlations = z.array(z.tuple([z.string(), z.string(), number])).optional();
export const band = z.union([point, z.enum(Object.keys(BANDS) as [keyof typeof BANDS])]).optional();
export const list = {
  values: z.array(z.union([number, quantity])).optional(),
  u: z.union([number, z.array(number)]).optional(),
  level,
};

export function present<T extends object>(options: T): { [K in keyof T]: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(options).filter(([, v]) => v !== undefined)) as never;
}

export function needed(value: number | undefined, path: string): number {
  if (value === undefined) throw new InputError({ path, found: "nothing", expected: "a number" });
  return value;
}

/** A position, or the name that a value carries. */
export function position(
  values: readonly (number | QuantityInput)[],
  candidate: number | string | undefined,
): number | undefined {
  if (typeof candidate !== "string") return candidate;
  const names = values.map((value) => (typeof value === "number" ? undefined : value.name));
  const found = names.indexOf(candidate);
  if (found >= 0) return found;
  const known = names.filter((name) => name !== undefined);
  throw new InputError({
    path: "candidate",
    found: candidate,
    expected: `the name of a value: ${known.join(", ") || "none has one"}`,
  });
}

export function given(input: QuantityInput | undefined, path: string): Uncertain {
  if (input === undefined) throw new InputError({ path, found: "nothing", expected: "a value with u" });
  return asUncertain(input, path);
}

export function uncertains(given: Readonly<Record<string, QuantityInput>>): Record<string, Uncertain> {
  return Object.fromEntries(Object.entries(given).map(([name, input]) => [name, asUncertain(input, `inputs.${name}`)]));
}

export function uncertainList(
  values: readonly (number | QuantityInput)[] | undefined,
  u: number | readonly number[] | undefined,
  path: string,
): Uncertain[] {
  if (values === undefined || values.length === 0) {
    throw new InputError({ path, found: values ? "an empty list" : "nothing", expected: "a list of values with u" });
  }
  return values.map((entry, i) => {
    const shared = typeof u === "number" ? u : u?.[i];
    const full = typeof entry === "number" ? { value: entry } : entry;
    return asUncertain(
      full.u === undefined && full.values === undefined && full.half === undefined ? { ...full, u: shared } : full,
      `${path}[${i}]`,
    );
  });
}

/** Repeats, a half-width or a plain u, as value, u and dof. */
export function asUncertain(input: QuantityInput, path: string): Uncertain {
  const at = (key: string) => (path === "" ? key : `${path}.${key}`);
  if (input.resolution !== undefined && !(input.resolution >= 0)) {
    throw new InputError({
      path: at("resolution"),
      found: String(input.resolution),
      expected: "a display step of 0 or more",
    });
  }
  const step = stepUncertainty(input.resolution ?? 0);
  if (input.values !== undefined) {
    if (input.value !== undefined || input.u !== undefined) {
      throw new InputError({ path, found: "repeats beside a value or u", expected: "one of the two" });
    }
    const { n, mean, sd } = summarise(input.values, at("values"));
    // The display step is not divided by n: repeats that never change are not thereby exact.
    const limit = input.half === undefined ? 0 : standardOf(path, { value: 0, half: input.half, ...shape(input) });
    if (sd === null) {
      if (step === 0 && limit === 0) {
        throw new InputError({
          path: at("values"),
          found: "one value",
          expected: "at least two repeats, or a resolution",
        });
      }
      return { value: mean, u: Math.hypot(step, limit) };
    }
    const scatter = sd / Math.sqrt(n);
    const u = Math.hypot(scatter, step, limit);
    const n1 = welchSatterthwaite([
      [scatter, n - 1],
      [Math.hypot(step, limit), Number.POSITIVE_INFINITY],
    ]);
    return Number.isFinite(n1) ? { value: mean, u, dof: n1 } : { value: mean, u };
  }
  const value = needed(input.value, at("value"));
  const own = standardOf(path, {
    value,
    ...(input.u === undefined ? {} : { u: input.u }),
    ...(input.half === undefined ? {} : { half: input.half }),
    ...(input.u === undefined && input.half === undefined && step > 0 ? { u: 0 } : {}),
    ...shape(input),
  });
  const n = input.dof ?? undefined;
  return { value, u: Math.hypot(own, step), ...(n === undefined ? {} : { dof: n }) };
}

function shape(input: QuantityInput): Pick<Parameters<typeof standardOf>[1], "distribution" | "beta"> {
  return {
    ...(input.distribution === undefined ? {} : { distribution: input.distribution }),
    ...(input.beta === undefined ? {} : { beta: input.beta }),
  };
}
