/** Actions of the log by what they do to a joint. */
import type { Entry } from "./schema.ts";

/** Undo a joint by hand or tool. */
export const UNDOING: ReadonlySet<Entry["action"]> = new Set([
  "unscrew",
  "unplug",
  "pry",
  "slice",
  "peel",
  "debond",
  "desolder",
  "cut",
  "pull",
  "isolate",
]);

/** Close a joint again; `wake` closes the cell's. */
export const CLOSING: ReadonlySet<Entry["action"]> = new Set(["fasten", "plug", "lay", "press", "wake"]);
