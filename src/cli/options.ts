/** Reading a command's words: options and file names, with the nearest right option where one is misspelt. */
import { type ParseArgsConfig, parseArgs } from "node:util";
import { UsageError } from "./command.ts";

type Options = NonNullable<ParseArgsConfig["options"]>;

/**
 * Options by node:util's parseArgs, and exactly the file names asked for.
 *
 * @param names what the words that are no options stand for, in order ("FILE"); one ending in "?" may be left out
 * @throws UsageError, or parseArgs' own error, which the caller of the command turns into one
 */
export function readOptions<const T extends Options>(args: readonly string[], options: T, names: readonly string[]) {
  const { values, positionals } = parseArgs({
    args: withNegatives(args, options),
    options,
    allowPositionals: true,
    strict: true,
  });
  const needed = names.filter((name) => !name.endsWith("?"));
  if (positionals.length < needed.length) throw new UsageError(`${needed[positionals.length]} is missing.`);
  if (positionals.length > names.length) {
    throw new UsageError(`"${positionals[names.length]}" is one word too many.`);
  }
  return { values, files: positionals };
}

/** A negative number after an option is its value: it is joined to it, so that what is said is about the number. */
function withNegatives(args: readonly string[], options: Options): string[] {
  const joined: string[] = [];
  for (const [index, word] of args.entries()) {
    const before = args[index - 1] ?? "";
    const takes = before.startsWith("--") && options[before.slice(2)]?.type === "string";
    if (takes && /^-(\d|\.\d)/.test(word)) joined[joined.length - 1] = `${before}=${word}`;
    else joined.push(word);
  }
  return joined;
}

/** A number given to an option. @throws UsageError where it is none, or not within the limits */
export function numberOption(name: string, text: string, least: number, most: number, unit = ""): number {
  const value = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text) ? Number(text) : Number.NaN;
  if (value >= least && value <= most) return value;
  const limits = most === Number.POSITIVE_INFINITY ? `of at least ${least}` : `from ${least} to ${most}`;
  throw new UsageError(`--${name} takes a number${unit === "" ? "" : ` of ${unit}`} ${limits}, not "${text}".`);
}

/** A word given to an option that knows only a few. @throws UsageError naming them all */
export function wordOption<const T extends string>(name: string, text: string, words: readonly T[]): T {
  const found = words.find((word) => word === text);
  if (found !== undefined) return found;
  throw new UsageError(`--${name} takes ${words.join(", ")}, not "${text}".`);
}

/** Several words with commas between them, none empty. */
export function listOption(name: string, text: string): string[] {
  const words = text.split(",").map((word) => word.trim());
  if (words.some((word) => word === "")) {
    throw new UsageError(`--${name} takes one or more names with commas between them, not "${text}".`);
  }
  return words;
}
