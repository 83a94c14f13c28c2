/**
 * Builds `dist/`: the compiler's output, the data files beside it and the browser application.
 *
 * Everything is made in a folder of its own and moved into place at the end, so that an interrupted or failed
 * build leaves the last good one, and two builds at once do not mix.
 */
import { spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { hashOf, inRoot, note, Refusal, readOr, root, sourceFiles } from "./checkout.mjs";

const stampFile = () => inRoot("dist", ".built");

/** Builds when the sources are not those that `dist/` was made from. */
export async function ensureBuilt() {
  if (isBuilt()) return;
  await withLock(async () => {
    if (!isBuilt()) build();
  });
}

/** Builds in any case. */
export const buildAlways = () => withLock(build);

const isBuilt = () => readOr(stampFile(), "") === hashOf(sourceFiles());

function build() {
  note("Building …");
  const stamp = hashOf(sourceFiles());
  const fresh = inRoot(`dist.next-${process.pid}`);
  const old = inRoot(`dist.old-${process.pid}`);
  try {
    tool("tsc", ["-p", "tsconfig.build.json", "--outDir", fresh], "The types do not fit, see above.");
    copyDataFiles(fresh);
    if (existsSync(inRoot("vite.config.ts"))) {
      tool(
        "vite",
        ["build", "--outDir", join(fresh, "web"), "--emptyOutDir", "--logLevel", "warn"],
        "The browser application could not be built, see above.",
      );
    }
    writeFileSync(join(fresh, ".built"), stamp);
    if (existsSync(inRoot("dist"))) renameSync(inRoot("dist"), old);
    renameSync(fresh, inRoot("dist"));
  } finally {
    rmSync(fresh, { recursive: true, force: true });
    rmSync(old, { recursive: true, force: true });
  }
}

/** Files that the compiler does not emit (tables, word lists, fonts) keep their place beside the code. */
function copyDataFiles(fresh) {
  for (const path of sourceFiles()) {
    const name = relative(inRoot("src"), path);
    if (name.startsWith("..") || name.startsWith(`web${sep}`) || /\.[cm]?tsx?$/.test(name)) continue;
    mkdirSync(dirname(join(fresh, name)), { recursive: true });
    cpSync(path, join(fresh, name));
  }
}

function tool(name, args, failure) {
  const { bin } = JSON.parse(readFileSync(inRoot("node_modules", packageOf[name], "package.json"), "utf8"));
  const script = inRoot("node_modules", packageOf[name], bin[name]);
  const done = spawnSync(process.execPath, [script, ...args], { cwd: root, stdio: ["ignore", 2, 2] });
  if (done.status !== 0) throw new Refusal(failure);
}

const packageOf = { tsc: "typescript", vite: "vite" };

/** One build at a time in one checkout. A lock whose owner is gone is taken over. */
async function withLock(work) {
  const lock = inRoot("node_modules", ".cache", "unseam", "build.lock");
  mkdirSync(dirname(lock), { recursive: true });
  for (let said = false; ; said = true) {
    try {
      writeFileSync(lock, String(process.pid), { flag: "wx" });
      break;
    } catch (error) {
      if (error.code !== "EEXIST") throw error;
      if (!isRunning(Number(readOr(lock, "")))) rmSync(lock, { force: true });
      else if (!said) note("Another build is running here, waiting for it …");
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
  }
  try {
    removeLeftovers();
    return await work();
  } finally {
    rmSync(lock, { force: true });
  }
}

/** What a build that was killed has left behind. */
function removeLeftovers() {
  for (const name of readdirSync(root)) {
    if (/^dist\.(next|old)-\d+$/.test(name)) rmSync(inRoot(name), { recursive: true, force: true });
  }
}

function isRunning(pid) {
  if (!Number.isInteger(pid) || pid <= 0) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === "EPERM";
  }
}
