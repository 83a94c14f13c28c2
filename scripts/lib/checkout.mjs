/**
 * What the scripts share about the checkout: where it is, what is installed, what is built.
 *
 * Plain JavaScript without dependencies, because it runs before `node_modules` exists.
 */
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";

export const root = resolve(dirname(fileURLToPath(import.meta.url)), "../..");
export const inRoot = (...names) => join(root, ...names);

/** Folder that the user stands in: npm changes to the package folder and leaves the old one in INIT_CWD. */
export const userFolder = () => process.env.INIT_CWD ?? process.cwd();

/** Notes go to stderr: stdout belongs to the command's own answer. */
export const note = (text) => process.stderr.write(`${text}\n`);

/** A failure that is said in words, without a stack trace. */
export class Refusal extends Error {}

/** Runs a script's main function; a refusal is printed in words, anything else keeps its stack trace. */
export async function script(main) {
  try {
    await main();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    note(error.message);
    process.exitCode = 1;
  }
}

function filesUnder(folder) {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => !entry.name.startsWith("."))
    .flatMap((entry) => {
      const path = join(folder, entry.name);
      return entry.isDirectory() ? filesUnder(path) : [path];
    })
    .sort();
}

/** Files that the build is made from. Tests are left out: changing one needs no new build. */
export function sourceFiles() {
  const loose = [
    "package.json",
    "package-lock.json",
    "tsconfig.json",
    "tsconfig.build.json",
    "vite.config.ts",
    "scripts/build.mjs",
    "scripts/lib/build.mjs",
  ];
  return [
    ...loose.map((name) => inRoot(name)).filter((path) => existsSync(path)),
    ...filesUnder(inRoot("src")).filter((path) => !/\.test\.tsx?$/.test(path) && !path.includes(`${sep}__`)),
  ];
}

/** One hash over names and contents, so that a fresh clone and a touched file do not look like a change. */
export function hashOf(paths) {
  const hash = createHash("sha256");
  for (const path of paths) {
    hash.update(`${relative(root, path).split(sep).join("/")}\0`);
    hash.update(readFileSync(path));
    hash.update("\0");
  }
  return hash.digest("hex");
}

export function readOr(path, fallback) {
  try {
    return readFileSync(path, "utf8");
  } catch {
    return fallback;
  }
}
