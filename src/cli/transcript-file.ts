/** The bytes of a transcript from a file, with every fault said in words. */
import { readFile } from "node:fs/promises";
import { resolve } from "node:path";
import { InputError } from "../core/errors.ts";
import type { Context } from "./command.ts";

/** A transcript of ten hours has about 1 MB; the limit keeps a wrong file from filling the memory. */
const LARGEST = 64_000_000;

/** The bytes of a transcript. @throws InputError where the file cannot be read */
export async function readBytes(context: Pick<Context, "cwd">, path: string): Promise<Uint8Array> {
  const bytes = await readFile(resolve(context.cwd, path)).catch((error: NodeJS.ErrnoException) => {
    const found =
      error.code === "ENOENT"
        ? "no such file"
        : error.code === "EISDIR"
          ? "a folder"
          : `a file that cannot be read (${error.code})`;
    throw new InputError({ path, found, expected: "a transcript" });
  });
  if (bytes.length > LARGEST)
    throw new InputError({
      path,
      found: `${Math.round(bytes.length / 1e6)} MB`,
      expected: `a transcript of at most ${LARGEST / 1e6} MB`,
    });
  return bytes;
}
