/**
 * Installs what is missing with `npm ci`, once per lock file: a stamp in node_modules says for which lock file, Node
 * and machine it holds, so that the second run and a run without a network ask nobody.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { hashOf, inRoot, note, Refusal, readOr } from "./checkout.mjs";

const stampFile = (what) => inRoot("node_modules", ".cache", "unseam", what);
const isStamped = (what) => readOr(stampFile(what), "") === stampNow();
const stampNow = () =>
  [hashOf([inRoot("package-lock.json")]), `abi ${process.versions.modules}`, process.platform, process.arch].join("\n");

/** Makes node_modules fit the lock file, with npm's words on stderr. True when there was work to do. */
export function ensureInstalled() {
  refuseOldNode();
  if (isStamped("installed")) return false;
  const missing = !matchesLockFile();
  if (missing) installAll();
  stamp("installed");
  return missing;
}

/**
 * Makes sure of the database driver, the one package that may have to be compiled. It is an optional dependency, so
 * that a machine without a compiler still gets the command line; the app and the tests need it.
 */
export function ensureDriver(justInstalled) {
  if (isStamped("driver")) return;
  if (!driverLoads() && !justInstalled) {
    note("Fetching or compiling the database driver better-sqlite3 (a minute or two) …");
    // npm takes an optional package away again when its compilation fails.
    if (existsSync(inRoot("node_modules", "better-sqlite3"))) npm(["rebuild", "better-sqlite3", "--loglevel=error"]);
    else installAll();
  }
  if (!driverLoads()) {
    throw new Refusal(
      "The database driver better-sqlite3 could be neither fetched ready-made nor compiled: install python3, make and g++ (on Debian: apt-get install python3 make g++) and run this again.",
    );
  }
  stamp("driver");
}

function stamp(what) {
  mkdirSync(dirname(stampFile(what)), { recursive: true });
  writeFileSync(stampFile(what), stampNow());
}

function installAll() {
  note("Installing the packages of package-lock.json …");
  const done = npm(["ci", "--no-audit", "--no-fund", "--loglevel=error"]);
  if (done === 0) return;
  throw new Refusal(
    `"npm ci" ended with code ${done}, its own words are above. It needs the npm registry once; after that everything works offline.`,
  );
}

/** The same test that package.json's engines make, said before npm says it less clearly. */
function refuseOldNode() {
  const [major, minor] = process.versions.node.split(".").map(Number);
  if (major > 20 || (major === 20 && minor >= 19)) return;
  throw new Refusal(`Node.js ${process.versions.node} is too old: Unseam needs 20.19 or newer.`);
}

/** Somebody may have run npm by hand: then npm's own hidden lock file tells what lies in node_modules. */
function matchesLockFile() {
  const packagesOf = (path) => {
    const text = readOr(path, "");
    return text === "" ? undefined : JSON.parse(text).packages;
  };
  const wanted = packagesOf(inRoot("package-lock.json"));
  const found = packagesOf(inRoot("node_modules", ".package-lock.json"));
  if (found === undefined) return false;
  return Object.entries(wanted).every(
    ([path, entry]) =>
      path === "" || (found[path] === undefined ? entry.optional === true : found[path].version === entry.version),
  );
}

/** Loads the driver in another process: one built for another Node can end the process that loads it. */
function driverLoads() {
  const probe = 'const D = require("better-sqlite3"); new D(":memory:").close()';
  return spawnSync(process.execPath, ["-e", probe], { cwd: inRoot(), stdio: "ignore" }).status === 0;
}

/** Runs npm with everything it says on stderr. */
function npm(args) {
  const env = { ...process.env };
  // Node's own headers, where it brought them along, spare the compiler a download.
  const prefix = dirname(dirname(process.execPath));
  if (env.npm_config_nodedir === undefined && existsSync(join(prefix, "include", "node", "node.h"))) {
    env.npm_config_nodedir = prefix;
  }
  const shell = process.platform === "win32";
  const command = shell ? "npm.cmd" : "npm";
  const done = spawnSync(command, args, { cwd: inRoot(), env, shell, stdio: ["ignore", 2, 2] });
  if (done.error) throw new Refusal(`npm could not be started (${done.error.message}): it comes with Node.js.`);
  return done.status ?? 1;
}
