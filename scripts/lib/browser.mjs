/** Finds the Chromium that the browser tests drive; installs Debian's where there is none and the user may. */
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { note } from "./checkout.mjs";

const NAMES = ["chromium", "chromium-browser", "google-chrome-stable", "google-chrome"];

/** Path of a browser, or undefined after a sentence that says what to do. */
export function ensureBrowser() {
  const found = findBrowser();
  if (found !== undefined) return found;
  installWithApt();
  const installed = findBrowser();
  if (installed === undefined) {
    note(
      'The browser tests cannot run: no Chromium was found and it could not be installed here. Install it (on Debian: "apt-get install chromium" as root), or set UNSEAM_CHROMIUM to its path, and run this again.',
    );
  }
  return installed;
}

function findBrowser() {
  const stated = process.env.UNSEAM_CHROMIUM;
  if (stated !== undefined && existsSync(stated)) return stated;
  const folders = (process.env.PATH ?? "").split(":").concat("/usr/bin");
  return folders.flatMap((folder) => NAMES.map((name) => `${folder}/${name}`)).find((path) => existsSync(path));
}

function installWithApt() {
  const runs = (command, ...args) => spawnSync(command, args, { stdio: "ignore" }).status === 0;
  if (!runs("apt-get", "--version")) return;
  const isRoot = process.getuid?.() === 0;
  if (!isRoot && !runs("sudo", "-n", "true")) return;
  note("Installing Chromium for the browser tests (apt-get install chromium) …");
  const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
  const apt = (...args) => {
    const words = ["apt-get", "-y", "-q", ...args];
    const [command, ...rest] = isRoot ? words : ["sudo", "-n", "-E", ...words];
    return spawnSync(command, rest, { env, stdio: ["ignore", 2, 2] }).status === 0;
  };
  apt("update");
  apt("install", "--no-install-recommends", "chromium");
}
