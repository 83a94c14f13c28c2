/**
 * Least change against brute force: on small devices every set of changes up to the size found is made on the record and
 * assessed anew, by nothing but `changesOf`, `applyChange` and `assessView`.
 */
import { describe, expect, test } from "vitest";
import {
  applyChange,
  assessRecord,
  assessView,
  type Change,
  type ClassLetter,
  CURRENT,
  changeKey,
  changesOf,
  type LeastChangeOptions,
  leastChange,
} from "../src/core/law/index.ts";
import { checkRecord, type TeardownRecord } from "../src/core/record/index.ts";
import { paperPhone, planner, randomRecord } from "./law-helpers.ts";

const options: LeastChangeOptions = { ...planner, searchLimit: 60_000 };
const LETTERS = "EDCBA";

function reached(record: TeardownRecord, to: ClassLetter, more: Partial<LeastChangeOptions>): boolean {
  // The index alone: what `assessRecord` says besides costs time here.
  const letter = assessView(record, { ...options, ...more }, "written").low.letter;
  return letter !== null && LETTERS.indexOf(letter) >= LETTERS.indexOf(to);
}

/** All smallest sets, by trying everything; null when none of at most `most` changes is enough. */
function bruteForce(
  record: TeardownRecord,
  to: ClassLetter,
  most: number,
  more: Partial<LeastChangeOptions>,
): string[] | null {
  const changes = changesOf(CURRENT, record);
  for (let size = 0; size <= most; size += 1) {
    const sets: string[] = [];
    const visit = (from: number, left: number, made: TeardownRecord, keys: readonly string[]): void => {
      if (left === 0) {
        if (reached(made, to, more)) sets.push([...keys].sort().join("\n"));
        return;
      }
      for (let index = from; index < changes.length; index += 1) {
        const change = changes[index] as Change;
        // Updates and information may be made again: the same change stays open for the next place.
        const again = change.change === "updates" || change.change === "information";
        visit(again ? index : index + 1, left - 1, applyChange(CURRENT, made, change), [...keys, changeKey(change)]);
      }
    };
    visit(0, size, record, []);
    if (sets.length > 0) return [...new Set(sets)].sort();
  }
  return null;
}

function told(changes: readonly (readonly Change[])[]): string[] {
  return changes.map((set) => set.map(changeKey).sort().join("\n")).sort();
}

/** The next class up, or two up for every third seed. */
function targetOf(record: TeardownRecord, seed: number, more: Partial<LeastChangeOptions>): ClassLetter | null {
  const now = assessRecord(record, { ...options, ...more }).answer.class;
  const at = now === null ? 0 : LETTERS.indexOf(now) + (seed % 3 === 0 ? 2 : 1);
  return at > 4 ? null : (LETTERS[at] as ClassLetter);
}

describe("against every set", () => {
  for (const [name, seeds, settings, most] of [
    ["all facts known", 12, { parts: 4 }, 2],
    ["heat and unknown facts", 10, { parts: 4, heat: true, unknowns: true }, 2],
    ["three parts, three changes", 5, { parts: 3, unknowns: true }, 3],
  ] as const) {
    test(`${name}: the same sets, all ties`, () => {
      let compared = 0;
      let structural = 0;
      for (let seed = 1; seed <= seeds; seed += 1) {
        const record = randomRecord(seed * 31 + most, settings);
        const to = targetOf(record, seed, {});
        if (to === null) continue;
        const answer = leastChange(record, to, options);
        expect(answer.proved, `seed ${seed}`).toBe(true);
        expect(answer.from).toBe(assessRecord(record, options).answer.class);
        const size = answer.changes[0]?.length ?? Number.POSITIVE_INFINITY;
        if (answer.more) continue;
        const expected = bruteForce(record, to, Math.min(most, size), {});
        if (size > most) {
          expect(expected, `seed ${seed} to ${to}: a set smaller than ${size}`).toBeNull();
          continue;
        }
        expect(told(answer.changes), `seed ${seed} to ${to}`).toEqual(expected);
        compared += 1;
        if (answer.changes.flat().some(({ change }) => change.startsWith("leaves") || change === "no-heat"))
          structural += 1;
      }
      expect(compared).toBeGreaterThan(seeds / 4);
      if (name !== "three parts, three changes") expect(structural).toBeGreaterThan(0);
    });
  }
});

describe("each set told is enough", () => {
  test("made on the record, the record stays valid and the class is reached", () => {
    for (let seed = 1; seed <= 6; seed += 1) {
      const record = randomRecord(seed, { parts: 6, heat: true });
      const answer = leastChange(record, "A", { ...options, searchLimit: 3000 });
      for (const set of answer.changes.slice(0, 5)) {
        const made = set.reduce((now, change) => applyChange(CURRENT, now, change), record);
        expect(checkRecord(made).faults).toEqual([]);
        expect(reached(made, "A", {}), `seed ${seed}`).toBe(true);
      }
    }
  });
});

describe("W1's phone, small", () => {
  const phone: TeardownRecord = {
    ...paperPhone(),
    market: { updateYears: 6, repairInformation: "free-for-professionals" },
  };

  test("nothing need be changed for the class that it has", () => {
    const { class: now } = assessRecord(phone, options).answer;
    expect(leastChange(phone, now ?? "E", options)).toMatchObject({ from: now, to: now, changes: [[]], proved: true });
  });

  test("prices: the cheapest set instead of the fewest changes", () => {
    const entries = [
      { keys: { change: "information" }, cost: { amount: "100", currency: "EUR" } },
      { keys: { change: "updates" }, cost: { amount: "90", currency: "EUR" } },
      { keys: { change: "basic" }, cost: { amount: "1.5", currency: "EUR" } },
      { keys: { change: "whole" }, cost: { amount: "2", currency: "EUR" } },
    ];
    const poor: TeardownRecord = { ...phone, market: { updateYears: 5, repairInformation: "fee" } };
    const { class: now } = assessRecord(poor, options).answer;
    const to = LETTERS[LETTERS.indexOf(now ?? "E") + 1] as ClassLetter;
    const fewest = leastChange(poor, to, options);
    const cheapest = leastChange(poor, to, { ...options, prices: { entries } });
    expect(cheapest.proved).toBe(true);
    const sum = (set: readonly Change[]): number =>
      set.reduce((total, { cost }) => total + Number(cost?.amount ?? Number.NaN), 0);
    expect(cheapest.changes.length).toBeGreaterThan(0);
    const price = sum(cheapest.changes[0] ?? []);
    for (const set of cheapest.changes) expect(sum(set)).toBe(price);
    expect(fewest.changes[0]?.length).toBeLessThanOrEqual(cheapest.changes[0]?.length ?? 0);
  });
});
