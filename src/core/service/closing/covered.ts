import type { Joint, Part, TeardownRecord } from "../../record/index.ts";

/** Parts that have to be away, whichever way is taken, before the joint can be reached. */
export function mustBeAway(record: TeardownRecord, joint: Joint): ReadonlySet<string> {
  const parts = new Map(record.parts.map((part) => [part.id, part]));
  const known = new Map<string, ReadonlySet<string>>();
  const above = (id: string, path: ReadonlySet<string>): ReadonlySet<string> => {
    const done = known.get(id);
    if (done !== undefined) return done;
    // A circle: what leads back to itself adds nothing.
    if (path.has(id)) return new Set();
    const part: Part | undefined = parts.get(id);
    const found = common(part?.under ?? [], new Set([...path, id]));
    known.set(id, found);
    return found;
  };
  const common = (groups: readonly (readonly string[])[], path: ReadonlySet<string>): ReadonlySet<string> => {
    const each = groups.map((group) => new Set(group.flatMap((id) => [id, ...above(id, path)])));
    const [first, ...rest] = each;
    return first === undefined ? new Set() : new Set([...first].filter((id) => rest.every((one) => one.has(id))));
  };
  return common(joint.reach ?? [], new Set());
}
