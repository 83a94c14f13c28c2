/** How far along an order of work the log has come. */
import { CLOSING, type TeardownRecord, UNDOING } from "../../record/index.ts";
import type { Doing } from "./states.ts";

/**
 * The log as operations, in its own order; what was planned and is not done yet follows. So the states are those that the
 * bench really goes through, also where it left the plan.
 *
 * @returns all operations, and how many of them are done
 */
export function workSoFar(
  record: TeardownRecord,
  planned: readonly Doing[],
  session?: string,
): { readonly operations: readonly Doing[]; readonly done: number } {
  const done: Doing[] = [];
  for (const entry of record.log) {
    if (entry.draft === true || (session !== undefined && entry.session !== session)) continue;
    if (UNDOING.has(entry.action)) for (const joint of entry.joints ?? []) done.push({ kind: "release", joint });
    if (CLOSING.has(entry.action)) for (const joint of entry.joints ?? []) done.push({ kind: "close", joint });
    if (entry.action === "lift") for (const part of entry.parts ?? []) done.push({ kind: "lift", part });
    if (entry.action === "shift") for (const part of entry.parts ?? []) done.push({ kind: "shift", part });
    if (entry.action === "refit") for (const part of entry.parts ?? []) done.push({ kind: "refit", part });
  }
  const key = ({ kind, joint, part }: Doing) => `${kind} ${joint ?? part ?? ""}`;
  const known = new Set(done.map(key));
  return {
    operations: [...done, ...planned.filter((one) => one.kind !== "heat" && !known.has(key(one)))],
    done: done.length,
  };
}
