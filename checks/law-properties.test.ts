/**
 * Laws that the law must keep, on small devices drawn from a seed: what is unknown stays inside its range once it is known,
 * and nothing better ever lowers the index.
 */
import { describe, expect, test } from "vitest";
import { applyChange, assessRecord, CURRENT, changesOf, type LawAnswer } from "../src/core/law/index.ts";
import type { Part, TeardownRecord } from "../src/core/record/index.ts";
import { planner, randomRecord, seeded } from "./law-helpers.ts";

const assess = (record: TeardownRecord): LawAnswer => assessRecord(record, planner).answer;
const hundred = (index: string | null | undefined): number | null =>
  index == null ? null : Math.round(Number(index) * 100);

/** Every unknown fact filled in with one of the answers that have points. */
function filled(record: TeardownRecord, seed: number): TeardownRecord {
  const random = seeded(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
  const joints = record.joints.map((joint) => ({
    ...joint,
    releases: joint.releases.map((release) =>
      release.leaves === "unknown" ? { ...release, leaves: pick(["whole", "spent"] as const) } : release,
    ),
  }));
  const parts = record.parts.map((part): Part => {
    if (part.base) return part;
    const held = joints.filter((joint) => joint.holds.includes(part.id)).map((joint) => joint.id);
    return {
      ...part,
      spare: {
        ...part.spare,
        to: part.spare?.to ?? pick(["end-users", "professionals"] as const),
        brings: part.spare?.brings ?? held.filter(() => random() < 0.5),
      },
    };
  });
  const market = {
    ...record.market,
    updateYears: record.market?.updateYears ?? pick([5, 6, 7]),
    repairInformation:
      record.market?.repairInformation ?? pick(["fee", "free-for-professionals", "free-for-all"] as const),
  };
  return { ...record, joints, parts, market };
}

/** Each doubted relation settled one way or the other. */
function settled(record: TeardownRecord, there: boolean): TeardownRecord {
  const joints = record.joints.map(({ basis, ...joint }) =>
    basis === "inferred" || basis === "sibling"
      ? there
        ? joint
        : { ...joint, reach: undefined }
      : { ...joint, basis },
  );
  const parts = record.parts.map(({ basis, ...part }) =>
    basis === "inferred" || basis === "sibling" ? (there ? part : { ...part, under: undefined }) : { ...part, basis },
  );
  return { ...record, joints, parts };
}

describe("what is unknown", () => {
  test("filling in facts keeps the index inside the range", () => {
    let compared = 0;
    for (let seed = 1; seed <= 80; seed += 1) {
      const record = randomRecord(seed, { parts: 4, unknowns: true });
      const before = assess(record);
      const low = hundred(before.range?.low.index ?? before.index);
      const high = hundred(before.range?.high.index ?? before.index);
      for (let fill = 1; fill <= 4; fill += 1) {
        const after = assess(filled(record, seed * 10 + fill));
        const index = hundred(after.index);
        // No index: an answer for which the law has no points (a display that end users cannot buy).
        if (index === null) continue;
        expect(high, `seed ${seed}`).not.toBeNull();
        expect(index, `seed ${seed}`).toBeLessThanOrEqual(high ?? 0);
        if (low !== null) expect(index, `seed ${seed}`).toBeGreaterThanOrEqual(low);
        expect(after.unknown, `seed ${seed}`).toEqual([]);
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(100);
  });

  test("settling every doubt one way gives an end of the range", () => {
    let compared = 0;
    for (let seed = 1; seed <= 60; seed += 1) {
      const record = randomRecord(seed, { parts: 4, doubts: true });
      const before = assess(record);
      if (before.range === undefined) continue;
      const ends = [settled(record, true), settled(record, false)].map((one) => hundred(assess(one).index));
      const [low, high] = [hundred(before.range.low.index), hundred(before.range.high.index)];
      const known = ends.filter((end) => end !== null);
      expect(low, `seed ${seed}`).toBe(ends.includes(null) ? null : Math.min(...known));
      expect(high, `seed ${seed}`).toBe(known.length === 0 ? null : Math.max(...known));
      compared += 1;
    }
    expect(compared).toBeGreaterThan(10);
  });

  test("the index is the lower end of what is known, and its class goes with it", () => {
    for (let seed = 100; seed <= 140; seed += 1) {
      const answer = assess(randomRecord(seed, { parts: 5, unknowns: true }));
      if (answer.range === undefined) continue;
      expect(answer.index).toBe(answer.range.low.index);
      expect(answer.class).toBe(answer.range.low.class);
    }
  });
});

describe("nothing better lowers the index", () => {
  test("changes that leave the ways in as they are", () => {
    const kinds = [
      "brings",
      "basic",
      "with-spare-part",
      "no-notification",
      "no-authorisation",
      "offer",
      "updates",
      "information",
    ];
    let compared = 0;
    for (let seed = 1; seed <= 25; seed += 1) {
      const record = randomRecord(seed, { parts: 4, unknowns: true });
      const before = hundred(assess(record).index);
      for (const change of changesOf(CURRENT, record)) {
        const plain = change.change === "whole" && !broken(record, change.joint);
        if (!plain && !kinds.includes(change.change)) continue;
        const after = hundred(assess(applyChange(CURRENT, record, change)).index);
        if (before !== null)
          expect(after ?? 0, `seed ${seed} ${JSON.stringify(change)}`).toBeGreaterThanOrEqual(before);
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(200);
  });

  test("an obstacle taken away never adds a step", () => {
    for (let seed = 1; seed <= 25; seed += 1) {
      const record = randomRecord(seed, { parts: 5 });
      const before = assess(record).parts;
      for (const change of changesOf(CURRENT, record).filter((one) => one.change.startsWith("leaves"))) {
        const after = assess(applyChange(CURRENT, record, change)).parts;
        for (const [role, part] of Object.entries(before)) {
          const then = after[role as keyof typeof after];
          if (part == null || part.steps === null || then == null) continue;
          expect(then.steps ?? Number.POSITIVE_INFINITY, `seed ${seed} ${role}`).toBeLessThanOrEqual(part.steps);
        }
      }
    }
  });
});

function broken(record: TeardownRecord, id: string): boolean {
  return record.joints.some(
    (joint) => joint.id === id && joint.releases.some((release) => release.leaves === "broken"),
  );
}
