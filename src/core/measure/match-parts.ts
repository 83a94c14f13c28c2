/**
 * Which part of one device corresponds to which of another: by a person's correction, by role where each device has it
 * once, then by name, then (for the same role several times) by the order of their names.
 */
import { InputError } from "../errors.ts";
import type { Part, TeardownRecord } from "../record/schema.ts";

export interface PartMatch {
  readonly a: string;
  readonly b: string;
  readonly by: "person" | "role" | "name" | "role and order";
}

export interface Matching {
  readonly pairs: readonly PartMatch[];
  readonly onlyA: readonly string[];
  readonly onlyB: readonly string[];
}

/** `corrections` maps ids of a to ids of b, or to null where a part has no counterpart. */
export function matchParts(
  a: TeardownRecord,
  b: TeardownRecord,
  corrections: Readonly<Record<string, string | null>> = {},
): Matching {
  const pairs: PartMatch[] = [];
  const freeA = new Set(a.parts.map((part) => part.id));
  const freeB = new Set(b.parts.map((part) => part.id));
  const alone = new Set<string>();
  const pair = (idA: string, idB: string, by: PartMatch["by"]) => {
    pairs.push({ a: idA, b: idB, by });
    freeA.delete(idA);
    freeB.delete(idB);
  };
  for (const [idA, idB] of Object.entries(corrections)) {
    if (!freeA.has(idA))
      throw new InputError({ path: `match.${idA}`, found: idA, expected: `a part of ${a.device.name}` });
    if (idB === null) {
      freeA.delete(idA);
      alone.add(idA);
      continue;
    }
    if (!freeB.has(idB)) {
      throw new InputError({
        path: `match.${idA}`,
        found: idB,
        expected: `a part of ${b.device.name} that no other part is matched with`,
      });
    }
    pair(idA, idB, "person");
  }
  const open = (record: TeardownRecord, free: ReadonlySet<string>) => record.parts.filter((part) => free.has(part.id));
  const group = (parts: readonly Part[], key: (part: Part) => string | undefined) => {
    const groups = new Map<string, Part[]>();
    for (const part of parts) {
      const k = key(part);
      if (k !== undefined && k !== "") groups.set(k, [...(groups.get(k) ?? []), part]);
    }
    return groups;
  };
  // Roles that are a kind of thing, not one thing, say nothing about which is which.
  const role = (part: Part) => (part.role === undefined || VAGUE.has(part.role) ? undefined : part.role);
  const rolesA = group(open(a, freeA), role);
  const rolesB = group(open(b, freeB), role);
  for (const [key, partsA] of rolesA) {
    const partsB = rolesB.get(key) ?? [];
    if (partsA.length === 1 && partsB.length === 1) pair(partsA[0]!.id, partsB[0]!.id, "role");
  }
  const namesB = group(open(b, freeB), (part) => plainName(part.name));
  for (const part of open(a, freeA)) {
    const same = (namesB.get(plainName(part.name)) ?? []).filter((one) => freeB.has(one.id));
    // Of several of one name the one with the same role.
    const other = same.find((one) => one.role === part.role) ?? same[0];
    if (other !== undefined) pair(part.id, other.id, "name");
  }
  const leftB = group(open(b, freeB), role);
  for (const [key, partsA] of group(open(a, freeA), role)) {
    const partsB = (leftB.get(key) ?? []).slice().sort(byName);
    partsA
      .slice()
      .sort(byName)
      .forEach((part, i) => {
        const other = partsB[i];
        if (other !== undefined) pair(part.id, other.id, "role and order");
      });
  }
  return { pairs, onlyA: [...freeA, ...alone], onlyB: [...freeB] };
}

const VAGUE: ReadonlySet<string> = new Set([
  "bracket",
  "shield",
  "antenna",
  "sensor",
  "cable",
  "gasket",
  "other",
  "board",
]);

const byName = (a: Part, b: Part) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0);

/** A name without case, article and punctuation. */
export function plainName(name: string): string {
  return name
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .replace(/^(the|a|an) /, "")
    .trim();
}
