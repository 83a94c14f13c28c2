import { type Edit, fieldEdit } from "../edits.ts";
import type { Part, TeardownRecord } from "../schema.ts";

/**
 * The edits that take a part out of the structure: out of what lies over others, out of its joints (a joint that holds
 * nothing together any more goes too). Where figures, claims or the log speak of it the record's rules will refuse them:
 * what was measured or said is not dropped with it.
 */
export function removal(record: TeardownRecord, id: string): Edit[] {
  const edits: Edit[] = [];
  const less = (groups: readonly (readonly string[])[] | undefined): string[][] | null => {
    if (!groups?.some((group) => group.includes(id))) return null;
    // What lay under it alone lies free once it is not there.
    return groups.some((group) => group.length === 1 && group[0] === id)
      ? []
      : groups.map((group) => group.filter((one) => one !== id));
  };
  for (const part of record.parts) {
    if (part.id === id) continue;
    const set = <Key extends keyof Part>(field: Key, value: Part[Key] | undefined): void => {
      edits.push(fieldEdit("parts", part.id, field, value));
    };
    const under = less(part.under);
    if (under !== null) set("under", under.length === 0 ? undefined : under);
    if (part.within === id) set("within", undefined);
    if (part.beneath?.includes(id))
      set(
        "beneath",
        part.beneath.filter((one) => one !== id),
      );
    if (part.shift?.freeing.includes(id)) {
      const freeing = part.shift.freeing.filter((one) => one !== id);
      set("shift", freeing.length === 0 ? undefined : { ...part.shift, freeing });
    }
  }
  for (const joint of record.joints) {
    const holds = joint.holds.filter((one) => one !== id);
    if (holds.length < 2) {
      edits.push({ kind: "remove", list: "joints", id: joint.id });
      continue;
    }
    if (holds.length < joint.holds.length) edits.push(fieldEdit("joints", joint.id, "holds", holds));
    const reach = less(joint.reach);
    if (reach !== null) edits.push(fieldEdit("joints", joint.id, "reach", reach.length === 0 ? undefined : reach));
  }
  edits.push({ kind: "remove", list: "parts", id });
  return edits;
}
