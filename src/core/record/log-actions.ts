/** Actions of the log by what they do to a joint. */
import { ACTIONS_OF_RELEASE, type Entry } from "./schema.ts";

/** Undo a joint by hand or tool; `isolate` opens the cell's. */
export const UNDOING: ReadonlySet<Entry["action"]> = new Set([...ACTIONS_OF_RELEASE, "isolate"]);

/** Close a joint again; `wake` closes the cell's. */
export const CLOSING: ReadonlySet<Entry["action"]> = new Set(["fasten", "plug", "lay", "press", "wake"]);
