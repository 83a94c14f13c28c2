/**
 * The place where records of older formats are brought up to the present one, one step at a time.
 *
 * The present format is the first, so the table of steps is empty; a change of the format adds the step from the format
 * before it, and every stored file can still be read.
 */
import { InputError } from "../errors.ts";
import { RECORD_FORMAT } from "./schema.ts";

type Fields = Readonly<Record<string, unknown>>;

export interface Step {
  readonly to: string;
  readonly change: (record: Fields) => Fields;
}

/** From each older format to the next one. */
export const STEPS: Readonly<Record<string, Step>> = {};

/**
 * The value in the present format. What is no record at all is handed on as it is: the check has the better words.
 *
 * @throws InputError when the format is newer than this program.
 */
export function upgrade(value: unknown, steps = STEPS, present: string = RECORD_FORMAT): unknown {
  if (value === null || typeof value !== "object" || Array.isArray(value)) return value;
  let fields = value as Fields;
  for (let format = fields.format; typeof format === "string" && Object.hasOwn(steps, format); format = fields.format) {
    const step = steps[format];
    fields = { ...step.change(fields), format: step.to };
  }
  if (isNewer(fields.format, present)) {
    throw new InputError({
      path: "format",
      found: `"${fields.format}", made by a newer version of Unseam`,
      expected: `"${present}" (update Unseam to read this record)`,
    });
  }
  return fields;
}

function isNewer(format: unknown, present: string): boolean {
  if (typeof format !== "string") return false;
  const [name, number] = format.split("/");
  const [ours, newest] = present.split("/");
  return name === ours && /^\d+$/.test(number ?? "") && Number(number) > Number(newest);
}
