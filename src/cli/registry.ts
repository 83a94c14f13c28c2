/**
 * The commands: one file each in `commands/`, named after the command and loaded only when it is asked for, because
 * the start of a light command must not wait for the heavy ones.
 */
import { readdirSync } from "node:fs";
import { extname } from "node:path";
import type { Command } from "./command.ts";

const folder = new URL("./commands/", import.meta.url);
/** `.ts` from the sources, `.js` once built. */
const extension = extname(new URL(import.meta.url).pathname);

/** The order in which the overview tells of them: as the work goes. The others follow in the alphabet's order. */
const ORDER = [
  ...["check", "narrate", "questions", "ways", "warm", "law", "figures", "compare", "swap", "report"],
  ...["serve", "solve", "measure", "reckon"],
];

/** Names of the command files, in the order of the overview. */
export function commandNames(): string[] {
  const rank = (name: string) => (ORDER.includes(name) ? ORDER.indexOf(name) : ORDER.length);
  return readdirSync(folder)
    .filter((file) => new RegExp(`^[a-z][a-z-]*\\${extension}$`).test(file))
    .map((file) => file.slice(0, -extension.length))
    .sort((a, b) => rank(a) - rank(b) || (a < b ? -1 : 1));
}

/** The command of that name, or undefined where there is none. */
export async function loadCommand(name: string): Promise<Command | undefined> {
  if (!commandNames().includes(name)) return undefined;
  const module = (await import(new URL(`${name}${extension}`, folder).href)) as Record<string, unknown>;
  return Object.values(module).find((value): value is Command => isCommand(value) && value.name === name);
}

export async function allCommands(): Promise<Command[]> {
  const commands = await Promise.all(commandNames().map(loadCommand));
  return commands.filter((command) => command !== undefined);
}

function isCommand(value: unknown): value is Command {
  return value !== null && typeof value === "object" && typeof (value as Partial<Command>).run === "function";
}
