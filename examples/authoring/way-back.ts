/** The way back as it was logged: the first look read from its end to its beginning. */
import type { Entry, Joint } from "../../src/core/record/schema.ts";

const OPPOSITE: Partial<Record<Entry["action"], Entry["action"]>> = {
  lift: "refit",
  unscrew: "fasten",
  unplug: "plug",
  peel: "lay",
  pull: "lay",
};

/**
 * `times`: how much longer putting back took than taking out, for the times in `takes`; bonds take their `remake`.
 * Bonds that were cut in several rounds are laid once.
 */
export function wayBack(
  session: string,
  done: readonly Entry[],
  joints: readonly Joint[],
  options: { begins: number; keptOff?: readonly string[] },
): Entry[] {
  const byId = new Map(joints.map((joint) => [joint.id, joint]));
  const log: Entry[] = [];
  const laid = new Set<string>();
  let at = options.begins;
  for (const entry of [...done].reverse()) {
    const action = oppositeOf(entry, byId);
    if (action === undefined) continue;
    if ((entry.parts ?? []).some((id) => options.keptOff?.includes(id))) continue;
    const joint = entry.joints === undefined ? undefined : byId.get(entry.joints[0]!);
    if (action === "lay" && joint !== undefined) {
      if (laid.has(joint.id)) continue;
      laid.add(joint.id);
    }
    const takes = secondsOf(action, joint);
    log.push({
      id: `${session}-${String(log.length + 1).padStart(3, "0")}`,
      session,
      at: Math.round(at * 10) / 10,
      until: Math.round((at + takes) * 10) / 10,
      action: joint?.power === true ? "wake" : action,
      ...(entry.parts ? { parts: entry.parts } : {}),
      ...(entry.joints ? { joints: entry.joints } : {}),
      ...(entry.tool && (action === "fasten" || action === "plug") ? { tool: entry.tool } : {}),
    });
    at += takes + 3;
  }
  return log;
}

function oppositeOf(entry: Entry, joints: ReadonlyMap<string, Joint>): Entry["action"] | undefined {
  const plain = OPPOSITE[entry.action];
  const joint = entry.joints === undefined ? undefined : joints.get(entry.joints[0]!);
  if (entry.action === "pull" && joint?.kind === "press-fit") return undefined;
  if (plain !== undefined) return plain;
  if (entry.action !== "pry" && entry.action !== "slice") return undefined;
  return joint?.kind === "clip" ? "fasten" : "lay";
}

function secondsOf(action: Entry["action"], joint: Joint | undefined): number {
  const count = joint?.count ?? 1;
  if (action === "refit") return 5;
  if (action === "plug") return 6 * count;
  if (action === "fasten") return joint?.kind === "clip" ? 3 * count : 9 * count;
  return (joint?.remake?.clean ?? 10) + (joint?.remake?.lay ?? 10) + (joint?.remake?.press ?? 0);
}
