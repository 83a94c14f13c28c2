/**
 * Finds the command, runs it and turns what it throws into an exit code.
 *
 * 0 done; 1 the input is at fault (with `--json` the faults are the one JSON value on stdout); 2 the command line is at
 * fault; 3 our fault, the only one with a stack trace. Notes and errors for people go to stderr.
 */
import { type Fault, faultsIn, faultText } from "../core/errors.ts";
import { nearest } from "../core/record/nearest.ts";
import { type Command, type Context, type ExitCode, UsageError } from "./command.ts";
import { allCommands, commandNames, loadCommand } from "./registry.ts";
import { version } from "./version.ts";

/** Runs a command line on the process's own streams. `cwd`: where relative paths are meant from. */
export async function main(words: readonly string[], cwd: string): Promise<ExitCode> {
  // The reader at the other end of a pipe may have seen enough (`unseam … | head`): that is nobody's fault.
  for (const stream of [process.stdout, process.stderr]) {
    stream.on("error", (error: NodeJS.ErrnoException) => {
      if (error.code !== "EPIPE") throw error;
    });
  }
  return run(words, {
    cwd,
    stdout: (text) => void process.stdout.write(text),
    stderr: (text) => void process.stderr.write(text),
  });
}

/** Runs a command line: `words` are those after `unseam`. Never throws. */
export async function run(
  words: readonly string[],
  outside: Omit<Context, "args">,
  load: (name: string) => Promise<Command | undefined> = loadCommand,
): Promise<ExitCode> {
  const [name, ...args] = words;
  const world = plain(outside, asks(args, "--json"));
  try {
    if (name === undefined) throw new UsageError("A command is missing.");
    if (name === "--help" || name === "-h") {
      world.stdout(await overview());
      return 0;
    }
    if (name === "--version") {
      world.stdout(`${version()}\n`);
      return 0;
    }
    const command = (await load(name)) ?? unknown(name);
    if (asks(args, "--help", "-h")) {
      world.stdout(command.help.endsWith("\n") ? command.help : `${command.help}\n`);
      return 0;
    }
    return await attempt(command, { ...world, args });
  } catch (error) {
    return explain(error, name, asks(args, "--json"), world);
  }
}

function unknown(name: string): never {
  const near = nearest(name, commandNames());
  const kind = name.startsWith("-") ? "option" : "command";
  throw new UsageError(`There is no ${kind} "${name}".${near === undefined ? "" : ` Nearest: ${near}.`}`);
}

async function attempt(command: Command, context: Context): Promise<ExitCode> {
  try {
    return await command.run(context);
  } catch (error) {
    throw usageFrom(error, command);
  }
}

/** What node:util's parseArgs refuses is the command line's fault; the nearest option is found in the help text. */
function usageFrom(error: unknown, command: Command): unknown {
  const code = (error as NodeJS.ErrnoException | undefined)?.code;
  if (!(error instanceof Error) || typeof code !== "string" || !code.startsWith("ERR_PARSE_ARGS")) return error;
  const unknown = /^Unknown option '(-[^']*)'/.exec(error.message)?.[1];
  if (unknown === undefined) return new UsageError(`${error.message.split("\n")[0]}`);
  const known = new Set([...(command.help.match(/--[a-z][a-z-]*/g) ?? []), "--help"]);
  const near = nearest(unknown, known);
  return new UsageError(`There is no option "${unknown}".${near === undefined ? "" : ` Nearest: ${near}.`}`);
}

function explain(error: unknown, name: string | undefined, json: boolean, world: Omit<Context, "args">): ExitCode {
  if (error instanceof UsageError) {
    const about = name === undefined || !commandNames().includes(name) ? "" : ` ${name}`;
    world.stderr(shown(`${error.message}\nTry: unseam${about} --help\n`));
    return 2;
  }
  const faults = faultsOf(error);
  if (faults !== undefined) {
    const warnings = (error as { warnings?: unknown }).warnings ?? [];
    if (json) world.stdout(`${JSON.stringify({ ok: false, faults, warnings }, null, 2)}\n`);
    for (const fault of faults) world.stderr(shown(`${faultText(fault)}\n`));
    return 1;
  }
  const trace = error instanceof Error ? (error.stack ?? error.message) : String(error);
  world.stderr(`This is a fault of Unseam, not yours. Please report it with these lines:\n${trace}\n`);
  return 3;
}

/**
 * A name in a record may hold control characters, and those could make a terminal do things: they are not printed. The
 * JSON on stdout is for programs and keeps them.
 */
function plain(world: Omit<Context, "args">, json: boolean): Omit<Context, "args"> {
  return json ? world : { ...world, stdout: (text) => world.stdout(shown(text)) };
}

const shown = (text: string): string => text.replaceAll(/[^\P{Cc}\n\t]/gu, "\ufffd");

/** The caller's faults, and the world's: a file that is not there, a full disk. Anything else is ours. */
function faultsOf(error: unknown): readonly Fault[] | undefined {
  const faults = faultsIn(error);
  if (faults !== undefined) return faults;
  const { code, path, syscall } = (error ?? {}) as NodeJS.ErrnoException;
  if (code === undefined || !Object.hasOwn(WORLD, code) || syscall === undefined) return undefined;
  return [
    { path: "", found: `${WORLD[code]}${path === undefined ? "" : `: ${path}`}`, expected: `${syscall} to succeed` },
  ];
}

const WORLD: Readonly<Record<string, string>> = {
  ENOENT: "no such file or folder",
  EACCES: "a file or folder that may not be used",
  EPERM: "a file or folder that may not be used",
  EISDIR: "a folder where a file was meant",
  ENOTDIR: "a file where a folder was meant",
  EEXIST: "a file that is already there",
  ENOSPC: "a full disk",
  EDQUOT: "a full disk quota",
  EROFS: "a disk that cannot be written to",
  EMFILE: "too many open files",
  ENAMETOOLONG: "a name that is too long",
  ELOOP: "links that lead in a circle",
};

/** Whether an option stands among the words before a bare `--`. */
function asks(args: readonly string[], ...options: string[]): boolean {
  const end = args.indexOf("--");
  return args.slice(0, end < 0 ? args.length : end).some((word) => options.includes(word));
}

async function overview(): Promise<string> {
  const commands = await allCommands();
  const width = Math.max(...commands.map(({ name }) => name.length));
  return `unseam: one teardown of a phone or tablet, computed.

Usage: unseam COMMAND [FILE] [OPTIONS]

${commands.map(({ name, summary }) => `  ${name.padEnd(width)}  ${summary}`).join("\n")}

unseam COMMAND --help tells more. A record is a JSON file, or YAML when its name
ends in .yaml or .yml. With --json one JSON value and nothing else is printed.
Exit codes: 0 done, 1 the input is at fault, 2 the command line is at fault,
3 a fault of Unseam.
`;
}
