import { readFileSync } from "node:fs";
import { packageFile } from "./package-folder.ts";

/** The version that package.json states. */
export function version(): string {
  return (JSON.parse(readFileSync(packageFile("package.json"), "utf8")) as { version: string }).version;
}
