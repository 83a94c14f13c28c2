/** What a command gets: its words after the name, and the ways to the world. */
export interface Context {
  readonly args: readonly string[];
  /** Folder that relative paths are meant from (where the user stands). */
  readonly cwd: string;
  readonly stdout: (text: string) => void;
  readonly stderr: (text: string) => void;
}

/** 0 done, 1 the input is at fault, 2 the command line is at fault, 3 our fault. */
export type ExitCode = 0 | 1 | 2 | 3;

export interface Command {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  /** The whole help text, at most 80 columns wide. */
  readonly help: string;
  readonly run: (context: Context) => Promise<ExitCode>;
}

/** The command line itself is wrong: exit code 2, with the help of the command named. */
export class UsageError extends Error {
  constructor(message: string) {
    super(message);
    this.name = "UsageError";
  }
}
