/**
 * Reads a file as JSON, or as YAML when its name ends in .yaml or .yml, with every fault said in words: too big, not
 * text, cut off, a key twice. Nothing that a file can hold makes it crash, hang or fill the memory.
 */
import { open } from "node:fs/promises";
import { extname, resolve } from "node:path";
import { InputError } from "../core/errors.ts";
import { type JsonReading, readJson } from "../core/record/json-text.ts";
import type { Context } from "./command.ts";

/** A teardown of sixty parts has about 0.2 MB; the limits keep a wrong file from filling the memory. */
const LIMITS = { json: 32_000_000, yaml: 2_000_000 };

export const isYaml = (path: string): boolean => /^\.ya?ml$/i.test(extname(path));

/**
 * The value in a file and the faults found while reading it.
 *
 * @throws InputError when the file is not there, too big or no UTF-8 text
 */
export async function readDocument(context: Pick<Context, "cwd">, path: string): Promise<JsonReading> {
  const yaml = isYaml(path);
  const text = await readText(context, path, yaml ? LIMITS.yaml : LIMITS.json);
  if (!yaml) return readJson(text);
  const { readYaml } = await import("./read-yaml.ts");
  return readYaml(text);
}

/** A whole text file of at most `limit` bytes. @throws InputError */
export async function readText(context: Pick<Context, "cwd">, path: string, limit: number): Promise<string> {
  const bytes = await readBytes(resolve(context.cwd, path), path, limit);
  if (bytes.length >= 2 && ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff))) {
    throw refused(path, "UTF-16 text", "UTF-8 text (save the file in that encoding)");
  }
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw refused(path, "bytes that are no UTF-8 text", "a text file in UTF-8");
  }
}

async function readBytes(full: string, path: string, limit: number): Promise<Buffer> {
  const file = await open(full, "r").catch((error: NodeJS.ErrnoException) => {
    throw error.code === "ENOENT" ? refused(path, "no such file", "a file that is there") : error;
  });
  try {
    const info = await file.stat();
    if (info.isDirectory()) throw refused(path, "a folder", "a file");
    if (info.isFile() && info.size > limit) throw tooBig(path, `${megabytes(info.size)} MB`, limit);
    // A pipe has no size: it is read until it ends or goes over the limit.
    const chunks: Buffer[] = [];
    let size = 0;
    for (;;) {
      const { bytesRead, buffer } = await file.read(Buffer.allocUnsafe(1 << 20), 0, 1 << 20, null);
      if (bytesRead === 0) return Buffer.concat(chunks, size);
      size += bytesRead;
      if (size > limit) throw tooBig(path, "more", limit);
      chunks.push(buffer.subarray(0, bytesRead));
    }
  } finally {
    await file.close();
  }
}

const megabytes = (bytes: number): string => (bytes / 1e6).toFixed(bytes < 1e8 ? 1 : 0);

function tooBig(path: string, found: string, limit: number): InputError {
  return refused(path, found, `at most ${megabytes(limit)} MB`);
}

function refused(path: string, found: string, expected: string): InputError {
  return new InputError({ path: "", found: `${found} at ${path}`, expected });
}
