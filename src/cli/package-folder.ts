import { fileURLToPath } from "node:url";

/** A path in the package's own folder; the same from `src/cli` and from the built `dist/cli`. */
export function packageFile(...names: string[]): string {
  return fileURLToPath(new URL(["../..", ...names].join("/"), import.meta.url));
}
