/** The way back as it was logged: the first look read from its end to its beginning, bonds laid before their part. */
import type { Entry, Joint } from "../../src/core/record/schema.ts";

const BONDS: readonly Joint["kind"][] = ["adhesive", "tape", "debondable-adhesive", "seal"];

/**
 * Times are those of a steady hand, about 5 s a part, 6 s a plug, 9 s a screw, 3 s a hook, each a little different from
 * the last; bonds take the `remake` of their joint. A bond that was cut in several rounds is laid once; its cure runs by
 * itself. After the battery is on the line again there is a pause to try everything before it is sealed.
 */
export function wayBack(session: string, done: readonly Entry[], joints: readonly Joint[], begins: number): Entry[] {
  const byId = new Map(joints.map((joint) => [joint.id, joint]));
  const log: Entry[] = [];
  let at = begins;
  const add = (action: Entry["action"], usual: number, facts: Partial<Entry>): void => {
    const takes = Math.round(usual * spread(log.length) * 10) / 10;
    log.push({
      id: `${session}-${String(log.length + 1).padStart(3, "0")}`,
      session,
      at: Math.round(at * 10) / 10,
      until: Math.round((at + takes) * 10) / 10,
      action,
      ...facts,
    });
    at += takes + (action === "wake" ? 110 : 2.5);
  };

  for (const [back, entry] of [...done].reverse().entries()) {
    const before = done.slice(0, done.length - back - 1);
    const parts = entry.parts ?? [];
    if (entry.action === "turn") add("turn", 4, {});
    if (entry.action === "lift") {
      const bonds = bondsOf(parts, before, byId);
      for (const joint of bonds) {
        add("lay", (joint.remake?.clean ?? 0) + (joint.remake?.lay ?? 0), { parts, joints: [joint.id] });
      }
      add("refit", 5, { parts });
      for (const joint of bonds) {
        const { press = 0, cure } = joint.remake ?? {};
        if (press > 0) add("press", press, { parts, joints: [joint.id] });
        if (cure !== undefined) {
          add("cure", 0, { parts, joints: [joint.id], text: `${cure / 60} min in the clamp, hands off` });
        }
      }
    }
    for (const id of entry.joints ?? []) {
      const joint = byId.get(id)!;
      const count = joint.count ?? 1;
      const facts = { parts, joints: [id], ...(entry.tool ? { tool: entry.tool } : {}) };
      if (entry.action === "unplug") add(joint.power ? "wake" : "plug", 6 * count, facts);
      else if (entry.action === "unscrew") add("fasten", 9 * count, facts);
      else if (joint.kind === "clip") add("fasten", 3 * count, { parts, joints: [id] });
    }
  }
  return log;
}

/** Between 0.84 and 1.24, the same for the same entry every time. */
function spread(index: number): number {
  const turned = Math.sin((index + 1) * 12.9898) * 43758.5453;
  return 0.84 + 0.4 * (turned - Math.floor(turned));
}

/** The bonds that were undone for these parts, each once, in the order in which they were undone. */
function bondsOf(parts: readonly string[], before: readonly Entry[], joints: ReadonlyMap<string, Joint>): Joint[] {
  const ids = before
    .filter((entry) => entry.parts?.some((id) => parts.includes(id)))
    .flatMap((entry) => entry.joints ?? []);
  return [...new Set(ids)].map((id) => joints.get(id)!).filter((joint) => BONDS.includes(joint.kind));
}
