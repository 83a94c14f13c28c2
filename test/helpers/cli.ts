/** Runs a command line inside the test and keeps what it prints. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { run } from "../../src/cli/run.ts";

export interface Printed {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** `unseam WORDS` as seen from a folder. */
export async function unseam(cwd: string, ...words: string[]): Promise<Printed> {
  let stdout = "";
  let stderr = "";
  const code = await run(words, {
    cwd,
    stdout: (text) => void (stdout += text),
    stderr: (text) => void (stderr += text),
  });
  return { code, stdout, stderr };
}

/** Work in a folder that is gone afterwards. */
export async function inFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), "unseam-cli-"));
  try {
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
