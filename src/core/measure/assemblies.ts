/** Which parts a reading holds: those it names, what is said to be on or off, and what came along inside an assembly. */
import type { Part, Reading, TeardownRecord } from "../record/schema.ts";

/** The part with all that is within it, at any depth; itself first. */
export function withInside(parts: readonly Part[], id: string): string[] {
  const found = [id];
  for (let i = 0; i < found.length; i++) {
    for (const part of parts) if (part.within === found[i] && !found.includes(part.id)) found.push(part.id);
  }
  return found;
}

export interface Holding {
  readonly set: ReadonlySet<string>;
  /** Parts taken to have come along inside an assembly, though the reading does not name them. */
  readonly assumed: readonly string[];
  /** Parts inside an assembly that have a reading of their own: taken to have been off, and nobody said so. */
  readonly doubtful: readonly string[];
}

/**
 * The parts that a reading holds. What is within a named assembly counts as held unless the reading says `off`, or
 * unless it has readings of its own and the reading does not say `on`.
 */
export function heldBy(record: TeardownRecord, reading: Reading): Holding {
  const ids = new Set(record.parts.map((part) => part.id));
  if (reading.of.includes("device")) return { set: ids, assumed: [], doubtful: [] };
  const off = new Set((reading.off ?? []).flatMap((id) => (ids.has(id) ? withInside(record.parts, id) : [])));
  const on = (reading.on ?? []).filter((id) => ids.has(id));
  const set = new Set([...reading.of, ...on].filter((id) => ids.has(id)));
  const apart = new Set(
    record.readings.flatMap((other) =>
      other !== reading && other.quantity === reading.quantity && other.record === undefined ? other.of : [],
    ),
  );
  const assumed: string[] = [];
  const doubtful: string[] = [];
  for (const id of [...set]) {
    for (const inner of withInside(record.parts, id)) {
      if (set.has(inner) || off.has(inner)) continue;
      if (apart.has(inner)) {
        doubtful.push(inner);
        continue;
      }
      set.add(inner);
      assumed.push(inner);
    }
  }
  for (const id of off) if (!reading.of.includes(id)) set.delete(id);
  return { set, assumed, doubtful };
}
